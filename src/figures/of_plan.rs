//! Figures of what a sheet plans for putting a machine aboard, and of the way onto the deck as the trailer gives it.

use super::climbing::{machine, planned, stands, way};
use super::figure::{Worth, entry, leaf, number, value};
use super::of_part::{gone, item};
use super::{Each, Figure, Known, Load, Measures, Reading};
use crate::model::{End, Ramp, Slot};
use crate::units::{Angle, Dual, Kind, Length, Share};

const MACHINE: &[Each] = &[Each::Machine];
const WEIGHT: Measures = Measures::Quantity(Kind::Mass);
const LENGTH: Measures = Measures::Quantity(Kind::Length);
const ANGLE: Measures = Measures::Quantity(Kind::Angle);

pub(super) static FIGURES: &[Figure] = &[
    entry(
        "loading.slope",
        "slope",
        MACHINE,
        Measures::Quantity(Kind::Share),
        "slope of the ground, positive when the truck points downhill",
        |load, _| {
            let (owner, word) = planned(load, "slope", "loading slope");
            number(load, &load.loading.slope, owner, word)
        },
    ),
    entry(
        "loading.sloping",
        "slope given",
        MACHINE,
        Measures::Flag,
        "whether the sheet says how the ground slopes",
        |load, _| value(!load.loading.slope.is_absent()),
    ),
    entry(
        "loading.chocks",
        "chocks",
        MACHINE,
        Measures::Flag,
        "whether the trailer's wheels are chocked",
        |load, _| {
            let (owner, word) = planned(load, "chocks", "loading chocks");
            leaf(&load.loading.chocks, owner, word)
        },
    ),
    entry(
        "loading.parking_brake",
        "truck's parking brake",
        MACHINE,
        Measures::Flag,
        "whether the truck's parking brake is set",
        |load, _| {
            let (owner, word) = planned(load, "parking-brake", "loading parking-brake");
            leaf(&load.loading.parking_brake, owner, word)
        },
    ),
    entry(
        "loading.stands",
        "stands under the rear",
        MACHINE,
        Measures::Flag,
        "whether stands are put under the trailer's rear",
        |load, _| value(stands(load, rear_edge(load)?)?.is_some()),
    ),
    entry(
        "loading.stands_rating",
        "rating of stands",
        MACHINE,
        WEIGHT,
        "what the stands under the rear bear together",
        |load, _| {
            let lacking = || {
                let (owner, word) = planned(load, "stands", "loading stands");
                owner.lacks(word)
            };
            let reading = value(stands(load, rear_edge(load)?)?.ok_or_else(lacking)?.rating?)?;
            let one = load.loading.stands.iter().find(|one| one.end.value() == Some(End::Rear));
            let written = one.and_then(|one| one.rating.entry());
            // Several bear together more than the entry says of each.
            let alone = written.is_some_and(|rating| rating.value.worth() == reading.value);
            let unit = written.and_then(|entry| entry.unit).filter(|_| alone);
            Ok(Reading { at: written.map(|entry| entry.at), unit, ..reading })
        },
    ),
    entry(
        "loading.bed_tilt",
        "bed tilt",
        MACHINE,
        ANGLE,
        "tilt of the bed while it is loaded; none where the sheet gives none",
        |load, _| match &load.loading.bed_tilt {
            Slot::Absent => value(Angle::ZERO),
            slot => number(load, slot, load.owner(), "bed-tilt"),
        },
    ),
    entry(
        "loading.foot_rise",
        "foot rise",
        MACHINE,
        LENGTH,
        "how much higher the ground at the ramp's foot is; none where the sheet gives none",
        |load, _| match &load.loading.foot_rise {
            Slot::Absent => value(Length::ZERO),
            slot => number(load, slot, load.owner(), "foot-rise"),
        },
    ),
    entry(
        "loading.by_ramp",
        "by a ramp",
        MACHINE,
        Measures::Flag,
        "whether it goes up a ramp, and not the tilted deck itself",
        |load, _| value(way(load)?.ramp.is_some()),
    ),
    entry("loading.ramp_length", "ramp length", MACHINE, LENGTH, "length of the ramp along its slope", |load, _| {
        way(load)?;
        let ramp = ramp(load)?;
        number(load, &ramp.length, &ramp.owner, "length")
    }),
    entry("loading.ramp_rating", "rating of each ramp", MACHINE, WEIGHT, "what each ramp is rated for", |load, _| {
        way(load)?;
        let ramp = ramp(load)?;
        number(load, &ramp.rating, &ramp.owner, "rating")
    }),
    entry(
        "loading.rise",
        "rise of the ramp",
        MACHINE,
        LENGTH,
        "how much higher the deck's rear edge stands than the ramp's foot",
        |load, _| value(way(load)?.rise()),
    ),
    entry(
        "loading.ramp_times",
        "times the rise of the ramp",
        MACHINE,
        Measures::Number,
        "how many times its rise the ramp is long",
        |load, _| {
            let way = way(load)?;
            let ramp = way.ramp.ok_or_else(|| gone(load, "ramp"))?;
            // A ramp that does not rise is as long as any number of times.
            value(if way.rise() > Length::ZERO { ramp / way.rise() } else { Dual::new(f64::MAX) })
        },
    ),
    entry("machine.tracked", "on tracks", MACHINE, Measures::Flag, "whether it runs on tracks", |load, subject| {
        let machine = machine(load, item(load, subject)?)?;
        if machine.tracks.is_none() && machine.front.is_none() && machine.rear.is_none() {
            return Err(machine.owner.lacks("tracks").into());
        }
        value(machine.tracks.is_some())
    }),
];

/// The ramp that the way up is over.
pub(super) fn ramp<'y>(load: &Load<'y>) -> Known<&'y Ramp> {
    let trailer = load.trailer.clone()?;
    Ok(trailer.ramp.as_ref().ok_or_else(|| trailer.owner.lacks("ramp"))?)
}

pub(super) fn rear_edge(load: &Load<'_>) -> Known<Length> {
    let deck = load.deck()?;
    let from = load.outlines.need(&deck.from, &deck.owner, "from")?;
    Ok(from + load.outlines.need(&deck.length, &deck.owner, "length")?)
}

impl Load<'_> {
    pub(super) fn loading_slope(&self) -> Known<Share> {
        let (owner, word) = planned(self, "slope", "loading slope");
        self.outlines.need(&self.loading.slope, owner, word)
    }
}
