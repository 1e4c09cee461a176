//! What stands on the deck, as a picture shows it.

use std::sync::Arc;

use super::assumed;
use super::scene::{Centre, Held, ItemSeen, Notes, Patch, Round, Shape, Strip, TrailerSeen};
use super::shape::{Body, machine};
use super::ties::held;
use crate::figures::held::cg_height;
use crate::figures::of_bulk::{lying, sides_slope};
use crate::figures::{Known, Load, OnDeck};
use crate::model::{ItemKind, Machine};
use crate::physics::{Facing, Placed};
use crate::units::{Length, Share};

/// All items of a load.
pub(super) fn items(load: &Load<'_>, trailer: &TrailerSeen, side: &mut Notes, top: &mut Notes) -> Known<Vec<ItemSeen>> {
    (0..load.items.len()).map(|at| item(load, at, trailer, (side, top))).collect()
}

fn item(load: &Load<'_>, at: usize, trailer: &TrailerSeen, (side, top): (&mut Notes, &mut Notes)) -> Known<ItemSeen> {
    let one = load.items.get(at).ok_or_else(|| load.owner().lacks("item"))?;
    let placed = one.placed.clone()?;
    let along = Strip { from: placed.front().si(), to: placed.rear().si() };
    let base = match one.under {
        Some(under) => side.or(load.top_of(under), assumed::ITEM_HEIGHT).0,
        None => 0.0,
    };
    let seat = Seat::of(trailer, base, one, &placed);
    let mut seen = ItemSeen {
        name: Arc::clone(&one.label),
        kind: "cargo",
        nose_ahead: None,
        along,
        carries: load.items.iter().any(|other| other.under == Some(at)),
        side: Vec::new(),
        wheels: Vec::new(),
        tracks: None,
        plan: Vec::new(),
        centre: Centre { station: placed.load().station.si(), left: placed.load().left.si(), height: None },
        held: Held::default(),
    };
    match &one.item.kind {
        ItemKind::Machine(_) => {
            let machine = machine(load, one).ok_or_else(|| one.item.owner.lacks("machine"))?;
            let up = cg_height(load, one).ok().map(|up| seat.at(seen.centre.station, up.si()).1);
            seen.centre.height = up;
            aboard(load, (one, machine), &placed, &seat, &mut seen, (side, top))?;
        }
        ItemKind::Cargo(_) => {
            let (height, given) = side.or(one.height.clone(), assumed::ITEM_HEIGHT);
            let corners = [(along.from, 0.0), (along.from, height), (along.to, height), (along.to, 0.0)];
            let corners = corners.into_iter().map(|(station, up)| seat.at(station, up)).collect();
            seen.side.push(Shape { corners, given });
            seen.centre.height = cg_height(load, one).ok().map(|up| seat.at(seen.centre.station, up.si()).1);
            let (width, given) = top.or(one.width.clone(), assumed::ITEM_WIDTH);
            seen.plan.push(patch(along, one, width, given));
        }
        ItemKind::Bulk(_) => {
            seen.kind = "bulk";
            match lying(load, one) {
                Ok(heap) => {
                    // Asked only where it slopes; where it lies level there is none to know.
                    let slope = sides_slope(load, one).map_or(0.0, Share::si);
                    seen.side.push(heaped(&seat, along, (heap.at_walls.si(), heap.top.si()), (trailer.width.0, slope)));
                    seen.centre.height = Some(seat.at(seen.centre.station, heap.cg_height.si()).1);
                }
                Err(lack) => side.lacks(&lack),
            }
            let (width, given) = trailer.width;
            let half = width / 2.0;
            seen.plan.push(Patch { along, across: Strip { from: -half, to: half }, given });
        }
    }
    seen.held = held(load, at, one, top);
    Ok(seen)
}

