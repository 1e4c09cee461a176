//! A unit that stands behind its number, as a word: `weighed=4360 lb`.

use super::number::{ReadError, fits};
use super::write::{number, with_unit};
use crate::finding::{Edit, Fix};
use crate::syntax::{Entry, Value};
use crate::text::Span;
use crate::units::{Kind, Unit, annotation, meant};

/// A unit that stands as a word behind its number.
#[derive(Clone, Copy)]
pub(super) struct Behind {
    unit: &'static Unit,
    at: Span,
}

/// The unit that stands as a word after a number without one.
pub(super) fn unit_after(entry: &Entry, next: &Entry) -> Option<Behind> {
    let Value::Text(text) = &next.value else {
        return None;
    };
    if next.key.is_some() || entry.ty.is_some() || !matches!(entry.value, Value::Number { .. }) {
        return None;
    }
    meant(text).map(|unit| Behind { unit, at: next.span })
}

/// The same fault, with the unit that stands after the number put before it.
pub(super) fn unit_first(error: ReadError, entry: &Entry, behind: Option<Behind>, kind: Option<Kind>) -> ReadError {
    let Some(Behind { unit, at }) = behind else {
        return error;
    };
    let message = format!("the unit of {} stands after it", number(&entry.value));
    let help = format!("write the unit before the number: {}", with_unit(entry, unit));
    // One byte between the two is the blank that parts them; more may be anything.
    let between = Span { start: entry.span.end, end: at.start.max(entry.span.end), ..at };
    let gone = if between.len() == 1 { between.to(at) } else { at };
    let edits = vec![Edit::before(entry.value_span, annotation(unit.symbol)), Edit::delete(gone)];
    let error = ReadError { message, ..error };
    if fits(unit, kind) { error.fix(Fix::notation(help, edits)) } else { error.help(help) }
}
