//! Every comparison of every condition turned round, taken out or broken: some example or fixture must notice.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use draylint::expr::{Expr, compile};
use draylint::figures::Load;
use draylint::model::Yard;
use draylint::rules::{FoundBy, Rule, RuleNames};

use crate::texts::{EXAMPLES, FIXTURES, conditions, loads};
use crate::verdicts::all_said;

static YARDS: LazyLock<Vec<Yard>> = LazyLock::new(|| FIXTURES.iter().map(|texts| texts.linked().0).collect());
static LOADS: LazyLock<Vec<Load<'static>>> = LazyLock::new(|| YARDS.iter().flat_map(loads).collect());

/// A rule with one of its conditions replaced.
fn with(rule: &Rule, at: usize, change: impl FnOnce(&mut Option<Expr>, &mut Expr)) -> Rule {
    let mut mutant = rule.clone();
    if let FoundBy::Condition(asks) = &mut mutant.found_by {
        let ask = &mut asks[at];
        change(&mut ask.when, &mut ask.require);
    }
    mutant
}

/// Every mutant of a rule, with what was done to it.
fn mutants(rule: &Rule) -> Vec<(String, Rule)> {
    let mut all = Vec::new();
    for (at, ask) in rule.asks().iter().enumerate() {
        let names = RuleNames { each: ask.each, params: &rule.params };
        let conditions = [Some(&ask.require), ask.when.as_ref()];
        for (is_when, condition) in
            conditions.into_iter().enumerate().filter_map(|(place, one)| Some((place == 1, one?)))
        {
            for comparison in 0..condition.comparisons() {
                let range = condition.comparison(comparison).unwrap();
                let part = &condition.text()[range.clone()];
                let mut add = |what: &str, new: Expr| {
                    let mutant =
                        with(rule, at, |when, require| if is_when { *when = Some(new) } else { *require = new });
                    all.push((format!("{} each {:?}: {what} `{part}`", rule.id, ask.each.word()), mutant));
                };
                add("turned round", condition.flipped(comparison));
                // `when` only keeps a rule from being asked where it makes no sense: there it may go without being noticed.
                for constant in if is_when { &["false"][..] } else { &["true", "false"] } {
                    let mut text = condition.text().to_owned();
                    text.replace_range(range.clone(), constant);
                    add(constant, compile(&text, &names).unwrap());
                }
            }
        }
    }
    all
}

#[test]
fn every_comparison_is_noticed_when_it_is_turned_round_taken_out_or_broken() {
    let mut unnoticed = Vec::new();
    let mut tried = 0;
    for rule in conditions() {
        let own: Vec<Yard> =
            EXAMPLES.iter().filter(|(of, ..)| of.id == rule.id).map(|(_, _, texts)| texts.linked().0).collect();
        let own: Vec<Load<'_>> = own.iter().flat_map(loads).collect();
        let before = (all_said(rule, &own), all_said(rule, LOADS.iter()));
        for (what, mutant) in mutants(rule) {
            tried += 1;
            if all_said(&mutant, &own) == before.0 && all_said(&mutant, LOADS.iter()) == before.1 {
                unnoticed.push(what);
            }
        }
    }
    assert!(tried >= 3 * conditions().count());
    assert!(unnoticed.is_empty(), "nobody noticed:\n{}", unnoticed.join("\n"));
}

#[test]
fn every_rule_holds_somewhere_and_fails_somewhere() {
    // What the mutants are judged by: each rule holds somewhere and fails somewhere.
    for rule in conditions() {
        let said: BTreeSet<String> = all_said(rule, LOADS.iter()).iter().map(|said| format!("{said:?}")).collect();
        for wanted in ["Holds", "Fails"] {
            assert!(said.contains(wanted), "{}: no fixture where it {wanted}", rule.id);
        }
    }
}
