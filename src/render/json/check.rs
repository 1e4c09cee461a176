//! `draylint check --format json`.

use serde::Serialize;

use super::{SCHEMA, finite, unit, written};
use crate::finding::{self, Grade, Level, Report};
use crate::render::fingerprint::fingerprints;
use crate::render::place::places;
use crate::text::{Sources, Span};

#[derive(Serialize)]
struct Check<'a> {
    schema: u32,
    summary: Summary,
    findings: Vec<Finding<'a>>,
}

#[derive(Serialize)]
struct Summary {
    files: usize,
    loads: usize,
    errors: usize,
    warnings: usize,
    notes: usize,
    waived: usize,
}

#[derive(Serialize)]
struct Finding<'a> {
    rule: &'a str,
    level: &'static str,
    sheet: Option<&'a str>,
    leg: Option<&'a str>,
    message: &'a str,
    #[serde(flatten)]
    place: Place<'a>,
    labels: Vec<Label<'a>>,
    figure: Option<Figure<'a>>,
    source: Option<&'a str>,
    help: Option<&'a str>,
    fixes: Vec<Fix<'a>>,
    fingerprint: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    waived: Option<Waived<'a>>,
}

/// Counted from 1, columns in characters; the end is the place after the last character.
#[derive(Serialize)]
struct Place<'a> {
    file: &'a str,
    line: usize,
    column: usize,
    end_line: usize,
    end_column: usize,
}

#[derive(Serialize)]
struct Label<'a> {
    #[serde(flatten)]
    place: Place<'a>,
    text: &'a str,
}

#[derive(Serialize)]
struct Figure<'a> {
    name: &'a str,
    value: Option<f64>,
    unit: &'static str,
    plus_minus: Option<f64>,
    at_least: Option<f64>,
    at_most: Option<f64>,
}

#[derive(Serialize)]
pub(super) struct Fix<'a> {
    title: &'a str,
    grade: &'static str,
    edits: Vec<Edit<'a>>,
}

/// Bytes of the file as it is on disk.
#[derive(Serialize)]
struct Edit<'a> {
    file: &'a str,
    offset: u32,
    length: usize,
    text: &'a str,
}

#[derive(Serialize)]
struct Waived<'a> {
    reason: &'a str,
    by: &'a str,
    until: &'a str,
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

fn figure(figure: &finding::Bounded) -> Figure<'_> {
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
    let grade = match fix.grade {
        Grade::Notation => "notation",
        Grade::Change => "change",
        Grade::Advice => "advice",
    };
    Fix { title: &fix.title, grade, edits: fix.edits.iter().map(edit).collect() }
}
