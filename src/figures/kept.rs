//! Figures that cost much to read, kept for as long as their load.

use std::sync::{Mutex, PoisonError};

use super::{Figure, Known, Reading, Subject};

/// What was read, by figure and subject.
#[derive(Debug, Default)]
pub(super) struct Kept(Mutex<Vec<(&'static str, Subject, Known<Reading>)>>);

impl Kept {
    /// What was read before, or what is read now.
    pub(super) fn of(
        &self,
        figure: &Figure,
        subject: Subject,
        read: impl FnOnce() -> Known<Reading>,
    ) -> Known<Reading> {
        let kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let known = kept.iter().find(|(name, of, _)| *name == figure.name && *of == subject);
        let known = known.map(|(.., reading)| reading.clone());
        drop(kept);
        known.unwrap_or_else(|| {
            let reading = read();
            let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
            kept.push((figure.name, subject, reading.clone()));
            reading
        })
    }
}
