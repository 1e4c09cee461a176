//! The rules themselves for a reader: what one means, which are active, which names conditions may use.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use serde::Serialize;

use super::meaning::{self, TriedExample, number};
use super::place::shown;
use super::style::{Ink, Style};
use super::wrap::paragraph;
use crate::figures::{Each, Figure, figures};
use crate::rules::{FoundBy, Rule, RuleSet};
use crate::text::Sources;
use crate::units::System;

/// What a rule means: its explanation, its numbers, its source, and its examples with what is found in them.
#[must_use]
pub fn why(rule: &Rule, system: System, examples: &[TriedExample], style: Style) -> String {
    let mut out = String::new();
    let head = style.paint(Ink::Strong, &rule.id);
    let _ = writeln!(out, "{head} ({}, pack {})", rule.level.name(), shown(&rule.pack));
    paragraph(&mut out, "", &shown(&rule.title), 0, style.columns());
    for text in meaning::paragraphs(rule) {
        out.push('\n');
        paragraph(&mut out, "", &text, 0, style.columns());
    }
    if !rule.params.is_empty() {
        section(&mut out, "Numbers", style);
        for param in &rule.params {
            let moved = if param.moved { ", set by this yard" } else { "" };
            let text = format!("{} = {}{moved}: {}", param.name, number(param, system), param.doc);
            paragraph(&mut out, "  ", &shown(&text), 4, style.columns());
        }
    }
    if let Some(asked) = meaning::asked(rule) {
        section(&mut out, "Asked", style);
        paragraph(&mut out, "  ", &format!("of each {}", asked.each), 4, style.columns());
        if let Some(when) = asked.when {
            paragraph(&mut out, "  ", &format!("when {when}"), 4, style.columns());
        }
        paragraph(&mut out, "  ", &format!("must hold: {}", asked.require), 4, style.columns());
    }
    section(&mut out, "Source", style);
    paragraph(&mut out, "  ", &meaning::source(rule), 4, style.columns());
    for example in examples {
        section(&mut out, if example.fails { "This fails" } else { "This passes" }, style);
        out.push('\n');
        for line in example.text.lines() {
            let _ = writeln!(out, "    {line}");
        }
        if example.fails {
            out.push('\n');
            out.push_str(&example.found);
        }
    }
    out
}

fn section(out: &mut String, title: &str, style: Style) {
    let _ = writeln!(out, "\n{}", style.paint(Ink::Lead, title));
}

/// The active rules, pack by pack, each with its level, its numbers and where it comes from.
#[must_use]
pub fn list(rules: &RuleSet, sources: &Sources, system: System, style: Style) -> String {
    let mut packs: BTreeMap<(bool, &str), Vec<&Rule>> = BTreeMap::new();
    for rule in rules.rules() {
        packs.entry((!rule.builtin, &rule.pack)).or_default().push(rule);
    }
    let mut out = String::new();
    for ((_, pack), rules) in packs {
        let _ = writeln!(out, "{}", style.paint(Ink::Strong, &shown(pack)));
        for rule in rules {
            let off = if rule.off { "off" } else { rule.level.name() };
            let lead = format!("  {:<24} {off:<8} ", shown(&rule.id));
            paragraph(&mut out, &lead, &shown(&rule.title), lead.len(), style.columns());
            for param in &rule.params {
                let mut text = format!("{} = {}", param.name, number(param, system));
                if param.moved {
                    let place = sources.get(param.at.file).map(|source| (source, source.place(param.at.range().start)));
                    let place = place.map(|(source, at)| format!(" (set in {}:{})", source.name, at.line));
                    text.push_str(&place.unwrap_or_default());
                }
                paragraph(&mut out, "      ", &shown(&text), 8, style.columns());
            }
            if !rule.builtin {
                let file = sources.get(rule.at.file).map_or("", |source| &source.name);
                paragraph(&mut out, "      ", &shown(&format!("from {file}")), 8, style.columns());
            }
        }
    }
    out
}

#[derive(Serialize)]
struct RuleList<'a> {
    schema: u32,
    rules: Vec<RuleLine<'a>>,
}

#[derive(Serialize)]
struct RuleLine<'a> {
    rule: &'a str,
    pack: &'a str,
    level: &'static str,
    off: bool,
    title: &'a str,
    params: Vec<ParamLine<'a>>,
    source: &'a str,
    source_kind: &'static str,
    source_status: Option<&'static str>,
    found_by: &'static str,
    file: Option<&'a str>,
}

