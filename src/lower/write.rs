//! How an entry would be written, for help.

use super::words::Takes;
use crate::syntax::{Entry, Value};
use crate::units::{Kind, Unit, units_of};

/// A number as a sheet writes it.
pub(super) fn number(value: &Value) -> String {
    match value {
        Value::Number { integer: Some(integer), .. } => integer.to_string(),
        Value::Number { value, .. } if value.is_nan() => "#nan".to_owned(),
        Value::Number { value, .. } if value.is_infinite() => if *value > 0.0 { "#inf" } else { "#-inf" }.to_owned(),
        Value::Number { value, .. } => value.to_string(),
        Value::Text(text) => crate::text::quoted(text),
        Value::Bool(yes) => format!("#{yes}"),
        Value::Null => "#null".to_owned(),
    }
}

/// The annotation of a unit; symbols with a slash stand in quotes.
pub(super) fn annotation(symbol: &str) -> String {
    if symbol.contains('/') { format!("(\"{symbol}\")") } else { format!("({symbol})") }
}

/// The value of an entry with its annotation.
pub(super) fn typed(entry: &Entry) -> String {
    let unit = entry.ty.as_ref().map(|ty| annotation(&ty.text)).unwrap_or_default();
    format!("{unit}{}", number(&entry.value))
}

/// The units that fit a kind of entry; a force may also be given as the weight of a mass.
pub(super) fn fitting(kind: Kind) -> impl Iterator<Item = &'static Unit> {
    let also = (kind == Kind::Force).then_some(Kind::Mass);
    units_of(kind).chain(also.into_iter().flat_map(units_of))
}

/// The symbols that fit, as a person lists them.
pub(super) fn symbols(kind: Kind) -> String {
    crate::text::either(&fitting(kind).map(|unit| unit.symbol).collect::<Vec<_>>())
}

/// What would be written for a value that is missing.
pub(super) fn placeholder(takes: Takes) -> String {
    match takes {
        Takes::Quantity { kind, .. } => {
            let symbol = units_of(kind).next().map_or("", |unit| unit.symbol);
            format!("{}…", annotation(symbol))
        }
        Takes::SpeedOrSymbol => "(mph)…".to_owned(),
        Takes::Spread | Takes::Count { .. } | Takes::LoadIndex | Takes::Number => "…".to_owned(),
        Takes::Flag => "#true".to_owned(),
        Takes::Date => "\"YYYY-MM-DD\"".to_owned(),
        Takes::Text | Takes::Id(_) | Takes::Ref(_) => "\"…\"".to_owned(),
        Takes::OneOf { .. } => {
            let words: Vec<String> = takes.words().map(|word| format!("\"{word}\"")).collect();
            crate::text::either(&words)
        }
    }
}
