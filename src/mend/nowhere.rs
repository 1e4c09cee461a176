//! When nothing is left: no place on the deck keeps every limit, whichever way round and in whichever order things
//! stand. Which limits exclude one another, by how much, and what would resolve it, each way tried.

use std::sync::Arc;

use super::bench::Bench;
use super::cure::Moves;
use super::limit::Limit;
use super::movable::Movable;
use super::place::collision;
use super::resolve::resolutions;
use super::scan::Scan;
use super::together::{Found, MOST_ORDERED, Standing, Together};
use crate::figures::marks;
use crate::finding::{Finding, Label, Level};
use crate::model::ItemKind;
use crate::rules::RuleSet;
use crate::text::all_of;
use crate::units::{Kind, System, show};

/// The id of the finding.
pub(super) const NO_PLACE: &str = "no-place";

/// The finding that a load has no place, when it has none. `waived` are rules whose findings in this load are accepted:
/// they need not be kept.
pub(super) fn no_place(
    bench: &Bench<'_>,
    rules: &RuleSet,
    moves: &Moves<'_, '_>,
    waived: &[Arc<str>],
    system: System,
) -> Option<Finding> {
    let rule = rules.get(NO_PLACE).filter(|rule| !rule.off)?;
    let load = moves.ends.first()?;
    let items = Movable::along(load);
    let held = |at: usize| moves.limits.get(at).is_some_and(|limit| binds(limit, waived));
    let said = match items.as_slice() {
        [] => return None,
        [one] => alone(moves, one, &held, system)?,
        several => together(moves, several, &held, system)?,
    };
    let trailer = load.trailer.as_ref().map_or("?", |trailer| &*trailer.id.value);
    let machine = load.items.iter().any(|one| matches!(one.item.kind, ItemKind::Machine(_)));
    let order = (2..=MOST_ORDERED).contains(&items.len());
    let whichever = match (machine, order) {
        (true, true) => ", whichever way round and in whichever order things stand",
        (true, false) => ", whichever way round it stands",
        (false, true) => ", in whichever order things stand",
        (false, false) => "",
    };
    let message = format!("nowhere on {trailer} is every limit kept{whichever}: {said}");
    let mut places = marks("item.place", crate::figures::Each::Load, load, crate::figures::Subject::Whole);
    if places.is_empty() {
        return None;
    }
    let (span, text) = places.remove(0);
    let mut finding = Finding::new(NO_PLACE, Level::Error, span, message);
    finding.level = rule.level;
    finding.primary = Label { span, text: text.to_owned() };
    finding.labels = places.into_iter().take(2).map(|(span, text)| Label { span, text: text.to_owned() }).collect();
    finding.sheet = Some(Arc::clone(&load.sheet.name.value));
    finding.leg = load.leg.map(|leg| Arc::clone(&leg.name.value));
    finding.source = Some(rule.source.shown());
    let ways = resolutions(bench, rules, moves, waived);
    finding.help = Some(if ways.is_empty() {
        "take another trailer or truck, or carry less: no single change that this yard's entries allow was found"
            .to_owned()
    } else {
        format!("{}; each was checked", ways.join("; or "))
    });
    Some(finding)
}

/// Whether a limit must be kept for a place along the deck to be one.
pub(super) fn binds(limit: &Limit<'_>, waived: &[Arc<str>]) -> bool {
    !limit.across() && !waived.contains(&limit.rule.id)
}

/// For one item the ranges themselves tell: none is left, either way round.
fn alone(moves: &Moves<'_, '_>, item: &Movable, held: &dyn Fn(usize) -> bool, system: System) -> Option<String> {
    let mut said = Vec::new();
    for (movable, turned, fares) in moves.all().iter().filter(|(movable, ..)| movable.at == item.at) {
        let scan = Scan::new(&moves.ends, movable, *turned);
        let kept = || fares.iter().enumerate().filter(|(at, _)| held(*at));
        if !scan.stretches(kept()).is_empty() {
            return None;
        }
        let asked = kept().filter_map(|(at, fares)| Some((moves.limits.get(at)?, fares)));
        said.push((*turned, collision(asked)?.said(item.what.word(), Kind::Length, system)));
    }
    Some(match said.as_slice() {
        [(_, one)] => one.clone(),
        [(_, one), (_, other)] => format!("as it stands, {one}; turned round, {other}"),
        _ => return None,
    })
}

/// For several items every way for them to stand must be found without a place.
fn together(moves: &Moves<'_, '_>, items: &[Movable], held: &dyn Fn(usize) -> bool, system: System) -> Option<String> {
    let load = moves.ends.first()?;
    let mut met: Option<Vec<(usize, f64)>> = None;
    for way in Standing::all(load, items, true) {
        // Without a look at every way nothing is claimed.
        if !moves.may_search() {
            return None;
        }
        match Together::new(&moves.ends, &moves.limits, items, &way).search(0.0, held)? {
            Found::Moves(_) => return None,
            // The present way is the one that is told.
            Found::None(limits) => met = met.or(Some(limits)),
        }
    }
    let met = met.filter(|met| !met.is_empty())?;
    let ids: Vec<&str> = met.iter().filter_map(|(at, _)| moves.limits.get(*at)).map(|limit| &*limit.rule.id).collect();
    let mut once: Vec<&str> = Vec::new();
    for id in &ids {
        if !once.contains(id) {
            once.push(id);
        }
    }
    let (last, missed) = met.last().copied()?;
    let limit = moves.limits.get(last)?;
    let kind = limit.ask.require.names().next().and_then(|(slot, ..)| kind_of(slot));
    let by = kind.map_or_else(String::new, |kind| {
        format!("; with all others kept, {} is missed by {} at the least", limit.rule.id, show(missed, kind, system))
    });
    Some(match once.as_slice() {
        [one] => format!("{one} is kept nowhere{by}"),
        all => format!("{} exclude one another{by}", all_of(all)),
    })
}

fn kind_of(slot: usize) -> Option<Kind> {
    match crate::rules::Slot::of(slot) {
        crate::rules::Slot::Figure(at) => crate::figures::figures().get(at)?.measures.kind(),
        crate::rules::Slot::Param(_) => None,
    }
}
