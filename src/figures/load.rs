//! One load with its references followed and everything computed that the figures read.

use std::collections::HashMap;
use std::sync::Arc;

use super::climbing::Climbs;
use super::deck::{Corner, Placing};
use super::held::Holdings;
use super::kept::Kept;
use super::lack::target;
use super::merged::{conditions, loading};
use super::reads::{Changed, Reads, Rest};
use super::rig::{RigState, TrailerState};
use super::{Known, Lack, Supposed};
use crate::model::{
    Conditions, Deck, End, Fit, Gap, Hitch, Item, ItemKind, Leg, LoadRef, Loading, Owner, ReadingEntry, Sheet, Tie,
    Trailer, TrailerAxle, Truck, TruckAxle, TruckCargo, Waiver, Yard,
};
use crate::text::Span;
use crate::units::{Length, Mass};

/// Which end of a bulk material's density range is taken. A range enters as its end points, never as a spread
/// (`physics` section 9 of the design).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Heap {
    /// The heaviest: the end that ratings are judged by.
    Heaviest,
    /// The lightest.
    Lightest,
}

/// A load, its references followed, its weights and places computed once.
#[derive(Debug)]
pub struct Load<'y> {
    /// The yard it belongs to.
    pub yard: &'y Yard,
    /// Which load.
    pub which: LoadRef,
    /// Its sheet.
    pub sheet: &'y Sheet,
    /// Its leg, where the sheet has legs.
    pub leg: Option<&'y Leg>,
    /// Its truck.
    pub truck: Known<&'y Truck>,
    /// Its trailer.
    pub trailer: Known<&'y Trailer>,
    /// Road and deck: the leg's entries over the sheet's over the yard's.
    pub conditions: Conditions,
    /// How it is put aboard: the leg's entries over the sheet's over the yard's.
    pub loading: Loading,
    /// What stands on the deck, the sheet's items before the leg's.
    pub items: Vec<OnDeck<'y>>,
    /// What is in the truck.
    pub in_truck: Vec<&'y TruckCargo>,
    /// What gauges showed.
    pub readings: Vec<&'y ReadingEntry>,
    /// Accepted findings: of the sheet and of the leg.
    pub waivers: Vec<&'y Waiver>,
    /// The trailer on its own: static tongue and gross.
    pub still: Known<TrailerState>,
    /// Truck and trailer coupled.
    pub rig: Known<RigState>,
    /// How the entries are read on which weights and places rest.
    pub(super) reads: Reads,
    /// How the entries are read on which only outlines rest.
    pub(super) outlines: Reads,
    /// What was found of machines driven aboard.
    pub(super) climbs: Arc<Climbs>,
    /// Figures that cost much to read.
    pub(super) kept: Kept,
    /// What was found of tie-downs.
    pub(super) holdings: Arc<Holdings>,
    /// What is supposed of the way onto the deck.
    pub(super) supposed: Supposed,
    pub(super) heap: Heap,
}

/// An item on the deck.
#[derive(Clone, Debug)]
pub struct OnDeck<'y> {
    /// The item.
    pub item: &'y Item,
    /// Its name in results: the id, with `#2` for the second of its name.
    pub label: Arc<str>,
    /// The item on which it stands, by its place in [`Load::items`].
    pub under: Option<usize>,
    /// Where it stands and what it weighs.
    pub placed: Known<crate::physics::Placed>,
    /// Its width across the deck.
    pub width: Known<Length>,
    /// Its own height.
    pub height: Known<Length>,
    /// Width over what it stands on: wheel centres, tracks or its base.
    pub footing: Known<Length>,
    /// The arms of the two ends of what a machine stands on: its axles, or the ends of its tracks.
    pub stands: Known<(Length, Length)>,
    /// Where it stands across the deck.
    pub left: Known<Length>,
    /// The entries on which its weight and place rest; only in a load that notes them.
    pub(super) rests_on: Arc<[Span]>,
}