/// A machine's outlines where it stands.
fn aboard(
    load: &Load<'_>,
    (one, machine): (&OnDeck<'_>, &Machine),
    placed: &Placed,
    seat: &Seat,
    seen: &mut ItemSeen,
    (side, top): (&mut Notes, &mut Notes),
) -> Known<()> {
    seen.kind = "machine";
    seen.nose_ahead = Some(placed.facing == Facing::Forward);
    let body = Body::of(load, one, machine, true)?;
    for lack in &body.lacks {
        let across = matches!(lack, crate::figures::Lack::Entry(missing) if missing.word == "width");
        if across { top.assumes(lack) } else { side.assumes(lack) }
    }
    let at = |arm: f64, up: f64| seat.at(placed.station(Length::new(arm)).si(), up);
    for (corners, given) in &body.shapes {
        let corners = corners.iter().map(|(arm, up)| at(*arm, *up)).collect();
        seen.side.push(Shape { corners, given: *given });
    }
    seen.wheels = body
        .wheels
        .iter()
        .map(|(arm, radius, given)| Round { at: at(*arm, *radius), radius: *radius, given: *given })
        .collect();
    seen.tracks = body.tracks.map(|(rear, front)| [at(rear, 0.0), at(front, 0.0)]);
    for (rear, front, width) in &body.plan {
        let ends = [*rear, *front].map(|arm| placed.station(Length::new(arm)).si());
        let along = Strip { from: ends[0].min(ends[1]), to: ends[0].max(ends[1]) };
        seen.plan.push(patch(along, one, width.unwrap_or(assumed::ITEM_WIDTH), width.is_some()));
    }
    Ok(())
}

fn patch(along: Strip, one: &OnDeck<'_>, width: f64, given: bool) -> Patch {
    let middle = one.left.as_ref().map_or(0.0, |left| left.si());
    Patch { along, across: Strip { from: middle - width / 2.0, to: middle + width / 2.0 }, given }
}

/// Loose material from the side: level, or with its ends sloping in; a heap that does not reach the walls has its foot
/// on the floor as far within the ends as within the sides.
fn heaped(seat: &Seat, along: Strip, (ends, top): (f64, f64), (width, slope): (f64, f64)) -> Shape {
    let length = along.to - along.from;
    let run = if top > ends + 1e-6 && slope > 0.0 { (top - ends) / slope } else { 0.0 };
    let foot = if ends > 1e-6 || run <= 0.0 { 0.0 } else { (length.min(width) / 2.0 - run).max(0.0) };
    let inset = (foot + run).min(length / 2.0);
    let (from, to) = (along.from, along.to);
    let corners = [
        (from + foot, 0.0),
        (from + foot, ends),
        (from + inset, top),
        (to - inset, top),
        (to - foot, ends),
        (to - foot, 0.0),
    ];
    let mut corners: Vec<(f64, f64)> = corners.into_iter().map(|(station, up)| seat.at(station, up)).collect();
    corners.dedup();
    Shape { corners, given: true }
}

/// How something sits on the deck: level, or leaning with a dovetail.
struct Seat {
    /// The foremost place it stands on, and its height.
    from: (f64, f64),
    cos: f64,
    sin: f64,
}

impl Seat {
    fn of(trailer: &TrailerSeen, base: f64, one: &OnDeck<'_>, placed: &Placed) -> Self {
        let (one_end, other) = match &one.stands {
            Ok((rear, front)) => (placed.station(*rear).si(), placed.station(*front).si()),
            Err(_) => (placed.front().si(), placed.rear().si()),
        };
        let (front, rear) = (one_end.min(other), one_end.max(other));
        let heights = [front, rear].map(|station| deck_height(trailer, station));
        let run = rear - front;
        let rise = heights[1] - heights[0];
        let long = run.hypot(rise);
        let loose = matches!(one.item.kind, ItemKind::Bulk(_));
        // What stands on something else stands level, and so does loose material.
        if base > 0.0 || loose || long <= 1e-6 {
            let level = trailer.top.first().map_or(0.0, |(_, height)| *height);
            return Self { from: (front, level + base), cos: 1.0, sin: 0.0 };
        }
        Self { from: (front, heights[0]), cos: run / long, sin: rise / long }
    }

    /// Where a point of it is: at this station were it level, so high above what it stands on.
    fn at(&self, station: f64, up: f64) -> (f64, f64) {
        let along = station - self.from.0;
        (self.from.0 + along * self.cos - up * self.sin, self.from.1 + along * self.sin + up * self.cos)
    }
}

/// The deck's height at a station; beyond its ends as high as there.
fn deck_height(trailer: &TrailerSeen, station: f64) -> f64 {
    let mut before: Option<(f64, f64)> = None;
    for (at, height) in trailer.top.iter().copied() {
        if station <= at {
            return match before {
                Some((from, low)) if at > from => low + (height - low) * (station - from) / (at - from),
                _ => height,
            };
        }
        before = Some((at, height));
    }
    before.map_or(0.0, |(_, height)| height)
}
