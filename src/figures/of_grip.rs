//! Figures of grip: what a machine needs to climb the ramp and to stay on a tilted deck, and what its tires or tracks give.

use std::sync::Arc;

use super::climbing::{machine, way};
use super::figure::{computed, entry, finite, value};
use super::of_part::{gone, item};
use super::{Each, Figure, Known, Lack, Load, Measures, Reading, Subject};
use crate::lower::FRICTION_FILE;
use crate::model::{Contact, DeckCondition, Friction, MachineAxle, Owner, Slot, Surface};
use crate::physics::{Acting, Stance, grip_needed, grip_on};
use crate::units::{Angle, Kind, Share};

const MACHINE: &[Each] = &[Each::Machine];
const SHARE: Measures = Measures::Quantity(Kind::Share);

const SLOPE: &str = "tangent of the slope over the share of the wheels that act";

pub(super) static FIGURES: &[Figure] = &[
    computed(
        "loading.grip_needed",
        "grip needed to climb",
        MACHINE,
        SHARE,
        "friction that the wheels that drive, or the tracks, need to climb the ramp",
        SLOPE,
        |load, subject| {
            let slope = finite_angle(load, way(load)?.angle())?;
            needed(load, subject, slope, Purpose::Drive)
        },
    ),
    computed(
        "loading.tilt_grip_needed",
        "grip needed on the tilted deck",
        MACHINE,
        SHARE,
        "friction that the wheels that the parking brake holds, or the tracks, need to stay on the tilted deck",
        SLOPE,
        |load, subject| needed(load, subject, tilt(load)?, Purpose::Hold),
    ),
    entry(
        "loading.ramp_friction_low",
        "least grip of the ramp",
        MACHINE,
        SHARE,
        "least friction between what the machine stands on and the ramp, in the state of the deck",
        |load, subject| Pair::on_ramp(load, subject)?.least(),
    ),
    entry(
        "loading.ramp_friction_high",
        "most grip of the ramp",
        MACHINE,
        SHARE,
        "most friction between what the machine stands on and the ramp, in the state of the deck",
        |load, subject| Pair::on_ramp(load, subject)?.most(),
    ),
    entry(
        "loading.ramp_pair",
        "what grips the ramp",
        MACHINE,
        Measures::Text,
        "what touches on the ramp: rubber tires on wet tread plate",
        |load, subject| value(Pair::on_ramp(load, subject)?.spoken()),
    ),
    entry(
        "loading.ramp_friction_source",
        "source of the ramp's grip",
        MACHINE,
        Measures::Text,
        "where the friction on the ramp comes from",
        |load, subject| value(Pair::on_ramp(load, subject)?.source()?),
    ),
    entry(
        "loading.climb_verdict",
        "verdict on the climb",
        MACHINE,
        Measures::Text,
        "what the grip of the ramp comes to against what climbing needs",
        |load, subject| {
            let slope = finite_angle(load, way(load)?.angle())?;
            let needed = need(load, subject, slope, Purpose::Drive)?;
            value(Pair::on_ramp(load, subject)?.verdict(needed, "it slips", "it climbs")?)
        },
    ),
    entry(
        "loading.deck_friction_low",
        "least grip of the deck",
        MACHINE,
        SHARE,
        "least friction between what the machine stands on and the deck, in the state of the deck",
        |load, subject| Pair::on_deck(load, subject)?.least(),
    ),
    entry(
        "loading.deck_friction_high",
        "most grip of the deck",
        MACHINE,
        SHARE,
        "most friction between what the machine stands on and the deck, in the state of the deck",
        |load, subject| Pair::on_deck(load, subject)?.most(),
    ),
    entry(
        "loading.deck_pair",
        "what grips the deck",
        MACHINE,
        Measures::Text,
        "what touches on the deck: rubber tires on wet wood",
        |load, subject| value(Pair::on_deck(load, subject)?.spoken()),
    ),
    entry(
        "loading.deck_friction_range",
        "range of the deck's grip",
        MACHINE,
        Measures::Text,
        "the friction on the deck as a range",
        |load, subject| value(Pair::on_deck(load, subject)?.range()?),
    ),
    entry(
        "loading.deck_friction_source",
        "source of the deck's grip",
        MACHINE,
        Measures::Text,
        "where the friction on the deck comes from",
        |load, subject| value(Pair::on_deck(load, subject)?.source()?),
    ),
    entry(
        "loading.tilted",
        "tilted",
        MACHINE,
        Measures::Flag,
        "whether the bed is tilted while the load is put aboard",
        |load, _| value(tilt(load)? > Angle::ZERO),
    ),
    entry(
        "loading.tilt_verdict",
        "verdict on the tilt",
        MACHINE,
        Measures::Text,
        "what the grip of the deck comes to against what the tilt needs",
        |load, subject| {
            let needed = need(load, subject, tilt(load)?, Purpose::Hold)?;
            value(Pair::on_deck(load, subject)?.verdict(needed, "it slides", "it stays")?)
        },
    ),
];

