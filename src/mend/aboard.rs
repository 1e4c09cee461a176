//! What cures a fault of how a machine is put aboard: the least foot rise, the least bed tilt, an attachment left off, a
//! longer ramp. Each is solved on the load, rounded to what can be measured, written and tried like every fix.
//!
//! A gap under a machine need not grow steadily with any of these, so each is gone through from where it is in steps of
//! what can be measured, and the first step at which the rule is kept is narrowed down.

use std::sync::Arc;

use super::bench::Bench;
use super::cure::Moves;
use super::entry::{rounded, spoken, steps, written};
use super::limit::{Limit, Stand};
use super::movable::Movable;
use super::plan::{added, find, own, taken_out};
use super::prove::prove;
use crate::figures::{Load, Subject, Supposed};
use crate::finding::{Edit, Finding, Fix, Grade};
use crate::model::Slot;
use crate::syntax::parse;
use crate::text::quoted;
use crate::units::{Angle, Length, Quantity, System, Unit, unit};

/// How far a foot is raised at the most, in m: a yard.
const MOST_RISE: f64 = 0.9144;
/// How far a bed is tilted at the most, in degrees.
const MOST_TILT: f64 = 30.0;
/// The longest ramp that is thought of, in m: 20 ft.
const LONGEST_RAMP: f64 = 6.096;

/// A way to put a machine aboard otherwise, found on the load.
struct Solved {
    /// As an imperative.
    said: String,
    /// The line in `loading`, when a sheet can say it.
    line: Option<(&'static str, String)>,
}

/// The fixes for a finding about how a machine is put aboard, the one to try first first; then advice with solved numbers.
pub(super) fn fixes(
    moves: &Moves<'_, '_>,
    bench: &Bench<'_>,
    finding: &Finding,
    cures: &[Arc<str>],
    system: System,
) -> Vec<Fix> {
    let may = |word: &str| cures.iter().any(|cure| &**cure == word);
    let Some(load) = moves.ends.first() else { return Vec::new() };
    let limits = broken(moves, load, finding);
    if limits.is_empty() {
        return Vec::new();
    }
    let mut fixes = Vec::new();
    if may("way") {
        for solved in [tilt(load, &limits), rise(load, &limits, system)].into_iter().flatten() {
            fixes.extend(tried(bench, load, finding, solved));
        }
    }
    if may("loading") {
        fixes.extend(set(bench, load, finding));
    }
    if may("fit") {
        fixes.extend(left_off(bench, load, finding, &limits));
    }
    if may("way")
        && let Some(solved) = ramp(load, &limits, system)
    {
        fixes.push(Fix::advice(solved.said));
    }
    fixes
}

/// The limits that are broken where this finding stands.
fn broken<'m, 'r>(moves: &'m Moves<'r, '_>, load: &Load<'_>, finding: &Finding) -> Vec<&'m Limit<'r>> {
    let here = |subject: Subject| match subject {
        Subject::Item(at) => {
            let its = load.items.get(at).map(|one| one.item.owner.at);
            let machines = load.items.iter().filter(|one| finding.primary.span == one.item.owner.at).count();
            machines == 0 || its == Some(finding.primary.span)
        }
        _ => true,
    };
    let own = |limit: &&Limit<'_>| *limit.rule.id == *finding.rule && limit.end == 0 && here(limit.subject);
    moves.limits.iter().filter(own).filter(|limit| moves.broken(limit)).collect()
}

fn kept(limits: &[&Limit<'_>], load: &Load<'_>) -> bool {
    limits.iter().all(|limit| limit.stand(load) == Stand::Keeps)
}

/// The least value from a step on at which these limits are kept, to a tenth of a step's hundredth.
fn least(from: f64, to: f64, step: f64, keeps: impl Fn(f64) -> bool) -> Option<f64> {
    let mut low = from;
    let mut at = from + step;
    while at <= to + 1e-9 {
        if keeps(at) {
            let mut high = at;
            while high - low > step * 1e-3 {
                let middle = f64::midpoint(low, high);
                *(if keeps(middle) { &mut high } else { &mut low }) = middle;
            }
            return Some(high);
        }
        low = at;
        at += step;
    }
    None
}

/// The least value rounded up to what can be measured, as far as the limits are then kept.
fn measured(least: f64, steps: &[f64], keeps: impl Fn(f64) -> bool) -> Option<f64> {
    let coarse = steps.iter().map(|step| rounded(least, *step, true));
    coarse.chain([least]).find(|value| keeps(*value))
}

fn length_unit<T: Quantity>(slot: &Slot<T>, system: System) -> Option<&'static Unit> {
    let otherwise = match system {
        System::Us => "in",
        System::Si => "mm",
    };
    slot.entry().map_or_else(|| unit(otherwise), |entry| entry.unit)
}

fn rise(load: &Load<'_>, limits: &[&Limit<'_>], system: System) -> Option<Solved> {
    load.trailer.as_ref().ok()?.ramp.as_ref()?;
    let now = load.loading.foot_rise.value().map_or(0.0, Length::si);
    let keeps = |rise: f64| {
        kept(limits, &load.supposing(Supposed { foot_rise: Some(Length::new(rise)), ..Supposed::default() }))
    };
    let unit = length_unit(&load.loading.foot_rise, system);
    let step = steps(unit).first().copied()?;
    let needed = least(now, now + MOST_RISE, step, keeps)?;
    let finer: Vec<f64> = steps(unit).into_iter().rev().take(3).rev().collect();
    let to = measured(needed, &finer, keeps)?;
    let value = written(to, unit);
    let said = if now.abs() > 0.0 {
        format!("raise the ramp's foot by {}: foot-rise {value}", spoken(to - now, unit))
    } else {
        format!("back it onto a bank, so that the ramp's foot stands {} higher: foot-rise {value}", spoken(to, unit))
    };
    Some(Solved { said, line: Some(("foot-rise", value)) })
}

