//! `draylint place`: the ranges in which each deck item may stand, for either facing, and which limit ends each.

use std::sync::Arc;

use super::bench::Bench;
use super::cure::Moves;
use super::joint::{Joint, joint};
use super::limit::Limit;
use super::movable::{Movable, SAME, What};
use super::scan::{Fares, Scan, Stretch};
use crate::figures::{Heap, Lack, Load};
use crate::finding::Level;
use crate::model::{Facing, ItemKind, LoadRef, Yard};
use crate::rules::RuleSet;
use crate::text::{FileId, all_of};
use crate::units::{Kind, System, show};

/// An end of a range: the value in SI, and the rule that makes it; none where only the deck ends it.
#[derive(Clone, Debug, PartialEq)]
pub struct End {
    /// The value of the entry in the SI unit of its kind.
    pub at: f64,
    /// The rule's id.
    pub limit: Option<Arc<str>>,
}

/// A range in which every limit that depends on the entry is kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Range {
    /// Its lower end.
    pub from: End,
    /// Its upper end.
    pub to: End,
}

/// Limits that exclude one another.
#[derive(Clone, Debug, PartialEq)]
pub struct Collision {
    /// The rules' ids: one that is kept nowhere, or two that lie apart, or more of which any two could be kept.
    pub limits: Vec<Arc<str>>,
    /// Of two that lie apart: the nearest ends of where the first and where the second is kept, in SI.
    pub ends: Option<(f64, f64)>,
}

impl Collision {
    /// How far apart two are, in the SI unit of the entry.
    #[must_use]
    pub fn apart(&self) -> Option<f64> {
        self.ends.map(|(first, second)| (first - second).abs())
    }

    /// The same as a message says it, of the entry that is moved.
    #[must_use]
    pub fn said(&self, measured: &str, kind: Kind, system: System) -> String {
        let shown = |si: f64| show(si, kind, system);
        match (self.limits.as_slice(), self.ends) {
            ([one], _) => format!("{one} is kept nowhere"),
            ([one, other], Some((first, second))) => {
                let (one_side, other_side) =
                    if first < second { ("at most", "at least") } else { ("at least", "at most") };
                let apart = shown((first - second).abs());
                format!(
                    "{one} wants {measured} {one_side} {}, {other} {other_side} {}: {apart} apart",
                    shown(first),
                    shown(second)
                )
            }
            (all, _) => format!("{} leave nothing between them", all_of(all)),
        }
    }
}

/// What one way of standing allows.
#[derive(Clone, Debug, PartialEq)]
pub struct FacingPlaces {
    /// Which way round; none for what has no front.
    pub facing: Option<Facing>,
    /// The ranges, in order.
    pub ranges: Vec<Range>,
    /// Why there is none.
    pub collision: Option<Collision>,
}

/// Where one item may stand, everything else staying as it is.
#[derive(Clone, Debug, PartialEq)]
pub struct ItemPlaces {
    /// The item's name in results.
    pub item: Arc<str>,
    /// What goes along with it: what stands on it.
    pub with: Vec<Arc<str>>,
    /// The entry that is moved: `front-gap`, `rear-gap` or `volume`.
    pub measured: &'static str,
    /// What that measures.
    pub kind: Kind,
    /// Its value now, in SI.
    pub now: f64,
    /// How it stands now; none for what has no front.
    pub facing: Option<Facing>,
    /// Its length along the deck, in m.
    pub length: f64,
    /// The ranges for each way of standing, the present one first.
    pub facings: Vec<FacingPlaces>,
}

/// Where the items of one load may stand.
#[derive(Clone, Debug, PartialEq)]
pub struct LoadPlaces {
    /// The sheet.
    pub sheet: Arc<str>,
    /// The leg, where the sheet has legs.
    pub leg: Option<Arc<str>>,
    /// The file that holds the sheet.
    pub file: FileId,
    /// The units in which a person is shown lengths.
    pub system: System,
    /// The deck's length in m, when it is known.
    pub deck: Option<f64>,
    /// What is missing to compute the load; with anything here there are no ranges.
    pub missing: Option<String>,
    /// The items.
    pub items: Vec<ItemPlaces>,
    /// What moving all items at once can do; only from [`places_together`].
    pub joint: Option<Joint>,
    /// Items that were not searched, because too much stands on the deck.
    pub unsearched: Vec<Arc<str>>,
    /// Limits that are broken wherever the items stand.
    pub elsewhere: Vec<Arc<str>>,
    /// Limits that are broken on the way up, as things stand.
    pub on_the_way_up: Vec<Arc<str>>,
    /// Limits that could not be judged, and for want of what.
    pub unjudged: Vec<(Arc<str>, String)>,
}

