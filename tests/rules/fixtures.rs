//! Every folder of the fixtures is a rule, and every rule has one: what is expected beside a line is found there, and
//! nothing else.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::PathBuf;
use std::sync::{Arc, LazyLock};

use draylint::check::Options;
use draylint::yard::{Checked, Narrowed, Progress, check};

use crate::texts::{RULES, fixtures, options};

/// Where rules are expected or found: file, line from 1, rule; how many times.
type Lines = BTreeMap<(String, usize, String), usize>;

/// The fixtures checked as a user would, fixes and all, for some rules speak only where a search for one fails: one run
/// over all of them.
static CHECKED: LazyLock<Checked> = LazyLock::new(|| {
    draylint::syntax::pool().build().unwrap().install(|| {
        let folders = rule_folders();
        let options = Options { mend: true, ..options() };
        check(&folders, &Narrowed::default(), &options, &Progress::default()).expect("the fixtures can be checked")
    })
});

/// The folders beside the example yard.
fn rule_folders() -> Vec<PathBuf> {
    let mut folders: Vec<PathBuf> = std::fs::read_dir(fixtures())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.is_dir())
        .collect();
    folders.retain(|path| !path.ends_with("yard"));
    folders.sort();
    folders
}

fn name(path: &std::path::Path) -> String {
    path.file_name().unwrap().to_string_lossy().into_owned()
}

/// What the comments of a text expect.
fn expected(file: &str, text: &str, all: &mut Lines) {
    for (at, line) in text.lines().enumerate() {
        for (mark, below) in [("// expect ", 0), ("// expect-next ", 1)] {
            let Some((_, ids)) = line.split_once(mark) else { continue };
            for id in ids.split(',').map(str::trim) {
                assert!(RULES.get(id).is_some(), "{file}:{}: \"{id}\" is no rule", at + 1);
                *all.entry((file.to_owned(), at + 1 + below, id.to_owned())).or_default() += 1;
            }
        }
    }
}

#[test]
fn what_is_expected_beside_a_line_is_found_there_and_nothing_else() {
    let checked = &*CHECKED;
    let mut wanted = Lines::new();
    let mut found = Lines::new();
    let mut messages = BTreeMap::new();
    for (_, source) in checked.sources.iter() {
        expected(&source.name, &source.text, &mut wanted);
    }
    for finding in &checked.findings {
        let span = finding.primary.span;
        let source = checked.sources.get(span.file).unwrap();
        let key = (source.name.to_string(), source.line_of(span.range().start) + 1, finding.rule.to_string());
        messages.insert(key.clone(), finding.message.clone());
        *found.entry(key).or_default() += 1;
    }
    let missing: Lines =
        wanted.iter().filter(|(key, count)| found.get(*key).unwrap_or(&0) < count).map(clone).collect();
    let extra: Lines = found.iter().filter(|(key, count)| wanted.get(*key).unwrap_or(&0) < count).map(clone).collect();
    let near = |(file, _, rule): &(String, usize, String), others: &Lines| {
        others.keys().find(|other| other.0 == *file && other.2 == *rule).map(|other| other.1)
    };
    let mut report = String::new();
    for key @ (file, line, rule) in missing.keys() {
        match near(key, &extra) {
            Some(other) => writeln!(report, "{file}:{line}: misplaced: {rule} spoke on line {other}").unwrap(),
            None => writeln!(report, "{file}:{line}: silent: {rule}").unwrap(),
        }
    }
    for key @ (file, line, rule) in extra.keys() {
        if near(key, &missing).is_none() {
            writeln!(report, "{file}:{line}: stray: {rule}: {}", messages[key]).unwrap();
        }
    }
    assert!(report.is_empty(), "\n{report}");
}

fn clone(pair: (&(String, usize, String), &usize)) -> ((String, usize, String), usize) {
    (pair.0.clone(), *pair.1)
}

#[test]
fn every_rule_has_a_folder_and_every_folder_is_a_rule() {
    let folders: BTreeSet<String> = rule_folders().iter().map(|path| name(path)).collect();
    let rules: BTreeSet<String> = RULES.rules().iter().map(|rule| rule.id.to_string()).collect();
    assert_eq!(folders, rules);
}

#[test]
fn every_folder_has_a_sheet_that_fails_by_its_rule_and_one_that_passes() {
    let checked = &*CHECKED;
    for folder in rule_folders() {
        let id = name(&folder);
        let within = |file: &str, part: &str| file.contains(&format!("fixtures/{id}/{part}"));
        let mut speaks = BTreeSet::new();
        for finding in checked.findings.iter().filter(|finding| finding.rule == *id) {
            speaks.insert(Arc::clone(&checked.sources.get(finding.primary.span.file).unwrap().name));
        }
        let files: Vec<_> = checked.sources.iter().map(|(_, source)| Arc::clone(&source.name)).collect();
        assert!(speaks.iter().any(|file| within(file, "fails")), "{id}: nothing fails by it");
        assert!(files.iter().any(|file| within(file, "passes")), "{id}: nothing passes");
        assert!(!speaks.iter().any(|file| within(file, "passes")), "{id}: what should pass fails by it");
    }
}
