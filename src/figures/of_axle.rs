//! Figures of an axle and of the wheels on its heavier side.

use std::sync::Arc;

use super::figure::{computed, entry, number, value};
use super::of_part::gone;
use super::{AxleRef, Each, Figure, Known, Lack, Load, Measures, Reading, Subject};
use crate::model::{LoadIndex, Missing, TireKind, Tires};
use crate::physics::{self, AtPressure, LoadIndexes, Sharing, TireCapacity, TireRating, WheelTires};
use crate::units::{Kind, Mass, Speed};

const AXLE: &[Each] = &[Each::TruckAxle, Each::TrailerAxle];
const WHEEL: &[Each] = &[Each::Wheel];
const WEIGHT: Measures = Measures::Quantity(Kind::Mass);

const SHARING: &str = "equalizers share equally; independent axles by their spring rates and the trailer's pitch";
const TIRES: &str = "49 CFR 571.110 and 571.120 S5.1.2 for passenger tires; load index by ISO 4000-1; below full \
                     pressure (p/pmax)^0.7, from memory: an estimate for LT tires, a lower bound for ST";

/// The speed of an ST tire without a mark of its own: 65 mph.
/// Source: `../shared/reference/towing-and-statics.md` 8.3 (secondary).
const ST_SPEED: Speed = Speed::new(65.0 * 1609.344 / 3600.0);

pub(super) static FIGURES: &[Figure] = &[
    computed("axle.load", "load", AXLE, WEIGHT, "what the axle carries", SHARING, |load, subject| {
        let axle = axle_of(subject, load)?;
        Ok(Reading { open: shared_for_want(load, axle), ..value(axle_load(load, axle)?)? })
    }),
    entry("axle.rating", "rating", AXLE, WEIGHT, "the axle's rating (GAWR)", |load, subject| {
        match axle_of(subject, load)? {
            AxleRef::Truck(end) => {
                let axle = load.truck_axle(end)?;
                number(load, &axle.rating, &axle.owner, "rating")
            }
            AxleRef::Trailer(at) => {
                let axle = load.trailer_axles().get(at).ok_or_else(|| gone(load, "axle"))?;
                number(load, &axle.rating, &axle.owner, "rating")
            }
        }
    }),
    entry(
        "axle.tires_rating",
        "rating of all tires",
        AXLE,
        WEIGHT,
        "all tires of the axle at full pressure",
        |load, subject| {
            let tires = tires(load, axle_of(subject, load)?)?;
            value(capacity(load, tires)?.full * 2.0)
        },
    ),
    computed(
        "axle.tire_load",
        "tire, heavier side",
        AXLE,
        WEIGHT,
        "each tire on the axle's heavier side",
        SHARING,
        |load, subject| {
            let axle = axle_of(subject, load)?;
            let each_side = per_side(tires(load, axle)?)?;
            let (side, open) = side_load(load, axle)?;
            Ok(Reading { open, ..value(side / f64::from(each_side))? })
        },
    ),
    Figure {
        name: "axle.lighter_side",
        noun: "lighter side",
        of: AXLE,
        measures: WEIGHT,
        doc: "the axle's lighter side",
        source: SHARING,
        weighed: false,
        read: |load, subject| {
            let axle = axle_of(subject, load)?;
            let whole = axle_load(load, axle)?;
            let AxleRef::Trailer(at) = axle else { return value(whole / 2.0) };
            let sides = load.rig.as_ref().map_err(Clone::clone)?.sides.as_ref().map_err(Clone::clone)?;
            let side = sides.get(at).ok_or_else(|| gone(load, "axle"))?;
            Ok(Reading { open: shared_for_want(load, axle), ..value(side.left.min(side.right))? })
        },
    },
    computed("wheel.load", "heavier side", WHEEL, WEIGHT, "the axle's heavier side", SHARING, |load, subject| {
        let (side, open) = side_load(load, axle_of(subject, load)?)?;
        Ok(Reading { open, ..value(side)? })
    }),
    entry(
        "wheel.rating",
        "tire rating, one side",
        WHEEL,
        WEIGHT,
        "that side's tires at full pressure",
        |load, subject| value(capacity(load, tires(load, axle_of(subject, load)?)?)?.full),
    ),
    Figure {
        name: "wheel.capacity",
        noun: "tire capacity, one side",
        of: WHEEL,
        measures: WEIGHT,
        doc: "that side's tires at the pressure they have",
        source: TIRES,
        weighed: false,
        read: |load, subject| {
            let tires = tires(load, axle_of(subject, load)?)?;
            match capacity(load, tires)?.at_pressure {
                AtPressure::Exact(mass) | AtPressure::Estimate(mass) | AtPressure::AtLeast(mass) => value(mass),
                AtPressure::CannotTell(physics::CapacityUnknown::NoMaxPressure) => {
                    Err(tires.owner.lacks("max-pressure").into())
                }
                AtPressure::CannotTell(physics::CapacityUnknown::NoFormula) => {
                    if tires.kind.is_absent() {
                        return Err(tires.owner.lacks("kind").into());
                    }
                    Err(Lack::NotKnown {
                        at: tires.owner.at,
                        owner: tires.owner.path.clone(),
                        why: "no published formula says what a passenger tire carries below its rated pressure".into(),
                    })
                }
            }
        },
    },
    entry(
        "wheel.speed",
        "tire speed",
        WHEEL,
        Measures::Quantity(Kind::Speed),
        "the speed the tires are made for",
        |load, subject| {
            let tires = tires(load, axle_of(subject, load)?)?;
            let st = tires.kind.value() == Some(TireKind::St);
            if st && tires.speed.is_absent() {
                value(ST_SPEED)
            } else {
                number(load, &tires.speed, &tires.owner, "speed")
            }
        },
    ),
];

