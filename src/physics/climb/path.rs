//! The line on which a wheel's centre rolls: the upper envelope of its circles on the profile.
//!
//! Over a straight segment the centre runs beside it at the wheel's radius; over a corner that points up it runs on a circle
//! round the corner. Whichever lies highest is where the wheel stands.

use super::number::{Number, Point};
use super::profile::Profile;

/// What a wheel stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum On {
    /// A segment, by its place.
    Segment(usize),
    /// A corner, by its place.
    Corner(usize),
}

/// A stretch of the path on which the wheel stands on one thing.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stretch {
    /// The centre's `x` at its rear end.
    pub(super) from: f64,
    /// The centre's `x` at its front end.
    pub(super) to: f64,
    pub(super) on: On,
}

/// The path of the centre of a wheel.
#[derive(Clone, Debug)]
pub(super) struct Path {
    pub(super) radius: f64,
    /// Rear to front, each beginning where the one before ends. The first begins far out on the ground.
    pub(super) stretches: Vec<Stretch>,
}

/// The height of a wheel's centre that stands on this with its centre at `x`.
pub(super) fn height<N: Number>(profile: &Profile<N>, on: On, radius: N, x: N) -> Option<N> {
    match on {
        On::Segment(at) => {
            let line = profile.line(at)?;
            Some(line.height(x) + radius * (N::of(1.0) + line.slope.squared()).root())
        }
        On::Corner(at) => {
            let (_, corner) = *profile.corners.get(at)?;
            let up = radius.squared() - (x - corner.x).squared();
            (up.value() >= 0.0).then(|| corner.z + up.root())
        }
    }
}

/// Where such a wheel touches the profile.
pub(super) fn contact<N: Number>(profile: &Profile<N>, on: On, radius: N, x: N) -> Option<Point<N>> {
    match on {
        On::Segment(at) => {
            let line = profile.line(at)?;
            let x = x + radius * line.slope / (N::of(1.0) + line.slope.squared()).root();
            Some(Point::new(x, line.height(x)))
        }
        On::Corner(at) => profile.corners.get(at).map(|(_, corner)| *corner),
    }
}

impl Path {
    /// The path of a wheel of this radius, from `start` on the ground to the deck's front edge.
    pub(super) fn of(profile: &Profile<f64>, radius: f64, start: f64) -> Self {
        let segments = (0..profile.segments()).filter_map(|at| {
            let line = profile.line(at)?;
            let back = radius * line.slope / line.slope.hypot(1.0);
            let rear = if at == 0 { start } else { profile.corners.get(at - 1)?.1.x - back };
            Some(Stretch { from: rear, to: profile.corners.get(at)?.1.x - back, on: On::Segment(at) })
        });
        // At the front edge the path ends with the deck, and does not roll down over it.
        let inner = profile.corners.iter().enumerate().take(profile.segments().saturating_sub(1));
        let corners = inner.filter(|_| radius > 0.0).map(|(at, (_, corner))| Stretch {
            from: corner.x - radius,
            to: corner.x + radius,
            on: On::Corner(at),
        });
        let segments: Vec<Stretch> = segments.collect();
        let end = segments.last().map_or(start, |last| last.to);
        let all: Vec<Stretch> = segments.into_iter().chain(corners).filter(|one| one.to > one.from).collect();
        let mut cuts: Vec<f64> = all.iter().flat_map(|one| [one.from, one.to]).chain([start, end]).collect();
        for (at, one) in all.iter().enumerate() {
            for other in all.iter().skip(at + 1) {
                cuts.extend(crossings(profile, radius, one, other));
            }
        }
        cuts.retain(|cut| *cut >= start && *cut <= end);
        cuts.sort_by(f64::total_cmp);
        let mut stretches: Vec<Stretch> = Vec::new();
        for pair in cuts.windows(2) {
            let [from, to] = *pair else { continue };
            let middle = f64::midpoint(from, to);
            let over = all.iter().filter(|one| one.from <= middle && middle <= one.to);
            let highest = over
                .filter_map(|one| Some((height(profile, one.on, radius, middle)?, one.on)))
                .max_by(|a, b| a.0.total_cmp(&b.0));
            let Some((_, on)) = highest.filter(|_| to > from) else { continue };
            match stretches.last_mut() {
                Some(last) if last.on == on => last.to = to,
                _ => stretches.push(Stretch { from, to, on }),
            }
        }
        Self { radius, stretches }
    }

    /// The stretch in which the centre is at `x`.
    pub(super) fn stretch(&self, x: f64) -> Option<&Stretch> {
        self.stretches.iter().find(|one| x <= one.to).or(self.stretches.last())
    }

    /// Height and slope of the path at `x`.
    pub(super) fn at(&self, profile: &Profile<f64>, x: f64) -> Option<(f64, f64)> {
        let on = self.stretch(x)?.on;
        let z = height(profile, on, self.radius, x)?;
        Some((z, slope(profile, on, self.radius, x)?))
    }
}

/// The path's slope where the wheel stands on this.
pub(super) fn slope(profile: &Profile<f64>, on: On, radius: f64, x: f64) -> Option<f64> {
    match on {
        On::Segment(at) => Some(profile.line(at)?.slope),
        On::Corner(at) => {
            let off = x - profile.corners.get(at)?.1.x;
            Some(-off / (radius * radius - off * off).max(f64::MIN_POSITIVE).sqrt())
        }
    }
}

/// Where two stretches lie equally high.
fn crossings(profile: &Profile<f64>, radius: f64, one: &Stretch, other: &Stretch) -> Vec<f64> {
    let line = |on: On| match on {
        On::Segment(at) => profile.line(at).map(|line| (line.slope, line.height(0.0) + radius * line.slope.hypot(1.0))),
        On::Corner(_) => None,
    };
    let corner = |on: On| match on {
        On::Corner(at) => profile.corners.get(at).map(|(_, at)| *at),
        On::Segment(_) => None,
    };
    // The circle round the end of a segment only touches the line beside it, and does so where the segment's stretch ends.
    if let (On::Segment(segment), On::Corner(corner)) | (On::Corner(corner), On::Segment(segment)) = (one.on, other.on)
        && (segment == corner || segment == corner + 1)
    {
        return Vec::new();
    }
    match (line(one.on), line(other.on), corner(one.on), corner(other.on)) {
        (Some((m1, b1)), Some((m2, b2)), ..) => vec![(b2 - b1) / (m1 - m2)],
        (Some((m, b)), None, None, Some(c)) | (None, Some((m, b)), Some(c), None) => {
            // (x - cx)² + (m x + b - cz)² = r²
            let (p, q) = (1.0 + m * m, m * (b - c.z) - c.x);
            let root = q * q - p * (c.x * c.x + (b - c.z) * (b - c.z) - radius * radius);
            // Where the line only touches the circle, rounding must not lose the point.
            let root = root.max(0.0).sqrt();
            vec![(-q - root) / p, (-q + root) / p]
        }
        (None, None, Some(a), Some(b)) => {
            let (dx, dz) = (b.x - a.x, b.z - a.z);
            let apart = dx.hypot(dz);
            let half = radius * radius - apart * apart / 4.0;
            if apart <= 0.0 || half < 0.0 {
                return Vec::new();
            }
            let (mx, off) = (f64::midpoint(a.x, b.x), half.sqrt() * dz / apart);
            vec![mx - off, mx + off]
        }
        _ => Vec::new(),
    }
    .into_iter()
    .filter(|x| x.is_finite())
    .collect()
}
