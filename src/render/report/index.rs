//! The index of a report: every load with its verdict, its thinnest margin and what was found, to be sorted and filtered.

use std::collections::BTreeSet;

use maud::{Markup, html};

use super::findings::finding;
use super::sheet::FINDINGS;
use super::verdict::tally;
use super::{CAUTIONS, Row, Verdict};
use crate::finding::{Finding, Level};
use crate::render::closing::count;
use crate::render::document::document;
use crate::render::place::shown;
use crate::text::Sources;

/// What the index looks like beside what all pages have.
const STYLE: &str = include_str!("index.css");

/// Sorts and filters the rows; without it the page tells the same.
const SCRIPT: &str = include_str!("index.js");

/// What an index tells.
#[derive(Clone, Copy, Debug)]
pub struct Index<'a> {
    /// The files that places lie in.
    pub sources: &'a Sources,
    /// The loads.
    pub rows: &'a [Row],
    /// What was found and belongs to none of them.
    pub apart: &'a [Finding],
    /// What is wrong with rule files.
    pub rule_faults: &'a [Finding],
    /// The day by which waivers were judged, as `YYYY-MM-DD`.
    pub day: &'a str,
    /// Whether the cautions at the end are left out.
    pub quiet: bool,
}

/// The index as a page.
#[must_use]
pub fn index(index: &Index<'_>) -> String {
    let yards: BTreeSet<&String> = index.rows.iter().filter_map(|row| row.yard.as_ref()).collect();
    let body = html! {
        main {
            h1 { "Load report" }
            p.about { @for yard in yards { (yard) "; " } "as of " (shown(index.day)) ", by draylint " (env!("CARGO_PKG_VERSION")) }
            (summary(index.rows))
            @if !index.rule_faults.is_empty() {
                h2 { "Rules that could not be read" }
                p { strong { "Not every rule was asked: the verdicts below may be too good." } }
                @for one in index.rule_faults { (finding(index.sources, one, false)) }
            }
            @if index.rows.is_empty() { p { "No loads here: there is nothing to report." } } @else {
                (controls(index.rows))
                (table(index.rows))
            }
            @if !index.apart.is_empty() {
                h2 { "Found elsewhere in the yard" }
                p.small { "What no load of this report rests on." }
                @for level in Level::ALL {
                    @for one in index.apart.iter().filter(|one| one.level == level) { (finding(index.sources, one, false)) }
                }
            }
        }
        @if !index.quiet { footer { @for caution in CAUTIONS { p { (caution) } } } }
    };
    document("Load report", &[FINDINGS, STYLE], Some(SCRIPT), &body)
}

/// How many loads there are, and how many of each verdict.
fn summary(rows: &[Row]) -> Markup {
    let failing = rows.iter().any(|row| row.verdict <= Verdict::Fails);
    html! {
        div class=(if failing { "state open" } else { "state" }) { p { strong { (tally(rows)) } } }
    }
}

/// What narrows the table down; hidden until the script can do it.
fn controls(rows: &[Row]) -> Markup {
    let rules: BTreeSet<&String> = rows.iter().flat_map(|row| &row.rules).flatten().collect();
    html! {
        form id="narrow" hidden {
            label { "Containing" input id="text" type="search" autocomplete="off"; }
            label { "Verdict" select id="verdict" {
                option value="" { "any" }
                @for verdict in Verdict::ALL { option value=(verdict as u8) { (verdict.told()) } }
            } }
            label { "Found" select id="rule" {
                option value="" { "anything" }
                @for rule in rules { option { (rule) } }
            } }
            output id="shown" aria-live="polite" {}
        }
    }
}

/// The columns, each with the key by which the script sorts it.
const COLUMNS: [(&str, &str); 4] =
    [("Load", "text"), ("Verdict", "verdict"), ("Thinnest margin", "margin"), ("Findings", "findings")];

fn table(rows: &[Row]) -> Markup {
    html! {
        table.index role="table" {
            caption { "Margin: the room to the nearest limit, as a part of the larger of figure and limit; where limits are broken, of the gravest of them." }
            thead role="rowgroup" { tr role="row" {
                @for (name, key) in COLUMNS { th scope="col" role="columnheader" data-key=(key) { (name) } }
            } }
            tbody role="rowgroup" { @for row in rows { (load(row)) } }
        }
    }
}

fn load(row: &Row) -> Markup {
    let part = row.thinnest.as_ref().map(|thin| format!("{:.6}", thin.part));
    let worth = row.open[0] * 1_000_000 + row.open[1].min(999) * 1_000 + row.open[2].min(999);
    html! {
        tr role="row" data-verdict=(row.verdict as u8) data-margin=[part] data-findings=(worth) {
            td role="cell" {
                a href=(row.link) { (row.sheet) @if let Some(leg) = &row.leg { ", leg " (leg) } }
                span.small { (row.rig) br; (breakable(&row.file)) }
            }
            td class=(if row.verdict <= Verdict::Fails { "verdict fails" } else { "verdict" }) role="cell" { (row.verdict.told()) @if row.waived > 0 { span.small { (row.waived) " waived" } } }
            td role="cell" {
                @if let Some(thin) = &row.thinnest {
                    b { (thin.percent()) } span.small { (shown(&thin.figure)) ": " (thin.room) }
                } @else { "not known" }
            }
            td role="cell" { @if row.rules.iter().all(Vec::is_empty) { "none" } @else { (found(row)) } }
        }
    }
}

/// A path that may be broken after each folder.
fn breakable(path: &str) -> Markup {
    html! { @for part in path.split_inclusive('/') { (part) wbr; } }
}

/// The rules that found something, level by level.
fn found(row: &Row) -> Markup {
    html! {
        @for ((level, number), rules) in Level::ALL.into_iter().zip(row.open).zip(&row.rules) {
            @if !rules.is_empty() {
                span.of-level { b { (count(number, level.name())) ": " }
                    @for (at, rule) in rules.iter().enumerate() { @if at > 0 { ", " } span.rule { (rule) } } }
            }
        }
    }
}
