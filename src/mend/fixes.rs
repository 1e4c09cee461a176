//! The fixes of a run: for each finding the smallest change that cures it, every one tried before it is offered.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::aboard;
use super::bench::Bench;
use super::cure::Moves;
use super::nowhere::no_place;
use super::prove::prove;
use super::ties;
use super::too_much::too_much;
use crate::finding::{Finding, Fix, Grade};
use crate::model::{LoadRef, Yard};
use crate::rules::{Rule, RuleSet};
use crate::units::System;

/// The finding that a reading contradicts the sheet.
const DISAGREES: &str = "reading-disagrees";

/// For how many findings of one load a change is searched.
const MOST_FINDINGS: usize = 32;

/// Gives each finding the fixes that cure it, and returns the findings that a search for a place adds. What stands in
/// `fixes` before is taken as proposed: what is not proven is taken out, but for advice, which changes nothing. `rules`
/// are those in force.
pub fn fix<'f>(
    bench: &Bench<'_>,
    rules: &RuleSet,
    findings: impl Iterator<Item = &'f mut Finding>,
    units: Option<System>,
) -> Vec<Finding> {
    let mut loads: BTreeMap<LoadRef, Vec<&mut Finding>> = BTreeMap::new();
    for finding in findings {
        let proposed = std::mem::take(&mut finding.fixes);
        if finding.waived.is_none() {
            let holds = |fix: &Fix| fix.grade == Grade::Advice || prove(bench, finding, &fix.edits).is_some();
            finding.fixes = proposed.into_iter().filter(holds).collect();
        }
        let asked = finding.rule == DISAGREES || rules.get(&finding.rule).is_some_and(|rule| !rule.asks().is_empty());
        if let Some(which) = load_of(bench.yard(), finding).filter(|_| asked) {
            loads.entry(which).or_default().push(finding);
        }
    }
    let mut added = Vec::new();
    for (which, findings) in loads {
        if findings.iter().all(|finding| finding.waived.is_some()) {
            continue;
        }
        let Some(moves) = Moves::of_yard(bench.yard(), rules, which) else { continue };
        let waived: Vec<Arc<str>> = findings
            .iter()
            .filter(|finding| finding.waived.is_some())
            .map(|finding| Arc::from(&*finding.rule))
            .collect();
        // Where a gauge contradicts the sheet, nobody knows which way a move would be right.
        let doubted = findings.iter().any(|finding| finding.rule == DISAGREES && finding.waived.is_none());
        if doubted {
            continue;
        }
        let mut stuck = false;
        let open = findings.into_iter().filter(|finding| finding.waived.is_none() && finding.fixes.is_empty());
        for finding in open.take(MOST_FINDINGS) {
            let Some(rule) = rules.get(&finding.rule) else { continue };
            let cures = cures(rule);
            let mut fixes: Vec<Fix> = moves.fix(bench, finding, &cures).into_iter().collect();
            if let Some(system) = moves.ends.first().map(|load| load.shown_in(units)) {
                fixes.extend(aboard::fixes(&moves, bench, finding, &cures, system));
            }
            if let Some(load) = moves.ends.first() {
                fixes.extend(ties::fixes(bench, rules, load, finding, &cures));
            }
            if fixes.is_empty() {
                stuck |= cures.iter().any(|cure| &**cure == "place") && moves.depends(&finding.rule);
            } else {
                finding.help = Some(told(&fixes));
                finding.fixes.append(&mut fixes);
            }
        }
        if stuck {
            let Some(system) = moves.ends.first().map(|load| load.shown_in(units)) else { continue };
            added.extend(no_place(bench, rules, &moves, &waived, system));
        }
        added.extend(too_much(rules, &moves, &waived));
        if let Some(load) = moves.ends.first() {
            bench.let_go(load.sheet.owner.at.file, Some(which.sheet));
        }
    }
    added
}

/// How many ways are told beside one another.
const MOST_WAYS: usize = 3;

/// The fixes as one sentence.
fn told(fixes: &[Fix]) -> String {
    let titles: Vec<&str> = fixes.iter().take(MOST_WAYS).map(|fix| &*fix.title).collect();
    titles.join("; or ")
}

/// What a fix may change: what the rule says, or where things stand when it says nothing.
fn cures(rule: &Rule) -> Vec<Arc<str>> {
    if rule.cure.is_empty() { vec!["place".into(), "facing".into()] } else { rule.cure.clone() }
}

/// The load that a finding belongs to.
pub(super) fn load_of(yard: &Yard, finding: &Finding) -> Option<LoadRef> {
    let name = finding.sheet.as_ref()?;
    let mut named = yard.sheets.iter().enumerate().filter(|(_, sheet)| sheet.name.value == *name);
    let (sheet, one) = named.next()?;
    // Of two sheets of one name it cannot be told which is meant.
    if named.next().is_some() {
        return None;
    }
    let leg = match &finding.leg {
        Some(name) => Some(one.legs.iter().position(|leg| leg.name.value == *name)?),
        None if one.legs.is_empty() => None,
        None => return None,
    };
    Some(LoadRef { sheet, leg })
}
