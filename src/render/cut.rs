//! One line of a file as an excerpt shows it: characters that act replaced by stand-ins, tabs by blanks, and only as
//! much of it as fits, around the mark that matters. The line still knows where each byte of the file went.

use super::Style;
use super::excerpt::HOOK;
use super::wrap::{char_columns, columns};
use crate::text::{is_hidden, visible};

/// How many bytes before and after a mark are looked at. More can never fit, and a line of a megabyte must not cost a
/// megabyte for every finding.
const REACH: usize = 2048;
/// Columns from one tab stop to the next.
const TAB: usize = 4;

/// A character of a line: where it stands in the file, in the cleaned text, and on the screen.
#[derive(Clone, Copy, Debug)]
struct Cell {
    byte: usize,
    at: usize,
    column: usize,
}

/// A line ready to be drawn.
#[derive(Debug)]
pub(super) struct Cut {
    /// What is shown, without a line break.
    pub(super) text: String,
    /// The shown characters and an end, placed in `text`.
    cells: Vec<Cell>,
    /// Whether characters of the file follow after the last one shown.
    goes_on: bool,
}

/// A wish for what must be in view.
#[derive(Clone, Debug)]
pub(super) struct Focus {
    /// The bytes of the file that are marked.
    pub(super) bytes: std::ops::Range<usize>,
    /// Columns that its text beside the mark needs.
    pub(super) label: usize,
}

impl Cut {
    /// The line with these bytes of `text`, in `room` columns; with a focus, so that its mark and label are in view.
    pub(super) fn new(
        text: &str,
        line: std::ops::Range<usize>,
        focus: Option<&Focus>,
        room: usize,
        style: Style,
    ) -> Self {
        let near = focus.map_or(line.start, |focus| focus.bytes.start.clamp(line.start, line.end));
        let from = text.floor_char_boundary(near.saturating_sub(REACH)).max(line.start);
        let to = text.floor_char_boundary(near.saturating_add(REACH)).min(line.end).max(from);
        let (clean, cells) = clean(text.get(from..to).unwrap_or(""), from);
        let wide = cells.last().map_or(0, |end| end.column);
        let dots = columns(style.ellipsis());
        let marked = focus.map_or(0, |focus| column_of(&cells, focus.bytes.start));
        let mut first = focus.map_or(0, |focus| moved(&cells, focus, room, dots)).min(marked);
        let mut out = String::new();
        let indent = clean.len() - clean.trim_start_matches(' ').len();
        if from > line.start || cells.iter().any(|cell| cell.at >= indent && cell.column < first) {
            // The ellipsis takes columns too, of the text before the mark.
            first = (first + dots).min(marked);
            out.push_str(style.ellipsis());
        }
        let used = columns(&out);
        let fits = wide.saturating_sub(first) + used <= room && to == line.end;
        let last = if fits { wide } else { first + room.saturating_sub(used + dots) };
        let shown: Vec<Cell> =
            cells.iter().copied().filter(|cell| cell.column >= first && cell.column <= last).collect();
        let start = shown.first().map_or(0, |cell| cell.at);
        let end = shown.last().map_or(start, |cell| cell.at);
        let shift = out.len();
        out.push_str(clean.get(start..end).unwrap_or(""));
        if !fits {
            out.push_str(style.ellipsis());
        }
        let cells = shown.iter().map(|cell| Cell { at: cell.at - start + shift, ..*cell }).collect();
        Self { text: out, cells, goes_on: !fits }
    }

    /// Where the mark of these bytes stands in the shown text, as far as it is in view; nothing when it starts outside.
    pub(super) fn mark(&self, bytes: &std::ops::Range<usize>) -> Option<std::ops::Range<usize>> {
        let first = self.cells.first()?;
        let last = self.cells.last()?;
        let starts_after = bytes.start > last.byte || (self.goes_on && bytes.start == last.byte);
        if bytes.start < first.byte || starts_after {
            return None;
        }
        let start = self.at(bytes.start);
        let end = if bytes.end > last.byte { last.at } else { self.at(bytes.end) };
        Some(start..end.max(start))
    }

    /// The columns before this place of the shown text.
    pub(super) fn column(&self, at: usize) -> usize {
        columns(self.text.get(..at.min(self.text.len())).unwrap_or(""))
    }

    fn at(&self, byte: usize) -> usize {
        let next = self.cells.partition_point(|cell| cell.byte < byte);
        self.cells.get(next).or(self.cells.last()).map_or(0, |cell| cell.at)
    }
}

/// A text without characters that act, and where each of its characters went, with one cell more for the end.
fn clean(text: &str, from: usize) -> (String, Vec<Cell>) {
    let mut out = String::with_capacity(text.len() + 16);
    let mut cells = Vec::with_capacity(text.len() + 1);
    let mut column = 0;
    for (at, c) in text.char_indices() {
        cells.push(Cell { byte: from + at, at: out.len(), column });
        if c == '\t' {
            let wide = TAB - column % TAB;
            out.extend(std::iter::repeat_n(' ', wide));
            column += wide;
        } else if is_hidden(c) || matches!(c, '\n' | '\r') {
            let before = out.len();
            out.push_str(&visible(c.encode_utf8(&mut [0; 4]), true));
            column += out.len() - before;
        } else {
            out.push(c);
            column += char_columns(c);
        }
    }
    cells.push(Cell { byte: from + text.len(), at: out.len(), column });
    (out, cells)
}

fn column_of(cells: &[Cell], byte: usize) -> usize {
    let next = cells.partition_point(|cell| cell.byte < byte);
    cells.get(next).or(cells.last()).map_or(0, |cell| cell.column)
}

/// How many columns of the line's start must go, so that the mark and its label are in view.
fn moved(cells: &[Cell], focus: &Focus, room: usize, dots: usize) -> usize {
    let start = column_of(cells, focus.bytes.start);
    let end = column_of(cells, focus.bytes.end).max(start + 1);
    if end - start + 2 * dots > room {
        // The mark fills the line: it is shown from its start, and its middle is that of the line.
        return if end > room { start } else { 0 };
    }
    let label = if focus.label == 0 { 0 } else { usize::midpoint(start, end) + HOOK + focus.label };
    let ends = if cells.last().is_some_and(|last| last.column <= end) { end } else { end + dots };
    label.max(ends).saturating_sub(room)
}
