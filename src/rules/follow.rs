//! Which rules a yard has on by where it drives: the published rule sets that it follows, and its state.

use std::sync::Arc;

use super::reader::Reader;
use super::rule::{Param, Rule, StateFigure};
use super::set::idle;
use crate::finding::Finding;
use crate::lower::read_number;
use crate::model::Settings;
use crate::syntax::Node;

/// The rule set that holds where a yard names none.
const DEFAULT: &str = "us";

/// The published rule set to which a pack belongs; none for a pack that holds everywhere.
fn rule_set(pack: &str) -> Option<&str> {
    let (_, set) = pack.rsplit_once('-')?;
    ["us", "eu"].contains(&set).then_some(set)
}

impl Rule {
    /// The published rule set to which a built-in rule belongs; none for one that holds everywhere.
    #[must_use]
    pub fn rule_set(&self) -> Option<&str> {
        if self.builtin { rule_set(&self.pack) } else { None }
    }

    /// Whether it belongs to a published rule set that a yard with these settings does not follow.
    pub(super) fn is_foreign(&self, settings: &Settings) -> bool {
        let follows = |set: &str| match settings.follow.as_slice() {
            [] => set == DEFAULT,
            all => all.iter().any(|one| &*one.value == set),
        };
        self.rule_set().is_some_and(|set| !follows(set))
    }
}

impl super::RuleSet {
    /// Takes in a built-in rule that the yard leaves out because it does not follow its rule set.
    pub fn take_in(&mut self, id: &str) {
        if let Some(rule) = self.rule_mut(id).filter(|rule| rule.rule_set().is_some()) {
            rule.off = false;
        }
    }
}

/// Moves what is otherwise in the yard's state. Returns a finding where nothing is.
pub(super) fn in_state(rules: &mut [Rule], settings: &Settings) -> Option<Finding> {
    let state = settings.state.entry()?;
    let mut any = false;
    for rule in rules {
        let named = |one: &&StateFigure| one.names.iter().any(|name| name.eq_ignore_ascii_case(&state.value));
        let own: Vec<StateFigure> = rule.states.iter().filter(named).cloned().collect();
        for figure in own {
            let Some(param) = rule.params.iter_mut().find(|param| param.name == figure.param) else { continue };
            any |= !rule.off;
            *param = Param { value: figure.value, unit: figure.unit, at: state.at, moved: true, ..param.clone() };
        }
    }
    (!any).then(|| {
        let message = format!("no figure of the rules in force is known to differ in \"{}\"", state.value);
        idle(state.at, message).help(
            "delete it, look up the state's own figures and set them: set \"brakes-expected\" from=…, \
             set \"over-height\" most=…",
        )
    })
}

impl Reader<'_> {
    /// What parameters are in one state.
    pub(super) fn state(&mut self, node: &Node, params: &[Param]) -> Vec<StateFigure> {
        let names = node.arguments().filter_map(|entry| match &entry.value {
            crate::syntax::Value::Text(text) => Some(Arc::clone(text)),
            _ => None,
        });
        let names: Vec<Arc<str>> = names.collect();
        if names.is_empty() {
            self.wrong(node.head, "`for-state` names a state".to_owned(), None);
        }
        let mut figures = Vec::new();
        for (word, entry) in node.properties() {
            let Some(param) = params.iter().find(|param| *param.name == *word.text) else {
                self.wrong(word.span, format!("the rule has no parameter \"{}\"", word.text), None);
                continue;
            };
            match read_number(entry) {
                Ok((value, kind, unit)) if kind == param.kind => {
                    figures.push(StateFigure { names: names.clone(), param: Arc::clone(&param.name), value, unit });
                }
                Ok(_) => {
                    let noun = param.kind.map_or("plain number", crate::units::Kind::noun);
                    self.wrong(entry.span, format!("\"{}\" is a {noun}", param.name), None);
                }
                Err(error) => self.wrong(error.span, error.message, error.help),
            }
        }
        figures
    }
}
