//! What is told of a rule, ready to be set as text or as a page: gathered here once, so that `why` and the book agree.

use std::borrow::Cow;

use super::TextRenderer;
use super::place::shown;
use crate::mend::Trial;
use crate::rules::{Example, ExampleBody, Param, Rule, RuleSet};
use crate::text::Sources;
use crate::units::{System, show, show_in};

/// An example, and what is found in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TriedExample {
    /// Whether it is meant to fail.
    pub fails: bool,
    /// Its own text, line by line without characters that act.
    pub text: String,
    /// The findings as they are printed.
    pub found: String,
}

/// The examples of a rule, each tried among these rules.
pub fn examples(rule: &Rule, rules: &RuleSet, trial: &mut Trial, pen: &TextRenderer) -> Vec<TriedExample> {
    let mut all = Vec::new();
    for example in &rule.examples {
        let tried = rules.get(&rule.id).map(|same| trial.run(rules, same, example));
        let findings = tried.map(|tried| tried.findings).unwrap_or_default();
        let text = example_text(example, &trial.sources);
        let mut visible = String::new();
        for line in text.lines() {
            visible.push_str(&shown(line));
            visible.push('\n');
        }
        let found = pen.findings(&trial.sources, &findings);
        all.push(TriedExample { fails: example.fails, text: visible, found });
    }
    all
}

/// An example's own text, its indent taken away.
fn example_text(example: &Example, sources: &Sources) -> String {
    let text = match &example.body {
        ExampleBody::Text(text) => text.to_string(),
        ExampleBody::Nodes(tree) => {
            let (Some(first), Some(last)) = (tree.nodes.first(), tree.nodes.last()) else { return String::new() };
            let whole = first.span.to(last.span);
            let Some(source) = sources.get(whole.file) else { return String::new() };
            let start = source.line(source.line_of(whole.range().start)).start;
            source.text.get(start..whole.range().end).unwrap_or("").to_owned()
        }
    };
    let lines = || text.lines().filter(|line| !line.trim().is_empty());
    let indent = lines().map(|line| line.len() - line.trim_start().len()).min().unwrap_or(0);
    let cut: Vec<&str> = text.lines().map(|line| line.get(indent..).unwrap_or("").trim_end()).collect();
    cut.join("\n").trim_matches('\n').to_owned() + "\n"
}

/// The paragraphs of a rule's explanation, each on one line and without characters that act.
pub(super) fn paragraphs(rule: &Rule) -> Vec<String> {
    let joined = |block: &str| block.split_whitespace().collect::<Vec<_>>().join(" ");
    let blocks = rule.why.split("\n\n").map(joined).filter(|text| !text.is_empty());
    blocks.map(|text| shown(&text).into_owned()).collect()
}

/// A parameter's value in the unit it was written in.
pub(super) fn number(param: &Param, system: System) -> String {
    match (param.unit, param.kind) {
        (Some(unit), _) => show_in(param.value, unit),
        (None, Some(kind)) => show(param.value, kind, system),
        (None, None) => format!("{}", param.value),
    }
}

/// A rule's condition.
pub(super) struct Asked<'r> {
    /// Of each of which subjects it is asked.
    pub(super) each: String,
    /// When.
    pub(super) when: Option<Cow<'r, str>>,
    /// What must hold.
    pub(super) require: Cow<'r, str>,
}

/// A rule's condition, which is the same for all its subjects; none where it is not found by one.
pub(super) fn asked(rule: &Rule) -> Option<Asked<'_>> {
    let ask = rule.asks().first()?;
    let each: Vec<&str> = rule.asks().iter().map(|ask| ask.each.word()).collect();
    let when = ask.when.as_ref().map(|when| shown(when.text()));
    Some(Asked { each: each.join(" and "), when, require: shown(ask.require.text()) })
}

/// Where a rule's bound comes from, and how well that is known.
pub(super) fn source(rule: &Rule) -> String {
    let status = rule.source.status.map(|status| match (status.word(), status.meaning()) {
        // "memory: from memory" would say it twice.
        (word, meaning) if meaning.contains(word) => format!("; {meaning}"),
        (word, meaning) => format!("; {word}: {meaning}"),
    });
    shown(&format!("{}{}", rule.source.shown(), status.unwrap_or_default())).into_owned()
}
