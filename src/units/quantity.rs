//! One type per kind of quantity, each a number in SI with its slopes.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub};

use super::{Dual, Kind, LANES};

/// What every quantity type offers, so that code about quantities in general (reading, printing) is written once.
pub trait Quantity: Copy {
    /// The kind of this quantity.
    const KIND: Kind;
    /// From a number in the kind's SI unit ([`Kind::si_symbol`]).
    fn from_si(value: f64) -> Self;
    /// From a number in the kind's SI unit with its slopes.
    fn from_dual(number: Dual) -> Self;
    /// The number in the kind's SI unit with its slopes.
    fn dual(self) -> Dual;

    /// The number in the kind's SI unit.
    fn si(self) -> f64 {
        self.dual().value()
    }

    /// Its derivatives along the entries that are varied, lane by lane, in SI units of both.
    fn slopes(self) -> [f64; LANES] {
        self.dual().slopes()
    }

    /// The same quantity as the one that is varied in this lane.
    #[must_use]
    fn varied(self, lane: usize) -> Self {
        Self::from_dual(Dual::varied(self.si(), lane))
    }
}

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $kind:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
        pub struct $name(Dual);

        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(Dual::new(0.0));

            /// From a number in the SI unit of the kind.
            #[must_use]
            pub const fn new(si: f64) -> Self {
                Self(Dual::new(si))
            }

            /// From a number in the SI unit of the kind with its slopes.
            #[must_use]
            pub const fn of(number: Dual) -> Self {
                Self(number)
            }

            /// The number in the SI unit of the kind.
            #[must_use]
            pub const fn si(self) -> f64 {
                self.0.value()
            }

            /// The number in the SI unit of the kind with its slopes.
            #[must_use]
            pub const fn dual(self) -> Dual {
                self.0
            }

            /// Without its sign.
            #[must_use]
            pub fn abs(self) -> Self {
                Self(self.0.abs())
            }

            /// The larger of the two.
            #[must_use]
            pub const fn max(self, other: Self) -> Self {
                Self(self.0.max(other.0))
            }

            /// The smaller of the two.
            #[must_use]
            pub const fn min(self, other: Self) -> Self {
                Self(self.0.min(other.0))
            }
        }

        impl Quantity for $name {
            const KIND: Kind = Kind::$kind;
            fn from_si(value: f64) -> Self {
                Self::new(value)
            }
            fn from_dual(number: Dual) -> Self {
                Self(number)
            }
            fn dual(self) -> Dual {
                self.0
            }
        }

        arithmetic!($name);
    };
}

macro_rules! arithmetic {
    ($name:ident) => {
        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }
        impl AddAssign for $name {
            fn add_assign(&mut self, other: Self) {
                self.0 += other.0;
            }
        }
        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }
        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }
        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, by: f64) -> Self {
                Self(self.0 * by)
            }
        }
        impl Mul<Dual> for $name {
            type Output = Self;
            fn mul(self, by: Dual) -> Self {
                Self(self.0 * by)
            }
        }
        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, by: f64) -> Self {
                Self(self.0 / by)
            }
        }
        impl Div<Dual> for $name {
            type Output = Self;
            fn div(self, by: Dual) -> Self {
                Self(self.0 / by)
            }
        }
        impl Div for $name {
            type Output = Dual;
            fn div(self, other: Self) -> Dual {
                self.0 / other.0
            }
        }
        impl Sum for $name {
            fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
                Self(all.map(|one| one.0).sum())
            }
        }
    };
}

/// `a * b = c`, and so `c / a = b` and `c / b = a`.
macro_rules! product {
    ($a:ident * $b:ident = $c:ident) => {
        impl Mul<$b> for $a {
            type Output = $c;
            fn mul(self, other: $b) -> $c {
                $c(self.0 * other.0)
            }
        }
        impl Div<$a> for $c {
            type Output = $b;
            fn div(self, other: $a) -> $b {
                $b(self.0 / other.0)
            }
        }
        impl Div<$b> for $c {
            type Output = $a;
            fn div(self, other: $b) -> $a {
                $a(self.0 / other.0)
            }
        }
    };
}

quantity!(
    /// Mass in kg; what a scale shows, and what the trade calls weight.
    Mass,
    Mass
);
quantity!(
    /// Force in N.
    Force,
    Force
);
quantity!(
    /// Length in m.
    Length,
    Length
);
quantity!(
    /// Angle in degrees.
    Angle,
    Angle
);
quantity!(
    /// A share or slope; 1 is 100 %.
    Share,
    Share
);
quantity!(
    /// Speed in m/s.
    Speed,
    Speed
);
quantity!(
    /// Pressure in Pa.
    Pressure,
    Pressure
);
quantity!(
    /// Volume in m3.
    Volume,
    Volume
);
quantity!(
    /// Bulk density in kg/m3.
    Density,
    Density
);
quantity!(
    /// Spring rate in N/m.
    Stiffness,
    Stiffness
);

/// Mass times lever arm in kg m: the moments of weight-and-balance sums.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct MassMoment(Dual);

impl MassMoment {
    /// No moment.
    pub const ZERO: Self = Self(Dual::new(0.0));

    /// From kg m.
    #[must_use]
    pub const fn new(kg_m: f64) -> Self {
        Self(Dual::new(kg_m))
    }

    /// In kg m.
    #[must_use]
    pub const fn kg_m(self) -> f64 {
        self.0.value()
    }

    /// In kg m with its slopes.
    #[must_use]
    pub const fn dual(self) -> Dual {
        self.0
    }
}

arithmetic!(MassMoment);
product!(Mass * Length = MassMoment);
product!(Density * Volume = Mass);

impl Mul<Share> for Mass {
    type Output = Self;
    fn mul(self, by: Share) -> Self {
        Self(self.0 * by.0)
    }
}

impl Mass {
    /// The weight of this mass under standard gravity.
    #[must_use]
    pub fn weight(self) -> Force {
        Force(self.0 * super::STANDARD_GRAVITY)
    }
}

impl Force {
    /// The mass whose weight under standard gravity this is.
    #[must_use]
    pub fn as_mass(self) -> Mass {
        Mass(self.0 / super::STANDARD_GRAVITY)
    }
}

impl Angle {
    /// This angle in radians, with its slopes.
    #[must_use]
    pub fn radians(self) -> Dual {
        self.0 * (std::f64::consts::PI / 180.0)
    }

    /// From radians.
    #[must_use]
    pub fn of_radians(radians: Dual) -> Self {
        Self(radians * (180.0 / std::f64::consts::PI))
    }
}
