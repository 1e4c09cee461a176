//! Where something stands first, of things that should stand once.

use std::collections::HashMap;
use std::hash::Hash;

use crate::text::Span;

/// So many are looked through one by one, which is quicker than hashing them.
const FEW: usize = 16;

/// The first place of each key. Linear in the number of keys, however many there are.
pub(super) struct First<K> {
    few: Vec<(K, Span)>,
    many: HashMap<K, Span>,
}

impl<K: Eq + Hash> First<K> {
    pub(super) fn new() -> Self {
        Self { few: Vec::new(), many: HashMap::new() }
    }

    /// The first place of this key, which is the one given when there is none before.
    pub(super) fn place(&mut self, key: K, span: Span) -> Span {
        if let Some((_, first)) = self.few.iter().find(|(other, _)| *other == key) {
            return *first;
        }
        if self.few.len() < FEW {
            self.few.push((key, span));
            return span;
        }
        *self.many.entry(key).or_insert(span)
    }
}

#[cfg(test)]
mod tests {
    use super::{FEW, First};
    use crate::text::{FileId, Span};

    #[test]
    fn the_first_of_few_and_of_many_is_found() {
        let span = |at: usize| Span::new(FileId(0), at..at + 1);
        let mut first = First::new();
        for at in 0..3 * FEW {
            assert_eq!(first.place(at, span(at)), span(at));
        }
        for at in 0..3 * FEW {
            assert_eq!(first.place(at, span(100 + at)), span(at));
        }
    }
}
