//! A checked sheet node to a sheet.

use super::read_item::{bulk, cargo, machine};
use super::report::Report;
use super::seen::Seen;
use crate::model::{
    Carrier, Conditions, Item, Leg, Loading, Owner, Part, ReadingEntry, Sheet, StandsEntry, TruckCargo, Waiver,
};
use crate::units::{Kind, System};

/// The sheet; nothing when it has no name.
pub(super) fn sheet(seen: &Seen<'_>, report: &mut Report<'_>) -> Option<Sheet> {
    let name = seen.name()?;
    let owner = seen.owner("");
    let path = &owner.path;
    let legs = seen.children("leg").filter_map(|leg| {
        let owner = leg.owner(path);
        Some(Leg { name: leg.name()?, part: part(leg, &owner.path, report), span: leg.node.span, owner })
    });
    let legs = legs.collect();
    Some(Sheet {
        name,
        truck: seen.child("truck").and_then(|truck| truck.reference("id")),
        trailer: seen.child("trailer").and_then(|trailer| trailer.reference("id")),
        carrier: carrier(seen, path),
        base: part(seen, path, report),
        legs,
        span: seen.node.span,
        mostly: if us_more_than_si(seen) >= 0 { System::Us } else { System::Si },
        owner,
    })
}

/// Who carries it.
pub(super) fn carrier(seen: &Seen<'_>, path: &str) -> Option<Carrier> {
    seen.child("carrier").map(|carrier| Carrier {
        owner: carrier.owner(path),
        interstate: carrier.flag("interstate"),
        business: carrier.flag("business"),
        number: carrier.flag("number"),
        cdl: carrier.flag("cdl"),
        recheck: carrier.flag("recheck"),
    })
}

/// How many more of the quantities are written in US units than in SI. Shares, angles and feet and inches in words do
/// not count.
fn us_more_than_si(seen: &Seen<'_>) -> i32 {
    let own = seen.leaves.iter().filter_map(|(_, leaf)| leaf.unit);
    let own =
        own.filter(|unit| !matches!(unit.kind, Kind::Share | Kind::Angle)).map(|unit| if unit.us { 1 } else { -1 });
    own.sum::<i32>() + seen.children.iter().map(us_more_than_si).sum::<i32>()
}

fn part(seen: &Seen<'_>, path: &str, report: &mut Report<'_>) -> Part {
    let mut items: Vec<Item> = Vec::new();
    for child in &seen.children {
        items.extend(match child.word.name {
            "machine" => machine(child, path, report),
            "cargo" => cargo(child, path, report),
            "bulk" => bulk(child, path, report),
            _ => None,
        });
    }
    Part {
        conditions: conditions(seen, path),
        loading: loading(seen, path),
        aboard_truck: seen.children("aboard-truck").filter_map(|one| aboard_truck(one, path)).collect(),
        items,
        readings: seen.children("reading").filter_map(|one| reading(one, path)).collect(),
        waivers: seen.children("waive").filter_map(|one| waiver(one, path)).collect(),
    }
}

/// A level's `conditions`; its owner is lost when the node itself could not be read.
pub(super) fn conditions(seen: &Seen<'_>, path: &str) -> Conditions {
    let node = seen.child("conditions");
    Conditions {
        owner: node.map(|one| one.owner(path)).or_else(|| unreadable(seen, "conditions", path)),
        deck: seen.within(node, "conditions", |one| one.choice("deck")),
        speed: seen.within(node, "conditions", |one| one.quantity("speed")),
        grade: seen.within(node, "conditions", |one| one.quantity("grade")),
    }
}

fn unreadable(seen: &Seen<'_>, name: &str, path: &str) -> Option<Owner> {
    seen.is_broken(name).then(|| Owner { lost: true, ..seen.owner_called(path, name) })
}

/// A level's `loading`; its owner is lost when the node itself could not be read.
pub(super) fn loading(seen: &Seen<'_>, path: &str) -> Loading {
    let node = seen.child("loading");
    let owner = node.map(|one| one.owner(path)).or_else(|| unreadable(seen, "loading", path));
    let parent = owner.as_ref().map(|owner| owner.path.clone());
    let parent = parent.as_deref().unwrap_or(path);
    let stands = node.into_iter().flat_map(|node| node.children("stands")).map(|stands| StandsEntry {
        owner: stands.owner(parent),
        end: stands.choice("end"),
        rating: stands.quantity("rating"),
        count: stands.count("count"),
        at: stands.quantity("at"),
    });
    let stands = stands.collect();
    Loading {
        chocks: seen.within(node, "loading", |one| one.flag("chocks")),
        stands,
        bed_tilt: seen.within(node, "loading", |one| one.quantity("bed-tilt")),
        foot_rise: seen.within(node, "loading", |one| one.quantity("foot-rise")),
        slope: seen.within(node, "loading", |one| one.quantity("slope")),
        parking_brake: seen.within(node, "loading", |one| one.flag("parking-brake")),
        owner,
    }
}

fn aboard_truck(seen: &Seen<'_>, path: &str) -> Option<TruckCargo> {
    Some(TruckCargo {
        name: seen.name()?,
        owner: seen.owner(path),
        weight: seen.quantity("weight"),
        ahead_of_rear_axle: seen.quantity("ahead-of-rear-axle"),
    })
}

fn reading(seen: &Seen<'_>, path: &str) -> Option<ReadingEntry> {
    Some(ReadingEntry {
        name: seen.name()?,
        owner: seen.owner(path),
        tongue: seen.quantity("tongue"),
        axles: seen.quantity("axles"),
        gross: seen.quantity("gross"),
        stands: seen.choice("stands"),
    })
}

fn waiver(seen: &Seen<'_>, path: &str) -> Option<Waiver> {
    Some(Waiver {
        rule: seen.name()?,
        owner: seen.owner(path),
        reason: seen.text("reason"),
        by: seen.text("by"),
        until: seen.text("until"),
        item: seen.text("item"),
    })
}
