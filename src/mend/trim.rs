//! Fixes ready to be shown or written: what each does to the text, and to every figure that it moves.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use similar::TextDiff;

use super::bench::Bench;
use super::prove::{prove, prove_all};
use crate::check::rests_on;
use crate::finding::{Edit, Finding, Fix, Grade, Level, LoadFigures, applied};
use crate::model::LoadRef;
use crate::text::{FileId, Sources, Span, visible};
use crate::units::{Kind, System};

/// How many lines stand around a change.
const CONTEXT: usize = 3;

/// A fix with all that it does.
#[derive(Clone, Debug, PartialEq)]
pub struct Trim {
    /// The fix.
    pub fix: Fix,
    /// What it cures: the rule, how grave, and the load, in order of place.
    pub cures: Vec<Cured>,
    /// The first of these.
    finding: Finding,
    /// The file that it changes.
    pub file: FileId,
    /// The change as a unified diff.
    pub diff: String,
    /// The figures that it moves.
    pub moves: Vec<Moved>,
    /// Rules of which it cures findings besides.
    pub also: Vec<Arc<str>>,
    /// Rules with findings that could not be computed before it.
    pub uncovers: Vec<Arc<str>>,
}

/// A finding that a fix cures.
#[derive(Clone, Debug, PartialEq)]
pub struct Cured {
    /// Its rule.
    pub rule: Arc<str>,
    /// How grave it is.
    pub level: Level,
    /// The sheet, when it belongs to one.
    pub sheet: Option<Arc<str>>,
    /// The leg.
    pub leg: Option<Arc<str>>,
}

/// A figure before and after a fix.
#[derive(Clone, Debug, PartialEq)]
pub struct Moved {
    /// The load.
    pub sheet: Arc<str>,
    /// Its leg.
    pub leg: Option<Arc<str>>,
    /// The figure's name in results.
    pub name: String,
    /// What it is a figure of, for a person.
    pub of: String,
    /// How it is called beside that.
    pub noun: &'static str,
    /// What it measures; none for a plain number.
    pub kind: Option<Kind>,
    /// The units in which a person is shown it.
    pub system: System,
    /// Its value before, in SI; none where it could not be computed.
    pub before: Option<f64>,
    /// Its value after.
    pub after: Option<f64>,
}

/// The fixes of findings that [`fix`](super::fix) has gone through, each once, with what it does; advice, which changes
/// nothing, is left out.
#[must_use]
pub fn trims(bench: &Bench<'_>, findings: &[Finding]) -> Vec<Trim> {
    let mut all: Vec<Trim> = Vec::new();
    for finding in findings {
        let Some(fix) = finding.fixes.iter().find(|fix| fix.grade != Grade::Advice) else { continue };
        let cured = Cured {
            rule: Arc::from(&*finding.rule),
            level: finding.level,
            sheet: finding.sheet.clone(),
            leg: finding.leg.clone(),
        };
        if let Some(same) = all.iter_mut().find(|trim| trim.fix.edits == fix.edits) {
            same.also.retain(|rule| *rule != cured.rule);
            same.cures.push(cured);
            continue;
        }
        all.extend(trim(bench, finding, fix, cured));
    }
    all
}

fn trim(bench: &Bench<'_>, finding: &Finding, fix: &Fix, cured: Cured) -> Option<Trim> {
    let file = fix.edits.first()?.span.file;
    let source = bench.sources().get(file)?;
    let proof = prove(bench, finding, &fix.edits)?;
    let (before, after) = bench.figures(&fix.edits)?;
    let sheet = bench.yard().sheets.iter().position(|sheet| fix.edits.iter().all(|edit| sheet.span.holds(edit.span)));
    bench.let_go(file, sheet);
    Some(Trim {
        fix: fix.clone(),
        cures: vec![cured],
        finding: finding.clone(),
        file,
        diff: diff(&source.name, &source.text, &applied(&source.text, &fix.edits)?),
        moves: moves(&before.figures, &after.figures),
        also: proof.also,
        uncovers: proof.uncovered,
    })
}

/// A change as a unified diff, three lines around it.
#[must_use]
pub fn diff(name: &str, old: &str, new: &str) -> String {
    // A line break in a name must not begin a line of the diff.
    let name = visible(name, true);
    TextDiff::from_lines(old, new).unified_diff().context_radius(CONTEXT).header(&name, &name).to_string()
}

