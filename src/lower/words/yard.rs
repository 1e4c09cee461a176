//! Words of `yard.kdl`.

use super::sheet::{CARRIER, CONDITIONS, LOADING};
use super::{Named, Takes, WORD, Word, many, maybe, value};
use crate::finding::Level;

pub(super) static YARD: Word = Word {
    name: "yard",
    doc: "The settings of a yard; stands in yard.kdl alone.",
    args: &[value("name", Takes::Id(Named::Yard), "The yard's name.").needed()],
    children: &[
        maybe(&FOLLOW),
        maybe(&UNITS),
        maybe(&RULES_FROM),
        many(&SET),
        many(&REQUIRE_SEAL),
        maybe(&STATE),
        maybe(&CARRIER),
        maybe(&CONDITIONS),
        maybe(&LOADING),
    ],
    ..WORD
};

fn rule_sets(at: usize) -> Option<&'static str> {
    ["us", "eu", "none"].get(at).copied()
}

fn systems(at: usize) -> Option<&'static str> {
    ["us", "si"].get(at).copied()
}

fn levels(at: usize) -> Option<&'static str> {
    Level::ALL.get(at).map(|level| level.name())
}

static FOLLOW: Word = Word {
    name: "follow",
    doc: "The published rule sets that apply; `none` for a yard to which none does.",
    args: &[value("set", Takes::OneOf { noun: "a rule set", word: rule_sets }, "A rule set.").some()],
    ..WORD
};

static UNITS: Word = Word {
    name: "units",
    doc: "The units in which figures are shown; sheets may mix units freely.",
    args: &[value("system", Takes::OneOf { noun: "a system of units", word: systems }, "The system.").needed()],
    ..WORD
};

static RULES_FROM: Word = Word {
    name: "rules-from",
    doc: "Folders of company rules.",
    args: &[value("folder", Takes::Text, "A folder.").some()],
    ..WORD
};

static SET: Word = Word {
    name: "set",
    doc: "Moves a parameter of a rule, sets its level or turns it off.",
    args: &[value("rule", Takes::Ref(Named::Rule), "The rule.").needed()],
    props: &[
        value("level", Takes::OneOf { noun: "a level", word: levels }, "The level it is given."),
        value("off", Takes::Flag, "Whether it is turned off."),
    ],
    distinct: true,
    open: true,
    ..WORD
};

static REQUIRE_SEAL: Word = Word {
    name: "require-seal",
    doc: "Sheets of this folder must be sealed; noted, and not checked yet.",
    props: &[value("under", Takes::Text, "The folder.").needed()],
    ..WORD
};

static STATE: Word = Word {
    name: "state",
    doc: "The state whose road rules apply.",
    args: &[value("name", Takes::Text, "The state.").needed()],
    ..WORD
};
