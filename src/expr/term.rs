//! The tree of a condition as it is written, before names and units are looked at.

use std::ops::Range;
use std::sync::Arc;

use super::Op;

/// A part of a condition with its place in the text.
#[derive(Debug)]
pub(super) struct Term<'t> {
    /// What it is.
    pub(super) form: Form<'t>,
    /// Its bytes, parentheses around it included.
    pub(super) range: Range<usize>,
    /// How many levels of terms it has.
    pub(super) height: usize,
}

/// The forms of terms.
#[derive(Debug)]
pub(super) enum Form<'t> {
    /// A number literal.
    Number(f64),
    /// A text literal.
    Text(Arc<str>),
    /// `true` or `false`.
    Flag(bool),
    /// A name, dots included.
    Name(&'t str),
    /// `!a`.
    Not(Box<Term<'t>>),
    /// `-a`.
    Minus(Box<Term<'t>>),
    /// `a + b` and its like.
    Sum(Arithmetic, Box<[Term<'t>; 2]>),
    /// `a < b` and its like.
    Relation(Op, Box<[Term<'t>; 2]>),
    /// `a in [b, c]`: the term, the items, and the list's place.
    In(Box<Term<'t>>, Vec<Term<'t>>, Range<usize>),
    /// `a && b && c`.
    All(Vec<Term<'t>>),
    /// `a || b || c`.
    Any(Vec<Term<'t>>),
    /// `(a ? b : c)`.
    Choice(Box<[Term<'t>; 3]>),
}

/// The operators of arithmetic.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Arithmetic {
    /// `+`
    Add,
    /// `-`
    Subtract,
    /// `*`
    Multiply,
    /// `/`
    Divide,
}
