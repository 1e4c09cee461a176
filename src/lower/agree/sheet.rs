//! Contradictions in a sheet.

use std::sync::Arc;

use super::{Out, apart, shown, shown_like};
use crate::finding::{Finding, Level};
use crate::model::{Cargo, Entry, ItemKind, Part, ReadingEntry, Sheet, Slot, Truck, Yard};
use crate::units::Length;

pub(super) fn check(sheet: &Sheet, yard: &Yard, out: &mut Out<'_>) {
    let truck = sheet.truck.as_ref().and_then(|truck| truck.target).and_then(|at| yard.trucks.get(at));
    part(&sheet.base, truck, out);
    for leg in &sheet.legs {
        let from = out.findings.len();
        part(&leg.part, truck, out);
        for finding in out.findings.iter_mut().skip(from) {
            finding.leg = Some(Arc::clone(&leg.name.value));
        }
    }
}

/// How far ahead of its front axle and behind its rear axle a truck can carry anything, in m: longer than any of the
/// trucks this is for.
const AHEAD: f64 = 3.0;
const BEHIND: f64 = 4.0;

fn part(part: &Part, truck: Option<&Truck>, out: &mut Out<'_>) {
    let wheelbase = truck.and_then(|truck| truck.wheelbase.entry());
    for cargo in &part.aboard_truck {
        if let (Some(at), Some(wheelbase)) = (cargo.ahead_of_rear_axle.entry(), wheelbase) {
            beyond_truck(at, wheelbase, out);
        }
    }
    for item in &part.items {
        if let ItemKind::Cargo(one) = &item.kind {
            cargo(one, out);
        }
    }
    part.readings.iter().for_each(|one| reading(one, out));
}

fn beyond_truck(at: &Entry<Length>, wheelbase: &Entry<Length>, out: &mut Out<'_>) {
    let (ahead, front) = (at.value.si(), wheelbase.value.si());
    let message = if ahead > front + AHEAD {
        format!("no truck reaches {} ahead of its front axle", shown_like(ahead - front, at))
    } else if ahead < -BEHIND {
        format!("no truck reaches {} behind its rear axle", shown_like(-ahead, at))
    } else {
        return;
    };
    let help = "measure forward from the truck's rear axle; behind it is negative";
    out.findings.push(Finding::new("not-possible", Level::Error, at.at, message).help(help));
}

fn cargo(cargo: &Cargo, out: &mut Out<'_>) {
    let help = "measure the centre of gravity from the cargo's own edges";
    let names = ("the centre of gravity's distance from the front", "the cargo's length");
    out.at_most(&cargo.cg_from_front, &cargo.length, names, help);
    out.at_most(&cargo.cg_height, &cargo.height, ("the centre of gravity's height", "the cargo's height"), help);
    // Left or right of the middle by half the width at most.
    let across = half_across(&cargo.cg_left);
    out.at_most(
        &across,
        &cargo.width,
        ("twice the centre of gravity's distance from the middle", "the cargo's width"),
        help,
    );
}

fn half_across(left: &Slot<Length>) -> Slot<Length> {
    match left {
        Slot::Given(entry) => {
            let mut entry = entry.clone();
            entry.value = entry.value.abs() * 2.0;
            Slot::Given(entry)
        }
        Slot::Absent => Slot::Absent,
        Slot::Broken => Slot::Broken,
    }
}

/// Tongue and axles together are the gross weight.
fn reading(reading: &ReadingEntry, out: &mut Out<'_>) {
    if let (Some(tongue), Some(axles), Some(gross)) =
        (reading.tongue.entry(), reading.axles.entry(), reading.gross.entry())
    {
        let sum = tongue.value.si() + axles.value.si();
        if apart(sum, gross.value.si(), 10.0, &[tongue.plus_minus, axles.plus_minus, gross.plus_minus]) {
            let message = format!(
                "tongue and axles are {} together, and {} is written as the gross weight",
                shown_like(sum, gross),
                shown(gross)
            );
            let label = (tongue.at, "the tongue".to_owned());
            out.clash(gross.at, message, label, "read the scale again, or delete what was not read off it");
        }
    }
}
