//! Results for other programs: one JSON object, its lines and columns counted from 1, its values in SI.

mod check;
mod place;
mod trim;
mod weigh;

pub(super) use check::{Figure, Load, also, figure, grade};
pub use check::{check, schema};
pub use place::place;
pub use trim::trim;
pub use weigh::weigh;

use std::fmt::Write as _;

use serde::Serialize;

use crate::text::is_hidden;
use crate::units::Kind;

/// The version of both shapes. It grows when a key goes away or changes its meaning, not when one is added.
const SCHEMA: u32 = 1;

/// The unit of a figure's numbers.
fn unit(kind: Option<Kind>) -> &'static str {
    kind.map_or("1", Kind::si_symbol)
}

/// A number that JSON can hold.
fn finite(value: Option<f64>) -> Option<f64> {
    value.filter(|value| value.is_finite())
}

/// Writes an object, with every character that would act on a terminal escaped. In JSON such characters stand in
/// strings only, where an escape means the same (RFC 8259, section 7).
pub(super) fn written(value: &impl Serialize) -> String {
    // Maps with keys that are strings, and no fallible implementation among the types: writing cannot fail.
    let json = serde_json::to_string_pretty(value).unwrap_or_default();
    let mut out = String::with_capacity(json.len() + 1);
    for c in json.chars() {
        if is_hidden(c) {
            for half in c.encode_utf16(&mut [0; 2]) {
                let _ = write!(out, "\\u{half:04x}");
            }
        } else {
            out.push(c);
        }
    }
    out.push('\n');
    out
}