#[derive(Serialize)]
struct ParamLine<'a> {
    name: &'a str,
    value: f64,
    unit: &'static str,
    moved: bool,
    doc: &'a str,
}

/// The active rules for a program.
#[must_use]
pub fn list_json(rules: &RuleSet, sources: &Sources) -> String {
    let line = |rule| -> RuleLine<'_> {
        let rule: &Rule = rule;
        RuleLine {
            rule: &rule.id,
            pack: &rule.pack,
            level: rule.level.name(),
            off: rule.off,
            title: &rule.title,
            params: rule
                .params
                .iter()
                .map(|param| ParamLine {
                    name: &param.name,
                    value: param.value,
                    unit: param.kind.map_or("1", crate::units::Kind::si_symbol),
                    moved: param.moved,
                    doc: &param.doc,
                })
                .collect(),
            source: &rule.source.text,
            source_kind: rule.source.kind.word(),
            source_status: rule.source.status.map(crate::rules::Status::word),
            found_by: match rule.found_by {
                FoundBy::Condition(_) => "condition",
                FoundBy::Reading => "reading",
                FoundBy::Checking => "checking",
                FoundBy::Placing => "placing",
            },
            file: if rule.builtin { None } else { sources.get(rule.at.file).map(|source| &*source.name) },
        }
    };
    let list = RuleList { schema: 1, rules: rules.rules().iter().map(line).collect() };
    super::json::written(&list)
}

/// An example that does not hold.
#[derive(Debug, Serialize)]
pub struct Amiss {
    /// The rule's id.
    pub rule: String,
    /// Which: `fails` or `passes`.
    pub example: &'static str,
    /// In what way: `silent`, `stray` or `misplaced`.
    pub how: &'static str,
}

/// What trying out all examples gave.
#[derive(Debug, Serialize)]
pub struct Tried {
    schema: u32,
    /// How many examples were tried.
    pub tried: usize,
    /// Those that do not hold.
    pub amiss: Vec<Amiss>,
    /// Rules of the company that have no example.
    pub without: Vec<String>,
}

impl Default for Tried {
    fn default() -> Self {
        Self { schema: 1, tried: 0, amiss: Vec::new(), without: Vec::new() }
    }
}

/// The same for a program.
#[must_use]
pub fn tried_json(tried: &Tried) -> String {
    super::json::written(tried)
}

/// The figures by the subjects at which they are there.
pub(super) fn groups() -> Vec<(String, Vec<&'static Figure>)> {
    let mut groups: Vec<(&[Each], Vec<&'static Figure>)> = Vec::new();
    for figure in figures() {
        match groups.iter_mut().find(|(of, _)| *of == figure.of) {
            Some((_, all)) => all.push(figure),
            None => groups.push((figure.of, vec![figure])),
        }
    }
    let head = |of: &[Each]| match of {
        [] => "in every rule".to_owned(),
        of => format!("each {}", of.iter().map(|each| each.word()).collect::<Vec<_>>().join(", each ")),
    };
    groups.into_iter().map(|(of, all)| (head(of), all)).collect()
}

/// The names that conditions may use, by the subjects at which they are there.
#[must_use]
pub fn names(style: Style) -> String {
    let mut out = String::new();
    for (of, all) in groups() {
        let _ = writeln!(out, "{of}");
        for figure in all {
            let lead = format!("  {:<28} {:<10} ", figure.name, figure.measures.noun());
            paragraph(&mut out, &lead, figure.doc, lead.len(), style.columns());
        }
    }
    out
}

#[derive(Serialize)]
struct NameList {
    schema: u32,
    names: Vec<NameLine>,
}

#[derive(Serialize)]
struct NameLine {
    name: &'static str,
    each: Vec<&'static str>,
    measures: &'static str,
    unit: Option<&'static str>,
    doc: &'static str,
    source: Option<&'static str>,
}

/// The same for a program.
#[must_use]
pub fn names_json() -> String {
    let line = |figure: &&'static Figure| NameLine {
        name: figure.name,
        each: figure.of.iter().map(|each| each.word()).collect(),
        measures: figure.measures.noun(),
        unit: figure.measures.kind().map(crate::units::Kind::si_symbol),
        doc: figure.doc,
        source: Some(figure.source).filter(|source| !source.is_empty()),
    };
    super::json::written(&NameList { schema: 1, names: figures().iter().map(line).collect() })
}
