//! `draylint weigh --format json`.

use serde::ser::SerializeMap as _;
use serde::{Serialize, Serializer};

use super::{SCHEMA, finite, unit, written};
use crate::finding::{FigureLine, LoadFigures};
use crate::text::Sources;

#[derive(Serialize)]
struct Weigh<'a> {
    schema: u32,
    loads: Vec<Load<'a>>,
}

#[derive(Serialize)]
struct Load<'a> {
    sheet: &'a str,
    leg: Option<&'a str>,
    file: &'a str,
    figures: Option<Figures<'a>>,
    undecided: Vec<Undecided<'a>>,
}

/// Figures by name, in the order in which they are given.
struct Figures<'a>(&'a [FigureLine]);

#[derive(Serialize)]
struct Figure<'a> {
    value: Option<f64>,
    unit: &'static str,
    plus_minus: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    at_least: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    at_most: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    assumes: Option<&'a str>,
}

#[derive(Serialize)]
struct Undecided<'a> {
    rule: &'a str,
    missing: &'a str,
}

impl Serialize for Figures<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.0.len()))?;
        for figure in self.0 {
            map.serialize_entry(
                &figure.name,
                &Figure {
                    value: finite(figure.value),
                    unit: unit(figure.kind),
                    plus_minus: finite(figure.plus_minus),
                    at_least: finite(figure.at_least.as_ref().map(|(value, _)| *value)),
                    at_most: finite(figure.at_most.as_ref().map(|(value, _)| *value)),
                    assumes: figure.assumes,
                },
            )?;
        }
        map.end()
    }
}

/// The figures of all loads as one JSON object with a line break at its end.
#[must_use]
pub fn weigh(sources: &Sources, loads: &[LoadFigures]) -> String {
    written(&Weigh {
        schema: SCHEMA,
        loads: loads
            .iter()
            .map(|load| Load {
                sheet: &load.sheet,
                leg: load.leg.as_deref(),
                file: sources.get(load.file).map_or("", |source| &source.name),
                figures: load.figures.as_deref().map(Figures),
                undecided: load
                    .undecided
                    .iter()
                    .map(|one| Undecided { rule: &one.rule, missing: &one.missing })
                    .collect(),
            })
            .collect(),
    })
}
