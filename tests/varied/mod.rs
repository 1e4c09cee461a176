//! How a number of a sample is changed so that its slope can be compared with differences.

use draylint::units::Quantity;

/// What is done to a number.
#[derive(Clone, Copy)]
pub(crate) enum Change {
    /// It is the one that the first lane's slopes are told of.
    Vary,
    /// This much is added to it, in SI units.
    Add(f64),
}

/// Changes a number; true, for it is there.
pub(crate) fn change<Q: Quantity>(number: &mut Q, how: Change) -> bool {
    *number = match how {
        Change::Vary => number.varied(0),
        Change::Add(step) => Q::from_si(number.si() + step),
    };
    true
}

/// The same for a number that is not in every sample; whether it is in this one.
pub(crate) fn change_some<Q: Quantity>(number: Option<&mut Q>, how: Change) -> bool {
    number.is_some_and(|number| change(number, how))
}
