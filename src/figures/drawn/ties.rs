//! Tie-downs of a picture: where each goes, and what its working load limit counts for.

use std::sync::Arc;

use super::scene::{Held, Notes, Tieing};
use crate::expr::Value;
use crate::figures::held::Tied;
use crate::figures::{Each, Known, Lack, Load, OnDeck, Reading, Subject, figure};
use crate::model::{Anchor, LashPoint, Tie};
use crate::physics::Placed;
use crate::units::{Length, Mass};

/// What holds an item.
pub(super) fn held(load: &Load<'_>, at: usize, one: &OnDeck<'_>, notes: &mut Notes) -> Held {
    let mut held = Held::default();
    let ties: Vec<&Tie> = one.ties().collect();
    if ties.is_empty() {
        return held;
    }
    let told = |name: &str| -> Known<Reading> {
        let (_, figure) = figure(name, Each::Item).ok_or_else(|| one.item.owner.lacks("tie"))?;
        figure.of(load, Subject::Item(at))
    };
    let number = |name: &str| match told(name).ok()?.value {
        Value::Number(number) if number.is_finite() => Some(number),
        _ => None,
    };
    held.holds = ["ties.holds_forward", "ties.holds_rearward", "ties.holds_sideways"].map(number);
    if let [Some(forward), Some(rearward), Some(sideways)] = held.holds {
        let least = forward.min(rearward).min(sideways);
        held.weakest = told("ties.weakest").ok().and_then(word).map(|word| (word, least));
        // It points at the tie where there is one.
        held.governs = told("ties.governing").ok().filter(|reading| reading.at.is_some()).and_then(word);
    } else {
        held.unknown = told("ties.weakest").err().map(|lack| lack.to_string());
    }
    let own = one.item.ties.len();
    let tied = Tied::all(load, one).map_err(|lack| notes.lacks(&lack)).unwrap_or_default();
    let counted: Vec<Option<f64>> = tied.iter().map(|one| one.counts(load).ok().map(Mass::si)).collect();
    // Those of attachments hold the attachment, and count for nothing toward the sum.
    let sum: Option<f64> = counted.iter().take(own).copied().sum();
    let sum = sum.filter(|sum| *sum > 0.0);
    for (place, (tied, counts)) in tied.iter().zip(&counted).enumerate() {
        let line = line(load, one, tied, place >= own).map_err(|lack| notes.lacks(&lack)).unwrap_or_default();
        let share = if place < own { counts.zip(sum).map(|(counts, sum)| counts / sum) } else { None };
        held.ties.push(Tieing {
            name: Arc::clone(&tied.tiedown.id.value),
            count: tied.count,
            from: tied.tie.from.value(),
            fit: fit_of(one, place, own),
            share,
            line,
        });
    }
    held
}

fn word(reading: Reading) -> Option<Arc<str>> {
    match reading.value {
        Value::Text(word) => Some(word),
        Value::Number(_) | Value::Flag(_) => None,
    }
}

/// The attachment that a tie secures, by the tie's place among all.
fn fit_of(one: &OnDeck<'_>, place: usize, own: usize) -> Option<Arc<str>> {
    let mut left = place.checked_sub(own)?;
    for fit in one.fits() {
        match left.checked_sub(fit.ties.len()) {
            Some(rest) => left = rest,
            None => return Some(Arc::clone(&fit.attachment.name.value)),
        }
    }
    None
}

/// Where a tie goes, seen from above.
fn line(load: &Load<'_>, one: &OnDeck<'_>, tied: &Tied<'_>, of_fit: bool) -> Known<Vec<(f64, f64)>> {
    let placed = one.placed.clone()?;
    let anchored: Vec<(f64, f64)> =
        tied.anchors.iter().map(|(_, anchor)| anchor_at(load, anchor)).collect::<Known<_>>()?;
    let lash = if of_fit { fit_lash(load, one, tied) } else { tied.lash };
    match (anchored.as_slice(), lash) {
        ([from], Some(lash)) => Ok(vec![*from, lash_at(&placed, lash)?]),
        ([from, to], _) => Ok(vec![*from, *to]),
        _ => Err(Lack::NotKnown {
            at: tied.tie.owner.at,
            owner: Arc::clone(&one.item.owner.path),
            why: "from where to where a tie-down goes is not said".into(),
        }),
    }
}

/// The lash point of an attachment that a tie of it goes to.
fn fit_lash<'y>(load: &Load<'y>, one: &OnDeck<'y>, tied: &Tied<'_>) -> Option<&'y LashPoint> {
    let to = tied.tie.to.value()?;
    let fit = one.fits().iter().find(|fit| fit.ties.iter().any(|tie| std::ptr::eq(tie, tied.tie)))?;
    let attachment = load.yard.attachments.get(fit.attachment.target?)?;
    attachment.lash_points.iter().find(|point| point.id.value == to)
}

fn anchor_at(load: &Load<'_>, anchor: &Anchor) -> Known<(f64, f64)> {
    let deck = load.deck()?;
    let from = deck.from.need(&deck.owner, "from")?;
    let along = anchor.from_front.need(&anchor.owner, "from-front")?;
    Ok(((from + along).si(), anchor.left.need(&anchor.owner, "left")?.si()))
}

fn lash_at(placed: &Placed, lash: &LashPoint) -> Known<(f64, f64)> {
    let (arm, left): (Length, Length) = (lash.arm.need(&lash.owner, "arm")?, lash.left.need(&lash.owner, "left")?);
    Ok((placed.station(arm).si(), placed.across(left).si()))
}
