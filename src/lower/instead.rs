//! Words that people write for others, and what stands for them here.

use super::unknown::Form;
use super::words::{ORIGIN, PLUS_MINUS, Takes, Word};
use super::write::{as_written, number, renamed, typed};
use crate::finding::{Edit, Fix};
use crate::syntax::{Entry, Value};
use crate::text::{Span, quoted};

/// What to write instead of a word that is often written here and means another, with the edits where they are certain.
pub(super) fn instead(word: &Word, written: &str, span: Span, form: Form<'_>) -> Option<(String, Vec<Edit>)> {
    let only_said = |help: String| (help, Vec::new());
    attached(word, written, form).map(only_said).or_else(|| match (word.name, written) {
        ("bulk", "weight" | "mass") => Some(only_said("bulk is given by its volume: write volume=(yd3)…".to_owned())),
        ("aboard-truck", "front-gap" | "rear-gap" | "at" | "arm" | "from-front") => Some(only_said(
            "measure from the truck's rear axle: write ahead-of-rear-axle=(in)…, negative behind it".to_owned(),
        )),
        (_, "right" | "cg-right") => from_right(word, written, span, form),
        _ => None,
    })
}

/// `right=(in)4`: what is right of the centre line is negative on its left.
fn from_right(word: &Word, written: &str, span: Span, form: Form<'_>) -> Option<(String, Vec<Edit>)> {
    let left = if written == "right" { "left" } else { "cg-left" };
    let value = form.value().map_or_else(|| "…".to_owned(), turned);
    let (help, same_form) = if word.prop(left).is_some() {
        (format!("write {left}={value}: the right is negative"), matches!(form, Form::Property(_)))
    } else {
        word.child(left)?;
        (format!("write it as a child: {left} {value}; the right is negative"), matches!(form, Form::Child(_)))
    };
    let edits = form.value().filter(|_| same_form).and_then(|entry| {
        let number = as_written(entry).filter(|_| matches!(entry.value, Value::Number { .. }))?;
        let place = entry.value_span;
        let sign = Edit::replace(Span { end: place.start + u32::from(number.starts_with('-')), ..place }, "");
        let sign = if number.starts_with('-') { sign } else { Edit::before(place, "-") };
        Some(vec![renamed(written, span, left), sign])
    });
    Some((help, edits.unwrap_or_default()))
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
pub(super) fn own_entry(word: &Word, entry: &Entry) -> Option<Fix> {
    let Value::Text(text) = &entry.value else {
        return None;
    };
    let prop = word.prop(text).filter(|prop| matches!(prop.takes, Takes::Flag))?;
    let own = format!("{}=#true", prop.name);
    Some(Fix::notation(format!("write {own}"), vec![Edit::replace(entry.span, own)]))
}
