//! When nothing is left: no place on the deck keeps every limit, whichever way round and in whichever order things
//! stand. Which limits exclude one another, by how much, and what would resolve it, each way tried.

use std::sync::Arc;

use super::bench::Bench;
use super::cure::Moves;
use super::limit::Limit;
use super::movable::{Movable, SAME};
use super::place::collision;
use super::resolve::resolutions;
use super::scan::Scan;
use super::together::{Found, MOST_ORDERED, Missed, Standing, Together};
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
    // Something off the middle may have to be moved across the deck instead.
    let off = load.items.iter().any(|one| one.placed.as_ref().is_ok_and(|one| one.load().left.si().abs() > SAME));
    let held = |at: usize| {
        let limit = moves.limits.get(at);
        limit.is_some_and(|limit| binds(limit, waived) && !(off && limit.reads_across()))
    };
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
    let message = format!("nowhere on {trailer} is every limit kept{whichever}: {}", said.text);
    let mut places = marks("item.place", crate::figures::Each::Load, load, crate::figures::Subject::Whole);
    if places.is_empty() {
        return None;
    }
    let (span, text) = places.remove(0);
    let mut finding = Finding::new(NO_PLACE, Level::Error, span, message);
    // Where some way to stand fails by advice alone, so does the load.
    finding.level = rule.level.min(said.level);
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
    !limit.across() && !limit.aboard && !waived.contains(&limit.rule.id)
}

/// What is said of a load without a place, and how grave that is.
struct Said {
    text: String,
    level: Level,
}

/// For one item the ranges themselves tell: none is left, either way round.
fn alone(moves: &Moves<'_, '_>, item: &Movable, held: &dyn Fn(usize) -> bool, system: System) -> Option<Said> {
    let mut said: Vec<String> = Vec::new();
    let mut level = Level::Error;
    for (movable, turned, fares) in moves.all().iter().filter(|(movable, ..)| movable.at == item.at) {
        let scan = Scan::new(&moves.ends, movable, *turned);
        let kept = || fares.iter().enumerate().filter(|(at, _)| held(*at));
        if !scan.stretches(kept()).is_empty() {
            return None;
        }
        let asked = kept().filter_map(|(at, fares)| Some((moves.limits.get(at)?, fares)));
        let collision = collision(asked)?;
        let levels = moves.limits.iter().filter(|limit| collision.limits.contains(&limit.rule.id));
        level = levels.map(|limit| limit.rule.level).fold(level, Level::min);
        said.push(collision.said(item.what.word(), Kind::Length, system));
    }
    let text = match said.as_slice() {
        [one] => one.clone(),
        [one, other] => format!("as it stands, {one}; turned round, {other}"),
        _ => return None,
    };
    Some(Said { text, level })
}

/// For several items every way for them to stand must be found without a place.
fn together(moves: &Moves<'_, '_>, items: &[Movable], held: &dyn Fn(usize) -> bool, system: System) -> Option<Said> {
    let load = moves.ends.first()?;
    let mut told: Option<Vec<Missed>> = None;
    let mut level = Level::Error;
    for way in Standing::all(load, items, true) {
        // Without a look at every way nothing is claimed.
        if !moves.may_search() {
            return None;
        }
        match Together::new(&moves.ends, &moves.limits, items, &way).search(0.0, held)? {
            Found::Moves(_) => return None,
            Found::None(met) => {
                let levels = met.iter().filter_map(|one| moves.limits.get(one.limit)).map(|limit| limit.rule.level);
                level = levels.fold(level, Level::min);
                // The present way is the one that is told.
                told = told.or(Some(met));
            }
        }
    }
    let met = told.filter(|met| !met.is_empty())?;
    let mut ids: Vec<&str> = Vec::new();
    for limit in met.iter().filter_map(|one| moves.limits.get(one.limit)) {
        if !ids.contains(&&*limit.rule.id) {
            ids.push(&limit.rule.id);
        }
    }
    let last = met.last()?;
    let by = last.kind.zip(moves.limits.get(last.limit)).map_or_else(String::new, |(kind, limit)| {
        format!("; with all others kept, {} is missed by {} at the least", limit.rule.id, show(last.by, kind, system))
    });
    let text = match ids.as_slice() {
        [one] => format!("{one} is kept nowhere{by}"),
        all => format!("{} exclude one another{by}", all_of(all)),
    };
    Some(Said { text, level })
}
