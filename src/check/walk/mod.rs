//! The crew's list for one load, made from its own numbers: place, before loading, secure, verify, drive, check again.
//!
//! Every number is one of the figures that `weigh` shows, or an entry as the sheet writes it; what cannot be known is said to
//! be so. A load that cannot be computed has no list, only what is missing.

mod drive;
mod loading;
mod numbers;
mod place;
mod secure;
mod verify;

use std::collections::BTreeSet;
use std::sync::Arc;

use super::Judged;
use super::known::End;
use crate::figures::{Lack, Load};
use crate::finding::{Finding, Level, OpenFault, Walk, WalkSection};
use crate::model::Yard;
use crate::rules::RuleSet;
use numbers::Numbers;

/// The crew's list for a load that was judged with its figures; `findings` are all that concern it, as a check tells them,
/// and `day` is the day by which waivers were judged. None when the yard has no such load.
#[must_use]
pub fn walk(yard: &Yard, rules: &RuleSet, judged: &Judged, findings: &[Finding], day: &Arc<str>) -> Option<Walk> {
    let ends: Vec<End<'_>> = Load::at_both_ends(yard, judged.which)?.into_iter().map(End::new).collect();
    let end = ends.first()?;
    let load = &end.load;
    let shown = &judged.figures;
    let graver = |finding: &&Finding| finding.level >= Level::Warning && finding.waived.is_none();
    let mut walk = Walk {
        sheet: Arc::clone(&shown.sheet),
        leg: shown.leg.clone(),
        file: shown.file,
        rig: shown.rig.clone(),
        system: shown.system,
        day: Arc::clone(day),
        open: gravest_first(findings.iter().filter(graver)),
        accepted: findings.iter().filter_map(accepted).collect(),
        missing: None,
        sections: Vec::new(),
    };
    let lines = shown.figures.as_deref().filter(|_| judged.not_computed.is_none());
    let Some(lines) = lines else {
        walk.missing = Some(missing(judged));
        return Some(walk);
    };
    let numbers = Numbers { load, lines, system: shown.system };
    walk.sections = vec![
        WalkSection { title: "place", lines: place::lines(&numbers) },
        WalkSection { title: "before loading", lines: loading::lines(&numbers) },
        WalkSection { title: "secure", lines: secure::lines(&numbers) },
        WalkSection { title: "verify", lines: verify::lines(&numbers, end, ends.len() > 1, &shown.readings, findings) },
        WalkSection { title: "drive", lines: drive::lines(&numbers, rules, findings) },
        WalkSection { title: "check again on the way", lines: drive::again(rules, findings) },
    ];
    Some(walk)
}

fn gravest_first<'f>(findings: impl Iterator<Item = &'f Finding>) -> Vec<OpenFault> {
    let mut open: Vec<OpenFault> = findings
        .map(|finding| OpenFault {
            level: finding.level,
            rule: finding.rule.to_string(),
            message: finding.message.clone(),
        })
        .collect();
    // Stable: within a level they keep the order of the check.
    open.sort_by_key(|fault| std::cmp::Reverse(fault.level));
    open
}

/// A finding that a waiver accepts, in words.
fn accepted(finding: &Finding) -> Option<String> {
    let waived = finding.waived.as_ref()?;
    Some(format!("{}: {}; accepted: {waived}", finding.rule, finding.message))
}

/// What a load lacks that cannot be computed, each thing once, what it fails by first. What was broken otherwise stands in
/// the box as a finding.
fn missing(judged: &Judged) -> Vec<String> {
    let told = |lack: &Lack| match lack {
        Lack::Entry(missing) if missing.broken => format!("{missing}, which could not be read"),
        _ => lack.to_string(),
    };
    let others = judged.lacks.iter().map(|(lack, _)| lack).filter(|lack| !lack.is_silent());
    let mut seen = BTreeSet::new();
    judged.not_computed.iter().chain(others).map(told).filter(|one| seen.insert(one.clone())).collect()
}
