//! What holds for a load of what several levels say: the leg's entries over the sheet's over the yard's.

use crate::model::{Conditions, Loading, Part, Yard};

/// Road and deck.
pub(super) fn conditions<'p>(yard: &'p Yard, parts: impl Iterator<Item = &'p Part>) -> Conditions {
    let mut merged = yard.settings.conditions.clone();
    for part in parts {
        let over = &part.conditions;
        merged = Conditions {
            owner: over.owner.clone().or(merged.owner),
            deck: over.deck.or_else(&merged.deck),
            speed: over.speed.or_else(&merged.speed),
            grade: over.grade.or_else(&merged.grade),
        };
    }
    merged
}

/// How it is put aboard.
pub(super) fn loading<'p>(yard: &'p Yard, parts: impl Iterator<Item = &'p Part>) -> Loading {
    // What is missing is missing in the sheet: what the yard says holds for every load.
    let yards = yard.settings.loading.clone();
    let mut merged = Loading { owner: yards.owner.filter(|owner| owner.lost), ..yards };
    for part in parts {
        let over = &part.loading;
        merged = Loading {
            owner: over.owner.clone().or(merged.owner),
            chocks: over.chocks.or_else(&merged.chocks),
            stands: if over.stands.is_empty() { merged.stands } else { over.stands.clone() },
            bed_tilt: over.bed_tilt.or_else(&merged.bed_tilt),
            foot_rise: over.foot_rise.or_else(&merged.foot_rise),
            slope: over.slope.or_else(&merged.slope),
            parking_brake: over.parking_brake.or_else(&merged.parking_brake),
        };
    }
    merged
}
