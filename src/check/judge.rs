//! One load against all rules.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::disagree::disagreement;
use super::known::End;
use super::readings::Readings;
use super::say::Speaker;
use super::thin::{Kept, thin};
use super::waive::{WaiverUse, accepting, at_fault, uses, waived};
use super::weigh::{Limits, load_figures};
use crate::expr::{Limit, Truth, Value, Verdict};
use crate::figures::{AxleRef, Figure, Lack, Load, Subject, figures, marks, root_sum_of_squares};
use crate::finding::{Bounded, Finding, Label, LoadFigures};
use crate::model::{LoadRef, Yard};
use crate::rules::{Ask, Rule, RuleSet, Slot};
use crate::units::{Kind, System, show};

/// How many further places a finding shows.
const MOST_LABELS: usize = 3;

/// The part of a figure's spread from which on an entry is worth showing.
const MATTERS: f64 = 0.3;

/// What the command line settles for a whole run.
#[derive(Clone, Debug)]
pub struct Options {
    /// The units in which a person is shown figures, when the command line says.
    pub units: Option<System>,
    /// The day, as `YYYY-MM-DD`, by which waivers end.
    pub today: Arc<str>,
    /// Whether the figures of each load are wanted. Findings do not rest on them.
    pub weigh: bool,
    /// Whether changes that cure the findings are wanted.
    pub mend: bool,
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
    /// What each waiver that holds for it did.
    pub waivers: Vec<WaiverUse>,
}

/// Judges a load. None when the yard has no such load.
#[must_use]
pub fn judge(yard: &Yard, rules: &RuleSet, which: LoadRef, options: &Options) -> Option<Judged> {
    let ends = Load::at_both_ends(yard, which)?;
    let system = ends.first()?.shown_in(options.units);
    let mut judge = Judge {
        ends: ends.into_iter().map(End::new).collect(),
        system,
        faults: Vec::new(),
        lacks: Vec::new(),
        kept: Vec::new(),
        limits: options.weigh.then(Limits::default),
    };
    for rule in rules.rules().iter().filter(|rule| !rule.off) {
        for ask in rule.asks() {
            judge.ask(rule, ask);
        }
    }
    let Judge { ends, faults, mut lacks, kept, limits, .. } = judge;
    let heavy = &ends.first()?.load;
    // A fault that is silent beside another one would be there without it.
    let mut accepted: BTreeSet<usize> =
        faults.iter().filter_map(|fault| accepting(heavy, fault.rule, fault.item.as_ref(), &options.today)).collect();
    let spoken: Vec<bool> = faults.iter().map(|fault| !gives_way(fault, &faults)).collect();
    let told = faults.into_iter().zip(spoken).filter(|(_, spoken)| *spoken).map(|(fault, _)| fault).collect();
    let told = merge_alike(told, heavy);
    let mut findings: Vec<Finding> =
        told.into_iter().map(|fault| finished(fault, heavy, &ends, system, &options.today)).collect();
    if let Some(rule) = rules.get("margin-thin").filter(|rule| !rule.off) {
        let thin = thin(&kept, &ends, system);
        accepted.extend(accepting(heavy, rule, None, &options.today).filter(|_| !thin.is_empty()));
        findings
            .extend(thin.into_iter().map(|one| Finding { waived: waived(heavy, rule, None, &options.today), ..one }));
    }
    let read = Readings::of(&ends);
    if let (Some(read), Some(rule)) = (&read, rules.get("reading-disagrees").filter(|rule| !rule.off)) {
        let disagreement = disagreement(read, rule, system);
        accepted.extend(accepting(heavy, rule, None, &options.today).filter(|_| disagreement.is_some()));
        findings.extend(disagreement.map(|one| Finding { waived: waived(heavy, rule, None, &options.today), ..one }));
        lacks.extend(read.lacks.iter().map(|lack| (lack.clone(), Arc::clone(&rule.id))));
    }
    findings.extend(at_fault(heavy, rules, &options.today));
    let not_computed = heavy.still.as_ref().err().or(heavy.rig.as_ref().err()).cloned();
    let lines = read.map(|read| read.lines).unwrap_or_default();
    let figures = load_figures(ends.first()?, limits.as_ref(), system, (&lacks, lines));
    let open = lacks.iter().map(|(_, rule)| &**rule).collect();
    let waivers = uses(heavy, &accepted, &open, not_computed.is_none(), &options.today);
    Some(Judged { which, findings, lacks, not_computed, figures, waivers })
}

/// A broken rule before it is known whether another speaks of the same fault.
struct Fault<'r> {
    rule: &'r Rule,
    subject: Subject,
    /// At which end of the density range, by its place.
    end: usize,
    /// The figure that broke its bound, and the figure that is the bound.
    figures: Option<(&'static Figure, Option<&'static Figure>)>,
    /// How many labels are to be kept before those of the entries that matter.
    first: usize,
    item: Option<Arc<str>>,
    finding: Finding,
}

