//! What `draylint draw` shows of a load, gathered: what is to be seen, its figures with their bounds, and where its items
//! may stand.

use std::sync::Arc;

use super::place::{LoadPlaces, places};
use crate::check::Judged;
use crate::figures::drawn::Scene;
use crate::figures::{Heap, Load};
use crate::finding::{FigureLine, Finding, Level};
use crate::model::Yard;
use crate::rules::RuleSet;
use crate::units::System;

/// A load, ready to be drawn.
#[derive(Clone, Debug)]
pub struct Picture {
    /// The sheet.
    pub sheet: Arc<str>,
    /// The leg, where the sheet has legs.
    pub leg: Option<Arc<str>>,
    /// The units in which a person is shown figures.
    pub system: System,
    /// What is to be seen. Of loose material, the heaviest that it can be.
    pub scene: Scene,
    /// Its figures, as `weigh` shows them.
    pub figures: Vec<FigureLine>,
    /// Where its items may stand.
    pub places: LoadPlaces,
    /// What is open: how grave, and which rule.
    pub open: Vec<(Level, String)>,
}

/// A load to draw, judged with its figures; `findings` are all that a check finds of it. None when the yard has no such load, or when it cannot be computed: its findings
/// say why.
#[must_use]
pub fn picture(
    yard: &Yard,
    rules: &RuleSet,
    judged: &Judged,
    findings: &[Finding],
    units: Option<System>,
) -> Option<Picture> {
    let open = findings.iter().filter(|finding| finding.waived.is_none());
    let load = Load::of(yard, judged.which, Heap::Heaviest)?;
    Some(Picture {
        sheet: Arc::clone(&judged.figures.sheet),
        leg: judged.figures.leg.clone(),
        system: judged.figures.system,
        scene: Scene::of(&load).ok()?,
        figures: judged.figures.figures.clone()?,
        places: places(yard, rules, judged.which, units)?,
        open: open.map(|finding| (finding.level, finding.rule.to_string())).collect(),
    })
}
