//! Tie-downs and bulk materials.

use std::sync::Arc;

use super::{Entry, Moisture, Owner, Slot, TieKind};
use crate::units::{self, Angle, Force, Length, Mass};

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
