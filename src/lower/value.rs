//! One value against what its word takes.

use std::sync::Arc;

use super::number::{ReadError, a, read_number, read_quantity};
use super::words::Takes;
use super::write::{as_written, number, renamed, without_annotation};
use crate::finding::{Edit, Fix};
use crate::model::LoadIndex;
use crate::physics::{LoadIndexes, SPEED_SYMBOLS, load_index, speed_symbol};
use crate::syntax::{Entry, Value};
use crate::text::{either, nearest, only_near, quoted};
use crate::units::{Kind, Unit, show_in};

/// A value as it was read.
#[derive(Clone, Debug)]
pub(super) enum Got {
    /// A quantity in the SI unit of its kind; a plain number has none.
    Number(f64, Option<Kind>),
    /// A whole number.
    Count(u32),
    /// A yes or no.
    Flag(bool),
    /// A text or name.
    Text(Arc<str>),
    /// The word of a list, by number.
    Choice(usize),
    /// A load index.
    Index(LoadIndex),
}

/// Reads the value of an entry that messages call `name`.
pub(super) fn read(entry: &Entry, name: &str, takes: Takes) -> Result<(Got, Option<&'static Unit>), ReadError> {
    match takes {
        Takes::Quantity { kind, least, most, .. } => {
            let (si, unit) = read_quantity(entry, name, kind)?;
            in_range(entry, name, kind, si, unit, (least, most))?;
            Ok((Got::Number(si, Some(kind)), unit))
        }
        Takes::SpeedOrSymbol => match &entry.value {
            Value::Text(text) if entry.ty.is_none() => symbol(entry, text).map(|got| (got, None)),
            _ => {
                let (si, unit) = read_quantity(entry, name, Kind::Speed)?;
                in_range(entry, name, Kind::Speed, si, unit, (1.0, 120.0))?;
                Ok((Got::Number(si, Some(Kind::Speed)), unit))
            }
        },
        Takes::Spread => {
            let (si, kind, unit) = read_number(entry)?;
            let Some(kind) = kind else {
                let message = format!("`{name}` needs the unit of the numbers on this line, or a share");
                let help = format!("write (lb){0}, (in){0} or (pct){0}, as it is meant", number(&entry.value));
                return Err(ReadError::new("unit-missing", entry.value_span, message).help(help));
            };
            in_range(entry, name, kind, si, unit, (0.0, f64::MAX))?;
            Ok((Got::Number(si, Some(kind)), unit))
        }
        Takes::Coefficient => coefficient(entry, name),
        Takes::Number => read_number(entry).map(|(si, kind, unit)| (Got::Number(si, kind), unit)),
        _ => {
            if let Some(ty) = &entry.ty {
                let message = format!("`{name}` takes no unit");
                let help = format!("write {}", number(&entry.value));
                let error = ReadError::new("unit-wrong", entry.typed_span, message).at_if_empty(ty.span);
                return Err(match without_annotation(ty.span, entry.typed_span, entry.value_span) {
                    Some(gone) => error.fix(Fix::notation(help, vec![gone])),
                    None => error.help(help),
                });
            }
            plain(entry, name, takes).map(|got| (got, None))
        }
    }
}

impl ReadError {
    /// At another place when its own holds nothing.
    fn at_if_empty(self, span: crate::text::Span) -> Self {
        if self.span.is_empty() { Self { span, ..self } } else { self }
    }
}

/// A coefficient of friction. More than 1.5 is beyond anything a deck can give.
fn coefficient(entry: &Entry, name: &str) -> Result<(Got, Option<&'static Unit>), ReadError> {
    let help = "write a plain number from 0 to 1.5, as in 0.3";
    let (si, kind, unit) = read_number(entry)?;
    if !matches!(kind, None | Some(Kind::Share)) {
        let message = format!("`{name}` is a plain number");
        return Err(ReadError::new("unit-wrong", entry.typed_span, message).help(help));
    }
    if !(0.0..=1.5).contains(&si) {
        return Err(impossible(entry, format!("`{name}` cannot be {}", number(&entry.value))).help(help));
    }
    Ok((Got::Number(si, Some(Kind::Share)), unit))
}

