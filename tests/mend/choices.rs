//! A row of numbers from which a generator makes its choices: shorter and smaller rows give simpler yards, so that a
//! failing case shrinks to what it needs.

use proptest::prelude::*;

/// Choices still to be made; once they are used up, each is the first one.
#[derive(Debug)]
pub(crate) struct Choices<'c> {
    left: std::slice::Iter<'c, u32>,
}

impl<'c> Choices<'c> {
    pub(crate) fn new(row: &'c [u32]) -> Self {
        Self { left: row.iter() }
    }

    /// A number below this one.
    pub(crate) fn below(&mut self, end: u32) -> u32 {
        self.left.next().copied().unwrap_or(0) % end
    }

    /// Seldom true: once in so many.
    pub(crate) fn once_in(&mut self, many: u32) -> bool {
        self.below(many) == many - 1
    }

    pub(crate) fn one_of<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        &all[self.below(u32::try_from(all.len()).unwrap()) as usize]
    }

    /// A number in a range, one of a thousand evenly spaced.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * f64::from(self.below(1000)) / 999.0
    }
}

pub(crate) fn rows() -> impl Strategy<Value = Vec<u32>> {
    proptest::collection::vec(0..720_720_u32, 40..160)
}