impl<'y> OnDeck<'y> {
    /// The attachments on it.
    #[must_use]
    pub fn fits(&self) -> &'y [Fit] {
        match &self.item.kind {
            ItemKind::Machine(machine) => &machine.fits,
            ItemKind::Cargo(_) | ItemKind::Bulk(_) => &[],
        }
    }

    /// The entries on which its weight and place rest; none in a load that does not note them.
    #[must_use]
    pub fn rests_on(&self) -> &[Span] {
        &self.rests_on
    }

    /// Its tie-downs, those of its attachments last.
    pub fn ties(&self) -> impl Iterator<Item = &'y Tie> + use<'y> {
        self.item.ties.iter().chain(self.fits().iter().flat_map(|fit| &fit.ties))
    }

    /// Its weight.
    ///
    /// # Errors
    /// What is missing to know it.
    pub fn weight(&self) -> Known<Mass> {
        self.placed.as_ref().map(|placed| placed.item.weight).map_err(Clone::clone)
    }

    /// Its left and right extremity across the deck, left of the centre line positive.
    ///
    /// # Errors
    /// What is missing to know them.
    pub fn sides(&self) -> Known<Corner> {
        let width = self.width.clone()?;
        let left = match &self.item.kind {
            // Loose material reaches from side to side, however much more of it lies on one.
            ItemKind::Bulk(_) => Length::ZERO,
            ItemKind::Machine(_) | ItemKind::Cargo(_) => self.left.clone()?,
        };
        Ok(Corner { left: left + width / 2.0, right: left - width / 2.0 })
    }
}

impl<'y> Load<'y> {
    /// Follows a load's references and computes it. None when the yard has no such load.
    #[must_use]
    pub fn of(yard: &'y Yard, which: LoadRef, heap: Heap) -> Option<Self> {
        Self::read_by(yard, which, heap, (Reads::default(), Reads::default()))
    }

    /// The same, keeping what it rests on ([`Load::rests`]).
    #[must_use]
    pub fn noted(yard: &'y Yard, which: LoadRef, heap: Heap) -> Option<Self> {
        Self::read_by(yard, which, heap, (Reads::noting(), Reads::noting()))
    }

    /// The same with the entries at these places varied, [`LANES`](crate::units::LANES) at the most: every figure's
    /// slopes are then its derivatives along them.
    #[must_use]
    pub fn varied(&self, at: &[Span]) -> Option<Self> {
        let varied = Self::read_by(self.yard, self.which, self.heap, (Reads::along(at), Reads::along(at)))?;
        Some(Self { climbs: Arc::clone(&self.climbs), holdings: Arc::clone(&self.holdings), ..varied })
    }

    /// The same for weights and places only, of a load that notes what it rests on: outlines stay unvaried, and what the
    /// entries do not touch is taken over.
    #[must_use]
    pub fn varied_statics(&self, at: &[Span]) -> Self {
        self.again(Reads::along(at).changed(self.reads.what_changed().clone()), at, Arc::clone(&self.climbs))
    }

    /// What this load would be, as far as weights and places go, were something otherwise than the sheet says. Only of a
    /// load that notes what it rests on; what was changed before is forgotten.
    #[must_use]
    pub fn changed(&self, changed: Changed) -> Self {
        let before = self.reads.what_changed();
        let touched = [before, &changed]
            .into_iter()
            .flat_map(|one| one.values.iter().map(|(at, _)| at).chain(&one.turned))
            .copied()
            .collect::<Vec<Span>>();
        // What is found of a climb stays so long as things are only moved.
        let same = self.only_moves(before) && self.only_moves(&changed);
        let climbs = if same { Arc::clone(&self.climbs) } else { Arc::default() };
        self.again(Reads::default().changed(changed), &touched, climbs)
    }

