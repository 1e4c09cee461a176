//! What the geometry of a climb is computed with: plain numbers where it is searched, numbers with slopes where a result
//! is told.

use std::ops::{Add, Div, Mul, Neg, Sub};

use crate::units::Dual;

/// A number, with or without slopes.
pub(super) trait Number:
    Copy
    + PartialOrd
    + Add<Output = Self>
    + Sub<Output = Self>
    + Mul<Output = Self>
    + Div<Output = Self>
    + Neg<Output = Self>
{
    fn of(value: f64) -> Self;
    fn value(self) -> f64;
    fn root(self) -> Self;

    fn squared(self) -> Self {
        self * self
    }
}

impl Number for f64 {
    fn of(value: f64) -> Self {
        value
    }
    fn value(self) -> f64 {
        self
    }
    fn root(self) -> Self {
        self.sqrt()
    }
}

impl Number for Dual {
    fn of(value: f64) -> Self {
        Self::new(value)
    }
    fn value(self) -> f64 {
        Self::value(self)
    }
    fn root(self) -> Self {
        self.powf(0.5)
    }
}

/// A point or a direction in the plane of the climb: `x` forward from the deck's rear edge as it stands level, `z` up from
/// the ground under the trailer's wheels.
#[derive(Clone, Copy, Debug)]
pub(super) struct Point<N> {
    pub(super) x: N,
    pub(super) z: N,
}

impl<N: Number> Point<N> {
    pub(super) const fn new(x: N, z: N) -> Self {
        Self { x, z }
    }

    pub(super) fn minus(self, other: Self) -> Self {
        Self::new(self.x - other.x, self.z - other.z)
    }

    /// Distance from the origin.
    pub(super) fn length(self) -> N {
        (self.x.squared() + self.z.squared()).root()
    }

    /// The same without slopes.
    pub(super) fn plain(self) -> Point<f64> {
        Point::new(self.x.value(), self.z.value())
    }
}
