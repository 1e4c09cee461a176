//! What a crew goes through for one load, as plain data: what to do, what to read on a gauge, what to know.

use std::sync::Arc;

use super::Level;
use crate::text::FileId;
use crate::units::{Kind, System};

/// A crew's list for one load.
#[derive(Clone, Debug, PartialEq)]
pub struct Walk {
    /// The sheet.
    pub sheet: Arc<str>,
    /// The leg, where the sheet has legs.
    pub leg: Option<Arc<str>>,
    /// The file that holds the sheet.
    pub file: FileId,
    /// Truck and trailer, by name.
    pub rig: String,
    /// The units in which its gauges are told.
    pub system: System,
    /// The day by which it was made, as `YYYY-MM-DD`.
    pub day: Arc<str>,
    /// What is open at the level of a warning or an error: with any of these the load is not ready.
    pub open: Vec<OpenFault>,
    /// What a waiver accepts, with its reason, by whom, and through which day.
    pub accepted: Vec<String>,
    /// Set when the load cannot be computed: what is missing. There are no sections then.
    pub missing: Option<Vec<String>>,
    /// The list, part by part, in the order in which it is gone through.
    pub sections: Vec<WalkSection>,
}

impl Walk {
    /// Whether nothing stands against driving off, as far as the sheet goes.
    #[must_use]
    pub fn is_ready(&self) -> bool {
        self.open.is_empty() && self.missing.is_none()
    }
}

/// A finding that keeps a load from being ready.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OpenFault {
    /// How grave it is.
    pub level: Level,
    /// The rule's id.
    pub rule: String,
    /// The same message that a check tells.
    pub message: String,
}

/// A part of the list.
#[derive(Clone, Debug, PartialEq)]
pub struct WalkSection {
    /// Its heading.
    pub title: &'static str,
    /// What stands in it, in order.
    pub lines: Vec<WalkLine>,
}

/// A line of the list.
#[derive(Clone, Debug, PartialEq)]
pub enum WalkLine {
    /// A heading within the part: the item that the next lines are about.
    Item(String),
    /// Something to do, with a box to tick.
    Step(Step),
    /// A number to read on a gauge or scale, with a box to tick.
    Gauge(Gauge),
    /// Something to know.
    Note(String),
}

/// Something to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// What.
    pub text: String,
    /// What belongs to it: numbers and where to look.
    pub more: Vec<String>,
    /// What is written down beside it: a word before the blank, and the unit after it.
    pub blanks: Vec<(&'static str, &'static str)>,
}

impl Step {
    /// Something to do and nothing more.
    #[must_use]
    pub fn new(text: impl Into<String>) -> Self {
        Self { text: text.into(), more: Vec::new(), blanks: Vec::new() }
    }
}

/// A number to read, all of it in the SI unit of its kind.
#[derive(Clone, Debug, PartialEq)]
pub struct Gauge {
    /// What is read, and on which gauge.
    pub what: String,
    /// The figure's name as results write it.
    pub figure: String,
    /// What it measures.
    pub kind: Kind,
    /// What is expected.
    pub value: f64,
    /// Half-width of that, when known.
    pub plus_minus: Option<f64>,
    /// The tightest least value that a rule asks for.
    pub at_least: Option<f64>,
    /// The tightest largest value that a rule allows.
    pub at_most: Option<f64>,
}
