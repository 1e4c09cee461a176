//! Findings as text with the lines at fault, for a person who stands beside the trailer with a phone.
//!
//! The first line says how grave it is, which rule speaks, and where; the second what is wrong and by how much. Then
//! come the lines at fault, places in other files, one sentence of help, and where the bound comes from. Nothing is told
//! by colour or by position alone.

use std::path::Path;

use miette::{GraphicalReportHandler, GraphicalTheme, ThemeCharacters, ThemeStyles};
use rayon::prelude::*;

use super::arrange::{Arranged, arranged};
use super::closing::count;
use super::place::{location, shown};
use super::style::{Ink, Style};
use super::wrap::{columns, paragraph};
use super::{caution, summary};
use crate::finding::{Finding, Label, Report};
use crate::text::Sources;

/// Findings drawn by one worker at a time.
const SHARE: usize = 64;

/// Draws findings. Made once for a run; workers share it.
#[derive(Debug)]
pub struct TextRenderer {
    style: Style,
    pen: GraphicalReportHandler,
}

impl TextRenderer {
    /// A renderer for a style.
    #[must_use]
    pub fn new(style: Style) -> Self {
        let pen = GraphicalReportHandler::new_themed(theme(style))
            .with_width(style.columns())
            .with_context_lines(1)
            .with_urls(false)
            .without_cause_chain()
            .without_primary_span_start()
            .without_syntax_highlighting();
        Self { style, pen }
    }

    /// The whole report: its findings in order, the summary and the caution. With `quiet` only the findings.
    #[must_use]
    pub fn report(&self, report: &Report<'_>, quiet: bool) -> String {
        let parts: Vec<String> =
            report.findings.par_chunks(SHARE).map(|part| self.findings(report.sources, part)).collect();
        let mut out = parts.concat();
        if !quiet {
            out.push_str(&summary(report, self.style));
            out.push_str(&caution(self.style));
        }
        out
    }

    /// Findings in the order in which they are given, each with a blank line after it.
    #[must_use]
    pub fn findings(&self, sources: &Sources, findings: &[Finding]) -> String {
        let mut out = String::with_capacity(findings.len() * 1024);
        for finding in findings {
            self.finding(sources, finding, &mut out);
            out.push('\n');
        }
        out
    }

    /// One finding, at the end of `out`.
    pub fn finding(&self, sources: &Sources, finding: &Finding, out: &mut String) {
        self.head(sources, finding, out);
        let apart = self.excerpt(sources, finding, out);
        for label in apart {
            self.elsewhere(sources, label, out);
        }
        self.foot(finding, out);
    }

    /// `error tongue-light at sheets/trencher-move.kdl:9:44 (leg out)`, and the message below.
    fn head(&self, sources: &Sources, finding: &Finding, out: &mut String) {
        let width = self.style.columns();
        let level = finding.level.name();
        let rule = shown(&finding.rule);
        let place = format!("at {}", location(sources, finding.primary.span));
        let load = load(sources, finding);
        out.push_str(&self.style.paint(Ink::Level(finding.level), level));
        out.push(' ');
        out.push_str(&self.style.paint(Ink::Strong, &rule));
        let mut filled = columns(level) + 1 + columns(&rule) + 1 + columns(&place);
        if filled > width {
            // A place is not broken: terminals make a link of it.
            out.push_str("\n   ");
            filled = 4 + columns(&place);
        }
        out.push(' ');
        out.push_str(&place);
        if load.is_empty() {
            out.push('\n');
        } else if filled + 1 + columns(&load) <= width {
            out.push(' ');
            out.push_str(&load);
            out.push('\n');
        } else {
            out.push('\n');
            paragraph(out, "    ", &load, 4, width);
        }
        let mut message = String::new();
        paragraph(&mut message, "  ", &shown(&finding.message), 2, width);
        for line in message.lines() {
            let words = line.trim_start_matches(' ');
            out.push_str(if words.is_empty() { "" } else { "  " });
            out.push_str(&self.style.paint(Ink::Strong, words));
            out.push('\n');
        }
    }

