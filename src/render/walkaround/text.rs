//! The list as plain text, with boxes to tick.

use super::{NO_LIST, NO_LOADS, READY, Told, about, cautions, heading, name, word};
use crate::finding::{Walk, WalkLine};
use crate::render::place::shown;
use crate::render::style::{Ink, Style};
use crate::render::wrap::{columns, paragraph, wrap};
use crate::text::Sources;

/// Where something is written down.
const BLANK: &str = "____________";

/// The lists of all loads; with `quiet` without the caution that all outputs have.
#[must_use]
pub fn text(sources: &Sources, walks: &[Walk], style: Style, quiet: bool) -> String {
    let mut out = String::new();
    for walk in walks {
        one(sources, walk, style, &mut out);
        out.push('\n');
    }
    if walks.is_empty() {
        out.push_str(NO_LOADS);
        out.push('\n');
    }
    for caution in cautions(quiet) {
        paragraph(&mut out, "", caution, 0, style.columns());
    }
    out
}

fn one(sources: &Sources, walk: &Walk, style: Style, out: &mut String) {
    let width = style.columns();
    let mut head = String::new();
    paragraph(&mut head, "", &name(walk), 0, width);
    for line in head.lines() {
        out.push_str(&style.paint(Ink::Strong, line));
        out.push('\n');
    }
    paragraph(out, "", &about(sources, walk), 0, width);
    out.push('\n');
    boxed(walk, style, out);
    for accepted in &walk.accepted {
        paragraph(out, "accepted by a waiver: ", &shown(accepted), 4, width);
    }
    for (at, section) in walk.sections.iter().enumerate() {
        out.push('\n');
        let title = format!("{}. {}", at + 1, heading(section.title));
        out.push_str(&style.paint(Ink::Strong, &title));
        out.push('\n');
        for line in &section.lines {
            written(line, walk, style, out);
        }
    }
}

/// The box at the top: what is open, or that nothing is.
fn boxed(walk: &Walk, style: Style, out: &mut String) {
    let inside = style.columns() - 4;
    let edge = format!("+{}+\n", "-".repeat(inside + 2));
    let mut lines: Vec<String> = Vec::new();
    for fault in &walk.open {
        let said =
            format!("{}: {} ({} {})", word(fault.level), shown(&fault.message), fault.level.name(), shown(&fault.rule));
        lines.extend(wrap(&said, inside));
    }
    if let Some(missing) = &walk.missing {
        lines.extend(wrap(NO_LIST, inside));
        for lack in missing {
            let wrapped = wrap(&shown(lack), inside - 2);
            lines.extend(
                wrapped.iter().enumerate().map(|(at, line)| format!("{} {line}", if at == 0 { "-" } else { " " })),
            );
        }
    }
    if walk.is_ready() {
        lines.extend(wrap(READY, inside));
    }
    out.push_str(&edge);
    for line in lines {
        let rest = " ".repeat(inside.saturating_sub(columns(&line)));
        out.push_str("| ");
        out.push_str(&line);
        out.push_str(&rest);
        out.push_str(" |\n");
    }
    out.push_str(&edge);
}

fn written(line: &WalkLine, walk: &Walk, style: Style, out: &mut String) {
    let width = style.columns();
    match line {
        WalkLine::Item(item) => {
            let mut said = String::new();
            paragraph(&mut said, "  ", &shown(item), 2, width);
            for line in said.lines() {
                out.push_str(&style.paint(Ink::Lead, line));
                out.push('\n');
            }
        }
        WalkLine::Note(note) => paragraph(out, "      ", &shown(note), 6, width),
        WalkLine::Step(step) => {
            paragraph(out, "  [ ] ", &shown(&step.text), 6, width);
            for more in &step.more {
                paragraph(out, "      - ", &shown(more), 8, width);
            }
            if !step.blanks.is_empty() {
                let blanks: Vec<String> =
                    step.blanks.iter().map(|(before, after)| format!("{before} {BLANK} {after}")).collect();
                let blanks: Vec<&str> = blanks.iter().map(|blank| blank.trim_end()).collect();
                paragraph(out, "      ", &blanks.join(" "), 6, width);
            }
        }
        WalkLine::Gauge(gauge) => {
            let told = Told::of(gauge, walk.system);
            paragraph(out, "  [ ] ", &shown(&gauge.what), 6, width);
            let spread = told.spread.map_or_else(String::new, |spread| format!(" {} {spread}", style.plus_minus()));
            let limits = told.limits.map_or_else(String::new, |limits| format!("; {limits}"));
            paragraph(out, "      ", &format!("expected {}{spread}{limits}", told.expected), 6, width);
            paragraph(out, "      ", &format!("read {BLANK} {}", told.unit), 6, width);
        }
    }
}
