//! Words of a trailer.

use super::takes::{any_weight, count, force, length, of, place, rating, weight};
use super::truck::{D_VALUE, DC_VALUE, GVWR, S_VALUE, TIRES, TONGUE, TRACK_WIDTH, V_VALUE};
use super::{DESCRIBE, Named, Takes, Value, WORD, Word, many, maybe, one, some, value};
use crate::model::{Brakes, CouplerKind, Surface, Suspension};
use crate::units::Kind;

pub(super) static TRAILER: Word = Word {
    name: "trailer",
    doc: "A trailer. Stations run rearward from the ball centre.",
    args: &[value("id", Takes::Id(Named::Trailer), "Its name in sheets.").needed()],
    children: &[
        maybe(&DESCRIBE),
        one(&EMPTY),
        maybe(&GVWR),
        maybe(&COUPLER),
        some(&AXLE),
        maybe(&SUSPENSION),
        maybe(&CHAINS),
        maybe(&BREAKAWAY),
        one(&DECK),
        maybe(&WALLS),
        maybe(&REAR_DOORS),
        maybe(&TIP_BED),
        maybe(&RAMP),
        many(&ANCHOR),
        maybe(&WIDTH),
        maybe(&LENGTH),
    ],
    ..WORD
};

static EMPTY: Word = Word {
    name: "empty",
    doc: "What the empty trailer weighs.",
    props: &[TONGUE.needed(), value("axles", weight(), "Weight on all its axles.").needed()],
    ..WORD
};

static COUPLER: Word = Word {
    name: "coupler",
    doc: "The trailer's side of the coupling.",
    args: &[value("kind", Takes::choice::<CouplerKind>(), "Its kind.")],
    props: &[
        value("size", length(0.02, 0.2), "The ball it takes."),
        value("rating", rating(), "Marked limit for the trailer."),
        value("tongue", rating(), "Marked limit for the tongue."),
        value("height", length(0.05, 3.0), "Height of the ball centre with the trailer as it is meant to ride."),
        S_VALUE,
        D_VALUE,
        DC_VALUE,
        V_VALUE,
    ],
    ..WORD
};

static AXLE: Word = Word {
    name: "axle",
    doc: "An axle of the trailer.",
    props: &[
        value("at", length(0.1, 30.0), "How far behind the ball it stands.").needed(),
        value("rating", rating(), "Its rating (GAWR)."),
        TRACK_WIDTH,
        value("rate", of(Kind::Stiffness, 1000.0, 1.0e8), "Spring rate of both sides together."),
        value("empty", any_weight(), "What it carries with the trailer empty."),
    ],
    children: &[maybe(&TIRES), maybe(&BRAKES)],
    ..WORD
};

static BRAKES: Word = Word {
    name: "brakes",
    doc: "The brakes of one axle.",
    args: &[value("kind", Takes::choice::<Brakes>(), "Their kind.").needed()],
    ..WORD
};

static SUSPENSION: Word = Word {
    name: "suspension",
    doc: "How the axles share their load.",
    args: &[value("kind", Takes::choice::<Suspension>(), "Its kind.").needed()],
    props: &[value("level-at", length(0.05, 3.0), "Coupler height at which the frame is level.")],
    ..WORD
};

static CHAINS: Word = Word {
    name: "safety-chains",
    doc: "Safety chains.",
    props: &[
        value("count", count(8), "How many."),
        value("rating", rating(), "Marked rating of each."),
        value("breaking", rating(), "Breaking strength of each."),
    ],
    ..WORD
};

static BREAKAWAY: Word = Word {
    name: "breakaway",
    doc: "Whether a breakaway device is fitted.",
    args: &[value("fitted", Takes::Flag, "Whether it is.").needed()],
    ..WORD
};

/// `surface=` of a deck or ramp.
const SURFACE: Value = value("surface", Takes::choice::<Surface>(), "Its surface.");

static DECK: Word = Word {
    name: "deck",
    doc: "The loading deck.",
    props: &[
        value("from", length(0.0, 30.0), "How far behind the ball its front edge stands.").needed(),
        value("length", length(0.3, 30.0), "Its length.").needed(),
        value("width", length(0.3, 5.0), "Its width."),
        value("height", length(0.05, 3.0), "Its height above the ground."),
        SURFACE,
    ],
    children: &[maybe(&DOVETAIL), maybe(&TILT_DECK)],
    ..WORD
};

static DOVETAIL: Word = Word {
    name: "dovetail",
    doc: "The part of the deck that slopes down at the rear.",
    props: &[
        value("length", length(0.05, 10.0), "Its length along the deck.").needed(),
        value("drop", length(0.0, 2.0), "How far its rear edge lies below the deck.").needed(),
    ],
    ..WORD
};

/// `hinge-from-rear=` of a tilting deck or tipping bed.
const HINGE: Value = value("hinge-from-rear", length(0.0, 20.0), "How far ahead of the deck's rear edge it turns.");

static TILT_DECK: Word =
    Word { name: "tilt-deck", doc: "The deck tilts for loading.", props: &[HINGE.needed()], ..WORD };

static TIP_BED: Word = Word { name: "tip-bed", doc: "The bed tips.", props: &[HINGE.needed()], ..WORD };

static WALLS: Word = Word {
    name: "walls",
    doc: "Walls round the deck.",
    props: &[
        value("height", length(0.02, 4.0), "Their height above the deck."),
        value("holds", force(), "What the front wall holds."),
    ],
    ..WORD
};

static REAR_DOORS: Word = Word { name: "rear-doors", doc: "Doors close the rear of the deck.", ..WORD };

static RAMP: Word = Word {
    name: "ramp",
    doc: "The loading ramp.",
    props: &[
        value("length", length(0.2, 10.0), "Its length along the slope.").needed(),
        value("rating", rating(), "Rating of each."),
        value("count", count(6), "How many side by side."),
        SURFACE,
    ],
    ..WORD
};

static ANCHOR: Word = Word {
    name: "anchor",
    doc: "A place where a tie-down attaches.",
    args: &[value("id", Takes::Id(Named::Anchor), "Its name on this trailer.").needed()],
    props: &[
        value("from-front", place(), "How far behind the deck's front edge."),
        value("left", length(-5.0, 5.0), "How far left of the centre line; negative on the right."),
        value("height", length(-3.0, 4.0), "Height above the deck; 0 when not given."),
        value("rating", rating(), "Its rating."),
    ],
    distinct: true,
    ..WORD
};

static WIDTH: Word = Word {
    name: "width",
    doc: "Overall width.",
    args: &[value("length", length(0.3, 6.0), "The width.").needed()],
    ..WORD
};

static LENGTH: Word = Word {
    name: "length",
    doc: "Overall length.",
    args: &[value("length", length(0.5, 40.0), "The length.").needed()],
    ..WORD
};
