//! Crews' lists of a yard's loads, made side by side, the results in order.

use std::collections::BTreeMap;
use std::path::PathBuf;

use rayon::prelude::*;

use super::progress::{Progress, Step};
use super::run::{bench, chosen, each_yard, take_files};
use super::{Narrowed, Opened, PathError};
use crate::check::{Judged, Options, concerns, gather, in_order, judge, unused_waivers, walk};
use crate::finding::{Finding, Walk};
use crate::mend::{Bench, fix};
use crate::model::LoadRef;
use crate::text::{FileId, Sources};

/// The crews' lists of one or several yards' loads.
#[derive(Debug, Default)]
pub struct Walkarounds {
    /// Their files.
    pub sources: Sources,
    /// The lists, yard by yard, in order of file and place.
    pub walks: Vec<Walk>,
    /// When it was narrowed to a name that is not there: the name that may have been meant, as a message writes it.
    pub near: Option<String>,
    /// What is wrong with rule files: with any of these not every rule was asked.
    pub rule_faults: Vec<Finding>,
}

/// Makes the crew's list of each load of the yards that these paths belong to or hold, in order of path.
///
/// # Errors
/// When a path does not exist or holds nothing of ours.
pub fn walkaround(
    paths: &[PathBuf],
    narrowed: &Narrowed,
    options: &Options,
    progress: &Progress,
) -> Result<Walkarounds, PathError> {
    let mut all = Walkarounds::default();
    each_yard(paths, progress, |_, opened| {
        let (loads, near) = chosen(&opened, narrowed);
        let by = u32::try_from(all.sources.len()).unwrap_or(u32::MAX);
        let bench = bench(&opened, &Options { mend: true, ..options.clone() });
        progress.begin(Step::Checking, loads.len());
        let mut sheets: BTreeMap<usize, Vec<LoadRef>> = BTreeMap::new();
        for which in loads {
            sheets.entry(which.sheet).or_default().push(which);
        }
        let sheets: Vec<Vec<LoadRef>> = sheets.into_values().collect();
        let walks = sheets.par_iter().flat_map_iter(|loads| {
            let walks = of_sheet(&opened, &bench, loads, options);
            progress.done(Step::Checking, loads.len());
            walks
        });
        let walks: Vec<Walk> = walks.collect();
        all.walks.extend(walks.into_iter().map(|walk| Walk { file: FileId(walk.file.0.saturating_add(by)), ..walk }));
        take_files(opened, by, &mut all.sources, &mut all.rule_faults);
        all.near = all.near.take().or(near);
    })?;
    Ok(all)
}

/// The lists of loads of one sheet, each with all that a check finds of it: what one load shares with another is told of
/// both. What cures them is searched for sheet by sheet, as a check does it.
fn of_sheet(opened: &Opened, bench: &Bench<'_>, loads: &[LoadRef], options: &Options) -> Vec<Walk> {
    let Opened { yard, rules, findings, .. } = opened;
    let options = Options { weigh: true, ..options.clone() };
    let judged: Vec<Judged> = loads.iter().filter_map(|which| judge(yard, rules, *which, &options)).collect();
    let idle = unused_waivers(yard, rules, &judged);
    let mut found: Vec<Vec<Finding>> = judged
        .iter()
        .map(|one| {
            let concerns = |finding: &&Finding| concerns(yard, one.which, finding.primary.span);
            let read = findings.iter().chain(&idle).filter(concerns).cloned().collect();
            gather(yard, rules, read, vec![one.clone()]).findings
        })
        .collect();
    // A search for a place can find that there is none, which is a finding of its own.
    let added = fix(bench, rules, found.iter_mut().flatten(), options.units);
    let mut walks = Vec::new();
    for (one, findings) in judged.iter().zip(&mut found) {
        findings.extend(added.iter().filter(|finding| concerns(yard, one.which, finding.primary.span)).cloned());
        in_order(findings);
        walks.extend(walk(yard, rules, one, findings, &options.today));
    }
    walks
}
