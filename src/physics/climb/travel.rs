//! A machine that goes up, on wheels or on tracks, in plain numbers or with slopes.

use super::bar::{Bar, Rolling, Wheel};
use super::body::{Pose, Under, chains};
use super::climber::{Climb, Gear};
use super::course::{Bearing, Part, Press, Stand};
use super::crawl::{self, Base, Crawling};
use super::motion::{Motion, Piece};
use super::number::{Number, Point};
use super::path::{On, contact};
use super::profile::Profile;
use super::way::ClimbError;
use crate::physics::place::Facing;
use crate::units::{Dual, Length, Mass};

/// What a machine stands on.
#[derive(Clone, Copy, Debug)]
enum Footing<N> {
    Wheels(Bar<N>),
    Tracks(Base<N>),
}

/// Everything that a climb is computed from.
#[derive(Clone, Debug)]
pub(super) struct Shape<N> {
    pub(super) profile: Profile<N>,
    pub(super) under: Vec<Under<N>>,
    pub(super) bearing: Bearing<N>,
    footing: Footing<N>,
    weight: N,
    /// Centre of gravity in the turned frame; its height when that is known.
    cg: (N, Option<N>),
    /// Where the trailing wheel centre, or the trailing end of the tracks, is when the machine stands at its place.
    pub(super) end: N,
}

impl Shape<Dual> {
    pub(super) fn of(climb: &Climb) -> Result<Self, ClimbError> {
        let profile = Profile::of(&climb.way)?;
        Ok(Self::made(climb, profile, Length::dual, Mass::dual))
    }

    /// The same without slopes.
    pub(super) fn plain(climb: &Climb) -> Result<Shape<f64>, ClimbError> {
        let profile = Profile::of(&climb.way)?.plain();
        Ok(Shape::made(climb, profile, Length::si, Mass::si))
    }
}

impl<N: Number> Shape<N> {
    fn made(climb: &Climb, profile: Profile<N>, length: impl Fn(Length) -> N, mass: impl Fn(Mass) -> N) -> Self {
        let machine = &climb.machine;
        let forward = machine.facing == Facing::Forward;
        let turned = |arm: N| if forward { arm } else { -arm };
        let zero = N::of(0.0);
        let (footing, trail, above) = match machine.gear {
            Gear::Wheels { wheelbase, front_radius, rear_radius } => {
                let front = Wheel { u: turned(length(wheelbase)), radius: length(front_radius) };
                let rear = Wheel { u: zero, radius: length(rear_radius) };
                let (trail, lead) = if forward { (rear, front) } else { (front, rear) };
                (Footing::Wheels(Bar { trail, lead }), trail.u, trail.radius)
            }
            Gear::Tracks { contact } => {
                let (rear, front) = (zero, turned(length(contact)));
                let (trail, lead) = if forward { (rear, front) } else { (front, rear) };
                let cg = Point::new(turned(length(machine.arm)), machine.height.map_or(zero, &length));
                (Footing::Tracks(Base { trail, lead, cg, weight: mass(machine.weight) }), trail, zero)
            }
        };
        let bearing = Bearing {
            rear: length(climb.trailer.rear_edge),
            axles: length(climb.trailer.axles),
            stands: climb.trailer.stands.map(&length),
            hinge: climb.trailer.free_on.map(&length),
        };
        let along = length(climb.ahead) + trail;
        let end = match climb.way.tilt {
            None => along,
            Some((hinge, angle)) => {
                let radians = angle.si().to_radians();
                let ahead = along - length(hinge);
                length(hinge) + ahead * N::of(radians.cos()) - above * N::of(radians.sin())
            }
        };
        Self {
            profile,
            under: chains(&machine.undersides, forward, &length),
            bearing,
            footing,
            weight: mass(machine.weight),
            cg: (turned(length(machine.arm)), machine.height.map(&length)),
            end,
        }
    }

