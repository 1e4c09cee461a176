//! The finding on readings that do not agree with the sheet: how far apart they lie, and which one entry would explain
//! it. Nothing is changed by it: the gauge never silently replaces the sheet.

use std::sync::Arc;

use super::explain::{Slip, Told, explanations};
use super::readings::{Compared, Readings};
use crate::figures::{Rest, Subject};
use crate::finding::{Bounded, Finding, Label};
use crate::rules::Rule;
use crate::text::quoted;
use crate::units::{Kind, System, Unit, show_rounded, unit_for, written_rounded};

/// How many explanations are shown.
const MOST: usize = 3;

/// The finding, when a reading does not agree with the sheet. All readings of a load are told in one.
pub(super) fn disagreement(readings: &Readings<'_>, rule: &Rule, system: System) -> Option<Finding> {
    let apart: Vec<&Compared<'_>> = readings.compared.iter().filter(|one| !one.agrees()).collect();
    let excess = |one: &Compared<'_>| one.apart().abs() / one.tolerance().max(super::readings::LEAST);
    let worst = apart.iter().copied().max_by(|a, b| excess(a).total_cmp(&excess(b)))?;
    let mut told = explanations(readings);
    // What leaves some reading apart explains nothing, and is only worth a word when nothing else does.
    if told.iter().any(|one| one.settles) {
        told.retain(|one| one.settles);
    }
    let settles = told.first().is_some_and(|one| one.settles);
    told.truncate(if settles { MOST } else { 1 });

    let load = &readings.load;
    let read = worst.gauged.read.at;
    let mut finding =
        Finding::new(rule.id.to_string(), rule.level, read, message(worst, apart.len(), readings, system));
    let mut labels: Vec<Label> =
        told.iter().map(|one| Label { span: one.rest.at, text: beside(one, system) }).collect();
    let here = Label { span: read, text: "what the gauge showed".to_owned() };
    // The first thing to look at, where it stands in the sheet itself and not in what other sheets rest on too.
    if settles && labels.first().is_some_and(|first| load.sheet.span.holds(first.span)) {
        finding.primary = labels.remove(0);
        labels.insert(0, here);
    } else {
        finding.primary = here;
    }
    let primary = finding.primary.span;
    labels.retain(|label| label.span != primary);
    finding.labels = labels;
    finding.help = Some(help(&told, settles, readings, system));
    finding.figure = Some(Bounded {
        name: worst.gauged.figure.result_name(load, Subject::Whole),
        value: worst.computed,
        kind: Some(worst.gauged.read.kind),
        plus_minus: Some(worst.spread),
        at_least: Some(worst.gauged.read.value - worst.half),
        at_most: Some(worst.gauged.read.value + worst.half),
    });
    finding.source = Some(rule.source.shown());
    finding.sheet = Some(Arc::clone(&load.sheet.name.value));
    finding.leg = load.leg.map(|leg| Arc::clone(&leg.name.value));
    Some(finding)
}

fn message(worst: &Compared<'_>, apart: usize, readings: &Readings<'_>, system: System) -> String {
    let unit = unit_of(&worst.gauged.read, system);
    let show = |si: f64, spread: f64| show_rounded(si, spread / 10.0, unit);
    // The unit stands just before it.
    let give_or_take = |half: f64| {
        let number = written_rounded(half, half / 10.0, unit);
        if half > 0.0 { format!(", give or take {number}") } else { String::new() }
    };
    // However little it is too much, the two do not read alike.
    let (far, most) = (worst.apart().abs(), worst.tolerance());
    let finer = |step: &i32| show(far, most / 10_f64.powi(*step)) != show(most, most / 10_f64.powi(*step));
    let step = most / 10_f64.powi((0..6).find(finer).unwrap_or(0));
    let mut text = format!(
        "{} read {} {}{}; the sheet makes it {}{}: {} apart, where both can be off by {}",
        quoted(&worst.gauged.reading.name.value),
        show(worst.gauged.read.value, worst.half),
        worst.gauged.spoken,
        give_or_take(worst.half),
        show(worst.computed, worst.spread),
        give_or_take(worst.spread),
        show(far, step),
        show(most, step),
    );
    let count = readings.compared.len();
    let others = match (count, apart) {
        (1, _) => String::new(),
        (2, 1) => "; the other agrees".to_owned(),
        (2, _) => "; the other disagrees too".to_owned(),
        (_, 1) => "; the others agree".to_owned(),
        _ if apart == count => "; the others disagree too".to_owned(),
        _ => format!("; {apart} of {count} disagree"),
    };
    text.push_str(&others);
    text
}

