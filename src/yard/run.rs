//! Yards checked: their loads judged side by side, their results in order.

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;
use std::sync::Arc;

use rayon::prelude::*;

use super::open::open_for_check;
use super::progress::{Progress, Step};
use super::{Opened, PathError, Wanted, find};
use crate::check::{Gathered, Judged, Options, gather, in_order, judge, rests_on};
use crate::finding::{Finding, LoadFigures};
use crate::mend::{Bench, fix};
use crate::model::{LoadRef, Yard};
use crate::rules::{Rule, RuleSet};
use crate::text::{FileId, Sources, nearest};
use crate::units::System;

/// Which loads a command is narrowed to.
#[derive(Clone, Debug, Default)]
pub struct Narrowed {
    /// Only the sheet of this name.
    pub sheet: Option<String>,
    /// Only legs of this name.
    pub leg: Option<String>,
}

impl Narrowed {
    /// Whether it leaves everything in.
    pub(super) const fn is_all(&self) -> bool {
        self.sheet.is_none() && self.leg.is_none()
    }
}

/// One or several yards checked.
#[derive(Debug, Default)]
pub struct Checked {
    /// Their files.
    pub sources: Sources,
    /// Their findings, yard by yard, in order of file and place.
    pub findings: Vec<Finding>,
    /// The figures of each load.
    pub loads: Vec<LoadFigures>,
    /// How many files, among those asked for, hold something of ours.
    pub files: usize,
    /// When it was narrowed to a name that is not there: the name that may have been meant, as a message writes it.
    pub near: Option<String>,
    /// What is wrong with rule files, also among the findings: with any of these the run counts as failed.
    pub rule_faults: Vec<Finding>,
    /// The rules that are not built in, for output that tells what a rule says.
    pub company_rules: Vec<Rule>,
}

impl Checked {
    /// Takes another yard's results in, its files numbered after those that are here.
    fn take(&mut self, mut other: Self) {
        let by = u32::try_from(self.sources.len()).unwrap_or(u32::MAX);
        for finding in other.findings.iter_mut().chain(&mut other.rule_faults) {
            finding.shift_files(by);
        }
        for load in &mut other.loads {
            load.file = FileId(load.file.0.saturating_add(by));
        }
        self.sources.append(other.sources);
        self.findings.append(&mut other.findings);
        self.loads.append(&mut other.loads);
        self.files += other.files;
        self.near = self.near.take().or(other.near);
        self.rule_faults.append(&mut other.rule_faults);
        self.company_rules.append(&mut other.company_rules);
    }
}

/// Checks the yards that these paths belong to or hold, in order of path.
///
/// # Errors
/// When a path does not exist or holds nothing of ours.
pub fn check(
    paths: &[PathBuf],
    narrowed: &Narrowed,
    options: &Options,
    progress: &Progress,
) -> Result<Checked, PathError> {
    let mut all = Checked::default();
    each_yard(paths, progress, |_, opened| all.take(check_one(opened, narrowed, options, progress)))?;
    Ok(all)
}

/// Opens the yards that these paths belong to or hold, in order of path.
pub(super) fn each_yard(
    paths: &[PathBuf],
    progress: &Progress,
    mut visit: impl FnMut(&Wanted, Opened),
) -> Result<(), PathError> {
    let mut wanted: BTreeMap<PathBuf, Wanted> = find(paths)?.into_iter().map(|one| (one.root.clone(), one)).collect();
    // A yard inside another comes after it in order of path, so each is opened once, when all is known of what was
    // asked of it.
    while let Some((_, one)) = wanted.pop_first() {
        let opened = open_for_check(&one, progress)?;
        for root in &opened.inner {
            wanted.insert(root.clone(), Wanted { root: root.clone(), asked: Vec::new() });
        }
        visit(&one, opened);
    }
    Ok(())
}

/// Takes a yard's files, and what is wrong with its rule files, to those of the yards before it. `by` is how many files those
/// have, so that what was found in this yard is numbered that much later.
pub(super) fn take_files(mut opened: Opened, by: u32, sources: &mut Sources, rule_faults: &mut Vec<Finding>) {
    for finding in &mut opened.rule_faults {
        finding.shift_files(by);
    }
    sources.append(opened.sources);
    rule_faults.append(&mut opened.rule_faults);
}

/// The loads of a yard that were asked for, and the name that may have been meant where there is none.
pub(super) fn chosen(opened: &Opened, narrowed: &Narrowed) -> (Vec<LoadRef>, Option<String>) {
    let Opened { yard, asked, .. } = opened;
    let shown = |which: &LoadRef| asked.as_ref().is_none_or(|files| !rests_on(yard, *which).is_disjoint(files));
    let loads: Vec<LoadRef> = yard.loads().filter(|which| fits(yard, *which, narrowed)).filter(shown).collect();
    let near = if loads.is_empty() { near(yard, yard.loads().filter(shown), narrowed) } else { None };
    (loads, near)
}

fn check_one(opened: Opened, narrowed: &Narrowed, options: &Options, progress: &Progress) -> Checked {
    let Found { findings, loads, near } = found(&opened, narrowed, options, progress);
    let company_rules = opened.rules.rules().iter().filter(|rule| !rule.builtin).cloned().collect();
    let Opened { sources, rule_faults, asked, ours, .. } = opened;
    let files = asked.as_ref().map_or(ours.len(), |asked| ours.intersection(asked).count());
    Checked { sources, findings, loads, files, near, rule_faults, company_rules }
}

