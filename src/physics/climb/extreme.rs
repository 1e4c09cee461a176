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
                    best = Some(Reached { value, piece, at, beside: None });
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
                best.beside = beside(travel, best, &pieces, &value);
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

/// The piece on the other side of an extreme that lies at a kink, and its share in the slopes.
fn beside(
    travel: &Travel,
    best: &Reached,
    pieces: &[super::motion::Piece],
    value: &impl Fn(usize, f64) -> Option<f64>,
) -> Option<(usize, f64)> {
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
        return None;
    }
    let rate = (value(best.piece, best.at + own_step)? - here) / own_step;
    let beyond = (value(other, best.at - own_step)? - there) / -own_step;
    share(rate, beyond).map(|share| (other, share))
}

/// The share of the second of two functions that meet at the bottom of a kink, so that their mixture is level there: none
/// where one of them falls on.
pub(super) fn share(one: f64, other: f64) -> Option<f64> {
    if (one > 0.0) == (other > 0.0) {
        return Some(0.0);
    }
    let share = one / (one - other);
    share.is_finite().then_some(share)
}
