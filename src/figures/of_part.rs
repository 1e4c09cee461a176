//! Figures of what belongs to an item or to the load: a machine, an attachment, a tie, an anchor, a reading, a waiver.

use super::figure::{entry, leaf, number, value};
use super::load::OnDeck;
use super::{Each, Figure, Known, Lack, Load, Measures, Subject};
use crate::model::{Fit, ItemKind, Missing, Tie, Trailer};
use crate::units::Kind;

const WEIGHT: Measures = Measures::Quantity(Kind::Mass);
const LENGTH: Measures = Measures::Quantity(Kind::Length);

pub(super) static FIGURES: &[Figure] = &[
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
        Measures::Count,
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
pub(super) fn gone(load: &Load<'_>, word: &'static str) -> Lack {
    Lack::Entry(Missing { broken: true, ..load.owner().lacks(word) })
}

pub(super) fn item<'l, 'y>(load: &'l Load<'y>, subject: Subject) -> Known<&'l OnDeck<'y>> {
    let (Subject::Item(at) | Subject::Fit { item: at, .. } | Subject::Tie { item: at, .. }) = subject else {
        return Err(gone(load, "item"));
    };
    load.items.get(at).ok_or_else(|| gone(load, "item"))
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