/// Figures that differ by more than rounding.
fn moves(before: &[LoadFigures], after: &[LoadFigures]) -> Vec<Moved> {
    let mut moves = Vec::new();
    for load in after {
        let old = before.iter().find(|old| old.sheet == load.sheet && old.leg == load.leg);
        let old: BTreeMap<&str, Option<f64>> = old
            .and_then(|old| old.figures.as_deref())
            .unwrap_or_default()
            .iter()
            .map(|figure| (&*figure.name, figure.value))
            .collect();
        for figure in load.figures.as_deref().unwrap_or_default() {
            let before = old.get(&*figure.name).copied().flatten();
            let same = match (before, figure.value) {
                (Some(one), Some(other)) => (one - other).abs() <= 1e-9 * one.abs().max(other.abs()).max(1e-3),
                (None, None) => true,
                _ => false,
            };
            if !same {
                moves.push(Moved {
                    sheet: Arc::clone(&load.sheet),
                    leg: load.leg.clone(),
                    name: figure.name.clone(),
                    of: figure.of.clone(),
                    noun: figure.noun,
                    kind: figure.kind,
                    system: load.system,
                    before,
                    after: figure.value,
                });
            }
        }
    }
    moves
}

/// The texts of files once as many of these fixes are made as were tried without regard to one another: those that touch
/// different loads, and those of notation in one file that hold when they are made together. Gives the fixes that were
/// made, too.
#[must_use]
pub fn made<'t>(bench: &Bench<'_>, trims: &'t [Trim]) -> (BTreeMap<FileId, String>, Vec<&'t Trim>) {
    let mut edits: BTreeMap<FileId, Vec<Edit>> = BTreeMap::new();
    let mut touched: BTreeSet<Touched> = BTreeSet::new();
    let mut done = Vec::new();
    for (at, trim) in trims.iter().enumerate() {
        let loads = touches(bench, trim);
        if !loads.is_disjoint(&touched) {
            continue;
        }
        let mut group = vec![trim];
        if trim.fix.grade == Grade::Notation {
            let alike = |other: &&Trim| other.file == trim.file && other.fix.grade == Grade::Notation;
            let apart = |other: &&Trim| touches(bench, other).is_disjoint(&touched);
            group.extend(trims.iter().skip(at + 1).filter(alike).filter(apart));
        }
        if group.len() > 1 && !hold_together(bench, &group) {
            group.truncate(1);
        }
        for one in group {
            touched.extend(touches(bench, one));
            edits.entry(one.file).or_default().extend(one.fix.edits.iter().cloned());
            done.push(one);
        }
    }
    let text = |file: FileId, edits: &[Edit], sources: &Sources| applied(&sources.get(file)?.text, edits);
    let texts = edits.iter().filter_map(|(file, edits)| Some((*file, text(*file, edits, bench.sources())?)));
    (texts.collect(), done)
}

/// Whether fixes of one file cure what they cure when all are made at once.
fn hold_together(bench: &Bench<'_>, group: &[&Trim]) -> bool {
    let edits: Vec<Edit> = group.iter().flat_map(|trim| trim.fix.edits.iter().cloned()).collect();
    let findings: Vec<&Finding> = group.iter().map(|trim| &trim.finding).collect();
    prove_all(bench, &findings, &edits).is_some()
}

/// What a fix can touch: a load, or what else stands in a file.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Touched {
    Load(LoadRef),
    File(FileId),
}

/// The loads that a fix can touch: the leg or sheet in which it is made, or all that rest on its file.
fn touches(bench: &Bench<'_>, trim: &Trim) -> BTreeSet<Touched> {
    let yard = bench.yard();
    let within = |span: Span| trim.fix.edits.iter().all(|edit| span.holds(edit.span));
    if let Some((at, sheet)) = yard.sheets.iter().enumerate().find(|(_, sheet)| within(sheet.span)) {
        let leg = sheet.legs.iter().position(|leg| within(leg.span));
        let of_sheet = yard.loads().filter(|which| which.sheet == at && (leg.is_none() || which.leg == leg));
        return of_sheet.map(Touched::Load).collect();
    }
    let rests =
        yard.loads().filter(|which| bench.is_settings(trim.file) || rests_on(yard, *which).contains(&trim.file));
    // The file itself, so that two fixes in a file on which no load rests are made one after the other.
    rests.map(Touched::Load).chain([Touched::File(trim.file)]).collect()
}
