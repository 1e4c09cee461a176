//! The figures of one load in columns, grouped by what they are figures of.

use super::grouped::{Group, Row, groups};
use super::place::shown;
use super::style::{Ink, Style};
use super::wrap::{columns, paragraph, wrap};
use crate::finding::FigureLine;
use crate::units::System;

/// Blanks before a row.
const MARGIN: usize = 4;
/// Blanks between the columns of a row: four times two, and one before the spread.
const GAPS: usize = 9;
/// The narrowest and the widest bar.
const CELLS: std::ops::RangeInclusive<usize> = 6..=10;
/// The narrowest column of names that is still a column.
const LEAST_NAME: usize = 12;

/// Columns of each part of a row.
#[derive(Clone, Copy, Default)]
struct Widths {
    name: usize,
    value: usize,
    spread: usize,
    limit: usize,
    cells: usize,
    room: usize,
}

/// Writes the table.
pub(super) fn draw(figures: &[FigureLine], system: System, style: Style, out: &mut String) {
    let groups = groups(figures, system, style);
    let widths = Widths::of(&groups, style);
    for group in groups {
        out.push_str("  ");
        out.push_str(&style.paint(Ink::Lead, &shown(group.head)));
        out.push('\n');
        for row in group.rows {
            match widths {
                Some(widths) => row.draw(widths, style, out),
                None => row.stack(style, out),
            }
        }
        flow(&group.free, style, out);
    }
}

impl Widths {
    /// The widths of the columns, or nothing when they do not fit beside one another.
    fn of(groups: &[Group<'_>], style: Style) -> Option<Self> {
        let mut widths = Self::default();
        for row in groups.iter().flat_map(|group| &group.rows) {
            widths.name = widths.name.max(columns(&row.name));
            widths.value = widths.value.max(columns(&row.value));
            widths.spread = widths.spread.max(columns(&row.spread));
            widths.limit = widths.limit.max(columns(&row.limit_text));
            widths.room = widths.room.max(columns(&row.room));
        }
        let rest = MARGIN + widths.value + widths.spread + widths.limit + widths.room + GAPS;
        let left = style.columns().checked_sub(rest)?;
        widths.cells = left.saturating_sub(widths.name).clamp(*CELLS.start(), *CELLS.end());
        // A name that is longer still gets a line of its own.
        widths.name = widths.name.min(left.checked_sub(widths.cells)?);
        (widths.name >= LEAST_NAME.min(left)).then_some(widths)
    }
}

impl Row {
    fn bar(&self, cells: usize, style: Style) -> String {
        let cells = u32::try_from(cells).unwrap_or(0);
        self.number.map_or_else(String::new, |number| self.limit.bar(number, cells, style))
    }

    fn draw(&self, widths: Widths, style: Style, out: &mut String) {
        let mut name = self.name.as_str();
        if columns(name) > widths.name {
            paragraph(out, "    ", name, MARGIN + 2, style.columns());
            name = "";
        }
        let mut line = " ".repeat(MARGIN);
        left(&mut line, name, widths.name + 2);
        right(&mut line, &self.value, widths.value);
        line.push(' ');
        left(&mut line, &self.spread, widths.spread + 2);
        left(&mut line, &self.limit_text, widths.limit + 2);
        let bar = self.bar(widths.cells, style);
        if bar.is_empty() {
            line.push_str(&" ".repeat(widths.cells));
        }
        line.push_str(&bar);
        line.push_str("  ");
        line.push_str(&self.room);
        line.truncate(line.trim_end_matches(' ').len());
        out.push_str(&line);
        out.push('\n');
    }

    /// For a screen too narrow for columns: the name, what it is, and the room.
    fn stack(&self, style: Style, out: &mut String) {
        if !self.name.is_empty() {
            paragraph(out, "    ", &self.name, MARGIN + 2, style.columns());
        }
        let bar = self.bar(*CELLS.end(), style);
        for pieces in [[self.value.as_str(), &self.spread, &self.limit_text], ["", &bar, &self.room]] {
            let pieces: Vec<&str> = pieces.into_iter().filter(|piece| !piece.is_empty()).collect();
            if !pieces.is_empty() {
                out.push_str("      ");
                out.push_str(&pieces.join("  "));
                out.push('\n');
            }
        }
    }
}

fn left(line: &mut String, text: &str, width: usize) {
    line.push_str(text);
    line.push_str(&" ".repeat(width.saturating_sub(columns(text))));
}

fn right(line: &mut String, text: &str, width: usize) {
    line.push_str(&" ".repeat(width.saturating_sub(columns(text))));
    line.push_str(text);
}

/// Figures without limits, as many on a line as fit, none of them broken while it fits a line.
fn flow(items: &[String], style: Style, out: &mut String) {
    let width = style.columns().saturating_sub(MARGIN);
    let mut lines: Vec<String> = vec![];
    for item in items {
        match lines.last_mut() {
            Some(line) if columns(line) + 2 + columns(item) <= width => {
                line.push_str("; ");
                line.push_str(item);
            }
            _ => lines.push(item.clone()),
        }
    }
    for line in lines.iter().flat_map(|line| wrap(line, width)) {
        out.push_str("    ");
        out.push_str(&line);
        out.push('\n');
    }
}
