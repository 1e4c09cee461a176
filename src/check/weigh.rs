//! The figures of a load with the bounds that rules set them.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::known::End;
use crate::expr::{Limit, Value};
use crate::figures::{Each, Figure, Lack, Load, Measures, Subject, figures};
use crate::finding::{FigureLine, LoadFigures, ReadingLine, Undecided};
use crate::physics::Sharing;
use crate::units::System;

/// A bound in SI, and the rule that sets it.
type Bound = (f64, Arc<str>);

/// The tightest bounds that were met with, least and most, by a figure's name in results.
#[derive(Debug, Default)]
pub(super) struct Limits(BTreeMap<String, (Option<Bound>, Option<Bound>)>);

impl Limits {
    /// Notes a bound of a figure.
    pub(super) fn note(&mut self, figure: &Figure, name: String, (limit, at): (Limit, f64), rule: &Arc<str>) {
        let at = if figure.measures == Measures::Count { limit.whole(at) } else { at };
        let (least, most) = self.0.entry(name).or_default();
        let new = || Some((at, Arc::clone(rule)));
        if matches!(limit, Limit::AtLeast) && least.as_ref().is_none_or(|(old, _)| at > *old) {
            *least = new();
        }
        if matches!(limit, Limit::AtMost) && most.as_ref().is_none_or(|(old, _)| at < *old) {
            *most = new();
        }
    }
}

/// All figures of a load that `weigh` shows, in the registry's order, subject by subject. Without limits they are not
/// wanted, and only the load is named.
pub(super) fn load_figures(
    end: &End<'_>,
    limits: Option<&Limits>,
    system: System,
    (lacks, readings): (&[(Lack, Arc<str>)], Vec<ReadingLine>),
) -> LoadFigures {
    let load = &end.load;
    let lacks = if limits.is_some() { lacks } else { &[] };
    let undecided: BTreeSet<Undecided> =
        lacks.iter().map(|(lack, rule)| Undecided { rule: Arc::clone(rule), missing: lack.to_string() }).collect();
    LoadFigures {
        sheet: Arc::clone(&load.sheet.name.value),
        leg: load.leg.map(|leg| Arc::clone(&leg.name.value)),
        file: load.sheet.owner.at.file,
        rig: rig(load),
        system,
        figures: limits.filter(|_| load.still.is_ok()).map(|limits| lines(end, limits)),
        readings: if limits.is_some() { readings } else { Vec::new() },
        undecided: undecided.into_iter().collect(),
    }
}

/// `truck rook, trailer sled-20`.
fn rig(load: &Load<'_>) -> String {
    let truck = load.truck.as_ref().map_or("not known", |truck| &*truck.id.value);
    let trailer = load.trailer.as_ref().map_or("not known", |trailer| &*trailer.id.value);
    format!("truck {truck}, trailer {trailer}")
}

/// Figures that go together, and are shown only where a rule in force asks for one of them.
const FAMILIES: [&str; 2] = ["ties.", "lashings."];

fn lines(end: &End<'_>, limits: &Limits) -> Vec<FigureLine> {
    let shown = |each: Option<Each>| {
        figures()
            .iter()
            .filter(move |figure| figure.weighed && each.map_or(figure.of.is_empty(), |each| figure.of.contains(&each)))
            .filter(|figure| figure.is_asked(&end.load))
    };
    // What a coupling must be made for is worth a line only where a rule in force asks for it.
    let asked = |figure: &&&Figure| !figure.name.starts_with("coupling.") || limits.0.contains_key(figure.name);
    let mut lines: Vec<FigureLine> =
        shown(None).filter(asked).map(|figure| line(end, Subject::Whole, figure, limits)).collect();
    for each in [Each::TruckAxle, Each::TrailerAxle, Each::Wheel, Each::Item, Each::Machine, Each::Bulk] {
        for subject in each.subjects(&end.load) {
            for figure in shown(Some(each)) {
                let Some(family) = family(figure) else {
                    lines.push(line(end, subject, figure, limits));
                    continue;
                };
                let mut all = figures().iter().filter(|one| one.name.starts_with(family) && one.of.contains(&each));
                if !all.any(|one| limits.0.contains_key(&one.result_name(&end.load, subject))) {
                    continue;
                }
                let line = line(end, subject, figure, limits);
                // What is not known and nothing asks for has no finding that says why.
                if line.value.is_some() || line.at_least.is_some() || line.at_most.is_some() {
                    lines.push(line);
                }
            }
        }
    }
    lines
}

fn family(figure: &Figure) -> Option<&'static str> {
    FAMILIES.into_iter().find(|family| figure.name.starts_with(family))
}

fn line(end: &End<'_>, subject: Subject, figure: &Figure, limits: &Limits) -> FigureLine {
    let load = &end.load;
    let name = figure.result_name(load, subject);
    let value = match figure.of(load, subject).map(|reading| reading.value) {
        Ok(Value::Number(value)) => Some(value),
        Ok(Value::Text(_) | Value::Flag(_)) | Err(_) => None,
    };
    let (at_least, at_most) = limits.0.get(&name).cloned().unwrap_or_default();
    let plus_minus = value.and_then(|_| end.spread(figure, subject));
    let assumes = assumption(load, subject, figure);
    let (of, noun) = (figure.whose(load, subject), figure.noun);
    FigureLine { name, of, noun, value, kind: figure.measures.kind(), plus_minus, at_least, at_most, assumes }
}

fn assumption(load: &Load<'_>, subject: Subject, figure: &Figure) -> Option<&'static str> {
    use crate::figures::AxleRef;
    if let Subject::Item(at) = subject
        && let Some(crate::model::ItemKind::Bulk(bulk)) = load.items.get(at).map(|item| &item.item.kind)
    {
        if bulk.moisture.is_absent() {
            return Some(
                "dry or wet is not given: the heaviest that the material can be; bounds are kept at the lightest too",
            );
        }
        return Some("the material at the heaviest of its density range; bounds are kept at the lightest too");
    }
    if figure.name.starts_with("ties.holds_") {
        return Some(
            "parts of its weight: the ties share as favourably as they can, and friction is at the low end of its range: what a crew can set holds less",
        );
    }
    let sharing_lacks = load.still.as_ref().is_ok_and(|still| still.sharing_lacks.is_some());
    let plain_sum = matches!(figure.name, "trailer.gross" | "combination.gross");
    if subject == Subject::Whole && sharing_lacks && !plain_sum {
        return Some("the suspension is not given: the axles are taken to act at their middle");
    }
    let rig = load.rig.as_ref().ok()?;
    if figure.of.contains(&Each::Wheel) && matches!(subject, Subject::Axle(AxleRef::Trailer(_))) && rig.sides.is_err() {
        return Some("half of the axle: left and right are not known, and the heavier side carries that at the least");
    }
    match (subject, rig.loads.trailer.sharing) {
        (Subject::Axle(AxleRef::Trailer(_)), Sharing::SharedEquallyNotKnown) => {
            Some("independent axles, shared equally: not known better without spring rates and heights")
        }
        (Subject::Axle(AxleRef::Trailer(_)), Sharing::BySprings { empty_weighed: false }) => {
            Some("the empty weight is shared between the axles by their spring rates")
        }
        _ => None,
    }
}
