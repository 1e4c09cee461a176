//! The list as Markdown, with the task boxes of GFM.

use std::fmt::Write as _;

use super::{NO_LIST, NO_LOADS, READY, Told, about, cautions, heading, name, word};
use crate::finding::{Walk, WalkLine};
use crate::render::markdown::plain;
use crate::text::Sources;

/// Where something is written down: each sign escaped, so that it is no rule across the page.
const BLANK: &str = r"\_\_\_\_\_\_\_\_";

/// The lists of all loads; with `quiet` without the caution that all outputs have.
#[must_use]
pub fn markdown(sources: &Sources, walks: &[Walk], quiet: bool) -> String {
    let mut out = String::new();
    for walk in walks {
        one(sources, walk, &mut out);
    }
    if walks.is_empty() {
        out.push_str(NO_LOADS);
        out.push_str("\n\n");
    }
    for caution in cautions(quiet) {
        out.push_str(&plain(caution));
        out.push_str("\n\n");
    }
    out.truncate(out.trim_end().len());
    out.push('\n');
    out
}

// Writing to a String cannot fail.
fn one(sources: &Sources, walk: &Walk, out: &mut String) {
    let _ = writeln!(out, "# {}\n\n{}\n", plain(&heading(&name(walk))), plain(&about(sources, walk)));
    for fault in &walk.open {
        let _ = writeln!(
            out,
            "> **{}**: {} ({} {})\n>",
            word(fault.level),
            plain(&fault.message),
            fault.level.name(),
            plain(&fault.rule)
        );
    }
    if let Some(missing) = &walk.missing {
        let _ = writeln!(out, "> {}\n>", plain(NO_LIST));
        for lack in missing {
            let _ = writeln!(out, "> - {}", plain(lack));
        }
    }
    if walk.is_ready() {
        let _ = writeln!(out, "> {}", plain(READY));
    }
    out.push('\n');
    for accepted in &walk.accepted {
        let _ = writeln!(out, "Accepted by a waiver: {}\n", plain(accepted));
    }
    for (at, section) in walk.sections.iter().enumerate() {
        let _ = writeln!(out, "## {}\\. {}\n", at + 1, plain(&heading(section.title)));
        let mut listed = false;
        for line in &section.lines {
            listed = written(line, walk, listed, out);
        }
        out.push('\n');
    }
}

/// Writes a line; says whether it stands in a list that the next one may go on with.
fn written(line: &WalkLine, walk: &Walk, listed: bool, out: &mut String) -> bool {
    match line {
        WalkLine::Item(item) => {
            let _ = writeln!(out, "{}### {}\n", if listed { "\n" } else { "" }, plain(item));
            return false;
        }
        WalkLine::Note(note) => {
            let _ = writeln!(out, "{}{}\n", if listed { "\n" } else { "" }, plain(note));
            return false;
        }
        WalkLine::Step(step) => {
            let _ = writeln!(out, "- [ ] {}", plain(&step.text));
            for more in &step.more {
                let _ = writeln!(out, "  - {}", plain(more));
            }
            if !step.blanks.is_empty() {
                let blank = |(before, after): &(&str, &str)| format!("{} {BLANK} {}", plain(before), plain(after));
                let blanks: Vec<String> = step.blanks.iter().map(blank).collect();
                let blanks: Vec<&str> = blanks.iter().map(|one| one.trim_end()).collect();
                let _ = writeln!(out, "  - {}", blanks.join(" "));
            }
        }
        WalkLine::Gauge(gauge) => {
            let told = Told::of(gauge, walk.system);
            let spread = told.spread.map_or_else(String::new, |spread| format!(" ± {}", plain(&spread)));
            let limits = told.limits.map_or_else(String::new, |limits| format!("; {}", plain(&limits)));
            let _ = writeln!(out, "- [ ] {}", plain(&gauge.what));
            let _ = writeln!(out, "  - expected **{}**{}{}", plain(&told.expected), spread, limits);
            let _ = writeln!(out, "  - read {BLANK} {}", plain(told.unit));
        }
    }
    true
}
