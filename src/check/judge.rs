//! One load against all rules.

use std::sync::Arc;

use super::say::Speaker;
use super::weigh::{Limits, load_figures};
use crate::expr::{Limit, Truth, Value, Verdict};
use crate::figures::{Figure, Heap, Lack, Load, Subject, figures, marks};
use crate::finding::{Bounded, Finding, Label, LoadFigures, Waived};
use crate::model::{ItemKind, LoadRef, Yard};
use crate::rules::{Ask, Rule, RuleSet, Slot};
use crate::units::System;

/// How many further places a finding shows.
const MOST_LABELS: usize = 3;

/// What the command line settles for a whole run.
#[derive(Clone, Debug)]
pub struct Options {
    /// The units in which a person is shown figures, when the command line says.
    pub units: Option<System>,
    /// The day, as `YYYY-MM-DD`, by which waivers end.
    pub today: Arc<str>,
    /// Whether the figures of each load are wanted. Findings do not rest on them.
    pub weigh: bool,
}

/// The result of judging one load.
#[derive(Clone, Debug)]
pub struct Judged {
    /// Which load.
    pub which: LoadRef,
    /// What is at fault.
    pub findings: Vec<Finding>,
    /// What is missing to judge a rule, with the rule's id.
    pub lacks: Vec<(Lack, Arc<str>)>,
    /// Why the load as a whole could not be computed.
    pub not_computed: Option<Lack>,
    /// Its figures, when they are wanted.
    pub figures: LoadFigures,
}

/// Judges a load. None when the yard has no such load.
#[must_use]
pub fn judge(yard: &Yard, rules: &RuleSet, which: LoadRef, options: &Options) -> Option<Judged> {
    let heavy = Load::noted(yard, which, Heap::Heaviest)?;
    let heaped = heavy.items.iter().any(|item| matches!(item.item.kind, ItemKind::Bulk(_)));
    // A range of density enters as its two ends: a bound must hold at both.
    let light = if heaped { Load::noted(yard, which, Heap::Lightest) } else { None };
    let system = options.units.or(yard.settings.units.value()).unwrap_or(heavy.sheet.mostly);
    let mut judge = Judge {
        ends: std::iter::once(&heavy).chain(light.as_ref()).collect(),
        system,
        faults: Vec::new(),
        lacks: Vec::new(),
        limits: options.weigh.then(Limits::default),
    };
    for rule in rules.rules().iter().filter(|rule| !rule.off) {
        for ask in rule.asks() {
            judge.ask(rule, ask);
        }
    }
    let Judge { faults, lacks, limits, .. } = judge;
    let spoken: Vec<bool> = faults.iter().map(|fault| !gives_way(fault, &faults)).collect();
    let mut findings: Vec<Finding> = faults
        .into_iter()
        .zip(spoken)
        .filter(|(_, spoken)| *spoken)
        .map(|(fault, _)| Finding { waived: waived(&heavy, &fault, &options.today), ..fault.finding })
        .collect();
    for waiver in heavy.waivers.iter().filter(|waiver| rules.get(&waiver.rule.value).is_none()) {
        findings.push(unknown_rule(&heavy, rules, &waiver.rule));
    }
    let not_computed = heavy.still.as_ref().err().or(heavy.rig.as_ref().err()).cloned();
    let figures = load_figures(&heavy, limits.as_ref(), system, &lacks);
    Some(Judged { which, findings, lacks, not_computed, figures })
}

/// A broken rule before it is known whether another speaks of the same fault.
struct Fault<'r> {
    rule: &'r Rule,
    subject: Subject,
    item: Option<Arc<str>>,
    finding: Finding,
}

/// Whether a broken rule is silent because another one speaks of the same fault.
fn gives_way(fault: &Fault<'_>, faults: &[Fault<'_>]) -> bool {
    // Most rules give way to none, so that this is no walk of all faults for each.
    fault.rule.gives_way_to.iter().any(|id| {
        let beside = |other: &Fault<'_>| {
            other.subject == fault.subject || other.subject == Subject::Whole || fault.subject == Subject::Whole
        };
        faults.iter().any(|other| other.rule.id == *id && beside(other))
    })
}

