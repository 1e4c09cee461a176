//! Every bound moved to just inside and just outside of what is measured: the verdict turns there and nowhere else.

use std::collections::BTreeSet;

use draylint::expr::{Compared, Op, Value};
use draylint::figures::{Load, Subject, figures};
use draylint::rules::{Ask, Rule, Slot};
use draylint::syntax::Entry;
use draylint::text::Span;
use draylint::units::unit;

use crate::texts::{EXAMPLES, Texts, conditions, loads};
use crate::verdicts::{Said, said, value, verdict};

/// How far from the measured figure the bounds are set, as a part of it.
const STEP: f64 = 1e-6;
/// Of figures smaller than this, in SI, the step is a part of this: it must stay above the tolerance of comparisons.
const SMALL: f64 = 0.01;

/// Every subject of every condition in a yard's loads.
fn each_subject(rule: &Rule, texts: &Texts, visit: &mut dyn FnMut(usize, &Ask, &Load<'_>, Subject)) {
    let (yard, _) = texts.linked();
    let mut count = 0;
    for load in loads(&yard) {
        for ask in rule.asks() {
            for subject in ask.each.subjects(&load) {
                visit(count, ask, &load, subject);
                count += 1;
            }
        }
    }
}

/// What is said of the subject with this number.
fn said_of(rule: &Rule, texts: &Texts, wanted: usize) -> Option<Said> {
    let mut found = None;
    each_subject(rule, texts, &mut |at, ask, load, subject| {
        if at == wanted {
            found = Some(said(rule, ask, load, subject));
        }
    });
    found
}

fn number(value: &Value) -> Option<f64> {
    match value {
        Value::Number(number) => Some(*number),
        Value::Text(_) | Value::Flag(_) => None,
    }
}

/// The examples of a rule, the failing ones first.
fn examples(rule: &Rule) -> Vec<&'static Texts> {
    let mut own: Vec<_> = EXAMPLES.iter().filter(|(of, ..)| of.id == rule.id).collect();
    own.sort_by_key(|(_, example, _)| !example.fails);
    own.into_iter().map(|(_, _, texts)| texts).collect()
}

/// Below, at and above a figure.
fn around(measured: f64) -> [f64; 3] {
    let step = measured.abs().max(SMALL) * STEP;
    [measured - step, measured, measured + step]
}

/// What is said where a comparison holds, and where it does not.
type Ends = (Said, Said);
/// Of a comparison in what must hold.
const REQUIRED: Ends = (Said::Holds, Said::Fails);
/// Of one in what says when that is asked, of an example that fails.
const ASKED: Ends = (Said::Fails, Said::NotAsked);

/// Whether three verdicts turn where they should: the comparison holds on one side, fails on the other, and the bound itself
/// is as written.
fn turns(said: [Option<Said>; 3], op: Op, (holds, fails): Ends) -> bool {
    let [below, at, above] = said;
    let ends = [(Some(holds), Some(fails)), (Some(fails), Some(holds))].contains(&(below, above));
    let inclusive = matches!(op, Op::AtMost | Op::AtLeast);
    ends && at == Some(if inclusive { holds } else { fails })
}

/// The parameter set to around what it is compared with, on the first example where that turns the verdict.
fn param_turns(rule: &Rule, param: usize) -> bool {
    let slot = figures().len() + param;
    examples(rule).into_iter().any(|texts| {
        let mut turned = false;
        each_subject(rule, texts, &mut |_, ask, load, subject| {
            let when = ask.when.as_ref().map(|when| when.eval(&mut |slot| value(rule, load, subject, slot)).compared);
            let asked = when.iter().flatten().map(|compared| (compared, ASKED));
            let required = verdict(rule, ask, load, subject).compared;
            for (Compared { left, op, right, .. }, ends) in asked.chain(required.iter().map(|one| (one, REQUIRED))) {
                let measured = match (left.name, right.name) {
                    (Some(name), _) if name == slot => number(&right.value),
                    (_, Some(name)) if name == slot => number(&left.value),
                    _ => None,
                };
                let Some(measured) = measured else { continue };
                let try_with = |value: f64| {
                    let mut moved = rule.clone();
                    moved.params[param].value = value;
                    Some(said(&moved, ask, load, subject))
                };
                turned |= turns(around(measured).map(try_with), *op, ends);
            }
        });
        turned
    })
}

