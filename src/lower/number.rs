//! Numbers with and without a unit.

use super::write::{fitting, symbols, with_unit};
use crate::finding::{Edit, Finding, Fix, Grade, Level};
use crate::syntax::{Entry, Value};
use crate::text::{Span, quoted};
use crate::units::{
    Kind, STANDARD_GRAVITY, Unit, annotation, as_feet_and_inches, feet_and_inches, meant, mixed, unit, without_commas,
};

/// Why a number could not be read.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadError {
    /// The rule of the Entries that it breaks: `unit-missing`, `unit-wrong` or `not-possible`.
    pub rule: &'static str,
    /// What one would change.
    pub span: Span,
    /// The fault in one sentence.
    pub message: String,
    /// What to write instead.
    pub help: Option<String>,
    /// The same as edits, where that is certain.
    pub fix: Option<Box<Fix>>,
}

impl ReadError {
    pub(super) fn new(rule: &'static str, span: Span, message: String) -> Self {
        Self { rule, span, message, help: None, fix: None }
    }

    pub(super) fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// With what mends it, which is the help too.
    pub(super) fn fix(self, fix: Fix) -> Self {
        Self { help: Some(fix.title.clone()), fix: Some(Box::new(fix)), ..self }
    }

    /// As a finding.
    #[must_use]
    pub fn finding(self) -> Finding {
        let mut finding = Finding::new(self.rule, Level::Error, self.span, self.message);
        finding.help = self.help;
        finding.fixes.extend(self.fix.map(|fix| *fix));
        finding
    }
}

/// Reads a number with a unit, feet and inches in words, or a plain number: the value in the SI unit of its kind, the
/// kind (none for a plain number) and the unit it was written in (none for plain numbers and for words).
///
/// # Errors
/// When the value is no number, is not finite, or its annotation is no unit.
pub fn read_number(entry: &Entry) -> Result<(f64, Option<Kind>, Option<&'static Unit>), ReadError> {
    let name = entry.key.as_ref().map_or("this value", |key| &key.text);
    match &entry.value {
        Value::Number { value, .. } => {
            let known = match &entry.ty {
                None => None,
                Some(ty) => Some(unit(&ty.text).ok_or_else(|| no_unit(entry, &ty.text, ty.span, None))?),
            };
            let si = value * known.map_or(1.0, |unit| unit.factor);
            if si.is_finite() { Ok((si, known.map(|unit| unit.kind), known)) } else { Err(not_finite(entry, name)) }
        }
        Value::Text(text) if entry.ty.is_none() && feet_and_inches(text).is_some_and(f64::is_finite) => {
            Ok((feet_and_inches(text).unwrap_or_default(), Some(Kind::Length), None))
        }
        _ => Err(no_number(entry, name, None)),
    }
}

/// Reads a quantity of this kind; a mass may stand for the force of its weight.
pub(super) fn read_quantity(entry: &Entry, name: &str, kind: Kind) -> Result<(f64, Option<&'static Unit>), ReadError> {
    let Value::Number { value, .. } = &entry.value else {
        let words = match &entry.value {
            Value::Text(text) if kind == Kind::Length && entry.ty.is_none() => feet_and_inches(text),
            _ => None,
        };
        return words
            .filter(|si| si.is_finite())
            .map(|si| (si, None))
            .ok_or_else(|| no_number(entry, name, Some(kind)));
    };
    if !value.is_finite() {
        return Err(not_finite(entry, name));
    }
    let Some(ty) = &entry.ty else {
        return Err(unit_missing(entry, name, kind));
    };
    let Some(known) = unit(&ty.text) else {
        return Err(no_unit(entry, &ty.text, ty.span, Some(kind)));
    };
    let (factor, shown) = if known.kind == kind {
        (known.factor, Some(known))
    } else if kind == Kind::Force && known.kind == Kind::Mass {
        (known.factor * STANDARD_GRAVITY, weight_of(known))
    } else {
        let message = format!("`{name}` is {}, and {} measures {}", a(kind), known.symbol, known.kind.noun());
        return Err(ReadError::new("unit-wrong", ty.span, message).help(format!("write it in {}", symbols(kind))));
    };
    let si = value * factor;
    if si.is_finite() { Ok((si, shown)) } else { Err(not_finite(entry, name)) }
}

/// The unit of force in which the weight of a mass keeps its number; none for tonnes and short tons.
fn weight_of(mass: &Unit) -> Option<&'static Unit> {
    match mass.symbol {
        "lb" => unit("lbf"),
        "kg" => unit("kgf"),
        _ => None,
    }
}

/// `a weight`, `an angle`.
pub(super) fn a(kind: Kind) -> String {
    let noun = kind.noun();
    format!("{} {noun}", if noun.starts_with('a') { "an" } else { "a" })
}

fn not_finite(entry: &Entry, name: &str) -> ReadError {
    ReadError::new("not-possible", entry.value_span, format!("`{name}` is not a number that could be measured"))
        .help("write a finite number")
}

