//! The figures of a load in rows, one for each limit, grouped by what they are figures of: what a table on a terminal and one
//! on a page both show.

use std::sync::Arc;

use super::bar::{Limit, Shown};
use super::place::shown;
use super::style::Style;
use crate::finding::FigureLine;
use crate::units::System;

/// A figure against one of its limits.
pub(super) struct Row {
    pub(super) name: String,
    pub(super) value: String,
    pub(super) spread: String,
    pub(super) limit: Limit,
    /// The rule that sets it.
    pub(super) rule: Arc<str>,
    pub(super) limit_text: String,
    pub(super) number: Option<f64>,
    pub(super) room: String,
}

/// Figures of the same thing: those with a limit, then those without.
pub(super) struct Group<'a> {
    pub(super) head: &'a str,
    /// What their names begin with: an axle's `truck`, so that it stands with its truck.
    pub(super) owner: &'a str,
    pub(super) rows: Vec<Row>,
    pub(super) free: Vec<String>,
}

/// The figures group by group: what belongs to a truck, a trailer or an item stands together.
pub(super) fn groups(figures: &[FigureLine], system: System, style: Style) -> Vec<Group<'_>> {
    let mut groups: Vec<Group<'_>> = vec![];
    for figure in figures {
        let (head, owner, name) = (&*figure.of, owner(&figure.name), figure.noun);
        let known = groups.iter().position(|group| (group.head, group.owner) == (head, owner));
        let at = known.unwrap_or_else(|| {
            let after = groups.iter().rposition(|group| group.owner == owner).map_or(groups.len(), |last| last + 1);
            groups.insert(after, Group { head, owner, rows: vec![], free: vec![] });
            after
        });
        let Some(group) = groups.get_mut(at) else { continue };
        let form = Shown { kind: figure.kind, system, spread: figure.plus_minus };
        let rows = rows(figure, name, form, style);
        if rows.is_empty() {
            group.free.push(unlimited(figure, name, form, style));
        }
        group.rows.extend(rows);
    }
    groups
}

/// `truck.axle[front].load` belongs to `truck`, an item's figures to that item; dots in brackets belong to an id.
fn owner(name: &str) -> &str {
    let mut depth = 0_usize;
    for (at, c) in name.char_indices() {
        match c {
            '[' => depth += 1,
            ']' => depth = depth.saturating_sub(1),
            '.' if depth == 0 => return name.get(..at).unwrap_or(""),
            _ => {}
        }
    }
    name
}

/// What rules allow a figure to be at the least and at the most, each with the rule.
pub(super) fn limits(figure: &FigureLine) -> impl Iterator<Item = (Limit, &Arc<str>)> {
    let least = figure.at_least.as_ref().map(|(value, rule)| (Limit::Least(*value), rule));
    let most = figure.at_most.as_ref().map(|(value, rule)| (Limit::Most(*value), rule));
    least.into_iter().chain(most)
}

/// A row for each limit of a figure; only the first repeats its name and value.
fn rows(figure: &FigureLine, name: &str, form: Shown, style: Style) -> Vec<Row> {
    let mut rows = vec![];
    for (limit, rule) in limits(figure) {
        let mut row = Row {
            name: String::new(),
            value: String::new(),
            spread: String::new(),
            limit,
            rule: Arc::clone(rule),
            limit_text: limit.text(form),
            number: figure.value,
            room: figure.value.map_or_else(String::new, |value| limit.room(value, form)),
        };
        if rows.is_empty() {
            row.name = shown(name).into_owned();
            (row.value, row.spread) = value(figure, form, style);
        }
        rows.push(row);
    }
    rows
}

/// `cg 43 in ± 2`.
fn unlimited(figure: &FigureLine, name: &str, form: Shown, style: Style) -> String {
    let (value, spread) = value(figure, form, style);
    let parts = [shown(name).into_owned(), value, spread];
    parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" ")
}

/// A figure's value and spread.
fn value(figure: &FigureLine, form: Shown, style: Style) -> (String, String) {
    match figure.value {
        Some(value) => (form.text(value), form.spread(style)),
        None => ("unknown".to_owned(), String::new()),
    }
}

/// What figures rest on by assumption, with what they are figures of, in the order in which they are shown.
pub(super) fn assumed(figures: &[FigureLine]) -> Vec<(&'static str, Vec<&str>)> {
    let mut assumed: Vec<(&str, Vec<&str>)> = vec![];
    for figure in figures {
        let Some(text) = figure.assumes else { continue };
        match assumed.iter_mut().find(|(known, _)| *known == text) {
            Some((_, whose)) if whose.contains(&&*figure.of) => {}
            Some((_, whose)) => whose.push(&figure.of),
            None => assumed.push((text, vec![&figure.of])),
        }
    }
    assumed
}
