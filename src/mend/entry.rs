//! How an entry is written with another value: in the unit it has, to a step that a tape or a bucket can measure.

use crate::finding::Edit;
use crate::text::Span;
use crate::units::Unit;

/// Metres in an inch.
const INCH: f64 = 0.0254;

/// The steps to which a value in this unit is rounded, coarsest first, in SI; none is the notation in feet and inches.
pub(super) fn steps(unit: Option<&Unit>) -> Vec<f64> {
    let (factor, steps): (f64, &[f64]) = match unit {
        None => (INCH, &[1.0, 0.5, 0.25, 0.125]),
        Some(unit) => {
            let steps: &[f64] = match unit.symbol {
                "in" => &[1.0, 0.5, 0.25, 0.125],
                "ft" => &[0.1, 0.05, 0.01],
                "mm" => &[10.0, 5.0, 2.0, 1.0],
                "cm" => &[1.0, 0.5, 0.1],
                "yd3" => &[0.25, 0.1, 0.05, 0.01],
                "ft3" => &[5.0, 1.0, 0.5],
                "L" => &[100.0, 50.0, 10.0],
                "mph" | "kmh" => &[5.0, 1.0],
                // m, m3, yd and whatever may come
                _ => &[0.05, 0.01, 0.005, 0.001],
            };
            (unit.factor, steps)
        }
    };
    steps.iter().map(|step| step * factor).collect()
}

/// A value as a sheet writes it in this unit, rounded to a ten-thousandth of it: `(in)43`, `"16 ft 4 in"`.
pub(super) fn written(si: f64, unit: Option<&Unit>) -> String {
    match unit {
        Some(unit) if unit.symbol.contains('/') => format!("(\"{}\"){}", unit.symbol, plain(si / unit.factor)),
        Some(unit) => format!("({}){}", unit.symbol, plain(si / unit.factor)),
        None => {
            let inches = round(si / INCH);
            let sign = if inches < 0.0 { "-" } else { "" };
            let feet = (inches.abs() / 12.0).floor();
            format!("\"{sign}{feet} ft {} in\"", plain(inches.abs() - feet * 12.0))
        }
    }
}

/// A value as a person reads it in this unit: `43 in`.
pub(super) fn spoken(si: f64, unit: Option<&Unit>) -> String {
    match unit {
        Some(unit) => format!("{} {}", plain(si / unit.factor), unit.shown),
        None => written(si, None).trim_matches('"').to_owned(),
    }
}

/// The nearest multiple of a step that is not below, or not above, a value.
pub(super) fn rounded(si: f64, step: f64, up: bool) -> f64 {
    // A value that is a multiple but for rounding stays it.
    let of = si / step;
    let near = of.round();
    if (of - near).abs() < 1e-6 {
        return near * step;
    }
    if up { of.ceil() * step } else { of.floor() * step }
}

fn round(value: f64) -> f64 {
    (value * 1e4).round() / 1e4
}

fn plain(value: f64) -> String {
    let value = round(value);
    // Never "-0".
    if value == 0.0 { "0".to_owned() } else { value.to_string() }
}

/// The edit that gives an entry another value. Only the value is replaced: the key, the blanks and what else stands on
/// the node stay as they are. None when the entry is not written as one value after a key.
pub(super) fn set(text: &str, at: Span, value: &str) -> Option<Edit> {
    let slice = text.get(at.range())?;
    let key = slice.find(|c: char| c == '=' || c.is_whitespace())?;
    let after = slice.get(key..)?;
    let start = key + after.find(|c: char| c != '=' && !c.is_whitespace())?;
    let rest = slice.get(start..)?;
    let end = start + value_length(rest)?;
    let whole = at.range();
    Some(Edit { span: Span::new(at.file, whole.start + start..whole.start + end), text: value.to_owned() })
}

/// How long the value at the beginning of a text is: its type annotation, and a number, a keyword or a quoted text.
fn value_length(text: &str) -> Option<usize> {
    let annotation = if text.starts_with('(') { text.find(')')? + 1 } else { 0 };
    let rest = text.get(annotation..)?;
    let blank = rest.len() - rest.trim_start().len();
    let rest = rest.trim_start();
    let own = if rest.starts_with('"') {
        // An escaped quotation mark does not end a text, and raw or many-lined ones are left alone.
        let inside = rest.get(1..)?;
        let end = inside.find('"')?;
        if inside.get(..end)?.contains('\\') || inside.starts_with("\"\"") {
            return None;
        }
        end + 2
    } else {
        rest.find(|c: char| c.is_whitespace() || matches!(c, ';' | '{' | '}' | '/' | '\\')).unwrap_or(rest.len())
    };
    (own > 0).then_some(annotation + blank + own)
}

#[cfg(test)]
mod tests {
    use super::{rounded, set, spoken, written};
    use crate::mend::edit::applied;
    use crate::text::{FileId, Span};
    use crate::units::unit;

    fn with(text: &str, value: &str) -> Option<String> {
        let edit = set(text, Span::new(FileId(0), 0..text.len()), value)?;
        applied(text, &[edit])
    }

    #[test]
    fn only_the_value_is_replaced() {
        for (text, value, expected) in [
            ("front-gap=(in)43", "(in)36.5", "front-gap=(in)36.5"),
            ("front-gap = (in) 43", "(in)36.5", "front-gap = (in)36.5"),
            ("at=\"16 ft 4 in\"", "\"16 ft\"", "at=\"16 ft\""),
            ("speed (mph)55; x", "(mph)45", "speed (mph)45; x"),
            ("facing=forward", "\"backward\"", "facing=\"backward\""),
            ("volume (yd3)4/*about*/", "(yd3)3", "volume (yd3)3/*about*/"),
        ] {
            assert_eq!(with(text, value).as_deref(), Some(expected));
        }
        assert_eq!(with("at=\"a\\\"b\"", "\"16 ft\""), None);
        assert_eq!(with("at", "1"), None);
    }

    #[test]
    fn values_are_written_as_a_tape_reads() {
        assert_eq!(written(0.0254 * 43.5, unit("in")), "(in)43.5");
        assert_eq!(written(-0.0254 * 17.0, None), "\"-1 ft 5 in\"");
        assert_eq!(written(-1e-12, unit("mm")), "(mm)0");
        assert_eq!(spoken(0.0254 * 200.0, None), "16 ft 8 in");
        assert!((rounded(0.0254 * 43.2, 0.0254, true) / 0.0254 - 44.0).abs() < 1e-9);
        assert!((rounded(0.0254 * 43.0, 0.0254, false) / 0.0254 - 43.0).abs() < 1e-9);
    }
}
