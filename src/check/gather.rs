//! The results of a yard's loads put together: each fault once, each missing entry once.

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::sync::Arc;

use super::Judged;
use super::waive::unused_waivers;
use crate::figures::Lack;
use crate::finding::{Finding, Fix, Label, LoadFigures, LoadName};
use crate::lower::to_add;
use crate::model::{LoadRef, Missing, Sheet, Yard};
use crate::rules::RuleSet;
use crate::text::{FileId, Span, all_of};
use crate::units::System;

/// Words under which a sheet gives a rating: where one is missing, `rating-missing` says so instead of `cannot-tell`.
const RATINGS: [&str; 8] =
    ["rating", "rating tongue", "rating trailer", "gvwr", "gcwr", "tongue", "breaking", "load-index"];

/// The findings and figures of a yard.
#[derive(Clone, Debug, Default)]
pub struct Gathered {
    /// The findings, in order of file and place.
    pub findings: Vec<Finding>,
    /// The figures of each load, in order.
    pub loads: Vec<LoadFigures>,
}

/// Puts together what reading found and what judging each load found.
#[must_use]
pub fn gather(yard: &Yard, rules: &RuleSet, read: Vec<Finding>, judged: Vec<Judged>) -> Gathered {
    let mut findings = read;
    for finding in &mut findings {
        let sheet = yard.sheet_at(finding.primary.span).and_then(|at| yard.sheets.get(at));
        if let Some(sheet) = sheet.filter(|_| finding.sheet.is_none()) {
            finding.sheet = Some(Arc::clone(&sheet.name.value));
            let leg = sheet.legs.iter().find(|leg| leg.span.holds(finding.primary.span));
            finding.leg = leg.map(|leg| Arc::clone(&leg.name.value));
        }
    }
    findings.extend(unused_waivers(yard, rules, &judged));
    let mut wants = Wants::default();
    let mut loads = Vec::with_capacity(judged.len());
    for one in judged {
        wants.take(yard, &one);
        findings.extend(one.findings);
        loads.push(one.figures);
    }
    findings.extend(wants.findings(yard));
    let mut findings = each_once(findings);
    for finding in &mut findings {
        if let Some(rule) = rules.get(&finding.rule) {
            finding.level = rule.level;
        }
    }
    in_order(&mut findings);
    Gathered { findings, loads }
}

/// The same fault seen in several loads is told once, with the names of all; one that some load waives and another does not
/// stays.
fn each_once(findings: Vec<Finding>) -> Vec<Finding> {
    let mut seen: HashMap<_, usize> = HashMap::new();
    let mut once: Vec<Finding> = Vec::with_capacity(findings.len());
    for one in findings {
        // A thin margin is each load's own, though two may say the same of it.
        let load = (one.rule == "margin-thin").then(|| (one.sheet.clone(), one.leg.clone()));
        let key = (one.rule.clone(), one.primary.span, one.message.clone(), one.waived.is_some(), load);
        let Some(first) = seen.get(&key).and_then(|at| once.get_mut(*at)) else {
            seen.insert(key, once.len());
            once.push(one);
            continue;
        };
        if let Some(sheet) = one.sheet.filter(|_| first.sheet.is_some()) {
            let name = LoadName { sheet, leg: one.leg };
            let own = (first.sheet.as_ref(), first.leg.as_ref()) == (Some(&name.sheet), name.leg.as_ref());
            if !own && !first.also.contains(&name) {
                first.also.push(name);
            }
        }
    }
    once
}

/// Puts findings in order of file and place, the gravest first where they lie at one place.
pub fn in_order(findings: &mut [Finding]) {
    findings.sort_by(|a, b| {
        let key = |one: &Finding| (one.primary.span.file, one.primary.span.start, one.primary.span.end);
        key(a).cmp(&key(b)).then_with(|| b.level.cmp(&a.level)).then_with(|| a.rule.cmp(&b.rule))
    });
}

/// The note on a file without any word of ours.
#[must_use]
pub fn foreign(file: FileId) -> Finding {
    let message = "no word of a load sheet stands at the top level here, so this file is left alone";
    Finding::new("not-ours", crate::finding::Level::Note, Span::new(file, 0..0), message)
}

/// A place, what stands there, and what is said of it.
type Told = (Span, Arc<str>, Arc<str>);

/// What loads want in order to be judged.
#[derive(Default)]
struct Wants {
    /// For each missing entry the rules that cannot be judged without it, and the loads that want it.
    entries: BTreeMap<Missing, (BTreeSet<Arc<str>>, BTreeSet<LoadRef>)>,
    /// What nothing published says how to compute, with the rules that cannot be judged, and the loads that want it.
    not_known: BTreeMap<Told, (BTreeSet<Arc<str>>, BTreeSet<LoadRef>)>,
    /// Contradictions, and the loads that show them.
    contradictions: BTreeMap<Told, BTreeSet<LoadRef>>,
    /// Loads that rest on something broken in another file.
    not_computed: Vec<(LoadRef, Lack)>,
}

