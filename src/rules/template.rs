//! What a rule says: text with names in braces.

use std::ops::Range;

use super::{RuleNames, Slot};
use crate::figures::Each;

/// A piece of what a rule says.
#[derive(Clone, Debug, PartialEq)]
pub enum Piece {
    /// As it stands.
    Text(String),
    /// The value of a figure or parameter.
    Value(Slot),
    /// What the failing comparison's figure measures, in words.
    What,
    /// The value of the failing comparison's figure.
    Figure,
    /// Its bound.
    Limit,
    /// By how much it is broken.
    Over,
    /// The bound subject by name.
    Subject,
    /// The truck's name.
    Truck,
    /// The trailer's name.
    Trailer,
}

/// Text with names in braces, its names checked.
#[derive(Clone, Debug, PartialEq)]
pub struct Template {
    /// The pieces, in order.
    pub pieces: Vec<Piece>,
}

/// A name in a template that stands for nothing.
#[derive(Debug)]
pub(super) struct UnknownPiece {
    /// Its bytes in the template.
    pub(super) range: Range<usize>,
    /// The fault.
    pub(super) message: String,
}

impl Template {
    /// Reads a template for one kind of subject. `{{` and `}}` stand for braces.
    pub(super) fn read(text: &str, names: &RuleNames<'_>) -> Result<Self, UnknownPiece> {
        let mut pieces = Vec::new();
        let mut plain = String::new();
        let mut at = 0;
        while let Some(c) = text.get(at..).and_then(|rest| rest.chars().next()) {
            let rest = text.get(at..).unwrap_or("");
            if rest.starts_with("{{") || rest.starts_with("}}") {
                plain.push(c);
                at += 2;
            } else if c == '{' {
                let Some(end) = rest.find('}') else {
                    let message = "this brace is not closed".to_owned();
                    return Err(UnknownPiece { range: at..at + 1, message });
                };
                let name = rest.get(1..end).unwrap_or("");
                let range = at + 1..at + end;
                if !plain.is_empty() {
                    pieces.push(Piece::Text(std::mem::take(&mut plain)));
                }
                pieces.push(piece(name, names).ok_or_else(|| unknown(name, range, names))?);
                at += end + 1;
            } else {
                plain.push(c);
                at += c.len_utf8();
            }
        }
        if !plain.is_empty() {
            pieces.push(Piece::Text(plain));
        }
        Ok(Self { pieces })
    }
}

fn piece(name: &str, names: &RuleNames<'_>) -> Option<Piece> {
    Some(match name {
        "what" => Piece::What,
        "value" => Piece::Figure,
        "limit" => Piece::Limit,
        "over" => Piece::Over,
        "truck" => Piece::Truck,
        "trailer" => Piece::Trailer,
        bound if subject_word(names.each) == Some(bound) => Piece::Subject,
        other => Piece::Value(names.slot(other)?),
    })
}

const fn subject_word(each: Each) -> Option<&'static str> {
    each.binds()
}

fn unknown(name: &str, range: Range<usize>, names: &RuleNames<'_>) -> UnknownPiece {
    let known = crate::expr::Names::known(names);
    let near = crate::text::nearest(name, known.iter().map(String::as_str));
    let message = match near {
        Some(near) => format!("nothing is called `{name}` here; `{near}` is near"),
        None => format!("nothing is called `{name}` here"),
    };
    UnknownPiece { range, message }
}