/// Where the items of a load may stand. None when the yard has no such load.
#[must_use]
pub fn places(yard: &Yard, rules: &RuleSet, which: LoadRef, units: Option<System>) -> Option<LoadPlaces> {
    ranges(yard, rules, which, units).map(|(places, _)| places)
}

/// The same, and what moving several items at once can do.
#[must_use]
pub fn places_together(
    bench: &Bench<'_>,
    rules: &RuleSet,
    which: LoadRef,
    units: Option<System>,
) -> Option<LoadPlaces> {
    let (places, moves) = ranges(bench.yard(), rules, which, units)?;
    let joint = moves.and_then(|moves| joint(bench, rules, &moves, places.system));
    Some(LoadPlaces { joint, ..places })
}

/// The ranges of a load's items, and the moves that they were read from; none where the load cannot be computed.
fn ranges<'a, 'y>(
    yard: &'y Yard,
    rules: &'a RuleSet,
    which: LoadRef,
    units: Option<System>,
) -> Option<(LoadPlaces, Option<Moves<'a, 'y>>)> {
    let load = &Load::of(yard, which, Heap::Heaviest)?;
    let mut all = LoadPlaces {
        sheet: Arc::clone(&load.sheet.name.value),
        leg: load.leg.map(|leg| Arc::clone(&leg.name.value)),
        file: load.sheet.owner.at.file,
        system: load.shown_in(units),
        deck: load.deck().ok().and_then(|deck| deck.length.value()).map(crate::units::Length::si),
        missing: load.still.as_ref().err().or(load.rig.as_ref().err()).map(ToString::to_string),
        items: Vec::new(),
        joint: None,
        unsearched: Vec::new(),
        elsewhere: Vec::new(),
        on_the_way_up: Vec::new(),
        unjudged: Vec::new(),
    };
    let Some(moves) = Moves::of_yard(yard, rules, which) else { return Some((all, None)) };
    let along = |one: &Movable| one.what != What::Left;
    for movable in Movable::all(load).iter().filter(|one| along(one)) {
        match item_places(&moves, movable) {
            Some(item) => all.items.push(item),
            None => all.unsearched.extend(load.items.get(movable.item).map(|item| Arc::clone(&item.label))),
        }
    }
    for (at, limit) in moves.limits.iter().enumerate().filter(|(_, limit)| !limit.aboard) {
        let fares = || moves.all().iter().filter(|(one, ..)| along(one)).filter_map(|(.., fares)| fares.get(at));
        let told = |lack: &Lack| (Arc::clone(&limit.rule.id), lack.to_string());
        for lack in fares().flat_map(|fares| &fares.lacks).filter(|lack| !lack.is_silent()) {
            if limit.may_depend() && !all.unjudged.contains(&told(lack)) {
                all.unjudged.push(told(lack));
            }
        }
        // What nobody searched is not known to be broken wherever it stands.
        let nowhere = all.unsearched.is_empty() && !fares().any(|fares| fares.depends);
        if nowhere && !all.elsewhere.contains(&limit.rule.id) && moves.broken(limit) {
            all.elsewhere.push(Arc::clone(&limit.rule.id));
        }
    }
    for limit in moves.limits.iter().filter(|limit| limit.aboard && moves.broken(limit)) {
        if !all.on_the_way_up.contains(&limit.rule.id) {
            all.on_the_way_up.push(Arc::clone(&limit.rule.id));
        }
    }
    Some((all, Some(moves)))
}

/// Where one item may stand. None where it was not searched.
fn item_places(moves: &Moves<'_, '_>, movable: &Movable) -> Option<ItemPlaces> {
    let load = moves.ends.first()?;
    let one = load.items.get(movable.item)?;
    let now = facing(one.item);
    let mut facings = Vec::new();
    for (movable, turned, fares) in moves.all().iter().filter(|(own, ..)| own.at == movable.at) {
        // The way onto the deck is no matter of where on it something stands.
        let counts = |at: usize| moves.limits.get(at).is_some_and(|limit| !limit.aboard);
        let counted = fares.iter().enumerate().filter(|(at, _)| counts(*at));
        let stretches = Scan::new(&moves.ends, movable, *turned).stretches(counted);
        let counted = moves.limits.iter().zip(fares).filter(|(limit, _)| !limit.aboard);
        let collision = if stretches.is_empty() { collision(counted) } else { None };
        let ranges = stretches.iter().map(|one| range(&moves.limits, one)).collect();
        facings.push(FacingPlaces { facing: now.map(|now| if *turned { other(now) } else { now }), ranges, collision });
    }
    if facings.is_empty() {
        return None;
    }
    let with = load.items.iter().enumerate();
    let with = with.filter(|(at, _)| *at != movable.item && load.stands_on(*at, movable.item));
    Some(ItemPlaces {
        item: Arc::clone(&one.label),
        with: with.map(|(_, rider)| Arc::clone(&rider.label)).collect(),
        measured: movable.what.word(),
        kind: if movable.what == What::Volume { Kind::Volume } else { Kind::Length },
        now: movable.now,
        facing: now,
        length: one.placed.as_ref().map_or(0.0, |placed| (placed.rear() - placed.front()).si()),
        facings,
    })
}