/// What a check of one yard finds.
pub(super) struct Found {
    pub(super) findings: Vec<Finding>,
    pub(super) loads: Vec<LoadFigures>,
    pub(super) near: Option<String>,
}

/// Checks the loads of a yard that were asked for.
pub(super) fn found(opened: &Opened, narrowed: &Narrowed, options: &Options, progress: &Progress) -> Found {
    let (loads, near) = chosen(opened, narrowed);
    let Opened { yard, rules, findings, rule_faults, asked, .. } = opened;
    let judged = progress.each(Step::Checking, &loads, |which| judge(yard, rules, *which, options));
    let judged: Vec<Judged> = judged.into_iter().flatten().collect();
    let rested: BTreeSet<FileId> = match (&asked, narrowed.is_all()) {
        (None, true) => BTreeSet::new(),
        _ => loads.iter().flat_map(|which| rests_on(yard, *which)).collect(),
    };
    let chosen: BTreeSet<usize> = loads.iter().map(|which| which.sheet).collect();
    let read = findings.iter().filter(|finding| {
        let span = finding.primary.span;
        let in_asked = asked.as_ref().is_none_or(|files| files.contains(&span.file));
        // What no load uses has nothing to do with those that were asked for.
        let rested = finding.rule != "never-used" && rested.contains(&span.file);
        if narrowed.is_all() {
            return in_asked || rested;
        }
        match yard.sheet_at(span) {
            Some(sheet) => chosen.contains(&sheet),
            None => rested,
        }
    });
    // What keeps rules from being asked is said whatever was asked for.
    let read = read.chain(rule_faults).cloned().collect();
    let Gathered { mut findings, loads } = gather(yard, rules, read, judged);
    if options.mend {
        findings = mended(&bench(opened, options), rules, findings, options.units, progress);
    }
    Found { findings, loads, near }
}

/// A bench on which changes of a yard are tried.
pub(super) fn bench<'o>(opened: &'o Opened, options: &Options) -> Bench<'o> {
    let Opened { sources, materials, yard, rules_unset, .. } = opened;
    Bench::new(sources, *materials, yard, rules_unset, options.clone())
}

/// The findings with what cures them, sheet by sheet side by side.
fn mended(
    bench: &Bench<'_>,
    rules: &RuleSet,
    findings: Vec<Finding>,
    units: Option<System>,
    progress: &Progress,
) -> Vec<Finding> {
    let mut sheets: BTreeMap<Option<Arc<str>>, Vec<(usize, Finding)>> = BTreeMap::new();
    for (at, finding) in findings.into_iter().enumerate() {
        sheets.entry(finding.sheet.clone()).or_default().push((at, finding));
    }
    // What belongs to no sheet is among them under no name, and is not told as one.
    progress.begin(Step::Mending, sheets.keys().flatten().count());
    let mut sheets: Vec<Vec<(usize, Finding)>> = sheets.into_values().collect();
    let added = sheets.par_iter_mut().map(|findings| {
        let added = fix(bench, rules, findings.iter_mut().map(|(_, finding)| finding), units);
        progress.done(Step::Mending, usize::from(findings.iter().any(|(_, finding)| finding.sheet.is_some())));
        added
    });
    let added: Vec<Vec<Finding>> = added.collect();
    let mut all: Vec<(usize, Finding)> = sheets.into_iter().flatten().collect();
    all.sort_by_key(|(at, _)| *at);
    let all = all.into_iter().map(|(_, finding)| finding);
    let mut all: Vec<Finding> = all.chain(added.into_iter().flatten()).collect();
    in_order(&mut all);
    all
}

fn fits(yard: &Yard, which: LoadRef, narrowed: &Narrowed) -> bool {
    let Some(sheet) = yard.sheets.get(which.sheet) else { return false };
    let leg = which.leg.and_then(|leg| sheet.legs.get(leg));
    let named = |wanted: &Option<String>, name: Option<&Arc<str>>| {
        wanted.as_ref().is_none_or(|wanted| name.is_some_and(|name| **name == **wanted))
    };
    named(&narrowed.sheet, Some(&sheet.name.value)) && named(&narrowed.leg, leg.map(|leg| &leg.name.value))
}

/// The sheet or leg, among these loads, whose name is nearest to the one that is wanted.
fn near(yard: &Yard, loads: impl Iterator<Item = LoadRef>, narrowed: &Narrowed) -> Option<String> {
    if narrowed.is_all() {
        return None;
    }
    let loads: Vec<(&str, Option<&str>)> = loads
        .filter_map(|which| {
            let sheet = yard.sheets.get(which.sheet)?;
            let leg = which.leg.and_then(|leg| sheet.legs.get(leg));
            Some((&*sheet.name.value, leg.map(|leg| &*leg.name.value)))
        })
        .collect();
    if let Some(wanted) = narrowed.sheet.as_deref()
        && loads.iter().all(|(sheet, _)| *sheet != wanted)
    {
        return nearest(wanted, loads.iter().map(|(sheet, _)| *sheet)).map(|near| format!("sheet \"{near}\""));
    }
    let wanted = narrowed.leg.as_deref()?;
    let within = |sheet: &str| narrowed.sheet.as_deref().is_none_or(|wanted| wanted == sheet);
    let legs = loads.iter().filter(|(sheet, _)| within(sheet)).filter_map(|(_, leg)| *leg);
    nearest(wanted, legs).map(|near| format!("leg \"{near}\""))
}
