//! What gauges showed, each number beside the figure that it is a reading of; and where cargo is taken to weigh, when
//! its sheet does not say.

use super::{Each, Figure, Load, OnDeck, Rest, figure};
use crate::model::{Gap, ItemKind, ReadingEntry, Slot};
use crate::units::{Length, Mass};

/// One number that a gauge showed.
#[derive(Clone, Debug)]
pub struct Gauged<'y> {
    /// The reading it stands in.
    pub reading: &'y ReadingEntry,
    /// The number.
    pub read: Rest,
    /// What it is a reading of.
    pub figure: &'static Figure,
    /// Where it was read, as a message says it.
    pub spoken: &'static str,
}

/// The figure behind each word of a reading, and how a message says where it was read.
const FIGURES: [(&str, &str, &str); 3] = [
    ("tongue", "trailer.tongue", "on the tongue"),
    ("axles", "trailer.axles.load", "on the axles"),
    ("gross", "trailer.gross", "in all"),
];

impl<'y> Gauged<'y> {
    /// Every number that could be read of a load's readings, in their order.
    #[must_use]
    pub fn all(load: &Load<'y>) -> Vec<Self> {
        let mut all = Vec::new();
        for reading in load.readings.iter().copied() {
            let slots: [&Slot<Mass>; 3] = [&reading.tongue, &reading.axles, &reading.gross];
            for (slot, (word, name, spoken)) in slots.into_iter().zip(FIGURES) {
                if let (Some(entry), Some((_, figure))) = (slot.entry(), figure(name, Each::Load)) {
                    all.push(Self { reading, read: Rest::of(entry, &reading.owner, word), figure, spoken });
                }
            }
        }
        all
    }
}

/// Where the centre of gravity of cargo is taken to lie when its sheet does not say: behind its foremost point, by half
/// its length. Beside it the entry that moves the cargo as a whole, and whether more of that moves it rearward.
#[must_use]
pub fn assumed_middle(one: &OnDeck<'_>) -> Option<(Rest, Rest, bool)> {
    let ItemKind::Cargo(cargo) = &one.item.kind else { return None };
    let (owner, length) = (&one.item.owner, cargo.length.entry()?);
    if !cargo.cg_from_front.is_absent() {
        return None;
    }
    let (gap, word, rearward) = match &one.item.gap {
        Gap::Front(gap) => (gap, "front-gap", true),
        Gap::Rear(gap) => (gap, "rear-gap", false),
        Gap::Fills | Gap::Broken => return None,
    };
    let middle = Rest {
        at: owner.at,
        word: "cg-from-front",
        value: Length::si(length.value / 2.0),
        origin: None,
        plus_minus: None,
        ..Rest::of(length, owner, "length")
    };
    Some((middle, Rest::of(gap, owner, word), rearward))
}
