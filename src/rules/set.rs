//! All rules of a run, with what the yard sets.

use std::collections::HashMap;
use std::sync::{Arc, LazyLock};

use super::follow::in_state;
use super::read::{BROKEN, ReadRules, read_rules, read_working_rules};
use super::rule::{Rule, SourceKind};
use super::{builtin, builtin_sources};
use crate::expr::Limit;
use crate::finding::{Finding, Fix, Level};
use crate::lower::renamed;
use crate::model::{Entry, RuleSetting, Settings};
use crate::syntax::{parse, with_stack};
use crate::text::{FileId, Source, Sources, Span, nearest, only_near};

/// The finding for a setting that does nothing.
const IDLE: &str = "setting-idle";
/// What to do with one that sets nothing new.
const TAKE_OUT: &str = "delete it";

/// The rules of a run, by id.
#[derive(Clone, Debug, Default)]
pub struct RuleSet {
    rules: Vec<Rule>,
    by_id: HashMap<Arc<str>, usize>,
}

/// The built-in rules and what is wrong with them, read once a process.
static BUILTIN: LazyLock<(Vec<Rule>, Vec<Finding>)> = LazyLock::new(|| read_all(false));

/// The same rules without what `why` tells: read in a quarter of the time.
static WORKING: LazyLock<(Vec<Rule>, Vec<Finding>)> = LazyLock::new(|| read_all(true));

fn read_all(working: bool) -> (Vec<Rule>, Vec<Finding>) {
    let (mut rules, mut findings) = (Vec::new(), Vec::new());
    for (at, (path, text)) in builtin_sources().enumerate() {
        let mut read = read_one(at, path, text, working);
        rules.append(&mut read.rules);
        findings.append(&mut read.findings);
    }
    (rules, findings)
}

/// One of the built-in rule files, by its place among them.
fn read_one(at: usize, path: &str, text: &str, working: bool) -> ReadRules {
    let file = FileId(u32::try_from(at).unwrap_or(u32::MAX));
    let pack = path.split('/').nth(1).unwrap_or("");
    with_stack(|| {
        let shorter = working.then(|| builtin::working(text));
        let text = shorter.as_deref().unwrap_or(text);
        let parsed = parse(file, text);
        let read =
            |tree| if working { read_working_rules(&tree, text, pack) } else { read_rules(&tree, text, pack, true) };
        let mut read = parsed.document.map(read).unwrap_or_default();
        read.findings.extend(parsed.findings);
        read
    })
}

impl RuleSet {
    /// The built-in rules as they are shipped.
    #[must_use]
    pub fn builtin() -> Self {
        Self::of(&BUILTIN.0)
    }

    /// The built-in rules without explanation and examples, for a run that tells neither: start-up is most of what a
    /// check of a small yard costs.
    #[must_use]
    pub fn working() -> Self {
        Self::of(&WORKING.0)
    }

    /// The same, of which the rule with this id tells all: to read every explanation takes four times as long.
    #[must_use]
    pub fn telling(id: &str) -> Self {
        let mut set = Self::working();
        // A built-in rule stands in the file of its name.
        let name = format!("{id}.kdl");
        let named = |path: &str| path.rsplit('/').next() == Some(&*name);
        if let Some((at, (path, text))) = builtin_sources().enumerate().find(|(_, (path, _))| named(path)) {
            for rule in read_one(at, path, text, false).rules {
                if let Some(known) = set.rule_mut(&rule.id) {
                    *known = rule.clone();
                }
            }
        }
        set
    }

    fn of(rules: &[Rule]) -> Self {
        let mut set = Self::default();
        for rule in rules {
            // Ids of built-in rules are file names, which a folder holds once; a test walks all packs.
            let _ = set.add(rule.clone());
        }
        set
    }

    /// What is wrong with the built-in rule files, and their sources; a test asserts that there is nothing.
    #[must_use]
    pub fn builtin_faults() -> (&'static [Finding], Sources) {
        (&BUILTIN.1, Self::builtin_texts())
    }

