//! What a check reports: plain data, without any form of output.

mod edit;
mod report;
mod walk;

use std::borrow::Cow;
use std::sync::Arc;

use crate::text::Span;
use crate::units::Kind;

pub use edit::{applied, shifted};
pub use report::{FigureLine, LoadFigures, ReadingLine, Report, Undecided};
pub use walk::{Gauge, OpenFault, Step, Walk, WalkLine, WalkSection};

/// How grave a finding is. The names are SARIF's (OASIS SARIF 2.1.0, 3.27.10).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Level {
    /// Advice, or a duty to keep in mind.
    Note,
    /// A fault by handbook or practice.
    Warning,
    /// A fault by law, rating or physics, or a sheet that cannot be read.
    Error,
}

impl Level {
    /// All levels, gravest first.
    pub const ALL: [Self; 3] = [Self::Error, Self::Warning, Self::Note];

    /// The level's name in sheets, rule files and output.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Error => "error",
            Self::Warning => "warning",
            Self::Note => "note",
        }
    }

    /// The level with this name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|level| level.name() == name)
    }
}

/// Text beside a place in a file.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// The place.
    pub span: Span,
    /// What it has to do with the finding.
    pub text: String,
}

/// The figure that broke a bound, in SI.
#[derive(Clone, Debug, PartialEq)]
pub struct Bounded {
    /// Its name as results write it: `trailer.axle[1].load`.
    pub name: String,
    /// Its value in the SI unit of its kind.
    pub value: f64,
    /// What it measures; `None` for a plain number.
    pub kind: Option<Kind>,
    /// Half-width of its spread, when known.
    pub plus_minus: Option<f64>,
    /// The least it may be.
    pub at_least: Option<f64>,
    /// The most it may be.
    pub at_most: Option<f64>,
}

/// How far a fix reaches.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grade {
    /// Only how something is written.
    Notation,
    /// Where the load sits or how it is held: a person must agree.
    Change,
    /// A direction, with no edit that could be applied.
    Advice,
}

/// A replacement of bytes in a file.
#[derive(Clone, Debug, PartialEq)]
pub struct Edit {
    /// What is replaced.
    pub span: Span,
    /// What stands there afterwards.
    pub text: String,
}

/// A change that cures a finding.
#[derive(Clone, Debug, PartialEq)]
pub struct Fix {
    /// What it does, as an imperative sentence.
    pub title: String,
    /// How far it reaches.
    pub grade: Grade,
    /// The edits, in order and without overlap.
    pub edits: Vec<Edit>,
}

impl Edit {
    /// Other bytes in the place of these.
    #[must_use]
    pub fn replace(span: Span, text: impl Into<String>) -> Self {
        Self { span, text: text.into() }
    }

    /// Bytes put in before the first of these.
    #[must_use]
    pub fn before(span: Span, text: impl Into<String>) -> Self {
        Self::replace(Span { end: span.start, ..span }, text)
    }

    /// Bytes put in after the last of these.
    #[must_use]
    pub fn after(span: Span, text: impl Into<String>) -> Self {
        Self::replace(Span { start: span.end, ..span }, text)
    }

    /// Bytes taken out.
    #[must_use]
    pub fn delete(span: Span) -> Self {
        Self::replace(span, "")
    }
}

impl Fix {
    /// A change of how something is written.
    #[must_use]
    pub fn notation(title: impl Into<String>, edits: Vec<Edit>) -> Self {
        Self { title: title.into(), grade: Grade::Notation, edits }
    }

    /// A direction: what to add or measure, which no edit can know.
    #[must_use]
    pub fn advice(title: impl Into<String>) -> Self {
        Self { title: title.into(), grade: Grade::Advice, edits: Vec::new() }
    }
}

/// An accepted finding: who accepted it, why and through which day.
#[derive(Clone, Debug, PartialEq)]
pub struct Waived {
    /// Why.
    pub reason: String,
    /// By whom.
    pub by: String,
    /// Through which day, as `YYYY-MM-DD`.
    pub until: String,
}

/// The reason, by whom and through which day, as a person is told.
impl std::fmt::Display for Waived {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}; by {} until {}", self.reason, self.by, self.until)
    }
}

/// A load by name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LoadName {
    /// The sheet.
    pub sheet: Arc<str>,
    /// The leg, where the sheet has legs.
    pub leg: Option<Arc<str>>,
}

/// One fault, at the place one would change to mend it.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The id of the rule.
    pub rule: Cow<'static, str>,
    /// How grave it is.
    pub level: Level,
    /// The sheet it was found in, when it belongs to one.
    pub sheet: Option<Arc<str>>,
    /// The leg of that sheet.
    pub leg: Option<Arc<str>>,
    /// Further loads in which the same fault was found: it is told once, and fails each of them.
    pub also: Vec<LoadName>,
    /// The fault with figure and limit, in one sentence without a full stop.
    pub message: String,
    /// The entry one would change, with an optional word beside it.
    pub primary: Label,
    /// Further entries that matter, in any file; at most three are shown.
    pub labels: Vec<Label>,
    /// The figure that broke a bound.
    pub figure: Option<Bounded>,
    /// Where the bound comes from, short, with its kind.
    pub source: Option<String>,
    /// One imperative sentence.
    pub help: Option<String>,
    /// Changes that cure it, each checked.
    pub fixes: Vec<Fix>,
    /// Set when a waiver accepts it.
    pub waived: Option<Waived>,
}

impl Finding {
    /// A finding with a message at a place and nothing else.
    #[must_use]
    pub fn new(rule: impl Into<Cow<'static, str>>, level: Level, span: Span, message: impl Into<String>) -> Self {
        Self {
            rule: rule.into(),
            level,
            sheet: None,
            leg: None,
            also: Vec::new(),
            message: message.into(),
            primary: Label { span, text: String::new() },
            labels: Vec::new(),
            figure: None,
            source: None,
            help: None,
            fixes: Vec::new(),
            waived: None,
        }
    }

    /// Moves every place it names into files numbered this much later: for putting runs together.
    pub fn shift_files(&mut self, by: u32) {
        let fixes = self.fixes.iter_mut().flat_map(|fix| &mut fix.edits).map(|edit| &mut edit.span);
        let labels = self.labels.iter_mut().map(|label| &mut label.span);
        for span in std::iter::once(&mut self.primary.span).chain(labels).chain(fixes) {
            span.file.0 = span.file.0.saturating_add(by);
        }
    }

    /// With one imperative sentence of help.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// With a change that cures it. Its title is the help too, until more is said, so that the two cannot disagree.
    #[must_use]
    pub fn fix(mut self, fix: Fix) -> Self {
        if self.help.is_none() {
            self.help = Some(fix.title.clone());
        }
        self.fixes.push(fix);
        self
    }

    /// With help that says how something is written, and as a fix where it is certain which bytes do it.
    #[must_use]
    pub fn notation(self, help: impl Into<String>, edits: Vec<Edit>) -> Self {
        if edits.is_empty() { self.help(help) } else { self.fix(Fix::notation(help, edits)) }
    }

    /// With a word beside the primary place.
    #[must_use]
    pub fn marked(mut self, text: impl Into<String>) -> Self {
        self.primary.text = text.into();
        self
    }

    /// With a further place.
    #[must_use]
    pub fn label(mut self, span: Span, text: impl Into<String>) -> Self {
        self.labels.push(Label { span, text: text.into() });
        self
    }
}
