//! What a report says of a load in a row of its index.

use std::collections::BTreeSet;

use super::Thinnest;
use crate::finding::{Finding, Level};
use crate::mend::LoadReport;
use crate::render::closing::count;
use crate::render::verdict::Verdict;

/// The findings that no waiver accepts.
fn open(findings: &[Finding]) -> impl Iterator<Item = &Finding> {
    findings.iter().filter(|finding| finding.waived.is_none())
}

/// A load in the index.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Where it is told in full: a page, and a place on it.
    pub link: String,
    /// The sheet.
    pub sheet: String,
    /// The leg, where the sheet has legs.
    pub leg: Option<String>,
    /// The name of its yard.
    pub yard: Option<String>,
    /// Truck and trailer, by name.
    pub rig: String,
    /// The file that holds it.
    pub file: String,
    /// Whether it passes.
    pub verdict: Verdict,
    /// The rules that found something, for each level, the gravest first.
    pub rules: [Vec<String>; 3],
    /// How many findings are open at each level, the gravest first.
    pub open: [usize; 3],
    /// How many are waived.
    pub waived: usize,
    /// Where the least room is left.
    pub thinnest: Option<Thinnest>,
}

/// How many loads there are, and how many of each verdict: `4 loads: 2 fail, 1 passes with warnings, 1 passes`.
#[must_use]
pub fn tally(rows: &[Row]) -> String {
    let told = Verdict::ALL.into_iter().filter_map(|verdict| {
        let number = rows.iter().filter(|row| row.verdict == verdict).count();
        let words = match (verdict, number) {
            (_, 0) => return None,
            (Verdict::Fails, 2..) => "fail",
            (Verdict::Warned, 2..) => "pass with warnings",
            (Verdict::Passes, 2..) => "pass",
            _ => verdict.told(),
        };
        Some(format!("{number} {words}"))
    });
    let told: Vec<String> = told.collect();
    let colon = if told.is_empty() { "" } else { ": " };
    format!("{}{colon}{}", count(rows.len(), "load"), told.join(", "))
}

/// Whether a load passes.
pub(super) fn verdict(load: &LoadReport) -> Verdict {
    match &load.figures.figures {
        None => Verdict::Unknown,
        Some(_) => Verdict::of(open(&load.findings).map(|finding| finding.level)),
    }
}

/// How many findings are open at each level, the gravest first.
pub(super) fn counts(findings: &[Finding]) -> [usize; 3] {
    Level::ALL.map(|level| open(findings).filter(|finding| finding.level == level).count())
}

/// The rules that have an open finding, level by level, the gravest first.
pub(super) fn rules(findings: &[Finding]) -> [Vec<String>; 3] {
    Level::ALL.map(|level| {
        let at_level = open(findings).filter(|finding| finding.level == level);
        let ids: BTreeSet<&str> = at_level.map(|finding| &*finding.rule).collect();
        ids.into_iter().map(str::to_owned).collect()
    })
}