fn axle_of(subject: Subject, load: &Load<'_>) -> Known<AxleRef> {
    match subject {
        Subject::Axle(axle) => Ok(axle),
        _ => Err(gone(load, "axle")),
    }
}

pub(super) fn axle_load(load: &Load<'_>, axle: AxleRef) -> Known<Mass> {
    let loads = &load.rig.as_ref().map_err(Clone::clone)?.loads;
    match axle {
        AxleRef::Truck(crate::model::End::Front) => Ok(loads.truck.front),
        AxleRef::Truck(crate::model::End::Rear) => Ok(loads.truck.rear),
        AxleRef::Trailer(at) => {
            if let Some(lack) = load.still.as_ref().ok().and_then(|still| still.sharing_lacks.clone()) {
                return Err(lack);
            }
            loads.trailer.axles.get(at).copied().ok_or_else(|| gone(load, "axle"))
        }
    }
}

/// Why the share of a trailer's axle can be more than what it is taken for.
pub(super) fn shared_for_want(load: &Load<'_>, axle: AxleRef) -> Option<Lack> {
    let sharing = load.rig.as_ref().ok()?.loads.trailer.sharing;
    if !matches!(axle, AxleRef::Trailer(_)) || sharing != Sharing::SharedEquallyNotKnown {
        return None;
    }
    let trailer = load.trailer.as_ref().ok()?;
    Some(Lack::NotKnown {
        at: trailer.suspension.at().unwrap_or(trailer.owner.at),
        owner: Arc::clone(&trailer.owner.path),
        why: "its axles are taken to share equally for want of rate, level-at or hitch height".into(),
    })
}

/// The heavier side of an axle, and why it can be more. What stands in the truck is taken as standing on its centre line.
/// Where the sides are not known the heavier one carries half of the axle at the least.
fn side_load(load: &Load<'_>, axle: AxleRef) -> Known<(Mass, Option<Lack>)> {
    let whole = axle_load(load, axle)?;
    let AxleRef::Trailer(at) = axle else { return Ok((whole / 2.0, None)) };
    match &load.rig.as_ref().map_err(Clone::clone)?.sides {
        Ok(sides) => {
            let side = sides.get(at).ok_or_else(|| gone(load, "axle"))?;
            Ok((side.left.max(side.right), shared_for_want(load, axle)))
        }
        Err(lack) if !lack.is_silent() => Ok((whole / 2.0, Some(lack.clone()))),
        Err(lack) => Err(lack.clone()),
    }
}

pub(super) fn tires<'y>(load: &Load<'y>, axle: AxleRef) -> Known<&'y Tires> {
    let (tires, owner) = match axle {
        AxleRef::Truck(end) => {
            let axle = load.truck_axle(end)?;
            (&axle.tires, &axle.owner)
        }
        AxleRef::Trailer(at) => {
            let axle = load.trailer_axles().get(at).ok_or_else(|| gone(load, "axle"))?;
            (&axle.tires, &axle.owner)
        }
    };
    tires.as_ref().ok_or_else(|| owner.lacks("tires").into())
}

/// How many tires stand on each side.
fn per_side(tires: &Tires) -> Known<u32> {
    let owner = &tires.owner;
    let count = tires.count.need(owner, "count")?;
    if !count.is_multiple_of(2) {
        // Reported where it is written: so many tires cannot stand half on each side.
        return Err(Missing { broken: true, ..owner.lacks("count") }.into());
    }
    Ok(count / 2)
}

/// What one side's tires carry.
fn capacity(load: &Load<'_>, tires: &Tires) -> Known<TireCapacity> {
    let owner = &tires.owner;
    let count = per_side(tires)?;
    let rating = match load.outlines.given(&tires.rating, owner, "rating")? {
        Some(each) => TireRating::Each(each),
        None if tires.load_index.is_absent() => return Err(owner.lacks("rating").into()),
        None => {
            let LoadIndex { single, dual } = tires.load_index.need(owner, "load-index")?;
            TireRating::Index(LoadIndexes { single, dual })
        }
    };
    let kind = match &tires.kind {
        crate::model::Slot::Absent if !owner.lost => physics::TireKind::Other,
        slot => match slot.need(owner, "kind")? {
            TireKind::P => physics::TireKind::Passenger,
            TireKind::Lt => physics::TireKind::LightTruck,
            TireKind::St => physics::TireKind::Trailer,
        },
    };
    let tires = WheelTires {
        count,
        rating,
        dual: tires.dual.or(count >= 2, owner, "dual")?,
        kind,
        pressure: load.outlines.given(&tires.pressure, owner, "pressure")?,
        max_pressure: load.outlines.given(&tires.max_pressure, owner, "max-pressure")?,
    };
    let capacity = tires.capacity().map_err(|error| Lack::contradiction(owner, error))?;
    capacity.ok_or_else(|| Lack::Contradiction {
        at: owner.at,
        owner: owner.path.clone(),
        why: "this load index is not in the table".into(),
    })
}
