//! The truck's two axles under what it carries and what its hitch carries.

use crate::units::{Length, Mass, MassMoment};

use super::error::{StaticsError, finite, positive};

/// A truck as weighed, driver and fuel aboard, nothing on the hitch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Truck {
    /// On the front axle.
    pub front: Mass,
    /// On the rear axle (a tandem: both together, at their middle).
    pub rear: Mass,
    /// Between the axles; above zero.
    pub wheelbase: Length,
    /// Ball or kingpin behind the rear axle; below zero when it stands ahead of it (gooseneck, fifth wheel).
    pub overhang: Length,
}

/// Something carried on the truck itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TruckLoad {
    /// What it weighs.
    pub weight: Mass,
    /// Ahead of the rear axle; below zero behind it.
    pub ahead: Length,
}

/// Which of the truck's axles.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TruckAxle {
    /// The steered one.
    Front,
    /// The driven one.
    Rear,
}

/// What the truck's axles carry.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TruckLoads {
    /// On the front axle.
    pub front: Mass,
    /// On the rear axle.
    pub rear: Mass,
}

impl TruckLoads {
    /// Both axles: what the truck weighs on its own wheels.
    #[must_use]
    pub fn gross(&self) -> Mass {
        self.front + self.rear
    }

    /// The axle whose load came out below zero: its wheels leave the ground, the truck cannot stand so, and the other
    /// figures of this rig only say how far off it is.
    #[must_use]
    pub fn lifted(&self) -> Option<TruckAxle> {
        if self.front < Mass::ZERO {
            Some(TruckAxle::Front)
        } else if self.rear < Mass::ZERO {
            Some(TruckAxle::Rear)
        } else {
            None
        }
    }
}

impl Truck {
    /// Axle loads with this force on the ball, this couple from a weight-distributing hitch (zero without one; above
    /// zero it presses the front axle down), and these loads aboard.
    ///
    /// `F = F0 − B·oh/wb + Σ wk dk/wb + M/wb`; the rear carries the rest of everything. A value below zero is kept: see
    /// [`TruckLoads::lifted`].
    ///
    /// # Errors
    /// A wheelbase not above zero; a non-finite entry or result.
    ///
    /// Source: `../shared/reference/towing-and-statics.md` 4.1 and 4.4 (derived).
    ///
    /// ```
    /// # use draylint::physics::Truck;
    /// # use draylint::units::{Length, Mass, MassMoment};
    /// let truck = Truck {
    ///     front: Mass::new(1900.0),
    ///     rear: Mass::new(1500.0),
    ///     wheelbase: Length::new(4.0),
    ///     overhang: Length::new(1.0),
    /// };
    /// let loads = truck.loads(Mass::new(400.0), MassMoment::ZERO, &[])?;
    /// assert!((loads.front.si() - 1800.0).abs() < 1e-9);
    /// assert!((loads.rear.si() - 2000.0).abs() < 1e-9);
    /// # Ok::<(), draylint::physics::StaticsError>(())
    /// ```
    pub fn loads(
        &self,
        ball_force: Mass,
        couple: MassMoment,
        aboard: &[TruckLoad],
    ) -> Result<TruckLoads, StaticsError> {
        positive(self.wheelbase, "the wheelbase")?;
        let carried: Mass = aboard.iter().map(|load| load.weight).sum();
        let about_rear = aboard.iter().map(|load| load.weight * load.ahead).sum::<MassMoment>() + couple
            - ball_force * self.overhang;
        let to_front = about_rear / self.wheelbase;
        let front = finite(self.front + to_front, "the truck's front axle load")?;
        let rear = finite(self.rear + ball_force + carried - to_front, "the truck's rear axle load")?;
        Ok(TruckLoads { front, rear })
    }
}