/// What wheels are there for on a slope.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Purpose {
    /// To climb.
    Drive,
    /// To stay, parked.
    Hold,
}

impl Purpose {
    fn of(self, axle: &MachineAxle) -> (&Slot<bool>, &'static str) {
        match self {
            Self::Drive => (&axle.driven, "driven"),
            Self::Hold => (&axle.braked, "braked"),
        }
    }
}

fn finite_angle(load: &Load<'_>, angle: Angle) -> Known<Angle> {
    if angle.si().is_finite() {
        return Ok(angle);
    }
    let trailer = load.trailer.clone()?;
    let ramp = trailer.ramp.as_ref().ok_or_else(|| gone(load, "ramp"))?;
    let error = crate::physics::ClimbError::RampTooShort;
    let at = ramp.length.at().unwrap_or(ramp.owner.at);
    Err(Lack::Contradiction { at, owner: Arc::clone(&ramp.owner.path), why: error.to_string().into() })
}

/// How far the bed is tilted while the load is put aboard; a sheet that gives no tilt says that it is not.
fn tilt(load: &Load<'_>) -> Known<Angle> {
    let owner: &Owner = load.loading.owner.as_ref().unwrap_or_else(|| load.owner());
    load.outlines.or(&load.loading.bed_tilt, Angle::ZERO, owner, "bed-tilt")
}

fn needed(load: &Load<'_>, subject: Subject, slope: Angle, purpose: Purpose) -> Known<Reading> {
    finite(need(load, subject, slope, purpose)?, || gone(load, "machine"))
}

/// The friction that a machine needs on a slope that rises toward the truck.
fn need(load: &Load<'_>, subject: Subject, slope: Angle, purpose: Purpose) -> Known<Share> {
    let one = item(load, subject)?;
    let machine = machine(load, one)?;
    // On the level nothing is needed, whatever acts.
    if machine.tracks.is_some() || (purpose == Purpose::Hold && slope == Angle::ZERO) {
        return Ok(grip_on(slope));
    }
    let acting = acting(machine, purpose)?;
    if acting == Acting::All {
        return Ok(grip_on(slope));
    }
    let placed = one.placed.clone()?;
    let stance = Stance {
        wheelbase: load.outlines.need(&machine.wheelbase, &machine.owner, "wheelbase")?,
        ahead: placed.item.arm,
        height: load.outlines.need(&machine.cg_height, &machine.owner, "cg-height")?,
        facing: placed.facing,
    };
    grip_needed(&stance, acting, slope).ok_or_else(|| {
        let why = "on this slope it would tip over an axle before its wheels slip".into();
        Lack::NotKnown { at: machine.owner.at, owner: Arc::clone(&machine.owner.path), why }
    })
}

/// Which wheels of a machine act. An axle of which nothing is said does not, where the other one is said to.
fn acting(machine: &crate::model::Machine, purpose: Purpose) -> Known<Acting> {
    let acts = |axle: &Option<MachineAxle>, word: &'static str| -> Known<Option<bool>> {
        let Some(axle) = axle else { return Err(machine.owner.lacks(word).into()) };
        let (slot, word) = purpose.of(axle);
        match slot {
            Slot::Absent if !axle.owner.lost => Ok(None),
            slot => Ok(Some(slot.need(&axle.owner, word)?)),
        }
    };
    let (front, rear) = (acts(&machine.front, "axle \"front\"")?, acts(&machine.rear, "axle \"rear\"")?);
    match (front, rear) {
        (Some(true), Some(true)) => Ok(Acting::All),
        (Some(true), _) => Ok(Acting::Front),
        (_, Some(true)) => Ok(Acting::Rear),
        (Some(false), Some(false)) => {
            let why = match purpose {
                Purpose::Drive => "no axle drives: it does not climb by itself",
                Purpose::Hold => "no axle is braked: grip alone does not hold it",
            };
            let (at, owner) = (machine.owner.at, Arc::clone(&machine.owner.path));
            Err(Lack::NotKnown { at, owner, why: why.into() })
        }
        // Neither says yes, and one says nothing.
        (front, _) => {
            let silent = if front.is_none() { &machine.front } else { &machine.rear };
            let axle = silent.as_ref().ok_or_else(|| machine.owner.lacks("axle"))?;
            Err(axle.owner.lacks(purpose.of(axle).1).into())
        }
    }
}

