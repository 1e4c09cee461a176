//! Slips that are valid KDL and yet mean something else than was meant.

use super::tree::{Node, Value};
use crate::finding::{Finding, Level};
use crate::text::Span;
use crate::units::meant;

/// The longest piece of the user's text that help repeats.
pub(super) const SHOWN: usize = 60;

/// Slips that are valid KDL and yet mean something else: `weight: 4200` is a node named `weight:`. Adds a finding for
/// each and says whether there was one.
pub(super) fn slips(text: &str, node: &Node, findings: &mut Vec<Finding>) -> bool {
    let before = findings.len();
    let bare = |span: Span| text.get(span.range()).unwrap_or("");
    let name = bare(node.name.span);
    if let Some((word, inline)) = split_colon(name) {
        let rest = text.get(node.name.span.end as usize..node.head.end as usize).unwrap_or("").trim();
        let values = [inline, rest].into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" ");
        findings.push(colon(node.name.span, name, &format!("{word} {}", unit_first(&values))));
    }
    let arguments: Vec<_> = node.entries.iter().collect();
    for (at, entry) in arguments.iter().enumerate() {
        let written = bare(entry.value_span);
        let is_bare = matches!(entry.value, Value::Text(_)) && entry.key.is_none();
        if !is_bare {
            continue;
        }
        if let Some((word, inline)) = split_colon(written) {
            let following = |nth: usize| arguments.get(at + nth).map_or("", |next| bare(next.typed_span));
            let (value, next) = if inline.is_empty() { (following(1), following(2)) } else { (inline, following(1)) };
            findings.push(colon(entry.value_span, written, &format!("{word}={}", with_unit(value, next))));
        } else if written.starts_with('\'') {
            let finding = Finding::new("not-kdl", Level::Error, entry.value_span, "text stands in double quotes");
            findings.push(finding.help(format!("write \"{}\"", shown(written.trim_matches('\'')))));
        }
    }
    findings.len() > before
}

/// A bare word with a colon at its end or in it, in two.
pub(super) fn split_colon(word: &str) -> Option<(&str, &str)> {
    if word.starts_with(['"', '#']) {
        return None;
    }
    word.split_once(':').filter(|(before, _)| !before.is_empty())
}

/// A value as a sheet writes it, with the word after it when that is its unit.
pub(super) fn with_unit(value: &str, next: &str) -> String {
    if meant(next).is_some() { unit_first(&format!("{value} {next}")) } else { unit_first(value) }
}

/// `11000 lb`, `58in` or `4200`, each as a sheet writes it; anything else as it stands. What takes a unit and what is a
/// count is not known here, so a number alone keeps both ways open.
fn unit_first(values: &str) -> String {
    let end = values.find(|c: char| !(c.is_ascii_digit() || "+-._,".contains(c))).unwrap_or(values.len());
    let (number, rest) = values.split_at_checked(end).unwrap_or((values, ""));
    let number = number.replace(',', "");
    if number.parse::<f64>().is_err() {
        return values.to_owned();
    }
    match meant(rest) {
        Some(unit) if unit.symbol.contains('/') => format!("(\"{}\"){number}", unit.symbol),
        Some(unit) => format!("({}){number}", unit.symbol),
        None if rest.is_empty() => {
            format!("{number}, with its unit before the number, as (lb){number}, unless it is a count")
        }
        None => values.to_owned(),
    }
}

/// The finding for a word with a colon, and what to write instead.
pub(super) fn colon(span: Span, word: &str, instead: &str) -> Finding {
    let message = format!("{} is written with a colon, which makes it another word", shown(word));
    let finding = Finding::new("unknown-word", Level::Error, span, message);
    // What is said of a unit comes on top.
    if instead.len() <= 2 * SHOWN && !instead.contains(['\n', '\r']) {
        finding.help(format!("write {}", instead.trim_end()))
    } else {
        finding.help("write it without the colon")
    }
}

/// As much of a word as a message repeats.
pub(super) fn shown(word: &str) -> &str {
    let end = word.char_indices().nth(SHOWN).map_or(word.len(), |(at, _)| at);
    word.get(..end).unwrap_or("")
}
