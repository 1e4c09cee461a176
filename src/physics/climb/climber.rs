//! A machine driven onto a trailer: the question, and what is found.

use super::body::Underside;
use super::course::{Course, bears};
use super::crawl;
use super::crossing::crossing;
use super::extreme::{Extremes, Reached};
use super::number::Point;
use super::profile::Corner;
use super::sweep::{Sweep, Tight};
use super::touch;
use super::travel::{Shape, Travel};
use super::way::{ClimbError, Way};
use crate::physics::place::Facing;
use crate::units::{Angle, Dual, Length, Mass};

/// What a machine stands on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Gear {
    /// Two axles; the datum is the rear one.
    Wheels {
        /// Between the axles.
        wheelbase: Length,
        /// Radius of the front wheels; none at all stands for points.
        front_radius: Length,
        /// Radius of the rear wheels.
        rear_radius: Length,
    },
    /// Tracks; the datum is the rear end of their ground contact.
    Tracks {
        /// Length of the ground contact.
        contact: Length,
    },
}

/// A machine that is driven on, attachments included.
#[derive(Clone, Debug, PartialEq)]
pub struct Climber {
    /// On what it stands.
    pub gear: Gear,
    /// What it weighs.
    pub weight: Mass,
    /// Its centre of gravity ahead of the datum.
    pub arm: Length,
    /// Height of its centre of gravity above the ground it stands on. Without it the axles of a wheeled machine keep what
    /// they carry on level ground.
    pub height: Option<Length>,
    /// Which way its nose points: forward is up the ramp nose first.
    pub facing: Facing,
    /// Its underside and those of its attachments.
    pub undersides: Vec<Underside>,
}

/// The trailer, as far as a machine that climbs onto it presses on it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bearer {
    /// Station of the deck's rear edge as it stands level.
    pub rear_edge: Length,
    /// Station of the middle of the axles; above zero.
    pub axles: Length,
    /// Station of stands under the rear; behind the axles.
    pub stands: Option<Length>,
    /// For a deck that lies free on its hinge, its rear edge on the ground: the hinge ahead of the rear edge.
    pub free_on: Option<Length>,
}

/// A machine driven onto a trailer.
#[derive(Clone, Debug, PartialEq)]
pub struct Climb {
    /// The way up.
    pub way: Way,
    /// The machine.
    pub machine: Climber,
    /// How far its datum stands ahead of the deck's rear edge once it is at its place.
    pub ahead: Length,
    /// The trailer.
    pub trailer: Bearer,
}

/// Where a climb is tightest and what its course comes to, found in plain numbers. What it is in figures with their slopes,
/// [`Climb::clearance`] and the like tell.
#[derive(Debug)]
pub struct Found {
    pub(super) travel: Travel,
    end: f64,
    pub(super) tight: Result<Option<Tight>, ClimbError>,
    extremes: Extremes,
}

/// Where on the way up something happens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spot {
    /// At the ramp's foot: a part outside the wheels or tracks.
    Foot,
    /// At the crest, the deck's rear edge: a part between the wheels or over the tracks.
    Crest,
    /// At the top of the dovetail.
    DovetailTop,
}

/// The least gap under a machine.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clearance {
    /// The least vertical gap; below zero it would have to pass through.
    pub gap: Length,
    /// Which part comes nearest: the underside, and the part in it.
    pub part: (usize, usize),
    /// Where.
    pub spot: Spot,
    /// How far the leading axle, or the leading end of the tracks, is ahead of the deck's rear edge then.
    pub lead: Length,
}

