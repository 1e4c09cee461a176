//! Every entry that an example rests on, deleted: what it would have said is then not known, never guessed and never a
//! pass.

use std::collections::BTreeSet;

use draylint::expr::Value;
use draylint::figures::{Measures, figures};
use draylint::rules::{Rule, Slot};
use draylint::syntax::Node;
use draylint::text::Span;
use rayon::prelude::*;

use crate::texts::{EXAMPLES, Texts, each_node, loads};
use crate::verdicts::{Said, is_open, said, value};

/// Nodes whose absence means that the thing is not there: without one the load is another one.
const THINGS: [&str; 13] = [
    "machine",
    "cargo",
    "bulk",
    "aboard-truck",
    "fit",
    "weighed-with",
    "walls",
    "rear-doors",
    "tie",
    "anchor",
    "lash-point",
    "reading",
    "describe",
];

/// Entries, each after the node it stands in, whose absence says something of its own: the language fixes what.
const FIXED: &[&str] = &[
    // On the centre line, in the middle, on the deck itself.
    "machine left",
    "cargo left",
    "machine cg-left",
    "cargo cg-left",
    "cargo cg-from-front",
    "cargo on",
    "tires dual",     // four and more are
    "tires pressure", // as on the sidewall
    "tires kind",     // no passenger tires
    "tires speed",    // 65 mph where they are ST tires
    "coupler tongue", // a coupler without a mark of its own for the tongue is bounded by its one rating
    // Where one axle is said to drive or to be braked, the other one is not.
    "axle driven",
    "axle braked",
    // A bed of which no tilt is given lies level.
    "sheet loading",
    "loading bed-tilt",
    // What a load does not say of how it is put aboard is as its yard says, and a stand is one.
    "loading chocks",
    "loading parking-brake",
    "loading stands",
    "stands count",
    // Ground of which no slope is given is not judged, and the ramp's foot stands no higher than the trailer.
    "loading slope",
    "loading foot-rise",
    // Loose material takes what its gap leaves of the deck, and fills it without one.
    "bulk length",
    "bulk front-gap",
    // In the middle, and level.
    "bulk left",
    "bulk heaped",
    // An attachment that gives no measure keeps within its machine.
    "attachment outline",
    "outline width",
    "outline height",
    // Who says nothing of the carrier is asked for none of its duties; a duty is taken as open until it is said to be done.
    "sheet carrier",
    "carrier number",
    "carrier cdl",
    "carrier recheck",
    // The whole trailer counts where no plate says what of it rests on the coupling.
    "coupler s-value",
    // One tie-down where no count is given, from an anchor to the cargo; between which points, nobody need say.
    "tie count",
    "tie over",
    "tie from",
    "tie to",
    // The published table's limit where none is marked; against breaking strength nothing is judged that has none given.
    "tiedown wll",
    "tiedown breaking",
    // The weakest part counts of those whose rating is known; an anchor lies in the deck's plane.
    "anchor rating",
    "anchor height",
    "lash-point rating",
    // What a label does not say does not count.
    "tiedown tension-force",
];

/// What tells the user that something is missing.
const TELLS: [&str; 5] = ["cannot-tell", "rating-missing", "missing-entry", "not-placed", "does-not-add-up"];

/// One thing that can be deleted: its word and its bytes.
pub(crate) struct Deletion {
    pub(crate) word: String,
    pub(crate) span: Span,
}

/// Everything that can be deleted from a yard's texts, one at a time.
pub(crate) fn deletions(texts: &Texts) -> Vec<Deletion> {
    let mut all = Vec::new();
    let trees = texts.files.iter().filter_map(|file| file.tree.as_ref());
    for top in trees.flat_map(|tree| &tree.nodes).filter(|node| &*node.name.text != "yard") {
        each_node(top, &mut |node: &Node| {
            for (key, entry) in node.properties() {
                all.push(Deletion { word: format!("{} {}", node.name.text, key.text), span: entry.span });
            }
            let wheels = &*top.name.text == "trailer";
            for child in node.children() {
                let word = &*child.name.text;
                // One axle less is another trailer; a truck or machine has two.
                let another = THINGS.contains(&word) || (wheels && word == "axle");
                if !another {
                    all.push(Deletion { word: format!("{} {word}", node.name.text), span: child.span });
                }
            }
        });
    }
    all
}

/// A rule asked of one subject: what it says, and each figure that its condition names, where it is known.
struct Asked {
    said: Said,
    /// The figures of what must hold.
    needed: BTreeSet<usize>,
    /// It can be kept in more than one way, and so without knowing all of them.
    either: bool,
    figures: Vec<(usize, Option<Value>)>,
}