/// Which way an item stands, where it has a front.
pub(super) fn facing(item: &crate::model::Item) -> Option<Facing> {
    match &item.kind {
        ItemKind::Machine(machine) => machine.facing.value(),
        ItemKind::Cargo(_) | ItemKind::Bulk(_) => None,
    }
}

/// The other way round.
pub(super) const fn other(facing: Facing) -> Facing {
    match facing {
        Facing::Forward => Facing::Backward,
        Facing::Backward => Facing::Forward,
    }
}

fn range(limits: &[Limit<'_>], stretch: &Stretch) -> Range {
    let id = |limit: Option<usize>| limit.and_then(|at| limits.get(at)).map(|limit| Arc::clone(&limit.rule.id));
    Range {
        from: End { at: stretch.from, limit: id(stretch.from_limit) },
        to: End { at: stretch.to, limit: id(stretch.to_limit) },
    }
}

/// Which limits leave nothing: one that is kept nowhere, or else the two that lie furthest apart, the gravest first; or
/// as many as it takes.
pub(super) fn collision<'l>(asked: impl Iterator<Item = (&'l Limit<'l>, &'l Fares)>) -> Option<Collision> {
    let mut asked: Vec<(&Limit<'_>, &Fares)> = asked.filter(|(_, fares)| fares.depends).collect();
    asked.sort_by_key(|(limit, _)| std::cmp::Reverse(limit.rule.level));
    if let Some((limit, _)) = asked.iter().find(|(_, fares)| fares.kept.is_empty()) {
        return Some(Collision { limits: vec![Arc::clone(&limit.rule.id)], ends: None });
    }
    let mut worst: Option<(Level, f64, Collision)> = None;
    for (at, (one, its)) in asked.iter().enumerate() {
        for (other, others) in asked.iter().skip(at + 1) {
            let Some((first, second)) = nearest(&its.kept, &others.kept) else { continue };
            let apart = (first - second).abs();
            let level = one.rule.level.min(other.rule.level);
            if apart > SAME && worst.as_ref().is_none_or(|(best, far, _)| (level, apart) > (*best, *far)) {
                let limits = vec![Arc::clone(&one.rule.id), Arc::clone(&other.rule.id)];
                worst = Some((level, apart, Collision { limits, ends: Some((first, second)) }));
            }
        }
    }
    if let Some((.., collision)) = worst {
        return Some(collision);
    }
    // Any two leave something: take away, lightest first, what is not needed to leave nothing.
    let mut needed: Vec<(&Limit<'_>, &Fares)> = asked;
    for at in (0..needed.len()).rev() {
        let without: Vec<&Fares> =
            needed.iter().enumerate().filter(|(other, _)| *other != at).map(|(_, one)| one.1).collect();
        if meet(&without).is_empty() {
            needed.remove(at);
        }
    }
    let mut limits: Vec<Arc<str>> = Vec::new();
    for (limit, _) in needed {
        if !limits.contains(&limit.rule.id) {
            limits.push(Arc::clone(&limit.rule.id));
        }
    }
    (!limits.is_empty()).then_some(Collision { limits, ends: None })
}

/// Where all of these are kept.
fn meet(all: &[&Fares]) -> Vec<(f64, f64)> {
    let mut left = vec![(f64::NEG_INFINITY, f64::INFINITY)];
    for fares in all {
        let pairs =
            left.iter().flat_map(|one| fares.kept.iter().map(move |other| (one.0.max(other.0), one.1.min(other.1))));
        left = pairs.filter(|(from, to)| *from <= *to + SAME).collect();
    }
    left
}

/// The two nearest points of two sets of stretches; the same one where they meet.
fn nearest(one: &[(f64, f64)], other: &[(f64, f64)]) -> Option<(f64, f64)> {
    let pairs = one.iter().flat_map(|one| other.iter().map(move |other| (one, other)));
    let ends = pairs.map(|(one, other)| {
        if one.1 < other.0 {
            (one.1, other.0)
        } else if other.1 < one.0 {
            (one.0, other.1)
        } else {
            let meet = one.0.max(other.0);
            (meet, meet)
        }
    });
    ends.min_by(|a, b| (a.0 - a.1).abs().total_cmp(&(b.0 - b.1).abs()))
}
