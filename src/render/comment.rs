//! `draylint check --format markdown`: findings for a comment on a change under review, in the Markdown of GitHub and
//! GitLab.
//!
//! A name in a sheet is whatever its writer chose. No text acts here: it is no markup, no link, and it calls nobody. A
//! host looks for people, issues and addresses in what is left of the text after Markdown was read, so an escape does not
//! hide them; a zero-width space, written as an entity, parts the sign from what follows.

use std::fmt::Write as _;

use super::closing::{CAUTION, sentence};
use super::markdown::plain;
use super::place::location;
use super::text::also;
use crate::finding::{Finding, Level, Report};
use crate::text::Sources;

/// Signs that a host reads as the beginning of a reference, where a word follows.
const REFERS: &str = "@#!~%&:";

/// How much of a text is shown, in characters: a comment is no place for more.
const MOST_OF_A_TEXT: usize = 400;

/// How long a comment may become, in bytes; hosts take some 65,000 characters.
const MOST: usize = 60_000;

/// The first lines of a table.
const HEAD: &str = "| | level | load | place | finding |\n|---|---|---|---|---|\n";

// Writing to a String cannot fail, so what `write!` returns is left.

/// The findings of a run as a comment.
#[must_use]
pub fn comment(report: &Report<'_>) -> String {
    let mut out = format!("**draylint**: {}\n", inert(&sentence(report)));
    let (mut rows, mut more, mut waived) = (String::new(), String::new(), String::new());
    let mut shown = 0;
    // The gravest first: what has no room is the least grave.
    let by_level =
        Level::ALL.into_iter().flat_map(|level| report.findings.iter().filter(move |one| one.level == level));
    for finding in by_level {
        let number = shown + 1;
        let (row, further) = (row(report.sources, finding, number), further(report.sources, finding, number));
        if rows.len() + more.len() + waived.len() + row.len() + further.len() > MOST {
            break;
        }
        if finding.waived.is_some() { &mut waived } else { &mut rows }.push_str(&row);
        more.push_str(&further);
        shown = number;
    }
    if !rows.is_empty() {
        out.extend(["\n", HEAD, &rows]);
    }
    if !waived.is_empty() {
        folded(&mut out, &format!("{} waived", report.waived()), &format!("{HEAD}{waived}"));
    }
    folded(&mut out, "Sources, further places and changes", &more);
    if shown < report.findings.len() {
        let left = report.findings.len() - shown;
        let _ = write!(out, "\n{left} more findings have no room here: run `draylint check`.\n");
    }
    out.push('\n');
    out.push_str(CAUTION);
    out.push('\n');
    out
}

/// A part that is opened on demand; nothing where there is nothing to fold.
fn folded(out: &mut String, title: &str, body: &str) {
    if !body.is_empty() {
        let _ = write!(out, "\n<details><summary>{title}</summary>\n\n{body}\n</details>\n");
    }
}

fn row(sources: &Sources, finding: &Finding, number: usize) -> String {
    let load = finding.sheet.iter().chain(&finding.leg).map(|name| inert(name)).collect::<Vec<_>>().join(", ");
    let mut told = format!("**{}**: {}", inert(&finding.rule), inert(&finding.message));
    let waived = finding.waived.as_ref().map(ToString::to_string);
    let also = (!finding.also.is_empty()).then(|| also(finding));
    for (lead, words) in [("Help", &finding.help), ("Also", &also), ("Waived", &waived)] {
        if let Some(words) = words {
            let _ = write!(told, "<br>{lead}: {}", inert(words));
        }
    }
    let place = inert(&location(sources, finding.primary.span));
    format!("| {number} | {} | {load} | {place} | {told} |\n", finding.level.name())
}

/// What is folded away of a finding: where its bound comes from, further places, and changes that the help does not name.
fn further(sources: &Sources, finding: &Finding, number: usize) -> String {
    let mut parts = Vec::new();
    parts.extend(finding.source.iter().map(|source| format!("Source: {}", inert(source))));
    for label in &finding.labels {
        parts.push(format!("See {}: {}", inert(&location(sources, label.span)), inert(&label.text)));
    }
    let titles = finding.fixes.iter().map(|fix| &fix.title).filter(|title| Some(*title) != finding.help.as_ref());
    parts.extend(titles.map(|title| format!("Change: {}", inert(title))));
    if parts.is_empty() {
        return String::new();
    }
    format!("- {number}: **{}**<br>{}\n", inert(&finding.rule), parts.join("<br>"))
}

/// A text, cut where it is very long, in which nothing acts.
fn inert(text: &str) -> String {
    let cut = text.char_indices().nth(MOST_OF_A_TEXT).map(|(at, _)| at);
    let text = cut.and_then(|at| text.get(..at)).map_or_else(|| text.to_owned(), |start| format!("{start}…"));
    let plain = plain(&text);
    let mut out = String::with_capacity(plain.len());
    let mut rest = plain.chars().peekable();
    let mut word = String::new();
    while let Some(c) = rest.next() {
        if c == '$' {
            // In an element of its own it begins no formula.
            out.push_str("<span>$</span>");
        } else {
            out.push(c);
        }
        let next = rest.peek().copied().unwrap_or(' ');
        // A number after a colon is a line or an hour, a slash the rest of an address.
        let refers = match c {
            ':' => next.is_alphabetic() || matches!(next, '/' | '+' | '-' | '\\'),
            _ => next.is_alphanumeric() || matches!(next, '"' | '\\' | '-'),
        };
        let sign = REFERS.contains(c) && refers;
        word.push(c.to_ascii_lowercase());
        // `www.` begins an address, `GH-` an issue.
        if sign || word.ends_with("www") || word.ends_with("gh-") {
            out.push_str("&#8203;");
        }
        if !c.is_alphanumeric() && c != '-' {
            word.clear();
        }
    }
    out
}
