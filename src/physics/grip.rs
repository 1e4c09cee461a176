//! Grip on a slope: what the wheels that drive or brake must hold, and how much of the weight presses on them there.

use super::Facing;
use crate::units::{Angle, Length, Share};

/// The wheels that drive or that brake.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Acting {
    /// All of them; tracks too.
    All,
    /// Those of the front axle.
    Front,
    /// Those of the rear axle.
    Rear,
}

/// How a wheeled machine stands, attachments included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stance {
    /// Between its axles.
    pub wheelbase: Length,
    /// Its centre of gravity ahead of the rear axle.
    pub ahead: Length,
    /// Its centre of gravity above what it stands on.
    pub height: Length,
    /// Which way its nose points: forward is toward the truck, up the ramp and up a deck that is tilted rear down.
    pub facing: Facing,
}

impl Stance {
    /// The rear axle's part of what presses on both, square to a slope that rises toward the truck.
    ///
    /// The weight acts along the vertical through the centre of gravity, which meets the slope `h tan θ` further downhill
    /// than the centre of gravity stands on level ground: `(b - x + h tan θ) / b` nose up, `(b - x - h tan θ) / b` tail up.
    /// Below 0 or above 1 it tips over an axle.
    ///
    /// Source: statics of two supports (derived).
    #[must_use]
    pub fn rear_share(&self, slope: Angle) -> Share {
        let moved = self.height * slope.radians().tan();
        let moved = match self.facing {
            Facing::Forward => moved,
            Facing::Backward => -moved,
        };
        Share::of((self.wheelbase - self.ahead + moved) / self.wheelbase)
    }

    /// The part of what presses on both axles that these wheels carry; none where the machine would tip over an axle.
    #[must_use]
    pub fn share(&self, acting: Acting, slope: Angle) -> Option<Share> {
        let rear = self.rear_share(slope);
        let stands = rear.si() >= 0.0 && rear.si() <= 1.0;
        stands.then_some(match acting {
            Acting::All => Share::new(1.0),
            Acting::Front => Share::new(1.0) - rear,
            Acting::Rear => rear,
        })
    }
}

/// The friction that a machine needs on a slope where all its wheels, or its tracks, drive or brake: `tan θ`.
///
/// Source: a body on a slope slides where `tan θ > µ` (any textbook of mechanics).
#[must_use]
pub fn grip_on(slope: Angle) -> Share {
    Share::of(slope.radians().tan())
}

/// The friction that it needs where only these wheels act: `tan θ / share`. None where they carry nothing, or where it
/// would tip over an axle.
///
/// Along the slope the weight pulls with `W sin θ`; the wheels that act are pressed on with `share W cos θ`.
///
/// Source: statics of two supports (derived).
#[must_use]
pub fn grip_needed(stance: &Stance, acting: Acting, slope: Angle) -> Option<Share> {
    let share = stance.share(acting, slope)?;
    (share.si() > 0.0).then(|| Share::of(grip_on(slope) / share))
}

#[cfg(test)]
mod tests {
    use super::{Acting, Stance, grip_needed, grip_on};
    use crate::physics::Facing;
    use crate::units::{Angle, Length, Share};

    const SKID: Stance = Stance {
        wheelbase: Length::new(1.0),
        ahead: Length::new(0.4),
        height: Length::new(0.5),
        facing: Facing::Forward,
    };

    fn near(got: Option<Share>, wanted: f64) {
        let got = got.expect("it stands").si();
        assert!((got - wanted).abs() < 1e-12, "{got} is not {wanted}");
    }

    /// A slope of 1 in 5, whose tangent is 0.2: 0.1 m of the wheelbase goes from the upper axle to the lower one.
    #[test]
    fn the_lower_axle_takes_what_the_upper_one_loses() {
        let slope = Angle::new(0.2_f64.atan().to_degrees());
        let turned = Stance { facing: Facing::Backward, ..SKID };
        near(SKID.share(Acting::Rear, slope), 0.7);
        near(SKID.share(Acting::Front, slope), 0.3);
        near(turned.share(Acting::Rear, slope), 0.5);
        near(grip_needed(&SKID, Acting::Rear, slope), 0.2 / 0.7);
        near(grip_needed(&SKID, Acting::Front, slope), 0.2 / 0.3);
        near(grip_needed(&SKID, Acting::All, slope), 0.2);
        near(Some(grip_on(slope)), 0.2);
    }

    #[test]
    fn nothing_is_said_of_what_tips_over() {
        // Its vertical passes the rear axle where 0.5 tan θ is 0.4: at 38.66 degrees.
        let (before, after) = (Angle::new(38.6), Angle::new(38.7));
        assert!(grip_needed(&SKID, Acting::Rear, before).is_some());
        for acting in [Acting::All, Acting::Front, Acting::Rear] {
            assert_eq!(grip_needed(&SKID, acting, after), None);
        }
    }
}
