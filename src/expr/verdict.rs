//! What evaluation says of a condition.

use std::ops::Range;

use super::{TOLERANCE, Value};
use crate::units::Dim;

/// Whether a condition holds. An unknown value is never a pass and never a fault.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Truth {
    /// It holds, whatever the unknown values are.
    Holds,
    /// It fails, whatever the unknown values are.
    Fails,
    /// It hangs on a value that is unknown, or is no number.
    CannotTell,
}

/// The outcome of one evaluation. `M` is what the caller says of a value that it does not know.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict<M> {
    /// Whether the condition holds.
    pub truth: Truth,
    /// What has to be known to decide, once for each name; empty unless [`Truth::CannotTell`]. Values that could not
    /// change the verdict are left out.
    pub missing: Vec<M>,
    /// The part of the condition's text that gave no number (a quotient by zero, an overflow, a figure that is not
    /// finite) and so kept it undecided; nothing unless [`Truth::CannotTell`]. When both this and `missing` are empty,
    /// the verdict is not [`Truth::CannotTell`].
    pub undefined: Option<Range<usize>>,
    /// The comparisons of known values that were made, inner ones first. Those that cannot matter may be left out.
    pub compared: Vec<Compared>,
    /// The comparison that decided, as an index into `compared`: when the condition fails, the one to be cured; when it
    /// holds, the one that is nearest to failing. Its `holds` is the condition's. Nothing when no comparison decided
    /// (`true`), or none could.
    pub blamed: Option<usize>,
}

impl<M> Verdict<M> {
    /// The comparison that decided.
    #[must_use]
    pub fn decisive(&self) -> Option<&Compared> {
        self.compared.get(self.blamed?)
    }
}

/// A comparison of two known values, in the direction in which the condition needs it: under `!` it is the opposite of
/// what is written, so that `holds` always means good.
#[derive(Clone, Debug, PartialEq)]
pub struct Compared {
    /// Which comparison of the condition, as [`Expr::flipped`](super::Expr::flipped) counts.
    pub at: usize,
    /// The left side.
    pub left: Side,
    /// The operator.
    pub op: Op,
    /// The right side. Of a list it is the item that is equal or, if none is, the nearest number or the first text. A
    /// flag that stands alone is compared with `true`.
    pub right: Side,
    /// Whether it holds.
    pub holds: bool,
}

/// One side of a comparison.
#[derive(Clone, Debug, PartialEq)]
pub struct Side {
    /// The slot, when this side is just a name.
    pub name: Option<usize>,
    /// The slot of the first name in it, when there is one.
    pub first_name: Option<usize>,
    /// Its value.
    pub value: Value,
    /// Its dimension; none for texts and flags.
    pub dim: Dim,
    /// Its bytes in the condition's text.
    pub range: Range<usize>,
}

/// An operator of comparison.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Op {
    /// `<`
    Less,
    /// `<=`
    AtMost,
    /// `>`
    Greater,
    /// `>=`
    AtLeast,
    /// `==`
    Equal,
    /// `!=`
    Differs,
    /// `in`
    In,
    /// The opposite of `in`; conditions write it `!(x in […])`.
    NotIn,
}

impl Op {
    /// Those with a sign of their own.
    pub(super) const ORDER_AND_EQUALITY: [Self; 6] =
        [Self::Less, Self::AtMost, Self::Greater, Self::AtLeast, Self::Equal, Self::Differs];

    /// As written in a condition.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Less => "<",
            Self::AtMost => "<=",
            Self::Greater => ">",
            Self::AtLeast => ">=",
            Self::Equal => "==",
            Self::Differs => "!=",
            Self::In => "in",
            Self::NotIn => "not in",
        }
    }

    /// The operator that holds where this one fails.
    #[must_use]
    pub const fn negated(self) -> Self {
        match self {
            Self::Less => Self::AtLeast,
            Self::AtMost => Self::Greater,
            Self::Greater => Self::AtMost,
            Self::AtLeast => Self::Less,
            Self::Equal => Self::Differs,
            Self::Differs => Self::Equal,
            Self::In => Self::NotIn,
            Self::NotIn => Self::In,
        }
    }

    /// Which way this bounds its left side, when it is a bound at all.
    pub(super) const fn limit(self) -> Option<Limit> {
        match self {
            Self::Less | Self::AtMost => Some(Limit::AtMost),
            Self::Greater | Self::AtLeast => Some(Limit::AtLeast),
            Self::Equal => Some(Limit::Exactly),
            Self::Differs | Self::In | Self::NotIn => None,
        }
    }
}

