//! The least and the most over the course of a climb: each piece is smooth, so its extreme is looked for between a few looks,
//! and its ends count with the value from its own side.

use super::course::{Course, bears};
use super::motion::Motion as _;
use super::travel::{Shape, Travel};

/// Looks at a piece before its best stretch is searched.
const LOOKS: u32 = 8;

/// Where something is at its extreme.
#[derive(Clone, Copy, Debug)]
pub(super) struct Reached {
    pub(super) value: f64,
    pub(super) piece: usize,
    pub(super) at: f64,
    /// The piece on the other side of a kink, and its share in the slopes.
    pub(super) beside: Option<(usize, f64)>,
    /// At a jump: the piece on the other side, and a step back into this one. A wheel comes onto another part of the way there,
    /// wherever that is.
    pub(super) jump: Option<(usize, f64)>,
}

/// The extremes of a climb.
#[derive(Debug)]
pub(super) struct Extremes([Option<Reached>; Course::ALL.len()]);

impl Extremes {
    pub(super) fn of(shape: &Shape<f64>, travel: &Travel) -> Self {
        let pieces = travel.pieces();
        let mut looks: Vec<Vec<(f64, [Option<f64>; Course::ALL.len()])>> = Vec::new();
        for (piece, one) in pieces.iter().enumerate() {
            let at = |step: u32| one.from + (one.to - one.from) * f64::from(step) / f64::from(LOOKS);
            let look = |at: f64| {
                let stand = shape.stand(travel, piece, at);
                (at, Course::ALL.map(|what| bears(&shape.profile, &shape.bearing, stand.as_ref()?, what)))
            };
            looks.push((0..=LOOKS).map(|step| look(at(step))).collect());
        }
        let mut all = [None; Course::ALL.len()];
        for (slot, what) in Course::ALL.into_iter().enumerate() {
            let sign = if what.least() { 1.0 } else { -1.0 };
            let value = |piece: usize, at: f64| {
                let stand = shape.stand(travel, piece, at)?;
                Some(sign * bears(&shape.profile, &shape.bearing, &stand, what)?)
            };
            let mut best: Option<Reached> = None;
            let mut take = |value: f64, piece: usize, at: f64| {
                if value.is_finite() && best.is_none_or(|best| value < best.value) {
                    best = Some(Reached { value, piece, at, beside: None, jump: None });
                }
            };
            let mut hollows = Vec::new();
            for (piece, looks) in looks.iter().enumerate() {
                let seen: Vec<(f64, f64)> =
                    looks.iter().filter_map(|(at, values)| Some((*at, sign * (*values.get(slot)?)?))).collect();
                for (at, value) in &seen {
                    take(*value, piece, *at);
                }
                let lowest = seen.iter().enumerate().min_by(|a, b| a.1.1.total_cmp(&b.1.1));
                if let Some((place, (_, value))) = lowest {
                    let from = seen.get(place.saturating_sub(1)).map(|one| one.0);
                    let to = seen.get(place + 1).or(seen.last()).map(|one| one.0);
                    hollows.extend(from.zip(to).map(|(from, to)| (*value, piece, from, to)));
                }
            }
            // The three that look lowest; a smooth piece has nothing lower hidden between its looks than its neighbours tell.
            hollows.sort_by(|a, b| a.0.total_cmp(&b.0));
            for (_, piece, from, to) in hollows.into_iter().take(3) {
                for (value, at) in golden((from, to), |at| value(piece, at)) {
                    take(value, piece, at);
                }
            }
            if let Some(best) = &mut best {
                at_tip(travel, best, &pieces, &value);
                if best.jump.is_none() {
                    beside(travel, best, &pieces, &value);
                }
                best.value *= sign;
            }
            if let Some(place) = all.get_mut(slot) {
                *place = best;
            }
        }
        Self(all)
    }

    pub(super) fn get(&self, what: Course) -> Option<Reached> {
        let slot = Course::ALL.iter().position(|one| *one == what)?;
        self.0.get(slot).copied().flatten()
    }

