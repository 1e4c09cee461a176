//! What a figure is, and how a leaf of the model becomes one.

use super::{Each, Known, Lack, Load, Subject};
use crate::expr::{Type, Value};
use crate::model::{Choice, Owner, Slot};
use crate::text::Span;
use crate::units::{
    Angle, Density, Dual, Force, Kind, LANES, Length, Mass, Pressure, Quantity, Share, Speed, Stiffness, Volume,
};

/// What a figure measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measures {
    /// A quantity.
    Quantity(Kind),
    /// A plain number.
    Number,
    /// How many there are: a whole number.
    Count,
    /// One word of several.
    Text,
    /// Yes or no.
    Flag,
}

impl Measures {
    /// As conditions check it.
    #[must_use]
    pub const fn ty(self) -> Type {
        match self {
            Self::Quantity(kind) => Type::Number(kind.dim()),
            Self::Number | Self::Count => Type::Number(crate::units::Dim::NONE),
            Self::Text => Type::Text,
            Self::Flag => Type::Flag,
        }
    }

    /// The kind, when it is a quantity.
    #[must_use]
    pub const fn kind(self) -> Option<Kind> {
        match self {
            Self::Quantity(kind) => Some(kind),
            Self::Number | Self::Count | Self::Text | Self::Flag => None,
        }
    }

    /// What a list of names says of it.
    #[must_use]
    pub const fn noun(self) -> &'static str {
        match self {
            Self::Quantity(kind) => kind.noun(),
            Self::Number => "number",
            Self::Count => "count",
            Self::Text => "word",
            Self::Flag => "yes or no",
        }
    }
}

/// A figure's value, and where it is written when it is an entry.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// The value, in SI when it is a number.
    pub value: Value,
    /// Its derivatives along the entries that are varied ([`Load::varied`]), lane by lane.
    pub slopes: [f64; LANES],
    /// The entry.
    pub at: Option<Span>,
    /// The unit it was written in.
    pub unit: Option<&'static crate::units::Unit>,
    /// Why the value can be worse than this, where this is only the best that it can be.
    pub open: Option<Lack>,
}

/// A named figure: something that rules may ask of a load.
#[derive(Debug)]
pub struct Figure {
    /// Its name in conditions.
    pub name: &'static str,
    /// How a text for a person names it beside its subject: `tongue weight` of a trailer.
    pub noun: &'static str,
    /// The subjects at which it is there; none means every load has it.
    pub of: &'static [Each],
    /// What it measures.
    pub measures: Measures,
    /// What it is, in one line.
    pub doc: &'static str,
    /// Where its formula comes from; empty for an entry.
    pub source: &'static str,
    /// Whether `weigh` shows it.
    pub weighed: bool,
    /// Reads it.
    pub(super) read: fn(&Load<'_>, Subject) -> Known<Reading>,
}

impl Figure {
    /// Its value for a subject of a load.
    ///
    /// # Errors
    /// What is missing to know it.
    pub fn of(&self, load: &Load<'_>, subject: Subject) -> Known<Reading> {
        // A machine's way up and an item's ties are asked by many rules, and each asks much of them.
        let costly = self.name.starts_with("loading.") || self.name.starts_with("ties.");
        if costly { load.kept.of(self, subject, || (self.read)(load, subject)) } else { (self.read)(load, subject) }
    }

    /// Whether it says anything about a load of this yard: what a published rule set alone counts says nothing where the yard
    /// does not follow it.
    #[must_use]
    pub fn is_asked(&self, load: &Load<'_>) -> bool {
        !self.name.starts_with("lashings.") || load.yard.settings.follow.iter().any(|set| &*set.value == "eu")
    }

    /// How results write it: `trailer.axle[1].load`.
    #[must_use]
    pub fn result_name(&self, load: &Load<'_>, subject: Subject) -> String {
        if self.of.is_empty() {
            return self.name.to_owned();
        }
        let own = self.name.split_once('.').map_or(self.name, |(_, own)| own);
        match subject.path(load) {
            Some(path) if self.name.starts_with("ties.") => path.replacen("item[", "tie[", 1) + "." + own,
            Some(path) if self.name.starts_with("loading.") => path.replacen("item[", "loading[", 1) + "." + own,
            Some(path) if self.of.contains(&Each::Wheel) => format!("{path}.wheel.{own}"),
            Some(path) => format!("{path}.{own}"),
            None => self.name.to_owned(),
        }
    }

