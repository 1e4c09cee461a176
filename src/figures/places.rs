//! Places that a rule may point at and that are no figures: the gap of an item, a whole node.

use super::of_axle::tires;
use super::of_tie::hanging;
use super::{AxleRef, Each, Load, Subject};
use crate::model::{Gap, Item, ItemKind};
use crate::text::Span;

/// A named place.
pub(super) struct Place {
    pub(super) name: &'static str,
    pub(super) of: &'static [Each],
    /// What is written beside it.
    pub(super) label: &'static str,
    pub(super) spans: fn(&Load<'_>, Subject) -> Vec<Span>,
}

const ON_DECK: &[Each] = &[Each::Item, Each::Machine, Each::Bulk, Each::Attachment, Each::Tie];
const AXLES: &[Each] = &[Each::TruckAxle, Each::TrailerAxle, Each::Wheel];
const NEAR_AXLES: &[Each] = &[
    Each::AxleGroup,
    Each::Sheet,
    Each::Load,
    Each::Truck,
    Each::Hitch,
    Each::Trailer,
    Each::TruckAxle,
    Each::TrailerAxle,
    Each::Wheel,
    Each::Reading,
];

/// The place of this name for such a subject.
pub(super) fn place(name: &str, each: Each) -> Option<&'static Place> {
    PLACES.iter().find(|place| place.name == name && (place.of.is_empty() || place.of.contains(&each)))
}

