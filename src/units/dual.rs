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
        self.through(self.value.powf(power), power * self.value.powf(power - 1.0))
    }

    /// The square root.
    #[must_use]
    pub fn sqrt(self) -> Self {
        let root = self.value.sqrt();
        self.through(root, 0.5 / root)
    }

    /// The sine of a number in radians.
    #[must_use]
    pub fn sin(self) -> Self {
        let (sin, cos) = self.value.sin_cos();
        self.through(sin, cos)
    }

    /// The cosine of a number in radians.
    #[must_use]
    pub fn cos(self) -> Self {
        let (sin, cos) = self.value.sin_cos();
        self.through(cos, -sin)
    }

    /// The tangent of a number in radians.
    #[must_use]
    pub fn tan(self) -> Self {
        let tan = self.value.tan();
        self.through(tan, 1.0 + tan * tan)
    }

    /// The arc sine, in radians; not a number outside -1 to 1.
    #[must_use]
    pub fn asin(self) -> Self {
        self.through(self.value.asin(), 1.0 / ((1.0 - self.value) * (1.0 + self.value)).sqrt())
    }

    /// The arc tangent, in radians.
    #[must_use]
    pub fn atan(self) -> Self {
        self.through(self.value.atan(), 1.0 / (1.0 + self.value * self.value))
    }

    /// The value of a function of this number, with the function's rate here.
    fn through(self, value: f64, rate: f64) -> Self {
        // Where nothing is varied, no slope comes of an infinite rate.
        Self { value, slopes: self.slopes.map(|slope| if slope.abs() > 0.0 { rate * slope } else { 0.0 }) }
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

#[cfg(test)]
mod tests {
    use super::Dual;

    /// One of the functions, by its name for messages.
    type Case = (&'static str, fn(Dual) -> Dual, fn(f64) -> f64);

    const CASES: [Case; 6] = [
        ("sqrt", Dual::sqrt, f64::sqrt),
        ("sin", Dual::sin, f64::sin),
        ("cos", Dual::cos, f64::cos),
        ("tan", Dual::tan, f64::tan),
        ("asin", Dual::asin, f64::asin),
        ("atan", Dual::atan, f64::atan),
    ];

    #[test]
    fn functions_have_their_values_and_slopes() {
        let step = 1e-6;
        for (name, dual, plain) in CASES {
            for x in [0.05, 0.2, 0.5, 0.75, 0.93] {
                let got = dual(Dual::varied(x, 1));
                assert_eq!(got.value().to_bits(), plain(x).to_bits(), "{name} at {x}");
                let by_difference = (plain(x + step) - plain(x - step)) / (2.0 * step);
                let slope = got.slopes()[1];
                assert!((slope - by_difference).abs() < 1e-8 * (1.0 + slope.abs()), "{name} at {x}: {slope}");
                assert!(got.slopes().iter().enumerate().all(|(lane, slope)| lane == 1 || *slope == 0.0), "{name}");
            }
        }
    }

    #[test]
    fn functions_undo_one_another_with_their_slopes() {
        for x in [-0.9, -0.3, 0.0, 0.4, 0.99] {
            let varied = Dual::varied(x, 0);
            let square = varied * varied;
            for (name, got) in [
                ("asin of sin", varied.sin().asin()),
                ("atan of tan", varied.tan().atan()),
                ("sum of squares", varied + varied.sin().powf(2.0) + varied.cos().powf(2.0) - Dual::new(1.0)),
                ("tan by sin and cos", varied + varied.tan() - varied.sin() / varied.cos()),
                ("root of a square", varied + (square + Dual::new(1.0)).sqrt().powf(2.0) - square - Dual::new(1.0)),
            ] {
                assert!((got.value() - x).abs() < 1e-14, "{name} at {x}: {}", got.value());
                assert!((got.slopes()[0] - 1.0).abs() < 1e-13, "{name} at {x}: {:?}", got.slopes());
            }
        }
    }

    #[test]
    fn what_is_not_varied_gets_no_slope_where_the_rate_is_infinite() {
        assert!(Dual::new(0.0).sqrt().slopes().iter().all(|slope| slope.abs() <= 0.0));
        assert!(Dual::new(1.0).asin().slopes().iter().all(|slope| slope.abs() <= 0.0));
        assert!(!Dual::varied(0.0, 0).sqrt().is_finite());
        assert!(Dual::new(1.1).asin().value().is_nan());
    }
}
