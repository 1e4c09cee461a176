//! The least gap under a machine over a whole motion.
//!
//! Between two broken lines the least vertical gap lies at a corner of either: a point of the underside over the profile, or
//! a corner of the profile under the underside. On a piece of the motion each such gap, taken to a straight line, is a smooth
//! function whose second derivative is bounded by how the machine can move there. So from the gaps at both ends of an
//! interval follows how small any gap can be within it: at least the smaller one less `M w²/8`. Intervals that could
//! hold a smaller gap than the least one seen are halved until none is left: no touch can lie between two looks.

use super::body::{Pose, Under};
use super::motion::{Bound, Motion};
use super::profile::Profile;
use super::way::ClimbError;

/// How much smaller a gap could be than the one that is told, in m: a twentieth of a millimetre.
const TOLERANCE: f64 = 5e-5;

/// After so many looks a search is given up; a hundred times what any machine has needed.
const MOST_LOOKS: usize = 400_000;

/// What comes nearest to what.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Touch {
    /// A point of the underside over a segment.
    Low { point: usize, segment: usize },
    /// A corner of the profile under the line that leads to this point.
    Corner { corner: usize, to: usize },
}

/// The least gap of a motion.
#[derive(Clone, Copy, Debug)]
pub(super) struct Tight {
    pub(super) gap: f64,
    pub(super) piece: usize,
    pub(super) at: f64,
    pub(super) touch: Touch,
}

struct Interval {
    piece: usize,
    from: (f64, Pose<f64>),
    to: (f64, Pose<f64>),
}

/// A machine's underside over a profile.
pub(super) struct Sweep<'a> {
    pub(super) profile: &'a Profile<f64>,
    pub(super) under: &'a [Under<f64>],
}