fn asked(rule: &Rule, texts: &Texts) -> Vec<Asked> {
    let (yard, _) = texts.linked();
    let mut all = Vec::new();
    for load in loads(&yard) {
        for ask in rule.asks() {
            let slots: BTreeSet<usize> = ask
                .when
                .iter()
                .chain([&ask.require])
                .flat_map(draylint::expr::Expr::names)
                .map(|(slot, ..)| slot)
                .collect();
            for subject in ask.each.subjects(&load) {
                let known = |slot: &usize| {
                    let known = value(rule, &load, subject, *slot).ok();
                    (*slot, known.filter(|_| !is_open(&load, subject, *slot)))
                };
                all.push(Asked {
                    said: said(rule, ask, &load, subject),
                    either: ask.require.text().contains("||"),
                    needed: ask.require.names().map(|(slot, ..)| slot).collect(),
                    figures: slots.iter().map(known).collect(),
                });
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

/// What one deletion does wrong to what a rule says, and which figures it makes unknown.
fn judge(before: &[Asked], after: &[Asked], fixed: bool, unknown: &mut BTreeSet<usize>) -> Option<String> {
    if before.len() != after.len() {
        // The subject itself is gone; that must be told, which the caller checks.
        return None;
    }
    for (before, after) in before.iter().zip(after) {
        let (mut lost, needed) = (false, &before.needed);
        for ((slot, was), (_, is)) in before.figures.iter().zip(&after.figures) {
            match (was, is) {
                (Some(was), Some(is)) if !fixed && !same(was, is) => {
                    let Slot::Figure(figure) = Slot::of(*slot) else { continue };
                    return Some(format!("{} is guessed: {is:?} in place of {was:?}", figures()[figure].name));
                }
                (Some(_), None) => {
                    // A rule that holds whether it is asked or not is no silent pass.
                    lost |= needed.contains(slot);
                    unknown.insert(*slot);
                }
                _ => {}
            }
        }
        let kept = after.said == before.said && (before.said != Said::Holds || before.either);
        if lost && !kept && !fixed && after.said != Said::CannotTell {
            return Some(format!("{:?} in place of {:?}", after.said, before.said));
        }
        if !fixed && before.said == Said::Fails && after.said == Said::Holds {
            return Some("it passes where it failed".to_owned());
        }
    }
    None
}

#[test]
fn what_rests_on_a_deleted_entry_is_not_known() {
    let rules: Vec<&Rule> = crate::texts::conditions().collect();
    let results: Vec<(Vec<String>, usize)> =
        draylint::syntax::pool().build().unwrap().install(|| rules.par_iter().map(|rule| without_each(rule)).collect());
    let wrong: Vec<&String> = results.iter().flat_map(|(wrong, _)| wrong).collect();
    let told: usize = results.iter().map(|(_, told)| told).sum();
    assert!(told > 50, "{told}");
    assert!(wrong.is_empty(), "\n{wrong:#?}");
}

/// Deletes each entry of a rule's examples: what is wrong then, and how often the user was told what is missing.
fn without_each(rule: &Rule) -> (Vec<String>, usize) {
    let mut wrong = Vec::new();
    let mut told = 0;
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
            if let Some(fault) = judge(&before, &after, fixed, &mut lost) {
                wrong.push(format!("{}: {fault}", what()));
            }
            let gone = before.len() != after.len() || !lost.is_empty();
            unknown.extend(lost);
            // The user is told; asked of all rules, so only where it is new what got lost.
            if gone && (unknown.len() > seen || before.len() != after.len()) {
                told += 1;
                let findings = edited.judged_with(Some(rule)).findings;
                // Who is told that it fails all the same is told enough.
                let fails = example.fails && findings.iter().any(|finding| *finding.rule == *rule.id);
                if !fails && !findings.iter().any(|finding| TELLS.contains(&&*finding.rule)) {
                    wrong.push(format!("{}: nobody is told", what()));
                }
            }
        }
    }
    for ask in rule.asks() {
        for (slot, name, _) in ask.require.names() {
            let Slot::Figure(figure) = Slot::of(slot) else { continue };
            if matches!(figures()[figure].measures, Measures::Quantity(_)) && !unknown.contains(&slot) {
                wrong.push(format!("{}: no deletion makes {name} unknown", rule.id));
            }
        }
    }
    (wrong, told)
}
