//! The trailer: coupler, axles, deck and what is on it.

use std::sync::Arc;

use super::{Brakes, CouplerKind, Entry, Owner, Slot, Surface, Suspension, Tires};
use crate::units::{Force, Length, Mass, Stiffness};

/// A trailer. Stations run rearward from the ball centre.
#[derive(Clone, Debug)]
pub struct Trailer {
    /// Its id.
    pub id: Entry<Arc<str>>,
    /// Its node.
    pub owner: Owner,
    /// The `empty` node, when there is one.
    pub empty: Option<Owner>,
    /// Tongue weight of the empty trailer.
    pub empty_tongue: Slot<Mass>,
    /// Weight on all axles of the empty trailer.
    pub empty_axles: Slot<Mass>,
    /// The maker's limit for its gross weight.
    pub gvwr: Slot<Mass>,
    /// The coupler; none when the sheet does not speak of one.
    pub coupler: Option<Coupler>,
    /// The axles, front to rear.
    pub axles: Vec<TrailerAxle>,
    /// How the axles share.
    pub suspension: Slot<Suspension>,
    /// Coupler height at which the frame is level.
    pub level_at: Slot<Length>,
    /// Safety chains; none when the sheet does not speak of them.
    pub chains: Option<Chains>,
    /// Whether a breakaway device is fitted.
    pub breakaway: Slot<bool>,
    /// The deck; none when it is missing or broken.
    pub deck: Option<Deck>,
    /// Walls round the deck.
    pub walls: Option<Walls>,
    /// Doors at the rear.
    pub rear_doors: Option<Owner>,
    /// For a tipping bed: its hinge ahead of the deck's rear edge.
    pub tip_hinge: Slot<Length>,
    /// The ramp; none when the sheet does not speak of one.
    pub ramp: Option<Ramp>,
    /// Anchors, as written.
    pub anchors: Vec<Anchor>,
    /// Overall width.
    pub width: Slot<Length>,
    /// Overall length.
    pub length: Slot<Length>,
}

/// The trailer's side of the coupling.
#[derive(Clone, Debug)]
pub struct Coupler {
    /// Its node.
    pub owner: Owner,
    /// Its kind.
    pub kind: Slot<CouplerKind>,
    /// The ball it takes.
    pub size: Slot<Length>,
    /// Marked limit for the trailer.
    pub rating: Slot<Mass>,
    /// Marked limit for the tongue.
    pub tongue_rating: Slot<Mass>,
    /// Height of the ball centre with the trailer as it is meant to ride.
    pub height: Slot<Length>,
    /// Largest static vertical load on the plate (S).
    pub s_value: Slot<Mass>,
    /// D-value of the plate.
    pub d_value: Slot<Force>,
    /// `D_c` of the plate, for a centre-axle trailer.
    pub dc_value: Slot<Force>,
    /// V of the plate, for a centre-axle trailer above 3.5 t.
    pub v_value: Slot<Force>,
}

/// An axle of the trailer.
#[derive(Clone, Debug)]
pub struct TrailerAxle {
    /// Its node.
    pub owner: Owner,
    /// Station behind the ball.
    pub at: Slot<Length>,
    /// Its rating (GAWR).
    pub rating: Slot<Mass>,
    /// Between the wheel centres.
    pub track_width: Slot<Length>,
    /// Spring rate of both sides together.
    pub rate: Slot<Stiffness>,
    /// What it carries with the trailer empty.
    pub empty: Slot<Mass>,
    /// Its tires.
    pub tires: Option<Tires>,
    /// Its brakes.
    pub brakes: Slot<Brakes>,
}

/// Safety chains.
#[derive(Clone, Debug)]
pub struct Chains {
    /// Their node.
    pub owner: Owner,
    /// How many.
    pub count: Slot<u32>,
    /// Marked rating of each.
    pub rating: Slot<Mass>,
    /// Breaking strength of each.
    pub breaking: Slot<Mass>,
}

/// The loading deck.
#[derive(Clone, Debug)]
pub struct Deck {
    /// Its node.
    pub owner: Owner,
    /// Station of its front edge.
    pub from: Slot<Length>,
    /// Length.
    pub length: Slot<Length>,
    /// Width that can be stood on.
    pub width: Slot<Length>,
    /// Height above ground.
    pub height: Slot<Length>,
    /// Its surface.
    pub surface: Slot<Surface>,
    /// Length of a dovetail at the rear.
    pub dovetail_length: Slot<Length>,
    /// Drop of the dovetail.
    pub dovetail_drop: Slot<Length>,
    /// For a tilting deck: its hinge ahead of the rear edge.
    pub tilt_hinge: Slot<Length>,
}

/// Walls round the deck.
#[derive(Clone, Debug)]
pub struct Walls {
    /// Their node.
    pub owner: Owner,
    /// Height above the deck.
    pub height: Slot<Length>,
    /// What the front wall holds.
    pub holds: Slot<Force>,
}

/// The loading ramp.
#[derive(Clone, Debug)]
pub struct Ramp {
    /// Its node.
    pub owner: Owner,
    /// Length along the slope.
    pub length: Slot<Length>,
    /// Rating of each.
    pub rating: Slot<Mass>,
    /// How many side by side.
    pub count: Slot<u32>,
    /// Their surface.
    pub surface: Slot<Surface>,
}

/// A place on the trailer where a tie-down attaches.
#[derive(Clone, Debug)]
pub struct Anchor {
    /// Its id, of its trailer.
    pub id: Entry<Arc<str>>,
    /// Its node.
    pub owner: Owner,
    /// Behind the deck's front edge.
    pub from_front: Slot<Length>,
    /// Left of the centre line.
    pub left: Slot<Length>,
    /// Above the deck.
    pub height: Slot<Length>,
    /// Its rating.
    pub rating: Slot<Mass>,
}
