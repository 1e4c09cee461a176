//! A machine on two axles: rigid on two wheel centres, each on its own path.

use super::body::Pose;
use super::motion::{Bound, Motion, Piece};
use super::number::{Number, Point};
use super::path::{On, Path, height, slope};
use super::profile::Profile;
use super::way::ClimbError;

/// A wheel in the turned frame: where its axle lies along the way, and its radius.
#[derive(Clone, Copy, Debug)]
pub(super) struct Wheel<N> {
    pub(super) u: N,
    pub(super) radius: N,
}

/// The two axles of a machine, the trailing one and the leading one.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bar<N> {
    pub(super) trail: Wheel<N>,
    pub(super) lead: Wheel<N>,
}

impl<N: Number> Bar<N> {
    /// Between the wheel centres.
    pub(super) fn length(&self) -> N {
        Point::new(self.lead.u - self.trail.u, self.lead.radius - self.trail.radius).length()
    }

    /// How the machine stands with its wheel centres here.
    pub(super) fn pose(&self, trail: Point<N>, lead: Point<N>) -> Pose<N> {
        let length = self.length();
        let (along, up) = ((lead.x - trail.x) / length, (lead.z - trail.z) / length);
        // On level ground the centres' line is inclined where the radii differ.
        let (run, rise) = ((self.lead.u - self.trail.u) / length, (self.lead.radius - self.trail.radius) / length);
        let (cos, sin) = (along * run + up * rise, up * run - along * rise);
        Pose::holding(Point::new(self.trail.u, self.trail.radius), trail, cos, sin)
    }

    /// The wheel centres with the trailing one at `x`, each wheel on what it stands on. `lead` is where the leading one is,
    /// without slopes; one step of Newton's method from there carries the slopes over.
    pub(super) fn centres(&self, profile: &Profile<N>, on: (On, On), x: N, lead: f64) -> Option<(Point<N>, Point<N>)> {
        let trail = Point::new(x, height(profile, on.0, self.trail.radius, x)?);
        let guess = N::of(lead);
        let z = height(profile, on.1, self.lead.radius, guess)?;
        let off = (guess - x).squared() + (z - trail.z).squared() - self.length().squared();
        let steep = path_slope(profile, on.1, self.lead.radius, guess)?;
        let rate = N::of(2.0) * ((guess - x) + (z - trail.z) * steep);
        let lead = guess - off / rate;
        Some((trail, Point::new(lead, height(profile, on.1, self.lead.radius, lead)?)))
    }
}

/// The slope of a path, with slopes of its own.
fn path_slope<N: Number>(profile: &Profile<N>, on: On, radius: N, x: N) -> Option<N> {
    match on {
        On::Segment(at) => Some(profile.line(at)?.slope),
        On::Corner(at) => {
            let off = x - profile.corners.get(at)?.1.x;
            Some(-off / (radius.squared() - off.squared()).root())
        }
    }
}

/// A piece of a climb on wheels.
#[derive(Clone, Copy, Debug)]
pub(super) struct Leg {
    /// Where the trailing centre is at its beginning and its end.
    pub(super) from: f64,
    pub(super) to: f64,
    /// What the trailing and the leading wheel stand on.
    pub(super) on: (On, On),
}

/// The climb of a machine on two axles, told by where its trailing wheel centre is.
#[derive(Debug)]
pub(super) struct Rolling {
    pub(super) profile: Profile<f64>,
    pub(super) bar: Bar<f64>,
    trail: Path,
    lead: Path,
    pub(super) legs: Vec<Leg>,
    /// Nowhere does a path differ in direction from the machine's axis by more than this.
    apart: f64,
}

impl Rolling {
    /// The climb from where the trailing centre is at `start` to where it is at `end`, or as far as the leading wheel finds
    /// a deck to stand on.
    pub(super) fn new(profile: Profile<f64>, bar: Bar<f64>, start: f64, end: f64) -> Result<Self, ClimbError> {
        let length = bar.length();
        let step = profile.step();
        let least = bar.trail.radius.min(bar.lead.radius);
        if step > 0.8 * least {
            return Err(ClimbError::StepTooHigh);
        }
        if length <= 0.0 || (bar.lead.radius - bar.trail.radius).abs() >= 0.9 * length {
            return Err(ClimbError::NoWheelbase);
        }
        let trail = Path::of(&profile, bar.trail.radius, start - 1.0);
        let lead = Path::of(&profile, bar.lead.radius, start - 1.0);
        let angles = [&trail, &lead].into_iter().flat_map(|path| {
            let ends = path.stretches.iter().flat_map(|one| [(one.on, one.from), (one.on, one.to)]);
            ends.filter_map(|(on, x)| slope(&profile, on, path.radius, x)).map(f64::atan).collect::<Vec<_>>()
        });
        let (low, high) = angles.fold((0.0_f64, 0.0_f64), |(low, high), angle| (low.min(angle), high.max(angle)));
        let lean = ((bar.lead.radius - bar.trail.radius) / length).asin().abs();
        let mut rolling = Self { profile, bar, trail, lead, legs: Vec::new(), apart: (high - low + lean).min(1.4) };
        rolling.legs = rolling.find_legs(start, end)?;
        Ok(rolling)
    }

