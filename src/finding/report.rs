//! What a whole run has to tell: findings, and the figures of each load.

use std::sync::Arc;

use super::{Finding, Level};
use crate::text::{FileId, Sources};
use crate::units::{Kind, System, Unit};

/// The result of a check, ready to be written in any format.
#[derive(Debug)]
pub struct Report<'a> {
    /// The files that spans refer to.
    pub sources: &'a Sources,
    /// The findings, in order of file and place.
    pub findings: &'a [Finding],
    /// How many files of ours were read.
    pub files: usize,
    /// How many loads were checked.
    pub loads: usize,
}

impl Report<'_> {
    /// How many findings of a level count toward the gate: waived ones do not.
    #[must_use]
    pub fn count(&self, level: Level) -> usize {
        self.findings.iter().filter(|finding| finding.level == level && finding.waived.is_none()).count()
    }

    /// How many findings are waived.
    #[must_use]
    pub fn waived(&self) -> usize {
        self.findings.iter().filter(|finding| finding.waived.is_some()).count()
    }
}

/// The figures of one load.
#[derive(Clone, Debug, PartialEq)]
pub struct LoadFigures {
    /// The sheet.
    pub sheet: Arc<str>,
    /// The leg, where the sheet has legs.
    pub leg: Option<Arc<str>>,
    /// The file that holds the sheet.
    pub file: FileId,
    /// Truck and trailer, by name.
    pub rig: String,
    /// The units in which a person is shown them.
    pub system: System,
    /// The figures in the registry's order; none when the load cannot be computed, or
    /// when they were not asked for.
    pub figures: Option<Vec<FigureLine>>,
    /// What gauges showed beside what is computed, in the order of the sheet; none when figures were not asked for.
    pub readings: Vec<ReadingLine>,
    /// Rules that could not be judged, and for want of what.
    pub undecided: Vec<Undecided>,
}

/// A number that a gauge showed, beside the figure that it is a reading of; all numbers in the SI unit of its kind.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadingLine {
    /// The gauge, as the sheet names it.
    pub name: Arc<str>,
    /// The figure's name as results write it.
    pub figure: String,
    /// How a text for a person names the figure.
    pub noun: &'static str,
    /// What it measures.
    pub kind: Kind,
    /// The unit it was written in.
    pub unit: Option<&'static Unit>,
    /// What was read.
    pub read: f64,
    /// Half-width of that.
    pub plus_minus: f64,
    /// What is computed; none where the reading is void or the figure is not known.
    pub computed: Option<f64>,
    /// Half-width of that.
    pub computed_plus_minus: Option<f64>,
    /// Whether the rear stands bore, as the sheet says.
    pub stands: Option<&'static str>,
    /// Whether both together can be off by what they lie apart; none where they cannot be compared.
    pub agrees: Option<bool>,
    /// What the computed figure rests on by assumption.
    pub assumes: Option<&'static str>,
}

/// One figure of a load.
#[derive(Clone, Debug, PartialEq)]
pub struct FigureLine {
    /// Its name as results write it.
    pub name: String,
    /// What it is a figure of, as a text for a person names it: `trailer sled-20`.
    pub of: String,
    /// How a text for a person names it beside that: `tongue weight`.
    pub noun: &'static str,
    /// Its value in the SI unit of its kind; none when an entry it rests on is missing.
    pub value: Option<f64>,
    /// What it measures; none for a plain number.
    pub kind: Option<Kind>,
    /// Half-width of its spread, when known.
    pub plus_minus: Option<f64>,
    /// The tightest least value a rule asks for, with the rule's id.
    pub at_least: Option<(f64, Arc<str>)>,
    /// The tightest largest value a rule allows, with the rule's id.
    pub at_most: Option<(f64, Arc<str>)>,
    /// What it rests on by assumption, to be told beside it.
    pub assumes: Option<&'static str>,
}

/// A rule that could not be judged.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Undecided {
    /// The rule's id.
    pub rule: Arc<str>,
    /// The entry it lacks, as a message names it.
    pub missing: String,
}