struct Judge<'l, 'y, 'r> {
    /// The load at the heaviest and, where that differs, the lightest end of its material's density.
    ends: Vec<&'l Load<'y>>,
    system: System,
    faults: Vec<Fault<'r>>,
    lacks: Vec<(Lack, Arc<str>)>,
    /// Kept when figures are wanted.
    limits: Option<Limits>,
}

impl<'r> Judge<'_, '_, 'r> {
    fn ask(&mut self, rule: &'r Rule, ask: &'r Ask) {
        let Some(first) = self.ends.first() else { return };
        for subject in ask.each.subjects(first) {
            for at in 0..self.ends.len() {
                if self.ask_one(rule, ask, subject, at) {
                    break;
                }
            }
        }
    }

    /// Asks one subject at one end; says whether that settles it.
    fn ask_one(&mut self, rule: &'r Rule, ask: &'r Ask, subject: Subject, end: usize) -> bool {
        let Some(load) = self.ends.get(end).copied() else { return true };
        let mut read = |slot: usize| value(rule, load, subject, slot);
        let when: Option<Verdict<Lack>> = ask.when.as_ref().map(|when| when.eval(&mut read));
        if when.as_ref().is_some_and(|when| when.truth == Truth::Fails) {
            return false;
        }
        let verdict = ask.require.eval(&mut read);
        self.note_limit(rule, load, subject, &verdict);
        let asked = when.as_ref().is_none_or(|when| when.truth == Truth::Holds);
        match verdict.truth {
            Truth::Holds => false,
            Truth::Fails if asked => {
                let finding = self.finding(rule, ask, load, subject, &verdict);
                let item = match subject {
                    Subject::Item(at) | Subject::Fit { item: at, .. } | Subject::Tie { item: at, .. } => {
                        load.items.get(at).map(|item| Arc::clone(&item.label))
                    }
                    _ => None,
                };
                self.faults.push(Fault { rule, subject, item, finding });
                true
            }
            Truth::Fails | Truth::CannotTell => {
                let missing = when.into_iter().flat_map(|when| when.missing).chain(verdict.missing);
                for lack in missing {
                    self.lacks.push((lack, Arc::clone(&rule.id)));
                }
                false
            }
        }
    }

    fn note_limit(&mut self, rule: &Rule, load: &Load<'_>, subject: Subject, verdict: &Verdict<Lack>) {
        let Some(limits) = &mut self.limits else { return };
        let Some(compared) = verdict.decisive() else { return };
        let Some(bound) = compared.bound(|slot| matches!(Slot::of(slot), Slot::Param(_))) else { return };
        let Some(Slot::Figure(at)) = bound.figure.name.map(Slot::of) else { return };
        if let Some(figure) = figures().get(at) {
            limits.note(figure.result_name(load, subject), bound.limit, bound.at, &rule.id);
        }
    }

    fn finding(&self, rule: &Rule, ask: &Ask, load: &Load<'_>, subject: Subject, verdict: &Verdict<Lack>) -> Finding {
        let speaker = Speaker { rule, load, subject, system: self.system, verdict };
        let mut places = places(ask, load, subject);
        let primary =
            if places.is_empty() { Label { span: load.owner().at, text: String::new() } } else { places.remove(0) };
        let mut finding = Finding::new(rule.id.to_string(), rule.level, primary.span, speaker.say(&ask.say));
        finding.primary = primary;
        // What the yard itself set is told before the rest: it is the first thing a reader will doubt.
        for (_, _, slot) in ask.require.names().map(|(slot, name, _)| (slot, name, Slot::of(slot))) {
            if let Slot::Param(at) = slot
                && let Some(param) = rule.params.get(at).filter(|param| param.moved)
            {
                finding.labels.push(Label { span: param.at, text: "this yard's own bound".to_owned() });
            }
        }
        finding.labels.extend(places);
        finding.labels.retain(|label| label.span != finding.primary.span);
        finding.labels.truncate(MOST_LABELS);
        finding.figure = bounded(rule, load, subject, verdict);
        finding.source = Some(rule.source.shown());
        finding.help = ask.help.as_ref().map(|help| speaker.say(help));
        finding.sheet = Some(Arc::clone(&load.sheet.name.value));
        finding.leg = load.leg.map(|leg| Arc::clone(&leg.name.value));
        finding
    }
}