    /// This load read once more, of which only what these entries touch differs.
    pub(super) fn again(&self, reads: Reads, touched: &[Span], climbs: Arc<Climbs>) -> Self {
        let outlines = Reads::default().changed(reads.what_changed().clone());
        let placing = Placing {
            yard: self.yard,
            trailer: self.trailer.as_ref().ok().copied(),
            heap: self.heap,
            statics: &reads,
            outlines: &outlines,
        };
        let again = |one: &OnDeck<'y>| {
            let touched = touched.iter().any(|at| one.rests_on.contains(at) || one.item.owner.at == *at);
            if touched { placing.again(one) } else { one.clone() }
        };
        let mut load = Self {
            items: self.items.iter().map(again).collect(),
            conditions: self.conditions.clone(),
            loading: self.loading.clone(),
            in_truck: self.in_truck.clone(),
            readings: self.readings.clone(),
            waivers: self.waivers.clone(),
            truck: self.truck.clone(),
            trailer: self.trailer.clone(),
            still: Err(Lack::Entry(self.sheet.owner.lacks("trailer"))),
            rig: Err(Lack::Entry(self.sheet.owner.lacks("truck"))),
            reads,
            outlines,
            climbs,
            kept: Kept::default(),
            holdings: Arc::default(),
            supposed: self.supposed,
            yard: self.yard,
            which: self.which,
            sheet: self.sheet,
            leg: self.leg,
            heap: self.heap,
        };
        load.solve();
        load
    }

    /// Whether a change moves items, turns them round or changes how much loose material there is, and nothing else.
    fn only_moves(&self, changed: &Changed) -> bool {
        let moved = |at: Span| {
            self.items.iter().any(|one| {
                let gap = match &one.item.gap {
                    Gap::Front(gap) | Gap::Rear(gap) => Some(gap.at),
                    Gap::Fills | Gap::Broken => None,
                };
                let volume = match &one.item.kind {
                    ItemKind::Bulk(bulk) => bulk.volume.at(),
                    ItemKind::Machine(_) | ItemKind::Cargo(_) => None,
                };
                [gap, one.item.left.at(), volume].contains(&Some(at))
            })
        };
        changed.values.iter().all(|(at, _)| moved(*at))
    }

    /// The numbers that have been read so far, in the order of the files; only of a load that notes them. Each with
    /// whether weights and places rest on it.
    #[must_use]
    pub fn rests(&self) -> Vec<(Rest, bool)> {
        let mut all: Vec<(Rest, bool)> = self.reads.noted().into_iter().map(|rest| (rest, true)).collect();
        for rest in self.outlines.noted() {
            if all.iter().all(|(known, _)| known.at != rest.at) {
                all.push((rest, false));
            }
        }
        all.sort_by_key(|(rest, _)| rest.at);
        all
    }

    fn solve(&mut self) {
        self.still = self.whole().and_then(|()| TrailerState::of(self));
        self.rig = self.still.as_ref().map_err(Clone::clone).and_then(|still| RigState::of(self, still));
    }

    fn read_by(yard: &'y Yard, which: LoadRef, heap: Heap, (reads, outlines): (Reads, Reads)) -> Option<Self> {
        let sheet = yard.sheets.get(which.sheet)?;
        let leg = match which.leg {
            Some(at) => Some(sheet.legs.get(at)?),
            None => None,
        };
        let parts = || std::iter::once(&sheet.base).chain(leg.map(|leg| &leg.part));
        let truck = target(sheet.truck.as_ref(), &yard.trucks, &sheet.owner, "truck");
        let trailer = target(sheet.trailer.as_ref(), &yard.trailers, &sheet.owner, "trailer");
        let written: Vec<&Item> = parts().flat_map(|part| &part.items).collect();
        let placing =
            Placing { yard, trailer: trailer.as_ref().ok().copied(), heap, statics: &reads, outlines: &outlines };
        let items = written.iter().enumerate().map(|(at, item)| {
            let same = |other: &&&Item| other.id.value == item.id.value;
            let label = match written.get(..at).map_or(0, |before| before.iter().filter(same).count()) {
                0 => Arc::clone(&item.id.value),
                before => format!("{}#{}", item.id.value, before + 1).into(),
            };
            placing.item(item, label)
        });
        let items = items.collect();
        let mut load = Load {
            yard,
            which,
            sheet,
            leg,
            conditions: conditions(yard, parts()),
            loading: loading(yard, parts()),
            items: stacked(items),
            in_truck: parts().flat_map(|part| &part.aboard_truck).collect(),
            readings: parts().flat_map(|part| &part.readings).collect(),
            waivers: parts().flat_map(|part| &part.waivers).collect(),
            truck,
            trailer,
            still: Err(Lack::Entry(sheet.owner.lacks("trailer"))),
            rig: Err(Lack::Entry(sheet.owner.lacks("truck"))),
            reads,
            outlines,
            climbs: Arc::default(),
            kept: Kept::default(),
            holdings: Arc::default(),
            supposed: Supposed::default(),
            heap,
        };
        load.solve();
        Some(load)
    }

    /// The hitch of the truck.
    ///
    /// # Errors
    /// What is missing.
    pub fn hitch(&self) -> Known<&'y Hitch> {
        let truck = self.truck.clone()?;
        truck.hitch.as_ref().ok_or_else(|| truck.owner.lacks("hitch").into())
    }

    /// An axle of the truck.
    ///
    /// # Errors
    /// What is missing.
    pub fn truck_axle(&self, end: End) -> Known<&'y TruckAxle> {
        let truck = self.truck.clone()?;
        let (axle, word) = match end {
            End::Front => (&truck.front, "axle \"front\""),
            End::Rear => (&truck.rear, "axle \"rear\""),
        };
        axle.as_ref().ok_or_else(|| truck.owner.lacks(word).into())
    }

    /// The axles of the trailer, front to rear; none when the trailer is not known.
    #[must_use]
    pub fn trailer_axles(&self) -> &'y [TrailerAxle] {
        match &self.trailer {
            Ok(trailer) => &trailer.axles,
            Err(_) => &[],
        }
    }

    /// The deck.
    ///
    /// # Errors
    /// What is missing.
    pub fn deck(&self) -> Known<&'y Deck> {
        let trailer = self.trailer.clone()?;
        trailer.deck.as_ref().ok_or_else(|| trailer.owner.lacks("deck").into())
    }

    /// The node that holds this load: the leg, or the sheet.
    #[must_use]
    pub fn owner(&self) -> &'y Owner {
        self.leg.map_or(&self.sheet.owner, |leg| &leg.owner)
    }

    /// Whether an item stands on another, directly or on what stands on it.
    #[must_use]
    pub fn stands_on(&self, upper: usize, lower: usize) -> bool {
        let mut under = self.items.get(upper).and_then(|one| one.under);
        // As many steps as there are items: a ring of items standing on one another ends there.
        for _ in 0..self.items.len() {
            let Some(at) = under else { return false };
            if at == lower {
                return true;
            }
            under = self.items.get(at).and_then(|one| one.under);
        }
        false
    }

    /// Whether all that is aboard could be read: a lost line may have been an item.
    fn whole(&self) -> Known<()> {
        let lost = |owner: &Owner| owner.lost.then(|| owner.lacks("item"));
        let leg = self.leg.and_then(|leg| lost(&leg.owner));
        lost(&self.sheet.owner).or(leg).map_or(Ok(()), |missing| Err(missing.into()))
    }
}

/// Finds what stands on what. The first of several items of one name is meant.
fn stacked(mut items: Vec<OnDeck<'_>>) -> Vec<OnDeck<'_>> {
    if items.iter().any(|one| one.item.on.is_some()) {
        let labels = items.iter().enumerate().rev().map(|(at, one)| (Arc::clone(&one.label), at));
        let places: HashMap<Arc<str>, usize> = labels.collect();
        for one in &mut items {
            one.under = one.item.on.as_ref().and_then(|on| places.get(&on.value)).copied();
        }
    }
    items
}
