//! The ties that an item could have besides those it has: of tie-downs that hold it already, at anchors that nothing hangs
//! on.

use std::sync::Arc;

use super::bench::Bench;
use crate::figures::Load;
use crate::model::{Anchor, Entry, ItemKind, LashPoint, Machine, Slot};
use crate::physics::Placed;
use crate::units::Length;

/// How far two anchors or lash points may be from mirroring one another, in m.
const SAME: f64 = 0.03;

/// A tie that could be added.
#[derive(Clone, Debug)]
pub(super) struct Line {
    /// As a sheet writes it.
    pub(super) text: String,
    anchors: Vec<usize>,
    lash: Option<usize>,
    /// How far it reaches along and across the deck, in m; nothing where that is not known.
    reach: f64,
}

/// What ties could be made of.
pub(super) struct Ways<'y> {
    /// What the sheet writes for each tie-down that holds the item: direct, and over the top.
    direct: Vec<String>,
    over: Vec<String>,
    /// Whether its direct ties say to which point they go.
    placed: bool,
    /// Anchors on which nothing hangs and points to which no tie goes, each as it is written.
    anchors: Vec<(&'y Anchor, String)>,
    lashes: Vec<(&'y LashPoint, String)>,
    /// Where the item stands, and where the deck begins.
    placed_at: Option<(Placed, Length)>,
}

impl<'y> Ways<'y> {
    /// Those of an item. None where the trailer is not known.
    pub(super) fn of(bench: &Bench<'_>, load: &Load<'y>, item: usize) -> Option<Self> {
        let trailer = load.trailer.as_ref().ok()?;
        let one = load.items.get(item)?;
        let said = |entry: &Entry<Arc<str>>| {
            let text = &bench.sources().get(entry.written.file)?.text;
            text.get(entry.written.range()).map(str::to_owned)
        };
        let (mut direct, mut over, mut placed) = (Vec::new(), Vec::new(), false);
        for tie in &one.item.ties {
            let is_over = tie.over.value() == Some(true);
            let all = if is_over { &mut over } else { &mut direct };
            let name = said(&tie.tiedown.name)?;
            // What bears no mark is nothing to buy another of.
            let marked =
                tie.tiedown.target.and_then(|at| load.yard.tiedowns.get(at)).is_some_and(|one| !one.wll.is_absent());
            if marked && !all.contains(&name) && tie.from.entry().is_some() {
                all.push(name);
            }
            placed |= !is_over && tie.to.entry().is_some();
        }
        let taken = |slot: fn(&crate::model::Tie) -> &Slot<Arc<str>>, id: &str| {
            let mut ties = load.items.iter().flat_map(crate::figures::OnDeck::ties);
            ties.any(|tie| slot(tie).value().is_some_and(|name| *name == *id))
        };
        let free = trailer.anchors.iter().filter(|one| !taken(|tie| &tie.from, &one.id.value));
        let free = free.filter(|one| !taken(|tie| &tie.to, &one.id.value));
        let anchors = free.filter_map(|one| Some((one, said(&one.id)?))).collect();
        let points = match &one.item.kind {
            ItemKind::Machine(aboard) => aboard.machine.target.and_then(|at| load.yard.machines.get(at)),
            ItemKind::Cargo(_) | ItemKind::Bulk(_) => None,
        };
        let points: &[LashPoint] = points.map_or(&[], |machine: &Machine| &machine.lash_points);
        let own = |point: &&LashPoint| {
            one.item.ties.iter().all(|tie| tie.to.value().is_none_or(|name| *name != *point.id.value))
        };
        let mut lashes: Vec<_> = points.iter().filter(own).filter_map(|one| Some((one, said(&one.id)?))).collect();
        if lashes.is_empty() {
            // A point that holds one chain can hold another.
            lashes = points.iter().filter_map(|one| Some((one, said(&one.id)?))).collect();
        }
        let from = load.deck().ok().and_then(|deck| deck.from.value());
        let placed_at = one.placed.clone().ok().zip(from);
        Some(Self { direct, over, placed, anchors, lashes, placed_at })
    }

    /// What could be added beside what was chosen: one tie, or two that mirror one another.
    pub(super) fn beside(&self, chosen: &[Line]) -> Vec<Vec<Line>> {
        let free = |line: &Line| {
            let used = |at: &usize| chosen.iter().any(|other| other.anchors.contains(at));
            let held =
                |at: usize| self.lashes.len() > chosen.len() && chosen.iter().any(|other| other.lash == Some(at));
            !line.anchors.iter().any(used) && !line.lash.is_some_and(held)
        };
        let mut all: Vec<Vec<Line>> = Vec::new();
        for name in &self.over {
            for (at, (one, _)) in self.anchors.iter().enumerate() {
                let mirrored = self.anchors.iter().position(|(other, _)| mirrors(one, other));
                // Each pair once.
                let pair = mirrored.filter(|other| *other > at).map(|other| vec![self.across(name, at, other)]);
                all.extend(pair.filter(|lines| lines.iter().all(free)));
            }
        }
        for name in &self.direct {
            let singles = self.singles(name);
            let free: Vec<&Line> = singles.iter().filter(|line| free(line)).collect();
            all.extend(free.iter().map(|line| vec![(*line).clone()]));
            for (at, one) in free.iter().enumerate() {
                let other = free.iter().skip(at + 1).find(|other| self.mirror(one, other));
                all.extend(other.map(|other| vec![(*one).clone(), (*other).clone()]));
            }
        }
        all
    }

    fn singles(&self, name: &str) -> Vec<Line> {
        let mut all = Vec::new();
        for (at, (anchor, from)) in self.anchors.iter().enumerate() {
            if !self.placed || self.lashes.is_empty() {
                all.push(Line { text: format!("tie {name} from={from}"), anchors: vec![at], lash: None, reach: 0.0 });
                continue;
            }
            for (point, (lash, to)) in self.lashes.iter().enumerate() {
                let text = format!("tie {name} from={from} to={to}");
                let reach = self.reach(anchor, lash).unwrap_or_default();
                all.push(Line { text, anchors: vec![at], lash: Some(point), reach });
            }
        }
        // Of two that hold alike the shorter one is meant.
        all.sort_by(|a, b| a.reach.total_cmp(&b.reach));
        all
    }

    fn across(&self, name: &str, one: usize, other: usize) -> Line {
        let said = |at: usize| self.anchors.get(at).map_or("", |(_, said)| said);
        let text = format!("tie {name} over=#true from={} to={}", said(one), said(other));
        Line { text, anchors: vec![one, other], lash: None, reach: 0.0 }
    }

    fn reach(&self, anchor: &Anchor, lash: &LashPoint) -> Option<f64> {
        let (placed, from) = self.placed_at.as_ref()?;
        let along = placed.station(lash.arm.value()?) - (*from + anchor.from_front.value()?);
        let across = placed.across(lash.left.value()?) - anchor.left.value()?;
        Some(along.si().hypot(across.si()))
    }

    /// Whether two ties lie on either side of the middle, alike.
    fn mirror(&self, one: &Line, other: &Line) -> bool {
        let anchor = |line: &Line| line.anchors.first().and_then(|at| self.anchors.get(*at)).map(|(anchor, _)| *anchor);
        let (Some(a), Some(b)) = (anchor(one), anchor(other)) else { return false };
        let point = |line: &Line| line.lash.and_then(|at| self.lashes.get(at)).map(|(point, _)| *point);
        let alike = match (point(one), point(other)) {
            (Some(a), Some(b)) => same(&a.arm, &b.arm, 1.0) && same(&a.left, &b.left, -1.0),
            (None, None) => true,
            _ => false,
        };
        alike && mirrors(a, b)
    }
}

fn mirrors(a: &Anchor, b: &Anchor) -> bool {
    let off = a.left.value().is_some_and(|left| left.si().abs() > SAME);
    off && same(&a.from_front, &b.from_front, 1.0) && same(&a.left, &b.left, -1.0)
}

fn same(a: &Slot<Length>, b: &Slot<Length>, sign: f64) -> bool {
    match (a.value(), b.value()) {
        (Some(a), Some(b)) => (a.si() - sign * b.si()).abs() < SAME,
        _ => false,
    }
}
