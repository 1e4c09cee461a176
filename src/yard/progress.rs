//! How far a run has come: plain counts, which whoever started the run may look at while it goes on.

use std::sync::atomic::{AtomicUsize, Ordering};

use rayon::prelude::*;

/// What a run does, in the order in which it does it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    /// Files are read.
    Reading,
    /// Loads are judged.
    Checking,
    /// What cures the findings of a sheet is searched for.
    Mending,
}

impl Step {
    const ALL: [Self; 3] = [Self::Reading, Self::Checking, Self::Mending];
}

/// Counts of what is done and of what there is to do. Threads count side by side; a look at the counts meanwhile may be a piece
/// behind, and nothing rests on it.
#[derive(Debug, Default)]
pub struct Progress {
    reading: Count,
    checking: Count,
    mending: Count,
}

#[derive(Debug, Default)]
struct Count {
    done: AtomicUsize,
    all: AtomicUsize,
}

impl Progress {
    const fn count(&self, step: Step) -> &Count {
        match step {
            Step::Reading => &self.reading,
            Step::Checking => &self.checking,
            Step::Mending => &self.mending,
        }
    }

    /// So many more pieces of a step are known to lie ahead: each yard adds its own.
    pub(super) fn begin(&self, step: Step, pieces: usize) {
        self.count(step).all.fetch_add(pieces, Ordering::Relaxed);
    }

    /// So many pieces of a step are done.
    pub(super) fn done(&self, step: Step, pieces: usize) {
        self.count(step).done.fetch_add(pieces, Ordering::Relaxed);
    }

    /// Counts from nothing: what follows does the same pieces once more.
    pub(super) fn anew(&self) {
        for count in Step::ALL.map(|step| self.count(step)) {
            count.done.store(0, Ordering::Relaxed);
            count.all.store(0, Ordering::Relaxed);
        }
    }

    /// Works on each item side by side and counts it when it is done; the results are in the order of the items.
    pub(super) fn each<T: Sync, R: Send>(&self, step: Step, items: &[T], work: impl Fn(&T) -> R + Sync) -> Vec<R> {
        self.begin(step, items.len());
        let counted = items.par_iter().map(|item| {
            let result = work(item);
            self.done(step, 1);
            result
        });
        counted.collect()
    }

    /// What is being done now: the step, how many of its pieces are done, and how many are known of. Nothing before the first
    /// step begins.
    #[must_use]
    pub fn now(&self) -> Option<(Step, usize, usize)> {
        let counts = Step::ALL.map(|step| {
            let count = self.count(step);
            // Read in this order, so that no more seems done than there is: what is done was begun before.
            let done = count.done.load(Ordering::Relaxed);
            (step, done, count.all.load(Ordering::Relaxed).max(done))
        });
        let begun = || counts.into_iter().filter(|(_, _, all)| *all > 0);
        begun().find(|(_, done, all)| done < all).or_else(|| begun().next_back())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_step_with_something_left_is_the_one_that_is_told() {
        let progress = Progress::default();
        assert_eq!(progress.now(), None);
        progress.begin(Step::Reading, 2);
        progress.done(Step::Reading, 1);
        assert_eq!(progress.now(), Some((Step::Reading, 1, 2)));
        progress.done(Step::Reading, 1);
        assert_eq!(progress.now(), Some((Step::Reading, 2, 2)));
        progress.begin(Step::Checking, 3);
        assert_eq!(progress.now(), Some((Step::Checking, 0, 3)));
        // Another yard is read after the first one was checked.
        progress.done(Step::Checking, 3);
        progress.begin(Step::Reading, 5);
        assert_eq!(progress.now(), Some((Step::Reading, 2, 7)));
        progress.anew();
        assert_eq!(progress.now(), None);
    }

    #[test]
    fn each_item_is_counted_and_the_results_keep_their_order() {
        let progress = Progress::default();
        let items: Vec<usize> = (0..500).collect();
        let results = progress.each(Step::Checking, &items, |item| item * 2);
        assert!(results.iter().zip(&items).all(|(result, item)| *result == item * 2) && results.len() == 500);
        assert_eq!(progress.now(), Some((Step::Checking, 500, 500)));
    }
}
