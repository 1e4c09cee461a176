//! What stands once at the end of every text: what was checked, and what this tool cannot know.

use super::Style;
use super::place::location;
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

/// More findings than this, and an error may stand far up among them.
const MANY: usize = 10;

/// What was checked and what was found, in one line where the width allows it: `9 files, 3 loads: 2 errors, 1 warning`.
/// After many findings a second line says where the first error stands.
#[must_use]
pub fn summary(report: &Report<'_>, style: Style) -> String {
    let mut out = String::new();
    paragraph(&mut out, "", &sentence(report), 0, style.columns());
    let error = report.findings.iter().find(|finding| finding.level == Level::Error && finding.waived.is_none());
    if let Some(error) = error.filter(|_| report.findings.len() > MANY) {
        let text = format!("first error: {}", location(report.sources, error.primary.span));
        paragraph(&mut out, "", &text, 4, style.columns());
    }
    out
}

/// The same without a line break.
pub(super) fn sentence(report: &Report<'_>) -> String {
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
pub(super) fn count(number: usize, noun: &str) -> String {
    let plural = if number == 1 { "" } else { "s" };
    format!("{number} {noun}{plural}")
}

#[cfg(test)]
mod tests {
    use super::summary;
    use crate::finding::{Finding, Level, Report, Waived};
    use crate::render::Style;
    use crate::text::{FileId, Source, Sources, Span};

    #[test]
    fn after_many_findings_the_first_error_is_named() {
        let mut sources = Sources::default();
        sources.add(Source::new("sheets/x.kdl", "a\nb\n"));
        let at = |start: usize| Span::new(FileId(0), start..start + 1);
        let mut findings: Vec<Finding> =
            (0..9).map(|_| Finding::new("never-used", Level::Note, at(0), String::new())).collect();
        let waived = Waived { reason: String::new(), by: String::new(), until: String::new() };
        let accepted = Finding { waived: Some(waived), ..Finding::new("leans", Level::Error, at(0), String::new()) };
        findings.push(accepted);
        let told =
            |findings: &[Finding]| summary(&Report { sources: &sources, findings, files: 1, loads: 1 }, Style::PLAIN);
        findings.push(Finding::new("never-used", Level::Note, at(0), String::new()));
        assert_eq!(told(&findings), "1 file, 1 load: 10 notes, 1 waived\n", "no error counts");
        findings.push(Finding::new("leans", Level::Error, at(2), String::new()));
        assert_eq!(told(&findings), "1 file, 1 load: 1 error, 10 notes, 1 waived\nfirst error: sheets/x.kdl:2:1\n");
        assert_eq!(told(&findings[2..]), "1 file, 1 load: 1 error, 8 notes, 1 waived\n", "ten are not many");
    }
}
