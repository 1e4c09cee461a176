//! Words of a sheet.

use super::takes::{any_weight, count, count_or_none, length, of, piece, place, rating, share, weight};
use super::truck::TONGUE;
use super::{Child, DESCRIBE, Named, Takes, Value, WORD, Word, many, maybe, one, value};
use crate::model::{CargoBase, DeckCondition, End, Facing, Moisture, Stands};
use crate::units::Kind;

pub(super) static SHEET: Word = Word {
    name: "sheet",
    doc: "One truck, one trailer and what is aboard.",
    args: &[value("name", Takes::Id(Named::Sheet), "Its name.").needed()],
    children: &[maybe(&DESCRIBE), one(&TRUCK), one(&TRAILER), maybe(&CARRIER), many(&LEG)],
    shared: ABOARD,
    ..WORD
};

static LEG: Word = Word {
    name: "leg",
    doc: "One trip of a job; what stands outside the legs holds for all of them.",
    args: &[value("name", Takes::Id(Named::Leg), "Its name.").needed()],
    children: &[maybe(&DESCRIBE)],
    shared: ABOARD,
    distinct: true,
    ..WORD
};

/// What may stand in a sheet and in a leg.
const ABOARD: &[Child] = &[
    maybe(&CONDITIONS),
    maybe(&LOADING),
    many(&ABOARD_TRUCK),
    many(&MACHINE),
    many(&CARGO),
    many(&BULK),
    many(&READING),
    many(&WAIVE),
];

static TRUCK: Word = Word {
    name: "truck",
    doc: "The truck.",
    args: &[value("id", Takes::Ref(Named::Truck), "Which.").needed()],
    ..WORD
};

static TRAILER: Word = Word {
    name: "trailer",
    doc: "The trailer.",
    args: &[value("id", Takes::Ref(Named::Trailer), "Which.").needed()],
    ..WORD
};

pub(super) static CARRIER: Word = Word {
    name: "carrier",
    doc: "Facts about the carrier.",
    props: &[
        value("interstate", Takes::Flag, "Whether it goes across state lines."),
        value("business", Takes::Flag, "Whether it is for business."),
        value("number", Takes::Flag, "Whether the truck shows the carrier's number."),
        value("cdl", Takes::Flag, "Whether the driver holds the commercial licence that the combination asks for."),
        value("recheck", Takes::Flag, "Whether a stop for checking the load again is planned."),
    ],
    ..WORD
};

pub(super) static CONDITIONS: Word = Word {
    name: "conditions",
    doc: "Road and deck.",
    props: &[
        value("deck", Takes::choice::<DeckCondition>(), "State of the deck."),
        value("speed", of(Kind::Speed, 0.1, 60.0), "Highest speed."),
        value("grade", share(0.0, 1.0), "Steepest grade."),
    ],
    ..WORD
};

pub(super) static LOADING: Word = Word {
    name: "loading",
    doc: "How the load is put aboard.",
    children: &[
        maybe(&CHOCKS),
        many(&STANDS),
        maybe(&BED_TILT),
        maybe(&FOOT_RISE),
        maybe(&SLOPE),
        maybe(&PARKING_BRAKE_TRUCK),
    ],
    ..WORD
};

static CHOCKS: Word = Word {
    name: "chocks",
    doc: "Whether the wheels are chocked.",
    args: &[value("set", Takes::Flag, "Whether they are.").needed()],
    ..WORD
};

static STANDS: Word = Word {
    name: "stands",
    doc: "Stands under the trailer while it is loaded.",
    args: &[value("end", Takes::choice::<End>(), "At which end.").needed()],
    props: &[
        value("rating", rating(), "Rating of each."),
        value("count", count_or_none(8), "How many; 0 where the yard or the sheet plans some and this load has none."),
        value("at", place(), "How far behind the ball."),
    ],
    distinct: true,
    ..WORD
};

static BED_TILT: Word = Word {
    name: "bed-tilt",
    doc: "Tilt of a tipping bed or tilting deck.",
    args: &[value("angle", of(Kind::Angle, 0.0, 60.0), "The angle.").needed()],
    ..WORD
};

static FOOT_RISE: Word = Word {
    name: "foot-rise",
    doc: "How much higher the ramp's foot stands than the ground under the trailer's wheels.",
    args: &[value("length", length(-3.0, 3.0), "The rise; negative when it stands lower.").needed()],
    ..WORD
};

static SLOPE: Word = Word {
    name: "slope",
    doc: "Slope of the ground, positive when the truck points downhill.",
    args: &[value("share", share(-1.0, 1.0), "The slope.").needed()],
    ..WORD
};

static PARKING_BRAKE_TRUCK: Word = Word {
    name: "parking-brake",
    doc: "Whether the truck's parking brake is set.",
    args: &[value("set", Takes::Flag, "Whether it is.").needed()],
    ..WORD
};

static ABOARD_TRUCK: Word = Word {
    name: "aboard-truck",
    doc: "A load in the truck.",
    args: &[value("name", Takes::Id(Named::Item), "What it is.").needed()],
    props: &[
        value("weight", piece(), "What it weighs.").needed(),
        value("ahead-of-rear-axle", place(), "How far ahead of the rear axle; negative behind it.").needed(),
    ],
    ..WORD
};

