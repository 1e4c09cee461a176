//! What a value may be.

use crate::model::Choice;
use crate::units::Kind;

/// What a value may be.
#[derive(Clone, Copy, Debug)]
pub enum Takes {
    /// A quantity with its unit, within these bounds in the SI unit of its kind.
    Quantity {
        /// What it measures.
        kind: Kind,
        /// The least that can be meant.
        least: f64,
        /// The most that can be meant.
        most: f64,
        /// It is a rating or another limit, which has no spread.
        limit: bool,
    },
    /// How far the quantities of a node can be off.
    Spread,
    /// A speed, or the speed symbol of a tire.
    SpeedOrSymbol,
    /// A whole number without unit.
    Count {
        /// The least.
        least: u32,
        /// The most.
        most: u32,
    },
    /// A load index: a whole number, or two as text (`"121/118"`).
    LoadIndex,
    /// A coefficient of friction: a plain number, or a share.
    Coefficient,
    /// A plain number or a quantity of any kind.
    Number,
    /// `#true` or `#false`.
    Flag,
    /// Any text but an empty one.
    Text,
    /// A day, as `YYYY-MM-DD`.
    Date,
    /// A name that this node defines.
    Id(Named),
    /// The name of something that stands elsewhere.
    Ref(Named),
    /// One of these words.
    OneOf {
        /// What a message calls it.
        noun: &'static str,
        /// The word with this number.
        word: fn(usize) -> Option<&'static str>,
    },
}

/// What a name can be the name of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Named {
    /// A yard.
    Yard,
    /// A truck.
    Truck,
    /// A trailer.
    Trailer,
    /// A machine.
    Machine,
    /// An attachment.
    Attachment,
    /// A bulk material.
    Material,
    /// A tie-down.
    Tiedown,
    /// A sheet.
    Sheet,
    /// A leg of a sheet.
    Leg,
    /// An anchor of a trailer.
    Anchor,
    /// A lash point of a machine or attachment.
    LashPoint,
    /// A lash point, or an anchor for a tie-down that goes over the top.
    LashPointOrAnchor,
    /// A part of an underside.
    Underside,
    /// Something aboard.
    Item,
    /// A gauge or scale.
    Gauge,
    /// A rule.
    Rule,
}

impl Named {
    /// What a message calls it.
    #[must_use]
    pub const fn noun(self) -> &'static str {
        match self {
            Self::Yard => "yard",
            Self::Truck => "truck",
            Self::Trailer => "trailer",
            Self::Machine => "machine",
            Self::Attachment => "attachment",
            Self::Material => "material",
            Self::Tiedown => "tie-down",
            Self::Sheet => "sheet",
            Self::Leg => "leg",
            Self::Anchor => "anchor",
            Self::LashPoint => "lash point",
            Self::LashPointOrAnchor => "lash point or anchor",
            Self::Underside => "part of the underside",
            Self::Item => "item",
            Self::Gauge => "gauge",
            Self::Rule => "rule",
        }
    }
}

fn word_of<C: Choice>(at: usize) -> Option<&'static str> {
    C::ALL.get(at).map(|choice| choice.word())
}

impl Takes {
    /// One of the words of a choice.
    pub(super) const fn choice<C: Choice>() -> Self {
        Self::OneOf { noun: C::NOUN, word: word_of::<C> }
    }

    /// The same under another name.
    pub(super) const fn choice_called<C: Choice>(noun: &'static str) -> Self {
        Self::OneOf { noun, word: word_of::<C> }
    }

    /// The kind of quantity it is always of.
    #[must_use]
    pub const fn kind(self) -> Option<Kind> {
        match self {
            Self::Quantity { kind, .. } => Some(kind),
            Self::SpeedOrSymbol => Some(Kind::Speed),
            _ => None,
        }
    }

    /// The words of which it takes one.
    pub fn words(self) -> impl Iterator<Item = &'static str> {
        let word = match self {
            Self::OneOf { word, .. } => Some(word),
            _ => None,
        };
        (0..).map_while(move |at| word.and_then(|word| word(at)))
    }

    /// Whether it is a name of something.
    #[must_use]
    pub const fn names(self) -> bool {
        matches!(self, Self::Id(_) | Self::Ref(_))
    }
}

/// A weight on an axle, a tongue or of a load, in kg: up to 50 t, far beyond the outfits this is for.
pub(super) const fn weight() -> Takes {
    Takes::Quantity { kind: Kind::Mass, least: 1.0, most: 50_000.0, limit: false }
}

/// A weight of a piece of cargo or an attachment, in kg: it may be a light one.
pub(super) const fn piece() -> Takes {
    Takes::Quantity { kind: Kind::Mass, least: 0.01, most: 50_000.0, limit: false }
}

/// A weight that may be small, nothing or even upward, as a tongue's.
pub(super) const fn any_weight() -> Takes {
    Takes::Quantity { kind: Kind::Mass, least: -20_000.0, most: 50_000.0, limit: false }
}

/// A rating as a weight, in kg.
pub(super) const fn rating() -> Takes {
    Takes::Quantity { kind: Kind::Mass, least: 1.0, most: 200_000.0, limit: true }
}

/// A rating as a force, in N.
pub(super) const fn force() -> Takes {
    Takes::Quantity { kind: Kind::Force, least: 1.0, most: 2.0e6, limit: true }
}

/// A length of something, in m.
pub(super) const fn length(least: f64, most: f64) -> Takes {
    Takes::Quantity { kind: Kind::Length, least, most, limit: false }
}

/// A place along an axis, which may be negative, in m.
pub(super) const fn place() -> Takes {
    length(-30.0, 30.0)
}

/// A share or slope.
pub(super) const fn share(least: f64, most: f64) -> Takes {
    Takes::Quantity { kind: Kind::Share, least, most, limit: false }
}

/// A quantity of another kind, in its SI unit.
pub(super) const fn of(kind: Kind, least: f64, most: f64) -> Takes {
    Takes::Quantity { kind, least, most, limit: false }
}

/// A whole number from 1.
pub(super) const fn count(most: u32) -> Takes {
    Takes::Count { least: 1, most }
}

/// A count that may be none at all.
pub(super) const fn count_or_none(most: u32) -> Takes {
    Takes::Count { least: 0, most }
}
