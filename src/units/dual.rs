//! A number with its slopes: forward-mode dual numbers.
//!
//! Every quantity carries one, so that whatever is computed with quantities is differentiated on the way, exactly and not
//! by differences: an entry that is varied gets slope 1 ([`super::Quantity::varied`]), everything else slope 0, and each
//! result's slope is its derivative along that entry. Up to [`LANES`] entries are varied at once, each in a lane of its
//! own: a load has dozens, and going through it once for each would cost more than all the rest of a check. The rules are those of differentiation (sum, product, quotient,
//! power); where two branches meet, the branch that is taken counts.

use std::cmp::Ordering;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub};

/// How many entries can be varied at once.
pub const LANES: usize = 4;

/// A plain number with its slopes along the entries that are varied. Compared by its value alone.
#[derive(Clone, Copy, Debug, Default)]
pub struct Dual {
    value: f64,
    slopes: [f64; LANES],
}

impl Dual {
    /// A number that does not depend on anything.
    #[must_use]
    pub const fn new(value: f64) -> Self {
        Self { value, slopes: [0.0; LANES] }
    }

    /// A number that is varied in this lane; in a lane that there is not, one that does not depend on anything.
    #[must_use]
    pub fn varied(value: f64, lane: usize) -> Self {
        let mut slopes = [0.0; LANES];
        if let Some(slope) = slopes.get_mut(lane) {
            *slope = 1.0;
        }
        Self { value, slopes }
    }

    /// The number.
    #[must_use]
    pub const fn value(self) -> f64 {
        self.value
    }

    /// Its slopes, lane by lane.
    #[must_use]
    pub const fn slopes(self) -> [f64; LANES] {
        self.slopes
    }

    /// Whether number and slopes are finite.
    #[must_use]
    pub fn is_finite(self) -> bool {
        self.value.is_finite() && self.slopes.iter().all(|slope| slope.is_finite())
    }

    /// Without its sign.
    #[must_use]
    pub fn abs(self) -> Self {
        if self.value < 0.0 { -self } else { self }
    }

    /// The larger of the two; this one when they are equal.
    #[must_use]
    pub const fn max(self, other: Self) -> Self {
        if other.value > self.value || self.value.is_nan() { other } else { self }
    }

    /// The smaller of the two; this one when they are equal.
    #[must_use]
    pub const fn min(self, other: Self) -> Self {
        if other.value < self.value || self.value.is_nan() { other } else { self }
    }

    /// To a constant power.
    #[must_use]
    pub fn powf(self, power: f64) -> Self {
        let rate = power * self.value.powf(power - 1.0);
        // Where nothing is varied, no slope comes of an infinite rate at zero.
        let slopes = self.slopes.map(|slope| if slope.abs() > 0.0 { rate * slope } else { 0.0 });
        Self { value: self.value.powf(power), slopes }
    }

    /// With each lane's slope made from those of two numbers.
    fn joined(value: f64, one: Self, other: Self, slope: impl Fn(f64, f64) -> f64) -> Self {
        let mut slopes = [0.0; LANES];
        for (to, (a, b)) in slopes.iter_mut().zip(one.slopes.into_iter().zip(other.slopes)) {
            *to = slope(a, b);
        }
        Self { value, slopes }
    }
}

impl From<f64> for Dual {
    fn from(value: f64) -> Self {
        Self::new(value)
    }
}

impl PartialEq for Dual {
    fn eq(&self, other: &Self) -> bool {
        self.value == other.value
    }
}

impl PartialOrd for Dual {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        self.value.partial_cmp(&other.value)
    }
}

impl Add for Dual {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::joined(self.value + other.value, self, other, |a, b| a + b)
    }
}

impl AddAssign for Dual {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl Sub for Dual {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::joined(self.value - other.value, self, other, |a, b| a - b)
    }
}

impl Neg for Dual {
    type Output = Self;
    fn neg(self) -> Self {
        Self { value: -self.value, slopes: self.slopes.map(|slope| -slope) }
    }
}

#[expect(clippy::suspicious_arithmetic_impl, reason = "the product rule adds")]
impl Mul for Dual {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        Self::joined(self.value * other.value, self, other, |a, b| a * other.value + self.value * b)
    }
}

#[expect(clippy::suspicious_arithmetic_impl, reason = "the quotient rule multiplies and subtracts")]
impl Div for Dual {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        let value = self.value / other.value;
        Self::joined(value, self, other, |a, b| (a - value * b) / other.value)
    }
}

impl Mul<f64> for Dual {
    type Output = Self;
    fn mul(self, by: f64) -> Self {
        Self { value: self.value * by, slopes: self.slopes.map(|slope| slope * by) }
    }
}

impl Div<f64> for Dual {
    type Output = Self;
    fn div(self, by: f64) -> Self {
        Self { value: self.value / by, slopes: self.slopes.map(|slope| slope / by) }
    }
}

impl Sum for Dual {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::default(), Add::add)
    }
}
