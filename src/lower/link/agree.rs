//! Entries that contradict one another.

use crate::finding::Finding;
use crate::model::Yard;

/// Every contradiction within a definition or a sheet.
pub(super) fn yard(_yard: &Yard, _findings: &mut Vec<Finding>) {}
