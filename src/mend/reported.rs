//! A sheet as a report tells it: its loads with what was found, what can be drawn, and what a reader needs beside these.

use std::sync::Arc;

use super::Picture;
use crate::finding::{Finding, LoadFigures};
use crate::rules::RuleSet;
use crate::text::{FileId, Sources};

/// A sheet with its loads.
#[derive(Debug)]
pub struct SheetReport<'y> {
    /// Its name.
    pub name: Arc<str>,
    /// A name for its page that no other sheet of the report has: small letters, digits and hyphens.
    pub page: String,
    /// The name of its yard.
    pub yard: Option<Arc<str>>,
    /// The file that holds it.
    pub file: FileId,
    /// The files of its yard.
    pub sources: &'y Sources,
    /// The rules that hold in its yard.
    pub rules: &'y RuleSet,
    /// Its loads: one, or one for each leg.
    pub loads: Vec<LoadReport>,
}

/// A load of a sheet.
#[derive(Debug)]
pub struct LoadReport {
    /// Its figures.
    pub figures: LoadFigures,
    /// All that a check finds of it, also what it shares with other loads; in order of file and place.
    pub findings: Vec<Finding>,
    /// What is drawn of it; none when it cannot be computed.
    pub picture: Option<Picture>,
}
