//! How a text for a person is dressed: colour, width, and which characters frames and bars are drawn with.

use crate::finding::Level;

/// What the rim knows about the place where a text will be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Style {
    /// Whether escape sequences for colour may be written. Every fact is told without them too.
    pub color: bool,
    /// Columns to fill. Held between [`Style::LEAST_WIDTH`] and [`Style::MOST_WIDTH`], whatever stands here.
    pub width: usize,
    /// Whether frames, bars and ellipses may leave ASCII. What a sheet says is shown as written either way.
    pub unicode: bool,
}

/// What a piece of text is, for its colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ink {
    /// The name of a level.
    Level(Level),
    /// The one thing to read.
    Strong,
    /// A word that introduces what follows.
    Lead,
    /// A bar or number of a figure within its limits.
    Good,
    /// A bar or number of a figure beyond a limit.
    Bad,
}

impl Style {
    /// Below this, words would be broken into letters.
    pub const LEAST_WIDTH: usize = 40;
    /// Beyond this, lines of prose are tiring to read.
    pub const MOST_WIDTH: usize = 120;

    /// Plain text at 80 columns, for files and pipes.
    pub const PLAIN: Self = Self { color: false, width: 80, unicode: true };

    /// The columns that are filled.
    #[must_use]
    pub fn columns(self) -> usize {
        self.width.clamp(Self::LEAST_WIDTH, Self::MOST_WIDTH)
    }

    /// The sign for left-out text.
    pub(super) const fn ellipsis(self) -> &'static str {
        if self.unicode { "…" } else { "..." }
    }

    /// The sign before a spread.
    pub(super) const fn plus_minus(self) -> &'static str {
        if self.unicode { "±" } else { "+/-" }
    }

    /// A text in its colour. The text must be free of control characters.
    pub(super) fn paint(self, ink: Ink, text: &str) -> String {
        if !self.color || text.is_empty() {
            return text.to_owned();
        }
        // ECMA-48, 8.3.117 SGR: 1 bold, 31 red, 32 green, 33 yellow, 36 cyan. Named colours only, because a reader's
        // terminal maps them to ones that can be read on its background.
        let code = match ink {
            Ink::Level(Level::Error) => "1;31",
            Ink::Level(Level::Warning) => "1;33",
            Ink::Level(Level::Note) => "1;36",
            Ink::Strong => "1",
            Ink::Lead => "36",
            Ink::Good => "32",
            Ink::Bad => "31",
        };
        format!("\u{1b}[{code}m{text}\u{1b}[0m")
    }
}
