//! Why a figure has no value.

use std::sync::Arc;

use crate::model::{Missing, Owner, Ref};
use crate::physics::StaticsError;
use crate::text::Span;

/// Why a figure has no value. Never a zero, never a pass.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Lack {
    /// An entry it rests on is missing.
    Entry(Missing),
    /// What the entries say cannot be, taken together.
    Contradiction {
        /// Where to mend it.
        at: Span,
        /// What it belongs to, as a message names it.
        owner: Arc<str>,
        /// What cannot be, in trade words.
        why: Arc<str>,
    },
    /// Nothing published says how to compute it, whatever the sheet gives.
    NotKnown {
        /// What it is asked of.
        at: Span,
        /// The same as a message names it.
        owner: Arc<str>,
        /// Why nothing is claimed.
        why: Arc<str>,
    },
}

/// A value, or why there is none.
pub type Known<T> = Result<T, Lack>;

impl From<Missing> for Lack {
    fn from(missing: Missing) -> Self {
        Self::Entry(missing)
    }
}

impl Lack {
    /// A contradiction that the statics found in what this owner says.
    pub(super) fn contradiction(owner: &crate::model::Owner, why: StaticsError) -> Self {
        Self::Contradiction { at: owner.at, owner: Arc::clone(&owner.path), why: why.to_string().into() }
    }

    /// Where the entry would be written, or the contradiction mended.
    #[must_use]
    pub const fn at(&self) -> Span {
        match self {
            Self::Entry(missing) => missing.at,
            Self::Contradiction { at, .. } | Self::NotKnown { at, .. } => *at,
        }
    }

    /// Whether there is nothing to report: it has been reported where it stands.
    #[must_use]
    pub const fn is_silent(&self) -> bool {
        matches!(self, Self::Entry(Missing { broken: true, .. }))
    }
}

impl std::fmt::Display for Lack {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Entry(missing) => missing.fmt(f),
            Self::Contradiction { owner, why, .. } | Self::NotKnown { owner, why, .. } => write!(f, "{owner}: {why}"),
        }
    }
}

/// The definition that a reference names.
pub(super) fn target<'y, T>(named: Option<&Ref>, all: &'y [T], owner: &Owner, word: &'static str) -> Known<&'y T> {
    let broken = || Missing { broken: true, ..owner.lacks(word) };
    let Some(named) = named else { return Err(owner.lacks(word).into()) };
    named.target.and_then(|at| all.get(at)).ok_or_else(|| broken().into())
}
