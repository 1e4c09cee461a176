//! Figures of grip: what a machine needs to climb the ramp and to stay on a tilted deck, and what its tires or tracks give.

use std::sync::Arc;

use super::climbing::{machine, way};
use super::figure::{computed, entry, finite, value};
use super::of_part::{gone, item};
use super::touching::Pair;
use super::{Each, Figure, Known, Lack, Load, Measures, Reading, Subject};
use crate::model::{MachineAxle, Owner, Slot};
use crate::physics::{Acting, ClimbError, Stance, grip_needed, grip_on};
use crate::units::{Angle, Kind, Share};

const MACHINE: &[Each] = &[Each::Machine];
const ITEM: &[Each] = &[Each::Item];
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
        "item.deck_friction_low",
        "least grip of the deck",
        ITEM,
        SHARE,
        "least friction between what it stands on and the deck, in the state of the deck",
        |load, subject| Pair::on_deck(load, subject)?.least(),
    ),
    entry(
        "item.deck_friction_high",
        "most grip of the deck",
        ITEM,
        SHARE,
        "most friction between what it stands on and the deck, in the state of the deck",
        |load, subject| Pair::on_deck(load, subject)?.most(),
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

/// The steepest slope that the sweep takes for a way up, in degrees: on what is steeper nothing stands.
const STEEPEST: f64 = 60.0;
const UPRIGHT: f64 = 89.999;

fn finite_angle(load: &Load<'_>, angle: Angle) -> Known<Angle> {
    let error = match angle.si() {
        // Upright it is as long as it has to rise.
        degrees if degrees.is_nan() || degrees > UPRIGHT => ClimbError::RampTooShort,
        degrees if degrees > STEEPEST => ClimbError::RampTooSteep,
        _ => return Ok(angle),
    };
    let trailer = load.trailer.clone()?;
    let ramp = trailer.ramp.as_ref().ok_or_else(|| gone(load, "ramp"))?;
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
