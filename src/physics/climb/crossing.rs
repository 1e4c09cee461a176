//! Where one piece of a climb goes over into the next: a wheel comes to a corner of the way or leaves it, or the centre of
//! gravity of tracks comes over one. That place moves with what the climb rests on.

use super::number::Point;
use super::travel::{Shape, Travel};
use crate::units::Dual;

/// The parameter with its slopes at the end of the first of two pieces, by one step of Newton's in the piece in which what comes
/// to the corner moves; `back` leads a little into the first piece. None where nothing is at a corner.
pub(super) fn crossing(
    shape: &Shape<Dual>,
    travel: &Travel,
    (piece, other): (usize, usize),
    at: f64,
    back: f64,
) -> Option<Dual> {
    let sides = [(piece, back), (other, -back)];
    let cornered =
        sides.into_iter().filter(|(side, _)| *side == piece || !travel.tips(*side)).find_map(|(side, step)| {
            let places = |at: f64| {
                let stand = shape.stand(travel, side, Dual::new(at))?;
                let over = shape.base().map(|base| stand.pose.place(Point::new(base.cg.x, base.cg.z)).x);
                let supports = stand.forces.map(|force| force.at);
                Some(supports.into_iter().chain(over).collect::<Vec<Dual>>())
            };
            let (here, inside) = (places(at)?, places(at + step)?);
            let pairs = here.into_iter().zip(inside).flat_map(|(now, then)| {
                let rate = (then.value() - now.value()) / step;
                shape.profile.corners.iter().map(move |(_, corner)| (now - corner.x, rate))
            });
            let at_corner = pairs.filter(|(off, rate)| off.value().abs() <= 1e-6 && rate.abs() > 1e-6);
            let (off, rate) = at_corner.min_by(|a, b| a.0.value().abs().total_cmp(&b.0.value().abs()))?;
            Some(Dual::new(at) - (off - Dual::new(off.value())) / rate)
        });
    cornered.or_else(|| leap(shape, travel, (piece, other), at))
}

/// The same where a wheel touches two lines at once, as at the foot of a ramp: there both pieces stand alike, and nowhere else.
fn leap(shape: &Shape<Dual>, travel: &Travel, (piece, other): (usize, usize), at: f64) -> Option<Dual> {
    let step = 1e-6;
    let apart = |at: f64, along: f64| {
        let [one, two] = [piece, other].map(|piece| shape.stand(travel, piece, Dual::new(at)));
        let point = Point::new(Dual::new(along), Dual::new(0.0));
        Some(one?.pose.place(point).z - two?.pose.place(point).z)
    };
    let points = [0.0, 1.0].into_iter().filter_map(|along| {
        let rate = (apart(at + step, along)?.value() - apart(at - step, along)?.value()) / (2.0 * step);
        Some((apart(at, along)?, rate))
    });
    let (off, rate) = points.max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))?;
    (rate.abs() > 1e-6 && off.value().abs() <= 1e-6).then(|| Dual::new(at) - (off - Dual::new(off.value())) / rate)
}
