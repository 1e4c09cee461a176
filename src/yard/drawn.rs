//! A yard's load drawn: the one load that was asked for, found among the yards that the paths lead to.

use std::path::PathBuf;

use super::by_load::ByLoad;
use super::progress::Progress;
use super::run::{chosen, each_yard};
use super::{Narrowed, Opened, PathError};
use crate::check::Options;
use crate::finding::Finding;
use crate::mend::{Picture, picture};
use crate::model::LoadRef;
use crate::text::Sources;

/// A load drawn, or why none is.
#[derive(Debug, Default)]
pub struct Drawn {
    /// The files of its yard.
    pub sources: Sources,
    /// The load; none where it cannot be computed, where there is none, and where there are several.
    pub picture: Option<Picture>,
    /// The loads that were asked for: sheet, and leg where the sheet has legs.
    pub loads: Vec<(String, Option<String>)>,
    /// What a check finds in it.
    pub findings: Vec<Finding>,
    /// When it was narrowed to a name that is not there: the name that may have been meant, as a message writes it.
    pub near: Option<String>,
    /// What is wrong with rule files: with any of these not every limit was asked.
    pub rule_faults: Vec<Finding>,
}

/// Gathers what is to be drawn of the one load that these paths and names lead to.
///
/// # Errors
/// When a path does not exist or holds nothing of ours.
pub fn draw(
    paths: &[PathBuf],
    narrowed: &Narrowed,
    options: &Options,
    progress: &Progress,
) -> Result<Drawn, PathError> {
    let mut all = Drawn::default();
    let mut first: Option<(Opened, LoadRef)> = None;
    each_yard(paths, progress, |_, opened| {
        let (loads, near) = chosen(&opened, narrowed);
        all.near = all.near.take().or(near);
        let name = |which: &LoadRef| {
            let sheet = opened.yard.sheets.get(which.sheet)?;
            let leg = which.leg.and_then(|leg| sheet.legs.get(leg));
            Some((sheet.name.value.to_string(), leg.map(|leg| leg.name.value.to_string())))
        };
        all.loads.extend(loads.iter().filter_map(name));
        if let (None, Some(which)) = (&first, loads.first()) {
            first = Some((opened, *which));
        }
    })?;
    let Some((opened, which)) = first.filter(|_| all.loads.len() == 1) else { return Ok(all) };
    // What is open is told, what cures it is not.
    let options = Options { mend: false, ..options.clone() };
    let found = ByLoad::of(&opened, &options, &[which], progress).sheet(&[which]);
    if let Some(one) = found.into_iter().next() {
        all.picture = picture(&opened.yard, &opened.rules, &one.judged, &one.findings, options.units);
        all.findings = one.findings;
    }
    all.sources = opened.sources;
    all.rule_faults = opened.rule_faults;
    Ok(all)
}