pub(super) static PLACES: &[Place] = &[
    Place {
        name: "item.place",
        label: "",
        of: ON_DECK,
        spans: |load, subject| the_item(load, subject).map(place_of).into_iter().collect(),
    },
    Place {
        name: "item.place",
        label: "",
        of: NEAR_AXLES,
        spans: |load, _| heaviest_first(load).into_iter().map(place_of).collect(),
    },
    Place {
        name: "item.ties",
        label: "a tie-down of it",
        of: ON_DECK,
        spans: |load, subject| {
            the_item(load, subject).map(|item| item.ties.iter().map(|tie| tie.owner.at).collect()).unwrap_or_default()
        },
    },
    Place {
        name: "tie",
        label: "the tie-down",
        of: &[Each::Tie],
        spans: |load, subject| {
            let Subject::Tie { item, tie } = subject else { return Vec::new() };
            let tie = load.items.get(item).and_then(|item| item.ties().nth(tie));
            tie.map(|tie| tie.owner.at).into_iter().collect()
        },
    },
    Place {
        name: "anchor.hanging",
        label: "hangs on it",
        of: &[Each::Anchor],
        spans: |load, subject| hanging(load, subject).into_iter().flatten().map(|tied| tied.tie.owner.at).collect(),
    },
    Place {
        name: "item.left",
        label: "where it stands across the deck",
        of: ON_DECK,
        // Where it stands in the middle there is nothing to point at: the rule's next point takes its place.
        spans: |load, subject| the_item(load, subject).and_then(|item| item.left.at()).into_iter().collect(),
    },
    Place {
        name: "item.left",
        label: "where it stands across the deck",
        of: NEAR_AXLES,
        spans: |load, _| heaviest_first(load).into_iter().map(left_of).collect(),
    },
    Place {
        name: "item",
        label: "on the deck",
        of: ON_DECK,
        spans: |load, subject| the_item(load, subject).map(|item| item.owner.at).into_iter().collect(),
    },
    Place {
        name: "item",
        label: "on the deck",
        of: NEAR_AXLES,
        spans: |load, _| heaviest_first(load).into_iter().map(|item| item.owner.at).collect(),
    },
    Place {
        name: "aboard.place",
        label: "where it stands in the truck",
        of: &[],
        spans: |load, _| {
            let place = |cargo: &&crate::model::TruckCargo| cargo.ahead_of_rear_axle.at().unwrap_or(cargo.owner.at);
            load.in_truck.iter().map(place).collect()
        },
    },
    Place {
        name: "tires.pressure",
        label: "their pressure",
        of: AXLES,
        spans: |load, subject| match subject {
            Subject::Axle(axle) => {
                let pressure = tires(load, axle).ok().and_then(|tires| tires.pressure.at());
                pressure.into_iter().collect()
            }
            _ => Vec::new(),
        },
    },
    Place {
        name: "widest.place",
        label: "where it stands",
        of: NEAR_AXLES,
        spans: |load, _| widest(load).map(place_of).into_iter().collect(),
    },
    Place {
        name: "tallest",
        label: "on the deck",
        of: NEAR_AXLES,
        spans: |load, _| tallest(load).map(|item| item.owner.at).into_iter().collect(),
    },
    Place {
        name: "trailer.empty",
        label: "the empty trailer as weighed",
        of: &[],
        spans: |load, _| {
            let empty = load.trailer.as_ref().ok().and_then(|trailer| trailer.empty.as_ref());
            empty.map(|empty| empty.at).into_iter().collect()
        },
    },
    Place {
        name: "truck",
        label: "the truck",
        of: &[],
        spans: |load, _| load.sheet.truck.as_ref().map(|named| named.name.at).into_iter().collect(),
    },
    Place {
        name: "trailer",
        label: "the trailer",
        of: &[],
        spans: |load, _| load.sheet.trailer.as_ref().map(|named| named.name.at).into_iter().collect(),
    },
    Place {
        name: "carrier",
        label: "who carries it",
        of: &[],
        // Where only the yard says it there is nothing to point at in the sheet: the rule's next point takes its place.
        spans: |load, _| load.sheet.carrier.as_ref().map(|carrier| carrier.owner.at).into_iter().collect(),
    },
    Place {
        name: "hitch",
        label: "the hitch",
        of: &[],
        spans: |load, _| load.hitch().map(|hitch| hitch.owner.at).into_iter().collect(),
    },
    Place {
        name: "ball",
        label: "the ball",
        of: &[],
        spans: |load, _| {
            let ball = load.hitch().ok().and_then(|hitch| hitch.ball.as_ref());
            ball.map(|ball| ball.owner.at).into_iter().collect()
        },
    },
    Place {
        name: "coupler",
        label: "the coupler",
        of: &[],
        spans: |load, _| {
            let coupler = load.trailer.as_ref().ok().and_then(|trailer| trailer.coupler.as_ref());
            coupler.map(|coupler| coupler.owner.at).into_iter().collect()
        },
    },
    Place {
        name: "chains",
        label: "the safety chains",
        of: &[],
        spans: |load, _| {
            let chains = load.trailer.as_ref().ok().and_then(|trailer| trailer.chains.as_ref());
            chains.map(|chains| chains.owner.at).into_iter().collect()
        },
    },
    Place {
        name: "deck",
        label: "the deck",
        of: &[],
        spans: |load, _| load.deck().map(|deck| deck.owner.at).into_iter().collect(),
    },
    Place {
        name: "rear-doors",
        label: "the doors",
        of: &[],
        spans: |load, _| {
            let doors = load.trailer.as_ref().ok().and_then(|trailer| trailer.rear_doors.as_ref());
            doors.map(|doors| doors.at).into_iter().collect()
        },
    },
    Place { name: "sheet", label: "", of: &[], spans: |load, _| vec![load.owner().at] },
    Place {
        name: "axle",
        label: "the axle",
        of: AXLES,
        spans: |load, subject| the_axle(load, subject).into_iter().collect(),
    },
    Place {
        name: "tires",
        label: "its tires",
        of: AXLES,
        spans: |load, subject| match subject {
            Subject::Axle(axle) => tires(load, axle).map_or_else(|lack| vec![lack.at()], |tires| vec![tires.owner.at]),
            _ => Vec::new(),
        },
    },
    Place {
        name: "tie",
        label: "the tie-down",
        of: &[Each::Tie],
        spans: |load, subject| match subject {
            Subject::Tie { item, tie } => {
                let tie = load.items.get(item).and_then(|item| item.ties().nth(tie));
                tie.map(|tie| tie.owner.at).into_iter().collect()
            }
            _ => Vec::new(),
        },
    },
    Place {
        name: "attachment",
        label: "the attachment",
        of: &[Each::Attachment],
        spans: |load, subject| match subject {
            Subject::Fit { item, fit } => {
                let fit = load.items.get(item).and_then(|item| item.fits().get(fit));
                fit.map(|fit| fit.owner.at).into_iter().collect()
            }
            _ => Vec::new(),
        },
    },
    Place {
        name: "reading",
        label: "the reading",
        of: &[Each::Reading],
        spans: |load, subject| match subject {
            Subject::Reading(at) => load.readings.get(at).map(|reading| reading.owner.at).into_iter().collect(),
            _ => Vec::new(),
        },
    },
    Place {
        name: "waiver",
        label: "the waiver",
        of: &[Each::Waiver],
        spans: |load, subject| match subject {
            Subject::Waiver(at) => load.waivers.get(at).map(|waiver| waiver.owner.at).into_iter().collect(),
            _ => Vec::new(),
        },
    },
    Place {
        name: "anchor",
        label: "the anchor",
        of: &[Each::Anchor],
        spans: |load, subject| match subject {
            Subject::Anchor(at) => {
                let anchor = load.trailer.as_ref().ok().and_then(|trailer| trailer.anchors.get(at));
                anchor.map(|anchor| anchor.owner.at).into_iter().collect()
            }
            _ => Vec::new(),
        },
    },
];

