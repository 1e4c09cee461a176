//! `draylint trim` for a person: each change, what it cures, its diff, and the figures that it moves.

use super::caution;
use super::place::shown;
use super::style::{Ink, Style};
use super::wrap::paragraph;
use crate::finding::Grade;
use crate::mend::{Moved, Trim};
use crate::text::{Sources, all_of};
use crate::units::show;

/// All changes; with `quiet` without the words at the end.
#[must_use]
pub fn text(
    sources: &Sources,
    trims: &[Trim],
    written: Option<&[std::sync::Arc<str>]>,
    style: Style,
    quiet: bool,
) -> String {
    let mut out = String::new();
    for trim in trims {
        one(sources, trim, style, &mut out);
        out.push('\n');
    }
    let end = match (written, trims.is_empty()) {
        (None, true) => "no change of an entry cures what is at fault here; `draylint check` tells what is".to_owned(),
        (None, false) => {
            "each change is shown on its own and was checked; nothing was written. --write makes those of \
                          notation, --write --agreed also those that move a load, one after another, checking again \
                          in between"
                .to_owned()
        }
        (Some([]), _) => "nothing was written".to_owned(),
        (Some(names), _) => {
            let names: Vec<&str> = names.iter().map(|name| &**name).collect();
            format!("written: {}", all_of(&names))
        }
    };
    if !quiet {
        paragraph(&mut out, "", &shown(&end), 0, style.columns());
        out.push_str(&caution(style));
    }
    out
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
    let cures = trim.cures.iter().map(|cured| {
        let load = match (&cured.sheet, &cured.leg) {
            (Some(sheet), Some(leg)) => format!(" (sheet {sheet}, leg {leg})"),
            (Some(sheet), None) => format!(" (sheet {sheet})"),
            _ => String::new(),
        };
        format!("{} {}{load}", cured.level.name(), cured.rule)
    });
    paragraph(out, "  cures ", &shown(&all_of(&cures.collect::<Vec<_>>())), 4, width);
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

/// The figures that a change moves, load by load.
fn moves(moves: &[Moved], style: Style, out: &mut String) {
    let mut load = None;
    for moved in moves {
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
