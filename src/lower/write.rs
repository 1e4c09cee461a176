//! How an entry would be written, for help.

use super::words::Takes;
use crate::finding::Edit;
use crate::syntax::{Entry, Node, Value};
use crate::text::{Span, is_hidden};
use crate::units::{Kind, System, Unit, annotation, units_of};

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

/// The number of an entry, when the sheet writes it just so.
pub(super) fn as_written(entry: &Entry) -> Option<String> {
    let plain = number(&entry.value);
    (plain.len() == entry.value_span.len()).then_some(plain)
}

/// A number with this unit before it.
pub(super) fn with_unit(entry: &Entry, unit: &Unit) -> String {
    let unit = annotation(unit.symbol);
    as_written(entry).map_or_else(|| format!("{unit} before this number"), |number| format!("{unit}{number}"))
}

/// Takes the annotation out, where nothing stands between it and what it is before.
pub(super) fn without_annotation(ty: Span, whole: Span, before: Span) -> Option<Edit> {
    let annotation = Span { end: before.start, ..whole };
    (annotation.len() == ty.len() + 2).then(|| Edit::delete(annotation))
}

/// Takes an entry out of its line, with the blank that parts it from what stands before it.
pub(super) fn without_entry(node: &Node, entry: &Entry) -> Edit {
    let before = node.entries.iter().map(|other| other.span).rfind(|other| other.end <= entry.span.start);
    let end = before.unwrap_or(node.name.span).end;
    // One byte between the two is a blank; more may be anything.
    let from = if end + 1 == entry.span.start { end } else { entry.span.start };
    Edit::delete(Span { start: from, ..entry.span })
}

/// A name or word in the place of another: bare where that one stands bare and this one can, else in quotes.
#[must_use]
pub fn renamed(old: &str, span: Span, new: &str) -> Edit {
    let bare = new.starts_with(|c: char| c.is_ascii_alphabetic())
        && new.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '-' | '_'))
        && !["true", "false", "null", "inf", "nan"].contains(&new);
    if bare && span.len() == old.len() {
        return Edit::replace(span, new);
    }
    let mut text = String::with_capacity(new.len() + 2);
    text.push('"');
    for c in new.chars() {
        match c {
            '"' | '\\' => text.extend(['\\', c]),
            c if c.is_control() || is_hidden(c) => text.extend(c.escape_unicode()),
            c => text.push(c),
        }
    }
    text.push('"');
    Edit::replace(span, text)
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

/// What would be written for a value that is missing, in this system of units.
pub(super) fn placeholder(takes: Takes, system: System) -> String {
    if let Some(kind) = takes.kind() {
        let own = units_of(kind).find(|unit| unit.us == (system == System::Us));
        let symbol = own.or_else(|| units_of(kind).next()).map_or("", |unit| unit.symbol);
        return format!("{}…", annotation(symbol));
    }
    match takes {
        Takes::Flag => "#true".to_owned(),
        Takes::Date => "\"YYYY-MM-DD\"".to_owned(),
        Takes::Text | Takes::Id(_) | Takes::Ref(_) => "\"…\"".to_owned(),
        Takes::OneOf { .. } => {
            let words: Vec<String> = takes.words().map(|word| format!("\"{word}\"")).collect();
            crate::text::either(&words)
        }
        _ => "…".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::renamed;
    use crate::text::{FileId, Span};

    #[test]
    fn a_name_is_quoted_as_the_one_before_or_where_it_must_be() {
        let text = |old: &str, length: usize, new: &str| renamed(old, Span::new(FileId(0), 3..3 + length), new).text;
        assert_eq!(text("rok", 3, "rook"), "rook");
        assert_eq!(text("rok", 5, "rook"), "\"rook\"");
        assert_eq!(text("rok", 7, "rook"), "\"rook\"");
        for (new, written) in [
            ("pipe coil", "\"pipe coil\""),
            ("a\"b\\c", "\"a\\\"b\\\\c\""),
            ("true", "\"true\""),
            ("3-ton", "\"3-ton\""),
            ("", "\"\""),
            ("a\u{200b}b", "\"a\\u{200b}b\""),
        ] {
            assert_eq!(text("rok", 3, new), written);
        }
    }
}