    /// What it is a figure of, as a text for a person names it: `trailer sled-20`, `sled-20's axle 1`.
    #[must_use]
    pub fn whose(&self, load: &Load<'_>, subject: Subject) -> String {
        if subject != Subject::Whole {
            return subject.spoken(load);
        }
        let truck = || load.truck.as_ref().map_or("?", |truck| &*truck.id.value);
        let trailer = || load.trailer.as_ref().map_or("?", |trailer| &*trailer.id.value);
        match self.name.split('.').next() {
            Some("truck") => format!("truck {}", truck()),
            Some("hitch") => format!("{}'s hitch", truck()),
            Some("trailer") => format!("trailer {}", trailer()),
            Some("coupler") => format!("{}'s coupler", trailer()),
            Some("chains") => format!("{}'s safety chains", trailer()),
            Some("deck") => format!("{}'s deck", trailer()),
            Some("combination" | "coupling") => "truck and trailer".to_owned(),
            Some("carrier") => "the carrier".to_owned(),
            Some("conditions") => "the way".to_owned(),
            _ => subject.spoken(load),
        }
    }
}

/// A figure that is an entry of the sheet.
pub(super) const fn entry(
    name: &'static str,
    noun: &'static str,
    of: &'static [Each],
    measures: Measures,
    doc: &'static str,
    read: fn(&Load<'_>, Subject) -> Known<Reading>,
) -> Figure {
    Figure { name, noun, of, measures, doc, source: "", weighed: false, read }
}

/// A figure that is computed, and shown by `weigh`.
pub(super) const fn computed(
    name: &'static str,
    noun: &'static str,
    of: &'static [Each],
    measures: Measures,
    doc: &'static str,
    source: &'static str,
    read: fn(&Load<'_>, Subject) -> Known<Reading>,
) -> Figure {
    Figure { name, noun, of, measures, doc, source, weighed: true, read }
}

/// What can be a figure's value.
pub(super) trait Worth {
    fn worth(self) -> Value;
    fn slopes(&self) -> [f64; LANES] {
        [0.0; LANES]
    }
}

macro_rules! quantity_worth {
    ($($name:ident),+) => {
        $(impl Worth for $name {
            fn worth(self) -> Value {
                Value::Number(Quantity::si(self))
            }
            fn slopes(&self) -> [f64; LANES] {
                Quantity::slopes(*self)
            }
        })+
    };
}

quantity_worth!(Mass, Force, Length, Angle, Share, Speed, Pressure, Volume, Density, Stiffness);

/// A plain number with its slopes.
impl Worth for Dual {
    fn worth(self) -> Value {
        Value::Number(self.value())
    }
    fn slopes(&self) -> [f64; LANES] {
        Dual::slopes(*self)
    }
}

impl Worth for bool {
    fn worth(self) -> Value {
        Value::Flag(self)
    }
}

impl Worth for u32 {
    fn worth(self) -> Value {
        Value::Number(f64::from(self))
    }
}

impl Worth for std::sync::Arc<str> {
    fn worth(self) -> Value {
        Value::Text(self)
    }
}

macro_rules! choice_worth {
    ($($name:ident),+) => {
        $(impl Worth for crate::model::$name {
            fn worth(self) -> Value {
                Value::Text(self.word().into())
            }
        })+
    };
}

choice_worth!(
    Brakes,
    CargoBase,
    Contact,
    CouplerKind,
    DeckCondition,
    Facing,
    HitchKind,
    Moisture,
    Stands,
    Surface,
    Suspension,
    TieKind,
    TireKind
);

/// A leaf as a reading.
pub(super) fn leaf<T: Worth + Clone>(slot: &Slot<T>, owner: &Owner, word: &'static str) -> Known<Reading> {
    let value = slot.need(owner, word)?;
    let entry = slot.entry();
    let (at, unit) = (entry.map(|entry| entry.at), entry.and_then(|entry| entry.unit));
    Ok(Reading { slopes: value.slopes(), value: value.worth(), at, unit, open: None })
}

/// A leaf that is a quantity.
pub(super) fn number<T: Worth + Quantity>(
    load: &Load<'_>,
    slot: &Slot<T>,
    owner: &Owner,
    word: &'static str,
) -> Known<Reading> {
    let entry = slot.entry();
    let (at, unit) = (entry.map(|entry| entry.at), entry.and_then(|entry| entry.unit));
    Ok(Reading { at, unit, ..value(load.outlines.peek(slot, owner, word)?)? })
}

/// A computed value as a reading.
#[expect(clippy::unnecessary_wraps, reason = "every reader returns a Known, and this ends most of them")]
pub(super) fn value<T: Worth>(value: T) -> Known<Reading> {
    Ok(Reading { slopes: value.slopes(), value: value.worth(), at: None, unit: None, open: None })
}

/// A computed value that is no finite number: nothing is known of it.
pub(super) fn finite<T: Worth + Quantity>(what: T, lack: impl FnOnce() -> Lack) -> Known<Reading> {
    if Quantity::si(what).is_finite() { value(what) } else { Err(lack()) }
}
