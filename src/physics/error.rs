//! What makes no sense as a rig, and the checks that find it.

use std::fmt;

use crate::units::{Mass, Quantity};

/// Why a load has no answer. Each names an entry or a state of the rig, in trade words.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum StaticsError {
    /// A trailer without axles.
    NoAxles,
    /// The axle with this index (from 0) stands at the coupling or ahead of it.
    AxleNotBehindCoupling(usize),
    /// An entry, or what follows from it, is not a finite number.
    NotFinite(&'static str),
    /// An entry that must be above zero is not.
    NotPositive(&'static str),
    /// An entry that cannot be below zero is.
    Negative(&'static str),
    /// The centre of all weight lies ahead of the coupling: the trailer's wheels would have to pull downward, so the
    /// trailer cannot stand like that.
    WheelsLift,
    /// A share of the front axle's loss is to be given back, but the coupling does not stand behind the rear axle, so
    /// the front axle loses nothing.
    NothingToRestore,
    /// The attachments that were on when the machine was weighed weigh as much as the ticket or more; this is what
    /// would be left of the machine.
    MachineWeighsNothing(Mass),
    /// An outline whose front lies behind its rear.
    OutlineReversed,
}

impl fmt::Display for StaticsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoAxles => f.write_str("the trailer has no axles"),
            Self::AxleNotBehindCoupling(axle) => write!(f, "axle {} does not stand behind the coupling", axle + 1),
            Self::NotFinite(what) => write!(f, "{what} is not a finite number"),
            Self::NotPositive(what) => write!(f, "{what} must be more than zero"),
            Self::Negative(what) => write!(f, "{what} cannot be less than zero"),
            Self::WheelsLift => {
                f.write_str("the weight lies ahead of the coupling, so the trailer's wheels would leave the ground")
            }
            Self::NothingToRestore => {
                f.write_str("the coupling is not behind the rear axle, so the front axle loses nothing to restore")
            }
            Self::MachineWeighsNothing(_) => f.write_str(
                "the attachments it was weighed with are as heavy as the machine's whole weight, or heavier",
            ),
            Self::OutlineReversed => f.write_str("the outline's front lies behind its rear"),
        }
    }
}

impl std::error::Error for StaticsError {}

/// Passes a finite quantity on.
pub(super) fn finite<Q: Quantity>(value: Q, what: &'static str) -> Result<Q, StaticsError> {
    if value.si().is_finite() { Ok(value) } else { Err(StaticsError::NotFinite(what)) }
}

/// Passes a finite quantity above zero on.
pub(super) fn positive<Q: Quantity>(value: Q, what: &'static str) -> Result<Q, StaticsError> {
    if finite(value, what)?.si() > 0.0 { Ok(value) } else { Err(StaticsError::NotPositive(what)) }
}

/// Passes a finite quantity on that is not below zero.
pub(super) fn not_negative<Q: Quantity>(value: Q, what: &'static str) -> Result<Q, StaticsError> {
    if finite(value, what)?.si() >= 0.0 { Ok(value) } else { Err(StaticsError::Negative(what)) }
}
