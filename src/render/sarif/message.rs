//! Words for people in a SARIF log: plain text in which nothing is a placeholder, a link or a character that acts.

use super::wire::Message;
use crate::finding::Finding;
use crate::render::place::shown;

/// A plain text (3.11.3).
pub(super) fn told(text: &str) -> Message {
    Message { text: inert(text), markdown: None }
}

/// A finding in words: first what is wrong, for a list that shows only the first sentence; then what to do, and where
/// the bound comes from.
pub(super) fn message(finding: &Finding) -> Message {
    let mut parts = vec![sentence(&inert(&finding.message))];
    let help = finding.help.iter().chain(finding.fixes.iter().map(|fix| &fix.title));
    let mut said: Vec<&String> = Vec::new();
    for help in help {
        if !said.contains(&help) {
            said.push(help);
            parts.push(format!("Help: {}", sentence(&inert(help))));
        }
    }
    parts.extend(finding.source.iter().map(|source| format!("Source: {}", sentence(&inert(source)))));
    Message { text: parts.join("\n\n"), markdown: None }
}

fn sentence(text: &str) -> String {
    let ends = text.ends_with(['.', '?', ':']);
    format!("{text}{}", if ends { "" } else { "." })
}

/// On one line, without characters that act; braces doubled, so that none is a placeholder (3.11.5); and `](` parted, so
/// that nothing is a link (3.11.6).
fn inert(text: &str) -> String {
    shown(text).replace('{', "{{").replace('}', "}}").replace("](", "] (")
}
