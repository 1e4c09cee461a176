//! Answers that cost much to find, by the numbers that they follow from. A search for what cures a fault asks of hundreds of
//! changed sheets, most of which differ elsewhere, so one thread is asked the same again and again. An answer follows from its
//! question alone: whether it was remembered or found makes no difference but in time.

use std::collections::HashMap;
use std::sync::Arc;

/// So many answers are remembered before all are forgotten.
const MOST: usize = 4096;

/// Answers by question.
#[derive(Debug)]
pub(super) struct Remembered<A>(HashMap<Vec<u64>, Arc<A>>);

impl<A> Default for Remembered<A> {
    fn default() -> Self {
        Self(HashMap::new())
    }
}

impl<A> Remembered<A> {
    /// The answer that was found before, or the one that is found now. The question is every number that the answer follows
    /// from, to the bit.
    pub(super) fn of(&mut self, question: Vec<u64>, find: impl FnOnce() -> A) -> Arc<A> {
        if let Some(known) = self.0.get(&question) {
            return Arc::clone(known);
        }
        if self.0.len() >= MOST {
            self.0.clear();
        }
        let found = Arc::new(find());
        self.0.insert(question, Arc::clone(&found));
        found
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::{MOST, Remembered};

    #[test]
    fn what_was_found_is_not_looked_for_again_and_memory_is_bounded() {
        let mut kept = Remembered::default();
        let mut looked = 0;
        for question in [1, 2, 1, 1] {
            let found = kept.of(vec![question, 7], || {
                looked += 1;
                question * 10
            });
            assert_eq!(*found, question * 10);
        }
        assert_eq!(looked, 2);
        let first = kept.of(vec![1, 7], || 0);
        for question in 0..2 * MOST as u64 {
            kept.of(vec![question], || question);
        }
        assert!(kept.0.len() <= MOST);
        assert_eq!(*first, 10, "what was given out stays");
        assert_eq!(Arc::strong_count(&first), 1);
    }
}
