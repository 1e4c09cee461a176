//! A checked trailer node to a trailer.

use super::read_truck::tires;
use super::seen::Seen;
use crate::model::{Anchor, Chains, Coupler, Deck, Ramp, Trailer, TrailerAxle, Walls};
use crate::units::Length;

/// The trailer; nothing when it has no id.
pub(super) fn trailer(seen: &Seen<'_>) -> Option<Trailer> {
    let id = seen.name()?;
    let owner = seen.owner("");
    let path = &owner.path;
    let empty = seen.child("empty");
    let tip = seen.child("tip-bed");
    let anchors = seen.children("anchor").filter_map(|anchor| self::anchor(anchor, path)).collect();
    Some(Trailer {
        id,
        empty: empty.map(|empty| empty.owner(path)),
        empty_tongue: seen.within(empty, "empty", |empty| empty.quantity("tongue")),
        empty_axles: seen.within(empty, "empty", |empty| empty.quantity("axles")),
        gvwr: seen.quantity("gvwr"),
        coupler: seen.child("coupler").map(|coupler| self::coupler(coupler, path)),
        axles: axles(seen, path),
        suspension: seen.choice("suspension"),
        level_at: seen.within(seen.child("suspension"), "suspension", |one| one.quantity("level-at")),
        chains: seen.child("safety-chains").map(|chains| Chains {
            owner: chains.owner(path),
            count: chains.count("count"),
            rating: chains.quantity("rating"),
            breaking: chains.quantity("breaking"),
        }),
        breakaway: seen.flag("breakaway"),
        deck: seen.child("deck").map(|deck| self::deck(deck, path)),
        walls: seen.child("walls").map(|walls| Walls {
            owner: walls.owner(path),
            height: walls.quantity("height"),
            holds: walls.quantity("holds"),
        }),
        rear_doors: seen.child("rear-doors").map(|doors| doors.owner(path)),
        tip_hinge: seen.within(tip, "tip-bed", |tip| tip.quantity("hinge-from-rear")),
        ramp: seen.child("ramp").map(|ramp| Ramp {
            owner: ramp.owner(path),
            length: ramp.quantity("length"),
            rating: ramp.quantity("rating"),
            count: ramp.count("count"),
            surface: ramp.choice("surface"),
        }),
        anchors,
        width: seen.quantity("width"),
        length: seen.quantity("length"),
        owner,
    })
}

fn coupler(seen: &Seen<'_>, parent: &str) -> Coupler {
    Coupler {
        owner: seen.owner(parent),
        kind: seen.choice("kind"),
        size: seen.quantity("size"),
        rating: seen.quantity("rating"),
        tongue_rating: seen.quantity("tongue"),
        height: seen.quantity("height"),
        s_value: seen.quantity("s-value"),
        d_value: seen.quantity("d-value"),
        dc_value: seen.quantity("dc-value"),
        v_value: seen.quantity("v-value"),
    }
}

/// The axles front to rear. Messages count them as they are written.
fn axles(seen: &Seen<'_>, parent: &str) -> Vec<TrailerAxle> {
    let mut axles: Vec<TrailerAxle> = seen
        .children("axle")
        .enumerate()
        .map(|(at, axle)| {
            let owner = axle.owner_called(parent, &format!("axle {}", at + 1));
            let tires = axle.child("tires").map(|tires| self::tires(tires, &owner.path));
            TrailerAxle {
                at: axle.quantity("at"),
                rating: axle.quantity("rating"),
                track_width: axle.quantity("track-width"),
                rate: axle.quantity("rate"),
                empty: axle.quantity("empty"),
                tires,
                brakes: axle.choice("brakes"),
                owner,
            }
        })
        .collect();
    // With a station unknown there is no order but the written one.
    if axles.iter().all(|axle| axle.at.entry().is_some()) {
        let station = |axle: &TrailerAxle| axle.at.value().map_or(0.0, Length::si);
        axles.sort_by(|one, two| station(one).total_cmp(&station(two)));
    }
    axles
}

fn deck(seen: &Seen<'_>, parent: &str) -> Deck {
    let (dovetail, tilt) = (seen.child("dovetail"), seen.child("tilt-deck"));
    Deck {
        owner: seen.owner(parent),
        from: seen.quantity("from"),
        length: seen.quantity("length"),
        width: seen.quantity("width"),
        height: seen.quantity("height"),
        surface: seen.choice("surface"),
        dovetail_length: seen.within(dovetail, "dovetail", |tail| tail.quantity("length")),
        dovetail_drop: seen.within(dovetail, "dovetail", |tail| tail.quantity("drop")),
        tilt_hinge: seen.within(tilt, "tilt-deck", |tilt| tilt.quantity("hinge-from-rear")),
    }
}

fn anchor(seen: &Seen<'_>, parent: &str) -> Option<Anchor> {
    Some(Anchor {
        id: seen.name()?,
        owner: seen.owner(parent),
        from_front: seen.quantity("from-front"),
        left: seen.quantity("left"),
        height: seen.quantity("height"),
        rating: seen.quantity("rating"),
    })
}
