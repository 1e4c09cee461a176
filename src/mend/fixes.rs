//! The fixes of a run: for each finding the smallest change that cures it, every one tried before it is offered.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::bench::Bench;
use super::cure::Moves;
use super::prove::prove;
use crate::finding::{Finding, Fix, Grade};
use crate::model::{LoadRef, Yard};
use crate::rules::{Rule, RuleSet};

/// Gives each finding the fixes that cure it. What stands in `fixes` before is taken as proposed: what is not proven is
/// taken out, but for advice, which changes nothing. `rules` are those in force.
pub fn fix<'f>(bench: &Bench<'_>, rules: &RuleSet, findings: impl Iterator<Item = &'f mut Finding>) {
    let mut loads: BTreeMap<LoadRef, Vec<&mut Finding>> = BTreeMap::new();
    for finding in findings {
        if finding.waived.is_some() {
            finding.fixes.clear();
            continue;
        }
        let proposed = std::mem::take(&mut finding.fixes);
        let holds = |fix: &Fix| fix.grade == Grade::Advice || prove(bench, finding, &fix.edits).is_some();
        let proven: Vec<Fix> = proposed.into_iter().filter(holds).collect();
        finding.fixes = proven;
        let movable = rules.get(&finding.rule).is_some_and(|rule| !rule.asks().is_empty());
        if let Some(which) = load_of(bench.yard(), finding).filter(|_| movable && finding.fixes.is_empty()) {
            loads.entry(which).or_default().push(finding);
        }
    }
    for (which, findings) in loads {
        let Some(moves) = Moves::of(bench, rules, which) else { continue };
        for finding in findings {
            let Some(rule) = rules.get(&finding.rule) else { continue };
            if let Some(fix) = moves.fix(bench, finding, &cures(rule)) {
                finding.help = Some(fix.title.clone());
                finding.fixes.push(fix);
            }
        }
    }
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
