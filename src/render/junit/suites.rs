//! Which load a finding belongs to.

use crate::finding::{Finding, LoadFigures, Report};
use crate::text::{FileId, Sources};

/// A sheet, or a file with findings that belong to no load of the run.
pub(super) struct Suite<'a> {
    pub(super) name: &'a str,
    pub(super) file: &'a str,
    pub(super) cases: Vec<Case<'a>>,
    at: FileId,
    sheet: Option<&'a str>,
}

/// A load, with its findings in order.
pub(super) struct Case<'a> {
    pub(super) name: &'a str,
    pub(super) findings: Vec<&'a Finding>,
    leg: Option<&'a str>,
}

/// The name of the case for findings of a sheet with legs that belong to none of them.
const ALL_LEGS: &str = "every leg";

/// The sheets of a run in order of their loads, then the files that hold further findings.
pub(super) fn suites<'a>(report: &'a Report<'_>, loads: &'a [LoadFigures]) -> Vec<Suite<'a>> {
    let mut all: Vec<Suite<'a>> = Vec::new();
    for load in loads {
        let (sheet, leg) = (&*load.sheet, load.leg.as_deref());
        let case = Case { name: leg.unwrap_or(sheet), findings: Vec::new(), leg };
        // Loads of a sheet follow one another.
        match all.last_mut().filter(|last| last.at == load.file && last.sheet == Some(sheet)) {
            Some(suite) => suite.cases.push(case),
            None => all.push(Suite {
                name: sheet,
                file: name(report.sources, load.file),
                cases: vec![case],
                at: load.file,
                sheet: Some(sheet),
            }),
        }
    }
    let sheets = all.len();
    for finding in report.findings {
        let file = finding.primary.span.file;
        let own =
            all.get(..sheets).and_then(|sheets| sheet_of(report.sources, sheets, finding.sheet.as_deref()?, file));
        let own = own.or_else(|| all.iter().position(|suite| suite.sheet.is_none() && suite.at == file));
        let at = own.unwrap_or_else(|| {
            let name = name(report.sources, file);
            all.push(Suite { name, file: name, cases: Vec::new(), at: file, sheet: None });
            all.len() - 1
        });
        if let Some(suite) = all.get_mut(at) {
            suite.take(finding, finding.leg.as_deref());
        }
        // It fails every load in which it was found.
        for load in &finding.also {
            let at = all.get(..sheets).and_then(|sheets| sheet_of(report.sources, sheets, &load.sheet, file));
            if let Some(suite) = at.and_then(|at| all.get_mut(at)) {
                suite.take(finding, load.leg.as_deref());
            }
        }
    }
    all
}

impl<'a> Suite<'a> {
    fn take(&mut self, finding: &'a Finding, leg: Option<&'a str>) {
        if let Some(case) = self.cases.iter_mut().find(|case| case.leg == leg) {
            case.findings.push(finding);
            return;
        }
        let name = match (leg, self.sheet) {
            (Some(leg), _) => leg,
            (None, Some(_)) => ALL_LEGS,
            (None, None) => self.name,
        };
        self.cases.push(Case { name, findings: vec![finding], leg });
    }
}

/// The sheet that a finding in this file names. Another yard of the run may have a sheet of this name too: the right one stands in the
/// finding's own file, or else shares the most folders with it.
fn sheet_of(sources: &Sources, sheets: &[Suite<'_>], wanted: &str, file: FileId) -> Option<usize> {
    let near = |suite: &Suite<'_>| (suite.at == file, shared_folders(suite.file, name(sources, file)));
    let named = sheets.iter().enumerate().filter(|(_, suite)| suite.sheet == Some(wanted));
    // Of equals the first: `max_by_key` takes the last.
    named.rev().max_by_key(|(_, suite)| near(suite)).map(|(at, _)| at)
}

fn shared_folders(one: &str, other: &str) -> usize {
    let folders = |path: &'_ str| path.rsplit_once('/').map_or(String::new(), |(folders, _)| folders.to_owned());
    let (one, other) = (folders(one), folders(other));
    one.split('/').zip(other.split('/')).take_while(|(one, other)| one == other && !one.is_empty()).count()
}

fn name(sources: &Sources, file: FileId) -> &str {
    sources.get(file).map_or("", |source| &source.name)
}

#[cfg(test)]
mod tests {
    use super::shared_folders;

    #[test]
    fn folders_in_common() {
        assert_eq!(shared_folders("a/b/c.kdl", "a/b/d/e.kdl"), 2);
        assert_eq!(shared_folders("a/c.kdl", "b/c.kdl"), 0);
        assert_eq!(shared_folders("c.kdl", "d.kdl"), 0);
    }
}
