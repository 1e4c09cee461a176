//! A condition that was checked, ready to be evaluated.

use std::ops::Range;
use std::sync::Arc;

use super::term::Arithmetic;
use super::{Limit, Op};
use crate::units::Dim;

/// A checked condition. Cheap to evaluate, and to share between threads.
#[derive(Clone, Debug)]
pub struct Expr {
    pub(super) text: Arc<str>,
    pub(super) root: Condition,
    pub(super) names: Vec<Named>,
    /// The place of each comparison.
    pub(super) comparisons: Vec<Range<usize>>,
}

/// A name where it stands in a condition.
#[derive(Clone, Debug)]
pub(super) struct Named {
    pub(super) slot: usize,
    pub(super) range: Range<usize>,
}

/// A condition without `!`: a negation is carried down to the comparisons when it is built, so that evaluation and the
/// search for the comparison to blame see only what the condition needs.
#[derive(Clone, Debug)]
pub(super) enum Condition {
    Constant(bool),
    All(Vec<Condition>),
    Any(Vec<Condition>),
    /// `==` between conditions, or `!=` when not `same`.
    Alike {
        same: bool,
        sides: Box<[Condition; 2]>,
    },
    Choice(Box<[Condition; 3]>),
    Compare(Box<Comparison>),
}

/// A comparison.
#[derive(Clone, Debug)]
pub(super) struct Comparison {
    pub(super) at: usize,
    pub(super) op: Op,
    pub(super) left: Place,
    pub(super) right: Place,
    pub(super) operands: Operands,
}

/// What a side of a comparison is, beside its value.
#[derive(Clone, Debug)]
pub(super) struct Place {
    pub(super) name: Option<usize>,
    pub(super) first_name: Option<usize>,
    pub(super) dim: Dim,
    pub(super) range: Range<usize>,
}

/// What is compared.
#[derive(Clone, Debug)]
pub(super) enum Operands {
    Numbers(Number, Number),
    NumberIn(Number, Vec<f64>),
    Texts(Text, Text),
    TextIn(Text, Vec<Arc<str>>),
    /// A flag that stands alone, and what it should be.
    Flag(usize, bool),
}

/// What gives a number.
#[derive(Clone, Debug)]
pub(super) enum Number {
    Literal(f64),
    Name(usize, Range<usize>),
    Minus(Box<Number>),
    Sum(Arithmetic, Box<[Number; 2]>, Range<usize>),
    Choice(Box<(Condition, Number, Number)>),
}

/// What gives a text.
#[derive(Clone, Debug)]
pub(super) enum Text {
    Literal(Arc<str>),
    Name(usize),
    Choice(Box<(Condition, Text, Text)>),
}

impl Expr {
    /// The condition as it is written.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Every name where it stands, in the order of the text: its slot, the name, and its bytes.
    pub fn names(&self) -> impl Iterator<Item = (usize, &str, Range<usize>)> {
        self.names.iter().map(|named| {
            let name = self.text.get(named.range.clone()).unwrap_or("");
            (named.slot, name, named.range.clone())
        })
    }

    /// How many comparisons it has; a flag that stands alone counts as one.
    #[must_use]
    pub fn comparisons(&self) -> usize {
        self.comparisons.len()
    }

    /// Where the comparison with this number stands in the text.
    #[must_use]
    pub fn comparison(&self, at: usize) -> Option<Range<usize>> {
        self.comparisons.get(at).cloned()
    }

    /// The same condition with one comparison turned into its opposite (`<=` becomes `>`), for tests that ask whether
    /// anyone would notice. The text stays. A number that no comparison has changes nothing.
    #[must_use]
    pub fn flipped(&self, at: usize) -> Self {
        let mut flipped = self.clone();
        flipped.root.each_comparison(&mut |comparison| {
            if comparison.at == at {
                comparison.negate();
            }
        });
        flipped
    }
}

impl Expr {
    /// Which way a name bounds what it is compared with, where it stands alone on a side: `figure <= name` makes it a
    /// largest value. Nothing when it bounds both ways, or not by itself.
    #[must_use]
    pub fn bounds(&self, slot: usize) -> Option<Limit> {
        let mut found = Vec::new();
        self.clone().root.each_comparison(&mut |comparison| {
            let limit = comparison.op.limit();
            if comparison.right.name == Some(slot) {
                found.push(limit);
            }
            if comparison.left.name == Some(slot) {
                found.push(limit.map(|limit| match limit {
                    Limit::AtLeast => Limit::AtMost,
                    Limit::AtMost => Limit::AtLeast,
                    Limit::Exactly => Limit::Exactly,
                }));
            }
        });
        let first = *found.first()?;
        if found.iter().all(|limit| *limit == first) { first } else { None }
    }
}

impl Comparison {
    fn negate(&mut self) {
        match &mut self.operands {
            Operands::Flag(_, wanted) => *wanted = !*wanted,
            _ => self.op = self.op.negated(),
        }
    }
}

impl Condition {
    /// The opposite. Where values are unknown or no numbers, it is as undecided as the condition itself.
    pub(super) fn negated(self) -> Self {
        let all = |parts: Vec<Self>| parts.into_iter().map(Self::negated).collect();
        match self {
            Self::Constant(value) => Self::Constant(!value),
            Self::All(parts) => Self::Any(all(parts)),
            Self::Any(parts) => Self::All(all(parts)),
            Self::Alike { same, sides } => Self::Alike { same: !same, sides },
            Self::Choice(parts) => {
                let [test, one, other] = *parts;
                Self::Choice(Box::new([test, one.negated(), other.negated()]))
            }
            Self::Compare(mut comparison) => {
                comparison.negate();
                Self::Compare(comparison)
            }
        }
    }

    fn each_comparison(&mut self, visit: &mut dyn FnMut(&mut Comparison)) {
        match self {
            Self::Constant(_) => {}
            Self::All(parts) | Self::Any(parts) => parts.iter_mut().for_each(|part| part.each_comparison(visit)),
            Self::Alike { sides, .. } => sides.iter_mut().for_each(|side| side.each_comparison(visit)),
            Self::Choice(parts) => parts.iter_mut().for_each(|part| part.each_comparison(visit)),
            Self::Compare(comparison) => {
                visit(comparison);
                match &mut comparison.operands {
                    Operands::Numbers(left, right) => {
                        left.each_comparison(visit);
                        right.each_comparison(visit);
                    }
                    Operands::NumberIn(left, _) => left.each_comparison(visit),
                    Operands::Texts(left, right) => {
                        left.each_comparison(visit);
                        right.each_comparison(visit);
                    }
                    Operands::TextIn(left, _) => left.each_comparison(visit),
                    Operands::Flag(..) => {}
                }
            }
        }
    }
}

impl Number {
    fn each_comparison(&mut self, visit: &mut dyn FnMut(&mut Comparison)) {
        match self {
            Self::Literal(_) | Self::Name(..) => {}
            Self::Minus(inner) => inner.each_comparison(visit),
            Self::Sum(_, sides, _) => sides.iter_mut().for_each(|side| side.each_comparison(visit)),
            Self::Choice(parts) => {
                let (test, one, other) = parts.as_mut();
                test.each_comparison(visit);
                one.each_comparison(visit);
                other.each_comparison(visit);
            }
        }
    }
}

impl Text {
    fn each_comparison(&mut self, visit: &mut dyn FnMut(&mut Comparison)) {
        if let Self::Choice(parts) = self {
            let (test, one, other) = parts.as_mut();
            test.each_comparison(visit);
            one.each_comparison(visit);
            other.each_comparison(visit);
        }
    }
}
