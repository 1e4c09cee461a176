//! The lines of one file that a finding shows, cut and cleaned by us and drawn by miette.
//!
//! The drawing never sees the file. It gets a short text of the lines to show, so that a label at the end of a long file
//! costs no more than one at its start, no line is longer than the screen, and no character acts on the terminal.

use std::fmt;

use miette::{
    Diagnostic, GraphicalReportHandler, LabeledSpan, MietteError, MietteSpanContents, SourceCode, SourceSpan,
    SpanContents,
};

/// Columns from the middle of a mark to the text beside it: `╰── `.
pub(super) const HOOK: usize = 4;

/// A place in an excerpt's text, with the words beside it.
#[derive(Debug)]
pub(super) struct Mark {
    pub(super) bytes: std::ops::Range<usize>,
    /// Lines of text beside it; none for a mark without words.
    pub(super) words: Vec<String>,
}

/// A line of an excerpt.
pub(super) struct Line<'a> {
    /// Its number, from 0.
    pub(super) number: usize,
    pub(super) text: &'a str,
    /// The marks that begin on it, from left to right: bytes of the line, and the words beside them.
    pub(super) marks: Vec<(std::ops::Range<usize>, &'a [String])>,
}

/// Lines that follow one another in the file.
#[derive(Debug)]
struct Run {
    /// The number of its first line, from 0.
    line: usize,
    lines: usize,
    bytes: std::ops::Range<usize>,
}

/// Lines of a file with marks, ready to be drawn.
#[derive(Debug, Default)]
pub(super) struct Excerpt {
    text: String,
    runs: Vec<Run>,
    marks: Vec<Mark>,
}

impl Excerpt {
    /// Adds a line, in the order of the file, with its number from 0 and the marks on it.
    pub(super) fn line(&mut self, number: usize, text: &str, marks: Vec<Mark>) {
        let start = self.text.len();
        self.text.push_str(text);
        // Always with a line break: a mark at the very end of a text without one would not be drawn.
        self.text.push('\n');
        let end = self.text.len();
        match self.runs.last_mut().filter(|run| run.line + run.lines == number) {
            Some(run) => {
                run.lines += 1;
                run.bytes.end = end;
            }
            None => self.runs.push(Run { line: number, lines: 1, bytes: start..end }),
        }
        let last = end.saturating_sub(1);
        self.marks.extend(marks.into_iter().map(|mark| {
            let at = (start + mark.bytes.start).min(last);
            Mark { bytes: at..(start + mark.bytes.end).clamp(at, last), words: mark.words }
        }));
    }

    /// Draws the lines and their marks at the end of `out`.
    pub(super) fn draw(&self, pen: &GraphicalReportHandler, out: &mut String) {
        let mut drawn = String::new();
        // Writing to a String does not fail, and the spans all lie in the text.
        if pen.render_report(&mut drawn, self).is_err() {
            return;
        }
        // The first line is that of the message, which is empty: headlines are laid out by this room.
        for line in drawn.lines().skip(1) {
            out.push_str(line.trim_end());
            out.push('\n');
        }
    }

    /// The lines, in order.
    pub(super) fn lines(&self) -> impl Iterator<Item = Line<'_>> {
        self.runs.iter().flat_map(move |run| {
            let text = self.text.get(run.bytes.clone()).unwrap_or("");
            let mut start = run.bytes.start;
            text.lines().zip(run.line..).map(move |(line, number)| {
                let from = start;
                start += line.len() + 1;
                let on_it = |mark: &&Mark| (from..start).contains(&mark.bytes.start);
                let moved = |mark: &Mark| {
                    let end = (mark.bytes.end - from).min(line.len());
                    (mark.bytes.start - from).min(end)..end
                };
                let mut marks: Vec<_> =
                    self.marks.iter().filter(on_it).map(|mark| (moved(mark), &*mark.words)).collect();
                marks.sort_by_key(|(bytes, _)| bytes.start);
                Line { number, text: line, marks }
            })
        })
    }

    fn run_at(&self, offset: usize) -> Option<&Run> {
        self.runs.iter().find(|run| run.bytes.contains(&offset))
    }
}

impl SourceCode for Excerpt {
    /// The whole run that holds the span: the lines around a mark were chosen when the excerpt was made.
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        _before: usize,
        _after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let run = self.run_at(span.offset()).ok_or(MietteError::OutOfBounds)?;
        if span.offset().saturating_add(span.len()) > run.bytes.end {
            return Err(MietteError::OutOfBounds);
        }
        let data = self.text.as_bytes().get(run.bytes.clone()).ok_or(MietteError::OutOfBounds)?;
        let span = SourceSpan::new(run.bytes.start.into(), run.bytes.len());
        Ok(Box::new(MietteSpanContents::new(data, span, run.line, 0, run.lines)))
    }
}

impl Diagnostic for Excerpt {
    fn source_code(&self) -> Option<&dyn SourceCode> {
        Some(self)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        Some(Box::new(self.marks.iter().map(|mark| {
            let words = (!mark.words.is_empty()).then(|| mark.words.join("\n"));
            LabeledSpan::new(words, mark.bytes.start, mark.bytes.len())
        })))
    }
}

impl fmt::Display for Excerpt {
    fn fmt(&self, _: &mut fmt::Formatter<'_>) -> fmt::Result {
        Ok(())
    }
}

impl std::error::Error for Excerpt {}
