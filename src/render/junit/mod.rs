//! `draylint check --format junit`: loads as test cases, for what shows test results.
//!
//! A suite is a sheet and a test case is a load: a leg of it, or the sheet itself. What passes or fails is the load, at
//! the gate, as the exit status has it. A rule is no test case: one that was not asked of a load, or could not be judged
//! for want of an entry, has not passed, and the form has no word for that. What belongs to no load of the run, a fault
//! in `yard.kdl` for instance, is a case of a suite for its file.
//!
//! The form is the one that Ant's `JUnit` task wrote and its published schemas describe: every attribute they ask for is
//! there, none that one of them does not know, and at most one failure in a test case, because many readers show no
//! more. So the failure holds every finding at or above the gate; those below it and waived ones stand in the suite's
//! output, and the suite's properties count all of them.

mod suites;

use std::fmt::Write as _;

use self::suites::{Case, Suite, suites};
use super::closing::{CAUTION, count};
use super::place::shown;
use super::short::line;
use super::xml::escaped;
use crate::finding::{Finding, Level, LoadFigures, Report};

/// The loads of a run as test cases. Findings of the level `gate` and above fail them; `today` is the day of the run, as
/// `YYYY-MM-DD`.
#[must_use]
pub fn junit(report: &Report<'_>, loads: &[LoadFigures], gate: Level, today: &str) -> String {
    let mut out = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<testsuites>\n".to_owned();
    for (at, suite) in suites(report, loads).iter().enumerate() {
        Writer { report, gate, out: &mut out }.suite(at, suite, today);
    }
    out.push_str("</testsuites>\n");
    out
}

struct Writer<'w> {
    report: &'w Report<'w>,
    gate: Level,
    out: &'w mut String,
}

impl Writer<'_> {
    /// Writing to a String cannot fail, so what `write!` returns is left.
    fn suite(&mut self, at: usize, suite: &Suite<'_>, today: &str) {
        let failures = suite.cases.iter().filter(|case| case.findings.iter().any(|one| self.fails(one))).count();
        let (name, file) = (name(suite.name), escaped(suite.file, true));
        let _ = writeln!(
            self.out,
            "  <testsuite name=\"{name}\" package=\"{file}\" id=\"{at}\" tests=\"{}\" failures=\"{failures}\" errors=\"0\" \
             time=\"0\" timestamp=\"{}T00:00:00\" hostname=\"localhost\">",
            suite.cases.len(),
            escaped(today, true),
        );
        self.properties(suite);
        for case in &suite.cases {
            self.case(&name, case);
        }
        let _ = writeln!(self.out, "    <system-out>{}</system-out>", escaped(&self.beside(suite), false));
        self.out.push_str("    <system-err></system-err>\n  </testsuite>\n");
    }

    fn properties(&mut self, suite: &Suite<'_>) {
        let all = || suite.cases.iter().flat_map(|case| &case.findings);
        self.out.push_str("    <properties>\n");
        let counted = Level::ALL.map(|level| {
            (format!("{}s", level.name()), all().filter(|one| one.level == level && one.waived.is_none()).count())
        });
        let waived = ("waived".to_owned(), all().filter(|one| one.waived.is_some()).count());
        for (name, number) in counted.into_iter().chain([waived]) {
            let _ = writeln!(self.out, "      <property name=\"{name}\" value=\"{number}\"/>");
        }
        self.out.push_str("    </properties>\n");
    }

    fn case(&mut self, class: &str, case: &Case<'_>) {
        let failed: Vec<&Finding> = case.findings.iter().copied().filter(|one| self.fails(one)).collect();
        let _ = write!(self.out, "    <testcase name=\"{}\" classname=\"{class}\" time=\"0\"", name(case.name));
        let Some(worst) = failed.iter().max_by_key(|one| one.level) else {
            self.out.push_str("/>\n");
            return;
        };
        let numbers = Level::ALL.map(|level| (failed.iter().filter(|one| one.level == level).count(), level.name()));
        let numbers: Vec<String> =
            numbers.into_iter().filter(|(number, _)| *number > 0).map(|(number, level)| count(number, level)).collect();
        let first = failed.iter().find(|one| one.level == worst.level).unwrap_or(worst);
        let message = format!("{}: {}: {}", numbers.join(", "), first.rule, first.message);
        let text: Vec<String> = failed.iter().map(|one| self.told(one)).collect();
        let _ = writeln!(
            self.out,
            ">\n      <failure type=\"{}\" message=\"{}\">{}</failure>\n    </testcase>",
            worst.level.name(),
            escaped(&message, true),
            escaped(&text.join("\n"), false),
        );
    }

    fn fails(&self, finding: &Finding) -> bool {
        finding.level >= self.gate && finding.waived.is_none()
    }

    /// A finding with what to do and where its bound comes from.
    fn told(&self, finding: &Finding) -> String {
        let mut text = line(self.report.sources, finding, finding.level.name());
        let waived = finding.waived.as_ref().map(ToString::to_string);
        let parts = [("help", &finding.help), ("source", &finding.source), ("waived", &waived)];
        for (lead, words) in parts {
            if let Some(words) = words {
                let _ = write!(text, "\n  {lead}: {}", shown(words));
            }
        }
        text
    }

    /// What fails no test case, and the caution.
    fn beside(&self, suite: &Suite<'_>) -> String {
        let all = suite.cases.iter().flat_map(|case| &case.findings).filter(|one| !self.fails(one));
        all.map(|one| self.told(one)).chain([CAUTION.to_owned()]).collect::<Vec<_>>().join("\n")
    }
}

/// A name that the schemas take: not without any character.
fn name(name: &str) -> String {
    if name.trim().is_empty() { "(without a name)".to_owned() } else { escaped(name, true) }
}
