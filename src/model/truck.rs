//! The truck and its hitch.

use std::sync::Arc;

use super::{Entry, HitchKind, Owner, Slot, TireKind};
use crate::units::{Force, Length, Mass, Pressure, Share, Speed};

/// A truck as it stands ready: driver and fuel aboard.
#[derive(Clone, Debug)]
pub struct Truck {
    /// Its id.
    pub id: Entry<Arc<str>>,
    /// Its node.
    pub owner: Owner,
    /// The front axle; none when it is missing or broken.
    pub front: Option<TruckAxle>,
    /// The rear axle.
    pub rear: Option<TruckAxle>,
    /// Between the axles.
    pub wheelbase: Slot<Length>,
    /// The maker's limit for the truck's gross weight.
    pub gvwr: Slot<Mass>,
    /// The maker's limit for truck and trailer together.
    pub gcwr: Slot<Mass>,
    /// The hitch; none when it is missing or broken.
    pub hitch: Option<Hitch>,
}

/// An axle of the truck.
#[derive(Clone, Debug)]
pub struct TruckAxle {
    /// Its node.
    pub owner: Owner,
    /// What it carries without trailer and load.
    pub weighed: Slot<Mass>,
    /// Its rating (GAWR).
    pub rating: Slot<Mass>,
    /// Between the wheel centres.
    pub track_width: Slot<Length>,
    /// Its tires.
    pub tires: Option<Tires>,
}

/// The tires of one axle.
#[derive(Clone, Debug)]
pub struct Tires {
    /// Their node.
    pub owner: Owner,
    /// How many on the whole axle.
    pub count: Slot<u32>,
    /// Marked load of each.
    pub rating: Slot<Mass>,
    /// Load index.
    pub load_index: Slot<LoadIndex>,
    /// Whether they are fitted in pairs.
    pub dual: Slot<bool>,
    /// Inflation.
    pub pressure: Slot<Pressure>,
    /// Inflation at which the marked load holds.
    pub max_pressure: Slot<Pressure>,
    /// The speed they are made for.
    pub speed: Slot<Speed>,
    /// What they were made for.
    pub kind: Slot<TireKind>,
}

/// A load index as marked: one number, or single and dual.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LoadIndex {
    /// For single fitment, or the only one given.
    pub single: u16,
    /// For dual fitment.
    pub dual: Option<u16>,
}

/// The truck's side of the coupling.
#[derive(Clone, Debug)]
pub struct Hitch {
    /// Its node.
    pub owner: Owner,
    /// Its kind.
    pub kind: Slot<HitchKind>,
    /// From the rear axle back to the ball; negative when the ball is ahead of it.
    pub behind_rear_axle: Slot<Length>,
    /// The ball's height with the truck loaded.
    pub height: Slot<Length>,
    /// The part of the front axle's loss that a weight-distributing hitch gives back.
    pub restores: Slot<Share>,
    /// Receiver's limit for the tongue.
    pub tongue_rating: Slot<Mass>,
    /// Receiver's limit for the trailer.
    pub trailer_rating: Slot<Mass>,
    /// The ball; none when the sheet does not speak of one.
    pub ball: Option<Ball>,
    /// Whether a brake controller is fitted.
    pub brake_controller: Slot<bool>,
    /// Largest static vertical load on the plate (S).
    pub s_value: Slot<Mass>,
    /// D-value of the plate.
    pub d_value: Slot<Force>,
    /// `D_c` of the plate, for a centre-axle trailer.
    pub dc_value: Slot<Force>,
    /// V of the plate, for a centre-axle trailer above 3.5 t.
    pub v_value: Slot<Force>,
}

/// The ball of a hitch.
#[derive(Clone, Debug)]
pub struct Ball {
    /// Its node.
    pub owner: Owner,
    /// Diameter.
    pub size: Slot<Length>,
    /// Marked limit for the trailer.
    pub rating: Slot<Mass>,
}