impl Climb {
    /// Goes through the climb, in plain numbers: as far as the place, or, when the `whole` is asked, as far as there is deck.
    ///
    /// # Errors
    /// What is wrong with the way or the machine.
    ///
    /// Source: rigid-body geometry and levers, `../shared/reference/towing-and-statics.md` 6.2 and 7.1 (derived).
    pub fn found(&self, whole: bool) -> Result<Found, ClimbError> {
        let shape = Shape::plain(self)?;
        if let (Gear::Wheels { front_radius, rear_radius, .. }, Some(ramp)) = (self.machine.gear, self.way.ramp)
            && front_radius.max(rear_radius) > ramp
        {
            return Err(ClimbError::WheelLargerThanRamp);
        }
        let front = shape.profile.at(Corner::Front).map_or(shape.end, |front| front.x);
        // The whole does not hang on the place; one beyond the deck is gone through by itself ([`Self::is_told_by`]).
        let end = if whole { front } else { shape.end };
        let travel = Travel::of(&shape, end)?;
        let below = self.machine.undersides.iter().flat_map(|one| &one.parts);
        let tight = if below.clone().any(|part| part.clearance < Length::ZERO) {
            Err(ClimbError::UndersideBelowGround)
        } else {
            Sweep { profile: &shape.profile, under: &shape.under }.tightest(&travel)
        };
        let extremes = Extremes::of(&shape, &travel);
        Ok(Found { travel, end, tight, extremes })
    }

    /// Every plain number that [`Self::found`] follows from when the whole climb is asked, but for the place at its end
    /// ([`Self::is_told_by`] asks for that), to the bit: of two that have the same, the same is found.
    #[must_use]
    pub fn numbers(&self) -> Vec<u64> {
        let Self { way, machine, ahead: _, trailer } = self;
        let Way { foot_rise, ramp, deck_length, deck_height, dovetail, tilt } = way;
        let Climber { gear, weight, arm, height, facing, undersides } = machine;
        let Bearer { rear_edge, axles, stands, free_on } = trailer;
        // What is not there is told by a number that nothing is.
        let given = |length: Option<Length>| length.map_or(f64::NAN, Length::si);
        let mut all: Vec<f64> = vec![foot_rise.si(), given(*ramp), deck_length.si(), deck_height.si()];
        all.extend([given(dovetail.map(|(long, _)| long)), given(dovetail.map(|(_, drop)| drop))]);
        all.extend([given(tilt.map(|(hinge, _)| hinge)), tilt.map_or(f64::NAN, |(_, angle)| angle.si())]);
        all.extend(match gear {
            Gear::Wheels { wheelbase, front_radius, rear_radius } => {
                [*wheelbase, *front_radius, *rear_radius].map(Length::si)
            }
            Gear::Tracks { contact } => [contact.si(), f64::NAN, f64::NAN],
        });
        let nose = if *facing == Facing::Forward { 1.0 } else { -1.0 };
        all.extend([weight.si(), arm.si(), given(*height), nose]);
        all.extend([rear_edge.si(), axles.si(), given(*stands), given(*free_on)]);
        for Underside { parts, ends } in undersides {
            // An end of each, so that none can be taken for a part of the next.
            all.extend([f64::NAN, given(ends.0), given(ends.1)]);
            all.extend(parts.iter().flat_map(|part| [part.from.si(), part.to.si(), part.clearance.si()]));
        }
        all.into_iter().map(f64::to_bits).collect()
    }

    /// Whether what was found of this climb with another place holds for this one: nothing of it happens past the place.
    #[must_use]
    pub fn is_told_by(&self, found: &Found) -> bool {
        let Ok(shape) = Shape::plain(self) else { return false };
        let near = |piece: usize, at: f64| found.travel.reached(piece, at) <= shape.end + 1e-12;
        let tight = match &found.tight {
            Ok(Some(tight)) => near(tight.piece, tight.at),
            Ok(None) | Err(_) => true,
        };
        shape.end <= found.end + 1e-9 && tight && found.extremes.all().all(|one| near(one.piece, one.at))
    }

    /// The least gap. None where nothing of the underside is known.
    ///
    /// # Errors
    /// What is wrong with the underside.
    pub fn clearance(&self, found: &Found) -> Result<Option<Clearance>, ClimbError> {
        let Some(tight) = found.tight.as_ref().map_err(|error| *error)? else { return Ok(None) };
        let (shape, plain) = (Shape::of(self)?, Shape::plain(self)?);
        let sweep = Sweep { profile: &plain.profile, under: &plain.under };
        let told = || -> Option<Clearance> {
            let at = told_at(&shape, found, tight.at);
            let gap = touch::gap(&shape, &sweep, &found.travel, tight, at)?;
            let pose = shape.stand(&found.travel, tight.piece, at)?.pose;
            Some(Clearance {
                gap: Length::of(gap),
                part: touch::part(&shape, tight, &pose)?,
                spot: touch::spot(&shape, &found.travel, tight)?,
                lead: self.lead(&shape, &pose),
            })
        };
        told().map(Some).ok_or(ClimbError::NotFinite)
    }

