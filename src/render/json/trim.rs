//! `draylint trim --format json`.

use serde::Serialize;

use super::check::{Fix, fix};
use super::{SCHEMA, finite, unit, written};
use crate::mend;
use crate::text::Sources;

#[derive(Serialize)]
#[expect(clippy::struct_field_names, reason = "the names are those of the results")]
struct Trims<'a> {
    schema: u32,
    trims: Vec<Trim<'a>>,
    written: Vec<&'a str>,
}

#[derive(Serialize)]
struct Trim<'a> {
    file: &'a str,
    #[serde(flatten)]
    fix: Fix<'a>,
    cures: Vec<Cured<'a>>,
    also: Vec<&'a str>,
    uncovers: Vec<&'a str>,
    diff: &'a str,
    moves: Vec<Moved<'a>>,
}

#[derive(Serialize)]
struct Cured<'a> {
    rule: &'a str,
    level: &'static str,
    sheet: Option<&'a str>,
    leg: Option<&'a str>,
}

#[derive(Serialize)]
struct Moved<'a> {
    sheet: &'a str,
    leg: Option<&'a str>,
    name: &'a str,
    unit: &'static str,
    before: Option<f64>,
    after: Option<f64>,
}

/// The changes of a run as one JSON object with a line break at its end.
#[must_use]
pub fn trim(sources: &Sources, trims: &[mend::Trim], files: &[std::sync::Arc<str>]) -> String {
    written(&Trims {
        schema: SCHEMA,
        trims: trims.iter().map(|trim| one(sources, trim)).collect(),
        written: files.iter().map(|name| &**name).collect(),
    })
}

fn one<'a>(sources: &'a Sources, trim: &'a mend::Trim) -> Trim<'a> {
    Trim {
        file: sources.get(trim.file).map_or("", |source| &source.name),
        fix: fix(sources, &trim.fix),
        cures: trim
            .cures
            .iter()
            .map(|one| Cured {
                rule: &one.rule,
                level: one.level.name(),
                sheet: one.sheet.as_deref(),
                leg: one.leg.as_deref(),
            })
            .collect(),
        also: trim.also.iter().map(|id| &**id).collect(),
        uncovers: trim.uncovers.iter().map(|id| &**id).collect(),
        diff: &trim.diff,
        moves: trim
            .moves
            .iter()
            .map(|one| Moved {
                sheet: &one.sheet,
                leg: one.leg.as_deref(),
                name: &one.name,
                unit: unit(one.kind),
                before: finite(one.before),
                after: finite(one.after),
            })
            .collect(),
    }
}
