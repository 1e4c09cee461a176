//! A node after it was checked against its word: what the readers take the model from.

use std::sync::Arc;

use super::value::Got;
use super::words::{Takes, Word};
use crate::model::{Choice, Entry, LoadIndex, Origin, Owner, Ref, Slot};
use crate::syntax::Node;
use crate::text::Span;
use crate::units::{Kind, Quantity, Unit};

/// A checked node.
#[derive(Debug)]
pub(super) struct Seen<'t> {
    /// The word it is.
    pub(super) word: &'static Word,
    /// The node.
    pub(super) node: &'t Node,
    /// Its values that could be read, under the names of the vocabulary. The last of a name holds.
    pub(super) leaves: Vec<(&'static str, Leaf)>,
    /// Properties beyond the vocabulary, of a word that takes any.
    pub(super) params: Vec<(Arc<str>, Leaf)>,
    /// The checked nodes in its braces.
    pub(super) children: Vec<Seen<'t>>,
    /// Names of values and nodes that stand here but could not be read.
    pub(super) broken: Vec<&'static str>,
    /// Something in it could not be read and may be anything.
    pub(super) lost: bool,
    /// How well its numbers are known.
    pub(super) origin: Option<Origin>,
    /// How far they can be off.
    pub(super) spread: Option<(f64, Kind)>,
}

/// A value that could be read.
#[derive(Debug)]
pub(super) struct Leaf {
    pub(super) got: Got,
    /// What one would change.
    pub(super) at: Span,
    /// The value alone, its unit included; of a parameter its key.
    pub(super) written: Span,
    pub(super) unit: Option<&'static Unit>,
    /// A rating, which has no spread.
    pub(super) limit: bool,
}

/// A value of a node, and the node whose spread it has.
enum Found<'s, 't> {
    Leaf(&'s Seen<'t>, &'s Leaf),
    Broken,
    Absent,
}

impl<'t> Seen<'t> {
    /// The first node of this name in its braces.
    pub(super) fn child(&self, name: &str) -> Option<&Self> {
        self.children(name).next()
    }