impl Wants {
    fn take(&mut self, yard: &Yard, judged: &Judged) {
        for (lack, rule) in &judged.lacks {
            match lack {
                Lack::Entry(missing) if !missing.broken => {
                    let (rules, loads) = self.entries.entry(missing.clone()).or_default();
                    rules.insert(Arc::clone(rule));
                    loads.insert(judged.which);
                }
                Lack::Contradiction { at, owner, why } => {
                    let key = (*at, Arc::clone(owner), Arc::clone(why));
                    self.contradictions.entry(key).or_default().insert(judged.which);
                }
                Lack::NotKnown { at, owner, why } => {
                    let key = (*at, Arc::clone(owner), Arc::clone(why));
                    let (rules, loads) = self.not_known.entry(key).or_default();
                    rules.insert(Arc::clone(rule));
                    loads.insert(judged.which);
                }
                Lack::Entry(_) => {}
            }
        }
        // What is broken in the sheet's own file is told there; what is broken in another is told at the sheet too, so
        // that who reads only the sheet knows that nothing was checked.
        if let Some(lack) = judged.not_computed.as_ref().filter(|lack| lack.is_silent()) {
            let own = yard.sheets.get(judged.which.sheet).is_some_and(|sheet| sheet.span.file == lack.at().file);
            if !own {
                self.not_computed.push((judged.which, lack.clone()));
            }
        }
    }

    fn findings(self, yard: &Yard) -> Vec<Finding> {
        let mut findings = Vec::new();
        for (missing, (rules, loads)) in self.entries {
            let rating = RATINGS.contains(&missing.word);
            let id = if rating { "rating-missing" } else { "cannot-tell" };
            let names: Vec<&str> = rules.iter().map(|rule| &**rule).collect();
            let message =
                format!("{} gives no {}, so {} cannot be judged", missing.owner, missing.word, all_of(&names));
            // In the units that the sheet is written in.
            let sheet = loads.first().and_then(|load| yard.sheets.get(load.sheet));
            let system = sheet.map_or(System::default(), |sheet| sheet.mostly);
            let mut finding = Finding::new(id, crate::finding::Level::Warning, missing.at, message)
                .fix(Fix::advice(to_add(&missing.owner, missing.word, system)));
            name_load(yard, &loads, &mut finding);
            findings.push(finding);
        }
        for ((at, owner, why), (rules, loads)) in self.not_known {
            let names: Vec<&str> = rules.iter().map(|rule| &**rule).collect();
            let message = format!("{owner}: {why}, so {} cannot be judged", all_of(&names));
            let mut finding = Finding::new("cannot-tell", crate::finding::Level::Warning, at, message);
            name_load(yard, &loads, &mut finding);
            findings.push(finding);
        }
        for ((at, owner, why), loads) in self.contradictions {
            let message = format!("{owner}: {why}");
            let mut finding = Finding::new("does-not-add-up", crate::finding::Level::Error, at, message);
            name_load(yard, &loads, &mut finding);
            findings.push(finding);
        }
        for (which, lack) in self.not_computed {
            let Some((sheet, at)) = place(yard, which) else { continue };
            let message = format!("this load cannot be checked in full: {lack} could not be read");
            let mut finding = Finding::new("cannot-tell", crate::finding::Level::Warning, at, message);
            finding.labels.push(Label { span: lack.at(), text: "broken here".to_owned() });
            finding.sheet = Some(Arc::clone(&sheet.name.value));
            finding.leg = which.leg.and_then(|leg| sheet.legs.get(leg)).map(|leg| Arc::clone(&leg.name.value));
            finding.help = Some("mend what is reported there, then check again".to_owned());
            findings.push(finding);
        }
        findings
    }
}

fn place(yard: &Yard, which: LoadRef) -> Option<(&Sheet, Span)> {
    let sheet = yard.sheets.get(which.sheet)?;
    let leg = which.leg.and_then(|leg| sheet.legs.get(leg));
    Some((sheet, leg.map_or(sheet.owner.at, |leg| leg.owner.at)))
}

/// Names the loads that want something: the first of them, and the others beside it.
fn name_load(yard: &Yard, loads: &BTreeSet<LoadRef>, finding: &mut Finding) {
    let named = |which: &LoadRef| {
        let sheet = yard.sheets.get(which.sheet)?;
        let leg = which.leg.and_then(|leg| sheet.legs.get(leg)).map(|leg| Arc::clone(&leg.name.value));
        Some(LoadName { sheet: Arc::clone(&sheet.name.value), leg })
    };
    let mut names = loads.iter().filter_map(named);
    let Some(first) = names.next() else { return };
    (finding.sheet, finding.leg, finding.also) = (Some(first.sheet), first.leg, names.collect());
}
