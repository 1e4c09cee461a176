//! The figures of each load as a table for a person: what it is, how far it can be off, its limit, and the room left.

use std::collections::BTreeMap;

use super::bar::{Limit, Shown};
use super::place::shown;
use super::style::{Ink, Style};
use super::wrap::{columns, paragraph, wrap};
use super::caution;
use crate::finding::{FigureLine, LoadFigures};
use crate::text::Sources;
use crate::units::System;

/// The figures of all loads; with `quiet` without the caution at the end.
#[must_use]
pub fn text(sources: &Sources, loads: &[LoadFigures], style: Style, quiet: bool) -> String {
    let mut out = String::new();
    for load in loads {
        one(sources, load, style, &mut out);
        out.push('\n');
    }
    if loads.is_empty() {
        out.push_str("no loads here: nothing was weighed\n");
    }
    if !quiet {
        out.push_str(&caution(style));
    }
    out
}

fn one(sources: &Sources, load: &LoadFigures, style: Style, out: &mut String) {
    let file = sources.get(load.file).map_or("", |source| &source.name);
    let mut name = format!("sheet {}", shown(&load.sheet));
    if let Some(leg) = &load.leg {
        name = format!("{name}, leg {}", shown(leg));
    }
    out.push_str(&style.paint(Ink::Strong, &name));
    out.push_str(&format!(" in {}\n", shown(file)));
    let Some(figures) = &load.figures else {
        paragraph(out, "  ", "cannot be computed: run `draylint check`, which says why", 2, style.columns());
        return;
    };
    table(figures, load.system, style, out);
    let mut assumed: Vec<(&str, Vec<&str>)> = vec![];
    for figure in figures {
        let Some(text) = figure.assumes else { continue };
        match assumed.iter_mut().find(|(known, _)| *known == text) {
            Some((_, names)) => names.push(&figure.name),
            None => assumed.push((text, vec![&figure.name])),
        }
    }
    for (text, names) in assumed {
        let text = format!("assumed for {}: {text}", names.join(", "));
        paragraph(out, "  ", &shown(&text), 4, style.columns());
    }
    for undecided in &load.undecided {
        let text = format!("not judged: {}, for want of {}", undecided.rule, undecided.missing);
        paragraph(out, "  ", &shown(&text), 4, style.columns());
    }
}

/// One line of the table.
struct Row {
    name: String,
    value: String,
    spread: String,
    limit: String,
    bar: String,
    room: String,
}

/// The widest of each column.
#[derive(Default)]
struct Widths {
    name: usize,
    value: usize,
    spread: usize,
    limit: usize,
    room: usize,
}

/// A group: what its names have before the first dot, its rows, and its figures without limits.
type Group<'a> = (&'a str, Vec<Row>, Vec<String>);

fn table(figures: &[FigureLine], system: System, style: Style, out: &mut String) {
    let mut groups: Vec<Group<'_>> = vec![];
    let mut known: BTreeMap<&str, usize> = BTreeMap::new();
    for figure in figures {
        let (head, name) = split(&figure.name);
        let at = *known.entry(head).or_insert(groups.len());
        if at == groups.len() {
            groups.push((head, vec![], vec![]));
        }
        let Some((_, rows, free)) = groups.get_mut(at) else { continue };
        let limited = limits(figure, name, system, style);
        if limited.is_empty() {
            free.push(unlimited(figure, name, system, style));
        }
        rows.extend(limited);
    }
    let mut widths = Widths::default();
    for row in groups.iter().flat_map(|(_, rows, _)| rows) {
        widths.name = widths.name.max(columns(&row.name));
        widths.value = widths.value.max(columns(&row.value));
        widths.spread = widths.spread.max(columns(&row.spread));
        widths.limit = widths.limit.max(columns(&row.limit));
        widths.room = widths.room.max(columns(&row.room));
    }
    for (head, rows, free) in groups {
        out.push_str(&format!("  {}\n", style.paint(Ink::Lead, &shown(head))));
        for row in rows {
            row.draw(&widths, style, out);
        }
        flow(&free, style, out);
    }
}

