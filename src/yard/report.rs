//! What a report tells of yards: each sheet with its loads, and what was found elsewhere.

use std::path::PathBuf;
use std::sync::Arc;

use rayon::prelude::*;

use super::by_load::{ByLoad, LoadFound, by_sheet};
use super::progress::Progress;
use super::run::{chosen, each_yard, take_files};
use super::site::PageNames;
use super::{Narrowed, PathError};
use crate::check::Options;
use crate::finding::Finding;
use crate::mend::{LoadReport, SheetReport, picture};
use crate::model::{LoadRef, Sheet};
use crate::text::Sources;

/// What was made of one or several yards.
#[derive(Debug)]
pub struct Reported<T> {
    /// Their files.
    pub sources: Sources,
    /// What was made of each sheet, yard by yard, in order of file and place.
    pub sheets: Vec<T>,
    /// What was found and concerns none of these sheets, in order of file and place.
    pub apart: Vec<Finding>,
    /// When it was narrowed to a name that is not there: the name that may have been meant, as a message writes it.
    pub near: Option<String>,
    /// What is wrong with rule files: with any of these not every rule was asked.
    pub rule_faults: Vec<Finding>,
}

/// Makes something of each sheet of the yards that these paths belong to or hold, side by side, so that no more than a few
/// sheets are held at a time.
///
/// # Errors
/// When a path does not exist or holds nothing of ours.
pub fn report<T: Send>(
    paths: &[PathBuf],
    narrowed: &Narrowed,
    options: &Options,
    progress: &Progress,
    make: impl Fn(SheetReport<'_>) -> T + Sync,
) -> Result<Reported<T>, PathError> {
    let (sources, rule_faults) = (Sources::default(), Vec::new());
    let mut all = Reported { sources, sheets: Vec::new(), apart: Vec::new(), near: None, rule_faults };
    let mut pages = PageNames::default();
    each_yard(paths, progress, |_, opened| {
        let (loads, near) = chosen(&opened, narrowed);
        let by = u32::try_from(all.sources.len()).unwrap_or(u32::MAX);
        let (sheets, apart) = {
            let found = ByLoad::of(&opened, &Options { mend: true, ..options.clone() }, &loads, progress);
            let apart = if narrowed.is_all() { found.apart(&loads) } else { Vec::new() };
            let named = |loads: Vec<LoadRef>| {
                let sheet = loads.first().and_then(|which| opened.yard.sheets.get(which.sheet))?;
                Some((pages.free(&sheet.name.value), sheet, loads))
            };
            let sheets: Vec<_> = by_sheet(loads).into_iter().filter_map(named).collect();
            let of_sheet = |(page, sheet, loads): (String, &Sheet, Vec<LoadRef>)| {
                let load = |one: LoadFound| {
                    let picture = picture(&opened.yard, &opened.rules, &one.judged, &one.findings, options.units);
                    LoadReport { figures: one.judged.figures, findings: one.findings, picture }
                };
                make(SheetReport {
                    name: Arc::clone(&sheet.name.value),
                    page,
                    yard: opened.yard.settings.name.as_ref().map(|name| Arc::clone(&name.value)),
                    file: sheet.owner.at.file,
                    sources: &opened.sources,
                    rules: &opened.rules,
                    loads: found.sheet(&loads).into_iter().map(load).collect(),
                })
            };
            (sheets.into_par_iter().map(of_sheet).collect::<Vec<T>>(), apart)
        };
        all.sheets.extend(sheets);
        all.apart.extend(apart.into_iter().map(|mut finding| {
            finding.shift_files(by);
            finding
        }));
        take_files(opened, by, &mut all.sources, &mut all.rule_faults);
        all.near = all.near.take().or(near);
    })?;
    Ok(all)
}
