//! What is told of the place where a machine comes nearest to the way.

use super::body::{Pose, Under};
use super::climber::Spot;
use super::motion::Motion as _;
use super::number::Point;
use super::profile::Corner;
use super::sweep::{Sweep, Tight, Touch};
use super::travel::{Shape, Travel};
use crate::units::Dual;

/// A step along the climb from a kink to either side of it.
const STEP: f64 = 1e-6;

/// The gap of a touch with its slopes; `sweep` is of the same climb without slopes.
pub(super) fn gap(shape: &Shape<Dual>, sweep: &Sweep<'_>, travel: &Travel, tight: &Tight, at: Dual) -> Option<Dual> {
    let here = of(shape, travel, tight.piece, tight.touch, at)?;
    Some(at_kink(shape, sweep, travel, tight, here).unwrap_or(here))
}

/// The gap where one touch takes over from another, or one piece of the climb goes over into the next, at the bottom of a kink.
/// That place moves with what it rests on: the slopes of both sides, weighed so that the motion has none. None elsewhere.
fn at_kink(shape: &Shape<Dual>, sweep: &Sweep<'_>, travel: &Travel, tight: &Tight, here: Dual) -> Option<Dual> {
    let pieces = travel.pieces();
    let own = pieces.get(tight.piece)?;
    let near = |a: f64, b: f64| (a - b).abs() <= STEP;
    let behind = if near(tight.at, own.from) { tight.piece.checked_sub(1)? } else { tight.piece };
    let ahead = if near(tight.at, own.to) { tight.piece + 1 } else { tight.piece };
    // Where a tip begins or ends moves with what it rests on, and the tip knows how.
    if behind != ahead && travel.tips(ahead) && !travel.tips(behind) {
        return of(shape, travel, ahead, tight.touch, Dual::new(0.0));
    }
    if behind != ahead && travel.tips(behind) && !travel.tips(ahead) {
        return of(shape, travel, behind, tight.touch, Dual::new(1.0));
    }
    if ahead >= pieces.len() || (ahead != behind && !travel.goes_on(behind)) {
        return None;
    }
    let side = |piece: usize, step: f64| {
        let (_, touch) = sweep.gap(&travel.pose(piece, tight.at + step)?)?;
        let there = of(shape, travel, piece, touch, Dual::new(tight.at))?;
        let beyond = of(shape, travel, piece, touch, Dual::new(tight.at + step))?;
        near(there.value(), here.value()).then_some((there, (beyond - there).value() / step))
    };
    let ((left, falls), (right, rises)) = (side(behind, -STEP)?, side(ahead, STEP)?);
    // What is level but for rounding does not fall.
    let level = |rate: f64| if rate.abs() <= STEP { 0.0 } else { rate };
    let (falls, rises) = (level(falls), level(rises));
    if falls > 0.0 || rises < 0.0 || rises - falls <= 0.0 {
        return None;
    }
    let share = -falls / (rises - falls);
    Some(left * (1.0 - share) + right * share)
}

/// The gap of a touch in one piece with its slopes, as far as the touch lasts.
fn of(shape: &Shape<Dual>, travel: &Travel, piece: usize, touch: Touch, at: Dual) -> Option<Dual> {
    let pose = shape.stand(travel, piece, at)?.pose;
    match touch {
        Touch::Low { point, segment } => {
            let place = pose.place(shape.under.get(point)?.at);
            Some(place.z - shape.profile.line(segment)?.height(place.x))
        }
        Touch::Corner { corner, to } => {
            let (front, rear) = (shape.under.get(to)?, shape.under.get(to.checked_sub(1)?)?);
            let (front, rear) = (pose.place(front.at), pose.place(rear.at));
            let (_, corner) = *shape.profile.corners.get(corner)?;
            Some(rear.z + (front.z - rear.z) * (corner.x - rear.x) / (front.x - rear.x) - corner.z)
        }
    }
}

/// The part of the underside that a touch is at: of a line between two, the nearer one.
pub(super) fn part(shape: &Shape<Dual>, tight: &Tight, pose: &Pose<Dual>) -> Option<(usize, usize)> {
    match tight.touch {
        Touch::Low { point, .. } => Some(shape.under.get(point)?.part),
        Touch::Corner { corner, to } => {
            let (front, rear) = (shape.under.get(to)?, shape.under.get(to.checked_sub(1)?)?);
            let x = shape.profile.corners.get(corner)?.1.x.value();
            let off = |one: &Under<Dual>| (pose.place(one.at).x.value() - x).abs();
            Some(if off(rear) <= off(front) { rear.part } else { front.part })
        }
    }
}

/// Where a touch is: outside what the machine stands on it is the foot that makes it, between it is the crest.
pub(super) fn spot(shape: &Shape<Dual>, travel: &Travel, tight: &Tight) -> Option<Spot> {
    let stand = shape.stand(travel, tight.piece, Dual::new(tight.at))?;
    let x = match tight.touch {
        Touch::Low { point, .. } => stand.pose.place(shape.under.get(point)?.at).x.value(),
        Touch::Corner { corner, .. } => shape.profile.corners.get(corner)?.1.x.value(),
    };
    // Tracks press where their weight is; what they stand on reaches from end to end.
    let [rear, front] = match shape.base() {
        Some(base) => [base.trail, base.lead].map(|end| stand.pose.place(Point::new(end, Dual::new(0.0))).x.value()),
        None => stand.forces.map(|force| force.at.value()),
    };
    let edge = shape.profile.at(Corner::Edge)?.x.value();
    if let Some(top) = shape.profile.at(Corner::DovetailTop)
        && (x - top.x.value()).abs() < (x - edge).abs()
    {
        return Some(Spot::DovetailTop);
    }
    let between = rear.min(front) <= x && x <= rear.max(front);
    let at_edge = (x - edge).abs() <= 1e-6;
    Some(if between || at_edge { Spot::Crest } else { Spot::Foot })
}
