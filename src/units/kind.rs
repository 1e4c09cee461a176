//! Kinds of quantity a sheet can write, and dimensions for checking what a rule computes with them.

use std::fmt;
use std::ops::{Div, Mul};

/// A kind of quantity: what a unit symbol measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    /// Mass, and weight as the trade says it; SI unit kg.
    Mass,
    /// Force; SI unit N.
    Force,
    /// Length; SI unit m.
    Length,
    /// Angle; results print degrees, so degrees are what is held.
    Angle,
    /// Share of something, or a slope; SI unit 1.
    Share,
    /// Speed; SI unit m/s.
    Speed,
    /// Pressure; SI unit Pa.
    Pressure,
    /// Volume; SI unit m3.
    Volume,
    /// Bulk density; SI unit kg/m3.
    Density,
    /// Spring rate; SI unit N/m.
    Stiffness,
}

impl Kind {
    /// All kinds, in the order in which help lists them.
    pub const ALL: [Self; 10] = [
        Self::Mass,
        Self::Force,
        Self::Length,
        Self::Angle,
        Self::Share,
        Self::Speed,
        Self::Pressure,
        Self::Volume,
        Self::Density,
        Self::Stiffness,
    ];

    /// The word a message uses for this kind.
    #[must_use]
    pub const fn noun(self) -> &'static str {
        match self {
            Self::Mass => "weight",
            Self::Force => "force",
            Self::Length => "length",
            Self::Angle => "angle",
            Self::Share => "share",
            Self::Speed => "speed",
            Self::Pressure => "pressure",
            Self::Volume => "volume",
            Self::Density => "density",
            Self::Stiffness => "spring rate",
        }
    }

    /// The unit in which results of this kind are printed for machines.
    #[must_use]
    pub const fn si_symbol(self) -> &'static str {
        match self {
            Self::Mass => "kg",
            Self::Force => "N",
            Self::Length => "m",
            Self::Angle => "deg",
            Self::Share => "1",
            Self::Speed => "m/s",
            Self::Pressure => "Pa",
            Self::Volume => "m3",
            Self::Density => "kg/m3",
            Self::Stiffness => "N/m",
        }
    }

    /// The dimension of this kind in powers of mass, length, time and angle.
    #[must_use]
    pub const fn dim(self) -> Dim {
        match self {
            Self::Mass => Dim::new(1, 0, 0, 0),
            Self::Force => Dim::new(1, 1, -2, 0),
            Self::Length => Dim::new(0, 1, 0, 0),
            Self::Angle => Dim::new(0, 0, 0, 1),
            Self::Share => Dim::NONE,
            Self::Speed => Dim::new(0, 1, -1, 0),
            Self::Pressure => Dim::new(1, -1, -2, 0),
            Self::Volume => Dim::new(0, 3, 0, 0),
            Self::Density => Dim::new(1, -3, 0, 0),
            Self::Stiffness => Dim::new(1, 0, -2, 0),
        }
    }
}

/// A dimension: powers of mass, length, time and angle. An angle is kept apart from a plain number, so that a rule
/// cannot compare a slope in percent with an angle in degrees.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Dim {
    mass: i8,
    length: i8,
    time: i8,
    angle: i8,
}

impl Dim {
    /// No dimension: a plain number, a share, a count.
    pub const NONE: Self = Self::new(0, 0, 0, 0);

    /// A dimension from its powers.
    #[must_use]
    pub const fn new(mass: i8, length: i8, time: i8, angle: i8) -> Self {
        Self { mass, length, time, angle }
    }

    /// The kind that has this dimension, if a sheet can write one.
    #[must_use]
    pub fn kind(self) -> Option<Kind> {
        Kind::ALL.into_iter().find(|kind| kind.dim() == self)
    }
}

impl Mul for Dim {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        Self::new(
            self.mass.saturating_add(other.mass),
            self.length.saturating_add(other.length),
            self.time.saturating_add(other.time),
            self.angle.saturating_add(other.angle),
        )
    }
}

impl Div for Dim {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        Self::new(
            self.mass.saturating_sub(other.mass),
            self.length.saturating_sub(other.length),
            self.time.saturating_sub(other.time),
            self.angle.saturating_sub(other.angle),
        )
    }
}

impl fmt::Display for Dim {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if *self == Self::NONE {
            return f.write_str("a plain number");
        }
        if let Some(kind) = self.kind() {
            let noun = kind.noun();
            let article = if noun.starts_with('a') { "an" } else { "a" };
            return write!(f, "{article} {noun}");
        }
        let powers = [("mass", self.mass), ("length", self.length), ("time", self.time), ("angle", self.angle)];
        let mut first = true;
        for (name, power) in powers.into_iter().filter(|(_, power)| *power != 0) {
            if !first {
                f.write_str(" x ")?;
            }
            first = false;
            if power == 1 {
                f.write_str(name)?;
            } else {
                write!(f, "{name}^{power}")?;
            }
        }
        Ok(())
    }
}
