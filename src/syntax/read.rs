//! The parser's tree as ours, with spans in the whole text.
//!
//! Measured of `kdl` 6.7: spans are bytes; a node's span takes in blanks after it; an annotation's span is the bare word;
//! a value has none, but its representation is kept and ends where its entry ends.

use std::sync::Arc;

use kdl::{KdlDocument, KdlEntry, KdlIdentifier, KdlNode, KdlValue};

use super::outline::Outline;
use super::tree::{Entry, Node, Value, Word};
use super::valid;
use crate::finding::Finding;
use crate::text::{FileId, Span};

/// Turns parsed documents into nodes.
pub(super) struct Reader<'a> {
    pub(super) file: FileId,
    pub(super) text: &'a str,
    pub(super) outline: &'a Outline,
    /// Slips in text that is valid, as a name that ends in a colon.
    pub(super) findings: Vec<Finding>,
}

impl Reader<'_> {
    /// The nodes of a document that was parsed from the text at `base`, and where nodes with a slip stand.
    pub(super) fn nodes(&mut self, document: &KdlDocument, base: usize) -> (Vec<Node>, Vec<Span>) {
        let mut nodes = Vec::with_capacity(document.nodes().len());
        let mut lost = Vec::new();
        for node in document.nodes() {
            let read = self.node(node, base);
            if valid::slips(self.text, &read, &mut self.findings) {
                lost.push(read.span);
            } else {
                nodes.push(read);
            }
        }
        (nodes, lost)
    }

    /// A node. Recurses once per level of nesting, which the scan has limited.
    fn node(&mut self, node: &KdlNode, base: usize) -> Node {
        let name = self.word(node.name(), base);
        let ty = node.ty().map(|ty| self.word(ty, base));
        let entries: Vec<Entry> = node.entries().iter().map(|entry| self.entry(entry, base)).collect();
        let start = base + node.span().offset();
        let head_end = entries.last().map_or(name.span, |entry| entry.span).end as usize;
        let mut end = head_end;
        let mut children = None;
        let mut lost = Vec::new();
        if let Some(inner) = node.children() {
            let block = self.outline.live_block(head_end);
            // Where the scan takes a block for switched off and the parser does not, the parser's own span has to do.
            let whole =
                self.text.get(start..start + node.span().len()).map_or(end, |text| start + text.trim_end().len());
            end = block.and_then(|block| block.close).map_or(whole, |close| close + 1).max(end);
            let (nodes, broken) = self.nodes(inner, base);
            children = Some(nodes);
            lost = broken;
        }
        let span = |end: usize| Span::new(self.file, start..end);
        Node { name, ty, entries, children, lost, span: span(end), head: span(head_end) }
    }

    fn word(&self, word: &KdlIdentifier, base: usize) -> Word {
        let start = base + word.span().offset();
        Word { text: Arc::from(word.value()), span: Span::new(self.file, start..start + word.span().len()) }
    }

    fn entry(&self, entry: &KdlEntry, base: usize) -> Entry {
        let start = base + entry.span().offset();
        let end = start + entry.span().len();
        let key = entry.name().map(|key| self.word(key, base));
        let ty = entry.ty().map(|ty| self.word(ty, base));
        let written = entry.format().map_or("", |format| format.value_repr.as_str());
        let value_start = end.saturating_sub(written.len()).max(start);
        let typed_start = match (&ty, &key) {
            (Some(ty), Some(key)) => self.parenthesis(key.span.end as usize, ty.span.start as usize),
            (_, None) => Some(start),
            (None, Some(_)) => Some(value_start),
        };
        let span = |start: usize| Span::new(self.file, start..end);
        Entry {
            key,
            ty,
            value: value(entry.value()),
            span: span(start),
            value_span: span(value_start),
            typed_span: span(typed_start.unwrap_or(value_start)),
        }
    }

    /// The parenthesis of an annotation, between a key and the annotation's word. Comments may stand in between on both
    /// sides of it, so tokens decide.
    fn parenthesis(&self, from: usize, to: usize) -> Option<usize> {
        use super::lex::{Kind, Lexer};
        Lexer::new(self.text, from..to).find(|token| token.kind == Kind::ParenOpen).map(|token| token.start)
    }
}

fn value(value: &KdlValue) -> Value {
    match value {
        KdlValue::String(text) => Value::Text(Arc::from(text.as_str())),
        #[expect(clippy::cast_precision_loss, reason = "the exact integer is kept beside its nearest float")]
        KdlValue::Integer(integer) => Value::Number { value: *integer as f64, integer: Some(*integer) },
        KdlValue::Float(value) => Value::Number { value: *value, integer: None },
        KdlValue::Bool(flag) => Value::Bool(*flag),
        KdlValue::Null => Value::Null,
    }
}
