//! Figures of one subject: an axle, a wheel, an item on the deck and what belongs to it.

use super::figure::{computed, entry, leaf, number, value};
use super::load::OnDeck;
use super::{AxleRef, Each, Figure, Known, Lack, Load, Measures, Reading, Subject};
use crate::expr::Value;
use crate::model::{Fit, ItemKind, LoadIndex, Missing, Owner, Tie, TireKind, Tires, Trailer};
use crate::physics::{self, AtPressure, LoadIndexes, TireCapacity, TireRating, WheelTires};
use crate::units::{Kind, LANES, Length, Mass, Speed};

const AXLE: &[Each] = &[Each::TruckAxle, Each::TrailerAxle];
const WHEEL: &[Each] = &[Each::Wheel];
const ITEM: &[Each] = &[Each::Item];
const WEIGHT: Measures = Measures::Quantity(Kind::Mass);
const LENGTH: Measures = Measures::Quantity(Kind::Length);

const TAPE: &str = "the tape measurement and the outlines";
const SHARING: &str = "equalizers share equally; independent axles by their spring rates and the trailer's pitch";
const TIRES: &str = "49 CFR 571.110 and 571.120 S5.1.2 for passenger tires; load index by ISO 4000-1";

/// The speed of an ST tire without a mark of its own: 65 mph.
/// Source: `../shared/reference/towing-and-statics.md` 8.3 (secondary).
const ST_SPEED: Speed = Speed::new(65.0 * 1609.344 / 3600.0);

