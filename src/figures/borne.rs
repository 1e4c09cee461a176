//! What bears an item besides its tie-downs: the corners that it stands on, and a wall.

use super::climbing::machine;
use super::{Known, Load, OnDeck};
use crate::model::{End, ItemKind, Machine};
use crate::physics::{Block, Footing, HoldSpot, Placed, Toward};
use crate::units::Length;

/// The corners of what an item stands on. Wheels roll that no set parking brake holds.
/// Without friction it makes no difference, and nobody need say.
pub(super) fn footing(load: &Load<'_>, one: &OnDeck<'_>, placed: &Placed, bare: bool) -> Known<Vec<Footing>> {
    let reads = &load.outlines;
    let corners = |arm: Length, across: Length, rolls: bool| {
        [across / 2.0, -(across / 2.0)].map(|left| Footing {
            at: HoldSpot { ahead: -placed.station(arm), left: placed.across(left), height: Length::ZERO },
            rolls,
        })
    };
    let ItemKind::Machine(_) = &one.item.kind else {
        let (outline, width) = (placed.item.outline, one.width.clone()?);
        return Ok([outline.front, outline.rear].into_iter().flat_map(|arm| corners(arm, width, false)).collect());
    };
    let machine: &Machine = machine(load, one)?;
    let braked = bare || one.item.parking_brake.need(&one.item.owner, "parking-brake")?;
    if let Some(tracks) = &machine.tracks {
        let length = reads.need(&tracks.contact_length, &tracks.owner, "contact-length")?;
        let gauge = reads.need(&tracks.gauge, &tracks.owner, "gauge")?;
        return Ok([Length::ZERO, length].into_iter().flat_map(|arm| corners(arm, gauge, !braked)).collect());
    }
    let wheelbase = reads.need(&machine.wheelbase, &machine.owner, "wheelbase")?;
    let mut all = Vec::new();
    let said = [&machine.front, &machine.rear].into_iter().flatten().any(|axle| axle.braked.entry().is_some());
    for (axle, arm) in [(&machine.front, wheelbase), (&machine.rear, Length::ZERO)] {
        let axle = axle.as_ref().ok_or_else(|| machine.owner.lacks("axle"))?;
        let track = match reads.given(&axle.track_width, &axle.owner, "track-width")? {
            Some(track) => track,
            None => reads.need(&machine.track_width, &machine.owner, "track-width")?,
        };
        // Where one axle is said to be braked, the other that is not is not.
        let holds = if bare {
            true
        } else if said {
            axle.braked.or(false, &axle.owner, "braked")?
        } else {
            axle.braked.need(&axle.owner, "braked")?
        };
        all.extend(corners(arm, track, !(braked && holds)));
    }
    Ok(all)
}

/// What the front wall holds of an item that is said to bear against it. What a chock or a door holds is not known, and
/// counts for nothing.
pub(super) fn blocks(load: &Load<'_>, one: &OnDeck<'_>, placed: &Placed) -> Known<Vec<Block>> {
    if one.item.blocked.iter().all(|end| end.value != End::Front) {
        return Ok(Vec::new());
    }
    let trailer = load.trailer.clone()?;
    let Some(walls) = &trailer.walls else { return Ok(Vec::new()) };
    let Some(holds) = load.outlines.given(&walls.holds, &walls.owner, "holds")? else { return Ok(Vec::new()) };
    let height = load.outlines.need(&walls.height, &walls.owner, "height")?;
    let at = |height: Length| HoldSpot { ahead: -placed.front(), left: placed.load().left, height };
    let top = height.min(one.height.clone()?);
    Ok(vec![Block { against: Toward::Forward, at: (at(Length::ZERO), at(top)), holds: holds.as_mass() }])
}
