//! A machine on tracks: a flat base that follows the way up.
//!
//! Where the way bends up (the foot) the base bridges the corner, on its two ends; where it bends down (the edge, the top of
//! a dovetail) it stays as it is until the vertical through its centre of gravity passes the corner, and then tips over it onto
//! what lies ahead.

use super::body::Pose;
use super::course::{Part, Press, Stand};
use super::motion::{Bound, Motion, Piece};
use super::number::{Number, Point};
use super::profile::Profile;
use super::way::ClimbError;

/// A base in the turned frame: its trailing and its leading end, and the centre of gravity over it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Base<N> {
    pub(super) trail: N,
    pub(super) lead: N,
    pub(super) cg: Point<N>,
    pub(super) weight: N,
}

impl<N: Number> Base<N> {
    pub(super) fn length(&self) -> N {
        self.lead - self.trail
    }
}

/// What the base touches ahead of its trailing end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ahead {
    /// A corner, somewhere under it.
    Corner(usize),
    /// A segment, with its leading end.
    Segment(usize),
}

/// How the base leans before it tips.
#[derive(Clone, Copy, Debug)]
pub(super) enum Leans {
    /// Flat on a segment.
    Flat(usize),
    /// With its trailing end on a segment, at this `x`.
    Bridging { on: usize, at: f64 },
}

/// A piece of a climb on tracks.
#[derive(Clone, Copy, Debug)]
pub(super) enum Stage {
    /// The trailing end goes along a segment, from this `x` to that.
    Drag { from: f64, to: f64, on: usize, ahead: Ahead },
    /// It tips about a corner, which is this far ahead of the trailing end, from one angle to the next.
    Tip { corner: usize, off: f64, from: f64, to: f64, leans: Leans },
    /// It lies flat on a segment, or in line with it; the trailing end from this `x` to that.
    Flat { from: f64, to: f64, on: usize },
}

/// The climb of a machine on tracks.
#[derive(Debug)]
pub(super) struct Crawling {
    pub(super) profile: Profile<f64>,
    pub(super) base: Base<f64>,
    pub(super) stages: Vec<Stage>,
}

/// The highest step at the edge of a tilted deck, as a part of their length, that tracks are taken to climb with their rounded
/// ends: a working value, for what stands before their flat part is not given.
const HIGHEST_STEP: f64 = 0.1;

impl Crawling {
    /// The climb from where the trailing end is at `start` to where it is at `end` on the deck.
    pub(super) fn new(profile: Profile<f64>, base: Base<f64>, start: f64, end: f64) -> Result<Self, ClimbError> {
        if base.length() <= 0.0 || base.cg.x < base.trail || base.cg.x > base.lead {
            return Err(ClimbError::NotOnTracks);
        }
        if profile.step() > HIGHEST_STEP * base.length() {
            return Err(ClimbError::StepTooHigh);
        }
        let mut climb = Self { profile, base, stages: Vec::new() };
        climb.go(start, end)?;
        Ok(climb)
    }

    fn go(&mut self, start: f64, end: f64) -> Result<(), ClimbError> {
        let mut cuts = vec![start, end];
        let corners: Vec<Point<f64>> = self.profile.corners.iter().map(|(_, at)| *at).collect();
        cuts.extend(corners.iter().map(|corner| corner.x));
        for segment in 0..self.profile.segments() {
            let Some(line) = self.profile.line(segment) else { continue };
            for (at, corner) in corners.iter().enumerate() {
                // Where the corner comes within the base's length, and where the base lies on it and on another.
                let fall = line.height(corner.x) - corner.z;
                let p = line.slope.hypot(1.0);
                let off = fall * line.slope / (p * p);
                let root = off * off - (fall * fall - self.base.length().powi(2)) / (p * p);
                if root >= 0.0 {
                    cuts.push(corner.x - off - root.sqrt());
                }
                for other in corners.iter().skip(at + 1) {
                    let slope = (other.z - corner.z) / (other.x - corner.x);
                    let meet = (corner.z - line.height(0.0) - slope * corner.x) / (line.slope - slope);
                    cuts.push(meet);
                }
            }
        }
        cuts.retain(|cut| cut.is_finite() && *cut >= start && *cut <= end);
        cuts.sort_by(f64::total_cmp);
        for pair in cuts.windows(2) {
            let [from, to] = *pair else { continue };
            if to - from <= 1e-12 {
                continue;
            }
            let middle = f64::midpoint(from, to);
            let (on, ahead) = self.touches(middle).ok_or(ClimbError::NotFinite)?;
            let stage = |to: f64| Stage::Drag { from, to, on, ahead };
            // With its trailing end at the corner itself, or under the edge of a step, everything is past it.
            let gone = |at: f64| {
                let Ahead::Corner(corner) = ahead else { return false };
                self.profile.corners.get(corner).is_some_and(|(_, corner)| corner.x - at <= 1e-9)
            };
            let past = |at: f64| if gone(at) { Some(1.0) } else { self.past(stage(at), at) };
            self.steady(stage(to), from)?;
            if !gone(to) {
                self.steady(stage(to), to)?;
            }
            if let Ahead::Corner(corner) = ahead
                && past(to).ok_or(ClimbError::NotFinite)? > 0.0
            {
                let (mut low, mut high) = (from, to);
                for _ in 0..200 {
                    let at = f64::midpoint(low, high);
                    *(if past(at).ok_or(ClimbError::NotFinite)? > 0.0 { &mut high } else { &mut low }) = at;
                }
                if low > from {
                    self.steady(stage(low), low)?;
                    self.stages.push(stage(low));
                }
                return self.over(corner, stage(low), low, end);
            }
            self.stages.push(stage(to));
        }
        Ok(())
    }

