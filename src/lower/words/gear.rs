//! Words of tie-downs, bulk materials and friction.

use super::takes::{force, length, of, rating};
use super::{DESCRIBE, Named, Takes, Value, WORD, Word, maybe, some, value};
use crate::model::{DeckCondition, FrictionStatus, Moisture, Surface, TieKind, Touching};
use crate::units::Kind;

pub(super) static TIEDOWN: Word = Word {
    name: "tiedown",
    doc: "A tie-down.",
    args: &[value("id", Takes::Id(Named::Tiedown), "Its name in sheets.").needed()],
    props: &[
        value("kind", Takes::choice::<TieKind>(), "What it is made of.").needed(),
        value("grade", Takes::Text, "Its grade mark."),
        value("size", length(0.0002, 0.2), "Diameter or nominal size; the thickness of steel strapping."),
        value("width", length(0.005, 0.5), "Width of webbing or strapping."),
        value("wll", rating(), "Marked working load limit; the published table's when not given."),
        value("breaking", rating(), "Breaking strength."),
        value("lashing-capacity", force(), "Lashing capacity (LC, EN 12195-2)."),
        value("tension-force", force(), "Standard tension force (S_TF, EN 12195-2)."),
    ],
    children: &[maybe(&DESCRIBE)],
    ..WORD
};

pub(super) static MATERIAL: Word = Word {
    name: "material",
    doc: "A bulk material. One with the name of a built-in one stands in its place.",
    args: &[value("id", Takes::Id(Named::Material), "Its name in sheets.").needed()],
    children: &[maybe(&DESCRIBE), some(&DENSITY), maybe(&REPOSE)],
    ..WORD
};

static DENSITY: Word = Word {
    name: "density",
    doc: "The range of its bulk density, dry or wet.",
    args: &[value("moisture", Takes::choice::<Moisture>(), "In which state.").needed()],
    props: &[LOW_DENSITY.needed(), HIGH_DENSITY.needed()],
    distinct: true,
    ..WORD
};

const LOW_DENSITY: Value = value("low", of(Kind::Density, 10.0, 10_000.0), "The lightest.");
const HIGH_DENSITY: Value = value("high", of(Kind::Density, 10.0, 10_000.0), "The heaviest.");

static REPOSE: Word = Word {
    name: "repose",
    doc: "The range of its angle of repose.",
    props: &[
        value("low", of(Kind::Angle, 0.0, 90.0), "The flattest.").needed(),
        value("high", of(Kind::Angle, 0.0, 90.0), "The steepest.").needed(),
    ],
    ..WORD
};

pub(super) static FRICTION: Word = Word {
    name: "friction",
    doc: "How well one thing grips another. One for the same pair and state as a built-in one stands in its place.",
    args: &[value("what", Takes::choice::<Touching>(), "What touches.").needed()],
    props: &[
        value("on", Takes::choice::<Surface>(), "The surface of the deck or ramp.").needed(),
        value("deck", Takes::choice::<DeckCondition>(), "In which state of the deck.").needed(),
        value("low", Takes::Coefficient, "The least it can be counted on for: a plain number.").needed(),
        value("high", Takes::Coefficient, "The most it can be: a plain number.").needed(),
        value("source", Takes::Text, "Where the numbers come from."),
        value("status", Takes::choice::<FrictionStatus>(), "How well they are known."),
    ],
    children: &[maybe(&DESCRIBE)],
    distinct: true,
    ..WORD
};