const FRONT_GAP: Value = value("front-gap", place(), "From the deck's front edge to the item's foremost point.");
const REAR_GAP: Value = value("rear-gap", place(), "From the item's rearmost point to the deck's rear edge.");
const LEFT: Value = value("left", length(-5.0, 5.0), "Its centre line left of the deck's; negative on the right.");
const ON: Value = value("on", Takes::Ref(Named::Item), "The item it stands on.");

static MACHINE: Word = Word {
    name: "machine",
    doc: "A machine on the deck.",
    args: &[value("id", Takes::Ref(Named::Machine), "Which.").needed()],
    props: &[
        value("facing", Takes::choice::<Facing>(), "Which way its nose points; forward is toward the truck.").needed(),
        FRONT_GAP,
        REAR_GAP,
        LEFT,
        ON,
    ],
    children: &[maybe(&DESCRIBE), many(&FIT), maybe(&PARKING_BRAKE), maybe(&BLOCKED), many(&TIE)],
    ..WORD
};

static FIT: Word = Word {
    name: "fit",
    doc: "An attachment on the machine.",
    args: &[value("attachment", Takes::Ref(Named::Attachment), "Which.").needed()],
    children: &[many(&TIE)],
    distinct: true,
    ..WORD
};

static PARKING_BRAKE: Word = Word {
    name: "parking-brake",
    doc: "Whether the machine's own parking brake is set.",
    args: &[value("set", Takes::Flag, "Whether it is.").needed()],
    ..WORD
};

static BLOCKED: Word = Word {
    name: "blocked",
    doc: "The ends at which it bears against a wall or is chocked.",
    args: &[value("end", Takes::choice::<End>(), "An end.").some()],
    ..WORD
};

static CARGO: Word = Word {
    name: "cargo",
    doc: "A piece of cargo on the deck.",
    args: &[value("name", Takes::Id(Named::Item), "What it is.").needed()],
    props: &[
        value("weight", piece(), "What it weighs.").needed(),
        value("length", length(0.01, 30.0), "Its length along the deck.").needed(),
        value("width", length(0.01, 6.0), "Its width."),
        value("height", length(0.01, 6.0), "Its height."),
        FRONT_GAP,
        REAR_GAP,
        LEFT,
        ON,
        value("cg-from-front", place(), "Its centre of gravity behind its foremost point; the middle otherwise."),
        value("cg-left", length(-5.0, 5.0), "Its centre of gravity left of its own centre line."),
        value("cg-height", length(0.0, 6.0), "Height of its centre of gravity; half its height otherwise."),
        value("base", Takes::choice::<CargoBase>(), "What it stands on."),
    ],
    children: &[maybe(&DESCRIBE), maybe(&BLOCKED), many(&TIE)],
    ..WORD
};

static BULK: Word = Word {
    name: "bulk",
    doc: "Loose material; fills the deck unless a gap or length says otherwise.",
    args: &[value("material", Takes::Ref(Named::Material), "Which.").needed()],
    props: &[
        value("volume", of(Kind::Volume, 0.001, 200.0), "How much.").needed(),
        value("covered", Takes::Flag, "Whether it is covered."),
        value("heaped", Takes::Flag, "Whether it is heaped; level where it is not given."),
        value("moisture", Takes::choice::<Moisture>(), "Dry or wet; it may be either where it is not given."),
        FRONT_GAP,
        REAR_GAP,
        value(
            "left",
            length(-5.0, 5.0),
            "Its middle left of the deck's, where it lies to one side; negative on the right.",
        ),
        value(
            "length",
            length(0.05, 30.0),
            "Its length along the deck; what a gap leaves of the deck where it is not given.",
        ),
    ],
    children: &[maybe(&DESCRIBE)],
    ..WORD
};

static TIE: Word = Word {
    name: "tie",
    doc: "A tie-down on the item, or several alike.",
    args: &[value("tiedown", Takes::Ref(Named::Tiedown), "Which.").needed()],
    props: &[
        value("from", Takes::Ref(Named::Anchor), "From which anchor."),
        value("to", Takes::Ref(Named::LashPointOrAnchor), "To which lash point; to which anchor over the top."),
        value("over", Takes::Flag, "Whether it goes over the top."),
        value("count", count(40), "How many."),
    ],
    ..WORD
};

static READING: Word = Word {
    name: "reading",
    doc: "What a gauge or scale showed.",
    args: &[value("name", Takes::Id(Named::Gauge), "Which gauge.").needed()],
    props: &[
        TONGUE,
        value("axles", any_weight(), "Weight on the trailer's axles."),
        value("gross", weight(), "The trailer's gross weight."),
        value("stands", Takes::choice::<Stands>(), "Whether the rear stands bore."),
    ],
    ..WORD
};

static WAIVE: Word = Word {
    name: "waive",
    doc: "Accepts a finding through a day.",
    args: &[value("rule", Takes::Ref(Named::Rule), "The rule.").needed()],
    props: &[
        value("reason", Takes::Text, "Why.").needed(),
        value("by", Takes::Text, "By whom.").needed(),
        value("until", Takes::Date, "Through which day: YYYY-MM-DD.").needed(),
        value("item", Takes::Ref(Named::Item), "Only for this item."),
    ],
    ..WORD
};
