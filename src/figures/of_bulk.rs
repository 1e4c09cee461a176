//! Figures of loose material: how much there is, how it lies between the walls, and what stays there.

use super::deck::known;
use super::figure::{computed, entry, leaf, number, value};
use super::load::OnDeck;
use super::of_part::{gone, item};
use super::{Each, Figure, Known, Load, Measures, Subject};
use crate::model::{Bulk, ItemKind, Material};
use crate::physics::{Bed, Heap, Lying};
use crate::units::{Kind, Length, Share, Volume};

const BULK: &[Each] = &[Each::Bulk];
const VOLUME: Measures = Measures::Quantity(Kind::Volume);
const LENGTH: Measures = Measures::Quantity(Kind::Length);

const ROOF: &str = "a hipped roof at the angle of repose above the walls, as SAE J1363 heaps at a slope of its own";

pub(super) static FIGURES: &[Figure] = &[
    entry("bulk.volume", "volume", BULK, VOLUME, "how much of it", |load, subject| {
        let (one, bulk) = bulk(load, subject)?;
        number(load, &bulk.volume, &one.item.owner, "volume")
    }),
    entry("bulk.covered", "cover", BULK, Measures::Flag, "whether it is covered", |load, subject| {
        let (one, bulk) = bulk(load, subject)?;
        leaf(&bulk.covered, &one.item.owner, "covered")
    }),
    entry("bulk.weight", "weight", BULK, Measures::Quantity(Kind::Mass), "what it weighs", |load, subject| {
        value(item(load, subject)?.weight()?)
    }),
    computed(
        "bulk.struck",
        "room level with the walls",
        BULK,
        VOLUME,
        "what its part of the deck holds struck off level with the walls; nothing without walls",
        "length times width times height of the walls",
        |load, subject| value(bed(load, bulk(load, subject)?.0)?.struck()),
    ),
    computed(
        "bulk.room",
        "room heaped",
        BULK,
        VOLUME,
        "the most that stays there, heaped at the flattest angle of repose of the material",
        ROOF,
        |load, subject| {
            let (one, bulk) = bulk(load, subject)?;
            value(bed(load, one)?.heaped(flattest(load, one, bulk)?))
        },
    ),
    computed("bulk.top", "top", BULK, LENGTH, "its highest point above the deck", ROOF, |load, subject| {
        value(lying(load, bulk(load, subject)?.0)?.top)
    }),
    computed(
        "bulk.cg_height",
        "centre of gravity above the deck",
        BULK,
        LENGTH,
        "height of its centre of gravity above the deck",
        ROOF,
        |load, subject| value(lying(load, bulk(load, subject)?.0)?.cg_height),
    ),
    Figure {
        weighed: false,
        ..computed(
            "bulk.above_walls",
            "above the walls",
            BULK,
            LENGTH,
            "how far it stands above the walls; negative below them",
            ROOF,
            |load, subject| {
                let (one, _) = bulk(load, subject)?;
                value(lying(load, one)?.top - bed(load, one)?.walls)
            },
        )
    },
    Figure {
        weighed: false,
        ..computed(
            "bulk.off_middle",
            "off the middle",
            BULK,
            Measures::Quantity(Kind::Share),
            "how far its middle lies off the centre line, as a part of the deck's width",
            "its left= over the deck's width",
            |load, subject| {
                let (one, _) = bulk(load, subject)?;
                value(Share::of(one.left.clone()?.abs() / bed(load, one)?.width))
            },
        )
    },
];

fn bulk<'l, 'y>(load: &'l Load<'y>, subject: Subject) -> Known<(&'l OnDeck<'y>, &'y Bulk)> {
    let one = item(load, subject)?;
    match &one.item.kind {
        ItemKind::Bulk(bulk) => Ok((one, bulk)),
        ItemKind::Machine(_) | ItemKind::Cargo(_) => Err(gone(load, "bulk")),
    }
}

/// The part of the deck on which it lies.
fn bed(load: &Load<'_>, one: &OnDeck<'_>) -> Known<Bed> {
    let trailer = load.trailer.clone()?;
    let deck = load.deck()?;
    let walls = match &trailer.walls {
        Some(walls) => load.outlines.need(&walls.height, &walls.owner, "height")?,
        // A lost line may have been the walls.
        None if trailer.owner.lost => return Err(trailer.owner.lacks("walls").into()),
        None => Length::ZERO,
    };
    let placed = one.placed.as_ref().map_err(Clone::clone)?;
    Ok(Bed {
        length: placed.rear() - placed.front(),
        width: load.outlines.need(&deck.width, &deck.owner, "width")?,
        walls,
    })
}

fn material<'y>(load: &Load<'y>, one: &OnDeck<'y>, bulk: &Bulk) -> Known<&'y Material> {
    known(&bulk.material, &load.yard.materials, &one.item.owner, "material")
}

/// The flattest slope at which the material stays: what room there is rests on it.
fn flattest(load: &Load<'_>, one: &OnDeck<'_>, bulk: &Bulk) -> Known<Share> {
    let material = material(load, one, bulk)?;
    Ok(Share::of(load.outlines.need(&material.repose_low, &material.owner, "repose")?.radians().tan()))
}

/// How it lies. Heaped, it is taken at the steepest slope, at which it stands highest; what does not fit level below the
/// walls is taken at the flattest, for the same reason.
pub(super) fn lying(load: &Load<'_>, one: &OnDeck<'_>) -> Known<Heap> {
    let owner = &one.item.owner;
    let ItemKind::Bulk(bulk) = &one.item.kind else { return Err(gone(load, "bulk")) };
    let volume: Volume = load.reads.need(&bulk.volume, owner, "volume")?;
    let way = if bulk.heaped.or(false, owner, "heaped")? { Lying::Heaped } else { Lying::Level };
    bed(load, one)?.lying(volume, way, || slope(load, one, bulk, way))
}

/// How steep its sides are where they slope.
pub(super) fn sides_slope(load: &Load<'_>, one: &OnDeck<'_>) -> Known<Share> {
    let ItemKind::Bulk(bulk) = &one.item.kind else { return Err(gone(load, "bulk")) };
    let way = if bulk.heaped.or(false, &one.item.owner, "heaped")? { Lying::Heaped } else { Lying::Level };
    slope(load, one, bulk, way)
}

fn slope(load: &Load<'_>, one: &OnDeck<'_>, bulk: &Bulk, way: Lying) -> Known<Share> {
    match way {
        Lying::Level => flattest(load, one, bulk),
        Lying::Heaped => {
            let material = material(load, one, bulk)?;
            Ok(Share::of(load.outlines.need(&material.repose_high, &material.owner, "repose")?.radians().tan()))
        }
    }
}
