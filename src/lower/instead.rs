//! Words that people write for others, and what stands for them here.

use super::unknown::Form;
use super::words::{ORIGIN, PLUS_MINUS, Takes, Word};
use super::write::{number, typed};
use crate::syntax::{Entry, Value};
use crate::text::quoted;

/// What to write instead of a word that is often written here and means another.
pub(super) fn instead(word: &Word, written: &str, form: Form<'_>) -> Option<String> {
    attached(word, written, form).or_else(|| {
        let value = form.value();
        match (word.name, written) {
            ("bulk", "weight" | "mass") => Some("bulk is given by its volume: write volume=(yd3)…".to_owned()),
            ("aboard-truck", "front-gap" | "rear-gap" | "at" | "arm" | "from-front") => Some(
                "measure from the truck's rear axle: write ahead-of-rear-axle=(in)…, negative behind it".to_owned(),
            ),
            (_, "right" | "cg-right") => {
                let left = if written == "right" { "left" } else { "cg-left" };
                let value = value.map_or_else(|| "…".to_owned(), turned);
                if word.prop(left).is_some() {
                    Some(format!("write {left}={value}: the right is negative"))
                } else {
                    word.child(left).map(|_| format!("write it as a child: {left} {value}; the right is negative"))
                }
            }
            _ => None,
        }
    })
}

/// A number with its sign turned, as a sheet writes it.
fn turned(entry: &Entry) -> String {
    let Value::Number { .. } = &entry.value else {
        return typed(entry);
    };
    let plain = number(&entry.value);
    let unit = typed(entry);
    let unit = unit.strip_suffix(&plain).unwrap_or("");
    match plain.strip_prefix('-') {
        Some(positive) => format!("{unit}{positive}"),
        None => format!("{unit}-{plain}"),
    }
}

/// `weight (kg)2650 with="bucket"`: how an attachment is said to have been on, or to be on.
fn attached(word: &Word, written: &str, form: Form<'_>) -> Option<String> {
    const ON: [&str; 8] = ["with", "includes", "including", "incl", "fitted", "fit", "attached", "attachment"];
    if !ON.contains(&written) {
        return None;
    }
    let name = match form.value().map(|entry| &entry.value) {
        Some(Value::Text(text)) => quoted(text),
        _ => "\"…\"".to_owned(),
    };
    if word.child("weighed-with").is_some() || word.name == "weight" || word.prop("driven").is_some() {
        return Some(format!(
            "write weighed-with {name} in the machine's braces, if it was on when the machine was weighed"
        ));
    }
    word.child("fit").is_some().then(|| format!("write it as a child: fit {name}"))
}

/// What to do with a word that means nothing here, on a node that takes no further ones: what carries a value may
/// matter, and is not to be thrown away.
pub(super) fn nothing_further(word: &Word, form: Form<'_>) -> String {
    if word.has_quantity() {
        let (origin, spread) = (ORIGIN.name, PLUS_MINUS.name);
        format!("write no more on it than its value, {origin} and {spread}: move this to where it belongs")
    } else if form.carries() {
        format!("`{}` takes nothing further: keep this as a comment, after //", word.name)
    } else {
        "delete it".to_owned()
    }
}

/// `level="off"`: a word that is an entry of its own, yes or no.
pub(super) fn own_entry(word: &Word, value: &Value) -> Option<String> {
    let Value::Text(text) = value else {
        return None;
    };
    let prop = word.prop(text).filter(|prop| matches!(prop.takes, Takes::Flag))?;
    Some(format!("write {}=#true", prop.name))
}