    /// The built-in rule files.
    #[must_use]
    pub fn builtin_texts() -> Sources {
        let mut sources = Sources::default();
        for (path, text) in builtin_sources() {
            sources.add(Source::new(path, text));
        }
        sources
    }

    /// The definitions on which the examples in rule files rest.
    #[must_use]
    pub fn example_yard() -> &'static str {
        builtin::text(super::EXAMPLE_YARD).unwrap_or("")
    }

    /// All rules, in order of pack and id, the company's last.
    #[must_use]
    pub fn rules(&self) -> &[Rule] {
        &self.rules
    }

    /// The rule with this id.
    #[must_use]
    pub fn get(&self, id: &str) -> Option<&Rule> {
        self.rules.get(*self.by_id.get(id)?)
    }

    pub(super) fn rule_mut(&mut self, id: &str) -> Option<&mut Rule> {
        self.rules.get_mut(*self.by_id.get(id)?)
    }

    /// The id of a rule that is nearest to a misspelt one.
    #[must_use]
    pub fn nearest(&self, id: &str) -> Option<&str> {
        nearest(id, self.rules.iter().map(|rule| &*rule.id))
    }

    /// The help for an id that is no rule's.
    #[must_use]
    pub fn meant(&self, id: &str) -> String {
        match self.nearest(id) {
            Some(near) => format!("write \"{near}\""),
            None => "run `draylint rules` for the names of all rules".to_owned(),
        }
    }

    /// What mends a misspelt id, where it is certain which rule was meant.
    #[must_use]
    pub fn renamed(&self, id: &Entry<Arc<str>>) -> Option<Fix> {
        let near = only_near(&id.value, self.rules.iter().map(|rule| &*rule.id))?;
        Some(Fix::notation(format!("write \"{near}\""), vec![renamed(&id.value, id.written, near)]))
    }

    /// Adds the rules of a company's file. Returns what is wrong with them.
    pub fn extend(&mut self, read: ReadRules) -> Vec<Finding> {
        let mut findings = read.findings;
        for rule in read.rules {
            let at = rule.at;
            if let Err(other) = self.add(rule) {
                let message = format!("there is a rule \"{}\" already", other.id);
                let mut finding = Finding::new(BROKEN, Level::Error, at, message);
                finding.help = Some(if other.builtin {
                    "give it a name of its own; `set` in yard.kdl moves a built-in rule".to_owned()
                } else {
                    "give one of them another name".to_owned()
                });
                if !other.builtin {
                    finding = finding.label(other.at, "the other one");
                }
                findings.push(finding);
            }
        }
        findings
    }

    /// Adds rules that were read before. One whose id is taken is left out.
    pub fn add_all(&mut self, rules: impl IntoIterator<Item = Rule>) {
        for rule in rules {
            let _ = self.add(rule);
        }
    }

    /// Adds a rule, or returns the one that has its id already.
    fn add(&mut self, rule: Rule) -> Result<(), Box<Rule>> {
        if let Some(other) = self.get(&rule.id) {
            return Err(Box::new(other.clone()));
        }
        self.by_id.insert(Arc::clone(&rule.id), self.rules.len());
        self.rules.push(rule);
        Ok(())
    }

    /// Checks that every rule named by `gives-way-to` is there.
    #[must_use]
    pub fn loose_ends(&self) -> Vec<Finding> {
        let lost = |rule: &Rule| -> Vec<Finding> {
            let unknown = rule.gives_way_to.iter().filter(|(other, _)| !self.by_id.contains_key(other));
            let message = |other: &str| format!("\"{}\" gives way to \"{other}\", which is no rule", rule.id);
            unknown
                .map(|(other, at)| {
                    let finding = Finding::new(BROKEN, Level::Error, *at, message(other));
                    finding.help(self.meant(other))
                })
                .collect()
        };
        self.rules.iter().flat_map(lost).collect()
    }

    /// Applies what the yard sets. Returns a finding for each setting that does nothing or may not do it.
    pub fn apply(&mut self, settings: &Settings) -> Vec<Finding> {
        let mut findings = Vec::new();
        for rule in self.rules.iter_mut().filter(|rule| rule.is_foreign(settings)) {
            rule.off = true;
        }
        findings.extend(in_state(&mut self.rules, settings));
        for setting in &settings.set {
            let foreign = self.get(&setting.rule.value).filter(|rule| rule.is_foreign(settings));
            if let Some(set) = foreign.and_then(Rule::rule_set) {
                let id = &setting.rule;
                let message =
                    format!("\"{}\" is a rule of \"{set}\", which this yard does not follow", setting.rule.value);
                findings.push(idle(id.at, message).help(format!("delete it, or add \"{set}\" to follow")));
                continue;
            }
            self.set(setting, &mut findings);
        }
        findings
    }

    fn set(&mut self, setting: &RuleSetting, findings: &mut Vec<Finding>) {
        let id = &setting.rule;
        let Some(rule) = self.by_id.get(&id.value).and_then(|at| self.rules.get_mut(*at)) else {
            let finding = idle(id.at, format!("there is no rule \"{}\", so this sets nothing", id.value));
            let mut finding = finding.help(self.meant(&id.value));
            finding.fixes.extend(self.renamed(id));
            findings.push(finding);
            return;
        };
        if setting.params.is_empty() && setting.level.is_none() && setting.off.is_none() {
            findings.push(idle(setting.owner.at, format!("this sets nothing of \"{}\"", rule.id)));
        }
        for (name, value, kind) in &setting.params {
            set_param(rule, name, *value, *kind, findings);
        }
        let binding = rule.is_binding();
        let whose = authority(rule);
        if let Some(level) = &setting.level {
            if level.value == rule.level {
                let message = format!("\"{}\" has this level already", rule.id);
                findings.push(idle(level.at, message).help(TAKE_OUT));
            } else if binding && level.value < rule.level {
                let message = format!("\"{}\" rests on {whose}, so its level cannot be lowered", rule.id);
                findings.push(idle(level.at, message));
            } else {
                rule.level = level.value;
            }
        }
        if let Some(off) = &setting.off {
            if off.value && binding {
                let message = format!("\"{}\" rests on {whose}, so it cannot be turned off", rule.id);
                findings.push(idle(off.at, message));
            } else if off.value == rule.off {
                let is = if rule.off { "off" } else { "on" };
                findings.push(idle(off.at, format!("\"{}\" is {is} already", rule.id)).help(TAKE_OUT));
            } else {
                rule.off = off.value;
            }
        }
    }
}