/// Whether a broken rule is silent because another one speaks of the same fault.
fn gives_way(fault: &Fault<'_>, faults: &[Fault<'_>]) -> bool {
    // Most rules give way to none, so that this is no walk of all faults for each.
    fault.rule.gives_way_to.iter().any(|(id, _)| {
        let beside = |other: &Fault<'_>| {
            other.subject == fault.subject || other.subject == Subject::Whole || fault.subject == Subject::Whole
        };
        faults.iter().any(|other| other.rule.id == *id && beside(other))
    })
}

struct Judge<'y, 'r> {
    /// The load at the heaviest and, where that differs, the lightest end of its material's density.
    ends: Vec<End<'y>>,
    system: System,
    faults: Vec<Fault<'r>>,
    lacks: Vec<(Lack, Arc<str>)>,
    /// Bounds that are kept.
    kept: Vec<Kept<'r>>,
    /// Kept when figures are wanted.
    limits: Option<Limits>,
}

impl<'r> Judge<'_, 'r> {
    fn ask(&mut self, rule: &'r Rule, ask: &'r Ask) {
        let Some(first) = self.ends.first() else { return };
        for subject in ask.each.subjects(&first.load) {
            for at in 0..self.ends.len() {
                if self.ask_one(rule, ask, subject, at) {
                    break;
                }
            }
        }
    }

    /// Asks one subject at one end; says whether that settles it.
    fn ask_one(&mut self, rule: &'r Rule, ask: &'r Ask, subject: Subject, end: usize) -> bool {
        let Some(End { load, .. }) = self.ends.get(end) else { return true };
        let mut open = Vec::new();
        let mut read = |slot: usize| value(rule, load, subject, slot, &mut open);
        let when: Option<Verdict<Lack>> = ask.when.as_ref().map(|when| when.eval(&mut read));
        if when.as_ref().is_some_and(|when| when.truth == Truth::Fails) {
            return false;
        }
        let verdict = ask.require.eval(&mut read);
        let bound = verdict.decisive().and_then(|compared| compared.bound(is_param));
        if let (Some(limits), Some(bound)) = (&mut self.limits, &bound)
            && let Some(figure) = bound.figure.name.and_then(slot_figure)
        {
            limits.note(figure, figure.result_name(load, subject), (bound.limit, bound.at), &rule.id);
        }
        let asked = when.as_ref().is_none_or(|when| when.truth == Truth::Holds);
        match verdict.truth {
            // It holds for the least that is known; what can be more is not known to hold.
            Truth::Holds if !open.is_empty() => {
                self.lacks.extend(open.into_iter().map(|lack| (lack, Arc::clone(&rule.id))));
                false
            }
            Truth::Holds => {
                let kept = bound.filter(|_| rule.thin && asked).and_then(|bound| Kept::of(rule, subject, end, &bound));
                self.kept.extend(kept);
                false
            }
            Truth::Fails if asked => {
                let (finding, first) = self.finding(rule, ask, load, subject, &verdict);
                let named = |slot: Option<usize>| slot.and_then(slot_figure);
                let figures = bound.and_then(|bound| {
                    Some((named(bound.figure.name)?, named(bound.bound.name.or(bound.bound.first_name))))
                });
                let item = match subject {
                    Subject::Item(at) | Subject::Fit { item: at, .. } | Subject::Tie { item: at, .. } => {
                        load.items.get(at).map(|item| Arc::clone(&item.label))
                    }
                    _ => None,
                };
                self.faults.push(Fault { rule, subject, end, figures, first, item, finding });
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

    /// The finding, and how many of its labels go before those of the entries that matter most.
    fn finding(
        &self,
        rule: &Rule,
        ask: &Ask,
        load: &Load<'_>,
        subject: Subject,
        verdict: &Verdict<Lack>,
    ) -> (Finding, usize) {
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
        // The bound itself, where it is an entry.
        let bound = verdict.decisive().and_then(|compared| compared.bound(is_param));
        let limit =
            bound.and_then(|bound| slot_figure(bound.bound.name?)).and_then(|figure| figure.of(load, subject).ok()?.at);
        if let Some(at) = limit.and_then(|limit| places.iter().position(|place| place.span == limit)) {
            finding.labels.push(places.remove(at));
        }
        let first = finding.labels.len();
        finding.labels.extend(places);
        finding.figure = bounded(rule, load, subject, verdict);
        finding.source = Some(rule.source.shown());
        finding.help = ask.help.as_ref().map(|help| speaker.say(help));
        finding.sheet = Some(Arc::clone(&load.sheet.name.value));
        finding.leg = load.leg.map(|leg| Arc::clone(&leg.name.value));
        (finding, first)
    }
}

/// Axles that share equally break a bound alike: they are told in one finding, at one place.
fn merge_alike<'r>(faults: Vec<Fault<'r>>, load: &Load<'_>) -> Vec<Fault<'r>> {
    let mut told: Vec<(Fault<'r>, Vec<usize>)> = Vec::new();
    for fault in faults {
        let Subject::Axle(AxleRef::Trailer(axle)) = fault.subject else {
            told.push((fault, Vec::new()));
            continue;
        };
        let own = fault.subject.spoken(load);
        let alike = told.iter_mut().find(|(other, axles)| {
            let same = |name: &str, text: &str| text.replace(name, "");
            let names = (other.subject.spoken(load), &own);
            !axles.is_empty()
                && other.rule.id == fault.rule.id
                && other.finding.primary.span == fault.finding.primary.span
                && same(&names.0, &other.finding.message) == same(names.1, &fault.finding.message)
        });
        match alike {
            Some((other, axles)) => {
                axles.push(axle);
                other.finding.labels.extend(fault.finding.labels);
            }
            None => told.push((fault, vec![axle])),
        }
    }
    let mut merged = Vec::with_capacity(told.len());
    for (mut fault, axles) in told {
        if axles.len() > 1 {
            let numbers: Vec<String> = axles.iter().map(|axle| (axle + 1).to_string()).collect();
            let (last, first) = numbers.split_last().map_or(("", &[][..]), |(last, first)| (last.as_str(), first));
            let trailer = load.trailer.as_ref().map_or("?", |trailer| &*trailer.id.value);
            let all = format!("each of {trailer}'s axles {} and {last}", first.join(", "));
            fault.finding.message = fault.finding.message.replace(&fault.subject.spoken(load), &all);
        }
        merged.push(fault);
    }
    merged
}

pub(super) fn is_param(slot: usize) -> bool {
    matches!(Slot::of(slot), Slot::Param(_))
}

/// A fault's finding with its spread, the entries that matter most to it, and the waiver that accepts it.
fn finished(fault: Fault<'_>, load: &Load<'_>, ends: &[End<'_>], system: System, today: &str) -> Finding {
    let waived = waived(load, fault.rule, fault.item.as_ref(), today);
    let Fault { subject, end, figures, first, mut finding, .. } = fault;
    if let (Some((figure, bound)), Some(end)) = (figures, ends.get(end)) {
        let parts = end.parts(figure, bound, subject);
        let spread = root_sum_of_squares(&parts);
        if let Some(bounded) = finding.figure.as_mut().filter(|_| spread > 0.0) {
            bounded.plus_minus = Some(spread);
        }
        let kind = figure.measures.kind();
        let matters = parts.iter().filter(|part| part.reach.abs() >= MATTERS * spread).filter_map(|part| {
            let (rest, half) = end.spreads().rest(part.rest)?;
            let text = format!(
                "{} more or less here moves it by {}",
                show(half, rest.kind, system),
                show(part.reach.abs(), kind?, system)
            );
            Some(Label { span: rest.at, text })
        });
        let new: Vec<Label> = matters.filter(|label| finding.labels.iter().all(|own| own.span != label.span)).collect();
        finding.labels.splice(first.min(finding.labels.len())..first.min(finding.labels.len()), new);
    }
    // The node around the entry at fault shows nothing that the entry does not.
    finding.labels.retain(|label| !label.span.holds(finding.primary.span));
    finding.labels.truncate(MOST_LABELS);
    finding.waived = waived;
    finding
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

/// The value behind a slot of a condition. Why it can be more, where it is only the least that is known, goes to `open`.
///
/// # Errors
/// What is missing to know it.
pub fn value(rule: &Rule, load: &Load<'_>, subject: Subject, slot: usize, open: &mut Vec<Lack>) -> Result<Value, Lack> {
    // Slots come from the rule's own compiled condition, so parameter and figure are there.
    match Slot::of(slot) {
        Slot::Param(at) => Ok(Value::Number(rule.params.get(at).map_or(f64::NAN, |param| param.value))),
        Slot::Figure(_) => match slot_figure(slot) {
            Some(figure) => figure.of(load, subject).map(|reading| {
                open.extend(reading.open);
                reading.value
            }),
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
    let bound = compared.bound(is_param)?;
    let figure = slot_figure(bound.figure.name.or(bound.figure.first_name)?)?;
    let name = if bound.figure.name.is_some() {
        figure.result_name(load, subject)
    } else {
        // An expression has no name of its own: it is told as the rule writes it.
        rule.asks().iter().find_map(|ask| ask.require.text().get(bound.figure.range.clone()))?.to_owned()
    };
    Some(at_bound(name, bound.value, bound.figure.dim.kind(), bound.limit, bound.at))
}

/// A figure beside the bound that it broke or barely keeps.
pub(super) fn at_bound(name: String, value: f64, kind: Option<Kind>, limit: Limit, at: f64) -> Bounded {
    Bounded {
        name,
        value,
        kind,
        plus_minus: None,
        at_least: matches!(limit, Limit::AtLeast | Limit::Exactly).then_some(at),
        at_most: matches!(limit, Limit::AtMost | Limit::Exactly).then_some(at),
    }
}
