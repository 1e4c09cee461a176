//! What a word cannot do without and a node does not say.

use super::add::{property, sketch};
use super::around::Around;
use super::seen::Seen;
use super::words::Value;
use super::write::placeholder;
use crate::finding::{Finding, Fix, Level};
use crate::text::all_of;

/// A finding for each, and their names. Nothing is missed where something was lost: it may be just that.
pub(super) fn missing(seen: &Seen<'_>, around: &Around<'_>, findings: &mut Vec<Finding>) -> Vec<&'static str> {
    let mut names = Vec::new();
    if seen.lost {
        return names;
    }
    let word = seen.word;
    let mut miss = |own: &[&'static str], what: &str, doc: &str, help: String| {
        names.extend(own);
        let message = format!("{} lacks {what}{doc}", seen.label());
        findings.push(Finding::new("missing-entry", Level::Error, seen.place(), message).fix(Fix::advice(help)));
    };
    for arg in word.args.iter().filter(|arg| lacks(seen, arg)) {
        let help = format!("write {} {}", word.name, placeholder(arg.takes, around.system()));
        // `Its name.` says nothing of a name.
        let says_no_more = arg.doc.trim_end_matches('.').split_whitespace().count() == 2 && arg.doc.contains(arg.name);
        let doc = if says_no_more { String::new() } else { after_colon(arg.doc) };
        miss(&[arg.name], &format!("its {}", arg.name), &doc, help);
    }
    // All that its line lacks is mended in one go.
    let props: Vec<&Value> = word.props.iter().filter(|prop| lacks(seen, prop)).collect();
    if !props.is_empty() {
        let own: Vec<&str> = props.iter().map(|prop| prop.name).collect();
        let quoted: Vec<String> = own.iter().map(|name| format!("`{name}`")).collect();
        let doc = if let [only] = props.as_slice() { after_colon(only.doc) } else { String::new() };
        let add: Vec<String> = props.iter().map(|prop| property(prop, around.system())).collect();
        miss(&own, &all_of(&quoted), &doc, format!("add {} to its line", add.join(" ")));
    }
    for child in word.inner().filter(|child| child.occurs.required()) {
        let name = child.word.name;
        if seen.child(name).is_none() && !seen.is_broken(name) {
            let help = format!("add {} in its braces", sketch(child.word, around.system()));
            miss(&[name], &format!("`{name}`"), &after_colon(child.word.doc), help);
        }
    }
    names
}

fn lacks(seen: &Seen<'_>, value: &Value) -> bool {
    value.occurs.required() && seen.leaf(value.name).is_none() && !seen.is_broken(value.name)
}

fn after_colon(doc: &str) -> String {
    format!(": {}", lower_first(doc))
}

/// `Its rating (GAWR).` as it goes on after a colon.
pub(super) fn lower_first(doc: &str) -> String {
    let doc = doc.trim_end_matches('.');
    let mut chars = doc.chars();
    chars.next().map_or_else(String::new, |first| first.to_lowercase().chain(chars).collect())
}
