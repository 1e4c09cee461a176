//! `draylint weigh --format json`.

use serde::ser::SerializeMap as _;
use serde::{Serialize, Serializer};

use super::{SCHEMA, finite, unit, written};
use crate::finding::{FigureLine, LoadFigures, ReadingLine};
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
    readings: Vec<Reading<'a>>,
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

/// What a gauge showed beside what is computed, all in one unit.
#[derive(Serialize)]
struct Reading<'a> {
    name: &'a str,
    figure: &'a str,
    unit: &'static str,
    read: Option<f64>,
    plus_minus: Option<f64>,
    computed: Option<f64>,
    computed_plus_minus: Option<f64>,
    agrees: Option<bool>,
    stands: Option<&'a str>,
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

fn reading(one: &ReadingLine) -> Reading<'_> {
    Reading {
        name: &one.name,
        figure: &one.figure,
        unit: unit(Some(one.kind)),
        read: finite(Some(one.read)),
        plus_minus: finite(Some(one.plus_minus)),
        computed: finite(one.computed),
        computed_plus_minus: finite(one.computed_plus_minus),
        agrees: one.agrees,
        stands: one.stands,
        assumes: one.assumes,
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
                readings: load.readings.iter().map(reading).collect(),
                undecided: load
                    .undecided
                    .iter()
                    .map(|one| Undecided { rule: &one.rule, missing: &one.missing })
                    .collect(),
            })
            .collect(),
    })
}
