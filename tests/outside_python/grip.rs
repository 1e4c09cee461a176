//! A hundred machines on slopes against `SymPy`, a general computer-algebra package, which finds the same shares and frictions
//! by virtual work (`tests/python/grip.py`).

use draylint::physics::{Acting, Facing, Stance, grip_needed};
use draylint::units::{Angle, Length};
use proptest::prelude::any;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use serde_json::{Value, json};

use crate::python::ask;

const MACHINES: usize = 100;

/// Wheelbase, part of it that the centre of gravity lies ahead of the rear axle, height, nose up, slope in degrees.
type Case = (f64, f64, f64, bool, f64);

fn stance((wheelbase, part, height, forward, _): Case) -> Stance {
    Stance {
        wheelbase: Length::new(wheelbase),
        ahead: Length::new(wheelbase * part),
        height: Length::new(height),
        facing: if forward { Facing::Forward } else { Facing::Backward },
    }
}

#[test]
fn a_hundred_machines_on_slopes_by_virtual_work() {
    let mut runner = TestRunner::deterministic();
    let cases = (0.5..4.0, 0.05..0.95, 0.1..2.0, any::<bool>(), 0.5..35.0);
    let cases: Vec<Case> = (0..MACHINES).map(|_| cases.new_tree(&mut runner).unwrap().current()).collect();
    let asked: Vec<Value> = cases
        .iter()
        .map(|case| {
            let (stance, forward, slope) = (stance(*case), case.3, case.4);
            json!({
                "wheelbase": stance.wheelbase.si(),
                "ahead": stance.ahead.si(),
                "height": stance.height.si(),
                "forward": forward,
                "slope": slope,
            })
        })
        .collect();
    let Some(answers) = ask::<_, Vec<Vec<f64>>>("grip.py", &asked) else { return };
    assert_eq!(answers.len(), MACHINES);
    let mut standing = 0;
    for (case, answer) in cases.iter().zip(&answers) {
        let (stance, slope) = (stance(*case), Angle::new(case.4));
        let [share, rear, front, both] = answer[..] else { panic!("{answer:?}") };
        assert!((stance.rear_share(slope).si() - share).abs() < 1e-12 * (1.0 + share.abs()), "{case:?}: {answer:?}");
        for (acting, expected) in [(Acting::Rear, rear), (Acting::Front, front), (Acting::All, both)] {
            let found = grip_needed(&stance, acting, slope).map(draylint::units::Share::si);
            // Where an axle would have to be pulled down it tips over.
            assert_eq!(found.is_some(), (0.0..=1.0).contains(&share), "{case:?}: {answer:?}");
            if let Some(found) = found {
                standing += 1;
                assert!((found - expected).abs() < 1e-10 * expected, "{acting:?} {case:?}: {found}, {expected}");
            }
        }
    }
    assert!(standing > MACHINES, "{standing}");
}