impl Sweep<'_> {
    /// The least gap over a motion. None when nothing of the machine is ever over the profile.
    pub(super) fn tightest(&self, motion: &impl Motion) -> Result<Option<Tight>, ClimbError> {
        let pieces = motion.pieces();
        let mut best: Option<Tight> = None;
        let mut open: Vec<Interval> = Vec::new();
        let look = |piece: usize, at: f64| motion.pose(piece, at).ok_or(ClimbError::NotFinite);
        for (piece, one) in pieces.iter().enumerate() {
            let (from, to) = (look(piece, one.from)?, look(piece, one.to)?);
            self.better(&mut best, piece, (one.from, &from));
            self.better(&mut best, piece, (one.to, &to));
            open.push(Interval { piece, from: (one.from, from), to: (one.to, to) });
        }
        let mut looks = 0_usize;
        while let Some(interval) = open.pop() {
            let Some(one) = pieces.get(interval.piece) else { continue };
            let least = self.least(&interval, &one.bound);
            let worth = best.is_none_or(|best| least < best.gap - TOLERANCE);
            if !worth || interval.to.0 - interval.from.0 <= f64::EPSILON * 16.0 {
                continue;
            }
            looks += 1;
            if looks > MOST_LOOKS {
                return Err(ClimbError::NotFinite);
            }
            let middle = f64::midpoint(interval.from.0, interval.to.0);
            let pose = look(interval.piece, middle)?;
            self.better(&mut best, interval.piece, (middle, &pose));
            open.push(Interval { from: (middle, pose), ..interval });
            open.push(Interval { to: (middle, pose), ..interval });
        }
        Ok(best.map(|best| self.polished(motion, &pieces, best)))
    }

    fn better(&self, best: &mut Option<Tight>, piece: usize, (at, pose): (f64, &Pose<f64>)) {
        if let Some((gap, touch)) = self.gap(pose)
            && best.is_none_or(|best| gap < best.gap)
        {
            *best = Some(Tight { gap, piece, at, touch });
        }
    }

    /// Goes down to the bottom of the hollow in which the least gap was seen, by golden sections: what a result rests on is
    /// asked there.
    fn polished(&self, motion: &impl Motion, pieces: &[super::motion::Piece], best: Tight) -> Tight {
        let Some(piece) = pieces.get(best.piece) else { return best };
        let mut found = Some(best);
        let reach = 0.01_f64;
        let (mut from, mut to) = ((best.at - reach).max(piece.from), (best.at + reach).min(piece.to));
        let ratio = (5.0_f64.sqrt() - 1.0) / 2.0;
        for _ in 0..48 {
            let (a, b) = (to - ratio * (to - from), from + ratio * (to - from));
            let gap = |at: f64| motion.pose(best.piece, at).and_then(|pose| Some((self.gap(&pose)?, at)));
            let (Some(one), Some(other)) = (gap(a), gap(b)) else { break };
            for ((gap, touch), at) in [one, other] {
                if found.is_none_or(|found| gap < found.gap) {
                    found = Some(Tight { gap, piece: best.piece, at, touch });
                }
            }
            if one.0.0 < other.0.0 {
                to = b;
            } else {
                from = a;
            }
        }
        found.unwrap_or(best)
    }

    /// The least gap as the machine stands.
    pub(super) fn gap(&self, pose: &Pose<f64>) -> Option<(f64, Touch)> {
        let mut least: Option<(f64, Touch)> = None;
        let mut take = |gap: f64, touch: Touch| {
            if least.is_none_or(|(least, _)| gap < least) {
                least = Some((gap, touch));
            }
        };
        let mut before = None;
        for (point, under) in self.under.iter().enumerate() {
            let at = pose.place(under.at);
            if let Some(segment) = self.profile.segment(at.x)
                && let Some(line) = self.profile.line(segment)
            {
                take(at.z - line.height(at.x), Touch::Low { point, segment });
            }
            if let Some(last) = before.replace(at).filter(|_| under.joined) {
                let (rear, front): (super::number::Point<f64>, _) =
                    if last.x <= at.x { (last, at) } else { (at, last) };
                for (corner, (_, q)) in self.profile.corners.iter().enumerate() {
                    if rear.x <= q.x && q.x <= front.x && front.x > rear.x {
                        let z = rear.z + (front.z - rear.z) * (q.x - rear.x) / (front.x - rear.x);
                        take(z - q.z, Touch::Corner { corner, to: point });
                    }
                }
            }
        }
        least
    }

    /// How small a gap can be within an interval: a bound from below.
    fn least(&self, interval: &Interval, bound: &Bound) -> f64 {
        let width = interval.to.0 - interval.from.0;
        let sag = width * width / 8.0;
        let poses = [&interval.from.1, &interval.to.1];
        let mut least = f64::INFINITY;
        let mut before: Option<[super::number::Point<f64>; 2]> = None;
        let last = self.profile.segments().saturating_sub(1);
        for under in self.under {
            let at = poses.map(|pose| pose.place(under.at));
            let (speed, bend) = bound.of(under.at);
            let segments = at.map(|at| self.profile.segment(at.x));
            if segments.iter().any(Option::is_some) {
                let over = segments.map(|one| one.unwrap_or(last));
                for segment in over[0].min(over[1])..=over[0].max(over[1]) {
                    let Some(line) = self.profile.line(segment) else { continue };
                    let gap = at.map(|at| at.z - line.height(at.x));
                    least = least.min(gap[0].min(gap[1]) - line.slope.hypot(1.0) * bend * sag);
                }
            }
            let joined = before.replace(at).filter(|_| under.joined);
            if let Some(start) = joined {
                least = least.min(self.corners(bound, (start, at), (width, speed, bend)));
            }
        }
        least
    }

    /// The same of the profile's corners under the line from one point of the underside to the next.
    fn corners(
        &self,
        bound: &Bound,
        (start, end): ([super::number::Point<f64>; 2], [super::number::Point<f64>; 2]),
        (width, speed, bend): (f64, f64, f64),
    ) -> f64 {
        let mut least = f64::INFINITY;
        let runs = [end[0].x - start[0].x, end[1].x - start[1].x];
        // A joint that stands upright, or turns over, has nothing under it that its ends have not.
        if runs[0].abs() <= 1e-9 || runs[1].abs() <= 1e-9 || (runs[0] > 0.0) != (runs[1] > 0.0) {
            return least;
        }
        let steep = [0, 1].map(|one| (end[one].z - start[one].z) / runs[one]);
        // The joint's own angle changes by so much at the most between the ends.
        let tan = (steep[0].abs().max(steep[1].abs()).atan() + bound.turn * width).min(1.57).tan();
        let secant = 1.0 + tan * tan;
        for (_, corner) in &self.profile.corners {
            let off = [corner.x - end[0].x, corner.x - end[1].x];
            let within = |one: usize| {
                let (low, high) = if runs[one] > 0.0 { (-runs[one], 0.0) } else { (0.0, -runs[one]) };
                (off[one] >= low, off[one] <= high)
            };
            let (a, b) = (within(0), within(1));
            // On one side of the joint at both ends, and so all the time but for what the bend can do.
            let slack = 2.0 * bend * width * width;
            let near = |one: usize| off[one].abs() <= slack || (off[one] + runs[one]).abs() <= slack;
            let inside = a.0 && a.1;
            let passes = a != b || inside || near(0) || near(1);
            if !passes {
                continue;
            }
            let gap = [0, 1].map(|one| end[one].z + steep[one] * off[one] - corner.z);
            let reach = off[0].abs().max(off[1].abs()) + speed * width;
            let second = (1.0 + tan) * bend
                + secant * (bound.turning + 2.0 * tan * bound.turn * bound.turn) * reach
                + 2.0 * secant * bound.turn * speed;
            least = least.min(gap[0].min(gap[1]) - second * width * width / 8.0);
        }
        least
    }
}
