//! Contradictions in materials, frictions and tie-downs.

use super::Out;
use crate::model::{Friction, Material, Tiedown};

pub(super) fn check_material(material: &Material, out: &mut Out<'_>) {
    let help = "write the smaller one as low= and the larger one as high=";
    for density in &material.densities {
        out.at_most(&density.low, &density.high, ("the lightest", "the heaviest"), help);
    }
    out.at_most(&material.repose_low, &material.repose_high, ("the flattest", "the steepest"), help);
}

pub(super) fn check_friction(friction: &Friction, out: &mut Out<'_>) {
    let help = "write the smaller one as low= and the larger one as high=";
    if let (Some(low), Some(high)) = (friction.low.entry(), friction.high.entry())
        && low.value.si() > high.value.si()
    {
        let message = format!("the least friction is {}, and the most is {}", low.value.si(), high.value.si());
        out.clash(low.at, message, (high.at, "the most".to_owned()), help);
    }
}

pub(super) fn check_tiedown(tiedown: &Tiedown, out: &mut Out<'_>) {
    let names = ("the working load limit", "the breaking strength");
    out.at_most(&tiedown.wll, &tiedown.breaking, names, "read both off the marking again");
}
