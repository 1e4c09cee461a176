//! Contradictions in a trailer.

use super::{Out, apart, shown, shown_like, tires};
use crate::model::{Anchor, Deck, Trailer, TrailerAxle};

pub(super) fn check(trailer: &Trailer, out: &mut Out<'_>) {
    for axle in &trailer.axles {
        if let Some(own) = &axle.tires {
            tires::check(own, out);
        }
        let help = "measure the track between the wheel centres";
        out.at_most(&axle.track_width, &trailer.width, ("the track", "the overall width"), help);
    }
    stations(&trailer.axles, out);
    empty_weights(trailer, out);
    let Some(deck) = &trailer.deck else {
        return;
    };
    let whole = "the deck's length";
    out.at_most(&deck.dovetail_length, &deck.length, ("the dovetail's length", whole), "measure both again");
    let help = "measure the hinge from the deck's rear edge";
    out.at_most(&deck.tilt_hinge, &deck.length, ("the hinge's distance", whole), help);
    out.at_most(&trailer.tip_hinge, &deck.length, ("the hinge's distance", whole), help);
    out.at_most(&deck.width, &trailer.width, ("the deck's width", "the overall width"), "measure both again");
    out.at_most(&deck.length, &trailer.length, (whole, "the overall length"), "measure both again");
    trailer.anchors.iter().for_each(|anchor| near_the_deck(anchor, deck, out));
}

/// How far from the deck an anchor can be, in m: on the tongue, a bumper or a rub rail
/// (judgement, no source).
const BEYOND: f64 = 1.0;

fn near_the_deck(anchor: &Anchor, deck: &Deck, out: &mut Out<'_>) {
    if let (Some(at), Some(length)) = (anchor.from_front.entry(), deck.length.entry())
        && !(-BEYOND..=length.value.si() + BEYOND).contains(&at.value.si())
    {
        let message =
            format!("an anchor cannot lie {} behind the front edge of a deck of {}", shown(at), shown(length));
        let label = (length.at, "the deck's length".to_owned());
        out.clash(at.at, message, label, "measure the anchor from the deck's front edge");
    }
    if let (Some(at), Some(width)) = (anchor.left.entry(), deck.width.entry())
        && at.value.si().abs() > width.value.si() / 2.0 + BEYOND
    {
        let message = format!("an anchor cannot lie {} off the middle of a deck of {}", shown(at), shown(width));
        let label = (width.at, "the deck's width".to_owned());
        out.clash(at.at, message, label, "measure the anchor from the centre line, left of it as a positive number");
    }
}

/// The nearest that two axles can stand: closer, their wheels of any size would touch.
const CLOSEST: f64 = 0.1;

fn stations(axles: &[TrailerAxle], out: &mut Out<'_>) {
    for pair in axles.windows(2) {
        let [ahead, behind] = pair else {
            continue;
        };
        if let (Some(one), Some(other)) = (ahead.at.entry(), behind.at.entry())
            && (other.value.si() - one.value.si()).abs() < CLOSEST
        {
            let message = format!("two axles cannot stand at the same place, {} behind the ball", shown(other));
            let label = (one.at, "the other axle".to_owned());
            out.clash(other.at, message, label, "measure each axle from the ball centre");
        }
    }
}

fn empty_weights(trailer: &Trailer, out: &mut Out<'_>) {
    let Some(all) = trailer.empty_axles.entry() else {
        return;
    };
    let each: Option<Vec<_>> = trailer.axles.iter().map(|axle| axle.empty.entry()).collect();
    let Some(each) = each.filter(|each| !each.is_empty()) else {
        return;
    };
    let sum: f64 = each.iter().map(|axle| axle.value.si()).sum();
    let mut spreads = vec![all.plus_minus];
    spreads.extend(each.iter().map(|axle| axle.plus_minus));
    if apart(sum, all.value.si(), 5.0, &spreads) {
        let message = format!(
            "the axles carry {} together when the trailer is empty, and {} is written for all of them",
            shown_like(sum, all),
            shown(all)
        );
        let label = each.first().map_or(all.at, |axle| axle.at);
        out.clash(all.at, message, (label, "one of the axles".to_owned()), "weigh the empty trailer again");
    }
}
