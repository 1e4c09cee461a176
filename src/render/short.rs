//! Findings as text, a line each: `file:line:column: level rule: message`. Editors and other programs know the form, so
//! a line is not wrapped.

use super::place::{location, shown};
use super::style::{Ink, Style};
use super::text::load;
use super::{caution, summary};
use crate::finding::{Finding, Report};
use crate::text::Sources;

/// The whole report: a line for each finding, the summary and the caution. With `quiet` only the findings.
#[must_use]
pub fn short(report: &Report<'_>, style: Style, quiet: bool) -> String {
    let mut out = String::new();
    for finding in report.findings {
        let level = style.paint(Ink::Level(finding.level), finding.level.name());
        out.push_str(&line(report.sources, finding, &level));
        out.push('\n');
    }
    if !quiet {
        out.push_str(&summary(report, style));
        out.push_str(&caution(style));
    }
    out
}

/// A finding on one line. At its end stands which load it is, as far as the file's name does not say, and whether it is
/// waived.
pub(super) fn line(sources: &Sources, finding: &Finding, level: &str) -> String {
    let place = location(sources, finding.primary.span);
    let load = load(sources, finding);
    let blank = if load.is_empty() { "" } else { " " };
    format!("{place}: {level} {}: {}{blank}{load}", shown(&finding.rule), shown(&finding.message))
}