fn unit_missing(entry: &Entry, name: &str, kind: Kind) -> ReadError {
    let mut first: Vec<&Unit> = Vec::new();
    for us in [true, false] {
        first.extend(fitting(kind).find(|unit| unit.kind == kind && unit.us == us));
    }
    let units: Vec<String> = first.iter().map(|unit| annotation(unit.symbol)).collect();
    let help = format!("write {} before the number{}", crate::text::either(&units), fit_too(kind, &first));
    ReadError::new("unit-missing", entry.value_span, format!("`{name}` is {} and needs a unit", a(kind))).help(help)
}

/// The units that fit besides those that help has named.
fn fit_too(kind: Kind, named: &[&Unit]) -> String {
    let rest: Vec<&str> = fitting(kind).filter(|unit| !named.contains(unit)).map(|unit| unit.symbol).collect();
    match rest.as_slice() {
        [] => String::new(),
        [one] => format!("; {one} fits too"),
        some => format!("; {} fit too", some.join(", ")),
    }
}

impl ReadError {
    /// A missing unit, where all numbers like it around have the same. A share below one may be meant as it stands, as
    /// a part of the whole and not in percent.
    pub(super) fn with_unit_of_all(self, entry: &Entry, kind: Kind, unit: &'static Unit) -> Self {
        if let Value::Number { value, .. } = &entry.value
            && kind == Kind::Share
            && value.abs() < 1.0
            && value.abs() > 0.0
        {
            return self;
        }
        let title = format!("write {}", with_unit(entry, unit));
        let help = format!("{title}, as every other {} here{}", kind.noun(), fit_too(kind, &[unit]));
        // What the number says hangs on its unit, so a person must agree.
        let edits = vec![Edit::before(entry.value_span, annotation(unit.symbol))];
        self.fix(Fix { grade: Grade::Change, ..Fix::notation(title, edits) }).help(help)
    }
}

/// An annotation that is no unit. Offers the one that it means, if that measures what is wanted.
fn no_unit(entry: &Entry, written: &str, span: Span, kind: Option<Kind>) -> ReadError {
    let error = ReadError::new("unit-wrong", span, format!("{} is not a unit", quoted(written)));
    match (meant(written).filter(|unit| fits(unit, kind)), kind) {
        (Some(unit), _) => {
            let inner = annotation(unit.symbol);
            let edit = Edit::replace(span, inner.trim_matches(['(', ')']));
            error.fix(Fix::notation(format!("write {}", with_unit(entry, unit)), vec![edit]))
        }
        (None, Some(kind)) => error.help(format!("write it in {}", symbols(kind))),
        (None, None) => error,
    }
}

pub(super) fn fits(unit: &Unit, kind: Option<Kind>) -> bool {
    kind.is_none_or(|kind| fitting(kind).any(|one| one == unit))
}

/// A text, `#true` or `#null` where a number is needed.
fn no_number(entry: &Entry, name: &str, kind: Option<Kind>) -> ReadError {
    let what = match &entry.value {
        Value::Text(_) => "a text",
        Value::Bool(_) => "a yes or no",
        _ => "nothing",
    };
    let message = format!("`{name}` needs a number, and this is {what}");
    let error = ReadError::new("not-possible", entry.value_span, message);
    let example = match &entry.value {
        Value::Text(text) => in_words(text, entry, kind),
        _ => None,
    };
    match (example, kind) {
        (Some(example), _) => {
            let edit = Edit::replace(entry.typed_span, example.clone());
            error.fix(Fix::notation(format!("write {example}"), vec![edit]))
        }
        (None, Some(Kind::Length)) => {
            error.help("write a number with its unit, as in (in)172, or feet and inches, as in \"16 ft 4 in\"")
        }
        (None, Some(kind)) => error.help(format!("write a number in {}", symbols(kind))),
        (None, None) => error.help("write a number"),
    }
}

/// `"4360 lb"`, `(lb)"4360"`, `(in)"2 5/16"` or `"5' 6\""` as it should be written.
fn in_words(text: &str, entry: &Entry, kind: Option<Kind>) -> Option<String> {
    if let Some(written) = as_feet_and_inches(text).filter(|_| kind.is_none_or(|kind| kind == Kind::Length)) {
        return Some(format!("\"{written}\""));
    }
    let text = without_commas(text.trim())?;
    let split = text.find(|c: char| !(c.is_ascii_digit() || " ./+-".contains(c))).unwrap_or(text.len());
    let (digits, rest) = text.split_at_checked(split)?;
    let value = mixed(digits)?;
    let symbol = match (rest.trim(), &entry.ty) {
        ("", Some(ty)) => &*ty.text,
        // Sizes in fractions are inches.
        ("", None) if digits.contains('/') && kind == Some(Kind::Length) => "in",
        ("", None) => return None,
        (symbol, _) => symbol,
    };
    let known = meant(symbol).filter(|unit| fits(unit, kind))?;
    Some(format!("{}{value}", annotation(known.symbol)))
}
