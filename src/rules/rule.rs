//! What a rule is once it has been read.

use std::sync::Arc;

use super::Template;
use crate::expr::Expr;
use crate::figures::Each;
use crate::finding::Level;
use crate::syntax::Document;
use crate::text::Span;
use crate::units::{Kind, Unit};

/// A rule.
#[derive(Clone, Debug)]
pub struct Rule {
    /// Its id: also its file's name, its fixture's folder, its page and its code in the output.
    pub id: Arc<str>,
    /// Its pack: the name of the folder it stands in.
    pub pack: Arc<str>,
    /// Where its id is written.
    pub at: Span,
    /// Whether it is one of ours.
    pub builtin: bool,
    /// How grave a finding of it is; the yard may have moved it.
    pub level: Level,
    /// Whether the yard turned it off.
    pub off: bool,
    /// The fault in trade words.
    pub title: Arc<str>,
    /// How it is found.
    pub found_by: FoundBy,
    /// Its parameters, as the yard has them.
    pub params: Vec<Param>,
    /// Where a state's figure differs from the parameter's value.
    pub states: Vec<StateFigure>,
    /// Whether being within the spread of its bound is worth a word; not where things are meant to stand at the bound.
    pub thin: bool,
    /// Rules beside which it stays silent about the same load.
    pub gives_way_to: Vec<(Arc<str>, Span)>,
    /// What a fix may change.
    pub cure: Vec<Arc<str>>,
    /// Where its bound comes from.
    pub source: Citation,
    /// Its meaning, for `why` and the book.
    pub why: Arc<str>,
    /// Small sheets that fail and pass.
    pub examples: Vec<Example>,
}

/// How a rule's fault is found.
#[derive(Clone, Debug)]
pub enum FoundBy {
    /// By its condition, asked of each subject.
    Condition(Vec<Ask>),
    /// While a sheet is read.
    Reading,
    /// By the checker itself, from what conditions lack.
    Checking,
    /// By the search for a place that keeps every limit.
    Placing,
}

/// A rule's condition for one kind of subject.
#[derive(Clone, Debug)]
pub struct Ask {
    /// Of whom it is asked.
    pub each: Each,
    /// When it is asked at all.
    pub when: Option<Expr>,
    /// What must hold.
    pub require: Expr,
    /// Where to point, best first.
    pub points: Vec<Arc<str>>,
    /// What to say.
    pub say: Template,
    /// What to do.
    pub help: Option<Template>,
}

/// A parameter.
#[derive(Clone, Debug)]
pub struct Param {
    /// Its name in conditions and in `set`.
    pub name: Arc<str>,
    /// Its value in the SI unit of its kind.
    pub value: f64,
    /// What it measures; none for a plain number.
    pub kind: Option<Kind>,
    /// The unit it was written in.
    pub unit: Option<&'static Unit>,
    /// What it is.
    pub doc: Arc<str>,
    /// Where its value is written: in the rule file, or where the yard set it.
    pub at: Span,
    /// Whether the yard moved it.
    pub moved: bool,
    /// Whether a yard may loosen it though its rule rests on law, a rating or physics: where the law itself differs from
    /// place to place.
    pub may_loosen: bool,
}

/// What a parameter is in one state.
#[derive(Clone, Debug)]
pub struct StateFigure {
    /// The state's names: in full and in short.
    pub names: Vec<Arc<str>>,
    /// The parameter.
    pub param: Arc<str>,
    /// Its value in the SI unit of its kind.
    pub value: f64,
    /// The unit it was written in.
    pub unit: Option<&'static Unit>,
}

/// Whose authority stands behind a rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SourceKind {
    /// A law or regulation.
    Law,
    /// A published standard.
    Standard,
    /// A handbook.
    Handbook,
    /// A maker's rating.
    Rating,
    /// Mechanics.
    Physics,
    /// Common practice.
    Practice,
    /// The company's own.
    Company,
}

impl SourceKind {
    /// All of them.
    pub const ALL: [Self; 7] =
        [Self::Law, Self::Standard, Self::Handbook, Self::Rating, Self::Physics, Self::Practice, Self::Company];

    /// As a rule file writes it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Law => "law",
            Self::Standard => "standard",
            Self::Handbook => "handbook",
            Self::Rating => "rating",
            Self::Physics => "physics",
            Self::Practice => "practice",
            Self::Company => "company",
        }
    }

    /// Whether a company may not turn such a rule off, lower its level or waive its findings.
    #[must_use]
    pub const fn binds(self) -> bool {
        matches!(self, Self::Law | Self::Rating | Self::Physics)
    }
}

/// How well a source's number is known to us.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Status {
    /// The text itself was read.
    Seen,
    /// Read where others quote it.
    Secondary,
    /// From memory.
    Memory,
    /// Worked out.
    Derived,
}

impl Status {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Seen, Self::Secondary, Self::Memory, Self::Derived];

    /// As a rule file writes it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Seen => "seen",
            Self::Secondary => "secondary",
            Self::Memory => "memory",
            Self::Derived => "derived",
        }
    }

    /// What it means, for `why`.
    #[must_use]
    pub const fn meaning(self) -> &'static str {
        match self {
            Self::Seen => "the text itself was read",
            Self::Secondary => "known from where others quote it",
            Self::Memory => "from memory: check it before you rely on it",
            Self::Derived => "worked out from first principles",
        }
    }
}

/// Where a bound comes from.
#[derive(Clone, Debug)]
pub struct Citation {
    /// Short.
    pub text: Arc<str>,
    /// Whose authority.
    pub kind: SourceKind,
    /// How well it is known.
    pub status: Option<Status>,
}

impl Citation {
    /// As a finding shows it, with its kind.
    #[must_use]
    pub fn shown(&self) -> String {
        let kind = self.kind.word();
        // "rating: the maker's rating" would say it twice.
        if self.text.contains(kind) { self.text.to_string() } else { format!("{} ({kind})", self.text) }
    }
}

/// A small sheet that fails or passes.
#[derive(Clone, Debug)]
pub struct Example {
    /// Whether it has exactly one finding, of this rule, or none.
    pub fails: bool,
    /// What it says.
    pub body: ExampleBody,
    /// Where it stands.
    pub at: Span,
}

/// How an example is written.
#[derive(Clone, Debug)]
pub enum ExampleBody {
    /// As nodes of the rule file.
    Nodes(Document),
    /// As a text of its own, for what is not valid KDL.
    Text(Arc<str>),
}

impl Rule {
    /// Its conditions, one for each kind of subject; none for a rule that is not found by a condition.
    #[must_use]
    pub fn asks(&self) -> &[Ask] {
        match &self.found_by {
            FoundBy::Condition(asks) => asks,
            FoundBy::Reading | FoundBy::Checking | FoundBy::Placing => &[],
        }
    }

    /// Whether a company may not turn it off, lower it or waive it.
    #[must_use]
    pub fn is_binding(&self) -> bool {
        self.source.kind.binds() || &*self.pack == "entries"
    }
}
