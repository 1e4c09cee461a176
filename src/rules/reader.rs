//! What every part of a rule is read with: children, texts, places in the file, and the findings they give.

use std::ops::Range;
use std::sync::Arc;

use super::read::BROKEN;
use crate::finding::{Finding, Level};
use crate::syntax::{Entry, Node, Value};
use crate::text::Span;

/// Reads one rule.
pub(super) struct Reader<'t> {
    pub(super) text: &'t str,
    /// The explanation was cut off.
    pub(super) working: bool,
    pub(super) findings: Vec<Finding>,
    /// Words that were most likely meant by others: they are not told to be missing on top.
    pub(super) meant: Vec<&'static str>,
    /// Parameters that could not be read: a condition that names one is not at fault on top.
    pub(super) unread: Vec<Arc<str>>,
}

impl Reader<'_> {
    /// A child that must be there.
    pub(super) fn required<'n>(&mut self, node: &'n Node, word: &'static str) -> Option<&'n Node> {
        let found = child(node, word);
        if found.is_none() && !self.meant.contains(&word) {
            let message = format!("this rule does not say its {word}");
            self.wrong(node.head, message, Some(format!("add {word}")));
        }
        if let Some(again) = children(node, word).nth(1) {
            self.wrong(again.name.span, format!("`{word}` stands twice"), Some("keep one of them".to_owned()));
        }
        found
    }

    /// All texts of all children of one word.
    pub(super) fn words(&mut self, node: &Node, word: &str) -> Vec<(Arc<str>, Span)> {
        let mut all = Vec::new();
        for entry in children(node, word).flat_map(Node::arguments) {
            match &entry.value {
                Value::Text(text) => all.push((Arc::clone(text), entry.span)),
                _ => self.wrong(entry.span, format!("`{word}` takes names in quotes"), None),
            }
        }
        all
    }

    pub(super) fn text_entry<'n>(&mut self, node: &'n Node, what: &str) -> Option<(Arc<str>, &'n Entry)> {
        let first = node.arguments().next();
        if let Some(entry @ Entry { value: Value::Text(text), ty: None, .. }) = first {
            return Some((Arc::clone(text), entry));
        }
        let at = first.map_or(node.head, |entry| entry.typed_span);
        self.wrong(at, format!("{what} must be a text"), Some(format!("write {} \"…\"", node.name.text)));
        None
    }

    pub(super) fn text_argument(&mut self, node: &Node, what: &str) -> Option<Arc<str>> {
        self.text_entry(node, what).map(|(text, _)| text)
    }

    pub(super) fn text_property(&mut self, node: &Node, key: &str) -> Option<Arc<str>> {
        let entry = property(node, key)?;
        if let Value::Text(text) = &entry.value {
            return Some(Arc::clone(text));
        }
        self.wrong(entry.span, format!("`{key}` takes a text"), None);
        None
    }

    pub(super) fn one_of(&mut self, node: &Node, words: &[&str]) -> Option<Arc<str>> {
        let text = self.text_argument(node, "this")?;
        if words.contains(&&*text) {
            return Some(text);
        }
        let span = node.arguments().next().map_or(node.head, |entry| entry.span);
        let help = format!("write one of {}", words.join(", "));
        self.wrong(span, format!("`{}` cannot be \"{text}\"", node.name.text), Some(help));
        None
    }

    /// The bytes in the file of a range in a text it quotes; the whole value where escapes stand in between.
    pub(super) fn within(&self, entry: &Entry, value: &str, range: Range<usize>) -> Span {
        let whole = entry.value_span;
        let written = self.text.get(whole.range()).unwrap_or("");
        match written.find(value) {
            Some(at) if !value.is_empty() => {
                let start = whole.range().start + at;
                Span::new(whole.file, start + range.start..start + range.end)
            }
            _ => whole,
        }
    }

    pub(super) fn wrong(&mut self, span: Span, message: String, help: Option<String>) {
        // The same text is checked once for each subject of a rule.
        if self.findings.iter().any(|one| one.primary.span == span && one.message == message) {
            return;
        }
        let finding = Finding::new(BROKEN, Level::Error, span, message);
        self.findings.push(match help {
            Some(help) => finding.help(help),
            None => finding,
        });
    }
}

pub(super) fn children<'n>(node: &'n Node, word: &str) -> impl Iterator<Item = &'n Node> {
    node.children().filter(move |child| &*child.name.text == word)
}

pub(super) fn property<'n>(node: &'n Node, key: &str) -> Option<&'n Entry> {
    node.properties().find(|(word, _)| &*word.text == key).map(|(_, entry)| entry)
}

pub(super) fn child<'n>(node: &'n Node, word: &str) -> Option<&'n Node> {
    children(node, word).next()
}
