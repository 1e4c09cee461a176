//! Numbers of a load in words: figures as `weigh` has them, entries as they are written.

use crate::expr::Value;
use crate::figures::{Each, Figure, Load, Subject, figure};
use crate::finding::FigureLine;
use crate::model::{Entry, Slot};
use crate::units::{Kind, Quantity, System, show, show_in, show_with_spread};

/// A load with the figures that `weigh` shows of it.
pub(super) struct Numbers<'a, 'y> {
    pub(super) load: &'a Load<'y>,
    pub(super) lines: &'a [FigureLine],
    pub(super) system: System,
}

impl Numbers<'_, '_> {
    /// A figure of a subject, as `weigh` shows it.
    pub(super) fn line(&self, name: &str, each: Each, subject: Subject) -> Option<&FigureLine> {
        let (_, figure) = figure(name, each)?;
        let name = figure.result_name(self.load, subject);
        self.lines.iter().find(|line| line.name == name)
    }

    /// A figure with how far it can be off, `3.2 in (can be off by 0.5 in)`, or for want of what it is not known. None where
    /// `weigh` does not show it: nothing asks for it.
    pub(super) fn told(&self, name: &str, each: Each, subject: Subject) -> Option<String> {
        let line = self.line(name, each, subject)?;
        Some(self.number(line).unwrap_or_else(|| self.unknown(name, each, subject)))
    }

    /// The same where it is known.
    pub(super) fn known(&self, name: &str, each: Each, subject: Subject) -> Option<String> {
        self.number(self.line(name, each, subject)?)
    }

    /// Whether a figure is known to be below zero.
    pub(super) fn is_below_zero(&self, name: &str, each: Each, subject: Subject) -> bool {
        self.line(name, each, subject).and_then(|line| line.value).is_some_and(|value| value < 0.0)
    }

    /// A figure's number, where it has one.
    fn number(&self, line: &FigureLine) -> Option<String> {
        let (value, kind) = (line.value?, line.kind?);
        Some(match line.plus_minus {
            Some(spread) => {
                let number = show_with_spread(value, spread, kind, self.system);
                format!("{number} (can be off by {})", show(spread, kind, self.system))
            }
            None => show(value, kind, self.system),
        })
    }

    /// A figure's number alone: for sums and limits, where its spread is told elsewhere.
    pub(super) fn bare(&self, name: &str, each: Each, subject: Subject) -> Option<String> {
        let line = self.line(name, each, subject)?;
        Some(show(line.value?, line.kind?, self.system))
    }

    /// `not known, for want of machine "loader" underside`.
    fn unknown(&self, name: &str, each: Each, subject: Subject) -> String {
        let lack = figure(name, each).and_then(|(_, figure)| figure.of(self.load, subject).err());
        lack.map_or_else(|| "not known".to_owned(), |lack| format!("not known, for want of {lack}"))
    }

    /// A figure that is a word.
    pub(super) fn word(&self, name: &str, each: Each, subject: Subject) -> Option<String> {
        match self.read(name, each, subject)? {
            Value::Text(word) => Some(word.to_string()),
            Value::Number(_) | Value::Flag(_) => None,
        }
    }

    /// A figure that is a number but no line of `weigh`: an entry, or what a place is told by.
    pub(super) fn entry(&self, name: &str, each: Each, subject: Subject) -> Option<String> {
        let (_, figure) = figure(name, each)?;
        let reading = figure.of(self.load, subject).ok()?;
        let Value::Number(si) = reading.value else { return None };
        Some(self.quantity(si, kind(figure)?, reading.unit))
    }

    /// A figure that is yes or no.
    pub(super) fn flag(&self, name: &str, each: Each, subject: Subject) -> Option<bool> {
        match self.read(name, each, subject)? {
            Value::Flag(flag) => Some(flag),
            Value::Number(_) | Value::Text(_) => None,
        }
    }

    fn read(&self, name: &str, each: Each, subject: Subject) -> Option<Value> {
        let (_, figure) = figure(name, each)?;
        Some(figure.of(self.load, subject).ok()?.value)
    }

    /// What a sheet says, as it is written.
    pub(super) fn slot<T: Quantity>(&self, slot: &Slot<T>) -> Option<String> {
        slot.entry().map(|entry| self.written(entry))
    }

    /// The same of an entry.
    pub(super) fn written<T: Quantity>(&self, entry: &Entry<T>) -> String {
        self.quantity(entry.value.si(), T::KIND, entry.unit)
    }

    /// A number as it was written, and converted beside it where the reader thinks in the other system.
    fn quantity(&self, si: f64, kind: Kind, unit: Option<&'static crate::units::Unit>) -> String {
        match unit {
            None => show(si, kind, self.system),
            Some(unit) if unit.us == (self.system == System::Us) || matches!(kind, Kind::Share | Kind::Angle) => {
                show_in(si, unit)
            }
            Some(unit) => format!("{} ({})", show_in(si, unit), show(si, kind, self.system)),
        }
    }
}

const fn kind(figure: &Figure) -> Option<Kind> {
    figure.measures.kind()
}