/// A value without unit.
fn plain(entry: &Entry, name: &str, takes: Takes) -> Result<Got, ReadError> {
    match (takes, &entry.value) {
        (Takes::Count { least, most }, Value::Number { integer, .. }) => {
            let count = integer.and_then(|count| u32::try_from(count).ok());
            match count.filter(|count| (least..=most).contains(count)) {
                Some(count) => Ok(Got::Count(count)),
                None => Err(impossible(entry, format!("`{name}` cannot be {}", number(&entry.value)))
                    .help(format!("write a whole number from {least} to {most}"))),
            }
        }
        (Takes::Flag, Value::Bool(yes)) => Ok(Got::Flag(*yes)),
        (Takes::LoadIndex, Value::Number { integer: Some(index), .. }) => {
            let index = u16::try_from(*index).ok().filter(|index| load_index(*index).is_some());
            index.map(|single| Got::Index(LoadIndex { single, dual: None })).ok_or_else(|| no_index(entry))
        }
        (Takes::LoadIndex, Value::Text(text)) => LoadIndexes::read(text)
            .filter(|both| load_index(both.single).is_some() && both.dual.is_none_or(|dual| load_index(dual).is_some()))
            .map(|both| Got::Index(LoadIndex { single: both.single, dual: both.dual }))
            .ok_or_else(|| no_index(entry)),
        (Takes::Text | Takes::Id(_) | Takes::Ref(_), Value::Text(text)) if !text.trim().is_empty() => {
            Ok(Got::Text(Arc::clone(text)))
        }
        (Takes::Date, Value::Text(text)) => {
            if is_day(text) {
                return Ok(Got::Text(Arc::clone(text)));
            }
            let message = format!("{} is no day of the calendar", quoted(text));
            Err(impossible(entry, message).help("write year, month and day: \"YYYY-MM-DD\""))
        }
        (Takes::OneOf { .. }, Value::Text(text)) => one_of(entry, text, takes),
        _ => Err(wrong_sort(entry, name, takes)),
    }
}

fn impossible(entry: &Entry, message: String) -> ReadError {
    ReadError::new("not-possible", entry.value_span, message)
}

fn in_range(
    entry: &Entry,
    name: &str,
    kind: Kind,
    si: f64,
    unit: Option<&'static Unit>,
    (least, most): (f64, f64),
) -> Result<(), ReadError> {
    // A bound written in another unit may miss by a rounding.
    let slack = |bound: f64| bound.abs() * 1e-9;
    if si >= least - slack(least) && (si <= most || si <= most + slack(most)) {
        return Ok(());
    }
    // As it was written: in its own unit, or in inches when it stands in words.
    let unit = unit.or_else(|| crate::units::units_of(kind).next());
    let shown = |si: f64| unit.map_or_else(String::new, |unit| show_in(si, unit));
    let message = if si < 0.0 && least >= 0.0 {
        format!("`{name}` cannot be negative")
    } else {
        format!("`{name}` cannot be {}", shown(si))
    };
    let error = impossible(entry, message);
    Err(if most < f64::MAX {
        let bound =
            |si: f64| unit.map_or_else(String::new, |unit| show_in(three_digits(si / unit.factor) * unit.factor, unit));
        error.help(format!("write {} from {} to {}", a(kind), bound(least), bound(most)))
    } else {
        error.help("write how far it can be off, without a sign")
    })
}

/// A bound to three digits: where exactly absurdity starts does not matter.
fn three_digits(value: f64) -> f64 {
    let decade = value.abs().log10().floor();
    if !decade.is_finite() {
        return value;
    }
    #[expect(clippy::cast_possible_truncation, reason = "the decade of a finite number fits")]
    let scale = 10_f64.powi(2 - decade as i32);
    (value * scale).round() / scale
}

fn symbol(entry: &Entry, text: &str) -> Result<Got, ReadError> {
    if let Some(speed) = speed_symbol(text) {
        return Ok(Got::Number(speed.si(), Some(Kind::Speed)));
    }
    let all: Vec<&str> = SPEED_SYMBOLS.iter().map(|one| one.symbol).collect();
    let message = format!("{} is no speed symbol of a tire", quoted(text));
    let near = all.iter().find(|one| one.eq_ignore_ascii_case(text));
    let error = ReadError::new("unknown-word", entry.value_span, message);
    Err(match near {
        Some(near) => error.fix(word_for(entry, text, near)),
        None => error.help(format!("write a speed, as in (mph)75, or one of {}", all.join(" "))),
    })
}