pub(super) static FIGURES: &[Figure] = &[
    computed("axle.load", "load", AXLE, WEIGHT, "what the axle carries", SHARING, |load, subject| {
        value(axle_load(load, axle_of(subject, load)?)?)
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
            let count = tires(load, axle).and_then(|tires| Ok(tires.count.need(&tires.owner, "count")?))?;
            value(side_load(load, axle)? / (f64::from(count) / 2.0))
        },
    ),
    computed("wheel.load", "heavier side", WHEEL, WEIGHT, "the axle's heavier side", SHARING, |load, subject| {
        value(side_load(load, axle_of(subject, load)?)?)
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
    computed(
        "item.weight",
        "weight",
        ITEM,
        WEIGHT,
        "what it weighs, attachments included",
        "sum of weights",
        |load, subject| value(item(load, subject)?.weight()?),
    ),
    computed(
        "item.cg",
        "centre of gravity",
        ITEM,
        LENGTH,
        "its centre of gravity behind the deck's front edge",
        "moments",
        |load, subject| {
            let placed = placed(load, subject)?;
            value(placed.load().station - deck(load)?.from)
        },
    ),
    computed(
        "item.front_gap",
        "front gap",
        ITEM,
        LENGTH,
        "from the deck's front edge to its foremost point",
        TAPE,
        |load, subject| value(placed(load, subject)?.front_gap(deck(load)?)),
    ),
    computed(
        "item.rear_gap",
        "rear gap",
        ITEM,
        LENGTH,
        "from its rearmost point to the deck's rear edge",
        TAPE,
        |load, subject| value(placed(load, subject)?.rear_gap(deck(load)?)),
    ),
    entry("item.kind", "kind", ITEM, Measures::Text, "machine, cargo or bulk", |load, subject| {
        let word = match item(load, subject)?.item.kind {
            ItemKind::Machine(_) => "machine",
            ItemKind::Cargo(_) => "cargo",
            ItemKind::Bulk(_) => "bulk",
        };
        Ok(Reading { value: Value::Text(word.into()), slopes: [0.0; LANES], at: None, unit: None })
    }),
    entry("item.length", "length", ITEM, LENGTH, "from its foremost to its rearmost point", |load, subject| {
        let placed = placed(load, subject)?;
        value(placed.rear() - placed.front())
    }),
    entry("item.width", "width", ITEM, LENGTH, "its width", |load, subject| value(item(load, subject)?.width.clone()?)),
    entry("item.height", "height", ITEM, LENGTH, "its own height", |load, subject| {
        value(item(load, subject)?.height.clone()?)
    }),
    entry(
        "item.footing_width",
        "footing width",
        ITEM,
        LENGTH,
        "over its wheel centres, its tracks or its base",
        |load, subject| value(item(load, subject)?.footing.clone()?),
    ),
    entry(
        "item.side_overhang",
        "side overhang",
        ITEM,
        LENGTH,
        "beyond the deck's edge on the worse side; negative inside",
        |load, subject| {
            let sides = item(load, subject)?.sides()?;
            let deck = load.deck()?;
            let half = load.outlines.need(&deck.width, &deck.owner, "width")? / 2.0;
            value((sides.left - half).max(-sides.right - half))
        },
    ),
    entry(
        "item.footing_overhang",
        "footing overhang",
        ITEM,
        LENGTH,
        "what it stands on beyond the deck's edge on the worse side; negative inside",
        |load, subject| {
            let item = item(load, subject)?;
            let deck = load.deck()?;
            let half = load.outlines.need(&deck.width, &deck.owner, "width")? / 2.0;
            value(item.left.clone()?.abs() + item.footing.clone()? / 2.0 - half)
        },
    ),
    entry(
        "item.rear_overhang",
        "rear overhang",
        ITEM,
        LENGTH,
        "how far it projects behind the deck's rear edge; negative inside",
        |load, subject| value(-placed(load, subject)?.rear_gap(deck(load)?)),
    ),
    entry(
        "item.overlap",
        "overlap",
        ITEM,
        LENGTH,
        "along the deck with an item before it; zero where they are clear",
        |load, subject| {
            let Subject::Item(at) = subject else { return Err(gone(load, "item")) };
            value(overlap(load, at)?)
        },
    ),
    entry(
        "machine.cg_height",
        "height of the centre of gravity",
        &[Each::Machine],
        LENGTH,
        "height of the machine's centre of gravity",
        |load, subject| {
            let machine = machine(load, subject)?;
            number(load, &machine.cg_height, &machine.owner, "cg-height")
        },
    ),
    entry(
        "machine.weight",
        "weight",
        &[Each::Machine],
        WEIGHT,
        "what it weighs, attachments included",
        |load, subject| value(item(load, subject)?.weight()?),
    ),
    entry(
        "machine.facing",
        "facing",
        &[Each::Machine],
        Measures::Text,
        "which way its nose points",
        |load, subject| match &item(load, subject)?.item.kind {
            ItemKind::Machine(machine) => leaf(&machine.facing, &item(load, subject)?.item.owner, "facing"),
            ItemKind::Cargo(_) | ItemKind::Bulk(_) => Err(gone(load, "facing")),
        },
    ),
    entry("attachment.weight", "weight", &[Each::Attachment], WEIGHT, "what the attachment weighs", |load, subject| {
        let fit = fit(load, subject)?;
        let attachment = fit.attachment.target.and_then(|at| load.yard.attachments.get(at));
        let attachment = attachment.ok_or_else(|| gone(load, "attachment"))?;
        number(load, &attachment.weight, &attachment.owner, "weight")
    }),
    entry(
        "tie.count",
        "count",
        &[Each::Tie],
        Measures::Number,
        "how many tie-downs the entry stands for",
        |load, subject| {
            let tie = tie(load, subject)?;
            value(tie.count.or(1, &tie.owner, "count")?)
        },
    ),
    entry("tie.over", "over the top", &[Each::Tie], Measures::Flag, "whether it goes over the top", |load, subject| {
        let tie = tie(load, subject)?;
        value(tie.over.or(false, &tie.owner, "over")?)
    }),
    entry(
        "tie.wll",
        "working load limit",
        &[Each::Tie],
        WEIGHT,
        "marked working load limit of the tie-down",
        |load, subject| {
            let tie = tie(load, subject)?;
            let tiedown = tie.tiedown.target.and_then(|at| load.yard.tiedowns.get(at));
            let tiedown = tiedown.ok_or_else(|| gone(load, "tie"))?;
            number(load, &tiedown.wll, &tiedown.owner, "wll")
        },
    ),
    entry("anchor.rating", "rating", &[Each::Anchor], WEIGHT, "the anchor's rating", |load, subject| {
        let Subject::Anchor(at) = subject else { return Err(gone(load, "anchor")) };
        let trailer: &Trailer = load.trailer.clone()?;
        let anchor = trailer.anchors.get(at).ok_or_else(|| gone(load, "anchor"))?;
        number(load, &anchor.rating, &anchor.owner, "rating")
    }),
    entry(
        "bulk.volume",
        "volume",
        &[Each::Bulk],
        Measures::Quantity(Kind::Volume),
        "how much of it",
        |load, subject| {
            let item = item(load, subject)?;
            let ItemKind::Bulk(bulk) = &item.item.kind else { return Err(gone(load, "bulk")) };
            number(load, &bulk.volume, &item.item.owner, "volume")
        },
    ),
    entry("bulk.covered", "cover", &[Each::Bulk], Measures::Flag, "whether it is covered", |load, subject| {
        let item = item(load, subject)?;
        let ItemKind::Bulk(bulk) = &item.item.kind else { return Err(gone(load, "bulk")) };
        leaf(&bulk.covered, &item.item.owner, "covered")
    }),
    entry("bulk.weight", "weight", &[Each::Bulk], WEIGHT, "what it weighs", |load, subject| {
        value(item(load, subject)?.weight()?)
    }),
    entry(
        "reading.tongue",
        "tongue weight",
        &[Each::Reading],
        WEIGHT,
        "the tongue weight that was read",
        |load, subject| {
            let reading = reading(load, subject)?;
            number(load, &reading.tongue, &reading.owner, "tongue")
        },
    ),
    entry("reading.axles", "axles", &[Each::Reading], WEIGHT, "the axle weight that was read", |load, subject| {
        let reading = reading(load, subject)?;
        number(load, &reading.axles, &reading.owner, "axles")
    }),
    entry("reading.gross", "gross", &[Each::Reading], WEIGHT, "the gross weight that was read", |load, subject| {
        let reading = reading(load, subject)?;
        number(load, &reading.gross, &reading.owner, "gross")
    }),
    entry(
        "reading.stands",
        "stands",
        &[Each::Reading],
        Measures::Text,
        "whether the stands bore when it was read",
        |load, subject| {
            let reading = reading(load, subject)?;
            leaf(&reading.stands, &reading.owner, "stands")
        },
    ),
    entry(
        "waiver.item",
        "item",
        &[Each::Waiver],
        Measures::Text,
        "the item a waiver is narrowed to",
        |load, subject| {
            let Subject::Waiver(at) = subject else { return Err(gone(load, "waive")) };
            let waiver = load.waivers.get(at).ok_or_else(|| gone(load, "waive"))?;
            leaf(&waiver.item, &waiver.owner, "item")
        },
    ),
];

/// A subject that is not of the kind a figure is for. The registry offers a figure only at its own subjects, so this is
/// not seen by a user; it counts as reported.
fn gone(load: &Load<'_>, word: &'static str) -> Lack {
    Lack::Entry(Missing { broken: true, ..load.owner().lacks(word) })
}

fn axle_of(subject: Subject, load: &Load<'_>) -> Known<AxleRef> {
    match subject {
        Subject::Axle(axle) => Ok(axle),
        _ => Err(gone(load, "axle")),
    }
}

fn axle_load(load: &Load<'_>, axle: AxleRef) -> Known<Mass> {
    let loads = &load.rig.as_ref().map_err(Clone::clone)?.loads;
    match axle {
        AxleRef::Truck(crate::model::End::Front) => Ok(loads.truck.front),
        AxleRef::Truck(crate::model::End::Rear) => Ok(loads.truck.rear),
        AxleRef::Trailer(at) => loads.trailer.axles.get(at).copied().ok_or_else(|| gone(load, "axle")),
    }
}

/// The heavier side of an axle. What stands in the truck is taken as standing on its centre line.
fn side_load(load: &Load<'_>, axle: AxleRef) -> Known<Mass> {
    let AxleRef::Trailer(at) = axle else { return Ok(axle_load(load, axle)? / 2.0) };
    let sides = load.rig.as_ref().map_err(Clone::clone)?.sides.as_ref().map_err(Clone::clone)?;
    let side = sides.get(at).ok_or_else(|| gone(load, "axle"))?;
    Ok(side.left.max(side.right))
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

/// What one side's tires carry.
fn capacity(load: &Load<'_>, tires: &Tires) -> Known<TireCapacity> {
    let owner = &tires.owner;
    let count = tires.count.need(owner, "count")?;
    if count % 2 == 1 {
        // Told where it stands.
        return Err(crate::model::Missing { broken: true, ..owner.lacks("count") }.into());
    }
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
        count: count / 2,
        rating,
        dual: tires.dual.or(count >= 4, owner, "dual")?,
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

fn item<'l, 'y>(load: &'l Load<'y>, subject: Subject) -> Known<&'l OnDeck<'y>> {
    let (Subject::Item(at) | Subject::Fit { item: at, .. } | Subject::Tie { item: at, .. }) = subject else {
        return Err(gone(load, "item"));
    };
    load.items.get(at).ok_or_else(|| gone(load, "item"))
}

fn placed(load: &Load<'_>, subject: Subject) -> Known<physics::Placed> {
    item(load, subject)?.placed.clone()
}

fn deck(load: &Load<'_>) -> Known<physics::Deck> {
    let deck = load.deck()?;
    let owner: &Owner = &deck.owner;
    Ok(physics::Deck {
        from: load.outlines.need(&deck.from, owner, "from")?,
        length: load.outlines.need(&deck.length, owner, "length")?,
    })
}

fn machine<'y>(load: &Load<'y>, subject: Subject) -> Known<&'y crate::model::Machine> {
    let item = item(load, subject)?;
    let ItemKind::Machine(aboard) = &item.item.kind else { return Err(gone(load, "machine")) };
    aboard.machine.target.and_then(|at| load.yard.machines.get(at)).ok_or_else(|| gone(load, "machine"))
}

fn fit<'y>(load: &Load<'y>, subject: Subject) -> Known<&'y Fit> {
    let Subject::Fit { item: at, fit } = subject else { return Err(gone(load, "fit")) };
    load.items.get(at).and_then(|item| item.fits().get(fit)).ok_or_else(|| gone(load, "fit"))
}