    /// On from where it tips over a corner.
    fn over(&mut self, corner: usize, stage: Stage, at: f64, end: f64) -> Result<(), ClimbError> {
        let pose = self.stand_plain(stage, at).ok_or(ClimbError::NotFinite)?.pose;
        let (_, pivot) = *self.profile.corners.get(corner).ok_or(ClimbError::NotFinite)?;
        let trail = pose.place(Point::new(self.base.trail, 0.0));
        let mut off = pivot.minus(trail).length();
        let mut angle = pose.sin.atan2(pose.cos);
        let mut leans = match stage {
            Stage::Drag { on, ahead: Ahead::Corner(corner), .. } if on == corner => Leans::Flat(on),
            Stage::Drag { on, .. } | Stage::Flat { on, .. } => Leans::Bridging { on, at },
            Stage::Tip { .. } => return Err(ClimbError::NotFinite),
        };
        for segment in corner + 1..self.profile.segments() {
            let line = self.profile.line(segment).ok_or(ClimbError::NotFinite)?;
            let next = line.slope.atan();
            if next > angle + 1e-9 {
                return Err(ClimbError::BendsUp);
            }
            // In line with what lies ahead already, nothing tips: the weight goes over from one support to the next.
            if angle - next > 1e-9 {
                self.stages.push(Stage::Tip { corner: segment - 1, off, from: angle, to: next, leans });
            }
            (angle, leans) = (next, Leans::Flat(segment));
            let (cos, sin) = (angle.cos(), angle.sin());
            let from = line.from.x - off * cos;
            // Until the centre of gravity is over the next corner, or the machine stands at its place.
            let reach = (self.base.cg.x - self.base.trail) * cos - self.base.cg.z * sin;
            let next_corner = self.profile.corners.get(segment).map_or(f64::INFINITY, |(_, at)| at.x);
            let to = if segment + 1 == self.profile.segments() { end } else { (next_corner - reach).min(end) };
            if to > from {
                self.stages.push(Stage::Flat { from, to, on: segment });
            }
            if to >= end {
                break;
            }
            off = (next_corner - to.max(from)) / cos;
        }
        Ok(())
    }

    /// What the trailing end stands on at `x`, and what the base touches ahead of it: whatever it would meet first, were it
    /// let down from upright.
    fn touches(&self, x: f64) -> Option<(usize, Ahead)> {
        let on = self.profile.segment(x)?;
        let trail = Point::new(x, self.profile.line(on)?.height(x));
        let length = self.base.length();
        let mut best: Option<(f64, Ahead)> = None;
        let mut take = |at: Point<f64>, ahead: Ahead| {
            let to = at.minus(trail);
            let angle = to.z.atan2(to.x);
            if best.is_none_or(|(most, _)| angle > most + 1e-12) {
                best = Some((angle, ahead));
            }
        };
        for (corner, (_, at)) in self.profile.corners.iter().enumerate() {
            if at.x > x && at.minus(trail).length() <= length {
                take(*at, Ahead::Corner(corner));
            }
        }
        for segment in on..self.profile.segments() {
            if let Some(at) = meets(&self.profile, segment, trail, length) {
                let to = self.profile.corners.get(segment)?.1.x;
                let from = if segment == 0 { f64::NEG_INFINITY } else { self.profile.corners.get(segment - 1)?.1.x };
                if from <= at.x && (at.x <= to || segment + 1 == self.profile.segments()) {
                    take(at, Ahead::Segment(segment));
                }
            }
        }
        best.map(|(_, ahead)| (on, ahead))
    }

