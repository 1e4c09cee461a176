//! `draylint check --format json`.

use schemars::JsonSchema;
use schemars::generate::SchemaSettings;
use serde::Serialize;

use super::{SCHEMA, finite, unit, written};
use crate::finding::{self, Grade, Level, Report};
use crate::render::fingerprint::fingerprints;
use crate::render::place::places;
use crate::text::{Sources, Span};

/// What `draylint check --format json` writes.
#[derive(Serialize, JsonSchema)]
struct Check<'a> {
    /// The version of this form. It grows when a key goes away or changes its meaning, not when one is added.
    #[schemars(extend("const" = SCHEMA))]
    schema: u32,
    /// What was checked, and how many findings count.
    summary: Summary,
    /// In order of file and place.
    findings: Vec<Finding<'a>>,
}

/// Waived findings count toward no level.
#[derive(Serialize, JsonSchema)]
struct Summary {
    /// Files that hold something of ours.
    files: usize,
    /// Loads that were checked.
    loads: usize,
    errors: usize,
    warnings: usize,
    notes: usize,
    waived: usize,
}

/// One fault.
#[derive(Serialize, JsonSchema)]
struct Finding<'a> {
    /// The rule's id.
    rule: &'a str,
    /// How grave it is.
    #[schemars(extend("enum" = Level::ALL.map(Level::name)))]
    level: &'static str,
    /// The sheet it was found in, when it belongs to one.
    sheet: Option<&'a str>,
    /// The leg of that sheet.
    leg: Option<&'a str>,
    /// Further loads in which the same fault was found.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    also: Vec<Load<'a>>,
    /// What is wrong and by how much, in one sentence.
    message: &'a str,
    #[serde(flatten)]
    place: Place<'a>,
    /// Further entries that matter.
    labels: Vec<Label<'a>>,
    /// The figure that broke a bound.
    figure: Option<Figure<'a>>,
    /// Where the bound comes from.
    source: Option<&'a str>,
    /// What to do, in one sentence.
    help: Option<&'a str>,
    /// Changes that cure it.
    fixes: Vec<Fix<'a>>,
    /// Stays when unrelated lines move.
    fingerprint: String,
    /// There when a waiver accepts it.
    #[serde(skip_serializing_if = "Option::is_none")]
    waived: Option<Waived<'a>>,
}

/// A load by name.
#[derive(Serialize, JsonSchema)]
pub(in crate::render) struct Load<'a> {
    sheet: &'a str,
    leg: Option<&'a str>,
}

/// The further loads in which a fault was found.
pub(in crate::render) fn also(finding: &finding::Finding) -> Vec<Load<'_>> {
    finding.also.iter().map(|load| Load { sheet: &load.sheet, leg: load.leg.as_deref() }).collect()
}

/// Counted from 1, columns in characters; the end is the place after the last character.
#[derive(Serialize, JsonSchema)]
struct Place<'a> {
    /// Its path as seen from where the program ran, with `/` between folders.
    file: &'a str,
    #[schemars(range(min = 1))]
    line: usize,
    #[schemars(range(min = 1))]
    column: usize,
    #[schemars(range(min = 1))]
    end_line: usize,
    #[schemars(range(min = 1))]
    end_column: usize,
}

/// Text beside a place.
#[derive(Serialize, JsonSchema)]
struct Label<'a> {
    #[serde(flatten)]
    place: Place<'a>,
    text: &'a str,
}

/// A figure with its bound, in SI.
#[derive(Serialize, JsonSchema)]
pub(in crate::render) struct Figure<'a> {
    name: &'a str,
    value: Option<f64>,
    /// `1` for a share, a ratio or a plain number.
    unit: &'static str,
    /// Half-width of its spread.
    plus_minus: Option<f64>,
    at_least: Option<f64>,
    at_most: Option<f64>,
}

