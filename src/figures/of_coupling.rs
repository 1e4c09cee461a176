//! Figures of a coupling by UN R55: what it must be made for, and what its plates say.

use super::figure::{Worth, computed, entry, number, value};
use super::of_part::gone;
use super::{Each, Figure, Known, Load, Measures, Reading};
use crate::model::{Coupler, Hitch, HitchKind, Slot};
use crate::physics::{RearSuspension, d_c_value, d_value, d_value_semi, v_value};
use crate::units::{Force, Kind, Length, Mass, Quantity};

const ALL: &[Each] = &[];
const WEIGHT: Measures = Measures::Quantity(Kind::Mass);
const FORCE: Measures = Measures::Quantity(Kind::Force);

const R55: &str = "UN R55, as makers' data sheets give it";

pub(super) static FIGURES: &[Figure] = &[
    computed(
        "coupling.d",
        "D-value needed",
        ALL,
        FORCE,
        "the D-value that this combination asks for",
        R55,
        |load, _| {
            let (towing, trailer) = (truck_most(load)?, trailer_most(load)?);
            let d = if on_wheel(load)? {
                let pin = load.still.as_ref().map_err(Clone::clone)?.loads.tongue;
                let plate = s_plate(load)?.unwrap_or(Mass::ZERO);
                d_value_semi(towing, trailer, pin.max(plate))
            } else {
                d_value(towing, trailer)
            };
            force(load, d)
        },
    ),
    computed(
        "coupling.dc",
        "Dc needed",
        ALL,
        FORCE,
        "the D_c that this combination with a centre-axle trailer asks for",
        R55,
        |load, _| {
            let pin = s_plate(load)?.unwrap_or(Mass::ZERO);
            force(load, d_c_value(truck_most(load)?, trailer_most(load)? - pin))
        },
    ),
    computed(
        "coupling.v",
        "V needed",
        ALL,
        FORCE,
        "the V that this combination with a centre-axle trailer asks for, the truck's rear axle without air springs",
        R55,
        |load, _| {
            let pin = s_plate(load)?.unwrap_or(Mass::ZERO);
            let deck = load.deck()?;
            let area = load.outlines.need(&deck.length, &deck.owner, "length")?;
            let axles = load.trailer_axles();
            let stations = axles.iter().map(|axle| load.reads.need(&axle.at, &axle.owner, "at"));
            let sum: Length = stations.collect::<Known<Vec<_>>>()?.into_iter().sum();
            let middle = sum / f64::from(u32::try_from(axles.len()).unwrap_or(u32::MAX));
            force(load, v_value(RearSuspension::Other, area, middle, trailer_most(load)? - pin))
        },
    ),
    entry(
        "coupling.on_wheel",
        "over the truck's axle",
        ALL,
        Measures::Flag,
        "whether the trailer rests on the truck as a semi-trailer: fifth wheel or gooseneck",
        |load, _| value(on_wheel(load)?),
    ),
    entry(
        "trailer.class_mass",
        "mass that sets its class",
        ALL,
        WEIGHT,
        "the trailer's GVWR less the S value of its coupler's plate, where that is given",
        |load, _| value(trailer_most(load)? - s_plate(load)?.unwrap_or(Mass::ZERO)),
    ),
    entry("hitch.s_value", "S value", ALL, WEIGHT, "largest static vertical load by the truck's plate", |load, _| {
        of_hitch(load, |hitch| &hitch.s_value, "s-value")
    }),
    entry("hitch.d_value", "D-value", ALL, FORCE, "D-value by the truck's plate", |load, _| {
        of_hitch(load, |hitch| &hitch.d_value, "d-value")
    }),
    entry("hitch.dc_value", "Dc", ALL, FORCE, "D_c by the truck's plate", |load, _| {
        of_hitch(load, |hitch| &hitch.dc_value, "dc-value")
    }),
    entry("hitch.v_value", "V", ALL, FORCE, "V by the truck's plate", |load, _| {
        of_hitch(load, |hitch| &hitch.v_value, "v-value")
    }),
    entry(
        "coupler.s_value",
        "S value",
        ALL,
        WEIGHT,
        "largest static vertical load by the coupler's plate",
        |load, _| of_coupler(load, |coupler| &coupler.s_value, "s-value"),
    ),
    entry("coupler.d_value", "D-value", ALL, FORCE, "D-value by the coupler's plate", |load, _| {
        of_coupler(load, |coupler| &coupler.d_value, "d-value")
    }),
    entry("coupler.dc_value", "Dc", ALL, FORCE, "D_c by the coupler's plate", |load, _| {
        of_coupler(load, |coupler| &coupler.dc_value, "dc-value")
    }),
    entry("coupler.v_value", "V", ALL, FORCE, "V by the coupler's plate", |load, _| {
        of_coupler(load, |coupler| &coupler.v_value, "v-value")
    }),
];

/// An entry of the truck's plate.
fn of_hitch<T: Quantity + Worth>(load: &Load<'_>, of: fn(&Hitch) -> &Slot<T>, word: &'static str) -> Known<Reading> {
    let hitch = load.hitch()?;
    number(load, of(hitch), &hitch.owner, word)
}

/// An entry of the coupler's plate.
fn of_coupler<T: Quantity + Worth>(
    load: &Load<'_>,
    of: fn(&Coupler) -> &Slot<T>,
    word: &'static str,
) -> Known<Reading> {
    let coupler = load.coupler()?;
    number(load, of(coupler), &coupler.owner, word)
}

/// The truck's largest permissible mass: the regulation counts plates, not what a load happens to weigh.
fn truck_most(load: &Load<'_>) -> Known<Mass> {
    let truck = load.truck.clone()?;
    load.outlines.need(&truck.gvwr, &truck.owner, "gvwr")
}

/// The trailer's largest permissible mass.
fn trailer_most(load: &Load<'_>) -> Known<Mass> {
    let trailer = load.trailer.clone()?;
    load.outlines.need(&trailer.gvwr, &trailer.owner, "gvwr")
}

/// The S value of the coupler's plate, where it is given.
fn s_plate(load: &Load<'_>) -> Known<Option<Mass>> {
    let coupler = load.coupler()?;
    load.outlines.given(&coupler.s_value, &coupler.owner, "s-value")
}

fn on_wheel(load: &Load<'_>) -> Known<bool> {
    let hitch = load.hitch()?;
    let kind = hitch.kind.need(&hitch.owner, "kind")?;
    Ok(matches!(kind, HitchKind::Gooseneck | HitchKind::FifthWheel))
}

fn force(load: &Load<'_>, needed: Option<Force>) -> Known<Reading> {
    value(needed.ok_or_else(|| gone(load, "gvwr"))?)
}
