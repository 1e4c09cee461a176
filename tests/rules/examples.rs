//! The examples in the rule files: each says what it is for and nothing else, and what is printed is kept.

use draylint::mend::Trial;
use draylint::render::{Style, TextRenderer};
use draylint::rules::{FoundBy, RuleSet};

use crate::texts::RULES;

#[test]
fn the_rule_files_have_no_faults() {
    let (faults, sources) = RuleSet::builtin_faults();
    let text = TextRenderer::new(Style::PLAIN).findings(&sources, faults);
    assert!(faults.is_empty(), "\n{text}");
    assert!(RULES.loose_ends().is_empty(), "{:?}", RULES.loose_ends());
}

#[test]
fn every_rule_has_a_failing_and_a_passing_example() {
    for rule in RULES.rules() {
        let (fails, passes) = (
            rule.examples.iter().filter(|example| example.fails).count(),
            rule.examples.iter().filter(|example| !example.fails).count(),
        );
        // What cannot be quoted in a text, or only in one too long to read, says so in its file and has a fixture.
        let unquotable = matches!(rule.found_by, FoundBy::Reading) && rule.why.contains("No example");
        assert!((fails > 0 && passes > 0) || unquotable, "{}: {fails} failing, {passes} passing", rule.id);
    }
}

#[test]
fn every_example_has_the_one_finding_it_is_for_or_none() {
    let (_, sources) = RuleSet::builtin_faults();
    let mut trial = Trial::new(sources);
    let renderer = TextRenderer::new(Style::PLAIN);
    let mut amiss = Vec::new();
    for rule in RULES.rules() {
        let mut failing = 0;
        for example in &rule.examples {
            let tried = trial.run(&RULES, rule, example);
            let text = renderer.findings(&trial.sources, &tried.findings);
            if let Some(what) = tried.amiss {
                let kind = if example.fails { "fails" } else { "passes" };
                amiss.push(format!("{}, example \"{kind}\": {}\n{text}", rule.id, what.word()));
            } else if example.fails {
                failing += 1;
                let name = if failing == 1 { rule.id.to_string() } else { format!("{}-{failing}", rule.id) };
                insta::assert_snapshot!(name, text);
            }
        }
    }
    assert!(amiss.is_empty(), "\n{}", amiss.join("\n"));
}