/// What is written beside an entry.
fn beside(told: &Told, system: System) -> String {
    let unit = unit_of(&told.rest, system);
    let change = told.needed - told.rest.value;
    let way = if change < 0.0 { "less" } else { "more" };
    let by = show_rounded(change.abs(), told.sure, unit);
    let explains = if told.settles { "would explain it" } else { "would come nearest" };
    match told.slip {
        Slip::Entry | Slip::Misread(_) => {
            format!("{} {explains}: {by} {way}, {}", needed(told, unit), times(told.far))
        }
        Slip::Middle => format!(
            "its centre of gravity {} behind its front {explains}: {by} {way} than its middle",
            needed(told, unit)
        ),
    }
}

/// `3 times what it can be off`.
fn times(far: f64) -> String {
    let number = if far < 9.95 { format!("{far:.1}") } else { format!("{far:.0}") };
    let number = number.trim_end_matches(".0");
    if number == "1" { "just what it can be off".to_owned() } else { format!("{number} times what it can be off") }
}

/// One sentence: what to weigh or measure, and what it would have to be.
fn help(told: &[Told], settles: bool, readings: &Readings<'_>, system: System) -> String {
    let again = "read the gauge again";
    let ways: Vec<String> = told.iter().map(|one| way(one, readings, unit_of(&one.rest, system))).collect();
    let only_misread = told.iter().all(|one| matches!(one.slip, Slip::Misread(_)));
    match (ways.as_slice(), settles) {
        ([], _) => format!("{again}, then weigh and measure what is aboard: no one entry explains it by itself"),
        ([nearest, ..], false) => {
            format!("{again}: no one entry explains all of it; nearest comes this: {nearest}")
        }
        (ways, true) if only_misread => ways.join("; or "),
        (ways, true) => format!("{}; or {again}", ways.join("; or ")),
    }
}

/// What to do about one explanation.
fn way(told: &Told, readings: &Readings<'_>, unit: &'static Unit) -> String {
    let rest = &told.rest;
    let value = match rest.word {
        "front-gap" | "rear-gap" | "left" => {
            format!("{}=({}){}", rest.word, unit.symbol, written_rounded(told.needed, told.sure, unit))
        }
        _ => needed(told, unit),
    };
    // Who reads this knows which sheet it is about.
    let load = &readings.load;
    let own = |path: &str| rest.owner.strip_prefix(path).and_then(|rest| rest.strip_prefix(' ')).map(str::to_owned);
    let owner =
        own(&load.owner().path).or_else(|| own(&load.sheet.owner.path)).unwrap_or_else(|| rest.owner.to_string());
    match told.slip {
        Slip::Misread(at) => {
            let read = readings.compared.get(at).map(|one| (&*one.gauged.reading.name.value, one.gauged.spoken));
            let (name, spoken) = read.unwrap_or(("gauge", ""));
            format!("read {} again, which would have to show {value} {spoken}", quoted(name))
        }
        Slip::Middle => {
            format!("find where {owner} balances: it would have to be {value} behind its front (cg-from-front=)")
        }
        Slip::Entry if rest.kind == Kind::Mass => {
            let word = if matches!(rest.word, "weight" | "weighed") { "" } else { rest.word };
            let space = if word.is_empty() { "" } else { " " };
            format!("weigh {owner}{space}{word} again: it would have to weigh {value}")
        }
        Slip::Entry if ["front-gap", "rear-gap"].contains(&rest.word) => {
            format!("measure where {owner} stands: it would have to be at {value}")
        }
        Slip::Entry => format!("measure {owner} {}: it would have to be {value}", rest.word),
    }
}

fn needed(told: &Told, unit: &'static Unit) -> String {
    show_rounded(told.needed, told.sure, unit)
}

/// The unit an entry is written in.
fn unit_of(rest: &Rest, system: System) -> &'static Unit {
    rest.unit.unwrap_or_else(|| unit_for(rest.kind, system))
}
