//! Tie-downs, bulk materials, and how well one thing grips another.

use std::sync::Arc;

use super::{DeckCondition, Entry, FrictionStatus, Moisture, Owner, Slot, Surface, TieKind, Touching};
use crate::units::{self, Angle, Force, Length, Mass, Share};

/// A tie-down.
#[derive(Clone, Debug)]
pub struct Tiedown {
    /// Its id.
    pub id: Entry<Arc<str>>,
    /// Its node.
    pub owner: Owner,
    /// What it is made of.
    pub kind: Slot<TieKind>,
    /// Grade mark.
    pub grade: Slot<Arc<str>>,
    /// Diameter or nominal size.
    pub size: Slot<Length>,
    /// Width of webbing or strapping.
    pub width: Slot<Length>,
    /// Marked working load limit.
    pub wll: Slot<Mass>,
    /// Breaking strength.
    pub breaking: Slot<Mass>,
    /// Lashing capacity (LC, EN 12195-2).
    pub lashing_capacity: Slot<Force>,
    /// Standard tension force (`S_TF`, EN 12195-2).
    pub tension_force: Slot<Force>,
}

/// A bulk material.
#[derive(Clone, Debug)]
pub struct Material {
    /// Its id.
    pub id: Entry<Arc<str>>,
    /// Its node.
    pub owner: Owner,
    /// Density ranges, dry and wet.
    pub densities: Vec<Density>,
    /// Least angle of repose.
    pub repose_low: Slot<Angle>,
    /// Largest angle of repose.
    pub repose_high: Slot<Angle>,
}

/// A density range in one state.
#[derive(Clone, Debug)]
pub struct Density {
    /// Its node.
    pub owner: Owner,
    /// In which state.
    pub moisture: Slot<Moisture>,
    /// Lightest.
    pub low: Slot<units::Density>,
    /// Heaviest.
    pub high: Slot<units::Density>,
}

/// How well one thing grips another: a range of the friction coefficient.
#[derive(Clone, Debug)]
pub struct Friction {
    /// Its node.
    pub owner: Owner,
    /// What touches.
    pub what: Slot<Touching>,
    /// What it stands on.
    pub on: Slot<Surface>,
    /// In which state of the deck.
    pub deck: Slot<DeckCondition>,
    /// The least it can be counted on for.
    pub low: Slot<Share>,
    /// The most that is published.
    pub high: Slot<Share>,
    /// Where the numbers come from.
    pub source: Slot<Arc<str>>,
    /// How well that is known.
    pub status: Slot<FrictionStatus>,
}

impl Friction {
    /// What it is for, when all of that could be read: what touches what, in which state.
    #[must_use]
    pub fn pair(&self) -> Option<(Touching, Surface, DeckCondition)> {
        Some((self.what.value()?, self.on.value()?, self.deck.value()?))
    }
}
