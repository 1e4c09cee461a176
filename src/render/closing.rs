//! What stands once at the end of every text: what was checked, and what this tool cannot know.

use super::Style;
use super::wrap::paragraph;
use crate::finding::{Level, Report};

/// The caution that every text output ends with, once.
pub const CAUTION: &str = "This checks the sheet, not the truck: verify on a scale, follow the makers' manuals and \
                           local law, and ask a licensed professional where the load calls for one.";

/// The caution in lines of the style's width.
#[must_use]
pub fn caution(style: Style) -> String {
    let mut out = String::new();
    paragraph(&mut out, "", CAUTION, 0, style.columns());
    out
}

/// What was checked and what was found, in one line where the width allows it: `9 files, 3 loads: 2 errors, 1 warning`.
#[must_use]
pub fn summary(report: &Report<'_>, style: Style) -> String {
    let mut out = String::new();
    paragraph(&mut out, "", &sentence(report), 0, style.columns());
    out
}

fn sentence(report: &Report<'_>) -> String {
    if report.files == 0 && report.findings.is_empty() {
        return "no sheets here: nothing was checked".to_owned();
    }
    let mut found: Vec<String> = Level::ALL
        .into_iter()
        .map(|level| (report.count(level), level.name()))
        .filter(|(number, _)| *number > 0)
        .map(|(number, name)| count(number, name))
        .collect();
    if found.is_empty() {
        found.push("nothing to mend".to_owned());
    }
    if report.waived() > 0 {
        found.push(format!("{} waived", report.waived()));
    }
    format!("{}, {}: {}", count(report.files, "file"), count(report.loads, "load"), found.join(", "))
}

/// A number with its noun.
fn count(number: usize, noun: &str) -> String {
    let plural = if number == 1 { "" } else { "s" };
    format!("{number} {noun}{plural}")
}