/// What touches what, in which state, and what is published of it.
struct Pair<'y> {
    contact: Contact,
    surface: Surface,
    deck: DeckCondition,
    friction: &'y Friction,
}

impl<'y> Pair<'y> {
    /// What the machine stands on as it climbs: the ramp, or the tilted deck where there is none.
    fn on_ramp(load: &Load<'y>, subject: Subject) -> Known<Self> {
        let trailer = load.trailer.clone()?;
        match (&trailer.ramp, way(load)?.ramp) {
            (Some(ramp), Some(_)) => Self::of(load, subject, (&ramp.surface, &ramp.owner)),
            _ => Self::on_deck(load, subject),
        }
    }

    fn on_deck(load: &Load<'y>, subject: Subject) -> Known<Self> {
        let deck = load.deck()?;
        Self::of(load, subject, (&deck.surface, &deck.owner))
    }

    fn of(load: &Load<'y>, subject: Subject, (surface, owner): (&Slot<Surface>, &Owner)) -> Known<Self> {
        let machine = machine(load, item(load, subject)?)?;
        let contact = machine.contact.need(&machine.owner, "contact")?;
        let on = surface.need(owner, "surface")?;
        let deck = load.conditions.deck.need(&load.sheet.owner, "conditions deck")?;
        let friction = load.yard.friction(contact.into(), on, deck).ok_or_else(|| {
            let why = format!("no published value tells the grip of {}", spoken(contact, on, deck));
            let at = surface.at().unwrap_or(owner.at);
            Lack::NotKnown { at, owner: Arc::clone(&owner.path), why: why.into() }
        })?;
        Ok(Self { contact, surface: on, deck, friction })
    }

    fn spoken(&self) -> Arc<str> {
        spoken(self.contact, self.surface, self.deck).into()
    }

    /// The least of its range as a figure. A range enters as its ends, never as a spread.
    fn least(&self) -> Known<Reading> {
        self.entry(self.low()?, &self.friction.low)
    }

    fn most(&self) -> Known<Reading> {
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
    fn range(&self) -> Known<Arc<str>> {
        let (low, high) = (self.low()?, self.high()?);
        let shown = |share: Share| {
            let text = format!("{:.1}", share.si() * 100.0);
            format!("{} %", text.trim_end_matches('0').trim_end_matches('.'))
        };
        Ok(if low < high { format!("{} to {}", shown(low), shown(high)).into() } else { shown(low).into() })
    }

    /// Whose number it is, and how well it is known.
    fn source(&self) -> Known<Arc<str>> {
        let source = &self.friction.source;
        let source =
            if source.is_absent() { "this yard".into() } else { source.need(&self.friction.owner, "source")? };
        Ok(match self.friction.status.value() {
            Some(status) if !source.starts_with("tool default") => {
                format!("{source} ({})", crate::model::Choice::word(status)).into()
            }
            _ => source,
        })
    }

    /// What it gives, and what comes of that where this much is needed.
    fn verdict(&self, needed: Share, fails: &str, holds: &str) -> Known<Arc<str>> {
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

/// As a text for a person says it: `rubber tires on wet tread plate`.
fn spoken(contact: Contact, surface: Surface, deck: DeckCondition) -> String {
    let what = match contact {
        Contact::RubberTire => "rubber tires",
        Contact::RubberTrack => "rubber tracks",
        Contact::SteelTrack => "steel tracks",
    };
    let state = crate::model::Choice::word(deck);
    match surface {
        Surface::SmoothSteel => format!("{what} on {state} smooth steel"),
        Surface::TreadPlate => format!("{what} on {state} tread plate"),
        Surface::Wood => format!("{what} on {state} wood"),
        Surface::Aluminum => format!("{what} on {state} aluminum"),
        Surface::RubberMat => format!("{what} on a {state} rubber mat"),
    }
}
