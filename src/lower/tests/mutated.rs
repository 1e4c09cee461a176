//! Properties: no text makes reading panic, every span lies in its file, and one fault is one finding.

use proptest::prelude::*;

use super::{YARD, lowered, read, tree};
use crate::finding::{Finding, Level};
use crate::syntax::{Document, Entry, Node, Value};
use crate::text::{FileId, Sources};

fn in_bounds(findings: &[Finding], sources: &Sources) -> Result<(), TestCaseError> {
    for finding in findings {
        let edits = || finding.fixes.iter().flat_map(|fix| &fix.edits);
        let spans = finding.labels.iter().map(|label| label.span).chain([finding.primary.span]);
        let spans = spans.chain(edits().map(|edit| edit.span));
        for span in spans {
            let source = sources.get(span.file);
            prop_assert!(source.is_some(), "{finding:?}");
            prop_assert!(source.is_some_and(|source| source.text.get(span.range()).is_some()), "{finding:?}");
        }
        for fix in &finding.fixes {
            let apart = fix.edits.windows(2).all(|pair| pair[0].span.end <= pair[1].span.start);
            prop_assert!(apart, "{fix:?}");
        }
        prop_assert!(!finding.message.is_empty() && !finding.message.ends_with('.'), "{}", finding.message);
    }
    Ok(())
}

/// The tokens of a text, roughly: words, quoted texts, single signs.
fn tokens(text: &str) -> Vec<&str> {
    let mut out = Vec::new();
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let length = if first == '"' {
            rest[1..].find('"').map_or(rest.len(), |end| end + 2)
        } else if first.is_alphanumeric() || matches!(first, '-' | '#') {
            rest.find(|c: char| !(c.is_alphanumeric() || matches!(c, '-' | '.' | '#'))).unwrap_or(rest.len())
        } else {
            first.len_utf8()
        };
        let (token, after) = rest.split_at(length);
        out.push(token);
        rest = after;
    }
    out
}

const SPARE: [&str; 22] = [
    "\"\"",
    "-1",
    "0",
    "1e300",
    "#inf",
    "#nan",
    "#null",
    "#true",
    "(in)",
    "(lb)",
    "(lbs)",
    "(pct)",
    "\"rook\"",
    "truck",
    "axle",
    "{ }",
    "weight",
    "ş",
    "999999999999999999999999",
    "\"2027-02-30\"",
    "tie",
    "origin=\"plate\"",
];

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, ..ProptestConfig::default() })]

    #[test]
    fn mutations_do_no_harm(edits in prop::collection::vec((any::<prop::sample::Index>(), 0..4_u8, any::<prop::sample::Index>()), 1..6)) {
        let mut all = tokens(YARD);
        for (place, sort, with) in edits {
            let at = place.index(all.len());
            match sort {
                0 => { all.remove(at); }
                1 => all.insert(at, all[at]),
                2 => all[at] = SPARE[with.index(SPARE.len())],
                _ => { let other = with.index(all.len()); all.swap(at, other); }
            }
        }
        let text = all.concat();
        let (_, findings, sources) = read(&[&text]);
        in_bounds(&findings, &sources)?;
    }

    #[test]
    fn any_text_does_no_harm(text in "(sheet|truck|trailer|machine|yard|tie|set)? ?(\"[a-z]{0,3}\")? ?[ -~\n]{0,60}") {
        let (_, findings, sources) = read(&[&text]);
        in_bounds(&findings, &sources)?;
    }
}

/// How many entries a tree holds.
fn entries(nodes: &[Node]) -> usize {
    nodes.iter().map(|node| node.entries.len() + entries(node.children.as_deref().unwrap_or_default())).sum()
}

/// Changes the entry of this number, counted through the tree.
fn change(nodes: &mut [Node], number: &mut usize, how: &mut dyn FnMut(&mut Vec<Entry>, usize)) {
    for node in nodes {
        if *number < node.entries.len() {
            how(&mut node.entries, *number);
            *number = usize::MAX;
            return;
        }
        *number -= node.entries.len();
        change(node.children.as_deref_mut().unwrap_or_default(), number, how);
        if *number == usize::MAX {
            return;
        }
    }
}

/// The example yard with one entry changed.
fn changed(tree: &Document, number: usize, how: &mut dyn FnMut(&mut Vec<Entry>, usize)) -> Vec<Finding> {
    let mut tree = tree.clone();
    change(&mut tree.nodes, &mut number.clone(), how);
    lowered(&[Some(tree)]).1
}

#[test]
fn one_entry_less_is_one_error_at_most() {
    let tree = tree(FileId(0), YARD).expect("a tree");
    let all = entries(&tree.nodes);
    assert!(all > 250, "{all} entries");
    let mut missed = 0;
    for number in 0..all {
        let mut gone = String::new();
        let findings = changed(&tree, number, &mut |entries, at| {
            gone = YARD[entries.remove(at).span.range()].to_owned();
        });
        let errors: Vec<_> = findings.iter().filter(|one| one.level == Level::Error).collect();
        assert!(errors.len() <= 1, "without {gone}: {errors:#?}");
        missed += errors.len();
    }
    assert!(missed > 130, "{missed} entries are missed");
}

#[test]
fn a_wrong_value_is_one_finding() {
    let tree = tree(FileId(0), YARD).expect("a tree");
    let mut tried = 0;
    for number in 0..entries(&tree.nodes) {
        let mut unit = None;
        let mut bare = changed(&tree, number, &mut |entries, at| unit = entries[at].ty.take());
        // A parameter of a rule takes any number: which, the rule says.
        if unit.is_some() && !bare.is_empty() {
            assert_eq!(bare.len(), 1, "{bare:#?}");
            assert_eq!(bare.remove(0).rule, "unit-missing");
            tried += 1;
            let wrong = changed(&tree, number, &mut |entries, at| {
                entries[at].ty.as_mut().expect("a unit").text = "kPa/m".into();
            });
            assert_eq!(wrong.iter().map(|one| &*one.rule).collect::<Vec<_>>(), ["unit-wrong"]);
        }
        let nothing = changed(&tree, number, &mut |entries, at| entries[at].value = Value::Null);
        let rules: Vec<&str> = nothing.iter().map(|one| &*one.rule).collect();
        assert_eq!(rules, ["not-possible"], "entry {number}: {nothing:#?}");
    }
    assert!(tried > 150, "{tried} numbers");
}
