//! What an item stands on, on what, and what is published of how well the one grips the other.

use std::sync::Arc;

use super::climbing::{machine, way};
use super::figure::value;
use super::of_part::item;
use super::{Known, Lack, Load, Reading, Subject};
use crate::lower::FRICTION_FILE;
use crate::model::{Choice, DeckCondition, Friction, ItemKind, Owner, Slot, Surface, Touching};
use crate::units::Share;

/// The friction between an item and the deck in the state of the deck: the least it can be counted on for and the most that
/// is published.
///
/// # Errors
/// What is missing to know it; that nothing is published for the pair; that the item does not stand on the deck.
pub(super) fn deck_friction(load: &Load<'_>, subject: Subject) -> Known<(Share, Share)> {
    let pair = Pair::on_deck(load, subject)?;
    Ok((pair.low()?, pair.high()?))
}

/// What touches what, in which state, and what is published of it.
pub(super) struct Pair<'y> {
    what: Touching,
    surface: Surface,
    deck: DeckCondition,
    friction: &'y Friction,
}

impl<'y> Pair<'y> {
    /// What the machine stands on as it climbs: the ramp, or the tilted deck where there is none.
    pub(super) fn on_ramp(load: &Load<'y>, subject: Subject) -> Known<Self> {
        let trailer = load.trailer.clone()?;
        match (&trailer.ramp, way(load)?.ramp) {
            (Some(ramp), Some(_)) => Self::of(load, subject, (&ramp.surface, &ramp.owner)),
            _ => Self::on_deck(load, subject),
        }
    }

    /// What an item stands on when it stands on the deck itself.
    pub(super) fn on_deck(load: &Load<'y>, subject: Subject) -> Known<Self> {
        let on_it = item(load, subject)?.item;
        if let Some(under) = &on_it.on {
            let why = format!("it stands on {}, and no published value tells how that grips it", under.value);
            return Err(unknown(&on_it.owner, why));
        }
        let deck = load.deck()?;
        Self::of(load, subject, (&deck.surface, &deck.owner))
    }

    fn of(load: &Load<'y>, subject: Subject, (surface, owner): (&Slot<Surface>, &Owner)) -> Known<Self> {
        let what = touching(load, subject)?;
        let on = surface.need(owner, "surface")?;
        let deck = load.conditions.deck.need(&load.sheet.owner, "conditions deck")?;
        let friction = load.yard.friction(what, on, deck).ok_or_else(|| {
            let why = format!("no published value tells the grip of {}", spoken(what, on, deck));
            let at = surface.at().unwrap_or(owner.at);
            Lack::NotKnown { at, owner: Arc::clone(&owner.path), why: why.into() }
        })?;
        Ok(Self { what, surface: on, deck, friction })
    }

    /// What touches what, as a text for a person says it.
    pub(super) fn spoken(&self) -> Arc<str> {
        spoken(self.what, self.surface, self.deck).into()
    }

    /// The least of its range as a figure. A range enters as its ends, never as a spread.
    pub(super) fn least(&self) -> Known<Reading> {
        self.entry(self.low()?, &self.friction.low)
    }

    /// The most of its range as a figure.
    pub(super) fn most(&self) -> Known<Reading> {
        self.entry(self.high()?, &self.friction.high)
    }

    /// A number with its entry, where the yard itself gives it.
    fn entry(&self, number: Share, slot: &Slot<Share>) -> Known<Reading> {
        let own = slot.entry().filter(|_| self.friction.owner.at.file != FRICTION_FILE);
        Ok(Reading { at: own.map(|entry| entry.at), unit: own.and_then(|entry| entry.unit), ..value(number)? })
    }

    fn low(&self) -> Known<Share> {
        Ok(self.friction.low.need(&self.friction.owner, "low")?)
    }

    fn high(&self) -> Known<Share> {
        Ok(self.friction.high.need(&self.friction.owner, "high")?)
    }

    /// `30 %`, or `50 % to 70 %`.
    pub(super) fn range(&self) -> Known<Arc<str>> {
        let (low, high) = (self.low()?, self.high()?);
        let shown = |share: Share| {
            let text = format!("{:.1}", share.si() * 100.0);
            format!("{} %", text.trim_end_matches('0').trim_end_matches('.'))
        };
        Ok(if low < high { format!("{} to {}", shown(low), shown(high)).into() } else { shown(low).into() })
    }

    /// Whose number it is, and how well it is known.
    pub(super) fn source(&self) -> Known<Arc<str>> {
        let source = &self.friction.source;
        let source =
            if source.is_absent() { "this yard".into() } else { source.need(&self.friction.owner, "source")? };
        Ok(match self.friction.status.value() {
            Some(status) if !source.starts_with("tool default") => {
                format!("{source} ({})", Choice::word(status)).into()
            }
            _ => source,
        })
    }

    /// What it gives, and what comes of that where this much is needed.
    pub(super) fn verdict(&self, needed: Share, fails: &str, holds: &str) -> Known<Arc<str>> {
        let comes = if needed > self.high()? {
            fails.to_owned()
        } else if needed > self.low()? {
            "where in that range it lies decides".to_owned()
        } else {
            holds.to_owned()
        };
        Ok(format!("{} give {}: {comes}", self.spoken(), self.range()?).into())
    }
}

fn unknown(owner: &Owner, why: String) -> Lack {
    Lack::NotKnown { at: owner.at, owner: Arc::clone(&owner.path), why: why.into() }
}

/// What an item touches the deck or the ramp with.
fn touching(load: &Load<'_>, subject: Subject) -> Known<Touching> {
    let one = item(load, subject)?;
    let owner = &one.item.owner;
    match &one.item.kind {
        ItemKind::Machine(_) => {
            let machine = machine(load, one)?;
            Ok(machine.contact.need(&machine.owner, "contact")?.into())
        }
        ItemKind::Cargo(cargo) => Ok(cargo.base.need(owner, "base")?.into()),
        ItemKind::Bulk(_) => Err(unknown(owner, "no published value tells the grip of loose material".to_owned())),
    }
}

/// As a text for a person says it: `rubber tires on wet tread plate`.
fn spoken(what: Touching, surface: Surface, deck: DeckCondition) -> String {
    let what = match what {
        Touching::RubberTire => "rubber tires",
        Touching::RubberTrack => "rubber tracks",
        Touching::SteelTrack => "steel tracks",
        Touching::Wood => "a wooden base",
        Touching::Steel => "a steel base",
        Touching::Plastic => "a plastic base",
        Touching::Rubber => "a rubber base",
    };
    let state = Choice::word(deck);
    match surface {
        Surface::SmoothSteel => format!("{what} on {state} smooth steel"),
        Surface::TreadPlate => format!("{what} on {state} tread plate"),
        Surface::Wood => format!("{what} on {state} wood"),
        Surface::Aluminum => format!("{what} on {state} aluminum"),
        Surface::RubberMat => format!("{what} on a {state} rubber mat"),
    }
}