    /// How far the vertical through the centre of gravity is past what is touched ahead.
    fn past(&self, stage: Stage, at: f64) -> Option<f64> {
        let stand = self.stand_plain(stage, at)?;
        let Stage::Drag { ahead: Ahead::Corner(corner), .. } = stage else { return None };
        Some(stand.pose.place(self.base.cg).x - self.profile.corners.get(corner)?.1.x)
    }

    /// Whether it does not tip over backward.
    fn steady(&self, stage: Stage, at: f64) -> Result<(), ClimbError> {
        let pose = self.stand_plain(stage, at).ok_or(ClimbError::NotFinite)?.pose;
        let (cg, trail) = (pose.place(self.base.cg), pose.place(Point::new(self.base.trail, 0.0)));
        if cg.x < trail.x { Err(ClimbError::TipsBack) } else { Ok(()) }
    }

    fn stand_plain(&self, stage: Stage, at: f64) -> Option<Stand<f64>> {
        stand(&self.profile, &self.base, stage, at)
    }
}

/// Where a segment's line is this far ahead of a point.
fn meets<N: Number>(profile: &Profile<N>, segment: usize, from: Point<N>, length: N) -> Option<Point<N>> {
    let line = profile.line(segment)?;
    // (x - fx)² + (line(x) - fz)² = length², with the line told from the point.
    let (p, fall) = (N::of(1.0) + line.slope.squared(), line.height(from.x) - from.z);
    let half = line.slope * fall / p;
    let root = half.squared() - (fall.squared() - length.squared()) / p;
    if root.value() < 0.0 {
        return None;
    }
    let x = from.x - half + root.root();
    Some(Point::new(x, line.height(x)))
}

/// How the machine stands at a value of a stage's parameter.
pub(super) fn stand<N: Number>(profile: &Profile<N>, base: &Base<N>, stage: Stage, at: N) -> Option<Stand<N>> {
    let zero = N::of(0.0);
    let nothing = Press { at: zero, weight: zero, on: Part::Ground };
    let flat = |pose: Pose<N>, on: Part| {
        let force = Press { at: pose.place(base.cg).x, weight: base.weight, on };
        Stand { pose, forces: [force, nothing] }
    };
    match stage {
        Stage::Flat { on, .. } => {
            let line = profile.line(on)?;
            let long = (N::of(1.0) + line.slope.squared()).root();
            let trail = Point::new(at, line.height(at));
            let pose = Pose::holding(Point::new(base.trail, zero), trail, N::of(1.0) / long, line.slope / long);
            Some(flat(pose, Part::of_segment(profile, on)))
        }
        Stage::Tip { corner, leans, .. } => {
            let (_, pivot) = *profile.corners.get(corner)?;
            let (off, first) = tips(profile, base, corner, leans)?;
            let last = profile.line(corner + 1)?.direction();
            let rest = N::of(1.0) - at;
            let (x, z) = (first.x * rest + last.x * at, first.z * rest + last.z * at);
            let long = Point::new(x, z).length();
            let pose = Pose::holding(Point::new(base.trail + off, zero), pivot, x / long, z / long);
            let force = Press { at: pivot.x, weight: base.weight, on: Part::of_corner(profile, corner) };
            Some(Stand { pose, forces: [force, nothing] })
        }
        Stage::Drag { on, ahead, .. } => {
            let trail = Point::new(at, profile.line(on)?.height(at));
            let (to, part, lies) = match ahead {
                Ahead::Corner(corner) => {
                    (profile.corners.get(corner)?.1, Part::of_corner(profile, corner), corner == on)
                }
                Ahead::Segment(segment) => {
                    let there = meets(profile, segment, trail, base.length())?;
                    (there, Part::of_segment(profile, segment), segment == on)
                }
            };
            let way = to.minus(trail);
            let long = way.length();
            let pose = Pose::holding(Point::new(base.trail, zero), trail, way.x / long, way.z / long);
            let own = Part::of_segment(profile, on);
            if lies {
                return Some(flat(pose, own));
            }
            let ahead = base.weight * (pose.place(base.cg).x - trail.x) / (to.x - trail.x);
            let forces = [
                Press { at: trail.x, weight: base.weight - ahead, on: own },
                Press { at: to.x, weight: ahead, on: part },
            ];
            Some(Stand { pose, forces })
        }
    }
}

