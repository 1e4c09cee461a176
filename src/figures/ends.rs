//! A load at both ends of its material's density, and the units in which it is told: what whoever judges a load asks first.

use super::{Heap, Load};
use crate::model::{ItemKind, LoadRef, Yard};
use crate::units::System;

impl<'y> Load<'y> {
    /// The load at the heaviest and, where loose material makes a difference, at the lightest end of its material's density:
    /// a range enters as its two ends, and a bound must hold at both. Each keeps what it rests on.
    #[must_use]
    pub fn at_both_ends(yard: &'y Yard, which: LoadRef) -> Option<Vec<Self>> {
        let heavy = Self::noted(yard, which, Heap::Heaviest)?;
        let heaped = heavy.items.iter().any(|item| matches!(item.item.kind, ItemKind::Bulk(_)));
        let light = if heaped { Self::noted(yard, which, Heap::Lightest) } else { None };
        Some(std::iter::once(heavy).chain(light).collect())
    }

    /// The units in which a person is shown its figures: those asked for, else the yard's, else those that most of its
    /// sheet is written in.
    #[must_use]
    pub fn shown_in(&self, asked: Option<System>) -> System {
        asked.or(self.yard.settings.units.value()).unwrap_or(self.sheet.mostly)
    }
}
