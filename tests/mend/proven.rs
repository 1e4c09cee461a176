//! What must hold once a fix is made: its finding is gone, nothing else came, nothing that stayed got worse.

use std::collections::BTreeMap;

use draylint::finding::{Finding, Fix, Grade};
use draylint::yard::Checked;

use crate::judged::{beyond, edits, file_of};

/// The rule, the load, the line of the file, and the figure with its side.
type Key = (String, Option<String>, Option<String>, usize, usize, Option<(String, bool)>);

/// The line on which a place of the old text lies once edits are made; inside an edit, where that begins.
fn line_after(text: &str, at: usize, edits: &[(std::ops::Range<usize>, &str)]) -> usize {
    let lines = |text: &str| text.bytes().filter(|byte| *byte == b'\n').count();
    let mut at = at;
    if let Some((range, _)) = edits.iter().find(|(range, _)| range.contains(&at)) {
        at = range.start;
    }
    let before = lines(&text[..at]);
    let before_at = |range: &std::ops::Range<usize>| range.end <= at && range.start < at;
    let gone: usize =
        edits.iter().filter(|(range, _)| before_at(range)).map(|(range, _)| lines(&text[range.clone()])).sum();
    let come: usize = edits.iter().filter(|(range, _)| before_at(range)).map(|(_, new)| lines(new)).sum();
    before + come - gone
}

fn key(finding: &Finding, file: usize, line: usize) -> Key {
    let named = |name: &Option<std::sync::Arc<str>>| name.as_ref().map(ToString::to_string);
    let figure = finding.figure.as_ref().map(|figure| (figure.name.clone(), figure.at_least.is_some()));
    (finding.rule.to_string(), named(&finding.sheet), named(&finding.leg), file, line, figure)
}

fn by_key<'f>(
    files: &[(String, String)],
    checked: &'f Checked,
    line: impl Fn(usize, usize) -> usize,
) -> BTreeMap<Key, Vec<&'f Finding>> {
    let mut all: BTreeMap<Key, Vec<&Finding>> = BTreeMap::new();
    for finding in &checked.findings {
        let span = finding.primary.span;
        let file = file_of(files, &checked.sources, span.file);
        all.entry(key(finding, file, line(file, span.range().start))).or_default().push(finding);
    }
    all
}

/// Whether a finding is of something that could not be computed or read before: its load, its rule for want of an entry,
/// or the entry on whose line the fix was made.
fn is_excused(before: &Checked, finding: &Finding, fix: &Fix, mended_line: bool) -> bool {
    // What is left off may be kept for later.
    if finding.rule == "never-used" && fix.title.starts_with("leave ") {
        return true;
    }
    let mut loads =
        before.loads.iter().filter(|load| Some(&load.sheet) == finding.sheet.as_ref() && load.leg == finding.leg);
    let uncomputed = |load: &draylint::finding::LoadFigures| {
        let asks =
            |rule: &str| rule == finding.rule || (finding.rule == "margin-thin" && finding.message.contains(rule));
        load.figures.is_none() || load.undecided.iter().any(|one| asks(&one.rule))
    };
    // Whether a definition is used cannot be told while a text is not whole.
    let unread = finding.rule == "never-used" && before.findings.iter().any(|one| one.rule == "not-kdl");
    // While a node of a sheet is not read, a name that it may define is not told to be unknown.
    let faulty = |one: &Finding| one.sheet == finding.sheet && matches!(&*one.rule, "unknown-word" | "unit-missing");
    let unsure = finding.rule == "name-unknown" && before.findings.iter().any(faulty);
    let unread = unread || unsure;
    let written = fix.grade == Grade::Notation || fix.title.starts_with("write ");
    loads.any(uncomputed) || written && (mended_line || unread)
}

/// Asserts all that a fix promises of a finding.
pub(crate) fn holds(
    (files, before): (&[(String, String)], &Checked),
    (mended, after): (&[(String, String)], &Checked),
    finding: &Finding,
    fix: &Fix,
) {
    let edits = edits(fix);
    let file = file_of(files, &before.sources, fix.edits[0].span.file);
    let text = &files[file].1;
    let lines_before = |text: &str, at: usize| text[..at].bytes().filter(|byte| *byte == b'\n').count();
    let moved = |of: usize, at: usize| {
        if of == file { line_after(text, at, &edits) } else { lines_before(&files[of].1, at) }
    };
    let old = by_key(files, before, moved);
    let new = by_key(mended, after, |of, at| lines_before(&mended[of].1, at));
    let said = || format!("{}\n{}\n--- made of\n{text}", fix.title, finding.message);
    let at = file_of(files, &before.sources, finding.primary.span.file);
    let wanted = key(finding, at, moved(at, finding.primary.span.range().start));
    let count = |all: &BTreeMap<Key, Vec<&Finding>>, key: &Key| all.get(key).map_or(0, Vec::len);
    assert!(count(&new, &wanted) < count(&old, &wanted), "not cured: {wanted:?}\n{}", said());
    let mended_lines: Vec<usize> = edits.iter().map(|(range, _)| line_after(text, range.start, &edits)).collect();
    for (key, found) in &new {
        let known = old.get(key).map_or(&[][..], Vec::as_slice);
        if found.len() > known.len() {
            let mended_line = key.3 == file && mended_lines.contains(&key.4);
            assert!(
                found.iter().all(|one| is_excused(before, one, fix, mended_line)),
                "new: {key:?}\n{}\n{}\n{:#?}",
                found[0].message,
                said(),
                before.findings.iter().map(|one| (&one.rule, &one.message)).collect::<Vec<_>>()
            );
        }
        let most = |all: &[&Finding]| all.iter().filter_map(|one| beyond(one)).reduce(f64::max);
        if let (Some(was), Some(is)) = (most(known), most(found))
            && key.0 != "margin-thin"
        {
            assert!(is <= was + 1e-6 * was.abs().max(1.0), "worse by {}: {key:?}\n{}", is - was, said());
        }
    }
}
