//! Random sets of readings against numpy's least squares (`tests/python/least_squares.py`).

use draylint::physics::explain;
use draylint::units::Mass;
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use serde::{Deserialize, Serialize};

use crate::python::ask;

const PROBLEMS: usize = 200;

#[derive(Clone, Debug, Serialize)]
struct Problem {
    apart: Vec<f64>,
    cause: Vec<f64>,
    others: Vec<Vec<f64>>,
}

#[derive(Deserialize)]
struct Answer {
    off: f64,
    spread: f64,
    misfit: f64,
}

/// One to twelve readings. Every gauge can be off by itself, and a dozen entries move several readings together.
fn problem() -> impl Strategy<Value = Problem> {
    (1..=12_usize).prop_flat_map(|count| {
        let row = || vec(-60.0..60.0_f64, count);
        (vec(-400.0..400.0_f64, count), row(), vec(row(), 0..12), vec(3.0..80.0_f64, count)).prop_map(
            |(apart, cause, mut others, own)| {
                for (at, half) in own.into_iter().enumerate() {
                    others.push((0..apart.len()).map(|other| if other == at { half } else { 0.0 }).collect());
                }
                Problem { apart, cause, others }
            },
        )
    })
}

#[test]
fn two_hundred_sets_of_readings_by_another_least_squares() {
    let mut runner = TestRunner::deterministic();
    let problems: Vec<Problem> = (0..PROBLEMS).map(|_| problem().new_tree(&mut runner).unwrap().current()).collect();
    let Some(answers) = ask::<_, Vec<Answer>>("least_squares.py", &problems) else { return };
    assert_eq!(answers.len(), PROBLEMS);
    let mass = |values: &[f64]| values.iter().copied().map(Mass::new).collect::<Vec<_>>();
    let mut several = 0;
    for (problem, answer) in problems.iter().zip(&answers) {
        let others: Vec<Vec<Mass>> = problem.others.iter().map(|other| mass(other)).collect();
        let found = explain(&mass(&problem.apart), &mass(&problem.cause), &others).unwrap();
        several += usize::from(problem.apart.len() > 2);
        // Covariances here have condition numbers below about 1e4, so that twelve digits remain; the misfit is a difference
        // of squares of about so many hundreds of kg in units of the spreads.
        let near = |a: f64, b: f64, scale: f64| (a - b).abs() <= 1e-9 * scale;
        let size: f64 = problem.apart.iter().map(|apart| apart * apart / 9.0).sum();
        assert!(
            near(found.off.si(), answer.off, answer.off.abs().max(answer.spread)),
            "{problem:?}: {found:?}, {}",
            answer.off
        );
        assert!(near(found.spread.si(), answer.spread, answer.spread), "{problem:?}: {found:?}, {}", answer.spread);
        assert!(near(found.misfit.si(), answer.misfit, size), "{problem:?}: {found:?}, {}", answer.misfit);
    }
    assert!(several > PROBLEMS / 2);
}
