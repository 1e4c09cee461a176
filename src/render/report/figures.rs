//! The figures of a load as a table of a page, each with its spread, its limit, and the room that is left.

use maud::{Markup, html};

use crate::finding::LoadFigures;
use crate::render::Style;
use crate::render::grouped::{Group, Row, assumed, groups};
use crate::render::place::shown;
use crate::render::readings;

/// Cells of the bar that shows the room.
const CELLS: u32 = 6;

/// The figures of a load, its readings, what is assumed and what could not be judged.
pub(super) fn figures(load: &LoadFigures) -> Markup {
    let lines = load.figures.as_deref().unwrap_or_default();
    html! {
        table.figures {
            caption { "Room: what is left to the limit." span.bars { " The bar is empty at the limit and shows crosses beyond it." } }
            thead { tr { th scope="col" { "Figure" } th scope="col" { "Value" } th scope="col" { "Limit" } th scope="col" { "Room" } } }
            @for group in groups(lines, load.system, Style::PLAIN) { (rows(&group)) }
        }
        (read(load))
        @let assumed = assumed(lines);
        @if !assumed.is_empty() || !load.undecided.is_empty() {
            ul.small {
                @for (text, whose) in assumed { li { "Assumed for " (shown(&whose.join(", "))) ": " (shown(text)) } }
                @for one in &load.undecided {
                    li { "Not judged: " (shown(&one.rule)) ", for want of " (shown(&one.missing)) }
                }
            }
        }
    }
}

fn rows(group: &Group<'_>) -> Markup {
    html! {
        tbody {
            tr { th.head colspan="4" scope="rowgroup" { (shown(group.head)) } }
            @for row in &group.rows { (limited(row)) }
            @if !group.free.is_empty() { tr { td.free colspan="4" { (shown(&group.free.join("; "))) } } }
        }
    }
}

/// A figure with its limit; what is beyond it says so in its row.
fn limited(row: &Row) -> Markup {
    let bar = row.number.map(|number| row.limit.bar(number, CELLS, Style::PLAIN)).unwrap_or_default();
    let beyond = row.number.and_then(|number| row.limit.part(number)).is_some_and(|part| part < 0.0);
    html! {
        tr class=[beyond.then_some("beyond")] {
            @if row.name.is_empty() { td {} } @else { th scope="row" { (row.name) } }
            td { (row.value) @if !row.spread.is_empty() { " " small { (row.spread) } } }
            td { (row.limit_text) " " i { (shown(&row.rule)) } }
            td { @if !bar.is_empty() { s aria-hidden="true" { (bar) } " " } (row.room) }
        }
    }
}

/// What gauges showed beside what is computed.
fn read(load: &LoadFigures) -> Markup {
    html! {
        @if !load.readings.is_empty() {
            h3 { "Readings" }
            table.figures {
                thead { tr { th scope="col" { "Gauge" } th scope="col" { "Read" } th scope="col" { "Computed" } th scope="col" { "Together" } } }
                tbody {
                    @for row in readings::rows(&load.readings, load.system, Style::PLAIN) {
                        tr { th scope="row" { (row.name) } td { (row.read) } td { (row.computed) } td { (row.verdict) } }
                    }
                }
            }
        }
    }
}
