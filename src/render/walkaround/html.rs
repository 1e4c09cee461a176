//! The list as one page of HTML: to print on A4 or letter, or to read and tick on a phone.

use maud::{Markup, html as page};

use super::{NO_LIST, NO_LOADS, READY, Told, about, cautions, heading, name, word};
use crate::finding::{Gauge, Step, Walk, WalkLine};
use crate::render::document::{document, foot};
use crate::render::place::shown;
use crate::text::Sources;
use crate::units::System;

/// What the list looks like beside what all pages have.
const STYLE: &str = include_str!("page.css");

/// The lists of all loads on one page; with `quiet` without the caution that all outputs have.
#[must_use]
pub fn html(sources: &Sources, walks: &[Walk], quiet: bool) -> String {
    let title = walks.first().map_or_else(|| "Walkaround".to_owned(), |walk| format!("Walkaround: {}", name(walk)));
    let body = page! {
        main {
            @for walk in walks { (one(sources, walk)) }
            @if walks.is_empty() { p { (NO_LOADS) } }
        }
        footer { @for caution in cautions(quiet) { p { (caution) } } }
    };
    // Of several loads each has pages that bear its name; what stands below the last one goes on there.
    let several = walks.iter().enumerate().filter(|_| walks.len() > 1);
    let feet = several.map(|(at, walk)| {
        let nth = at + 1;
        let page = format!("load{nth}");
        format!(
            "article:nth-of-type({nth}), footer {{ page: {page}; }}\n{}",
            foot(&page, &format!("Walkaround: {}", name(walk)))
        )
    });
    document(&title, &[STYLE, &feet.collect::<String>()], None, &body)
}

fn one(sources: &Sources, walk: &Walk) -> Markup {
    page! {
        article {
            header {
                h1 { (heading(&name(walk))) }
                p.about { (about(sources, walk)) }
            }
            (state(walk))
            @for accepted in &walk.accepted { p.accepted { "Accepted by a waiver: " (shown(accepted)) } }
            @for (at, section) in walk.sections.iter().enumerate() {
                section {
                    h2 { span.number { (at + 1) } " " (heading(section.title)) }
                    @for line in &section.lines { (written(line, walk.system)) }
                }
            }
        }
    }
}

/// The box at the top: what is open, or that nothing is.
fn state(walk: &Walk) -> Markup {
    page! {
        @if walk.is_ready() {
            div.state.ready { p { (READY) } }
        } @else {
            div.state.open role="alert" {
                @for fault in &walk.open {
                    p { strong { (word(fault.level)) ":" } " " (shown(&fault.message)) " "
                        span.rule { "(" (fault.level.name()) " " (shown(&fault.rule)) ")" } }
                }
                @if let Some(missing) = &walk.missing {
                    p { strong { (NO_LIST) } }
                    ul { @for lack in missing { li { (shown(lack)) } } }
                }
            }
        }
    }
}

fn written(line: &WalkLine, system: System) -> Markup {
    match line {
        WalkLine::Item(item) => page! { h3 { (shown(item)) } },
        WalkLine::Note(note) => page! { p.note { (shown(note)) } },
        WalkLine::Step(step) => do_step(step),
        WalkLine::Gauge(gauge) => read_gauge(gauge, system),
    }
}

fn do_step(step: &Step) -> Markup {
    page! {
        div.step {
            label { input type="checkbox"; span { (shown(&step.text)) } }
            @if !step.more.is_empty() {
                ul.more { @for more in &step.more { li { (shown(more)) } } }
            }
            @if !step.blanks.is_empty() {
                p.blanks {
                    @for (before, after) in &step.blanks { span.blank { (before) " " i {} " " (after) } " " }
                }
            }
        }
    }
}

fn read_gauge(gauge: &Gauge, system: System) -> Markup {
    let told = Told::of(gauge, system);
    page! {
        div.step.gauge {
            label { input type="checkbox"; span { (shown(&gauge.what)) } }
            p.numbers {
                span.expected { "expected " strong { (told.expected) }
                    @if let Some(spread) = &told.spread { " ± " (spread) } }
                @if let Some(limits) = &told.limits { span.limits { (limits) } }
                span.blank { "read " i {} " " (told.unit) }
            }
        }
    }
}
