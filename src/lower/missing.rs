//! What a word cannot do without and a node does not say.

use std::fmt::Write as _;

use super::seen::Seen;
use super::words::{Value, Word};
use super::write::placeholder;
use crate::finding::{Finding, Level};

/// A finding for each, and their names. Nothing is missed where something was lost: it may be just that.
pub(super) fn missing(seen: &Seen<'_>, findings: &mut Vec<Finding>) -> Vec<&'static str> {
    let mut names = Vec::new();
    if seen.lost {
        return names;
    }
    let word = seen.word;
    let mut miss = |own: &'static str, name: &str, doc: &str, help: String| {
        names.push(own);
        let message = format!("{} lacks {name}: {}", seen.label(), lower_first(doc));
        findings.push(Finding::new("missing-entry", Level::Error, seen.place(), message).help(help));
    };
    for arg in word.args.iter().filter(|arg| lacks(seen, arg)) {
        miss(
            arg.name,
            &format!("its {}", arg.name),
            arg.doc,
            format!("write {} {}", word.name, placeholder(arg.takes)),
        );
    }
    for prop in word.props.iter().filter(|prop| lacks(seen, prop)) {
        let help = format!("add {}={} to its line", prop.name, placeholder(prop.takes));
        miss(prop.name, &format!("`{}`", prop.name), prop.doc, help);
    }
    for child in word.inner().filter(|child| child.occurs.required()) {
        let name = child.word.name;
        if seen.child(name).is_none() && !seen.is_broken(name) {
            miss(name, &format!("`{name}`"), child.word.doc, format!("add {} in its braces", sketch(child.word)));
        }
    }
    names
}

fn lacks(seen: &Seen<'_>, value: &Value) -> bool {
    value.occurs.required() && seen.leaf(value.name).is_none() && !seen.is_broken(value.name)
}

/// `Its rating (GAWR).` as it goes on after a colon.
pub(super) fn lower_first(doc: &str) -> String {
    let doc = doc.trim_end_matches('.');
    let mut chars = doc.chars();
    chars.next().map_or_else(String::new, |first| first.to_lowercase().chain(chars).collect())
}

/// A node with what it cannot do without.
pub(super) fn sketch(word: &Word) -> String {
    let mut out = word.name.to_owned();
    for arg in word.args.iter().filter(|arg| arg.occurs.required()) {
        out.push(' ');
        out.push_str(&placeholder(arg.takes));
    }
    for prop in word.props.iter().filter(|prop| prop.occurs.required()) {
        // Writing to a String cannot fail.
        let _ = write!(out, " {}={}", prop.name, placeholder(prop.takes));
    }
    out
}
