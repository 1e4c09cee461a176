//! Figures of a single tie-down, of what it hangs on, and of the attachments it secures.

use super::figure::{entry, leaf, value};
use super::held::{Tied, wll};
use super::of_part::gone;
use super::{Each, Figure, Known, Load, Measures, Subject};
use crate::units::{Kind, Mass};

const WEIGHT: Measures = Measures::Quantity(Kind::Mass);

pub(super) static FIGURES: &[Figure] = &[
    entry(
        "tie.marked",
        "marked",
        &[Each::Tie],
        Measures::Flag,
        "whether its working load limit is marked",
        |load, subject| {
            let (_, tiedown) = the_tie(load, subject)?;
            value(!tiedown.wll.is_absent())
        },
    ),
    entry(
        "tie.default_wll",
        "limit of the published table",
        &[Each::Tie],
        WEIGHT,
        "working load limit by its marking, or by the table of 49 CFR 393.108 where it bears none",
        |load, subject| {
            let (_, tiedown) = the_tie(load, subject)?;
            value(wll(load, tiedown)?)
        },
    ),
    entry(
        "anchor.pull",
        "pull on the anchor",
        &[Each::Anchor],
        WEIGHT,
        "working load limits of all that hangs on it, each counted with no more than the anchor's own rating",
        |load, subject| {
            let mut sum = Mass::ZERO;
            for tied in hanging(load, subject)? {
                sum += tied.weakest(load)? * f64::from(tied.count);
            }
            value(sum)
        },
    ),
    entry(
        "anchor.ties",
        "tie-downs on the anchor",
        &[Each::Anchor],
        Measures::Count,
        "how many tie-downs hang on it",
        |load, subject| value(hanging(load, subject)?.iter().map(|tied| tied.count).sum::<u32>()),
    ),
    entry(
        "attachment.ties",
        "tie-downs",
        &[Each::Attachment],
        Measures::Count,
        "how many tie-downs secure the attachment itself",
        |load, subject| value(secured(load, subject)?),
    ),
    entry(
        "attachment.tied",
        "tied down",
        &[Each::Attachment],
        Measures::Flag,
        "whether any tie-down secures the attachment itself",
        |load, subject| value(secured(load, subject)? > 0),
    ),
    entry(
        "attachment.lowers",
        "rides lowered",
        &[Each::Attachment],
        Measures::Flag,
        "whether the attachment rides lowered",
        |load, subject| {
            let Subject::Fit { item: at, fit } = subject else { return Err(gone(load, "fit")) };
            let fit = load.items.get(at).and_then(|one| one.fits().get(fit)).ok_or_else(|| gone(load, "fit"))?;
            let attachment = fit.attachment.target.and_then(|at| load.yard.attachments.get(at));
            let attachment = attachment.ok_or_else(|| gone(load, "fit"))?;
            leaf(&attachment.lowers, &attachment.owner, "lowers")
        },
    ),
    entry(
        "attachment.on_heavy",
        "weight of its machine",
        &[Each::Attachment],
        WEIGHT,
        "what the machine weighs that carries it, attachments included",
        |load, subject| {
            let Subject::Fit { item: at, .. } = subject else { return Err(gone(load, "fit")) };
            value(load.items.get(at).ok_or_else(|| gone(load, "fit"))?.weight()?)
        },
    ),
];

fn the_tie<'y>(load: &Load<'y>, subject: Subject) -> Known<(&'y crate::model::Tie, &'y crate::model::Tiedown)> {
    let Subject::Tie { item: at, tie } = subject else { return Err(gone(load, "tie")) };
    let tie = load.items.get(at).and_then(|item| item.ties().nth(tie)).ok_or_else(|| gone(load, "tie"))?;
    let tiedown = tie.tiedown.target.and_then(|at| load.yard.tiedowns.get(at));
    tiedown.map(|tiedown| (tie, tiedown)).ok_or_else(|| gone(load, "tie"))
}

/// The tie-downs of a fit.
fn secured(load: &Load<'_>, subject: Subject) -> Known<u32> {
    let Subject::Fit { item: at, fit } = subject else { return Err(gone(load, "fit")) };
    let fit = load.items.get(at).and_then(|one| one.fits().get(fit)).ok_or_else(|| gone(load, "fit"))?;
    let count = fit.ties.iter().map(|tie| tie.count.or(1, &tie.owner, "count")).collect::<Result<Vec<u32>, _>>()?;
    Ok(count.into_iter().sum())
}

/// All that hangs on an anchor, tie-downs of attachments too: each with how many times.
pub(super) fn hanging<'y>(load: &Load<'y>, subject: Subject) -> Known<Vec<Tied<'y>>> {
    let Subject::Anchor(at) = subject else { return Err(gone(load, "anchor")) };
    let mut all = Vec::new();
    for one in &load.items {
        for tied in Tied::all(load, one)? {
            if tied.anchors.iter().any(|(anchor, _)| *anchor == at) {
                all.push(tied);
            }
        }
    }
    Ok(all)
}
