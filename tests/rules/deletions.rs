//! Every entry that an example rests on, deleted: what it would have said is then not known, never guessed and never a
//! pass.

use std::collections::BTreeSet;

use draylint::expr::Value;
use draylint::figures::{Measures, figures};
use draylint::rules::{Rule, Slot};
use draylint::syntax::Node;
use draylint::text::Span;

use crate::texts::{EXAMPLES, Texts, each_node, loads};
use crate::verdicts::{Said, said, value};

/// Nodes whose absence means that the thing is not there: without one the load is another one.
const THINGS: [&str; 10] =
    ["machine", "cargo", "bulk", "aboard-truck", "fit", "weighed-with", "walls", "rear-doors", "tie", "describe"];

/// Entries whose absence says something, because the language fixes what: on the centre line, the middle of the cargo,
/// equalized axles, four tires are dual, the tires are at full pressure and no passenger tires, sizes of one attachment
/// that keeps within its machine.
const FIXED: [&str; 8] = ["left", "cg-left", "cg-from-front", "suspension", "dual", "pressure", "kind", "on"];

/// What tells the user that something is missing.
const TELLS: [&str; 5] = ["cannot-tell", "rating-missing", "missing-entry", "not-placed", "does-not-add-up"];

/// One thing that can be deleted: its word and its bytes.
struct Deletion {
    word: String,
    span: Span,
}

/// Everything that can be deleted from a yard's texts, one at a time.
fn deletions(texts: &Texts) -> Vec<Deletion> {
    let mut all = Vec::new();
    let trees = texts.files.iter().filter_map(|file| file.tree.as_ref());
    for top in trees.flat_map(|tree| &tree.nodes).filter(|node| &*node.name.text != "yard") {
        each_node(top, &mut |node: &Node| {
            for (key, entry) in node.properties() {
                all.push(Deletion { word: key.text.to_string(), span: entry.span });
            }
            let wheels = &*top.name.text == "trailer";
            for child in node.children() {
                let word = &*child.name.text;
                // One axle less is another trailer; a truck or machine has two.
                if !THINGS.contains(&word) && !(wheels && word == "axle") {
                    all.push(Deletion { word: word.to_owned(), span: child.span });
                }
            }
        });
    }
    all
}

/// A rule asked of one subject: what it says, and each figure that its condition names, where it is known.
struct Asked {
    said: Said,
    figures: Vec<(usize, Option<Value>)>,
}

fn asked(rule: &Rule, texts: &Texts) -> Vec<Asked> {
    let (yard, _) = texts.linked();
    let mut all = Vec::new();
    for load in loads(&yard) {
        for ask in rule.asks() {
            let slots: BTreeSet<usize> =
                ask.when.iter().chain([&ask.require]).flat_map(|part| part.names()).map(|(slot, ..)| slot).collect();
            for subject in ask.each.subjects(&load) {
                let known = |slot: &usize| (*slot, value(rule, &load, subject, *slot).ok());
                all.push(Asked { said: said(rule, ask, &load, subject), figures: slots.iter().map(known).collect() });
            }
        }
    }
    all
}

fn same(a: &Value, b: &Value) -> bool {
    match (a, b) {
        (Value::Number(a), Value::Number(b)) => (a - b).abs() <= 1e-12 * a.abs().max(b.abs()),
        (a, b) => a == b,
    }
}

/// What one deletion does wrong to a rule, and which figures it makes unknown.
fn judge(rule: &Rule, before: &[Asked], after: &[Asked], fixed: bool, unknown: &mut BTreeSet<usize>) -> Option<String> {
    if before.len() != after.len() {
        // The subject itself is gone; that must be told, which the caller checks.
        return None;
    }
    for (before, after) in before.iter().zip(after) {
        let mut lost = false;
        for ((slot, was), (_, is)) in before.figures.iter().zip(&after.figures) {
            match (was, is) {
                (Some(was), Some(is)) if !fixed && !same(was, is) => {
                    let Slot::Figure(figure) = Slot::of(*slot) else { continue };
                    return Some(format!("{} is guessed: {is:?} in place of {was:?}", figures()[figure].name));
                }
                (Some(_), None) => {
                    lost = true;
                    unknown.insert(*slot);
                }
                _ => {}
            }
        }
        let kept = after.said == before.said && before.said != Said::Holds;
        if lost && !kept && after.said != Said::CannotTell {
            return Some(format!("{:?} in place of {:?}", after.said, before.said));
        }
        if !fixed && before.said == Said::Fails && after.said == Said::Holds {
            return Some("it passes where it failed".to_owned());
        }
    }
    let _ = rule;
    None
}

#[test]
fn what_rests_on_a_deleted_entry_is_not_known() {
    let mut wrong = Vec::new();
    let mut never = Vec::new();
    let mut told = 0;
    for rule in crate::texts::conditions() {
        let mut unknown = BTreeSet::new();
        for (_, example, texts) in EXAMPLES.iter().filter(|(of, ..)| of.id == rule.id) {
            let before = asked(rule, texts);
            for deletion in deletions(texts) {
                let edited = texts.replaced(deletion.span, "");
                let after = asked(rule, &edited);
                let what = || {
                    let kind = if example.fails { "fails" } else { "passes" };
                    format!("{}, example \"{kind}\" without {}", rule.id, deletion.word)
                };
                let seen = unknown.len();
                let mut lost = BTreeSet::new();
                let fixed = FIXED.contains(&&*deletion.word);
                if let Some(fault) = judge(rule, &before, &after, fixed, &mut lost) {
                    wrong.push(format!("{}: {fault}", what()));
                }
                let gone = before.len() != after.len() || !lost.is_empty();
                unknown.extend(lost);
                // The user is told; asked of all rules, so only where it is new what got lost.
                if gone && (unknown.len() > seen || before.len() != after.len()) {
                    told += 1;
                    let findings = edited.judged_by_all().gathered.findings;
                    if !findings.iter().any(|finding| TELLS.contains(&&*finding.rule)) {
                        wrong.push(format!("{}: nobody is told", what()));
                    }
                }
            }
        }
        for ask in rule.asks() {
            for (slot, name, _) in ask.require.names() {
                let Slot::Figure(figure) = Slot::of(slot) else { continue };
                if matches!(figures()[figure].measures, Measures::Quantity(_)) && !unknown.contains(&slot) {
                    never.push(format!("{}: {name}", rule.id));
                }
            }
        }
    }
    assert!(told > 50, "{told}");
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
    assert!(never.is_empty(), "no deletion makes these unknown:\n{}", never.join("\n"));
}
