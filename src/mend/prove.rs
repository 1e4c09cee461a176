//! Whether a change does what it says: the changed sheet is checked again, and must lack the finding and have none that
//! it did not have before.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::bench::{Bench, Outcome};
use crate::finding::{Edit, Finding, shifted};
use crate::text::{FileId, Span};

/// What came of a change that holds.
#[derive(Debug)]
pub(super) struct Proof {
    /// The findings that it cures besides the one that was asked about, by rule.
    pub(super) also: Vec<Arc<str>>,
    /// Findings that could not be computed before it, by rule.
    pub(super) uncovered: Vec<Arc<str>>,
}

/// What makes two findings of two checks the same: the rule, the load and the place, not the words or numbers.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Key {
    rule: String,
    sheet: Option<Arc<str>>,
    leg: Option<Arc<str>>,
    file: FileId,
    start: u32,
    /// The figure, and whether it is to be at least something.
    figure: Option<(String, bool)>,
}

/// Tries edits of one file against a finding. None when they do not cure it, add another, or make one worse.
pub(super) fn prove(bench: &Bench<'_>, finding: &Finding, edits: &[Edit]) -> Option<Proof> {
    prove_all(bench, &[finding], edits)
}

/// The same against several findings at once.
pub(super) fn prove_all(bench: &Bench<'_>, findings: &[&Finding], edits: &[Edit]) -> Option<Proof> {
    let file = edits.first()?.span.file;
    let before = bench.before(edits)?;
    let after = bench.after(edits)?;
    let old = by_key(&before, |span| moved(span, file, edits));
    let new = by_key(&after, |span| span.start);
    let count = |all: &BTreeMap<Key, Vec<&Finding>>, key: &Key| all.get(key).map_or(0, Vec::len);
    let mut wanted: BTreeMap<Key, usize> = BTreeMap::new();
    for finding in findings {
        *wanted.entry(key(finding, moved(finding.primary.span, file, edits))).or_default() += 1;
    }
    if wanted.iter().any(|(key, cured)| count(&old, key) < *cured || count(&new, key) + cured > count(&old, key)) {
        return None;
    }
    let mut uncovered = Vec::new();
    for (key, found) in &new {
        let known = old.get(key).map_or(&[][..], Vec::as_slice);
        if found.len() > known.len() {
            // What is wrong with the very value that is written was not there to be found.
            let own = ENTRIES.contains(&key.rule.as_str()) && found.iter().any(|one| touches(one, edits));
            let excused = !own && found.iter().all(|one| could_not_be_computed(&before, one));
            if !excused {
                return None;
            }
            uncovered.push(Arc::from(key.rule.as_str()));
        }
        if worse(known, found) {
            return None;
        }
    }
    let mut also: Vec<Arc<str>> = Vec::new();
    for (key, found) in &old {
        if !wanted.contains_key(key) && count(&new, key) < found.len() && found.iter().any(|one| one.waived.is_none()) {
            let rule = Arc::from(key.rule.as_str());
            if !also.contains(&rule) {
                also.push(rule);
            }
        }
    }
    uncovered.dedup();
    Some(Proof { also, uncovered })
}

/// Faults of a value.
const ENTRIES: [&str; 4] = ["not-possible", "unit-wrong", "unit-missing", "unknown-word"];

/// Whether a finding of the changed text lies where an edit was made.
fn touches(finding: &Finding, edits: &[Edit]) -> bool {
    let span = finding.primary.span;
    edits.iter().any(|edit| {
        let at = shifted(edit.span.start, edits);
        edit.span.file == span.file && span.start <= at && at <= span.end
    })
}

fn by_key(outcome: &Outcome, start: impl Fn(Span) -> u32) -> BTreeMap<Key, Vec<&Finding>> {
    let mut all: BTreeMap<Key, Vec<&Finding>> = BTreeMap::new();
    for finding in &outcome.findings {
        all.entry(key(finding, start(finding.primary.span))).or_default().push(finding);
    }
    all
}

fn key(finding: &Finding, start: u32) -> Key {
    Key {
        rule: finding.rule.to_string(),
        sheet: finding.sheet.clone(),
        leg: finding.leg.clone(),
        file: finding.primary.span.file,
        start,
        figure: finding.figure.as_ref().map(|figure| (figure.name.clone(), figure.at_least.is_some())),
    }
}

fn moved(span: Span, file: FileId, edits: &[Edit]) -> u32 {
    if span.file == file { shifted(span.start, edits) } else { span.start }
}

/// Whether a new finding is one that could not be computed before: of a load or a rule that lacked something, or of a
/// text that could not be read.
fn could_not_be_computed(before: &Outcome, finding: &Finding) -> bool {
    if before.unread.contains(&finding.primary.span.file) {
        return true;
    }
    let Some(sheet) = &finding.sheet else {
        // A definition that was broken kept every load that rests on it from being computed.
        return before.loads.values().any(Option::is_none);
    };
    let loads =
        before.loads.iter().filter(|((name, leg), _)| name == sheet && (finding.leg.is_none() || *leg == finding.leg));
    let mut any = false;
    for (_, lacks) in loads {
        any = true;
        match lacks {
            None => return true,
            Some(rules) if rules.iter().any(|rule| **rule == *finding.rule) => return true,
            // What is within its spread is told of a rule that could not be judged before.
            Some(rules)
                if finding.rule == "margin-thin" && rules.iter().any(|rule| finding.message.contains(&**rule)) =>
            {
                return true;
            }
            Some(_) => {}
        }
    }
    !any
}

/// Whether a finding that stays is further beyond its bound than before.
fn worse(before: &[&Finding], after: &[&Finding]) -> bool {
    let beyond = |finding: &&Finding| {
        let figure = finding.figure.as_ref()?;
        let low = figure.at_least.map(|least| least - figure.value);
        let high = figure.at_most.map(|most| figure.value - most);
        Some(low.into_iter().chain(high).fold(f64::NEG_INFINITY, f64::max))
    };
    let most = |all: &[&Finding]| all.iter().filter_map(beyond).fold(f64::NEG_INFINITY, f64::max);
    let (old, new) = (most(before), most(after));
    // Thin margins are within their bound, and may well be thinner elsewhere.
    let thin = after.iter().any(|one| one.rule == "margin-thin");
    !thin && old.is_finite() && new > old + 1e-6 * old.abs().max(1.0)
}
