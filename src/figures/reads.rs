//! How figures read entries: every number goes through here, so that it is known on which entries a load rests, and one
//! of them can be varied.

use std::sync::{Arc, Mutex, PoisonError};

use super::Known;
use crate::model::{Entry, Origin, Owner, Slot};
use crate::text::Span;
use crate::units::{Kind, LANES, Quantity, Unit};

/// A number that a load rests on.
#[derive(Clone, Debug, PartialEq)]
pub struct Rest {
    /// Where it is written.
    pub at: Span,
    /// What it belongs to, as a message names it.
    pub owner: Arc<str>,
    /// The sheet's word for it.
    pub word: &'static str,
    /// What it measures.
    pub kind: Kind,
    /// Its value in the SI unit of its kind.
    pub value: f64,
    /// The unit it is written in.
    pub unit: Option<&'static Unit>,
    /// How it became known, where the sheet says.
    pub origin: Option<Origin>,
    /// Its half-width in SI, where the sheet says it outright.
    pub plus_minus: Option<f64>,
}

impl Rest {
    /// An entry as something a figure rests on.
    pub(super) fn of<T: Quantity>(entry: &Entry<T>, owner: &Owner, word: &'static str) -> Self {
        Self {
            at: entry.at,
            owner: Arc::clone(&owner.path),
            word,
            kind: T::KIND,
            value: entry.value.si(),
            unit: entry.unit,
            origin: entry.origin,
            plus_minus: entry.plus_minus,
        }
    }
}

/// What is taken to be otherwise than the sheet says: what a load would be with it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Changed {
    /// Entries with another value, in the SI unit of their kind.
    pub values: Vec<(Span, f64)>,
    /// Items that stand the other way round, by their node.
    pub turned: Vec<Span>,
}

/// Reads entries, noting each, and varies or changes some.
#[derive(Debug, Default)]
pub(super) struct Reads {
    /// The entries that are varied, each in the lane of its place here.
    along: Vec<Span>,
    /// What is otherwise than the sheet says.
    changed: Changed,
    /// What was read, each once; nothing when nobody asks.
    noted: Option<Mutex<Vec<Rest>>>,
}

impl Reads {
    /// Notes what is read.
    pub(super) fn noting() -> Self {
        Self { noted: Some(Mutex::default()), ..Self::default() }
    }

    /// Varies the entries at these places, [`LANES`] of them at the most.
    pub(super) fn along(at: &[Span]) -> Self {
        Self { along: at.iter().copied().take(LANES).collect(), ..Self::default() }
    }

    /// The same with something otherwise than the sheet says.
    pub(super) fn changed(self, changed: Changed) -> Self {
        Self { changed, ..self }
    }

    /// What is otherwise than the sheet says.
    pub(super) const fn what_changed(&self) -> &Changed {
        &self.changed
    }

    /// A value, varied and changed as this says.
    fn seen<T: Quantity>(&self, value: T, at: Span) -> T {
        let other = self.changed.values.iter().find(|(changed, _)| *changed == at);
        let value = other.map_or(value, |(_, si)| T::from_si(*si));
        self.lane(at).map_or(value, |lane| value.varied(lane))
    }

    /// In which lane an entry is varied.
    fn lane(&self, at: Span) -> Option<usize> {
        self.along.iter().position(|varied| *varied == at)
    }

    /// Whether any entry is varied.
    pub(super) const fn varies(&self) -> bool {
        !self.along.is_empty()
    }

    /// What was read until now, in the order in which it was.
    pub(super) fn noted(&self) -> Vec<Rest> {
        let noted = self.noted.as_ref().map(|noted| noted.lock().unwrap_or_else(PoisonError::into_inner).clone());
        noted.unwrap_or_default()
    }

    /// Whether what is read is noted.
    pub(super) const fn notes(&self) -> bool {
        self.noted.is_some()
    }

    /// Notes what another has noted.
    pub(super) fn take(&self, others: &[Rest]) {
        for rest in others {
            self.note(rest.at, rest.word, || rest.clone());
        }
    }

    fn note(&self, at: Span, word: &'static str, rest: impl FnOnce() -> Rest) {
        let Some(noted) = &self.noted else { return };
        let mut noted = noted.lock().unwrap_or_else(PoisonError::into_inner);
        if noted.iter().all(|known| known.at != at || known.word != word) {
            noted.push(rest());
        }
    }

    /// A number, or what is missing.
    pub(super) fn need<T: Quantity>(&self, slot: &Slot<T>, owner: &Owner, word: &'static str) -> Known<T> {
        let value = slot.need(owner, word)?;
        Ok(slot.entry().map_or(value, |entry| self.read(entry, owner, word)))
    }

    /// A number that is a figure by itself: not noted, since no other figure rests on this reading of it.
    pub(super) fn peek<T: Quantity>(&self, slot: &Slot<T>, owner: &Owner, word: &'static str) -> Known<T> {
        let value = slot.need(owner, word)?;
        Ok(slot.at().map_or(value, |at| self.seen(value, at)))
    }

    /// A number, `otherwise` when the sheet says nothing.
    pub(super) fn or<T: Quantity>(&self, slot: &Slot<T>, otherwise: T, owner: &Owner, word: &'static str) -> Known<T> {
        let value = slot.or(otherwise, owner, word)?;
        Ok(slot.entry().map_or(value, |entry| self.read(entry, owner, word)))
    }

    /// A number that may be left out: a broken one is still a lack.
    pub(super) fn given<T: Quantity>(&self, slot: &Slot<T>, owner: &Owner, word: &'static str) -> Known<Option<T>> {
        match slot {
            Slot::Absent if !owner.lost => Ok(None),
            _ => Ok(Some(self.need(slot, owner, word)?)),
        }
    }

    /// The value of an entry.
    pub(super) fn read<T: Quantity>(&self, entry: &Entry<T>, owner: &Owner, word: &'static str) -> T {
        self.note(entry.at, word, || Rest::of(entry, owner, word));
        self.seen(entry.value, entry.at)
    }
}
