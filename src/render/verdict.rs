//! Whether a load passes, as reports and drawings say it.

use crate::finding::Level;

/// Whether a load passes, the worst first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// It cannot be computed.
    Unknown,
    /// An error is open.
    Fails,
    /// A warning is open.
    Warned,
    /// Neither is.
    Passes,
}

impl Verdict {
    /// All of them, the worst first.
    pub const ALL: [Self; 4] = [Self::Unknown, Self::Fails, Self::Warned, Self::Passes];

    /// As a person is told.
    #[must_use]
    pub const fn told(self) -> &'static str {
        match self {
            Self::Unknown => "cannot be computed",
            Self::Fails => "fails",
            Self::Warned => "passes with warnings",
            Self::Passes => "passes",
        }
    }

    /// That of a load that can be computed, by the levels of what is open.
    pub(super) fn of(open: impl Iterator<Item = Level>) -> Self {
        match open.max() {
            Some(Level::Error) => Self::Fails,
            Some(Level::Warning) => Self::Warned,
            Some(Level::Note) | None => Self::Passes,
        }
    }
}
