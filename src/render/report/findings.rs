//! Findings on a page, each with the lines at fault.

use std::ops::Range;

use maud::{Markup, html};

use crate::finding::{Finding, Label, Level};
use crate::render::Style;
use crate::render::arrange::{Arranged, arranged};
use crate::render::excerpt::{Excerpt, Line};
use crate::render::place::{location, shown};
use crate::render::text::load;
use crate::text::Sources;

/// Wide enough for most lines whole: a browser breaks them where it has to.
const WIDE: Style = Style { color: false, width: 110, unicode: true };

/// One finding: how grave, which rule, where, what is wrong, the lines, what cures it, and by whose authority.
pub(super) fn finding(sources: &Sources, finding: &Finding, of_load: bool) -> Markup {
    let (marks, apart) = arranged(sources, finding, WIDE);
    let help = finding.help.as_ref().or_else(|| finding.fixes.first().map(|fix| &fix.title));
    // Help may join several ways into one sentence.
    let told = |title: &&String| help.is_some_and(|help| help.contains(title.as_str()));
    let further = finding.fixes.iter().map(|fix| &fix.title).filter(|title| !told(title));
    let load = if of_load { String::new() } else { load(sources, finding) };
    html! {
        article class=(if finding.level == Level::Error { "finding error" } else { "finding" }) {
            h3 { span.level { (finding.level.name()) @if finding.waived.is_some() { ", waived" } } " " (shown(&finding.rule)) }
            p.message { (shown(&finding.message)) }
            p.place { (location(sources, finding.primary.span)) @if !load.is_empty() { " " (load) } }
            @if let Some(marks) = marks { (lines(&marks.excerpt(), true)) }
            @for label in apart { (elsewhere(sources, label)) }
            @if let Some(help) = help { p { b { "Help: " } (shown(help)) } }
            @for title in further { p { b { "Or: " } (shown(title)) } }
            @if let Some(source) = &finding.source { p.source { b { "Source: " } (shown(source)) } }
            @if let Some(waived) = &finding.waived { p { b { "Waived: " } (shown(&waived.to_string())) } }
        }
    }
}

/// A further place in another file.
fn elsewhere(sources: &Sources, label: &Label) -> Markup {
    let place = location(sources, label.span);
    let marks = sources.get(label.span.file).map(|source| {
        let mut marks = Arranged::new(source, WIDE);
        marks.add(label, "");
        marks
    });
    html! {
        p.place { "see " (place) @if !label.text.is_empty() { ": " (shown(&label.text)) } }
        @if let Some(marks) = marks { (lines(&marks.excerpt(), false)) }
    }
}

/// Lines of a file with their numbers and marks; those around the marked ones too, or not.
fn lines(excerpt: &Excerpt, around: bool) -> Markup {
    html! {
        pre {
            @for Line { number, text, marks } in excerpt.lines().filter(|line| around || !line.marks.is_empty()) {
                code {
                    b { (number + 1) } " "
                    @for (piece, marked) in pieces(text, marks.iter().map(|(bytes, _)| bytes.clone())) {
                        @if marked { mark { (piece) } } @else { (piece) }
                    }
                    "\n"
                }
                @for (_, words) in &marks {
                    @if !words.is_empty() { em { "\u{2191} " (words.join(" ")) "\n" } }
                }
            }
        }
    }
}

/// A line in pieces, each with whether it is marked.
fn pieces(text: &str, marks: impl Iterator<Item = Range<usize>>) -> Vec<(&str, bool)> {
    let mut out = Vec::new();
    let mut at = 0;
    for mark in marks {
        let start = mark.start.max(at);
        let end = mark.end.max(start);
        out.push((text.get(at..start).unwrap_or(""), false));
        // A mark of nothing is shown one column wide.
        out.push((text.get(start..end).filter(|piece| !piece.is_empty()).unwrap_or(" "), true));
        at = end;
    }
    out.push((text.get(at..).unwrap_or(""), false));
    out.retain(|(piece, _)| !piece.is_empty());
    out
}
