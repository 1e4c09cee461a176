//! A rigid machine in its own frame, turned so that `u` runs forward along the way, whichever way its nose points; and how
//! it stands.

use super::number::{Number, Point};
use crate::units::Length;

/// A low point or a flat stretch of an underside: how high it lies with the machine on level ground.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Low {
    /// Arm of its rear end ahead of the machine's datum; a point's arm.
    pub from: Length,
    /// Arm of its front end ahead of the machine's datum; a point's arm.
    pub to: Length,
    /// Above level ground.
    pub clearance: Length,
}

/// The underside of a machine, or of an attachment: its parts joined by straight lines in order of arm, the outermost
/// carried out level to the ends.
#[derive(Clone, Debug, PartialEq)]
pub struct Underside {
    /// Its parts, in any order.
    pub parts: Vec<Low>,
    /// The ends of the outline, ahead of the machine's datum, as far as they are known: rearmost, foremost.
    pub ends: (Option<Length>, Option<Length>),
}

/// A point of an underside.
#[derive(Clone, Copy, Debug)]
pub(super) struct Under<N> {
    pub(super) at: Point<N>,
    /// Which part it belongs to: chain and place in it.
    pub(super) part: (usize, usize),
    /// Whether a straight line joins it to the point before it.
    pub(super) joined: bool,
}

/// The points of undersides in the turned frame, rear to front along the way, chain after chain.
pub(super) fn chains<N: Number>(
    undersides: &[Underside],
    forward: bool,
    number: impl Fn(Length) -> N,
) -> Vec<Under<N>> {
    let sign = N::of(if forward { 1.0 } else { -1.0 });
    let mut all = Vec::new();
    for (chain, underside) in undersides.iter().enumerate() {
        let mut points: Vec<(Point<N>, usize)> = Vec::new();
        for (place, part) in underside.parts.iter().enumerate() {
            for arm in [part.from, part.to] {
                points.push((Point::new(sign * number(arm), number(part.clearance)), place));
            }
        }
        points.sort_by(|a, b| a.0.x.value().total_cmp(&b.0.x.value()));
        let (rear, front) = underside.ends;
        let (hind, lead) = if forward { (rear, front) } else { (front, rear) };
        if let (Some(end), Some((first, part))) = (hind.map(|end| sign * number(end)), points.first().copied())
            && end.value() < first.x.value()
        {
            points.insert(0, (Point::new(end, first.z), part));
        }
        if let (Some(end), Some((last, part))) = (lead.map(|end| sign * number(end)), points.last().copied())
            && end.value() > last.x.value()
        {
            points.push((Point::new(end, last.z), part));
        }
        all.extend(points.into_iter().enumerate().map(|(at, (point, part))| Under {
            at: point,
            part: (chain, part),
            joined: at > 0,
        }));
    }
    all
}

/// How a machine stands: where the ground under its datum is, and which way its own forward axis points.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pose<N> {
    pub(super) origin: Point<N>,
    /// Cosine and sine of the pitch, nose along the way up positive.
    pub(super) cos: N,
    pub(super) sin: N,
}

impl<N: Number> Pose<N> {
    /// Where a point of the machine is.
    pub(super) fn place(&self, at: Point<N>) -> Point<N> {
        Point::new(self.origin.x + at.x * self.cos - at.z * self.sin, self.origin.z + at.x * self.sin + at.z * self.cos)
    }

    /// The machine standing with this point of it there, its axis pointing so.
    pub(super) fn holding(at: Point<N>, there: Point<N>, cos: N, sin: N) -> Self {
        let origin = Point::new(there.x - at.x * cos + at.z * sin, there.z - at.x * sin - at.z * cos);
        Self { origin, cos, sin }
    }
}
