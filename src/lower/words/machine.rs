//! Words of machines and attachments.

use super::takes::{length, piece, place, rating, weight};
use super::truck::{TRACK_WIDTH, WHICH_END};
use super::{DESCRIBE, Named, Takes, Value, WORD, Word, many, maybe, one, some, value};
use crate::model::Contact;

pub(super) static MACHINE: Word = Word {
    name: "machine",
    doc: "A machine. Arms run forward from its datum: the rear axle, or the rear end of the tracks' ground contact.",
    args: &[value("id", Takes::Id(Named::Machine), "Its name in sheets.").needed()],
    children: &[
        maybe(&DESCRIBE),
        many(&AXLE),
        maybe(&WHEELBASE),
        maybe(&WEIGHT),
        maybe(&CG),
        maybe(&TRACKS),
        maybe(&TRACK_WIDTH_NODE),
        maybe(&CG_HEIGHT),
        maybe(&CG_LEFT),
        maybe(&CONTACT),
        one(&OUTLINE),
        maybe(&UNDERSIDE),
        many(&LASH_POINT),
        many(&WEIGHED_WITH),
    ],
    ..WORD
};

pub(super) static ATTACHMENT: Word = Word {
    name: "attachment",
    doc: "An attachment, in the frame of the machine it is on.",
    args: &[value("id", Takes::Id(Named::Attachment), "Its name in sheets.").needed()],
    children: &[
        maybe(&DESCRIBE),
        one(&WEIGHT),
        some(&ARM),
        maybe(&ATTACHED_OUTLINE),
        maybe(&UNDERSIDE),
        maybe(&LOWERS),
        many(&LASH_POINT),
    ],
    ..WORD
};

static AXLE: Word = Word {
    name: "axle",
    doc: "An axle of a wheeled machine, as weighed.",
    args: &[WHICH_END],
    props: &[
        value("weighed", weight(), "What it carries.").needed(),
        value("wheel-radius", length(0.02, 2.0), "Radius of its wheels."),
        value("driven", Takes::Flag, "Whether it drives."),
        value("braked", Takes::Flag, "Whether the parking brake acts on it."),
        TRACK_WIDTH,
    ],
    distinct: true,
    ..WORD
};

static WHEELBASE: Word = Word {
    name: "wheelbase",
    doc: "Between the front and the rear axle.",
    args: &[value("length", length(0.3, 12.0), "The distance.").needed()],
    ..WORD
};

static WEIGHT: Word =
    Word { name: "weight", doc: "What it weighs.", args: &[value("weight", piece(), "The weight.").needed()], ..WORD };

static CG: Word = Word {
    name: "cg",
    doc: "Where the centre of gravity lies.",
    props: &[
        value("arm", place(), "How far ahead of the datum.").needed(),
        value("height", HEIGHT, "How high above the ground it stands on."),
        value("left", ACROSS, "How far left of the centre line; negative on the right."),
    ],
    ..WORD
};

/// A height of a point above the ground.
const HEIGHT: Takes = length(0.0, 6.0);

/// A place across a machine.
const ACROSS: Takes = length(-5.0, 5.0);

static TRACKS: Word = Word {
    name: "tracks",
    doc: "The tracks of a tracked machine.",
    props: &[
        value("contact-length", length(0.1, 10.0), "Length of the ground contact."),
        value("gauge", length(0.1, 5.0), "Between the track centres."),
    ],
    ..WORD
};

static TRACK_WIDTH_NODE: Word = Word {
    name: "track-width",
    doc: "Between the wheel centres, where both axles have the same.",
    args: &[value("length", length(0.1, 5.0), "The distance.").needed()],
    ..WORD
};

static CG_HEIGHT: Word = Word {
    name: "cg-height",
    doc: "Height of the centre of gravity above the ground it stands on.",
    args: &[value("length", HEIGHT, "The height.").needed()],
    ..WORD
};

static CG_LEFT: Word = Word {
    name: "cg-left",
    doc: "How far left of the centre line the centre of gravity lies; negative on the right.",
    args: &[value("length", ACROSS, "The distance.").needed()],
    ..WORD
};

static CONTACT: Word = Word {
    name: "contact",
    doc: "What it stands on.",
    args: &[value("kind", Takes::choice::<Contact>(), "The kind.").needed()],
    ..WORD
};

const FRONT: Value = value("front", place(), "Foremost point ahead of the datum.");
const REAR: Value = value("rear", place(), "Rearmost point ahead of the datum, so mostly negative.");
const WIDTH: Value = value("width", length(0.05, 6.0), "Width.");
const TOP: Value = value("height", length(0.05, 6.0), "Height above the ground it stands on.");

static OUTLINE: Word = Word {
    name: "outline",
    doc: "The extremities without attachments.",
    props: &[FRONT.needed(), REAR.needed(), WIDTH, TOP],
    ..WORD
};

static ATTACHED_OUTLINE: Word = Word {
    name: "outline",
    doc: "The extremities beyond the machine's. An end that is not given keeps within the machine if the arm lies within it.",
    props: &[FRONT, REAR, WIDTH, TOP],
    ..WORD
};

static UNDERSIDE: Word =
    Word { name: "underside", doc: "The low points of the underside.", children: &[many(&POINT), many(&FLAT)], ..WORD };

/// How high a part of the underside is.
const CLEARANCE: Value = value("clearance", length(-1.0, 3.0), "How high above level ground.");

static POINT: Word = Word {
    name: "point",
    doc: "A low point.",
    args: &[value("name", Takes::Id(Named::Underside), "What it is.").needed()],
    props: &[value("arm", place(), "How far ahead of the datum."), CLEARANCE],
    distinct: true,
    ..WORD
};

static FLAT: Word = Word {
    name: "flat",
    doc: "A low stretch.",
    args: &[value("name", Takes::Id(Named::Underside), "What it is.").needed()],
    props: &[
        value("from", place(), "Its rear end ahead of the datum."),
        value("to", place(), "Its front end ahead of the datum."),
        CLEARANCE,
    ],
    distinct: true,
    ..WORD
};

static LASH_POINT: Word = Word {
    name: "lash-point",
    doc: "A place where a tie-down attaches.",
    args: &[value("id", Takes::Id(Named::LashPoint), "Its name on this machine or attachment.").needed()],
    props: &[
        value("arm", place(), "How far ahead of the datum."),
        value("left", ACROSS, "How far left of the centre line; negative on the right."),
        value("height", HEIGHT, "Height above the ground it stands on."),
        value("rating", rating(), "Its rating."),
    ],
    distinct: true,
    ..WORD
};

static WEIGHED_WITH: Word = Word {
    name: "weighed-with",
    doc: "An attachment that was on when the machine was weighed.",
    args: &[value("attachment", Takes::Ref(Named::Attachment), "Which.").needed()],
    distinct: true,
    ..WORD
};

static ARM: Word = Word {
    name: "arm",
    doc: "Where its centre of gravity lies: how far ahead of the machine's datum.",
    args: &[value("length", place(), "The distance.").needed()],
    props: &[value("for", Takes::Ref(Named::Machine), "The only machine it holds for.")],
    ..WORD
};

static LOWERS: Word = Word {
    name: "lowers",
    doc: "Whether it rides lowered.",
    args: &[value("lowered", Takes::Flag, "Whether it does.").needed()],
    ..WORD
};
