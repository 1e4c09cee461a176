//! Figures of an item on the deck.

use std::sync::Arc;

use super::figure::{computed, entry, value};
use super::of_part::{gone, item};
use super::{Each, Figure, Known, Load, Measures, Reading, Subject};
use crate::expr::Value;
use crate::model::{ItemKind, Owner};
use crate::physics;
use crate::units::{Kind, LANES, Length};

const ITEM: &[Each] = &[Each::Item];
const WEIGHT: Measures = Measures::Quantity(Kind::Mass);
const LENGTH: Measures = Measures::Quantity(Kind::Length);

const TAPE: &str = "the tape measurement and the outlines";

pub(super) static FIGURES: &[Figure] = &[
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
        Ok(Reading { value: Value::Text(word.into()), slopes: [0.0; LANES], at: None, unit: None, open: None })
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
        "item.footing_end_overhang",
        "footing beyond the ends",
        ITEM,
        LENGTH,
        "what it stands on beyond the deck's front or rear edge on the worse end; negative inside",
        |load, subject| {
            let (placed, deck) = (placed(load, subject)?, deck(load)?);
            let item = item(load, subject)?;
            let (one, other) = match &item.item.kind {
                ItemKind::Machine(_) => item.stands.clone()?,
                ItemKind::Cargo(_) | ItemKind::Bulk(_) => (placed.item.outline.front, placed.item.outline.rear),
            };
            let (one, other) = (placed.station(one), placed.station(other));
            value((deck.from - one.min(other)).max(one.max(other) - deck.rear()))
        },
    ),
    entry(
        "item.cg_side_overhang",
        "centre of gravity beyond the side",
        ITEM,
        LENGTH,
        "its centre of gravity beyond the deck's side; negative inside",
        |load, subject| {
            let deck = load.deck()?;
            let half = load.outlines.need(&deck.width, &deck.owner, "width")? / 2.0;
            value(placed(load, subject)?.load().left.abs() - half)
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
            value(overlap(load, at)?.map_or(Length::ZERO, |(most, _)| most))
        },
    ),
    entry(
        "item.overlapped",
        "item shared with",
        ITEM,
        Measures::Text,
        "the item before it with which it shares most",
        |load, subject| {
            let Subject::Item(at) = subject else { return Err(gone(load, "item")) };
            let other = overlap(load, at)?.and_then(|(_, other)| load.items.get(other));
            value(other.map_or_else(|| "".into(), |other| Arc::clone(&other.label)))
        },
    ),
];

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

/// How far an item reaches along the deck into one that was named before it, and into which. Items that pass each other
/// side by side, and those that stand on one another, do not overlap.
fn overlap(load: &Load<'_>, at: usize) -> Known<Option<(Length, usize)>> {
    let this = load.items.get(at).ok_or_else(|| gone(load, "item"))?;
    let mut most: Option<(Length, usize)> = None;
    for (other_at, other) in load.items.iter().enumerate().take(at) {
        if load.stands_on(at, other_at) || load.stands_on(other_at, at) {
            continue;
        }
        let (a, b) = (placed(load, Subject::Item(at))?, placed(load, Subject::Item(other_at))?);
        let along = a.rear().min(b.rear()) - a.front().max(b.front());
        if along <= most.map_or(Length::ZERO, |(most, _)| most) {
            continue;
        }
        let (a, b) = (this.sides()?, other.sides()?);
        if a.left > b.right && b.left > a.right {
            most = Some((along, other_at));
        }
    }
    Ok(most)
}
