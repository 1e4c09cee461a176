//! Where a span stands, as output tells it.

use std::borrow::Cow;

use super::style::{Ink, Style};
use super::wrap::columns;
use crate::text::{FileId, Place, Source, Sources, Span, visible};

/// A span that surely lies in its source: within its length, on character boundaries.
pub(super) fn within(source: &Source, span: Span) -> std::ops::Range<usize> {
    let cut = |at: usize| {
        let mut at = at.min(source.text.len());
        while !source.text.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let range = span.range();
    let start = cut(range.start);
    start..cut(range.end).max(start)
}

/// First and last place of a span with its file's name; the last place is the one after its last character.
/// A file that is not among the sources has no name and is told as line 1, column 1.
pub(super) fn places(sources: &Sources, span: Span) -> (&str, Place, Place) {
    let Some(source) = sources.get(span.file) else {
        let none = Place { line: 1, column: 1 };
        return ("", none, none);
    };
    let range = within(source, span);
    (&source.name, source.place(range.start), source.place(range.end))
}

/// `sheets/trencher-move.kdl:9:44`, columns in characters.
pub(super) fn location(sources: &Sources, span: Span) -> String {
    let Some(source) = sources.get(span.file) else {
        return "an unknown place".to_owned();
    };
    let place = source.place(within(source, span).start);
    format!("{}:{}:{}", shown(&source.name), place.line, place.column)
}

/// A text of a sheet, or made from one, on one line and without characters that act.
pub(super) fn shown(text: &str) -> Cow<'_, str> {
    visible(text, true)
}

/// The line above what is told of a load: its sheet, its leg, and the file that holds them.
pub(super) fn load_head(
    sources: &Sources,
    (sheet, leg, file): (&str, Option<&str>, FileId),
    style: Style,
    out: &mut String,
) {
    let mut name = format!("sheet {}", shown(sheet));
    if let Some(leg) = leg {
        name = format!("{name}, leg {}", shown(leg));
    }
    out.push_str(&style.paint(Ink::Strong, &name));
    let file = format!("in {}", shown(sources.get(file).map_or("", |source| &source.name)));
    out.push_str(if columns(&name) + 1 + columns(&file) > style.columns() { "\n    " } else { " " });
    out.push_str(&file);
    out.push('\n');
}