/// The entry one would change to move an item; for loose material its volume is what one changes.
fn place_of(item: &Item) -> Span {
    match &item.gap {
        Gap::Front(gap) | Gap::Rear(gap) => gap.at,
        Gap::Fills | Gap::Broken => volume(item).unwrap_or(item.owner.at),
    }
}

/// Where the volume of loose material that fills the deck is written.
pub(super) fn volume(item: &Item) -> Option<Span> {
    match (&item.gap, &item.kind) {
        (Gap::Fills, ItemKind::Bulk(bulk)) => bulk.volume.at(),
        _ => None,
    }
}

/// The entry one would change to move an item across the deck; where it stands in the middle, the item itself.
fn left_of(item: &Item) -> Span {
    item.left.at().unwrap_or(item.owner.at)
}

/// The item that reaches farthest to a side, when it reaches past the trailer.
fn widest<'y>(load: &Load<'y>) -> Option<&'y Item> {
    let trailer = load.trailer.as_ref().ok()?.width.value().map_or(0.0, |width| width.si() / 2.0);
    let reach = |item: &super::OnDeck<'y>| item.sides().ok().map(|sides| sides.left.abs().max(sides.right.abs()).si());
    let all = load.items.iter().filter_map(|item| Some((item, reach(item)?)));
    let (item, reach) = all.max_by(|a, b| a.1.total_cmp(&b.1))?;
    (reach > trailer).then_some(item.item)
}

/// The item whose top is highest.
fn tallest<'y>(load: &Load<'y>) -> Option<&'y Item> {
    let tops = load.items.iter().enumerate().filter_map(|(at, item)| Some((item, load.top_of(at).ok()?.si())));
    tops.max_by(|a, b| a.1.total_cmp(&b.1)).map(|(item, _)| item.item)
}

/// The items, heaviest first: it moves the trailer's balance most.
fn heaviest_first<'y>(load: &Load<'y>) -> Vec<&'y Item> {
    let mut items: Vec<_> = load.items.iter().collect();
    let weight = |item: &super::OnDeck<'_>| item.weight().map_or(0.0, crate::units::Mass::si);
    items.sort_by(|a, b| weight(b).total_cmp(&weight(a)));
    items.into_iter().map(|one| one.item).collect()
}

fn the_item<'y>(load: &Load<'y>, subject: Subject) -> Option<&'y Item> {
    match subject {
        Subject::Item(at) | Subject::Fit { item: at, .. } | Subject::Tie { item: at, .. } => {
            load.items.get(at).map(|one| one.item)
        }
        _ => None,
    }
}

fn the_axle(load: &Load<'_>, subject: Subject) -> Option<Span> {
    match subject {
        Subject::Axle(AxleRef::Truck(end)) => load.truck_axle(end).ok().map(|axle| axle.owner.at),
        Subject::Axle(AxleRef::Trailer(at)) => load.trailer_axles().get(at).map(|axle| axle.owner.at),
        _ => None,
    }
}
