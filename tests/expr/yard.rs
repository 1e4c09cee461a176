//! Names and values for the tests of this folder.

use std::collections::BTreeMap;

use draylint::expr::{Expr, Names, Type, Value, Verdict, compile};
use draylint::units::{Dim, Kind};

/// The names of one subject, with their types; the slot is the index.
pub(crate) const NAMES: [(&str, Type); 17] = [
    ("axle.load", Type::Number(Kind::Mass.dim())),
    ("axle.rating", Type::Number(Kind::Mass.dim())),
    ("trailer.gross", Type::Number(Kind::Mass.dim())),
    ("trailer.tongue_share", Type::Number(Dim::NONE)),
    ("trailer.length", Type::Number(Kind::Length.dim())),
    ("trailer.rear_overhang", Type::Number(Kind::Length.dim())),
    ("hitch.rating", Type::Number(Kind::Mass.dim())),
    ("hitch.kind", Type::Text),
    ("coupler.kind", Type::Text),
    ("hitch.locked", Type::Flag),
    ("machine.tracked", Type::Flag),
    ("ramp.angle", Type::Number(Kind::Angle.dim())),
    ("low", Type::Number(Dim::NONE)),
    ("reserve", Type::Number(Dim::NONE)),
    ("cap", Type::Number(Kind::Mass.dim())),
    ("truck.axles", Type::Number(Dim::NONE)),
    ("bulk.volume", Type::Number(Kind::Volume.dim())),
];

/// The names above.
pub(crate) struct Subject;

impl Names for Subject {
    fn resolve(&self, name: &str) -> Option<(usize, Type)> {
        let slot = NAMES.iter().position(|(known, _)| *known == name)?;
        Some((slot, NAMES[slot].1))
    }

    fn known(&self) -> Vec<String> {
        NAMES.iter().map(|(name, _)| (*name).to_owned()).collect()
    }
}

/// The slot of a name.
pub(crate) fn slot(name: &str) -> usize {
    Subject.resolve(name).unwrap().0
}

/// Whether a slot is one of the parameters, which stand without a dot.
pub(crate) fn is_parameter(slot: usize) -> bool {
    !NAMES[slot].0.contains('.')
}

/// Compiles a condition that is right.
pub(crate) fn right(text: &str) -> Expr {
    compile(text, &Subject).unwrap_or_else(|error| panic!("{text}: {error:?}"))
}

/// Values by name; a name that is not there is missing under its own name.
pub(crate) fn judged(expr: &Expr, values: &[(&str, Value)]) -> Verdict<String> {
    let by_slot: BTreeMap<usize, &Value> = values.iter().map(|(name, value)| (slot(name), value)).collect();
    expr.eval(&mut |slot| by_slot.get(&slot).map(|value| (*value).clone()).ok_or_else(|| NAMES[slot].0.to_owned()))
}

/// A number.
pub(crate) fn n(value: f64) -> Value {
    Value::Number(value)
}

/// A text.
pub(crate) fn t(text: &str) -> Value {
    Value::Text(text.into())
}