/// What a rule rests on, as a message says it.
fn authority(rule: &Rule) -> &'static str {
    match rule.source.kind {
        _ if &*rule.pack == "entries" => "how sheets are read",
        SourceKind::Rating => "a rating",
        kind => kind.word(),
    }
}

/// Whether moving a bound from one value to another makes it tighter.
fn tightens(bounds: Option<Limit>, from: f64, to: f64) -> bool {
    match bounds {
        Some(Limit::AtMost) => to < from,
        Some(Limit::AtLeast) => to > from,
        Some(Limit::Exactly) | None => false,
    }
}

fn set_param(
    rule: &mut Rule,
    name: &Entry<Arc<str>>,
    value: f64,
    kind: Option<crate::units::Kind>,
    findings: &mut Vec<Finding>,
) {
    let binding = rule.is_binding();
    let at = rule.params.iter().position(|param| param.name == name.value);
    // Which way it may not go, where the rule rests on law, a rating or physics.
    let slot = at.map(|at| crate::figures::figures().len() + at);
    let bounds = slot.and_then(|slot| rule.asks().iter().find_map(|ask| ask.require.bounds(slot)));
    let whose = authority(rule);
    let Some(param) = at.and_then(|at| rule.params.get_mut(at)) else {
        let finding = idle(name.at, format!("\"{}\" has no parameter \"{}\"", rule.id, name.value));
        let near = nearest(&name.value, rule.params.iter().map(|param| &*param.name));
        let all: Vec<&str> = rule.params.iter().map(|param| &*param.name).collect();
        findings.push(match near {
            Some(near) => {
                let meant = only_near(&name.value, all.iter().copied());
                let edit = meant.map(|near| renamed(&name.value, name.written, near));
                finding.notation(format!("write {near}"), edit.into_iter().collect())
            }
            None if all.is_empty() => finding.help("take it out: this rule has no parameters"),
            None => finding.help(format!("its parameters are {}", all.join(", "))),
        });
        return;
    };
    if param.kind != kind {
        let noun = param.kind.map_or("plain number", crate::units::Kind::noun);
        let of = format!("\"{}\" of \"{}\" is a {noun}", param.name, rule.id);
        let finding = match (param.kind, kind) {
            (Some(_), None) => Finding::new("unit-missing", Level::Error, name.at, format!("{of} and needs a unit")),
            (_, Some(other)) => {
                Finding::new("unit-wrong", Level::Error, name.at, format!("{of}, not a {}", other.noun()))
            }
            (None, None) => return,
        };
        findings.push(match param.unit {
            Some(unit) => finding.help(format!("write {}=({})…", param.name, unit.symbol)),
            None => finding.help(format!("write it without a unit: {}=…", param.name)),
        });
    } else if kind == Some(crate::units::Kind::Share)
        && (0.0..=1.0).contains(&param.value)
        && !(0.0..=1.0).contains(&value)
    {
        let message = format!("\"{}\" of \"{}\" is a share of a whole", param.name, rule.id);
        let finding = Finding::new("not-possible", Level::Error, name.at, message);
        findings.push(finding.help("write a share from 0 pct to 100 pct"));
    } else if (param.value - value).abs() <= 1e-12 * value.abs() {
        let message = format!("\"{}\" of \"{}\" has this value already", param.name, rule.id);
        findings.push(idle(name.at, message).help(TAKE_OUT));
    } else if binding && !param.may_loosen && !tightens(bounds, param.value, value) {
        let message = format!("\"{}\" rests on {whose}, so \"{}\" can only be tightened", rule.id, param.name);
        findings.push(idle(name.at, message).help(TAKE_OUT));
    } else {
        param.value = value;
        param.unit = name.unit;
        param.at = name.at;
        param.moved = true;
    }
}