fn tie<'y>(load: &Load<'y>, subject: Subject) -> Known<&'y Tie> {
    let Subject::Tie { item: at, tie } = subject else { return Err(gone(load, "tie")) };
    load.items.get(at).and_then(|item| item.ties().nth(tie)).ok_or_else(|| gone(load, "tie"))
}

fn reading<'y>(load: &Load<'y>, subject: Subject) -> Known<&'y crate::model::ReadingEntry> {
    let Subject::Reading(at) = subject else { return Err(gone(load, "reading")) };
    load.readings.get(at).copied().ok_or_else(|| gone(load, "reading"))
}

/// How far an item reaches into one that was named before it, along the deck. Items that pass each other side by side,
/// and those that stand on one another, do not overlap.
fn overlap(load: &Load<'_>, at: usize) -> Known<Length> {
    let this = load.items.get(at).ok_or_else(|| gone(load, "item"))?;
    let mut most = Length::ZERO;
    for (other_at, other) in load.items.iter().enumerate().take(at) {
        if this.under == Some(other_at) || other.under == Some(at) {
            continue;
        }
        let (a, b) = (placed(load, Subject::Item(at))?, placed(load, Subject::Item(other_at))?);
        let along = a.rear().min(b.rear()) - a.front().max(b.front());
        if along <= most {
            continue;
        }
        let (a, b) = (this.sides()?, other.sides()?);
        if a.left > b.right && b.left > a.right {
            most = along;
        }
    }
    Ok(most)
}
