//! Checked nodes of what stands on the deck to items.

use super::report::Report;
use super::seen::Seen;
use super::value::Got;
use crate::model::{Bulk, Cargo, Choice, End, Entry, Fit, Gap, Item, ItemKind, MachineAboard, Slot, Tie};
use crate::units::Length;

/// A machine aboard.
pub(super) fn machine(seen: &Seen<'_>, path: &str, report: &mut Report<'_>) -> Option<Item> {
    let owner = seen.owner(path);
    let fits = seen.children("fit").filter_map(|fit| {
        let own = fit.owner(&owner.path);
        Some(Fit { attachment: fit.reference("attachment")?, ties: ties(fit, &own.path), owner: own })
    });
    let kind = ItemKind::Machine(MachineAboard {
        machine: seen.reference("id")?,
        facing: seen.choice("facing"),
        fits: fits.collect(),
    });
    Some(Item { parking_brake: seen.flag("parking-brake"), ..item(seen, path, kind, gap(seen, report, false))? })
}

/// A piece of cargo.
pub(super) fn cargo(seen: &Seen<'_>, path: &str, report: &mut Report<'_>) -> Option<Item> {
    let kind = ItemKind::Cargo(Box::new(Cargo {
        weight: seen.quantity("weight"),
        length: seen.quantity("length"),
        width: seen.quantity("width"),
        height: seen.quantity("height"),
        cg_from_front: seen.quantity("cg-from-front"),
        cg_left: seen.quantity("cg-left"),
        cg_height: seen.quantity("cg-height"),
        base: seen.choice("base"),
    }));
    item(seen, path, kind, gap(seen, report, false))
}

/// Loose material.
pub(super) fn bulk(seen: &Seen<'_>, path: &str, report: &mut Report<'_>) -> Option<Item> {
    let kind = ItemKind::Bulk(Box::new(Bulk {
        material: seen.reference("material")?,
        volume: seen.quantity("volume"),
        covered: seen.flag("covered"),
        heaped: seen.flag("heaped"),
        moisture: seen.choice("moisture"),
        length: seen.quantity("length"),
    }));
    Some(Item {
        id: seen.name()?,
        owner: seen.owner(path),
        kind,
        gap: gap(seen, report, true),
        left: seen.quantity("left"),
        on: None,
        ties: Vec::new(),
        blocked: Vec::new(),
        parking_brake: Slot::Absent,
    })
}

fn item(seen: &Seen<'_>, path: &str, kind: ItemKind, gap: Gap) -> Option<Item> {
    let owner = seen.owner(path);
    let blocked = seen.child("blocked").into_iter().flat_map(|blocked| blocked.all("end"));
    let blocked = blocked.filter_map(|leaf| match leaf.got {
        Got::Choice(at) => End::ALL.get(at).map(|end| Entry::plain(*end, leaf.at, leaf.written)),
        _ => None,
    });
    Some(Item {
        id: seen.name()?,
        kind,
        gap,
        left: seen.quantity("left"),
        on: seen.text("on").entry().cloned(),
        ties: ties(seen, &owner.path),
        blocked: blocked.collect(),
        parking_brake: Slot::Absent,
        owner,
    })
}

/// The one tape measurement that places an item.
fn gap(seen: &Seen<'_>, report: &mut Report<'_>, fills: bool) -> Gap {
    let front: Slot<Length> = seen.quantity("front-gap");
    let rear: Slot<Length> = seen.quantity("rear-gap");
    match (front, rear) {
        (Slot::Given(front), Slot::Absent) => Gap::Front(front),
        (Slot::Absent, Slot::Given(rear)) => Gap::Rear(rear),
        (Slot::Absent, Slot::Absent) if seen.lost => Gap::Broken,
        (Slot::Absent, Slot::Absent) if fills => Gap::Fills,
        (Slot::Absent, Slot::Absent) => {
            report.not_placed(seen);
            Gap::Broken
        }
        (front, rear) => {
            if let (Some(front), Some(rear)) = (front.at(), rear.at()) {
                report.placed_twice(seen, front, rear);
            }
            Gap::Broken
        }
    }
}

fn ties(seen: &Seen<'_>, path: &str) -> Vec<Tie> {
    let ties = seen.children("tie").filter_map(|tie| {
        Some(Tie {
            tiedown: tie.reference("tiedown")?,
            owner: tie.owner(path),
            from: tie.text("from"),
            to: tie.text("to"),
            over: tie.flag("over"),
            count: tie.count("count"),
        })
    });
    ties.collect()
}
