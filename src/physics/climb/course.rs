//! What a machine's weight does to trailer and ramp as it climbs.
//!
//! Every wheel presses with its share of the weight where it touches. On the ground that is nothing to the trailer; at a
//! horizontal fraction `λ` of the ramp, `λN` comes on the deck's rear edge; on the deck it acts where it stands. A force `N` at
//! station `s` adds `N (sa - s)/sa` to the tongue, with `sa` the middle of the trailer's axles.

use super::body::Pose;
use super::number::{Number, Point};
use super::profile::{Corner, Profile};

/// Where the trailer bears.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bearing<N> {
    /// Station of the deck's rear edge as it stands level.
    pub(super) rear: N,
    /// Station of the middle of the axles.
    pub(super) axles: N,
    /// Station of stands under the rear.
    pub(super) stands: Option<N>,
    /// For a deck that lies free on a hinge with its rear edge on the ground: the hinge ahead of the rear edge.
    pub(super) hinge: Option<N>,
}

/// A force on the way, downward, in kg.
#[derive(Clone, Copy, Debug)]
pub(super) struct Press<N> {
    pub(super) at: N,
    pub(super) weight: N,
    pub(super) on: Part,
}

/// How a machine stands on the way, and with what forces.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stand<N> {
    pub(super) pose: Pose<N>,
    /// At its rear and its front support; all at the rear where the machine lies flat.
    pub(super) forces: [Press<N>; 2],
}

/// What part of the way something stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Part {
    Ground,
    Ramp,
    Deck,
}

impl Part {
    /// The part that a segment belongs to.
    pub(super) fn of_segment<N>(profile: &Profile<N>, segment: usize) -> Self {
        match profile.corners.get(segment).map(|(corner, _)| *corner) {
            _ if segment == 0 => Self::Ground,
            Some(Corner::Edge) => Self::Ramp,
            _ => Self::Deck,
        }
    }

    /// The part that a corner belongs to: the edge bears what stands on it.
    pub(super) fn of_corner<N>(profile: &Profile<N>, corner: usize) -> Self {
        match profile.corners.get(corner).map(|(corner, _)| *corner) {
            Some(Corner::Foot) => Self::Ground,
            _ => Self::Deck,
        }
    }
}

/// What is measured over the course of a climb.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Course {
    /// What the machine adds to the tongue: its least counts.
    Tongue,
    /// On the ramps together: the most counts.
    Ramps,
    /// On the deck's rear edge, through the ramp: the most counts.
    Edge,
    /// On stands under the rear that do not yield: the most counts.
    Stands,
    /// What the machine puts on the trailer's axles: the most counts.
    Axles,
    /// How steep the machine stands, as the sine of its pitch: the most counts.
    Pitch,
}

impl Course {
    pub(super) const ALL: [Self; 6] = [Self::Tongue, Self::Ramps, Self::Edge, Self::Stands, Self::Axles, Self::Pitch];

    /// Whether the least counts, and not the most.
    pub(super) const fn least(self) -> bool {
        matches!(self, Self::Tongue)
    }
}

/// What a machine that stands like this comes to.
pub(super) fn bears<N: Number>(
    profile: &Profile<N>,
    bearing: &Bearing<N>,
    stand: &Stand<N>,
    what: Course,
) -> Option<N> {
    if what == Course::Pitch {
        return Some(stand.pose.sin);
    }
    let forces = &stand.forces;
    let zero = N::of(0.0);
    let edge = profile.at(Corner::Edge)?;
    let lambda = |x: N| -> Option<N> {
        let foot: Point<N> = profile.at(Corner::Foot)?;
        let run = edge.x - foot.x;
        Some(if run.value() > 0.0 { (x - foot.x) / run } else { N::of(1.0) })
    };
    // A free deck on its hinge: what stands behind the hinge leans on the ground at the edge with its part. Once the weight
    // is ahead of the hinge the deck comes down and bears as any other.
    let free = bearing.hinge.filter(|hinge| {
        let moment = forces.iter().filter(|one| one.on == Part::Deck);
        moment.fold(0.0, |sum, one| sum + one.weight.value() * (one.at - *hinge).value()) < 0.0
    });
    let mut sum = zero;
    for force in forces {
        // At which x it bears on the trailer, and with how much.
        let (at, weight) = match (force.on, free) {
            (Part::Ground, _) => continue,
            (Part::Ramp, _) => (edge.x, force.weight * lambda(force.at)?),
            (Part::Deck, Some(hinge)) => (hinge, force.weight * (force.at - edge.x) / (hinge - edge.x)),
            (Part::Deck, None) => (force.at, force.weight),
        };
        let station = bearing.rear - at;
        let tongue = weight * (bearing.axles - station) / bearing.axles;
        sum = sum
            + match what {
                Course::Tongue => tongue,
                Course::Axles => weight - tongue,
                Course::Ramps if force.on == Part::Ramp => force.weight,
                Course::Edge if force.on == Part::Ramp => weight,
                Course::Edge if (force.at - edge.x).value().abs() <= 1e-9 => weight,
                Course::Ramps | Course::Edge | Course::Pitch => zero,
                Course::Stands => weight * station / bearing.stands?,
            };
    }
    Some(sum)
}