/// A change that cures a finding.
#[derive(Serialize, JsonSchema)]
pub(super) struct Fix<'a> {
    /// What it does, as an imperative sentence.
    title: &'a str,
    /// `notation`: how something is written. `change`: moves the load; a person must agree. `advice`: without edits.
    #[schemars(extend("enum" = ["notation", "change", "advice"]))]
    grade: &'static str,
    /// In order of place and without overlap.
    edits: Vec<Edit<'a>>,
}

/// Bytes of the file as it is on disk.
#[derive(Serialize, JsonSchema)]
struct Edit<'a> {
    file: &'a str,
    offset: u32,
    length: usize,
    /// What stands there afterwards.
    text: &'a str,
}

/// Who accepted a finding, why, and through which day.
#[derive(Serialize, JsonSchema)]
struct Waived<'a> {
    reason: &'a str,
    by: &'a str,
    /// As `YYYY-MM-DD`.
    until: &'a str,
}

/// The JSON Schema (2020-12) of what [`check`] writes, made from the same types.
#[must_use]
pub fn schema() -> String {
    // As it is written: what is always there is required, also where it may be null.
    let settings = SchemaSettings::draft2020_12().for_serialize();
    written(&settings.into_generator().into_root_schema_for::<Check<'_>>())
}

/// The findings of a run as one JSON object with a line break at its end.
#[must_use]
pub fn check(report: &Report<'_>) -> String {
    let findings = report.findings.iter().zip(fingerprints(report));
    written(&Check {
        schema: SCHEMA,
        summary: Summary {
            files: report.files,
            loads: report.loads,
            errors: report.count(Level::Error),
            warnings: report.count(Level::Warning),
            notes: report.count(Level::Note),
            waived: report.waived(),
        },
        findings: findings.map(|(one, fingerprint)| finding(report.sources, one, fingerprint)).collect(),
    })
}

fn finding<'a>(sources: &'a Sources, finding: &'a finding::Finding, fingerprint: String) -> Finding<'a> {
    Finding {
        rule: &finding.rule,
        level: finding.level.name(),
        sheet: finding.sheet.as_deref(),
        leg: finding.leg.as_deref(),
        also: also(finding),
        message: &finding.message,
        place: place(sources, finding.primary.span),
        labels: finding
            .labels
            .iter()
            .map(|label| Label { place: place(sources, label.span), text: &label.text })
            .collect(),
        figure: finding.figure.as_ref().map(figure),
        source: finding.source.as_deref(),
        help: finding.help.as_deref(),
        fixes: finding.fixes.iter().map(|one| fix(sources, one)).collect(),
        fingerprint,
        waived: finding.waived.as_ref().map(|waived| Waived {
            reason: &waived.reason,
            by: &waived.by,
            until: &waived.until,
        }),
    }
}

fn place(sources: &Sources, span: Span) -> Place<'_> {
    let (file, start, end) = places(sources, span);
    Place { file, line: start.line, column: start.column, end_line: end.line, end_column: end.column }
}

pub(in crate::render) fn figure(figure: &finding::Bounded) -> Figure<'_> {
    Figure {
        name: &figure.name,
        value: finite(Some(figure.value)),
        unit: unit(figure.kind),
        plus_minus: finite(figure.plus_minus),
        at_least: finite(figure.at_least),
        at_most: finite(figure.at_most),
    }
}

pub(super) fn fix<'a>(sources: &'a Sources, fix: &'a finding::Fix) -> Fix<'a> {
    let edit = |edit: &'a finding::Edit| Edit {
        file: sources.get(edit.span.file).map_or("", |source| &source.name),
        offset: edit.span.start,
        length: edit.span.len(),
        text: &edit.text,
    };
    Fix { title: &fix.title, grade: grade(fix.grade), edits: fix.edits.iter().map(edit).collect() }
}

pub(in crate::render) const fn grade(grade: Grade) -> &'static str {
    match grade {
        Grade::Notation => "notation",
        Grade::Change => "change",
        Grade::Advice => "advice",
    }
}