fn no_index(entry: &Entry) -> ReadError {
    impossible(entry, format!("{} is no load index", number(&entry.value)))
        .help("write a whole number from 50 to 150, or two as on the tire: \"121/118\"")
}

fn one_of(entry: &Entry, text: &str, takes: Takes) -> Result<Got, ReadError> {
    if let Some(at) = takes.words().position(|word| word == text) {
        return Ok(Got::Choice(at));
    }
    let Takes::OneOf { noun, .. } = takes else {
        return Err(wrong_sort(entry, "this value", takes));
    };
    let all = takes.words().map(|word| format!("\"{word}\"")).collect::<Vec<_>>();
    let message = if all.len() <= 3 {
        format!("{noun} is {}, not {}", either(&all), quoted(text))
    } else {
        format!("{noun} cannot be {}", quoted(text))
    };
    let error = ReadError::new("unknown-word", entry.value_span, message);
    Err(match (only_near(text, takes.words()), nearest(text, takes.words())) {
        (Some(near), _) => error.fix(word_for(entry, text, near)),
        (None, Some(near)) => error.help(format!("write \"{near}\"")),
        (None, None) => error.help(format!("write {}", either(&all))),
    })
}

/// Another word in the place of the text that stands there.
fn word_for(entry: &Entry, text: &str, word: &str) -> Fix {
    Fix::notation(format!("write \"{word}\""), vec![renamed(text, entry.value_span, word)])
}

fn wrong_sort(entry: &Entry, name: &str, takes: Takes) -> ReadError {
    let (wanted, help) = match takes {
        Takes::Flag => ("a yes or no", "write #true or #false".to_owned()),
        Takes::Count { least, most } => ("a whole number", format!("write a whole number from {least} to {most}")),
        Takes::LoadIndex => return no_index(entry),
        Takes::Date => ("a day", "write year, month and day: \"YYYY-MM-DD\"".to_owned()),
        Takes::OneOf { .. } => {
            let words: Vec<String> = takes.words().map(|word| format!("\"{word}\"")).collect();
            ("one of a few words", format!("write {}", either(&words)))
        }
        _ => {
            let help = match &entry.value {
                Value::Number { .. } => format!("write it in quotes: \"{}\"", number(&entry.value)),
                _ => "write a text in quotes".to_owned(),
            };
            ("a text", help)
        }
    };
    let is = match &entry.value {
        Value::Text(text) if text.trim().is_empty() => "is empty",
        Value::Text(_) => "is a text",
        Value::Number { .. } => "is a number",
        Value::Bool(_) => "is a yes or no",
        Value::Null => "is nothing",
    };
    let error = impossible(entry, format!("`{name}` needs {wanted}, and this {is}"));
    match in_form(entry, takes) {
        Some(fix) => error.fix(fix),
        None => error.help(help),
    }
}

/// `yes` for `#true`, and a number where a text is needed: the same in the form that is wanted.
fn in_form(entry: &Entry, takes: Takes) -> Option<Fix> {
    let place = entry.value_span;
    match (takes, &entry.value) {
        (Takes::Flag, Value::Text(text)) => {
            let flag = match text.to_ascii_lowercase().as_str() {
                "yes" | "true" => "#true",
                "no" | "false" => "#false",
                _ => return None,
            };
            Some(Fix::notation(format!("write {flag}"), vec![Edit::replace(place, flag)]))
        }
        (Takes::Text | Takes::Id(_) | Takes::Ref(_), Value::Number { .. }) => {
            let number = as_written(entry)?;
            let title = format!("write it in quotes: \"{number}\"");
            Some(Fix::notation(title, vec![Edit::before(place, "\""), Edit::after(place, "\"")]))
        }
        _ => None,
    }
}

/// Whether this is a day of the calendar, written as `YYYY-MM-DD`.
fn is_day(text: &str) -> bool {
    let form = text.len() == 10
        && text.bytes().enumerate().all(|(at, byte)| match at {
            4 | 7 => byte == b'-',
            _ => byte.is_ascii_digit(),
        });
    form && text.parse::<jiff::civil::Date>().is_ok()
}
