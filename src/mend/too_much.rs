//! Loose material of which there is too much: which limit is reached first as the heap grows, and at how much.

use std::sync::Arc;

use super::cure::Moves;
use super::entry::{rounded, spoken, steps};
use super::movable::{Movable, SAME, What};
use super::nowhere::binds;
use super::scan::{Fares, Scan, Stretch};
use crate::finding::{Finding, Label, Level};
use crate::model::ItemKind;
use crate::rules::RuleSet;

/// The id of the finding.
pub(super) const TOO_MUCH: &str = "bulk-too-much";

/// The findings about heaps that are too large, where a smaller one keeps every limit that its size has to do with.
/// `waived` are rules whose findings in this load are accepted: they need not be kept.
pub(super) fn too_much(rules: &RuleSet, moves: &Moves<'_, '_>, waived: &[Arc<str>]) -> Vec<Finding> {
    let Some(rule) = rules.get(TOO_MUCH).filter(|rule| !rule.off) else { return Vec::new() };
    let heaps = moves.all().iter().filter(|(movable, ..)| movable.what == What::Volume);
    let found = heaps.filter_map(|(movable, _, fares)| {
        let (most, first, level) = most(moves, movable, fares, waived)?;
        let load = moves.ends.first()?;
        let one = load.items.get(movable.item)?;
        let ItemKind::Bulk(bulk) = &one.item.kind else { return None };
        // Less than a fiftieth of it is no load (judgement, no source).
        let step = steps(movable.unit).last().copied().filter(|_| most * 50.0 >= movable.now)?;
        let safe = spoken(rounded(most, step, false), movable.unit);
        let now = spoken(movable.now, movable.unit);
        let message = format!("{now} of {} is too much: {first} is reached first, above {safe}", one.label);
        let mut finding = Finding::new(TOO_MUCH, rule.level.min(level), movable.at, message);
        finding.primary = Label { span: movable.at, text: "how much of it".to_owned() };
        if let Some(moisture) = bulk.moisture.at() {
            finding.labels.push(Label { span: moisture, text: "how heavy it is rests on this".to_owned() });
        }
        finding.sheet = Some(Arc::clone(&load.sheet.name.value));
        finding.leg = load.leg.map(|leg| Arc::clone(&leg.name.value));
        finding.source = Some(rule.source.shown());
        finding.help = Some(format!("load {safe} at the most, or take it in several trips"));
        Some(finding)
    });
    found.collect()
}

/// The largest volume below the present one that keeps every limit, the limit that ends it and how grave that is; none
/// where the present one keeps all, or no smaller one does.
fn most(
    moves: &Moves<'_, '_>,
    movable: &Movable,
    fares: &[Fares],
    waived: &[Arc<str>],
) -> Option<(f64, Arc<str>, Level)> {
    let held = |at: usize| {
        let limit = moves.limits.get(at);
        limit.is_some_and(|limit| binds(limit, waived) && limit.rule.level > Level::Note)
    };
    let kept = fares.iter().enumerate().filter(|(at, _)| held(*at));
    let stretches: Vec<Stretch> = Scan::new(&moves.ends, movable, false).stretches(kept);
    let within = |one: &Stretch| one.from - SAME <= movable.now && movable.now <= one.to + SAME;
    if stretches.iter().any(within) {
        return None;
    }
    let below = stretches.into_iter().filter(|one| one.to < movable.now).max_by(|a, b| a.to.total_cmp(&b.to))?;
    let limit = moves.limits.get(below.to_limit?)?;
    Some((below.to, Arc::clone(&limit.rule.id), limit.rule.level))
}