/// How the base leans when it begins to tip over a corner: how far the corner is from its trailing end, and which way it points.
/// It tips where the vertical through its centre of gravity meets the corner, and so both carry slopes.
fn tips<N: Number>(profile: &Profile<N>, base: &Base<N>, corner: usize, leans: Leans) -> Option<(N, Point<N>)> {
    let (_, pivot) = *profile.corners.get(corner)?;
    let arm = base.cg.x - base.trail;
    match leans {
        Leans::Flat(on) => {
            let line = profile.line(on)?;
            Some((arm - base.cg.z * line.slope, line.direction()))
        }
        Leans::Bridging { on, at } => {
            let line = profile.line(on)?;
            let lean = |x: N| {
                let way = pivot.minus(Point::new(x, line.height(x)));
                let long = way.length();
                (long, Point::new(way.x / long, way.z / long))
            };
            let past = |x: N| {
                let (_, way) = lean(x);
                x + arm * way.x - base.cg.z * way.z - pivot.x
            };
            let step = 1e-6;
            let rate = (past(N::of(at + step)).value() - past(N::of(at - step)).value()) / (2.0 * step);
            // One step of Newton's method from where it was found carries the slopes over.
            let x = N::of(at) - past(N::of(at)) / N::of(rate);
            Some(lean(x))
        }
    }
}

/// How far its leading end falls as it tips over a corner: the lever ahead of the corner times the change of its sine.
pub(super) fn drop<N: Number>(profile: &Profile<N>, base: &Base<N>, stage: Stage) -> Option<N> {
    let Stage::Tip { leans, corner, .. } = stage else { return None };
    let (off, first) = tips(profile, base, corner, leans)?;
    Some((base.length() - off) * (first.z - profile.line(corner + 1)?.direction().z))
}

impl Motion for Crawling {
    fn pieces(&self) -> Vec<Piece> {
        self.stages.iter().map(|stage| self.piece(*stage)).collect()
    }

    fn pose(&self, piece: usize, at: f64) -> Option<Pose<f64>> {
        self.stand_plain(*self.stages.get(piece)?, at).map(|stand| stand.pose)
    }
}

impl Crawling {
    fn piece(&self, stage: Stage) -> Piece {
        let at = Point::new(self.base.trail, 0.0);
        let still = Bound { point: at, speed: 0.0, bend: 0.0, turn: 0.0, turning: 0.0 };
        let slope = |segment: usize| self.profile.line(segment).map_or(0.0, |line| line.slope);
        match stage {
            Stage::Flat { from, to, on } => Piece { from, to, bound: Bound { speed: slope(on).hypot(1.0), ..still } },
            Stage::Tip { off, from, to, .. } => {
                let point = Point::new(self.base.trail + off, 0.0);
                // Its direction goes straight from the one to the other, and so a little faster half way.
                let between = (to - from).abs();
                let turn = 2.0 * (between / 2.0).min(1.4).tan();
                let bound = Bound { point, turn, turning: 2.0 * turn * turn, ..still };
                Piece { from: 0.0, to: 1.0, bound }
            }
            Stage::Drag { from, to, on, ahead } => {
                let per = slope(on).hypot(1.0);
                let ends =
                    [from, to].map(|x| self.stand_plain(stage, x).map_or(0.0, |one| one.pose.sin.atan2(one.pose.cos)));
                let own = slope(on).atan();
                let apart = ends.iter().fold(0.0_f64, |most, angle| most.max((angle - own).abs())) + 1e-9;
                let (turn, turning) = match ahead {
                    Ahead::Corner(corner) if corner == on => (0.0, 0.0),
                    Ahead::Segment(segment) if segment == on => (0.0, 0.0),
                    Ahead::Segment(segment) => {
                        let between = (slope(segment).atan() - own).abs();
                        let spread = 1.0 / between.min(1.4).cos();
                        let turn = between.min(1.57).sin() * spread / self.base.length();
                        (turn, between.min(1.57).sin() * spread * spread * turn / self.base.length())
                    }
                    Ahead::Corner(corner) => {
                        let pivot = self.profile.corners.get(corner).map_or(at, |(_, at)| *at);
                        let near = [from, to].map(|x| {
                            pivot.minus(Point::new(x, self.profile.line(on).map_or(0.0, |l| l.height(x)))).length()
                        });
                        let near = near[0].min(near[1]).max(1e-6);
                        let turn = apart.min(1.57).sin() / near;
                        (turn, 3.0 * turn / near)
                    }
                };
                let bound = Bound { point: at, speed: per, bend: 0.0, turn: turn * per, turning: turning * per * per };
                Piece { from, to, bound }
            }
        }
    }
}
