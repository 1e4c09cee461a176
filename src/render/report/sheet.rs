//! The page of a sheet: for each of its loads the verdict, what was found, drawings, figures and sources.

use std::collections::BTreeSet;

use maud::{Markup, PreEscaped, html};

use super::figures::figures;
use super::findings::finding;
use super::verdict::{counts, rules, verdict};
use super::{CAUTIONS, Row, Thinnest, Verdict};
use crate::finding::{Finding, Level};
use crate::mend::{LoadReport, Picture, SheetReport};
use crate::render::closing::count;
use crate::render::document::document;
use crate::render::grouped::limits;
use crate::render::place::shown;
use crate::render::svg::{Look, View, svg};
use crate::rules::{RuleSet, Status};

/// What the pages of a report look like beside what all pages have.
pub(super) const FINDINGS: &str = include_str!("findings.css");

/// What the page of a sheet looks like beside that.
const STYLE: &str = include_str!("sheet.css");

/// How wide drawings are on a screen or paper, and on a phone, in px.
const WIDTHS: [(&str, u32); 2] = [("wide", 760), ("narrow", 328)];

/// A page, and the rows of the index that lead to it.
#[derive(Clone, Debug)]
pub struct SheetPage {
    /// The name of its file.
    pub name: String,
    /// Its text.
    pub text: String,
    /// The loads told on it.
    pub rows: Vec<Row>,
}

/// The page of a sheet, as of a day; with `quiet` without the cautions at its end.
#[must_use]
pub fn sheet(sheet: &SheetReport<'_>, day: &str, quiet: bool) -> SheetPage {
    let name = format!("{}.html", sheet.page);
    let file = sheet.sources.get(sheet.file).map_or("", |source| &source.name);
    let rows: Vec<Row> = sheet.loads.iter().enumerate().map(|(at, load)| row(sheet, load, &name, at, file)).collect();
    let body = html! {
        nav { a href="index.html" { "All loads" } }
        main {
            h1 { (shown(&sheet.name)) }
            p.about { @if let Some(yard) = &sheet.yard { (shown(yard)) "; " } (shown(file)) "; as of " (shown(day)) }
            @if rows.len() > 1 {
                ul.legs { @for row in &rows {
                    li { a href=(fragment(&row.link)) { "leg " (row.leg.as_deref().unwrap_or("")) } ": " (row.verdict.told()) }
                } }
            }
            @for (load, row) in sheet.loads.iter().zip(&rows) { (one(sheet, load, row)) }
            (sources(&sheet.loads, sheet.rules))
        }
        @if !quiet { footer { @for caution in CAUTIONS { p { (caution) } } } }
    };
    SheetPage {
        text: document(&format!("Load sheet {}", shown(&sheet.name)), &[FINDINGS, STYLE], None, &body),
        name,
        rows,
    }
}

fn fragment(link: &str) -> &str {
    link.find('#').and_then(|at| link.get(at..)).unwrap_or("")
}

fn row(sheet: &SheetReport<'_>, load: &LoadReport, page: &str, at: usize, file: &str) -> Row {
    Row {
        link: format!("{page}#load-{}", at + 1),
        sheet: shown(&load.figures.sheet).into_owned(),
        leg: load.figures.leg.as_ref().map(|leg| shown(leg).into_owned()),
        yard: sheet.yard.as_ref().map(|yard| shown(yard).into_owned()),
        rig: shown(&load.figures.rig).into_owned(),
        file: shown(file).into_owned(),
        verdict: verdict(load),
        rules: rules(&load.findings),
        open: counts(&load.findings),
        waived: load.findings.iter().filter(|finding| finding.waived.is_some()).count(),
        thinnest: Thinnest::of(&load.figures, sheet.rules),
    }
}

fn one(sheet: &SheetReport<'_>, load: &LoadReport, row: &Row) -> Markup {
    html! {
        section id=(fragment(&row.link).trim_start_matches('#')) {
            @if let Some(leg) = &row.leg { h2.leg { "Leg " (leg) } }
            p.about { (row.rig) }
            (state(row))
            h2 { "Findings" }
            @if load.findings.is_empty() { p { "None." } }
            @for level in Level::ALL {
                @for one in load.findings.iter().filter(|one| one.level == level) { (finding(sheet.sources, one, true)) }
            }
            @if let Some(picture) = &load.picture { h2 { "Drawings" } (drawings(picture)) }
            @if load.figures.figures.is_some() { h2 { "Figures" } (figures(&load.figures)) }
        }
    }
}

/// The box at the top of a load.
fn state(row: &Row) -> Markup {
    let open = Level::ALL.into_iter().zip(row.open).filter(|(_, number)| *number > 0);
    let mut found: Vec<String> = open.map(|(level, number)| count(number, level.name())).collect();
    if row.waived > 0 {
        found.push(format!("{} waived", row.waived));
    }
    html! {
        div class=(if row.verdict <= Verdict::Fails { "state open" } else { "state" }) {
            p { strong { "This load " (row.verdict.told()) } @if !found.is_empty() { ": " (found.join(", ")) } }
            @if let Some(thin) = &row.thinnest {
                p { "Thinnest margin: " (thin.percent()) ", " (shown(&thin.figure)) ", " (thin.room) " (" (shown(&thin.rule)) ")" }
            }
        }
    }
}

/// Each view twice: as it suits a screen and paper, and as it suits a phone. A browser shows one.
fn drawings(picture: &Picture) -> Markup {
    html! {
        @for view in View::ALL {
            @for (class, width) in WIDTHS {
                figure class=(class) {
                    (PreEscaped(svg(picture, &Look { views: &[view], width, headed: false, quiet: true })))
                }
            }
        }
    }
}

/// By whose authority: the rules that set a limit here or found something, each with its source and how well that is known.
fn sources(loads: &[LoadReport], rules: &RuleSet) -> Markup {
    let found = loads.iter().flat_map(|load| &load.findings).map(|finding: &Finding| &*finding.rule);
    let lines = loads.iter().filter_map(|load| load.figures.figures.as_ref()).flatten();
    let limits = lines.flat_map(limits).map(|(_, rule)| &**rule);
    let ids: BTreeSet<&str> = found.chain(limits).collect();
    html! {
        h2 { "Sources" }
        p.small {
            "The rules that set a limit here or found something. Behind each source stands how well it is known: "
            @for (at, status) in Status::ALL.into_iter().enumerate() {
                @if at > 0 { "; " } (status.word()) ", " (status.meaning())
            }
            ". " code { "draylint why RULE" } " tells more of each."
        }
        dl.small {
            @for rule in ids.into_iter().filter_map(|id| rules.get(id)) {
                div { dt { (shown(&rule.id)) } " " dd { (shown(&rule.source.shown())) @if let Some(status) = rule.source.status { "; " (status.word()) } } }
            }
        }
    }
}
