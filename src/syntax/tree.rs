//! The tree: nodes, entries and values, each with its bytes in the text.

use std::sync::Arc;

use crate::text::Span;

/// A file's nodes.
#[derive(Clone, Debug, PartialEq)]
pub struct Document {
    /// The top-level nodes that could be read, in order.
    pub nodes: Vec<Node>,
    /// Top-level nodes that could not be read; each has a finding.
    pub lost: Vec<Lost>,
    /// The whole text.
    pub span: Span,
}

/// A broken top-level node: what can still be told of it, so that a name it defines need not count as unknown.
#[derive(Clone, Debug, PartialEq)]
pub struct Lost {
    /// Where it stands.
    pub span: Span,
    /// Its first word, as far as it can be told: `truck`.
    pub name: Option<Arc<str>>,
    /// The first text on its line after that: `rook`.
    pub id: Option<Arc<str>>,
}

/// A node: a name, what stands on its line, and what stands in its braces.
#[derive(Clone, Debug, PartialEq)]
pub struct Node {
    /// The name.
    pub name: Word,
    /// The type annotation before the name.
    pub ty: Option<Word>,
    /// Arguments and properties in the order in which they stand; a property that stands twice is here twice.
    pub entries: Vec<Entry>,
    /// The nodes in its braces, when it has braces.
    pub children: Option<Vec<Node>>,
    /// Pieces of this node that could not be read: broken children, text after the closing brace, a brace that is not
    /// closed. Each has a finding. What rests on such a node must say so instead of guessing.
    pub lost: Vec<Span>,
    /// From annotation or name to the end of the last entry or the closing brace, without blanks after it.
    pub span: Span,
    /// The same without the braces and what is in them.
    pub head: Span,
}

/// A name, a key or the word of an annotation.
#[derive(Clone, Debug, PartialEq)]
pub struct Word {
    /// What it says, with quotes and escapes resolved.
    pub text: Arc<str>,
    /// Its bytes, quotes included; for an annotation without the parentheses.
    pub span: Span,
}

/// An argument or a property.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// The key of a property; `None` for an argument.
    pub key: Option<Word>,
    /// The annotation of the value, as `lb` in `(lb)4360`.
    pub ty: Option<Word>,
    /// The value.
    pub value: Value,
    /// The whole entry: `weighed=(lb)4360`.
    pub span: Span,
    /// The bare value: `4360`.
    pub value_span: Span,
    /// The value with its annotation: `(lb)4360`.
    pub typed_span: Span,
}

/// A value.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A text, with quotes and escapes resolved.
    Text(Arc<str>),
    /// A number.
    Number {
        /// Nearest `f64`. Infinite for `#inf` and for numbers beyond its range as `1e400`, not a number for `#nan`:
        /// ask [`Value::is_finite`].
        value: f64,
        /// The same exactly, when it was written without fraction and exponent.
        integer: Option<i128>,
    },
    /// `#true` or `#false`.
    Bool(bool),
    /// `#null`.
    Null,
}

impl Document {
    /// Whether every node could be read, inner ones included.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        self.lost.is_empty() && self.nodes.iter().all(Node::is_whole)
    }
}

impl Node {
    /// Whether this node and all within it could be read. Nesting is limited, so this does not go deep.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        self.lost.is_empty() && self.children.iter().flatten().all(Self::is_whole)
    }

    /// The values without a key, in order.
    pub fn arguments(&self) -> impl Iterator<Item = &Entry> {
        self.entries.iter().filter(|entry| entry.key.is_none())
    }

    /// The values with a key, in order.
    pub fn properties(&self) -> impl Iterator<Item = (&Word, &Entry)> {
        self.entries.iter().filter_map(|entry| entry.key.as_ref().map(|key| (key, entry)))
    }

    /// The nodes in its braces; none when it has no braces.
    pub fn children(&self) -> impl Iterator<Item = &Self> {
        self.children.iter().flatten()
    }
}

impl Value {
    /// Whether this is anything but a number that is infinite or none at all.
    #[must_use]
    pub fn is_finite(&self) -> bool {
        match self {
            Self::Number { value, .. } => value.is_finite(),
            _ => true,
        }
    }
}