    fn find_legs(&self, start: f64, end: f64) -> Result<Vec<Leg>, ClimbError> {
        let front = self.lead.stretches.last().map_or(end, |last| last.to);
        let farthest = self.trail_for(front).map_or(end, |trail| trail.min(end));
        let mut cuts = vec![start, farthest];
        cuts.extend(self.trail.stretches.iter().map(|one| one.to));
        cuts.extend(self.lead.stretches.iter().filter_map(|one| self.trail_for(one.to)));
        cuts.retain(|cut| *cut >= start && *cut <= farthest);
        cuts.sort_by(f64::total_cmp);
        let mut legs = Vec::new();
        for pair in cuts.windows(2) {
            let [from, to] = *pair else { continue };
            if to <= from {
                continue;
            }
            let middle = f64::midpoint(from, to);
            let lead = self.lead_for(middle).ok_or(ClimbError::NotFinite)?;
            let on = self.trail.stretch(middle).zip(self.lead.stretch(lead)).ok_or(ClimbError::NotFinite)?;
            legs.push(Leg { from, to, on: (on.0.on, on.1.on) });
        }
        Ok(legs)
    }

    /// Where the leading centre is when the trailing one is at `x`.
    pub(super) fn lead_for(&self, x: f64) -> Option<f64> {
        let (z, _) = self.trail.at(&self.profile, x)?;
        meets(Point::new(x, z), self.bar.length(), 1.0, |at| self.lead.at(&self.profile, at))
    }

    /// Where the trailing centre is when the leading one is at `x`.
    pub(super) fn trail_for(&self, x: f64) -> Option<f64> {
        let (z, _) = self.lead.at(&self.profile, x)?;
        meets(Point::new(x, z), self.bar.length(), -1.0, |at| self.trail.at(&self.profile, at))
    }

    fn bound(&self, leg: &Leg) -> Bound {
        let length = self.bar.length();
        let ends = |on: On, radius: f64, from: f64, to: f64| {
            let slopes = [from, to].map(|x| slope(&self.profile, on, radius, x).unwrap_or(0.0));
            let angles = slopes.map(f64::atan);
            let (low, high) = (angles[0].min(angles[1]), angles[0].max(angles[1]));
            let curved = match on {
                On::Segment(_) => 0.0,
                On::Corner(_) => 1.0 / radius,
            };
            (low, high, curved)
        };
        let lead = [leg.from, leg.to].map(|x| self.lead_for(x).unwrap_or(x));
        let (rear_low, rear_high, rear_curve) = ends(leg.on.0, self.bar.trail.radius, leg.from, leg.to);
        let (front_low, front_high, front_curve) = ends(leg.on.1, self.bar.lead.radius, lead[0], lead[1]);
        let apart = (front_high - rear_low).abs().max((rear_high - front_low).abs());
        let sine = if apart < std::f64::consts::FRAC_PI_2 { apart.sin() } else { 1.0 };
        let steep = rear_low.abs().max(rear_high.abs()).min(1.5).tan();
        let per = steep.hypot(1.0);
        let spread = 1.0 / self.apart.cos();
        // By the arc length of the trailing centre's path: the leading centre moves at cos(a - p)/cos(b - p), the machine
        // turns by sin(b - a)/(length cos(b - p)), with a, b the directions of the paths and p that of the machine.
        let turn = sine * spread / length;
        let turning = ((spread * front_curve + rear_curve) * spread
            + sine * spread * spread * (spread * front_curve + turn))
            / length;
        // Told by x instead: ds/dx is `per` at the most, and d²s/dx² no more than the curve makes it.
        let bend = rear_curve * per * per * per;
        Bound {
            point: Point::new(self.bar.trail.u, self.bar.trail.radius),
            speed: per,
            bend,
            turn: turn * per,
            turning: turning * per * per + turn * bend,
        }
    }
}

impl Motion for Rolling {
    fn pieces(&self) -> Vec<Piece> {
        self.legs.iter().map(|leg| Piece { from: leg.from, to: leg.to, bound: self.bound(leg) }).collect()
    }

    fn pose(&self, piece: usize, at: f64) -> Option<Pose<f64>> {
        let leg = self.legs.get(piece)?;
        let lead = self.lead_for(at)?;
        let (trail, lead) = self.bar.centres(&self.profile, leg.on, at, lead)?;
        Some(self.bar.pose(trail, lead))
    }
}

/// Where a path is this far from a point, on this side of it: Newton's method kept between two bounds.
fn meets(from: Point<f64>, length: f64, side: f64, path: impl Fn(f64) -> Option<(f64, f64)>) -> Option<f64> {
    // Within the length the path is too near, at the length it is far enough: by level distance alone.
    let (mut near, mut far) = (0.0, length);
    let mut ahead = length;
    for _ in 0..100 {
        let (z, slope) = path(from.x + side * ahead)?;
        let off = ahead * ahead + (z - from.z) * (z - from.z) - length * length;
        if off > 0.0 {
            far = ahead;
        } else {
            near = ahead;
        }
        let rate = 2.0 * (ahead + (z - from.z) * slope * side);
        let step = off / rate;
        let next = ahead - step;
        let next = if rate > 0.0 && next > near && next < far { next } else { f64::midpoint(near, far) };
        if (next - ahead).abs() <= 1e-14 * (1.0 + length) || far - near <= 1e-14 {
            return Some(from.x + side * next);
        }
        ahead = next;
    }
    Some(from.x + side * ahead)
}
