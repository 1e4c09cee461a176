//! Which marks of a finding stand together in one excerpt, and which need one of their own.
//!
//! Marks that overlap on a line cannot be drawn there: two of the same place are joined, one that begins earlier is
//! shortened, and any other is set apart. A span of several lines is marked on its first and says how far it reaches.

use std::collections::BTreeMap;
use std::ops::Range;

use super::Style;
use super::cut::{Cut, Focus};
use super::excerpt::{Excerpt, HOOK, Mark};
use super::place::{shown, within};
use super::wrap::{columns, wrap};
use crate::finding::{Finding, Label};
use crate::text::{Source, Sources};

/// Columns that words beside a mark get at least, where the screen allows it; shorter lines are hard to read.
const LEAST_WORDS: usize = 20;

/// How many secondary labels are shown.
const MOST_LABELS: usize = 3;

/// A finding's marks in the file of its primary place, and the labels that need an excerpt of their own. No marks where the
/// file is not known.
pub(super) fn arranged<'a>(
    sources: &'a Sources,
    finding: &'a Finding,
    style: Style,
) -> (Option<Arranged<'a>>, Vec<&'a Label>) {
    let labels: Vec<&Label> = finding.labels.iter().take(MOST_LABELS).collect();
    let file = finding.primary.span.file;
    let Some(source) = sources.get(file) else { return (None, labels) };
    // Marks look alike without colour, so the one to change says so when it is not alone.
    let alone = labels.iter().all(|label| label.span.file != file);
    let words = match (alone, finding.primary.text.as_str()) {
        (true, text) => text.to_owned(),
        (false, "") => "here".to_owned(),
        (false, text) => format!("here: {text}"),
    };
    let mut arranged = Arranged::new(source, style);
    arranged.add(&finding.primary, &words);
    let mut apart = vec![];
    for label in labels {
        if label.span.file != file || !arranged.add(label, &label.text) {
            apart.push(label);
        }
    }
    (Some(arranged), apart)
}

/// The marks of one file, by line.
pub(super) struct Arranged<'a> {
    source: &'a Source,
    style: Style,
    room: usize,
    lines: BTreeMap<usize, Line>,
}

struct Line {
    cut: Cut,
    marks: Vec<Placed>,
}

struct Placed {
    /// The marked bytes of the file.
    bytes: Range<usize>,
    /// Where they stand in the line as shown.
    at: Range<usize>,
    words: String,
}

impl<'a> Arranged<'a> {
    /// An excerpt of a file, as yet without a mark.
    pub(super) fn new(source: &'a Source, style: Style) -> Self {
        // The frame takes a blank, the number of the line, a blank, a bar and a blank.
        let gutter = source.lines().to_string().len() + 4;
        Self { source, style, room: style.columns().saturating_sub(gutter), lines: BTreeMap::new() }
    }

    /// Adds a mark. False when it cannot be drawn beside those that are there.
    pub(super) fn add(&mut self, label: &Label, words: &str) -> bool {
        let span = within(self.source, label.span);
        let number = self.source.line_of(span.start);
        let line = self.source.line(number);
        let last = self.source.line_of(span.end.saturating_sub(1).max(span.start));
        let mut words = shown(words).into_owned();
        if last > number {
            let reach = format!("to line {}", last + 1);
            words = if words.is_empty() { reach } else { format!("{words} ({reach})") };
        }
        // An offset inside a line break belongs to the end of its line.
        let start = span.start.min(line.end);
        let bytes = start..span.end.min(line.end).max(start);
        let Some(there) = self.lines.get_mut(&number) else {
            let focus = Focus { bytes: bytes.clone(), label: least(&words, self.room) };
            let cut = Cut::new(&self.source.text, line, Some(&focus), self.room, self.style);
            let Some(at) = cut.mark(&bytes) else { return false };
            self.lines.insert(number, Line { cut, marks: vec![Placed { bytes, at, words }] });
            return true;
        };
        there.add(&self.source.text, bytes, words, self.room)
    }

    /// The excerpt, with a line before and after each marked one.
    pub(super) fn excerpt(mut self) -> Excerpt {
        let mut excerpt = Excerpt::default();
        let mut numbers: Vec<usize> = vec![];
        for number in self.lines.keys() {
            numbers.extend(number.checked_sub(1).filter(|before| !self.blank(*before)));
            numbers.push(*number);
            numbers.extend(Some(number + 1).filter(|after| !self.blank(*after)));
        }
        numbers.sort_unstable();
        numbers.dedup();
        let mut before = None;
        for number in numbers {
            // A single line left out would take as much room as the line itself.
            if before.is_some_and(|before: usize| before + 2 == number) {
                self.draw_line(&mut excerpt, number - 1);
            }
            self.draw_line(&mut excerpt, number);
            before = Some(number);
        }
        excerpt
    }

    fn draw_line(&mut self, excerpt: &mut Excerpt, number: usize) {
        if let Some(line) = self.lines.remove(&number) {
            let marks = line.marks(self.room);
            excerpt.line(number, &line.cut.text, marks);
        } else {
            let cut = Cut::new(&self.source.text, self.source.line(number), None, self.room, self.style);
            excerpt.line(number, &cut.text, vec![]);
        }
    }

    /// Whether a line shows nothing, or is none of the file's.
    fn blank(&self, number: usize) -> bool {
        self.source.text.get(self.source.line(number)).is_none_or(|line| line.trim().is_empty())
    }
}

impl Line {
    fn add(&mut self, text: &str, mut bytes: Range<usize>, words: String, room: usize) -> bool {
        if let Some(same) = self.marks.iter_mut().find(|mark| mark.bytes == bytes) {
            if same.words.is_empty() {
                same.words = words;
            } else if !words.is_empty() && same.words != words {
                same.words = format!("{}; {words}", same.words);
            }
            return true;
        }
        let next = self.marks.iter().map(|mark| mark.bytes.start).filter(|start| *start > bytes.start).min();
        if let Some(next) = next.filter(|next| *next < bytes.end) {
            let front = text.get(bytes.start..next).unwrap_or("").trim_end();
            bytes.end = bytes.start + front.len();
            if front.is_empty() {
                return false;
            }
        }
        let Some(at) = self.cut.mark(&bytes) else { return false };
        // An empty mark is drawn one column wide.
        let cells = |range: &Range<usize>| {
            let start = self.cut.column(range.start);
            start..self.cut.column(range.end).max(start + 1)
        };
        let new = cells(&at);
        let meets = self.marks.iter().any(|mark| {
            let old = cells(&mark.at);
            new.start < old.end && old.start < new.end
        });
        let fits = usize::midpoint(new.start, new.end) + HOOK + least(&words, room) <= room;
        if meets || !fits {
            return false;
        }
        self.marks.push(Placed { bytes, at, words });
        true
    }

    fn marks(&self, room: usize) -> Vec<Mark> {
        self.marks
            .iter()
            .map(|mark| {
                let middle = usize::midpoint(self.cut.column(mark.at.start), self.cut.column(mark.at.end));
                let width = room.saturating_sub(middle + HOOK).max(1);
                let words = if mark.words.trim().is_empty() { vec![] } else { wrap(&mark.words, width) };
                Mark { bytes: mark.at.clone(), words }
            })
            .collect()
    }
}

/// Columns that words beside a mark need: all, or enough to be wrapped. The middle of a mark never lies right of the
/// middle of the line when the line was moved as far as it can be, so half a line is the most that can be promised.
fn least(words: &str, room: usize) -> usize {
    columns(words).min(LEAST_WORDS).min((room / 2).saturating_sub(HOOK + 1))
}