/// `truck.axle[front].load` is `axle[front].load` of `truck`; dots in brackets belong to an id.
fn split(name: &str) -> (&str, &str) {
    let mut depth = 0_usize;
    for (at, c) in name.char_indices() {
        match c {
            '[' => depth += 1,
            ']' => depth = depth.saturating_sub(1),
            '.' if depth == 0 => return (name.get(..at).unwrap_or(""), name.get(at + 1..).unwrap_or("")),
            _ => {}
        }
    }
    (name, "")
}

/// A row for each limit of a figure; only the first repeats its name and value.
fn limits(figure: &FigureLine, name: &str, system: System, style: Style) -> Vec<Row> {
    let form = Shown { kind: figure.kind, system, spread: figure.plus_minus };
    let least = figure.at_least.as_ref().map(|(value, _)| Limit::Least(*value));
    let most = figure.at_most.as_ref().map(|(value, _)| Limit::Most(*value));
    let mut rows = vec![];
    for limit in [least, most].into_iter().flatten() {
        let mut row = Row {
            name: String::new(),
            value: String::new(),
            spread: String::new(),
            limit: limit.text(form),
            bar: figure.value.map_or_else(String::new, |value| limit.bar(value, style)),
            room: figure.value.map_or_else(String::new, |value| limit.room(value, form)),
        };
        if rows.is_empty() {
            row.name = shown(name).into_owned();
            row.value = figure.value.map_or_else(|| "unknown".to_owned(), |value| form.text(value));
            row.spread = figure.value.map_or_else(String::new, |_| form.spread(style));
        }
        rows.push(row);
    }
    rows
}

/// `cg 43 in ± 2`.
fn unlimited(figure: &FigureLine, name: &str, system: System, style: Style) -> String {
    let form = Shown { kind: figure.kind, system, spread: figure.plus_minus };
    let value = figure.value.map_or_else(|| "unknown".to_owned(), |value| form.text(value));
    let spread = figure.value.map_or_else(String::new, |_| form.spread(style));
    [shown(name).into_owned(), value, spread].into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" ")
}

/// Columns of a bar, blanks of the margin and between columns.
const BAR: usize = 10;
const MARGIN: usize = 4;
const GAP: usize = 2;

impl Row {
    fn draw(&self, widths: &Widths, style: Style, out: &mut String) {
        let all = MARGIN + widths.name + widths.value + widths.spread + widths.limit + BAR + widths.room + 4 * GAP + 1;
        let blank = |wide: usize, text: &str| " ".repeat(wide.saturating_sub(columns(text)));
        let value = format!("{}{}", blank(widths.value, &self.value), self.value);
        let bar = if self.bar.is_empty() { " ".repeat(BAR) } else { self.bar.clone() };
        let mut line = if all <= style.columns() {
            format!(
                "    {}{}  {value} {}{}  {}{}  {bar}  {}",
                self.name,
                blank(widths.name, &self.name),
                self.spread,
                blank(widths.spread, &self.spread),
                self.limit,
                blank(widths.limit, &self.limit),
                self.room,
            )
        } else {
            // Too narrow for a table: the name, then what belongs to it.
            let mut lines = String::new();
            if !self.name.is_empty() {
                paragraph(&mut lines, "    ", &self.name, 6, style.columns());
            }
            for pieces in [[&*self.value, &*self.spread, &*self.limit], ["", &*bar, &*self.room]] {
                let pieces: Vec<&str> = pieces.into_iter().filter(|piece| !piece.trim().is_empty()).collect();
                if !pieces.is_empty() {
                    lines.push_str("      ");
                    lines.push_str(&pieces.join("  "));
                    lines.push('\n');
                }
            }
            lines
        };
        line.truncate(line.trim_end().len());
        out.push_str(&line);
        out.push('\n');
    }
}

/// Figures without limits, as many on a line as fit, none of them broken while it fits a line.
fn flow(items: &[String], style: Style, out: &mut String) {
    let width = style.columns().saturating_sub(MARGIN);
    let mut line = String::new();
    let mut lines = vec![];
    for item in items {
        let with = if line.is_empty() { item.clone() } else { format!("{line}; {item}") };
        if columns(&with) > width && !line.is_empty() {
            lines.push(std::mem::replace(&mut line, item.clone()));
        } else {
            line = with;
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    for line in lines.iter().flat_map(|line| wrap(line, width)) {
        out.push_str("    ");
        out.push_str(&line);
        out.push('\n');
    }
}