    /// How the machine stands where the trailing end of its footing is at `at`, on this piece of this travel.
    pub(super) fn stand(&self, travel: &Travel, piece: usize, at: N) -> Option<Stand<N>> {
        match (&self.footing, travel) {
            (Footing::Tracks(base), Travel::Tracks(crawling)) => {
                crawl::stand(&self.profile, base, *crawling.stages.get(piece)?, at)
            }
            (Footing::Wheels(bar), Travel::Wheels(rolling)) => {
                let leg = rolling.legs.get(piece)?;
                let lead = rolling.lead_for(at.value())?;
                let (rear, front) = bar.centres(&self.profile, leg.on, at, lead)?;
                let pose = bar.pose(rear, front);
                let rear = self.touch(leg.on.0, bar.trail.radius, rear.x)?;
                let front = self.touch(leg.on.1, bar.lead.radius, front.x)?;
                let ahead = match self.cg {
                    (u, Some(height)) => {
                        let cg = pose.place(Point::new(u, height));
                        (cg.x - rear.0) / (front.0 - rear.0)
                    }
                    // Without the height of the centre of gravity the axles keep what they carry on level ground.
                    (u, None) => (u - bar.trail.u) / (bar.lead.u - bar.trail.u),
                };
                let ahead = self.weight * ahead;
                let forces = [
                    Press { at: rear.0, weight: self.weight - ahead, on: rear.1 },
                    Press { at: front.0, weight: ahead, on: front.1 },
                ];
                Some(Stand { pose, forces })
            }
            _ => None,
        }
    }

    /// Where a wheel touches, and what.
    fn touch(&self, on: On, radius: N, x: N) -> Option<(N, Part)> {
        let part = match on {
            On::Segment(at) => Part::of_segment(&self.profile, at),
            On::Corner(at) => Part::of_corner(&self.profile, at),
        };
        Some((contact(&self.profile, on, radius, x)?.x, part))
    }

    pub(super) fn base(&self) -> Option<&Base<N>> {
        match &self.footing {
            Footing::Tracks(base) => Some(base),
            Footing::Wheels(_) => None,
        }
    }
}

/// A way up as it is travelled.
#[derive(Debug)]
pub(super) enum Travel {
    Wheels(Rolling),
    Tracks(Crawling),
}

impl Travel {
    /// From level ground, nothing of the machine over the ramp yet, to its place, or as far as there is deck.
    pub(super) fn of(shape: &Shape<f64>, end: f64) -> Result<Self, ClimbError> {
        let foot = shape.profile.corners.first().map_or(0.0, |(_, at)| at.x);
        let foremost = shape.under.iter().map(|one| one.at.x);
        match shape.footing {
            Footing::Wheels(bar) => {
                let most = foremost.fold(bar.lead.u + bar.lead.radius, f64::max);
                let start = foot - (most - bar.trail.u) - bar.length();
                Rolling::new(shape.profile.clone(), bar, start, end.max(start)).map(Self::Wheels)
            }
            Footing::Tracks(base) => {
                let start = foot - (foremost.fold(base.lead, f64::max) - base.trail) - base.length();
                Crawling::new(shape.profile.clone(), base, start, end.max(start)).map(Self::Tracks)
            }
        }
    }

    /// Where the trailing end is at a value of a piece's parameter.
    pub(super) fn reached(&self, piece: usize, at: f64) -> f64 {
        match self {
            Self::Tracks(one) if matches!(one.stages.get(piece), Some(crawl::Stage::Tip { .. })) => {
                let before = one.stages.get(..piece).and_then(|before| before.last());
                match before {
                    Some(crawl::Stage::Drag { to, .. } | crawl::Stage::Flat { to, .. }) => *to,
                    _ => f64::NEG_INFINITY,
                }
            }
            _ => at,
        }
    }

    /// Whether the parameter of one piece goes on in the next.
    pub(super) fn goes_on(&self, piece: usize) -> bool {
        match self {
            Self::Wheels(_) => true,
            Self::Tracks(one) => piece + 1 < one.stages.len() && !self.tips(piece) && !self.tips(piece + 1),
        }
    }

    /// Whether tracks tip over a corner in a piece.
    pub(super) fn tips(&self, piece: usize) -> bool {
        match self {
            Self::Wheels(_) => false,
            Self::Tracks(one) => matches!(one.stages.get(piece), Some(crawl::Stage::Tip { .. })),
        }
    }
}

impl Motion for Travel {
    fn pieces(&self) -> Vec<Piece> {
        match self {
            Self::Wheels(one) => one.pieces(),
            Self::Tracks(one) => one.pieces(),
        }
    }

    fn pose(&self, piece: usize, at: f64) -> Option<Pose<f64>> {
        match self {
            Self::Wheels(one) => one.pose(piece, at),
            Self::Tracks(one) => one.pose(piece, at),
        }
    }
}
