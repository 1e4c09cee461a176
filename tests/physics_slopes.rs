//! The slopes that quantities carry against differences of high order: five-point central differences (error of the
//! fourth power of the step; Abramowitz and Stegun 25.3.6, from memory), for every number of random rigs.

mod rig_samples;

use draylint::physics::{RigLoads, rig_loads};
use draylint::units::{Length, Mass, Quantity, Share};
use proptest::prelude::*;
use rig_samples::{Rig, figures, rig};

/// One number of a rig: how to read it, and how to set it.
type Number = (&'static str, fn(&mut Rig, Change));

/// What is done to a number.
#[derive(Clone, Copy)]
enum Change {
    Vary,
    Add(f64),
}

fn change<Q: Quantity>(number: &mut Q, change: Change) {
    *number = match change {
        Change::Vary => number.varied(0),
        Change::Add(step) => Q::from_si(number.si() + step),
    };
}

/// Every sort of number a rig rests on, its first of each.
const NUMBERS: [Number; 15] = [
    ("empty tongue", |rig, how| change(&mut rig.trailer.empty.tongue, how)),
    ("empty axles", |rig, how| change(&mut rig.trailer.empty.axles, how)),
    ("first axle", |rig, how| change(&mut rig.trailer.axles[0].station, how)),
    ("rate", |rig, how| {
        if let Some(rate) = &mut rig.trailer.axles[0].rate {
            change(rate, how);
        }
    }),
    ("level at", |rig, how| {
        if let draylint::physics::Suspension::Independent { level_at: Some(at), .. } = &mut rig.trailer.suspension {
            change(at, how);
        }
    }),
    ("held at", |rig, how| {
        if let draylint::physics::Suspension::Independent { held_at: Some(at), .. } = &mut rig.trailer.suspension {
            change(at, how);
        }
    }),
    ("load", |rig, how| {
        if let Some(load) = rig.on_trailer.first_mut() {
            change::<Mass>(&mut load.weight, how);
        }
    }),
    ("load's station", |rig, how| {
        if let Some(load) = rig.on_trailer.first_mut() {
            change::<Length>(&mut load.station, how);
        }
    }),
    ("front", |rig, how| change(&mut rig.truck.front, how)),
    ("rear", |rig, how| change(&mut rig.truck.rear, how)),
    ("wheelbase", |rig, how| change(&mut rig.truck.wheelbase, how)),
    ("overhang", |rig, how| change(&mut rig.truck.overhang, how)),
    ("truck load", |rig, how| {
        if let Some(load) = rig.on_truck.first_mut() {
            change(&mut load.weight, how);
        }
    }),
    ("truck load's place", |rig, how| {
        if let Some(load) = rig.on_truck.first_mut() {
            change(&mut load.ahead, how);
        }
    }),
    ("restored part", |rig, how| {
        if let draylint::physics::Distribution::Restores(part) = &mut rig.distribution {
            change::<Share>(part, how);
        }
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

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn slopes_are_the_derivatives(rig in rig()) {
        let plain = rig.loads();
        let whole = rig.weight();
        let mut compared = 0;
        for (name, set) in NUMBERS {
            let mut varied = rig.clone();
            set(&mut varied, Change::Vary);
            let exact = slopes(&varied.loads());
            let step = if name == "rate" { 100.0 } else { 1e-3 };
            let at = |times: f64| {
                let mut moved = rig.clone();
                set(&mut moved, Change::Add(times * step));
                // At the edge of what can stand (no part to restore, no overhang) a step may lead beyond it, or over a kink.
                let loads =
                    rig_loads(&moved.trailer, &moved.on_trailer, &moved.truck, &moved.on_truck, moved.distribution).ok()?;
                (state(&moved, &loads) == state(&rig, &plain)).then(|| figures(&loads))
            };
            let [Some(a), Some(b), Some(c), Some(d)] = [at(-2.0), at(-1.0), at(1.0), at(2.0)] else { continue };
            compared += 1;
            for (place, slope) in exact.iter().enumerate() {
                let difference = (a[place] - 8.0 * b[place] + 8.0 * c[place] - d[place]) / (12.0 * step);
                // Rounding of the figures, divided by the step, is what a difference cannot see below.
                let blind = 1e-13 * whole / step * 100.0;
                let tolerance = 1e-6 * slope.abs() + blind;
                prop_assert!(
                    (slope - difference).abs() <= tolerance,
                    "{name}, figure {place}: slope {slope}, difference {difference}"
                );
            }
        }
        prop_assert!(compared >= 10, "only {compared} numbers could be compared");
    }
}
