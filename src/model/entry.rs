//! Leaves of the model: a value, where it was written and how well it is known.

use std::sync::Arc;

use super::Origin;
use crate::text::Span;
use crate::units::Unit;

/// A value that a sheet gives.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry<T> {
    /// The value.
    pub value: T,
    /// What one would change to change it: the property with its key, or the child node.
    pub at: Span,
    /// The value alone, its unit included.
    pub written: Span,
    /// The unit it was written in; none for feet and inches in words and for what is not a quantity.
    pub unit: Option<&'static Unit>,
    /// How it became known.
    pub origin: Option<Origin>,
    /// Its half-width in the SI unit of its kind, when the sheet says it outright.
    pub plus_minus: Option<f64>,
}

impl<T> Entry<T> {
    /// An entry without unit, origin or spread: the place to change, and the value alone.
    pub const fn plain(value: T, at: Span, written: Span) -> Self {
        Self { value, at, written, unit: None, origin: None, plus_minus: None }
    }
}

/// A leaf that may or may not be there.
#[derive(Clone, Debug, PartialEq, Default)]
pub enum Slot<T> {
    /// Given by the sheet.
    Given(Entry<T>),
    /// Not given.
    #[default]
    Absent,
    /// Given, but not readable; what is wrong with it has been reported.
    Broken,
}

impl<T> Slot<T> {
    /// The entry, when given.
    pub const fn entry(&self) -> Option<&Entry<T>> {
        match self {
            Self::Given(entry) => Some(entry),
            Self::Absent | Self::Broken => None,
        }
    }

    /// Where it stands, when given.
    pub fn at(&self) -> Option<Span> {
        self.entry().map(|entry| entry.at)
    }

    /// Whether the sheet says nothing of it (a broken entry says something).
    pub const fn is_absent(&self) -> bool {
        matches!(self, Self::Absent)
    }
}

impl<T: Clone> Slot<T> {
    /// The value, when given.
    pub fn value(&self) -> Option<T> {
        self.entry().map(|entry| entry.value.clone())
    }

    /// The value, or what is missing, called by the word that the sheet would use for it.
    ///
    /// # Errors
    /// When the entry is absent or broken.
    pub fn need(&self, owner: &Owner, word: &'static str) -> Result<T, Missing> {
        match self {
            Self::Given(entry) => Ok(entry.value.clone()),
            Self::Absent => Err(owner.lacks(word)),
            Self::Broken => Err(Missing { broken: true, ..owner.lacks(word) }),
        }
    }

    /// The value, `otherwise` when the sheet says nothing, or what is missing when what it says is broken. Only for
    /// entries whose default the language fixes.
    ///
    /// # Errors
    /// When the entry is broken, or its owner lost some of its entries.
    pub fn or(&self, otherwise: T, owner: &Owner, word: &'static str) -> Result<T, Missing> {
        match self {
            Self::Absent if !owner.lost => Ok(otherwise),
            _ => self.need(owner, word),
        }
    }

    /// This one, or the other where this says nothing.
    #[must_use]
    pub fn or_else(&self, other: &Self) -> Self {
        if self.is_absent() { other.clone() } else { self.clone() }
    }
}

/// A node that holds entries: how messages call it and where it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Owner {
    /// As a message names it: `truck "rook" axle "rear"`.
    pub path: Arc<str>,
    /// The node's word and arguments, without its children.
    pub at: Span,
    /// Some of its entries could not be read at all, so that an absent one may stand among them.
    pub lost: bool,
    /// Words of entries and nodes that are missing or broken here, which has been reported.
    pub reported: Vec<&'static str>,
}

impl Owner {
    /// What this owner does not say.
    #[must_use]
    pub fn lacks(&self, word: &'static str) -> Missing {
        // `cg` stands for `cg arm` too.
        let told = |one: &str| word.strip_prefix(one).is_some_and(|rest| rest.is_empty() || rest.starts_with(' '));
        let broken = self.lost || self.reported.iter().any(|one| told(one));
        Missing { owner: Arc::clone(&self.path), at: self.at, word, broken }
    }
}

/// An entry that a figure needs and does not have.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Missing {
    /// Where it would be written.
    pub at: Span,
    /// The word the sheet would use for it.
    pub word: &'static str,
    /// What it belongs to, as a message names it.
    pub owner: Arc<str>,
    /// It was given but is broken, which has been reported where it stands.
    pub broken: bool,
}

impl std::fmt::Display for Missing {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} {}", self.owner, self.word)
    }
}

/// A name that stands for a definition elsewhere in the yard.
#[derive(Clone, Debug, PartialEq)]
pub struct Ref {
    /// The name as written.
    pub name: Entry<Arc<str>>,
    /// The definition's place in its list of the [`Yard`](super::Yard); none when there is no such definition.
    pub target: Option<usize>,
}
