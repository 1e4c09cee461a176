//! A checked truck node to a truck.

use std::sync::Arc;

use super::report::Report;
use super::seen::Seen;
use crate::model::{Ball, Choice, End, Hitch, Tires, Truck, TruckAxle};

/// The truck; nothing when it has no id.
pub(super) fn truck(seen: &Seen<'_>, report: &mut Report<'_>) -> Option<Truck> {
    let id = seen.name()?;
    let mut owner = seen.owner("");
    let path = &Arc::clone(&owner.path);
    let axle = |end: End| {
        seen.children("axle").find(|axle| axle.choice::<End>("end").value() == Some(end)).map(|axle| {
            let owner = axle.owner(path);
            let tires = axle.child("tires").map(|tires| self::tires(tires, &owner.path));
            TruckAxle {
                weighed: axle.quantity("weighed"),
                rating: axle.quantity("rating"),
                track_width: axle.quantity("track-width"),
                tires,
                owner,
            }
        })
    };
    let (front, rear) = (axle(End::Front), axle(End::Rear));
    // An axle whose end could not be read may be either, as may the second of two with the same end; with none at all
    // the word itself was missed.
    let axles = || seen.children("axle");
    let unsure =
        seen.lost || seen.is_broken("axle") || axles().count() > 1 || axles().any(|axle| axle.leaf("end").is_none());
    if !unsure && (front.is_some() || rear.is_some()) {
        for (end, there) in [(End::Front, front.is_some()), (End::Rear, rear.is_some())] {
            if !there {
                report.lacks_axle(seen, end.word());
                owner.reported.push(axle_word(end));
            }
        }
    }
    let hitch = seen.child("hitch").map(|hitch| self::hitch(hitch, path));
    Some(Truck {
        id,
        front,
        rear,
        wheelbase: seen.quantity("wheelbase"),
        gvwr: seen.quantity("gvwr"),
        gcwr: seen.quantity("gcwr"),
        hitch,
        owner,
    })
}

/// An axle by its end, as figures call it when it is missing.
pub(super) const fn axle_word(end: End) -> &'static str {
    match end {
        End::Front => "axle \"front\"",
        End::Rear => "axle \"rear\"",
    }
}

/// The tires of an axle.
pub(super) fn tires(seen: &Seen<'_>, parent: &str) -> Tires {
    Tires {
        owner: seen.owner(parent),
        count: seen.count("count"),
        rating: seen.quantity("rating"),
        load_index: seen.load_index("load-index"),
        dual: seen.flag("dual"),
        pressure: seen.quantity("pressure"),
        max_pressure: seen.quantity("max-pressure"),
        speed: seen.quantity("speed"),
        kind: seen.choice("kind"),
    }
}

fn hitch(seen: &Seen<'_>, parent: &str) -> Hitch {
    let owner = seen.owner(parent);
    let ball = seen.child("ball").map(|ball| Ball {
        owner: ball.owner(&owner.path),
        size: ball.quantity("size"),
        rating: ball.quantity("rating"),
    });
    let rating = seen.child("rating");
    Hitch {
        kind: seen.choice("kind"),
        behind_rear_axle: seen.quantity("behind-rear-axle"),
        height: seen.quantity("height"),
        restores: seen.quantity("restores"),
        tongue_rating: seen.within(rating, "rating", |rating| rating.quantity("tongue")),
        trailer_rating: seen.within(rating, "rating", |rating| rating.quantity("trailer")),
        ball,
        brake_controller: seen.flag("brake-controller"),
        s_value: seen.quantity("s-value"),
        d_value: seen.quantity("d-value"),
        dc_value: seen.quantity("dc-value"),
        v_value: seen.quantity("v-value"),
        owner,
    }
}