/// The places that a rule points at, best first, each once.
fn places(ask: &Ask, load: &Load<'_>, subject: Subject) -> Vec<Label> {
    let mut places: Vec<Label> = Vec::new();
    for name in &ask.points {
        for (span, text) in marks(name, ask.each, load, subject) {
            if places.iter().all(|place| place.span != span) {
                places.push(Label { span, text: text.to_owned() });
            }
        }
    }
    places
}

/// The value behind a slot of a condition.
pub(super) fn value(rule: &Rule, load: &Load<'_>, subject: Subject, slot: usize) -> Result<Value, Lack> {
    match Slot::of(slot) {
        Slot::Param(at) => {
            let param = rule.params.get(at);
            // Slots come from the rule's own compiled condition, so the parameter is there.
            Ok(Value::Number(param.map_or(f64::NAN, |param| param.value)))
        }
        Slot::Figure(at) => match figures().get(at) {
            Some(figure) => figure.of(load, subject).map(|reading| reading.value),
            None => Ok(Value::Number(f64::NAN)),
        },
    }
}

/// The figure that a slot names.
pub(super) fn slot_figure(slot: usize) -> Option<&'static Figure> {
    match Slot::of(slot) {
        Slot::Figure(at) => figures().get(at).copied(),
        Slot::Param(_) => None,
    }
}

fn bounded(rule: &Rule, load: &Load<'_>, subject: Subject, verdict: &Verdict<Lack>) -> Option<Bounded> {
    let compared = verdict.decisive()?;
    let bound = compared.bound(|slot| matches!(Slot::of(slot), Slot::Param(_)))?;
    let figure = slot_figure(bound.figure.name.or(bound.figure.first_name)?)?;
    let name = if bound.figure.name.is_some() {
        figure.result_name(load, subject)
    } else {
        // An expression has no name of its own: it is told as the rule writes it.
        rule.asks().iter().find_map(|ask| ask.require.text().get(bound.figure.range.clone()))?.to_owned()
    };
    Some(Bounded {
        name,
        value: bound.value,
        kind: bound.figure.dim.kind(),
        plus_minus: None,
        at_least: matches!(bound.limit, Limit::AtLeast | Limit::Exactly).then_some(bound.at),
        at_most: matches!(bound.limit, Limit::AtMost | Limit::Exactly).then_some(bound.at),
    })
}

/// The waiver that accepts a finding, when one does. Law, ratings and physics cannot be waived.
fn waived(load: &Load<'_>, fault: &Fault<'_>, today: &str) -> Option<Waived> {
    if fault.rule.is_binding() {
        return None;
    }
    let waiver = load.waivers.iter().find(|waiver| {
        let narrowed = waiver.item.value();
        let ends = waiver.until.value();
        waiver.rule.value == fault.rule.id
            && (waiver.item.is_absent() || (narrowed.is_some() && narrowed == fault.item))
            && ends.is_some_and(|until| *until >= *today)
    })?;
    Some(Waived {
        reason: waiver.reason.value()?.to_string(),
        by: waiver.by.value()?.to_string(),
        until: waiver.until.value()?.to_string(),
    })
}

fn unknown_rule(load: &Load<'_>, rules: &RuleSet, named: &crate::model::Entry<Arc<str>>) -> Finding {
    let message = format!("there is no rule \"{}\" to waive", named.value);
    let mut finding = Finding::new("name-unknown", crate::finding::Level::Error, named.at, message);
    finding.help = Some(match rules.nearest(&named.value) {
        Some(near) => format!("write \"{near}\""),
        None => "run `draylint rules` for the names of all rules".to_owned(),
    });
    finding.sheet = Some(Arc::clone(&load.sheet.name.value));
    finding.leg = load.leg.map(|leg| Arc::clone(&leg.name.value));
    finding
}
