//! `draylint check --format sarif`: findings for programs that gather the results of many checkers.
//!
//! OASIS SARIF 2.1.0. Section numbers in this folder are of that standard.

mod fix;
mod message;
mod rules;
mod uri;
mod wire;

use std::collections::BTreeSet;

use self::message::{message, told};
use self::wire::{
    ArtifactLocation, Counts, Driver, Facts, Fingerprints, Location, Log, LogicalLocation, PhysicalLocation, Region,
    Result, Run, Suppression, Tool,
};
use super::closing::CAUTION;
use super::fingerprint::fingerprints;
use super::json::{self, written};
use super::place::{places, shown};
use crate::finding::{self, Finding, Level, Report};
use crate::rules::{Rule, RuleSet};
use crate::text::{Sources, Span};

/// The findings of a run as one SARIF log. `company` are the rules that are not built in; what a rule says of itself
/// comes from there or from the built-in rules.
#[must_use]
pub fn sarif(report: &Report<'_>, company: &[Rule]) -> String {
    let builtin = RuleSet::builtin();
    let ids: BTreeSet<&str> = report.findings.iter().map(|finding| &*finding.rule).collect();
    let rule = |id: &str| builtin.get(id).or_else(|| company.iter().find(|rule| &*rule.id == id));
    let results = report.findings.iter().zip(fingerprints(report)).map(|(finding, fingerprint)| {
        // Every id was put into the set above.
        let index = ids.range(..&*finding.rule).count();
        result(report.sources, finding, index, fingerprint)
    });
    let run = Run {
        tool: Tool {
            driver: Driver {
                name: "draylint",
                version: env!("CARGO_PKG_VERSION"),
                semantic_version: env!("CARGO_PKG_VERSION"),
                short_description: told("Checks load sheets: which machine stands where on which trailer."),
                full_description: told(CAUTION),
                rules: ids.iter().map(|id| rules::descriptor(id, rule(id))).collect(),
            },
        },
        column_kind: "unicodeCodePoints",
        // A lone CR ends a line in KDL 2 (3.14.22).
        newline_sequences: ["\r\n", "\n", "\r"],
        results: results.collect(),
        properties: Counts {
            files: report.files,
            loads: report.loads,
            errors: report.count(Level::Error),
            warnings: report.count(Level::Warning),
            notes: report.count(Level::Note),
            waived: report.waived(),
        },
    };
    written(&Log { schema: wire::SCHEMA, version: "2.1.0", runs: [run] })
}

fn result<'a>(sources: &'a Sources, finding: &'a Finding, rule_index: usize, fingerprint: String) -> Result<'a> {
    let primary = finding.primary.text.as_str();
    let load = [("sheet", finding.sheet.as_deref()), ("leg", finding.leg.as_deref())];
    let logical = load.into_iter().filter_map(|(kind, name)| Some(LogicalLocation { name: shown(name?), kind }));
    let place = Location {
        id: None,
        physical_location: physical(sources, finding.primary.span),
        logical_locations: logical.collect(),
        message: (!primary.is_empty()).then(|| told(primary)),
    };
    let label = |(at, label): (usize, &'a finding::Label)| Location {
        id: Some(at),
        physical_location: physical(sources, label.span),
        logical_locations: Vec::new(),
        message: (!label.text.is_empty()).then(|| told(&label.text)),
    };
    Result {
        rule_id: shown(&finding.rule),
        rule_index,
        level: finding.level.name(),
        message: message(finding),
        locations: [place],
        related_locations: finding.labels.iter().enumerate().map(label).collect(),
        partial_fingerprints: Fingerprints { finding: fingerprint },
        suppressions: finding.waived.iter().map(suppression).collect(),
        fixes: finding.fixes.iter().filter_map(|one| fix::fix(sources, one)).collect(),
        properties: Facts {
            sheet: finding.sheet.as_deref(),
            leg: finding.leg.as_deref(),
            also: json::also(finding),
            message: &finding.message,
            help: finding.help.as_deref(),
            source: finding.source.as_deref(),
            figure: finding.figure.as_ref().map(json::figure),
        },
    }
}

/// A waiver stands in a sheet, as a node of its own, so it is in the source (3.35.2).
fn suppression(waived: &finding::Waived) -> Suppression {
    let words = waived.to_string();
    Suppression { kind: "inSource", status: "accepted", justification: shown(&words).into_owned() }
}

fn physical(sources: &Sources, span: Span) -> PhysicalLocation {
    let (file, ..) = places(sources, span);
    PhysicalLocation { artifact_location: ArtifactLocation { uri: uri::uri(file) }, region: region(sources, span) }
}

/// Lines and columns from 1, the end after the last character (3.30.2).
fn region(sources: &Sources, span: Span) -> Region {
    let (_, start, end) = places(sources, span);
    // A mark of byte order at the start of a text is no character of it (3.30.3).
    let marked = sources.get(span.file).is_some_and(|source| source.text.starts_with('\u{feff}'));
    let column = |place: crate::text::Place| {
        if marked && place.line == 1 && place.column > 1 { place.column - 1 } else { place.column }
    };
    Region { start_line: start.line, start_column: column(start), end_line: end.line, end_column: column(end) }
}
