//! Commands about the rules and the language themselves: what rules mean, which are active, whether their examples
//! hold, which words there are.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use super::args::{Common, Format};
use super::run::{FAILED, Outcome, options};
use super::terminal;
use crate::mend::Trial;
use crate::render::catalogue::{Amiss, Tried};
use crate::render::{TextRenderer, catalogue, examples, words};
use crate::rules::{Rule, RuleSet};
use crate::text::Sources;
use crate::units::System;
use crate::yard::{self, Opened, Wanted};

/// The yard at a path, to be opened for its rules. A folder without any yard has the built-in rules as they are shipped.
fn wanted(path: &Path) -> Result<Wanted, String> {
    let wanted = yard::find(&[PathBuf::from(path)]).map_err(|why| why.to_string())?;
    // One path belongs to one yard.
    let one = wanted.into_iter().next().ok_or("no path to look at")?;
    Ok(Wanted { asked: Vec::new(), ..one })
}

/// The yard at a path with all that its rules tell.
fn opened(path: &Path) -> Result<Opened, String> {
    yard::open(&wanted(path)?).map_err(|why| why.to_string())
}

/// When a rule file could not be read: its faults, ready to be printed.
fn broken_rules(opened: &Opened, common: &Common) -> Option<Outcome> {
    if opened.rule_faults.is_empty() {
        return None;
    }
    let pen = TextRenderer::new(terminal::style_of_errors(common.color));
    Some(Outcome { told: pen.findings(&opened.sources, &opened.rule_faults), status: FAILED, ..Outcome::default() })
}

fn system(opened: &Opened, common: &Common) -> System {
    options(common).units.or(opened.yard.settings.units.value()).unwrap_or_default()
}

/// What a rule means.
pub(super) fn why(id: &str, path: &Path, common: &Common) -> Result<Outcome, String> {
    let opened = yard::open_telling(&wanted(path)?, id).map_err(|why| why.to_string())?;
    let style = terminal::style(common.color);
    let Some(rule) = opened.rules.get(id) else {
        // It may be one of those that could not be read.
        if let Some(broken) = broken_rules(&opened, common) {
            return Ok(broken);
        }
        let near = opened.rules.nearest(id).map(|near| format!("; did you mean {near}?"));
        let near = near.unwrap_or_else(|| "; `draylint rules` lists them all".to_owned());
        return Err(format!("there is no rule \"{id}\"{near}"));
    };
    let mut trial = Trial::new(sources(rule, &opened));
    // Examples hold for rules as they are shipped; what the yard moved is told beside the numbers.
    let shipped = shipped(RuleSet::working(), rule, &opened);
    let shown = examples(rule, &shipped, &mut trial, &TextRenderer::new(style));
    let text = catalogue::why(rule, system(&opened, common), &shown, style);
    Ok(Outcome { text, ..Outcome::default() })
}

/// The words of the language, or one of them.
pub(super) fn words(word: Option<&str>, common: &Common) -> Result<Outcome, String> {
    let style = terminal::style(common.color);
    let text = match word {
        None => words::all(style),
        Some(word) => words::one(word, style).map_err(|near| {
            let near = near.map_or_else(
                || "; `draylint words` lists them all".to_owned(),
                |near| format!("; did you mean {near}?"),
            );
            format!("there is no word \"{word}\"{near}")
        })?,
    };
    Ok(Outcome { text, ..Outcome::default() })
}

/// The active rules.
pub(super) fn list(path: &Path, format: Format, common: &Common) -> Result<Outcome, String> {
    let opened = opened(path)?;
    if let Some(broken) = broken_rules(&opened, common) {
        return Ok(broken);
    }
    let system = system(&opened, common);
    let text = match format {
        Format::Text => catalogue::list(&opened.rules, &opened.sources, system, terminal::style(common.color)),
        Format::Json => catalogue::list_json(&opened.rules, &opened.sources),
    };
    Ok(Outcome { text, ..Outcome::default() })
}

/// The names that conditions may use.
pub(super) fn names(format: Format, common: &Common) -> Outcome {
    let text = match format {
        Format::Text => catalogue::names(terminal::style(common.color)),
        Format::Json => catalogue::names_json(),
    };
    Outcome { text, ..Outcome::default() }
}

/// Every rule's own examples, tried out.
pub(super) fn test(path: &Path, format: Format, common: &Common) -> Result<Outcome, String> {
    let opened = opened(path)?;
    if let Some(broken) = broken_rules(&opened, common) {
        return Ok(broken);
    }
    let (mut text, mut all) = (String::new(), Tried::default());
    let pen = TextRenderer::new(terminal::style(common.color));
    let (builtin, company): (Vec<&Rule>, Vec<&Rule>) = opened.rules.rules().iter().partition(|rule| rule.builtin);
    for group in [builtin, company] {
        let Some(first) = group.first() else { continue };
        let mut trial = Trial::new(sources(first, &opened));
        let shipped = shipped(RuleSet::builtin(), first, &opened);
        for rule in group.iter().filter_map(|rule| shipped.get(&rule.id)) {
            if rule.examples.is_empty() && !rule.builtin {
                // Writing to a String cannot fail.
                let _ = writeln!(text, "no examples: {}", rule.id);
                all.without.push(rule.id.to_string());
            }
            for example in &rule.examples {
                all.tried += 1;
                let outcome = trial.run(&shipped, rule, example);
                let Some(fault) = outcome.amiss else { continue };
                let which = if example.fails { "fails" } else { "passes" };
                all.amiss.push(Amiss { rule: rule.id.to_string(), example: which, how: fault.word() });
                let _ = writeln!(text, "{}: {}: example \"{which}\"", fault.word(), rule.id);
                text.push_str(&pen.findings(&trial.sources, &outcome.findings));
            }
        }
    }
    let _ = writeln!(text, "{} examples tried, {} amiss", all.tried, all.amiss.len());
    let text = match format {
        Format::Text => text,
        Format::Json => catalogue::tried_json(&all),
    };
    Ok(Outcome { text, status: u8::from(!all.amiss.is_empty()), ..Outcome::default() })
}

/// The files in which a rule's places lie.
fn sources(rule: &Rule, opened: &Opened) -> Sources {
    if rule.builtin { RuleSet::builtin_texts() } else { opened.sources.clone() }
}

/// The rules among which an example is tried: the built-in ones, and for a company's rule the company's too, all as
/// they are shipped.
fn shipped(mut set: RuleSet, rule: &Rule, opened: &Opened) -> RuleSet {
    if !rule.builtin {
        set.add_all(opened.rules_unset.rules().iter().filter(|rule| !rule.builtin).cloned());
    }
    set
}