    /// The lines of the primary label's file; gives back the labels that could not be drawn there.
    fn excerpt<'a>(&self, sources: &'a Sources, finding: &'a Finding, out: &mut String) -> Vec<&'a Label> {
        let (arranged, apart) = arranged(sources, finding, self.style);
        if let Some(arranged) = arranged {
            arranged.excerpt().draw(&self.pen, out);
        }
        apart
    }

    /// A label in another file, or one that found no room: a line that introduces it, and its own excerpt.
    fn elsewhere(&self, sources: &Sources, label: &Label, out: &mut String) {
        let place = location(sources, label.span);
        let text = shown(&label.text);
        let text = if text.is_empty() { place } else { format!("{place}: {text}") };
        self.told("see", &text, out);
        let Some(source) = sources.get(label.span.file) else { return };
        let mut arranged = Arranged::new(source, self.style);
        arranged.add(label, "");
        arranged.excerpt().draw(&self.pen, out);
    }

    fn foot(&self, finding: &Finding, out: &mut String) {
        if !finding.also.is_empty() {
            self.told("also", &also(finding), out);
        }
        let help = finding.help.as_ref().or_else(|| finding.fixes.first().map(|fix| &fix.title));
        if let Some(help) = help {
            self.told("help", &shown(help), out);
        }
        if let Some(source) = &finding.source {
            self.told("source", &shown(source), out);
        }
        if let Some(waived) = &finding.waived {
            let text = waived.to_string();
            self.told("waived", &shown(&text), out);
        }
    }

    /// A line that begins with a word and a colon.
    fn told(&self, lead: &str, text: &str, out: &mut String) {
        let first = format!("  {} ", self.style.paint(Ink::Lead, &format!("{lead}:")));
        paragraph(out, &first, text, lead.len() + 4, self.style.columns());
    }
}

/// The further loads in which a fault was found, as many as can be read at a glance.
pub(super) fn also(finding: &Finding) -> String {
    const MOST: usize = 6;
    let named = finding.also.iter().take(MOST).map(|load| {
        let leg = load.leg.as_deref().map(|leg| format!(", leg {}", shown(leg))).unwrap_or_default();
        format!("sheet {}{leg}", shown(&load.sheet))
    });
    let mut named: Vec<String> = named.collect();
    if finding.also.len() > MOST {
        named.push(format!("{} more loads", finding.also.len() - MOST));
    }
    format!("in {}", named.join("; "))
}

/// Which load it is, as far as the file's name does not say, and whether the finding is waived.
pub(super) fn load(sources: &Sources, finding: &Finding) -> String {
    let source = sources.get(finding.primary.span.file);
    let stem = source.and_then(|source| Path::new(&*source.name).file_stem()?.to_str());
    let sheet = finding.sheet.as_deref().filter(|sheet| stem != Some(*sheet));
    let sheet = sheet.map(|sheet| format!("sheet {}", shown(sheet)));
    let leg = finding.leg.as_deref().map(|leg| format!("leg {}", shown(leg)));
    let waived = finding.waived.is_some().then(|| "waived".to_owned());
    let more = finding.also.len();
    let also = (more > 0).then(|| format!("and {}", count(more, "more load")));
    let parts: Vec<String> = [sheet, leg, waived, also].into_iter().flatten().collect();
    if parts.is_empty() { String::new() } else { format!("({})", parts.join(", ")) }
}

/// Lines and colours of the excerpts.
fn theme(style: Style) -> GraphicalTheme {
    let mut characters = if style.unicode { ThemeCharacters::unicode() } else { ThemeCharacters::ascii() };
    if style.unicode {
        characters.uarrow = '┬';
    } else {
        characters.ltop = '+';
        characters.lbot = '+';
        characters.underbar = '^';
    }
    let mut styles = if style.color { ThemeStyles::ansi() } else { ThemeStyles::none() };
    styles.highlights = vec![styles.advice];
    GraphicalTheme { characters, styles }
}
