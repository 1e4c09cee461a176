//! In which units the numbers around an entry are written. Asked only where a unit or an entry is missing, since it walks
//! the definition, and the file once.

use std::cell::OnceCell;
use std::collections::BTreeMap;

use super::words::{WORDS, Word};
use super::write::fitting;
use crate::syntax::{Entry, Node, Value};
use crate::units::{Kind, System, Unit, feet_and_inches, unit};

/// A file's nodes, and what they are written in once somebody asked.
pub(super) struct Whole<'t> {
    nodes: &'t [Node],
    units: OnceCell<Written>,
}

/// A definition or sheet in its file.
pub(super) struct Around<'t> {
    whole: &'t Whole<'t>,
    node: &'t Node,
    word: &'static Word,
    units: OnceCell<Written>,
}

/// The units of some nodes.
#[derive(Default)]
struct Written {
    kinds: BTreeMap<Kind, Used>,
    /// The same for each entry by its node and name: a deck's length may be in feet where all else is in inches.
    entries: BTreeMap<(&'static str, &'static str, Kind), Used>,
    /// How many more of them are US units than SI.
    us: i32,
}

/// What numbers of one kind are written in.
#[derive(Clone, Copy, PartialEq)]
enum Used {
    One(&'static Unit),
    Several,
}

impl<'t> Whole<'t> {
    pub(super) const fn new(nodes: &'t [Node]) -> Self {
        Self { nodes, units: OnceCell::new() }
    }

    fn units(&self) -> &Written {
        self.units.get_or_init(|| {
            let mut written = Written::default();
            for node in self.nodes {
                if let Some(word) = WORDS.into_iter().find(|word| word.name == &*node.name.text) {
                    written.take(node, word);
                }
            }
            written
        })
    }

    pub(super) const fn around(&'t self, node: &'t Node, word: &'static Word) -> Around<'t> {
        Around { whole: self, node, word, units: OnceCell::new() }
    }
}

impl Around<'_> {
    fn units(&self) -> &Written {
        self.units.get_or_init(|| {
            let mut written = Written::default();
            written.take(self.node, self.word);
            written
        })
    }

    /// The system that most units of the definition belong to, or of the file where it has none.
    pub(super) fn system(&self) -> System {
        let more = match self.units().us {
            0 => self.whole.units().us,
            more => more,
        };
        if more >= 0 { System::Us } else { System::Si }
    }

    /// The unit in which every other number of this kind is written, in the definition or else in the file. None where
    /// they differ, where there is none, or where the same entry of a like node is written in another.
    pub(super) fn only_unit(&self, word: &Word, entry: &str, kind: Kind) -> Option<&'static Unit> {
        let used = self.units().kinds.get(&kind).or_else(|| self.whole.units().kinds.get(&kind))?;
        let alike = self.whole.units().entries.get(&(word.name, entry, kind));
        match used {
            Used::One(unit) if alike.is_none_or(|alike| alike == used) => Some(unit),
            _ => None,
        }
    }
}

impl Written {
    /// Nesting is bounded where the text is read.
    fn take(&mut self, node: &Node, word: &'static Word) {
        let mut arguments = 0;
        for entry in &node.entries {
            let value = if let Some(key) = &entry.key {
                word.prop(&key.text)
            } else {
                arguments += 1;
                word.args.get(arguments - 1).or(word.args.last().filter(|last| last.occurs.repeats()))
            };
            let Some((value, kind)) = value.and_then(|value| Some((value, value.takes.kind()?))) else { continue };
            let Some(used) = used(entry, kind) else { continue };
            let name = if entry.key.is_none() && word.is_entry() { word.name } else { value.name };
            note(self.kinds.entry(kind).or_insert(used), used);
            note(self.entries.entry((word.name, name, kind)).or_insert(used), used);
            if let Used::One(unit) = used
                && !matches!(kind, Kind::Share | Kind::Angle)
            {
                self.us += if unit.us { 1 } else { -1 };
            }
        }
        for child in node.children() {
            if let Some(known) = word.child(&child.name.text) {
                self.take(child, known.word);
            }
        }
    }
}

fn note(all: &mut Used, one: Used) {
    if *all != one {
        *all = Used::Several;
    }
}

/// What one entry is written in; feet and inches in words are two units.
fn used(entry: &Entry, kind: Kind) -> Option<Used> {
    match (&entry.value, &entry.ty) {
        (Value::Number { .. }, Some(ty)) => {
            let written = unit(&ty.text)?;
            fitting(kind).any(|fits| fits == written).then_some(Used::One(written))
        }
        (Value::Text(text), None) if kind == Kind::Length => feet_and_inches(text).map(|_| Used::Several),
        _ => None,
    }
}