    /// The nodes of this name in its braces.
    pub(super) fn children<'s>(&'s self, name: &str) -> impl Iterator<Item = &'s Self> {
        self.children.iter().filter(move |child| child.word.name == name)
    }

    /// Whether something of this name stands here and could not be read.
    pub(super) fn is_broken(&self, name: &str) -> bool {
        self.broken.contains(&name)
    }

    /// Its own value of this name.
    pub(super) fn leaf(&self, name: &str) -> Option<&Leaf> {
        self.leaves.iter().rev().find(|(own, _)| *own == name).map(|(_, leaf)| leaf)
    }

    fn find(&self, name: &str) -> Found<'_, 't> {
        debug_assert!(
            self.word.args.iter().chain(self.word.props).any(|value| value.name == name)
                || self.word.child(name).is_some(),
            "{} has no {name}",
            self.word.name
        );
        if let Some(leaf) = self.leaf(name) {
            return Found::Leaf(self, leaf);
        }
        if let Some(child) = self.child(name) {
            let first = child.word.args.first().and_then(|arg| child.leaf(arg.name));
            return first.map_or(Found::Broken, |leaf| Found::Leaf(child, leaf));
        }
        if self.is_broken(name) { Found::Broken } else { Found::Absent }
    }

    fn slot<T>(&self, name: &str, take: impl FnOnce(&Got) -> Option<T>) -> Slot<T> {
        match self.find(name) {
            Found::Absent => Slot::Absent,
            Found::Broken => Slot::Broken,
            Found::Leaf(owner, leaf) => match take(&leaf.got) {
                Some(value) => Slot::Given(owner.entry(leaf, value)),
                None => Slot::Broken,
            },
        }
    }

    /// A value with the place and spread of its leaf.
    fn entry<T>(&self, leaf: &Leaf, value: T) -> Entry<T> {
        let Got::Number(si, Some(kind)) = leaf.got else {
            return Entry { unit: leaf.unit, ..Entry::plain(value, leaf.at, leaf.written) };
        };
        let own = if leaf.limit { None } else { self.origin };
        let plus_minus = match self.spread {
            Some((half, of)) if of == kind && !leaf.limit => Some(half),
            Some((share, Kind::Share)) if !leaf.limit && !self.has_share() => Some(share * si.abs()),
            _ => None,
        };
        Entry { value, at: leaf.at, written: leaf.written, unit: leaf.unit, origin: own, plus_minus }
    }

    fn has_share(&self) -> bool {
        self.leaves.iter().any(|(_, leaf)| matches!(leaf.got, Got::Number(_, Some(Kind::Share))))
    }

    /// A quantity, from a property or from a node with one value.
    pub(super) fn quantity<Q: Quantity>(&self, name: &str) -> Slot<Q> {
        self.slot(name, |got| match got {
            Got::Number(si, Some(kind)) if *kind == Q::KIND => Some(Q::from_si(*si)),
            _ => None,
        })
    }

    /// A whole number.
    pub(super) fn count(&self, name: &str) -> Slot<u32> {
        self.slot(name, |got| if let Got::Count(count) = got { Some(*count) } else { None })
    }

    /// A yes or no.
    pub(super) fn flag(&self, name: &str) -> Slot<bool> {
        self.slot(name, |got| if let Got::Flag(yes) = got { Some(*yes) } else { None })
    }

    /// A text or name.
    pub(super) fn text(&self, name: &str) -> Slot<Arc<str>> {
        self.slot(name, |got| if let Got::Text(text) = got { Some(Arc::clone(text)) } else { None })
    }

    /// One of the words of a list.
    pub(super) fn choice<C: Choice>(&self, name: &str) -> Slot<C> {
        self.slot(name, |got| if let Got::Choice(at) = got { C::ALL.get(*at).copied() } else { None })
    }

    /// The number of a word in a list that is no [`Choice`].
    pub(super) fn choice_number(&self, name: &str) -> Slot<usize> {
        self.slot(name, |got| if let Got::Choice(at) = got { Some(*at) } else { None })
    }

    /// A load index.
    pub(super) fn load_index(&self, name: &str) -> Slot<LoadIndex> {
        self.slot(name, |got| if let Got::Index(index) = got { Some(*index) } else { None })
    }

    /// All values of a name that may stand several times.
    pub(super) fn all<'s>(&'s self, name: &str) -> impl Iterator<Item = &'s Leaf> {
        self.leaves.iter().filter(move |(own, _)| *own == name).map(|(_, leaf)| leaf)
    }

    /// The first argument, when it is a name.
    pub(super) fn name(&self) -> Option<Entry<Arc<str>>> {
        let arg = self.word.args.first().filter(|arg| arg.takes.names())?;
        match self.leaf(arg.name) {
            Some(Leaf { got: Got::Text(text), at, written, .. }) => Some(Entry::plain(Arc::clone(text), *at, *written)),
            _ => None,
        }
    }

    /// A value of the node in its braces, or what stands for it when that node is absent or could not be read.
    pub(super) fn within<T>(&self, child: Option<&Self>, name: &str, take: impl FnOnce(&Self) -> Slot<T>) -> Slot<T> {
        match child {
            Some(child) => match take(child) {
                Slot::Absent if child.lost => Slot::Broken,
                slot => slot,
            },
            None if self.is_broken(name) => Slot::Broken,
            None => Slot::Absent,
        }
    }

    /// A name of something that stands elsewhere.
    pub(super) fn reference(&self, name: &str) -> Option<Ref> {
        match self.leaf(name) {
            Some(Leaf { got: Got::Text(text), at, written, .. }) => {
                Some(Ref { name: Entry::plain(Arc::clone(text), *at, *written), target: None })
            }
            _ => None,
        }
    }

    /// The node's name and its first argument.
    pub(super) fn place(&self) -> Span {
        match self.node.entries.first() {
            Some(first) if first.key.is_none() => self.node.name.span.to(first.span),
            _ => self.node.name.span,
        }
    }

    /// As messages name it: the word, and its first argument where that tells it from its like.
    pub(super) fn label(&self) -> String {
        label(self.word, self.first())
    }

    /// The value of the first argument.
    pub(super) fn first(&self) -> Option<&Leaf> {
        self.word.args.first().and_then(|arg| self.leaf(arg.name))
    }

    /// As the model keeps it.
    pub(super) fn owner(&self, parent: &str) -> Owner {
        self.owner_called(parent, &self.label())
    }

    /// The same under another name.
    pub(super) fn owner_called(&self, parent: &str, label: &str) -> Owner {
        let path = if parent.is_empty() { Arc::from(label) } else { Arc::from(format!("{parent} {label}")) };
        Owner { path, at: self.node.head, lost: self.lost, reported: self.broken.clone() }
    }
}

/// The word, and the argument that tells the node from its like.
pub(super) fn label(word: &'static Word, first: Option<&Leaf>) -> String {
    let Some(arg) = word.args.first().filter(|arg| arg.takes.names() || word.distinct) else {
        return word.name.to_owned();
    };
    match first.map(|leaf| &leaf.got) {
        Some(Got::Text(text)) => format!("{} {}", word.name, crate::text::quoted(text)),
        Some(Got::Choice(at)) => match arg.takes {
            Takes::OneOf { word: nth, .. } => format!("{} \"{}\"", word.name, nth(*at).unwrap_or_default()),
            _ => word.name.to_owned(),
        },
        _ => word.name.to_owned(),
    }
}
