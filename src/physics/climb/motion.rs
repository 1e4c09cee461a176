//! A motion of a rigid machine, piece by piece, and how unevenly it can move within one.

use super::body::Pose;
use super::number::Point;

/// How fast and how unevenly a machine can move on a piece, per metre of the piece's parameter: bounds, not values.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bound {
    /// The point of the machine that these are told of.
    pub(super) point: Point<f64>,
    /// Speed of that point.
    pub(super) speed: f64,
    /// Its second derivative.
    pub(super) bend: f64,
    /// How fast the machine turns, in radians.
    pub(super) turn: f64,
    /// The second derivative of its pitch.
    pub(super) turning: f64,
}

impl Bound {
    /// Bounds on speed and second derivative of another point of the machine.
    pub(super) fn of(&self, at: Point<f64>) -> (f64, f64) {
        let reach = at.minus(self.point).length();
        (self.speed + reach * self.turn, self.bend + reach * (self.turning + self.turn * self.turn))
    }
}

/// A piece of a motion, on which it is smooth.
#[derive(Clone, Copy, Debug)]
pub(super) struct Piece {
    pub(super) from: f64,
    pub(super) to: f64,
    pub(super) bound: Bound,
}

/// A motion.
pub(super) trait Motion {
    /// Its pieces, in the order in which it goes through them.
    fn pieces(&self) -> Vec<Piece>;
    /// How the machine stands at a value of a piece's parameter.
    fn pose(&self, piece: usize, at: f64) -> Option<Pose<f64>>;
}
