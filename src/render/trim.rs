//! `draylint trim` for a person: each change, what it cures, its diff, and the figures that it moves.

use std::sync::Arc;

use super::caution;
use super::place::shown;
use super::style::{Ink, Style};
use super::wrap::paragraph;
use crate::finding::{Grade, Level};
use crate::mend::{Moved, Trim};
use crate::text::{Sources, all_of};
use crate::units::show;

/// What came of a run of `trim`.
#[derive(Clone, Copy, Debug)]
pub struct Outcome<'a> {
    /// The changes.
    pub trims: &'a [Trim],
    /// The files that were written; none when nothing was to be.
    pub written: Option<&'a [Arc<str>]>,
    /// The errors, warnings and notes that stay, when something was to be written.
    pub left: [usize; 3],
    /// How many loads were looked at.
    pub loads: usize,
}

/// All changes; with `quiet` without the words at the end.
#[must_use]
pub fn text(sources: &Sources, outcome: Outcome<'_>, style: Style, quiet: bool) -> String {
    let mut out = String::new();
    for trim in outcome.trims {
        one(sources, trim, style, &mut out);
        out.push('\n');
    }
    if !quiet {
        paragraph(&mut out, "", &shown(&end(outcome)), 0, style.columns());
        out.push_str(&caution(style));
    }
    out
}

fn end(outcome: Outcome<'_>) -> String {
    let Outcome { trims, written, left, loads } = outcome;
    let Some(names) = written else {
        return if trims.is_empty() && loads == 0 {
            "no loads here: there is nothing to mend".to_owned()
        } else if trims.is_empty() {
            "no change of an entry cures what a check finds here".to_owned()
        } else {
            "each change is shown on its own and was checked; nothing was written. --write makes those of notation, --write \
             --agreed also those that move a load, one after another, checking again in between, which may bring further \
             ones to light"
                .to_owned()
        };
    };
    let names: Vec<&str> = names.iter().map(|name| &**name).collect();
    let done = if names.is_empty() { "nothing was written".to_owned() } else { format!("written: {}", all_of(&names)) };
    let stays: Vec<String> = left
        .iter()
        .zip(Level::ALL)
        .filter(|(count, _)| **count > 0)
        .map(|(count, level)| format!("{count} {}{}", level.name(), if *count == 1 { "" } else { "s" }))
        .collect();
    if stays.is_empty() { done } else { format!("{done}; left: {}, which `draylint check` tells", all_of(&stays)) }
}

fn one(sources: &Sources, trim: &Trim, style: Style, out: &mut String) {
    let width = style.columns();
    let file = sources.get(trim.file).map_or("", |source| &source.name);
    paragraph(out, "", &style.paint(Ink::Strong, &shown(&format!("{file}: {}", trim.fix.title))), 4, width);
    let grade = match trim.fix.grade {
        Grade::Notation => "notation: how it is written",
        Grade::Change | Grade::Advice => "change: it moves the load, and a person must agree",
    };
    paragraph(out, "  ", grade, 4, width);
    for (load, ids) in cures(trim) {
        let text = format!("{}{load}", all_of(&ids));
        paragraph(out, "  cures ", &shown(&text), 4, width);
    }
    if !trim.also.is_empty() {
        let ids: Vec<&str> = trim.also.iter().map(|id| &**id).collect();
        paragraph(out, "  and with it ", &shown(&all_of(&ids)), 4, width);
    }
    if !trim.uncovers.is_empty() {
        let ids: Vec<&str> = trim.uncovers.iter().map(|id| &**id).collect();
        let text = format!("{}, which could not be told before", all_of(&ids));
        paragraph(out, "  then shows ", &shown(&text), 4, width);
    }
    // A diff is for programs too: its lines are not wrapped.
    for line in trim.diff.lines() {
        let ink = match line.as_bytes().first() {
            Some(b'+') => Ink::Good,
            Some(b'-') => Ink::Bad,
            _ => Ink::Lead,
        };
        let line = shown(line);
        out.push_str(&if line.starts_with(' ') { line.to_string() } else { style.paint(ink, &line) });
        out.push('\n');
    }
    moves(&trim.moves, style, out);
}

/// What a change cures, load by load, each rule once.
fn cures(trim: &Trim) -> Vec<(String, Vec<String>)> {
    let mut loads: Vec<(String, Vec<String>)> = Vec::new();
    for cured in &trim.cures {
        let load = match (&cured.sheet, &cured.leg) {
            (Some(sheet), Some(leg)) => format!(" (sheet {sheet}, leg {leg})"),
            (Some(sheet), None) => format!(" (sheet {sheet})"),
            _ => String::new(),
        };
        let id = format!("{} {}", cured.level.name(), cured.rule);
        match loads.iter_mut().find(|(known, _)| *known == load) {
            Some((_, ids)) if ids.contains(&id) => {}
            Some((_, ids)) => ids.push(id),
            None => loads.push((load, vec![id])),
        }
    }
    loads
}

/// The figures that a change moves, load by load.
fn moves(moves: &[Moved], style: Style, out: &mut String) {
    let mut load = None;
    // What was not known before is no move, and would only repeat what `weigh` shows.
    for moved in moves.iter().filter(|moved| moved.before.is_some()) {
        let this = (&moved.sheet, &moved.leg);
        if load != Some(this) {
            let leg = moved.leg.as_ref().map(|leg| format!(", leg {leg}")).unwrap_or_default();
            paragraph(out, "  moves in ", &shown(&format!("sheet {}{leg}:", moved.sheet)), 4, style.columns());
            load = Some(this);
        }
        let value = |si: Option<f64>| match (si, moved.kind) {
            (None, _) => "unknown".to_owned(),
            (Some(si), Some(kind)) => show(si, kind, moved.system),
            (Some(si), None) => si.to_string(),
        };
        let text = format!("{}, {}: {} to {}", moved.of, moved.noun, value(moved.before), value(moved.after));
        paragraph(out, "    ", &shown(&text), 6, style.columns());
    }
}
