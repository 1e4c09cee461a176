//! Crews' lists of a yard's loads, made side by side, the results in order.

use std::path::PathBuf;

use rayon::prelude::*;

use super::by_load::{ByLoad, LoadFound, by_sheet};
use super::progress::Progress;
use super::run::{chosen, each_yard, take_files};
use super::{Narrowed, PathError};
use crate::check::{Options, walk};
use crate::finding::{Finding, Walk};
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
        let walks = {
            let made = ByLoad::of(&opened, &Options { mend: true, ..options.clone() }, &loads, progress);
            let of_sheet = |loads: &Vec<LoadRef>| made.sheet(loads);
            let lists = by_sheet(loads);
            let judged = lists.par_iter().flat_map_iter(of_sheet);
            let list = |one: LoadFound| walk(&opened.yard, &opened.rules, &one.judged, &one.findings, &options.today);
            judged.filter_map(list).collect::<Vec<Walk>>()
        };
        all.walks.extend(walks.into_iter().map(|walk| Walk { file: FileId(walk.file.0.saturating_add(by)), ..walk }));
        take_files(opened, by, &mut all.sources, &mut all.rule_faults);
        all.near = all.near.take().or(near);
    })?;
    Ok(all)
}