/// The parameter moved until the verdict turns, on the first example where it does so with the sides of a comparison level:
/// for one that stands in the middle of a bound's arithmetic.
fn param_turns_within(rule: &Rule, param: usize) -> bool {
    let with = |value: f64| {
        let mut moved = rule.clone();
        moved.params[param].value = value;
        moved
    };
    let start = rule.params[param].value;
    examples(rule).into_iter().any(|texts| {
        let mut turned = false;
        each_subject(rule, texts, &mut |_, ask, load, subject| {
            let said = |value: f64| said(&with(value), ask, load, subject);
            let tried: Vec<f64> = (-12..=12).map(|step| start * f64::powf(2.0, f64::from(step) / 4.0)).collect();
            let apart = |a: Said, b: Said| matches!((a, b), (Said::Holds, Said::Fails) | (Said::Fails, Said::Holds));
            for pair in tried.windows(2) {
                let (mut low, mut high) = (pair[0], pair[1]);
                if !apart(said(low), said(high)) {
                    continue;
                }
                for _ in 0..60 {
                    let middle = f64::midpoint(low, high);
                    *(if said(middle) == said(low) { &mut low } else { &mut high }) = middle;
                }
                let level = verdict(&with(low), ask, load, subject).compared.iter().any(|compared| {
                    match (number(&compared.left.value), number(&compared.right.value)) {
                        (Some(left), Some(right)) => (left - right).abs() <= STEP * left.abs().max(right.abs()),
                        _ => false,
                    }
                });
                turned |= level && (high - low) <= STEP * high;
            }
        });
        turned
    })
}

#[test]
fn every_parameter_turns_the_verdict_just_beside_what_is_measured() {
    let mut stuck = Vec::new();
    let mut count = 0;
    for rule in conditions() {
        for (at, param) in rule.params.iter().enumerate() {
            count += 1;
            if !param_turns(rule, at) && !param_turns_within(rule, at) {
                stuck.push(format!("{}: {}", rule.id, param.name));
            }
        }
    }
    assert!(count > 10);
    assert!(stuck.is_empty(), "no example turns with\n{}", stuck.join("\n"));
}

/// A comparison in an example: of which subject, and which of the condition's.
#[derive(Clone, Copy)]
struct Place {
    subject: usize,
    comparison: usize,
}

/// What a comparison of two numbers shows.
struct Sides {
    op: Op,
    left: f64,
    right: f64,
    /// The entry that one side is, with what it is compared with.
    entry: Option<(Span, f64)>,
}

impl Sides {
    /// How far left is above right, as a part of the larger; of a bound at zero, in SI.
    fn gap(&self) -> f64 {
        let zero = self.left.abs().min(self.right.abs()) <= 0.0;
        let scale = if zero { 1.0 } else { self.left.abs().max(self.right.abs()).max(SMALL) };
        (self.left - self.right) / scale
    }
}

/// A comparison's sides, where it was made and is one of numbers.
fn sides(rule: &Rule, texts: &Texts, place: Place) -> Option<Sides> {
    let mut found = None;
    each_subject(rule, texts, &mut |at, ask, load, subject| {
        if at != place.subject {
            return;
        }
        let verdict = verdict(rule, ask, load, subject);
        let Some(compared) = verdict.compared.iter().find(|compared| compared.at == place.comparison) else { return };
        let (Some(left), Some(right)) = (number(&compared.left.value), number(&compared.right.value)) else { return };
        let entry = [(&compared.right, left), (&compared.left, right)].into_iter().find_map(|(side, other)| {
            let Slot::Figure(figure) = Slot::of(side.name?) else { return None };
            let reading = figures()[figure].of(load, subject).ok()?;
            Some((reading.at.filter(|_| reading.unit.is_some())?, other))
        });
        found = Some(Sides { op: compared.op, left, right, entry });
    });
    found
}

/// Every comparison of numbers in an example.
fn places(rule: &Rule, texts: &Texts) -> Vec<Place> {
    let mut all = Vec::new();
    each_subject(rule, texts, &mut |subject, ask, load, of| {
        let verdict = verdict(rule, ask, load, of);
        let numbers = verdict.compared.iter().filter(|compared| number(&compared.left.value).is_some());
        all.extend(numbers.map(|compared| Place { subject, comparison: compared.at }));
    });
    all
}

/// An entry's quantity in SI.
fn quantity(entry: &Entry) -> Option<f64> {
    let unit = unit(&entry.ty.as_ref()?.text)?;
    match entry.value {
        draylint::syntax::Value::Number { value, .. } if value.is_finite() => Some(value * unit.factor),
        _ => None,
    }
}

/// The example with an entry set to so much, in its own unit.
fn set(texts: &Texts, entry: &Entry, si: f64) -> Texts {
    let factor = unit(&entry.ty.as_ref().unwrap().text).unwrap().factor;
    texts.replaced(entry.value_span, &format!("{}", si / factor))
}

