//! Yards' loads placed: where the items of each may stand, side by side, the results in order.

use std::path::PathBuf;

use super::progress::{Progress, Step};
use super::run::{bench, chosen, each_yard, take_files};
use super::{Narrowed, PathError};
use crate::check::Options;
use crate::finding::Finding;
use crate::mend::{LoadPlaces, places_together};
use crate::model::LoadRef;
use crate::text::{FileId, Sources};

/// Where the items of one or several yards' loads may stand.
#[derive(Debug, Default)]
pub struct Placed {
    /// Their files.
    pub sources: Sources,
    /// The loads, yard by yard, in order of file and place.
    pub loads: Vec<LoadPlaces>,
    /// When it was narrowed to a name that is not there: the name that may have been meant, as a message writes it.
    pub near: Option<String>,
    /// What is wrong with rule files: with any of these not every limit was asked.
    pub rule_faults: Vec<Finding>,
}

/// Places the loads of the yards that these paths belong to or hold, in order of path.
///
/// # Errors
/// When a path does not exist or holds nothing of ours.
pub fn place(
    paths: &[PathBuf],
    narrowed: &Narrowed,
    options: &Options,
    progress: &Progress,
) -> Result<Placed, PathError> {
    let mut all = Placed::default();
    each_yard(paths, progress, |_, opened| {
        let (loads, near) = chosen(&opened, narrowed);
        let by = u32::try_from(all.sources.len()).unwrap_or(u32::MAX);
        let bench = bench(&opened, options);
        let units = options.units;
        let place = |which: &LoadRef| places_together(&bench, &opened.rules, *which, units);
        let found = progress.each(Step::Checking, &loads, place).into_iter().flatten();
        all.loads.extend(found.map(|load| LoadPlaces { file: FileId(load.file.0.saturating_add(by)), ..load }));
        take_files(opened, by, &mut all.sources, &mut all.rule_faults);
        all.near = all.near.take().or(near);
    })?;
    Ok(all)
}
