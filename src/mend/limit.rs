//! What a place must keep: every rule as it is asked of each subject of a load.

use crate::check::value;
use crate::expr::{Truth, Value, Verdict};
use crate::figures::{Each, Lack, Load, Subject, figures};
use crate::rules::{Ask, Rule, RuleSet, Slot};

/// A rule as it is asked of one subject at one end of the density range.
pub(super) struct Limit<'r> {
    pub(super) rule: &'r Rule,
    pub(super) ask: &'r Ask,
    pub(super) subject: Subject,
    /// Which end, by its place.
    pub(super) end: usize,
    /// It reads where the edges of things lie, which need not change evenly as something is moved.
    pub(super) bends: bool,
    /// It is about the way onto the deck, not about where things stand on it.
    pub(super) aboard: bool,
    /// It reads nothing but its own item and what no move changes.
    local: bool,
}

/// How a load stands to a limit.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Stand {
    /// It keeps it, or is not asked.
    Keeps,
    /// It breaks it.
    Breaks,
    /// What is missing to tell.
    CannotTell(Vec<Lack>),
}

/// Every rule that is asked of a load, at each end of its density range.
pub(super) fn limits<'r>(rules: &'r RuleSet, ends: &[Load<'_>]) -> Vec<Limit<'r>> {
    let mut all = Vec::new();
    for rule in rules.rules().iter().filter(|rule| !rule.off && !only_ties(rule)) {
        for ask in rule.asks() {
            let (bends, local, aboard) = (bends(ask), local(ask), aboard(ask));
            for (end, load) in ends.iter().enumerate() {
                let subjects = ask.each.subjects(load);
                all.extend(subjects.into_iter().map(|subject| Limit { rule, ask, subject, end, bends, aboard, local }));
            }
        }
    }
    all
}

/// Whether only other tie-downs cure what a rule finds. Moving things is no way to it, and what holds a cargo is found anew at
/// every place: whether a move spoils it is told when the move is tried.
fn only_ties(rule: &Rule) -> bool {
    !rule.cure.is_empty() && rule.cure.iter().all(|cure| **cure == *"tie")
}

/// Whether a condition reads only figures of its own item, and those of deck and trailer that stay as they are.
fn local(ask: &Ask) -> bool {
    let names = ask.when.iter().chain(std::iter::once(&ask.require)).flat_map(crate::expr::Expr::names);
    let stays = |name: &str| {
        name.starts_with("deck.") || matches!(name, "trailer.walled" | "trailer.rear_doors") || !name.contains('.')
    };
    let own = |name: &str| name.starts_with("item.") && !name.starts_with("item.overlap");
    let mut names = names.map(|(_, name, _)| name);
    names.all(|name| own(name) || stays(name))
}

/// Whether a condition is about how a machine is put aboard.
fn aboard(ask: &Ask) -> bool {
    let names = ask.when.iter().chain(std::iter::once(&ask.require)).flat_map(crate::expr::Expr::names);
    names.map(|(_, name, _)| name).any(|name| name.starts_with("loading."))
}

/// Whether a condition reads figures that go by edges: all that belong to an item, but for its weight.
fn bends(ask: &Ask) -> bool {
    let names = ask.when.iter().chain(std::iter::once(&ask.require)).flat_map(crate::expr::Expr::names);
    names.map(|(slot, ..)| Slot::of(slot)).any(|slot| match slot {
        Slot::Figure(at) => {
            figures().get(at).is_some_and(|figure| figure.name.starts_with("item.") || figure.name.starts_with("load."))
        }
        Slot::Param(_) => false,
    })
}

impl<'r> Limit<'r> {
    /// A rule as it is asked of one subject, of which nothing is moved.
    pub(super) const fn of(rule: &'r Rule, ask: &'r Ask, subject: Subject) -> Self {
        Self { rule, ask, subject, end: 0, bends: false, local: false, aboard: false }
    }
}

impl Limit<'_> {
    /// Whether it is about where things stand across the deck only: moving them along it changes the figure a little, and is
    /// no way to cure it.
    pub(super) fn across(&self) -> bool {
        let points = |wanted: &str| self.ask.points.iter().any(|point| **point == *wanted);
        points("item.left") && !points("item.place")
    }

    /// Whether where things stand across the deck has a part in it.
    pub(super) fn reads_across(&self) -> bool {
        self.ask.each == Each::Wheel || self.ask.points.iter().any(|point| **point == *"item.left")
    }

    /// Whether where things stand may have to do with it at all, as its rule says; a company's rule need not say.
    pub(super) fn may_depend(&self) -> bool {
        let cure = &self.rule.cure;
        cure.is_empty() || cure.iter().any(|word| matches!(&**word, "place" | "facing" | "load"))
    }

    /// Whether moving an item cannot change it: it is about another one, and reads nothing beside.
    pub(super) fn is_apart(&self, moved: impl Fn(usize) -> bool) -> bool {
        self.local && matches!(self.subject, Subject::Item(item) if !moved(item))
    }

    /// How this load stands to it.
    pub(super) fn stand(&self, load: &Load<'_>) -> Stand {
        let mut open = Vec::new();
        let mut read = |slot: usize| self.read(load, slot, &mut open);
        let when: Option<Verdict<Lack>> = self.ask.when.as_ref().map(|when| when.decide(&mut read));
        if when.as_ref().is_some_and(|when| when.truth == Truth::Fails) {
            return Stand::Keeps;
        }
        let verdict = self.ask.require.decide(&mut read);
        let asked = when.as_ref().is_none_or(|when| when.truth == Truth::Holds);
        match verdict.truth {
            Truth::Holds if open.is_empty() => Stand::Keeps,
            Truth::Holds => Stand::CannotTell(open),
            Truth::Fails if asked => Stand::Breaks,
            Truth::Fails | Truth::CannotTell => {
                Stand::CannotTell(when.into_iter().flat_map(|when| when.missing).chain(verdict.missing).collect())
            }
        }
    }

    /// Whether it is asked of this load.
    pub(super) fn asked(&self, load: &Load<'_>) -> bool {
        let mut read = |slot: usize| self.read(load, slot, &mut Vec::new());
        self.ask.when.as_ref().is_none_or(|when| when.decide::<Lack>(&mut read).truth == Truth::Holds)
    }

    /// What is required, with the comparisons that were made.
    pub(super) fn required(&self, load: &Load<'_>) -> Verdict<Lack> {
        self.ask.require.eval(&mut |slot| self.read(load, slot, &mut Vec::new()))
    }

    /// How far apart the sides of each comparison are, those of `when` before those of `require`.
    pub(super) fn gaps(&self, load: &Load<'_>) -> Vec<Option<f64>> {
        let mut read = |slot: usize| self.read(load, slot, &mut Vec::new());
        let mut gaps = self.ask.when.as_ref().map(|when| when.gaps(&mut read)).unwrap_or_default();
        gaps.extend(self.ask.require.gaps(&mut read));
        gaps
    }

    /// How many of the gaps belong to `when`.
    pub(super) fn of_when(&self) -> usize {
        self.ask.when.as_ref().map_or(0, crate::expr::Expr::comparisons)
    }

    fn read(&self, load: &Load<'_>, slot: usize, open: &mut Vec<Lack>) -> Result<Value, Lack> {
        value(self.rule, load, self.subject, slot, open)
    }
}