/// Which way a bound limits its figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Limit {
    /// The figure must not be smaller.
    AtLeast,
    /// The figure must not be larger.
    AtMost,
    /// The figure must be equal.
    Exactly,
}

impl Limit {
    /// A bound of what is counted: the next whole number is needed, or the last one allowed.
    #[must_use]
    pub fn whole(self, at: f64) -> f64 {
        match self {
            Self::AtLeast => (at - TOLERANCE).ceil(),
            Self::AtMost => (at + TOLERANCE).floor(),
            Self::Exactly => at,
        }
    }
}

/// A comparison read as a figure and its bound.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bound<'a> {
    /// The side that is measured.
    pub figure: &'a Side,
    /// The side that bounds it.
    pub bound: &'a Side,
    /// Which way.
    pub limit: Limit,
    /// Whether the figure must stay clear of the bound itself (`<`, `>`).
    pub strict: bool,
    /// The figure's value in SI.
    pub value: f64,
    /// The bound's value in SI.
    pub at: f64,
}

impl Bound<'_> {
    /// How far the figure is on the good side of the bound, in SI: negative when it breaks it.
    #[must_use]
    pub fn slack(&self) -> f64 {
        match self.limit {
            Limit::AtLeast => self.value - self.at,
            Limit::AtMost => self.at - self.value,
            Limit::Exactly => -(self.value - self.at).abs(),
        }
    }
}

impl Compared {
    /// How far the comparison is from turning, as a share of the larger magnitude: positive when it holds, negative
    /// when it fails, 0 at the bound itself. Nothing where there is no gradual way to turn it: texts, flags, `in`,
    /// `!=`, and an `==` that holds.
    #[must_use]
    pub fn margin(&self) -> Option<f64> {
        let (left, right) = self.numbers()?;
        let scale = left.abs().max(right.abs());
        // Divided before the difference is taken, so that no finite pair overflows.
        let over = if scale > 0.0 { left / scale - right / scale } else { 0.0 };
        let margin = match self.op.limit()? {
            Limit::AtLeast => over,
            Limit::AtMost => -over,
            Limit::Exactly if self.holds => return None,
            Limit::Exactly => -over.abs(),
        };
        // Within the tolerance the two count as equal, whichever side rounding put them on.
        let good = if self.holds { margin.max(0.0) } else { margin.min(0.0) };
        Some(good)
    }

    /// The comparison as a figure and its bound, when numbers are compared by order or `==` and a name is among them.
    ///
    /// The figure is the side that is a name, or else begins with one; a parameter (as the caller's predicate knows it
    /// by its slot) is no figure while the other side can be one. Of two sides alike the left is the figure.
    pub fn bound(&self, is_parameter: impl Fn(usize) -> bool) -> Option<Bound<'_>> {
        let (left, right) = self.numbers()?;
        let limit = self.op.limit()?;
        let strict = matches!(self.op, Op::Less | Op::Greater);
        // Lower is likelier to be what was measured.
        let rank = |side: &Side| match (side.name, side.first_name) {
            (Some(slot), _) if !is_parameter(slot) => 0,
            (None, Some(slot)) if !is_parameter(slot) => 1,
            (_, Some(_)) => 2,
            (_, None) => 3,
        };
        let (left_rank, right_rank) = (rank(&self.left), rank(&self.right));
        if left_rank.min(right_rank) == 3 {
            return None;
        }
        if left_rank <= right_rank {
            return Some(Bound { figure: &self.left, bound: &self.right, limit, strict, value: left, at: right });
        }
        let limit = match limit {
            Limit::AtLeast => Limit::AtMost,
            Limit::AtMost => Limit::AtLeast,
            Limit::Exactly => Limit::Exactly,
        };
        Some(Bound { figure: &self.right, bound: &self.left, limit, strict, value: right, at: left })
    }

    /// Turns it into its opposite.
    pub(super) fn negate(&mut self) {
        self.holds = !self.holds;
        match &mut self.right.value {
            Value::Flag(wanted) => *wanted = !*wanted,
            Value::Number(_) | Value::Text(_) => self.op = self.op.negated(),
        }
    }

    /// Both values, when they are numbers.
    fn numbers(&self) -> Option<(f64, f64)> {
        match (&self.left.value, &self.right.value) {
            (Value::Number(left), Value::Number(right)) => Some((*left, *right)),
            _ => None,
        }
    }
}
