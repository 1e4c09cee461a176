//! Checked tie-down, material and friction nodes to what they define.

use super::seen::Seen;
use crate::model::{Density, Friction, Material, Tiedown};

/// The tie-down; nothing when it has no id.
pub(super) fn tiedown(seen: &Seen<'_>) -> Option<Tiedown> {
    Some(Tiedown {
        id: seen.name()?,
        owner: seen.owner(""),
        kind: seen.choice("kind"),
        grade: seen.text("grade"),
        size: seen.quantity("size"),
        width: seen.quantity("width"),
        wll: seen.quantity("wll"),
        breaking: seen.quantity("breaking"),
        lashing_capacity: seen.quantity("lashing-capacity"),
        tension_force: seen.quantity("tension-force"),
    })
}

/// The material; nothing when it has no id.
pub(super) fn material(seen: &Seen<'_>) -> Option<Material> {
    let id = seen.name()?;
    let owner = seen.owner("");
    let densities = seen.children("density").map(|density| Density {
        owner: density.owner(&owner.path),
        moisture: density.choice("moisture"),
        low: density.quantity("low"),
        high: density.quantity("high"),
    });
    let densities = densities.collect();
    let repose = seen.child("repose");
    Some(Material {
        id,
        densities,
        repose_low: seen.within(repose, "repose", |repose| repose.quantity("low")),
        repose_high: seen.within(repose, "repose", |repose| repose.quantity("high")),
        owner,
    })
}

/// The friction.
pub(super) fn friction(seen: &Seen<'_>) -> Friction {
    Friction {
        owner: seen.owner(""),
        what: seen.choice("what"),
        on: seen.choice("on"),
        deck: seen.choice("deck"),
        low: seen.quantity("low"),
        high: seen.quantity("high"),
        source: seen.text("source"),
        status: seen.choice("status"),
    }
}
