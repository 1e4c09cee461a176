//! A number with its slope: forward-mode dual numbers.
//!
//! Every quantity carries one, so that whatever is computed with quantities is differentiated on the way, exactly and not
//! by differences: the entry that is varied gets slope 1 ([`super::Quantity::varied`]), everything else slope 0, and each
//! result's slope is its derivative along that entry. The rules are those of differentiation (sum, product, quotient,
//! power); where two branches meet, the branch that is taken counts.

use std::cmp::Ordering;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub};

/// A plain number with its slope along the entry that is varied. Compared by its value alone.
#[derive(Clone, Copy, Debug, Default)]
pub struct Dual {
    value: f64,
    slope: f64,
}

impl Dual {
    /// A number that does not depend on anything.
    #[must_use]
    pub const fn new(value: f64) -> Self {
        Self { value, slope: 0.0 }
    }

    /// A number with a slope.
    #[must_use]
    pub const fn with_slope(value: f64, slope: f64) -> Self {
        Self { value, slope }
    }

    /// The number.
    #[must_use]
    pub const fn value(self) -> f64 {
        self.value
    }

    /// Its slope.
    #[must_use]
    pub const fn slope(self) -> f64 {
        self.slope
    }

    /// Whether number and slope are finite.
    #[must_use]
    pub const fn is_finite(self) -> bool {
        self.value.is_finite() && self.slope.is_finite()
    }

    /// Without its sign.
    #[must_use]
    pub const fn abs(self) -> Self {
        if self.value < 0.0 { Self { value: -self.value, slope: -self.slope } } else { self }
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
        let slope = if self.slope == 0.0 { 0.0 } else { power * self.value.powf(power - 1.0) * self.slope };
        Self { value: self.value.powf(power), slope }
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
        Self { value: self.value + other.value, slope: self.slope + other.slope }
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
        Self { value: self.value - other.value, slope: self.slope - other.slope }
    }
}

impl Neg for Dual {
    type Output = Self;
    fn neg(self) -> Self {
        Self { value: -self.value, slope: -self.slope }
    }
}

impl Mul for Dual {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        Self { value: self.value * other.value, slope: self.slope * other.value + self.value * other.slope }
    }
}

impl Div for Dual {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        let value = self.value / other.value;
        Self { value, slope: (self.slope - value * other.slope) / other.value }
    }
}

impl Mul<f64> for Dual {
    type Output = Self;
    fn mul(self, by: f64) -> Self {
        Self { value: self.value * by, slope: self.slope * by }
    }
}

impl Div<f64> for Dual {
    type Output = Self;
    fn div(self, by: f64) -> Self {
        Self { value: self.value / by, slope: self.slope / by }
    }
}

impl Sum for Dual {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::default(), Add::add)
    }
}
