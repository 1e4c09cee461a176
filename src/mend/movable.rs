//! What of a load can be moved, and how a load reads with it moved.

use crate::figures::{Changed, Load, OnDeck};
use crate::model::{Entry, Gap, ItemKind};
use crate::text::Span;
use crate::units::{Length, Quantity, Unit};

/// How far apart two lengths may be and still count as one: a hundredth of what can be measured at all.
pub(super) const SAME: f64 = 1e-9;

/// Which entry is moved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum What {
    /// Where an item stands, by its distance from the deck's front edge.
    FrontGap,
    /// Where an item stands, by its distance from the deck's rear edge.
    RearGap,
    /// Where an item stands across the deck.
    Left,
    /// How much loose material there is.
    Volume,
}

impl What {
    /// The sheet's word for it.
    pub(super) const fn word(self) -> &'static str {
        match self {
            Self::FrontGap => "front-gap",
            Self::RearGap => "rear-gap",
            Self::Left => "left",
            Self::Volume => "volume",
        }
    }

    /// Which way the item goes along the deck as the entry grows: rearward is positive.
    pub(super) const fn rearward(self) -> f64 {
        match self {
            Self::FrontGap => 1.0,
            Self::RearGap => -1.0,
            Self::Left | Self::Volume => 0.0,
        }
    }
}

/// One entry that can be moved, and what moves with it.
#[derive(Clone, Debug)]
pub(super) struct Movable {
    /// The item, by its place in the load.
    pub(super) item: usize,
    pub(super) what: What,
    /// The entry, and its value alone.
    pub(super) at: Span,
    pub(super) written: Span,
    /// The unit it is written in.
    pub(super) unit: Option<&'static Unit>,
    /// Its value as it is, in SI.
    pub(super) now: f64,
    /// The least and the most it can be at all: part of the item is over the deck.
    pub(super) from: f64,
    pub(super) to: f64,
    /// The item's node: what is turned round is named by it.
    node: Span,
    /// What stands on it and goes along.
    pub(super) riders: Vec<Rider>,
}

/// An entry of something that goes along.
#[derive(Clone, Debug)]
pub(super) struct Rider {
    /// The entry, and its value alone.
    at: Span,
    pub(super) written: Span,
    /// The unit it is written in.
    pub(super) unit: Option<&'static Unit>,
    /// Its value as it is, in SI.
    now: f64,
    /// Whether it grows or shrinks as the other grows.
    sign: f64,
}

impl Rider {
    fn of(entry: &Entry<Length>, sign: f64) -> Self {
        Self { at: entry.at, written: entry.written, unit: entry.unit, now: entry.value.si(), sign }
    }

    /// Its value once the other has grown by so much.
    pub(super) fn after(&self, by: f64) -> f64 {
        self.now + self.sign * by
    }
}

/// The most loose material that is looked at, in cubic metres: more than any trailer holds.
const MOST_VOLUME: f64 = 100.0;

impl Movable {
    /// Where each item stands along the deck, as far as it is placed by a gap and stands on the deck itself.
    pub(super) fn along(load: &Load<'_>) -> Vec<Self> {
        let all = load.items.iter().enumerate();
        all.filter(|(_, one)| one.under.is_none()).filter_map(|(at, one)| Self::gap(load, at, one)).collect()
    }

    /// Everything of the items on the deck itself that can be moved.
    pub(super) fn all(load: &Load<'_>) -> Vec<Self> {
        let mut all = Self::along(load);
        for (at, one) in load.items.iter().enumerate().filter(|(_, one)| one.under.is_none()) {
            all.extend(Self::left(load, at, one));
            all.extend(Self::volume(at, one));
        }
        all
    }

    fn gap(load: &Load<'_>, item: usize, one: &OnDeck<'_>) -> Option<Self> {
        let (what, entry) = match &one.item.gap {
            Gap::Front(entry) => (What::FrontGap, entry),
            Gap::Rear(entry) => (What::RearGap, entry),
            Gap::Fills | Gap::Broken => return None,
        };
        let placed = one.placed.as_ref().ok()?;
        let long = (placed.rear() - placed.front()).si();
        let deck = load.deck().ok()?.length.value()?.si();
        let fixed = match &one.item.kind {
            // What has no length of its own fills what its gap leaves, so the gap is at least nothing.
            ItemKind::Bulk(bulk) => bulk.length.is_absent(),
            ItemKind::Machine(_) | ItemKind::Cargo(_) => false,
        };
        let (from, to) = if fixed { (0.0, deck * (1.0 - SAME)) } else { (-long, deck) };
        let riders = load.items.iter().enumerate().filter(|(at, _)| rides(load, *at, item));
        let riders = riders.filter_map(|(_, rider)| match &rider.item.gap {
            Gap::Front(gap) => Some(Rider::of(gap, what.rearward())),
            Gap::Rear(gap) => Some(Rider::of(gap, -what.rearward())),
            Gap::Fills | Gap::Broken => None,
        });
        Some(Self { riders: riders.collect(), ..Self::of(item, one, what, entry, (from, to)) })
    }

