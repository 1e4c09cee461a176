//! A deck drawn to scale in characters: its edges and feet or metres, what stands on it, and where that may stand.

use super::style::Style;
use super::wrap::columns;
use crate::units::System;

/// Columns before each line of the drawing, for what the line shows.
const LEAD: usize = 12;

/// A deck from `from` to `to`, in m behind its front edge, drawn in so many cells.
pub(super) struct Ruler {
    deck: f64,
    from: f64,
    to: f64,
    cells: usize,
    style: Style,
}

impl Ruler {
    /// A ruler that shows the deck and all of these stretches.
    pub(super) fn new(deck: f64, stretches: &[(f64, f64)], style: Style) -> Self {
        let from = stretches.iter().fold(0.0_f64, |from, one| from.min(one.0));
        let to = stretches.iter().fold(deck, |to, one| to.max(one.1));
        let cells = style.columns().saturating_sub(LEAD + 6).max(10);
        Self { deck, from, to, cells, style }
    }

    /// The cell in which a place lies.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the cells")]
    #[expect(clippy::cast_precision_loss, reason = "a line has far fewer cells than a number has digits")]
    fn cell(&self, at: f64) -> usize {
        let span = self.to - self.from;
        let share = if span > 0.0 { (at - self.from) / span } else { 0.0 };
        ((share * (self.cells - 1) as f64).round().clamp(0.0, (self.cells - 1) as f64)) as usize
    }

    /// The scale: figures over a line with a mark at each.
    pub(super) fn scale(&self, system: System, out: &mut String) {
        let (step, unit, symbol) = match system {
            System::Us => (5.0, 0.3048, "ft"),
            System::Si => (1.0, 1.0, "m"),
        };
        let mut figures = vec![' '; self.cells + 6];
        let mut line = vec![if self.style.unicode { '─' } else { '-' }; self.cells];
        let mut mark = 0.0;
        let mut last = None;
        while mark * unit <= self.deck + 1e-9 {
            let cell = self.cell(mark * unit);
            if let Some(place) = line.get_mut(cell) {
                *place = if self.style.unicode { '┬' } else { '+' };
            }
            let text = if mark + step > self.deck / unit { format!("{mark} {symbol}") } else { format!("{mark}") };
            let clear = last.is_none_or(|last| cell > last);
            if clear {
                for (place, letter) in figures.iter_mut().skip(cell).zip(text.chars()) {
                    *place = letter;
                }
                last = Some(cell + text.chars().count());
            }
            mark += step;
        }
        for (edge, letter) in [(0.0, '├'), (self.deck, '┤')] {
            if let Some(place) = line.get_mut(self.cell(edge)) {
                *place = if self.style.unicode { letter } else { '|' };
            }
        }
        for cell in (0..self.cell(0.0)).chain(self.cell(self.deck) + 1..self.cells) {
            if let Some(place) = line.get_mut(cell) {
                *place = ' ';
            }
        }
        Self::put("", figures.into_iter().collect::<String>().trim_end(), out);
        Self::put("deck", line.into_iter().collect::<String>().trim_end(), out);
    }

    /// A line on which stretches are filled.
    pub(super) fn stretches(&self, lead: &str, stretches: &[(f64, f64)], letter: char, out: &mut String) {
        let mut line = vec![' '; self.cells];
        for (from, to) in stretches {
            let (from, to) = (self.cell(*from), self.cell(*to));
            for place in line.iter_mut().take(to + 1).skip(from) {
                *place = letter;
            }
        }
        Self::put(lead, line.into_iter().collect::<String>().trim_end(), out);
    }

    fn put(lead: &str, line: &str, out: &mut String) {
        if line.is_empty() {
            return;
        }
        out.push_str("    ");
        out.push_str(lead);
        out.push_str(&" ".repeat(LEAD.saturating_sub(4 + columns(lead))));
        out.push_str(line);
        out.push('\n');
    }
}