fn tilt(load: &Load<'_>, limits: &[&Limit<'_>]) -> Option<Solved> {
    let trailer = load.trailer.as_ref().ok()?;
    let hinge = trailer.tip_hinge.entry().is_some() || load.deck().ok()?.tilt_hinge.entry().is_some();
    if !hinge {
        return None;
    }
    let now = load.loading.bed_tilt.value().map_or(0.0, Angle::si);
    let keeps = |angle: f64| {
        kept(limits, &load.supposing(Supposed { bed_tilt: Some(Angle::new(angle)), ..Supposed::default() }))
    };
    let needed = least(now, MOST_TILT, 0.5, keeps)?;
    let to = measured(needed, &[1.0, 0.5, 0.1], keeps)?;
    let degrees = unit("deg");
    let value = written(to, degrees);
    Some(Solved {
        said: format!("tilt the bed to {}: bed-tilt {value}", spoken(to, degrees)),
        line: Some(("bed-tilt", value)),
    })
}

fn ramp(load: &Load<'_>, limits: &[&Limit<'_>], system: System) -> Option<Solved> {
    let ramp = load.trailer.as_ref().ok()?.ramp.as_ref()?;
    let now = ramp.length.value()?.si();
    let keeps = |length: f64| {
        kept(limits, &load.supposing(Supposed { ramp: Some(Length::new(length)), ..Supposed::default() }))
    };
    let unit = length_unit(&ramp.length, system);
    let needed = least(now, LONGEST_RAMP, 0.05, keeps)?;
    let to = measured(needed, &steps(unit), keeps)?;
    Some(Solved { said: format!("use a ramp of at least {}", spoken(to, unit)), line: None })
}

/// A solved change as a fix, once it was tried.
fn tried(bench: &Bench<'_>, load: &Load<'_>, finding: &Finding, solved: Solved) -> Option<Fix> {
    let (word, value) = solved.line?;
    let planned = own(load);
    let written = match word {
        "foot-rise" => planned.foot_rise.entry().map(|entry| entry.written),
        _ => planned.bed_tilt.entry().map(|entry| entry.written),
    };
    let edit = if let Some(at) = written {
        Edit::replace(at, value)
    } else {
        let source = bench.sources().get(load.owner().at.file)?;
        added(load, &source.text, &format!("{word} {value}"))?
    };
    proven(bench, finding, solved.said, vec![edit])
}

fn proven(bench: &Bench<'_>, finding: &Finding, title: String, edits: Vec<Edit>) -> Option<Fix> {
    prove(bench, finding, &edits)?;
    Some(Fix { title, grade: Grade::Change, edits })
}

/// What the plan says is not done, done.
fn set(bench: &Bench<'_>, load: &Load<'_>, finding: &Finding) -> Vec<Fix> {
    let planned = own(load);
    let flags = [
        ("chocks", "chock the trailer's wheels on both sides before loading", &planned.chocks),
        ("parking-brake", "set the truck's parking brake", &planned.parking_brake),
    ];
    let unset = flags.into_iter().filter_map(|(word, said, slot)| {
        let entry = slot.entry().filter(|entry| !entry.value)?;
        Some((format!("{said}: {word} #true"), Edit::replace(entry.written, "#true".to_owned())))
    });
    unset.filter_map(|(said, edit)| proven(bench, finding, said, vec![edit])).take(1).collect()
}

/// An attachment left off, the machine standing where it stood: the gap to its foremost point is another then.
fn left_off(bench: &Bench<'_>, load: &Load<'_>, finding: &Finding, limits: &[&Limit<'_>]) -> Vec<Fix> {
    let file = load.sheet.owner.at.file;
    let Some(source) = bench.sources().get(file) else { return Vec::new() };
    let Some(tree) = parse(file, &source.text).document else { return Vec::new() };
    let mut fixes = Vec::new();
    for at in limits.iter().filter_map(|limit| if let Subject::Item(at) = limit.subject { Some(at) } else { None }) {
        let Some(one) = load.items.get(at) else { continue };
        let movable = Movable::along(load).into_iter().find(|movable| movable.item == at);
        for fit in one.fits() {
            let Some(node) = find(&tree.nodes, fit.owner.at) else { continue };
            let off = taken_out(&source.text, node);
            let moved = movable.as_ref().and_then(|movable| {
                let datum = |load: &Load<'_>| Some(load.items.get(at)?.placed.as_ref().ok()?.datum.si());
                let tried = bench.tried(std::slice::from_ref(&off))?;
                let after = Load::at_both_ends(&tried.yard, super::resolve::same_load(load, &tried.yard)?)?;
                let by = datum(load)? - datum(after.first()?)?;
                let to = movable.now + movable.what.rearward() * by;
                Some((by.abs() > 1e-6).then(|| (Edit::replace(movable.written, written(to, movable.unit)), to)))
            });
            let Some(moved) = moved else { continue };
            let name = quoted(&fit.attachment.name.value);
            let mut said = format!("leave {name} off");
            let mut edits = vec![off];
            if let (Some((edit, to)), Some(movable)) = (moved, &movable) {
                said = format!(
                    "{said}, the machine staying where it is: {}={}",
                    movable.what.word(),
                    written(to, movable.unit)
                );
                edits.push(edit);
            }
            edits.sort_by_key(|edit| edit.span);
            fixes.extend(proven(bench, finding, said, edits));
        }
    }
    fixes
}