    fn left(load: &Load<'_>, item: usize, one: &OnDeck<'_>) -> Option<Self> {
        let entry = one.item.left.entry()?;
        let half = load.deck().ok()?.width.value()?.si() / 2.0;
        let riders = load.items.iter().enumerate().filter(|(at, _)| rides(load, *at, item));
        let riders = riders.filter_map(|(_, rider)| rider.item.left.entry()).map(|left| Rider::of(left, 1.0));
        Some(Self { riders: riders.collect(), ..Self::of(item, one, What::Left, entry, (-half, half)) })
    }

    fn volume(item: usize, one: &OnDeck<'_>) -> Option<Self> {
        let ItemKind::Bulk(bulk) = &one.item.kind else { return None };
        let entry = bulk.volume.entry()?;
        // Nothing at all is no heap; the least that is looked at is a shovelful.
        Some(Self::of(item, one, What::Volume, entry, (0.001, MOST_VOLUME)))
    }

    fn of<T: Quantity>(item: usize, one: &OnDeck<'_>, what: What, entry: &Entry<T>, (from, to): (f64, f64)) -> Self {
        Self {
            item,
            what,
            at: entry.at,
            written: entry.written,
            unit: entry.unit,
            now: entry.value.si(),
            from,
            to,
            node: one.item.owner.at,
            riders: Vec::new(),
        }
    }

    /// The load with this entry at another value, the item perhaps turned round.
    pub(super) fn moved(&self, to: f64, turned: bool) -> Changed {
        let mut changed = Changed::default();
        self.move_in(&mut changed, to, turned);
        changed
    }

    /// The same beside other moves.
    pub(super) fn move_in(&self, changed: &mut Changed, to: f64, turned: bool) {
        changed.values.push((self.at, to));
        changed.values.extend(self.riders.iter().map(|rider| (rider.at, rider.after(to - self.now))));
        if turned {
            changed.turned.push(self.node);
        }
    }

    /// Where the item's edges come level with the edges of something else as this entry moves: there, and only there,
    /// figures that go by edges can bend.
    pub(super) fn cuts(&self, load: &Load<'_>, turned: bool) -> Vec<f64> {
        let changed = load.changed(self.moved(self.now, turned));
        let sign = self.what.rearward();
        if sign.abs() < 0.5 {
            return Vec::new();
        }
        let goes = |at: usize| at == self.item || rides(load, at, self.item);
        let edges = |moving: bool| {
            let wanted = changed.items.iter().enumerate().filter(move |(at, _)| goes(*at) == moving);
            wanted.filter_map(|(_, one)| one.placed.as_ref().ok().map(|placed| (one, placed)))
        };
        let mut own: Vec<Length> = Vec::new();
        for (one, placed) in edges(true) {
            own.extend([placed.front(), placed.rear(), placed.load().station]);
            own.extend(one.stands.iter().flat_map(|(rear, front)| [placed.station(*rear), placed.station(*front)]));
        }
        let mut others: Vec<Length> = edges(false).flat_map(|(_, placed)| [placed.front(), placed.rear()]).collect();
        let mut rearward: Vec<f64> = Vec::new();
        let deck = load.deck().ok().and_then(|deck| Some((deck.from.value()?, deck.length.value()?)));
        if let Some((from, length)) = deck {
            others.extend([from, from + length]);
            // As far over the front edge as over the rear one: from + length - (one + m) = (other + m) - from.
            let ends = from + from + length;
            let pairs = own.iter().flat_map(|one| own.iter().map(move |other| (ends - *one - *other).si() / 2.0));
            rearward.extend(pairs);
        }
        rearward.extend(own.iter().flat_map(|own| others.iter().map(move |other| (*other - *own).si())));
        let mut cuts: Vec<f64> = rearward
            .into_iter()
            .map(|rearward| self.now + sign * rearward)
            .filter(|cut| *cut > self.from && *cut < self.to)
            .collect();
        cuts.sort_by(f64::total_cmp);
        cuts.dedup_by(|a, b| (*a - *b).abs() <= SAME);
        cuts
    }
}

/// Whether an item stands on another, directly or on what stands on it.
fn rides(load: &Load<'_>, upper: usize, lower: usize) -> bool {
    upper != lower && load.stands_on(upper, lower)
}
