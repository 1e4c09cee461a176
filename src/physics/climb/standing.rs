//! How a machine stands where it comes nearest to the way, and the way itself: what a picture of a climb shows.

use super::climber::{Climb, Found};
use super::number::Point;
use super::profile::{Corner, Profile};
use super::sweep::Touch;
use super::travel::Shape;
use super::way::{ClimbError, Way};
use crate::physics::place::Facing;
use crate::units::{Dual, Length, Share};

/// A point in the plane of the climb.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct At {
    /// Ahead of the deck's rear edge as it stands level, toward the truck.
    pub ahead: Length,
    /// Above the ground under the trailer's wheels.
    pub up: Length,
}

impl At {
    fn of(point: Point<f64>) -> Self {
        Self { ahead: Length::new(point.x), up: Length::new(point.z) }
    }
}

/// The corners of a way up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corners {
    /// The ramp's foot; the deck's rear edge itself where that lies on the ground.
    pub foot: At,
    /// The crest: the deck's rear edge.
    pub edge: At,
    /// The top of a dovetail.
    pub dovetail_top: Option<At>,
    /// The deck's front edge.
    pub front: At,
}

/// A machine at one place of its way up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Standing {
    datum: At,
    cos: Share,
    sin: Share,
    forward: bool,
    /// The two ends of the least gap, one above the other: on the way, and on the underside.
    pub gap: (At, At),
}

impl Standing {
    /// Where a point of the machine is: so far ahead of its datum, so high above the ground that it stands on.
    #[must_use]
    pub fn place(&self, arm: Length, height: Length) -> At {
        let along = if self.forward { arm.si() } else { -arm.si() };
        let (cos, sin) = (self.cos.si(), self.sin.si());
        At {
            ahead: self.datum.ahead + Length::new(along * cos - height.si() * sin),
            up: self.datum.up + Length::new(along * sin + height.si() * cos),
        }
    }
}

impl Way {
    /// Its corners.
    ///
    /// # Errors
    /// What is wrong with it.
    pub fn corners(&self) -> Result<Corners, ClimbError> {
        let profile = Profile::of(self)?.plain();
        let at = |corner| profile.at(corner).map(At::of);
        let edge = at(Corner::Edge).ok_or(ClimbError::NotFinite)?;
        let front = at(Corner::Front).ok_or(ClimbError::NotFinite)?;
        Ok(Corners { foot: at(Corner::Foot).unwrap_or(edge), edge, dovetail_top: at(Corner::DovetailTop), front })
    }
}

impl Climb {
    /// How the machine stands where it comes nearest to the way. None where nothing of its underside is known.
    ///
    /// # Errors
    /// What is wrong with the underside.
    pub fn standing(&self, found: &Found) -> Result<Option<Standing>, ClimbError> {
        let Some(tight) = found.tight.as_ref().map_err(|error| *error)? else { return Ok(None) };
        let told = || -> Option<Standing> {
            // The travel is in plain numbers, and so is a picture: slopes are left behind.
            let shape = Shape::of(self).ok()?;
            let pose = shape.stand(&found.travel, tight.piece, Dual::new(tight.at))?.pose;
            let place = |point: Point<Dual>| Point::new(pose.place(point).x.value(), pose.place(point).z.value());
            let (low, high) = match tight.touch {
                Touch::Low { point, segment } => {
                    let high = place(shape.under.get(point)?.at);
                    let line = shape.profile.line(segment)?;
                    (Point::new(high.x, line.height(Dual::new(high.x)).value()), high)
                }
                Touch::Corner { corner, to } => {
                    let (front, rear) = (shape.under.get(to)?, shape.under.get(to.checked_sub(1)?)?);
                    let (front, rear) = (place(front.at), place(rear.at));
                    let low = shape.profile.corners.get(corner)?.1.plain();
                    let part = (low.x - rear.x) / (front.x - rear.x);
                    (low, Point::new(low.x, rear.z + (front.z - rear.z) * part))
                }
            };
            Some(Standing {
                datum: At::of(pose.origin.plain()),
                cos: Share::new(pose.cos.value()),
                sin: Share::new(pose.sin.value()),
                forward: self.machine.facing == Facing::Forward,
                gap: (At::of(low), At::of(high)),
            })
        };
        told().map(Some).ok_or(ClimbError::NotFinite)
    }
}
