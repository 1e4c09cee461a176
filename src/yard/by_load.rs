//! What a check finds, load by load: what loads share is told of each of them.

use std::collections::{BTreeMap, BTreeSet};

use super::Opened;
use super::progress::{Progress, Step};
use super::run::bench;
use crate::check::{Home, Homes, Judged, Options, gather, in_order, judge, unused_waivers};
use crate::finding::Finding;
use crate::mend::{Bench, fix};
use crate::model::LoadRef;

/// A load judged, with its figures and all that a check finds of it.
pub(super) struct LoadFound {
    pub(super) judged: Judged,
    /// In order of file and place, with what cures them.
    pub(super) findings: Vec<Finding>,
}

/// A yard whose loads are gone through sheet by sheet.
pub(super) struct ByLoad<'o> {
    opened: &'o Opened,
    homes: Homes<'o>,
    /// What was found while the yard was read, by what it belongs to.
    read: BTreeMap<Home, Vec<&'o Finding>>,
    bench: Bench<'o>,
    options: Options,
    progress: &'o Progress,
}

/// Loads grouped by their sheets, in order.
pub(super) fn by_sheet(loads: Vec<LoadRef>) -> Vec<Vec<LoadRef>> {
    let mut sheets: BTreeMap<usize, Vec<LoadRef>> = BTreeMap::new();
    for which in loads {
        sheets.entry(which.sheet).or_default().push(which);
    }
    sheets.into_values().collect()
}

impl<'o> ByLoad<'o> {
    /// Makes ready to go through these loads of a yard.
    pub(super) fn of(opened: &'o Opened, options: &Options, loads: &[LoadRef], progress: &'o Progress) -> Self {
        progress.begin(Step::Checking, loads.len());
        let homes = Homes::of(&opened.yard);
        let mut read: BTreeMap<Home, Vec<&Finding>> = BTreeMap::new();
        for finding in &opened.findings {
            read.entry(homes.home(finding.primary.span)).or_default().push(finding);
        }
        let options = Options { weigh: true, ..options.clone() };
        Self { opened, homes, read, bench: bench(opened, &options), options, progress }
    }

    /// What is found of loads of one sheet. What cures it is searched for, where the options ask for that, sheet by sheet, as a
    /// check does it.
    pub(super) fn sheet(&self, loads: &[LoadRef]) -> Vec<LoadFound> {
        let Opened { yard, rules, .. } = self.opened;
        let judged = loads.iter().filter_map(|which| judge(yard, rules, *which, &self.options));
        let judged: Vec<Judged> = judged.collect();
        let idle = unused_waivers(yard, rules, &judged);
        let mut found: Vec<Vec<Finding>> = judged
            .iter()
            .map(|one| {
                let homes = self.homes.of_load(one.which);
                let read = homes.iter().filter_map(|home| self.read.get(home)).flatten().copied();
                let idle = idle.iter().filter(|finding| homes.contains(&self.homes.home(finding.primary.span)));
                let read = read.chain(idle).cloned().collect();
                gather(yard, rules, read, vec![one.clone()]).findings
            })
            .collect();
        // A search for a place can find that there is none, which is a finding of its own.
        let sought = self.options.mend.then(|| fix(&self.bench, rules, found.iter_mut().flatten(), self.options.units));
        let added = sought.unwrap_or_default();
        for (one, findings) in judged.iter().zip(&mut found) {
            let homes = self.homes.of_load(one.which);
            let added = added.iter().filter(|finding| homes.contains(&self.homes.home(finding.primary.span)));
            findings.extend(added.cloned());
            in_order(findings);
        }
        self.progress.done(Step::Checking, loads.len());
        judged.into_iter().zip(found).map(|(judged, findings)| LoadFound { judged, findings }).collect()
    }

    /// What was found while the yard was read and concerns none of these loads, as far as it lies in the files that were asked
    /// for; in order of file and place.
    pub(super) fn apart(&self, loads: &[LoadRef]) -> Vec<Finding> {
        let told: BTreeSet<Home> = loads.iter().flat_map(|which| self.homes.of_load(*which)).collect();
        let left = self.read.iter().filter(|(home, _)| !told.contains(home)).flat_map(|(_, found)| found);
        let asked = |finding: &&&Finding| {
            self.opened.asked.as_ref().is_none_or(|files| files.contains(&finding.primary.span.file))
        };
        let left = left.filter(asked).map(|finding| (*finding).clone()).collect();
        gather(&self.opened.yard, &self.opened.rules, left, Vec::new()).findings
    }
}