/// Moves an entry until the comparison stands at this gap: a search by secants, for figures are smooth in their entries.
fn solve(rule: &Rule, texts: &Texts, place: Place, entry: &Entry, wanted: f64) -> Option<Texts> {
    let start = quantity(entry)?;
    let (mut x0, mut x1) = (start, start * 1.01);
    let mut y0 = sides(rule, texts, place)?.gap() - wanted;
    for _ in 0..12 {
        let moved = set(texts, entry, x1);
        let y1 = sides(rule, &moved, place)?.gap() - wanted;
        if y1.abs() < STEP / 100.0 {
            return Some(moved);
        }
        if (y1 - y0).abs() < 1e-15 {
            return None;
        }
        (x0, x1, y0) = (x1, x1 - y1 * (x1 - x0) / (y1 - y0), y1);
    }
    None
}

/// Whether some entry, moved until the comparison stands just on either side of its bound, turns the verdict.
fn figure_turns(rule: &Rule, texts: &Texts, place: Place) -> bool {
    let Some(before) = sides(rule, texts, place) else { return false };
    // The sheet stands last, and its entries matter most.
    texts.entries().iter().rev().any(|entry| {
        let Some(si) = quantity(entry).filter(|si| si.abs() > 0.0) else { return false };
        // Most entries have nothing to do with it: a nudge tells.
        let nudged = sides(rule, &set(texts, entry, si * 1.01), place);
        if nudged.is_none_or(|nudged| (nudged.gap() - before.gap()).abs() < 1e-9) {
            return false;
        }
        let side = |gap: f64| said_of(rule, &solve(rule, texts, place, entry, gap)?, place.subject);
        // What cannot be below zero, as an overlap, stands at its bound there.
        matches!(
            (side(-STEP).or_else(|| side(0.0)), side(STEP)),
            (Some(Said::Holds), Some(Said::Fails)) | (Some(Said::Fails), Some(Said::Holds))
        )
    })
}

/// Whether an entry that is a bound turns the verdict around what it bounds, the bound itself included; none where the
/// bound is no entry.
fn entry_turns(rule: &Rule, texts: &Texts, place: Place) -> Option<bool> {
    let sides = sides(rule, texts, place)?;
    let (span, measured) = sides.entry?;
    let entry = texts.entries().into_iter().find(|entry| span.holds(entry.value_span) && quantity(entry).is_some())?;
    let said = around(measured).map(|si| said_of(rule, &set(texts, &entry, si), place.subject));
    Some(turns(said, sides.op, REQUIRED))
}

/// Whether a count that is written turns the verdict between one number and the next: of what is counted nothing lies closer.
fn count_turns(rule: &Rule, texts: &Texts, place: Place) -> bool {
    let Some(before) = sides(rule, texts, place) else { return false };
    texts.entries().iter().any(|entry| {
        let plain = entry.ty.is_none() && matches!(entry.value, draylint::syntax::Value::Number { .. });
        if !plain || quantity(entry).is_some() {
            return false;
        }
        let said: Vec<_> = (1..=12)
            .map(|count| {
                let moved = texts.replaced(entry.value_span, &count.to_string());
                let counted = sides(rule, &moved, place).is_some_and(|sides| (sides.left - before.left).abs() > 0.5);
                (counted, said_of(rule, &moved, place.subject))
            })
            .collect();
        let turned = |pair: &[(bool, Option<Said>)]| {
            matches!(
                (pair[0].1, pair[1].1),
                (Some(Said::Fails), Some(Said::Holds)) | (Some(Said::Holds), Some(Said::Fails))
            )
        };
        said.iter().any(|(counted, _)| *counted) && said.windows(2).any(turned)
    })
}

#[test]
fn every_comparison_turns_just_beside_its_bound() {
    let mut stuck = Vec::new();
    let mut count = 0;
    let mut entries = 0;
    for rule in conditions() {
        let examples: Vec<(&Texts, Vec<Place>)> =
            examples(rule).into_iter().map(|texts| (texts, places(rule, texts))).collect();
        let comparisons: BTreeSet<usize> =
            examples.iter().flat_map(|(_, places)| places).map(|place| place.comparison).collect();
        for comparison in comparisons {
            count += 1;
            let here = || examples.iter().flat_map(|(texts, places)| places.iter().map(move |place| (*texts, *place)));
            let here = || here().filter(|(_, place)| place.comparison == comparison);
            let counts = || here().any(|(texts, place)| count_turns(rule, texts, place));
            if !here().any(|(texts, place)| figure_turns(rule, texts, place)) && !counts() {
                stuck.push(format!("{}, comparison {comparison}: no entry turns it", rule.id));
            }
            let exact: Vec<bool> = here().filter_map(|(texts, place)| entry_turns(rule, texts, place)).collect();
            entries += usize::from(!exact.is_empty());
            if !exact.is_empty() && !exact.contains(&true) {
                stuck.push(format!("{}, comparison {comparison}: the entry that bounds it does not turn it", rule.id));
            }
        }
    }
    assert!(count > 30, "{count}");
    assert!(entries > 10, "{entries}");
    assert!(stuck.is_empty(), "\n{}", stuck.join("\n"));
}
