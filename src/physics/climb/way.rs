//! A way onto a deck, and what can be wrong with it.

use std::f64::consts::PI;
use std::fmt;

use crate::units::{Angle, Length};

/// The way onto a deck: the ground behind, the ramp, and the deck as it stands while a machine is driven on.
///
/// Ground is level under the trailer's wheels, and level behind the ramp's foot at another height where there is a bank.
/// A tilted deck turns about a hinge in its own plane, its rear edge down: with the hinge `d` ahead of the rear edge and
/// a tilt `φ` the edge stands `d sin φ` lower and `d (1 - cos φ)` further forward.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Way {
    /// How much higher the ground behind the ramp's foot stands than that under the trailer's wheels.
    pub foot_rise: Length,
    /// The ramp's length along its slope; none where the tilted deck itself reaches the ground.
    pub ramp: Option<Length>,
    /// Length of the deck, its dovetail included.
    pub deck_length: Length,
    /// Height of the deck above the ground under the trailer's wheels, as it stands level.
    pub deck_height: Length,
    /// A dovetail at the rear: its length along the deck, and how much lower its rear edge lies.
    pub dovetail: Option<(Length, Length)>,
    /// For a deck that is tilted: the hinge ahead of the rear edge, and the tilt.
    pub tilt: Option<(Length, Angle)>,
}

impl Way {
    /// How much higher the deck's rear edge stands than the ramp's foot, the deck as it is tilted.
    #[must_use]
    pub fn rise(&self) -> Length {
        let drop = self.dovetail.map_or(Length::ZERO, |(_, drop)| drop);
        let edge = match self.tilt {
            None => self.deck_height - drop,
            Some((hinge, angle)) => {
                let radians = angle.dual() * (PI / 180.0);
                self.deck_height - hinge * radians.sin() - drop * radians.cos()
            }
        };
        edge - self.foot_rise
    }

    /// The slope of what the machine climbs: of the ramp, or of the tilted deck where there is none. Not a number where the
    /// ramp does not reach.
    #[must_use]
    pub fn angle(&self) -> Angle {
        match (self.ramp, self.tilt) {
            (Some(ramp), _) => Angle::of((self.rise() / ramp).asin() * (180.0 / PI)),
            (None, Some((_, angle))) => angle,
            (None, None) => Angle::ZERO,
        }
    }
}

/// Why a climb cannot be computed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ClimbError {
    /// The ramp is no longer than the deck's edge is high.
    RampTooShort,
    /// The ramp stands steeper than 60 degrees.
    RampTooSteep,
    /// The tilted deck's rear edge would lie below the ground.
    EdgeBelowGround,
    /// Without a ramp the deck's edge is a step too high to drive over.
    StepTooHigh,
    /// A wheel's radius is larger than the ramp is long.
    WheelLargerThanRamp,
    /// The underside reaches below the ground that the machine stands on.
    UndersideBelowGround,
    /// The wheels' radii differ by as much as the wheelbase, or the wheelbase is none.
    NoWheelbase,
    /// The tracks have no length, or their centre of gravity does not lie over them.
    NotOnTracks,
    /// Tracks that have tipped over a corner meet a slope that leads up again: how they lie then is not computed.
    BendsUp,
    /// A tracked machine tips over backward on the ramp.
    TipsBack,
    /// Something is no finite number.
    NotFinite,
}

impl fmt::Display for ClimbError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::RampTooShort => {
                "it does not reach, for the deck's rear edge stands as high above its foot as it is long, or higher"
            }
            Self::RampTooSteep => "it would stand steeper than 60 degrees",
            Self::EdgeBelowGround => "tilted like this, the deck's rear edge would lie below the ground",
            Self::StepTooHigh => {
                "tilted like this and without a ramp, the deck's rear edge is a step too high to drive over"
            }
            Self::WheelLargerThanRamp => "the wheels' radius is larger than the ramp is long",
            Self::UndersideBelowGround => "a part of the underside lies below the ground the machine stands on",
            Self::NoWheelbase => "the wheels' radii differ by as much as the wheelbase is long",
            Self::NotOnTracks => "the centre of gravity does not lie over the tracks",
            Self::BendsUp => {
                "how tracks lie that have tipped over a corner and then meet a slope leading up is not computed"
            }
            Self::TipsBack => "on this way up it tips over backward",
            Self::NotFinite => "a measure of the way onto the deck is no finite number",
        })
    }
}

impl std::error::Error for ClimbError {}
