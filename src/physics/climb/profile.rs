//! The ground, the ramp and the deck as one line from the ground behind the foot to the deck's front edge.

use super::number::{Number, Point};
use super::way::{ClimbError, Way};
use crate::units::Dual;

/// What a corner of the profile is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Corner {
    Foot,
    Edge,
    DovetailTop,
    Front,
}

/// A line of straight segments. Level ground runs out behind the first corner; nothing lies ahead of the last.
#[derive(Clone, Debug)]
pub(super) struct Profile<N> {
    /// The corners, rear to front: foot, the deck's rear edge, the top of a dovetail, the deck's front edge.
    pub(super) corners: Vec<(Corner, Point<N>)>,
}

/// The line that a segment lies on: `z = z0 + slope (x - x0)`.
#[derive(Clone, Copy, Debug)]
pub(super) struct Line<N> {
    pub(super) from: Point<N>,
    pub(super) slope: N,
}

impl<N: Number> Line<N> {
    /// Which way it points, forward along it.
    pub(super) fn direction(&self) -> Point<N> {
        let long = (N::of(1.0) + self.slope.squared()).root();
        Point::new(N::of(1.0) / long, self.slope / long)
    }

    pub(super) fn height(&self, x: N) -> N {
        self.from.z + self.slope * (x - self.from.x)
    }
}

/// Lengths shorter than this, in m, are none: a ramp's foot at its own edge, a dovetail of no length.
const NOTHING: f64 = 1e-9;

impl Profile<Dual> {
    /// The profile of a way up.
    pub(super) fn of(way: &Way) -> Result<Self, ClimbError> {
        let (length, height) = (way.deck_length.dual(), way.deck_height.dual());
        let zero = Dual::new(0.0);
        // In the deck's own frame: distance ahead of its rear edge, height above its plane.
        let mut deck = vec![(Corner::Front, length, zero)];
        match way.dovetail {
            Some((run, drop)) if run.si() > NOTHING => {
                deck.push((Corner::DovetailTop, run.dual(), zero));
                deck.push((Corner::Edge, zero, -drop.dual()));
            }
            _ => deck.push((Corner::Edge, zero, zero)),
        }
        let turned = |along: Dual, above: Dual| match way.tilt {
            None => Point::new(along, height + above),
            Some((hinge, angle)) => {
                let hinge = hinge.dual();
                let (sin, cos) = sin_cos(angle);
                let ahead = along - hinge;
                Point::new(hinge + ahead * cos - above * sin, height + ahead * sin + above * cos)
            }
        };
        let mut corners: Vec<(Corner, Point<Dual>)> =
            deck.into_iter().map(|(corner, along, above)| (corner, turned(along, above))).collect();
        let edge = corners.last().map_or(Point::new(zero, height), |(_, at)| *at);
        let foot = way.foot_rise.dual();
        let rise = edge.z - foot;
        match way.ramp {
            Some(ramp) => {
                let ramp = ramp.dual();
                if ramp.value() <= 0.0 || rise.value().abs() >= ramp.value() {
                    return Err(ClimbError::RampTooShort);
                }
                let run = (ramp * ramp - rise * rise).powf(0.5);
                if rise.value() > run.value() * STEEPEST {
                    return Err(ClimbError::RampTooSteep);
                }
                corners.push((Corner::Foot, Point::new(edge.x - run, foot)));
            }
            None if rise.value() < -NOTHING => return Err(ClimbError::EdgeBelowGround),
            None => corners.push((Corner::Foot, Point::new(edge.x, foot))),
        }
        corners.reverse();
        // The edge on the ground itself is no step.
        if let [(_, foot), (_, edge), ..] = corners.as_slice()
            && way.ramp.is_none()
            && (edge.z - foot.z).value().abs() <= NOTHING
        {
            corners.remove(0);
        }
        let finite = corners.iter().all(|(_, at)| at.x.value().is_finite() && at.z.value().is_finite());
        let forward = corners.windows(2).all(|pair| matches!(pair, [(_, a), (_, b)] if b.x.value() >= a.x.value()));
        if finite && forward { Ok(Self { corners }) } else { Err(ClimbError::NotFinite) }
    }

    /// The same without slopes.
    pub(super) fn plain(&self) -> Profile<f64> {
        Profile { corners: self.corners.iter().map(|(corner, at)| (*corner, at.plain())).collect() }
    }
}

/// Steeper than 60 degrees nothing drives: tan 60°.
const STEEPEST: f64 = 1.732_050_807_568_877_2;

/// Sine and cosine of an angle.
fn sin_cos(angle: crate::units::Angle) -> (Dual, Dual) {
    let radians = angle.dual() * (std::f64::consts::PI / 180.0);
    (radians.sin(), radians.cos())
}

impl Profile<f64> {
    /// How high the step is at the edge of a deck that is tilted without a ramp and does not reach the ground.
    pub(super) fn step(&self) -> f64 {
        match self.corners.as_slice() {
            [(_, foot), (_, edge), ..] if edge.x - foot.x <= NOTHING => edge.z - foot.z,
            _ => 0.0,
        }
    }
}

impl<N: Number> Profile<N> {
    /// How many segments there are: one more than corners but the last, the level ground being the first.
    pub(super) const fn segments(&self) -> usize {
        self.corners.len()
    }

    /// The line of a segment. The first is the ground. None for a segment that stands upright.
    pub(super) fn line(&self, segment: usize) -> Option<Line<N>> {
        let (_, to) = *self.corners.get(segment)?;
        if segment == 0 {
            return Some(Line { from: to, slope: N::of(0.0) });
        }
        let (_, from) = *self.corners.get(segment - 1)?;
        let run = to.x - from.x;
        (run.value() > NOTHING).then(|| Line { from, slope: (to.z - from.z) / run })
    }

    /// The point of a corner.
    pub(super) fn at(&self, wanted: Corner) -> Option<Point<N>> {
        self.corners.iter().find(|(corner, _)| *corner == wanted).map(|(_, at)| *at)
    }

    /// The segment over which something at `x` is; none ahead of the front edge.
    pub(super) fn segment(&self, x: f64) -> Option<usize> {
        self.corners.iter().position(|(_, at)| x <= at.x.value())
    }
}
