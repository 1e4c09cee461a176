//! Words of a truck.

use super::takes::{any_weight, count, force, length, of, place, rating, share, weight};
use super::{Child, DESCRIBE, Named, Takes, Value, WORD, Word, maybe, one, some, value};
use crate::model::{End, HitchKind, TireKind};
use crate::units::Kind;

pub(super) static TRUCK: Word = Word {
    name: "truck",
    doc: "A truck as it stands ready: driver and fuel aboard.",
    args: &[value("id", Takes::Id(Named::Truck), "Its name in sheets.").needed()],
    children: &[maybe(&DESCRIBE), some(&AXLE), one(&WHEELBASE), maybe(&GVWR), maybe(&GCWR), one(&HITCH)],
    ..WORD
};

/// `track-width=` of an axle.
pub(super) const TRACK_WIDTH: Value = value("track-width", length(0.3, 4.0), "Between the wheel centres.");

/// Which end an axle stands at.
pub(super) const WHICH_END: Value =
    value("end", Takes::choice_called::<End>("an axle"), "Which end it stands at.").needed();

static AXLE: Word = Word {
    name: "axle",
    doc: "An axle of the truck, as weighed without trailer and load.",
    args: &[WHICH_END],
    props: &[
        value("weighed", weight(), "What it carries without trailer and load.").needed(),
        value("rating", rating(), "Its rating (GAWR)."),
        TRACK_WIDTH,
    ],
    children: &[maybe(&TIRES)],
    distinct: true,
    ..WORD
};

pub(super) static TIRES: Word = Word {
    name: "tires",
    doc: "The tires of the whole axle.",
    props: &[
        value("count", count(16), "How many on the whole axle.").needed(),
        value("rating", rating(), "Marked load of each."),
        value(
            "load-index",
            Takes::LoadIndex,
            "Load index, or both for single and dual fitment: \"121/118\". A lone one is for the fitment they are in.",
        ),
        value("dual", Takes::Flag, "Whether they are fitted in pairs."),
        value("pressure", of(Kind::Pressure, 10_000.0, 1.5e6), "Inflation, cold."),
        value("max-pressure", of(Kind::Pressure, 10_000.0, 1.5e6), "Inflation at which the marked load holds."),
        value("speed", Takes::SpeedOrSymbol, "The speed they are made for, or the speed symbol."),
        value("kind", Takes::choice::<TireKind>(), "What they were made for."),
    ],
    ..WORD
};

static WHEELBASE: Word = Word {
    name: "wheelbase",
    doc: "Between the front and the rear axle.",
    args: &[value("length", length(1.5, 12.0), "The distance.").needed()],
    ..WORD
};

pub(super) static GVWR: Word = Word {
    name: "gvwr",
    doc: "The maker's limit for its gross weight (GVWR).",
    args: &[value("weight", rating(), "The limit.").needed()],
    ..WORD
};

static GCWR: Word = Word {
    name: "gcwr",
    doc: "The maker's limit for truck and trailer together (GCWR).",
    args: &[value("weight", rating(), "The limit.").needed()],
    ..WORD
};

/// `s-value=` of a coupling.
pub(super) const S_VALUE: Value = value("s-value", rating(), "Largest static vertical load on the plate (S).");

/// `d-value=` of a coupling.
pub(super) const D_VALUE: Value = value("d-value", force(), "D-value of the plate.");

/// `dc-value=` of a coupling.
pub(super) const DC_VALUE: Value = value("dc-value", force(), "D_c of the plate, for a centre-axle trailer.");

/// `v-value=` of a coupling.
pub(super) const V_VALUE: Value = value("v-value", force(), "V of the plate, for a centre-axle trailer above 3.5 t.");

static HITCH: Word = Word {
    name: "hitch",
    doc: "The truck's side of the coupling.",
    args: &[value("kind", Takes::choice::<HitchKind>(), "Its kind.")],
    props: &[
        value("behind-rear-axle", place(), "From the rear axle back to the ball; negative ahead of it.").needed(),
        value("height", length(0.05, 3.0), "Height of the ball with the truck loaded."),
        value(
            "restores",
            share(0.0, 2.0),
            "The part of the front axle's loss that a weight-distributing hitch gives back.",
        ),
        S_VALUE,
        D_VALUE,
        DC_VALUE,
        V_VALUE,
    ],
    children: HITCH_PARTS,
    ..WORD
};

const HITCH_PARTS: &[Child] = &[maybe(&HITCH_RATING), maybe(&BALL), maybe(&BRAKE_CONTROLLER)];

static HITCH_RATING: Word = Word {
    name: "rating",
    doc: "The receiver's limits.",
    props: &[
        value("tongue", rating(), "Limit for the tongue weight."),
        value("trailer", rating(), "Limit for the trailer's gross weight."),
    ],
    ..WORD
};

static BALL: Word = Word {
    name: "ball",
    doc: "The ball.",
    props: &[
        value("size", length(0.02, 0.2), "Its diameter."),
        value("rating", rating(), "Marked limit for the trailer."),
    ],
    ..WORD
};

static BRAKE_CONTROLLER: Word = Word {
    name: "brake-controller",
    doc: "Whether a controller for the trailer's brakes is fitted.",
    args: &[value("fitted", Takes::Flag, "Whether it is.").needed()],
    ..WORD
};

/// `tongue=` where it is a weight that something showed.
pub(super) const TONGUE: Value = value("tongue", any_weight(), "Tongue weight.");