pub(super) fn idle(at: Span, message: String) -> Finding {
    Finding::new(IDLE, Level::Warning, at, message)
}

#[cfg(test)]
mod tests {
    use super::RuleSet;

    #[test]
    fn one_rule_tells_all_and_the_others_what_a_check_asks() {
        let telling = RuleSet::telling("tongue-light");
        assert_eq!(telling.rules().len(), RuleSet::working().rules().len());
        let told = |id: &str| telling.get(id).is_some_and(|rule| !rule.why.is_empty() && !rule.examples.is_empty());
        assert!(told("tongue-light") && !told("tongue-heavy"));
        assert_eq!(
            telling.get("tongue-light").map(|rule| rule.at),
            RuleSet::builtin().get("tongue-light").map(|rule| rule.at)
        );
    }

    #[test]
    fn the_shorter_reading_says_the_same_of_every_rule() {
        let (full, working) = (RuleSet::builtin(), RuleSet::working());
        assert_eq!(full.rules().len(), working.rules().len());
        for (full, working) in full.rules().iter().zip(working.rules()) {
            let mut full = full.clone();
            assert!(!full.why.is_empty(), "{}", full.id);
            full.why = "".into();
            full.examples.clear();
            assert_eq!(format!("{full:?}"), format!("{working:?}"));
        }
    }
}
