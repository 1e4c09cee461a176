//! The names that a rule's condition may use: the figures at its subject, and its own parameters.

use super::Param;
use crate::expr::{Names, Type};
use crate::figures::{Each, figure, figures};
use crate::units::Dim;

/// What a slot of a condition stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Slot {
    /// A figure, by its place in the registry.
    Figure(usize),
    /// A parameter, by its place in the rule.
    Param(usize),
}

impl Slot {
    /// Reads a slot number as conditions carry it: figures first, then parameters.
    #[must_use]
    pub fn of(slot: usize) -> Self {
        slot.checked_sub(figures().len()).map_or(Self::Figure(slot), Self::Param)
    }
}

/// The names at one kind of subject.
#[derive(Debug)]
pub struct RuleNames<'r> {
    /// The subject.
    pub each: Each,
    /// The rule's parameters.
    pub params: &'r [Param],
}

impl RuleNames<'_> {
    /// What a name stands for.
    #[must_use]
    pub fn slot(&self, name: &str) -> Option<Slot> {
        let param = self.params.iter().position(|param| &*param.name == name).map(Slot::Param);
        param.or_else(|| figure(name, self.each).map(|(slot, _)| Slot::Figure(slot)))
    }
}

impl Names for RuleNames<'_> {
    fn resolve(&self, name: &str) -> Option<(usize, Type)> {
        match self.slot(name)? {
            Slot::Param(at) => {
                let kind = self.params.get(at)?.kind;
                Some((figures().len() + at, Type::Number(kind.map_or(Dim::NONE, crate::units::Kind::dim))))
            }
            Slot::Figure(at) => Some((at, figures().get(at)?.measures.ty())),
        }
    }

    fn known(&self) -> Vec<String> {
        let there = |of: &[Each]| of.is_empty() || of.contains(&self.each);
        let figures = figures().iter().filter(|figure| there(figure.of)).map(|figure| figure.name.to_owned());
        figures.chain(self.params.iter().map(|param| param.name.to_string())).collect()
    }
}
