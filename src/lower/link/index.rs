//! Definitions of one sort by their ids.

use std::cell::Cell;
use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use crate::finding::{Finding, Level};
use crate::lower::file::Unread;
use crate::lower::words::Named;
use crate::model::{Entry, Owner, Yard};
use crate::text::{Span, either, nearest_and_only, quoted};

/// Definitions of one sort. Output never walks the map, only the list.
pub(super) struct Index {
    pub(super) what: Named,
    first: HashMap<Arc<str>, usize>,
    ids: Vec<Entry<Arc<str>>>,
    used: Vec<Cell<bool>>,
    /// Whether something calls it by its id.
    named: Vec<Cell<bool>>,
    /// Some name means none of these, and may be meant for any.
    missed: Cell<bool>,
}

impl Index {
    /// Takes the ids in order; one that stands twice is a finding.
    pub(super) fn new<'y>(
        what: Named,
        ids: impl Iterator<Item = &'y Entry<Arc<str>>>,
        findings: &mut Vec<Finding>,
    ) -> Self {
        let ids: Vec<Entry<Arc<str>>> = ids.cloned().collect();
        let mut first: HashMap<Arc<str>, usize> = HashMap::with_capacity(ids.len());
        for (at, id) in ids.iter().enumerate() {
            let earlier = *first.entry(Arc::clone(&id.value)).or_insert(at);
            if earlier != at
                && let Some(earlier) = ids.get(earlier)
            {
                let message = format!("two {}s of this yard are called {}", what.noun(), quoted(&id.value));
                findings.push(
                    Finding::new("name-twice", Level::Error, id.at, message)
                        .label(earlier.at, "the first one")
                        .help("give one of them another name, or delete it"),
                );
            }
        }
        let used = vec![Cell::new(false); ids.len()];
        Self { what, first, named: used.clone(), ids, used, missed: Cell::new(false) }
    }

    pub(super) fn get(&self, id: &str) -> Option<usize> {
        self.first.get(id).copied()
    }

    /// Where the definition of this id stands.
    pub(super) fn place(&self, id: &str) -> Option<Span> {
        self.ids.get(self.get(id)?).map(|id| id.at)
    }

    /// The nearest id, where it stands, and whether it must have been meant.
    pub(super) fn nearest(&self, id: &str) -> Option<(&str, Span, bool)> {
        let (near, only) = nearest_and_only(id, self.ids.iter().map(|id| &*id.value))?;
        Some((near, self.place(near)?, only))
    }

    /// A few of the ids, for help.
    pub(super) fn some(&self) -> Option<String> {
        let few: Vec<String> = self.ids.iter().take(6).map(|id| quoted(&id.value)).collect();
        (!few.is_empty()).then(|| either(&few))
    }

    /// Notes that a name is the id of none of these: the nearest one was most likely meant, or else it may be any.
    pub(super) fn miss(&self, name: &str) {
        match self.nearest(name) {
            Some((near, ..)) => self.mark(self.get(near)),
            None => self.missed.set(true),
        }
    }

    pub(super) fn mark(&self, target: Option<usize>) {
        if let Some(used) = target.and_then(|at| self.used.get(at)) {
            used.set(true);
        }
    }

    /// Notes that something calls a definition by its id.
    pub(super) fn name(&self, at: usize) {
        if let Some(named) = self.named.get(at) {
            named.set(true);
        }
    }

    pub(super) fn is_named(&self, id: &str) -> bool {
        self.get(id).and_then(|at| self.named.get(at)).is_some_and(Cell::get)
    }

    /// Marks what this name most likely means, where it is no id itself.
    pub(super) fn mark_nearest(&self, name: &str) {
        self.mark(self.nearest(name).and_then(|(near, ..)| self.get(near)));
    }

    pub(super) fn is_used(&self, at: usize) -> bool {
        self.used.get(at).is_some_and(Cell::get)
    }

    pub(super) fn never_used<'y>(&self, ids: impl Iterator<Item = &'y Entry<Arc<str>>>, findings: &mut Vec<Finding>) {
        if self.missed.get() {
            return;
        }
        for (at, id) in ids.enumerate() {
            // The second of two with the same id has a finding already.
            if self.is_used(at) || self.get(&id.value) != Some(at) {
                continue;
            }
            let message = format!("no sheet uses {} {}", self.what.noun(), quoted(&id.value));
            findings.push(
                Finding::new("never-used", Level::Note, id.at, message).help("delete it when it is not kept for later"),
            );
        }
    }
}

/// What could not be read and may be what a name means.
#[derive(Default)]
pub(super) struct Unsure {
    /// Some sheet's uses are not known.
    pub(super) uses: bool,
    anything: bool,
    sorts: HashSet<Named>,
    ids: HashSet<(Named, Arc<str>)>,
    /// Definitions not all of whose anchors or lash points could be read.
    places: HashSet<(Named, Arc<str>)>,
}

impl Unsure {
    pub(super) fn take(&mut self, unread: Vec<Unread>, places: Vec<(Named, Arc<str>)>) {
        self.places.extend(places);
        for one in unread {
            match (one.what, one.id) {
                (None, _) => self.anything = true,
                (Some(what), None) => {
                    self.sorts.insert(what);
                }
                (Some(what), Some(id)) => {
                    self.ids.insert((what, id));
                }
            }
        }
    }

    /// Whether something that could not be read may define this id.
    pub(super) fn may_define(&self, what: Named, id: &Arc<str>) -> bool {
        self.anything || self.sorts.contains(&what) || self.ids.contains(&(what, Arc::clone(id)))
    }

    /// Whether a definition may have an anchor or lash point that could not be read.
    pub(super) fn may_have_place(&self, what: Named, id: &Arc<str>) -> bool {
        self.places.contains(&(what, Arc::clone(id)))
    }
}

/// The anchors and lash points of a yard, by the node that holds them.
pub(super) struct Places(HashSet<(Span, Arc<str>)>);

impl Places {
    pub(super) fn new(yard: &Yard) -> Self {
        let mut all = HashSet::new();
        for trailer in &yard.trailers {
            all.extend(trailer.anchors.iter().map(|anchor| (trailer.owner.at, Arc::clone(&anchor.id.value))));
        }
        for machine in &yard.machines {
            all.extend(machine.lash_points.iter().map(|point| (machine.owner.at, Arc::clone(&point.id.value))));
        }
        for attachment in &yard.attachments {
            all.extend(attachment.lash_points.iter().map(|point| (attachment.owner.at, Arc::clone(&point.id.value))));
        }
        Self(all)
    }

    /// Whether the trailer, machine or attachment has a place of this name.
    pub(super) fn has(&self, owner: &Owner, name: &Arc<str>) -> bool {
        self.0.contains(&(owner.at, Arc::clone(name)))
    }
}
