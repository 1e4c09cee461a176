//! Slips that are valid KDL and yet mean something else than was meant.

use super::tree::{Node, Value};
use crate::finding::{Finding, Level};
use crate::text::Span;

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
        findings.push(colon(node.name.span, name, &format!("{word} {values}")));
    }
    let arguments: Vec<_> = node.entries.iter().collect();
    for (at, entry) in arguments.iter().enumerate() {
        let written = bare(entry.value_span);
        let is_bare = matches!(entry.value, Value::Text(_)) && entry.key.is_none();
        if !is_bare {
            continue;
        }
        if let Some((word, inline)) = split_colon(written) {
            let next = arguments.get(at + 1).map_or("", |next| bare(next.typed_span));
            let value = if inline.is_empty() { next } else { inline };
            findings.push(colon(entry.value_span, written, &format!("{word}={value}")));
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

/// The finding for a word with a colon, and what to write instead.
pub(super) fn colon(span: Span, word: &str, instead: &str) -> Finding {
    let message = format!("{} is written with a colon, which makes it another word", shown(word));
    let finding = Finding::new("unknown-word", Level::Error, span, message);
    if instead.len() <= SHOWN && !instead.contains(['\n', '\r']) {
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