    /// The extreme of something over the course of the climb, in kg.
    ///
    /// # Errors
    /// Something is no finite number.
    pub fn course(&self, found: &Found, what: Course) -> Result<Mass, ClimbError> {
        self.extreme(found, what).map(Mass::of)
    }

    /// How steep the machine stands at its steepest.
    ///
    /// # Errors
    /// Something is no finite number.
    pub fn pitch(&self, found: &Found) -> Result<Angle, ClimbError> {
        self.extreme(found, Course::Pitch).map(|sine| Angle::of(sine.asin() * (180.0 / std::f64::consts::PI)))
    }

    /// How far the leading axle, or the leading end of the tracks, is ahead of the deck's rear edge when something is at its
    /// extreme.
    ///
    /// # Errors
    /// Something is no finite number.
    pub fn lead_at(&self, found: &Found, what: Course) -> Result<Length, ClimbError> {
        let reached = found.extremes.get(what).ok_or(ClimbError::NotFinite)?;
        let shape = Shape::of(self)?;
        let at = told_at(&shape, found, reached.at);
        let stand = shape.stand(&found.travel, reached.piece, at).ok_or(ClimbError::NotFinite)?;
        Ok(self.lead(&shape, &stand.pose))
    }

    fn extreme(&self, found: &Found, what: Course) -> Result<Dual, ClimbError> {
        let reached = found.extremes.get(what).ok_or(ClimbError::NotFinite)?;
        let shape = Shape::of(self)?;
        let Reached { piece, at, .. } = reached;
        let at = reached
            .jump
            .and_then(|(other, back)| crossing(&shape, &found.travel, (piece, other), at, back))
            .unwrap_or_else(|| told_at(&shape, found, at));
        let value = |piece: usize| {
            let stand = shape.stand(&found.travel, piece, at)?;
            bears(&shape.profile, &shape.bearing, &stand, what)
        };
        let here = value(piece).ok_or(ClimbError::NotFinite)?;
        // At a kink between two pieces the extreme moves with what it rests on: the slopes of both sides, weighed so that the
        // motion itself has none.
        let mixed = reached.beside.and_then(|(other, share)| {
            let there = value(other)?;
            Some(here * (1.0 - share) + there * share)
        });
        Ok(mixed.unwrap_or(here))
    }

    /// How far the leading end of a tracked machine falls as it tips over a crest; none where it never tips.
    ///
    /// # Errors
    /// Something is no finite number.
    pub fn crest_drop(&self, found: &Found) -> Result<Option<Length>, ClimbError> {
        let shape = Shape::of(self)?;
        let (Travel::Tracks(crawling), Some(base)) = (&found.travel, shape.base()) else { return Ok(None) };
        let drops = crawling.stages.iter().filter_map(|stage| crawl::drop(&shape.profile, base, *stage));
        Ok(drops.reduce(Dual::max).map(Length::of))
    }

    /// How far the leading axle or the leading end of the tracks is ahead of the deck's rear edge.
    fn lead(&self, shape: &Shape<Dual>, pose: &super::body::Pose<Dual>) -> Length {
        let forward = self.machine.facing == Facing::Forward;
        let front = match self.machine.gear {
            Gear::Wheels { wheelbase, .. } => wheelbase,
            Gear::Tracks { contact } => contact,
        };
        let lead = if forward { front.dual() } else { Dual::new(0.0) };
        let at = pose.place(Point::new(lead, Dual::new(0.0)));
        let edge = shape.profile.at(Corner::Edge).map_or(Dual::new(0.0), |edge| edge.x);
        Length::of(at.x - edge)
    }
}

/// A value of the parameter with its slopes: the place at which a sweep ends moves with what it rests on.
fn told_at(shape: &Shape<Dual>, found: &Found, at: f64) -> Dual {
    let at_end = (at - found.end).abs() <= 1e-9 && (shape.end.value() - found.end).abs() <= 1e-9;
    if at_end { shape.end } else { Dual::new(at) }
}