    pub(super) fn all(&self) -> impl Iterator<Item = Reached> {
        self.0.iter().copied().flatten()
    }
}

/// The lowest points that golden sections find.
fn golden((mut from, mut to): (f64, f64), value: impl Fn(f64) -> Option<f64>) -> Vec<(f64, f64)> {
    let ratio = (5.0_f64.sqrt() - 1.0) / 2.0;
    let mut found = Vec::new();
    for _ in 0..40 {
        let (a, b) = (to - ratio * (to - from), from + ratio * (to - from));
        let (Some(one), Some(other)) = (value(a), value(b)) else { break };
        if one < other {
            to = b;
            found.push((one, a));
        } else {
            from = a;
            found.push((other, b));
        }
    }
    found.pop().into_iter().collect()
}

/// An extreme where a tip begins or ends is told of the tip: where that happens moves with what it rests on, and the tip knows how.
fn at_tip(
    travel: &Travel,
    best: &mut Reached,
    pieces: &[super::motion::Piece],
    value: &impl Fn(usize, f64) -> Option<f64>,
) {
    let near = |a: f64, b: f64| (a - b).abs() <= 1e-6 * (1.0 + a.abs());
    let Some(own) = pieces.get(best.piece).filter(|_| !travel.tips(best.piece)) else { return };
    let next = Some(best.piece + 1).filter(|_| near(best.at, own.to));
    let last = best.piece.checked_sub(1).filter(|_| near(best.at, own.from));
    for (other, ahead) in [(next, true), (last, false)] {
        let Some((other, tip)) = other.and_then(|other| Some((other, pieces.get(other)?))) else { continue };
        let at = if ahead { tip.from } else { tip.to };
        if travel.tips(other)
            && let Some(there) = value(other, at).filter(|there| near(best.value, *there))
        {
            *best = Reached { value: there, piece: other, at, beside: None, jump: None };
            return;
        }
    }
}

/// What lies on the other side of an extreme at the end of a piece: a kink, with the share of that side in the slopes, or a
/// jump.
fn beside(
    travel: &Travel,
    best: &mut Reached,
    pieces: &[super::motion::Piece],
    value: &impl Fn(usize, f64) -> Option<f64>,
) -> Option<()> {
    let own = pieces.get(best.piece)?;
    let step = 1e-7;
    let (other, own_step) = if (best.at - own.to).abs() <= step && travel.goes_on(best.piece) {
        (best.piece + 1, -step)
    } else if (best.at - own.from).abs() <= step && best.piece > 0 && travel.goes_on(best.piece - 1) {
        (best.piece - 1, step)
    } else {
        return None;
    };
    pieces.get(other)?;
    let (here, there) = (value(best.piece, best.at)?, value(other, best.at)?);
    if (here - there).abs() > 1e-6 * (1.0 + here.abs()) {
        best.jump = Some((other, own_step));
        return None;
    }
    let (inside, outside) = (value(best.piece, best.at + own_step)?, value(other, best.at - own_step)?);
    // On the corner itself a load counts on either side, and one of them drops it right behind.
    if (inside - here).abs() > 1e-4 * (1.0 + here.abs()) {
        *best = Reached { piece: other, jump: Some((best.piece, -own_step)), ..*best };
        return None;
    }
    if (outside - there).abs() > 1e-4 * (1.0 + here.abs()) {
        best.jump = Some((other, own_step));
        return None;
    }
    let (rate, beyond) = ((inside - here) / own_step, (outside - there) / -own_step);
    best.beside = share(rate, beyond).map(|share| (other, share));
    None
}

/// The share of the second of two functions that meet at the bottom of a kink, so that their mixture is level there: nothing
/// where one of them falls on, all where it is level itself.
fn share(one: f64, other: f64) -> Option<f64> {
    if other.abs() <= 1e-6 * one.abs() {
        return Some(1.0);
    }
    if (one > 0.0) == (other > 0.0) {
        return Some(0.0);
    }
    let share = one / (one - other);
    share.is_finite().then_some(share)
}
