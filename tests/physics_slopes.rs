//! The slopes that quantities carry against differences of high order: five-point central differences (error of the
//! fourth power of the step; Abramowitz and Stegun 25.3.6, from memory), for every number of random rigs.

mod rig_samples;
mod varied;

use std::cell::RefCell;
use std::collections::BTreeMap;

use draylint::physics::{Distribution, RigLoads, Suspension, rig_loads};
use draylint::units::{Length, Mass, Share};
use proptest::prelude::*;
use proptest::test_runner::TestRunner;
use rig_samples::{Rig, figures, rig};
use varied::{Change, change, change_some};

/// One number of a rig: its name, and how to change it where this rig has it, which is told.
type Number = (&'static str, fn(&mut Rig, Change) -> bool);

/// Every sort of number a rig rests on, its first of each.
const NUMBERS: [Number; 15] = [
    ("empty tongue", |rig, how| change(&mut rig.trailer.empty.tongue, how)),
    ("empty axles", |rig, how| change(&mut rig.trailer.empty.axles, how)),
    ("first axle", |rig, how| change(&mut rig.trailer.axles[0].station, how)),
    ("rate", |rig, how| change_some(rig.trailer.axles[0].rate.as_mut(), how)),
    ("level at", |rig, how| match &mut rig.trailer.suspension {
        Suspension::Independent { level_at, .. } => change_some(level_at.as_mut(), how),
        Suspension::Equalized => false,
    }),
    ("held at", |rig, how| match &mut rig.trailer.suspension {
        Suspension::Independent { held_at, .. } => change_some(held_at.as_mut(), how),
        Suspension::Equalized => false,
    }),
    ("load", |rig, how| change_some::<Mass>(rig.on_trailer.first_mut().map(|load| &mut load.weight), how)),
    ("load's station", |rig, how| change_some::<Length>(rig.on_trailer.first_mut().map(|load| &mut load.station), how)),
    ("front", |rig, how| change(&mut rig.truck.front, how)),
    ("rear", |rig, how| change(&mut rig.truck.rear, how)),
    ("wheelbase", |rig, how| change(&mut rig.truck.wheelbase, how)),
    ("overhang", |rig, how| change(&mut rig.truck.overhang, how)),
    ("truck load", |rig, how| change_some(rig.on_truck.first_mut().map(|load| &mut load.weight), how)),
    ("truck load's place", |rig, how| change_some(rig.on_truck.first_mut().map(|load| &mut load.ahead), how)),
    ("restored part", |rig, how| match &mut rig.distribution {
        Distribution::Restores(part) => change::<Share>(part, how),
        Distribution::None | Distribution::Couple(_) => false,
    }),
];

fn slopes(loads: &RigLoads) -> Vec<f64> {
    let mut all: Vec<f64> = loads.trailer.axles.iter().map(|load| load.dual().slopes()[0]).collect();
    all.extend([
        loads.truck.front.dual().slopes()[0],
        loads.truck.rear.dual().slopes()[0],
        loads.couple.dual().slopes()[0],
    ]);
    all
}

/// Which wheels bear, and whether there is a tongue for the bars to share out: where that changes between the steps there
/// is a kink, and no difference is a derivative.
fn state(rig: &Rig, loads: &RigLoads) -> (Vec<usize>, Vec<usize>, bool) {
    let still = rig.trailer.loads(&rig.on_trailer).expect("a rig that stands");
    (loads.trailer.lifted().collect(), still.lifted().collect(), loads.tongue > Mass::ZERO)
}

/// Compares a number's slopes; says for how many figures its slope stands out from what a difference cannot see. None
/// where this rig has no such number, or a step from it leads over a kink.
fn compared((name, set): Number, rig: &Rig) -> Result<Option<usize>, TestCaseError> {
    let plain = rig.loads();
    let mut varied = rig.clone();
    if !set(&mut varied, Change::Vary) {
        return Ok(None);
    }
    let exact = slopes(&varied.loads());
    let step = if name == "rate" { 100.0 } else { 1e-3 };
    let at = |times: f64| {
        let mut moved = rig.clone();
        set(&mut moved, Change::Add(times * step));
        // At the edge of what can stand (no part to restore, no overhang) a step may lead beyond it, or over a kink.
        let loads =
            rig_loads(&moved.trailer, &moved.on_trailer, &moved.truck, &moved.on_truck, moved.distribution).ok()?;
        (state(&moved, &loads) == state(rig, &plain)).then(|| figures(&loads))
    };
    let [Some(a), Some(b), Some(c), Some(d)] = [at(-2.0), at(-1.0), at(1.0), at(2.0)] else { return Ok(None) };
    let mut stand_out = 0;
    for (place, slope) in exact.iter().enumerate() {
        let difference = (a[place] - 8.0 * b[place] + 8.0 * c[place] - d[place]) / (12.0 * step);
        // Rounding of the figures, divided by the step, is what a difference cannot see below.
        let blind = 1e-13 * rig.weight() / step * 100.0;
        let tolerance = 1e-6 * slope.abs() + blind;
        prop_assert!(
            (slope - difference).abs() <= tolerance,
            "{name}, figure {place}: slope {slope}, difference {difference}"
        );
        stand_out += usize::from(difference.abs() > 1000.0 * tolerance);
    }
    Ok(Some(stand_out))
}

#[test]
fn slopes_are_the_derivatives() {
    // For each number in how many rigs some figure had a slope that stands out.
    let told = RefCell::new(BTreeMap::from(NUMBERS.map(|(name, _)| (name, 0_usize))));
    let mut runner = TestRunner::new(ProptestConfig::with_cases(300));
    let run = runner.run(&rig(), |rig| {
        for number in NUMBERS {
            if compared(number, &rig)?.is_some_and(|stand_out| stand_out > 0) {
                *told.borrow_mut().get_mut(number.0).unwrap() += 1;
            }
        }
        Ok(())
    });
    run.unwrap();
    let told = told.into_inner();
    assert!(told.values().all(|rigs| *rigs >= 10), "numbers with a slope that is not zero, in so many rigs: {told:?}");
}
