//! Holding power of random tie-downs against scipy's linear programs (`tests/python/holding.py`).

use draylint::physics::{Footing, Held, HoldSpot, Pull, Toward};
use draylint::units::{Length, Mass, Share};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use serde::Serialize;
use std::collections::BTreeMap;

use crate::python::ask;

const CARGOES: usize = 200;

#[derive(Clone, Debug, Serialize)]
struct Case {
    weight: f64,
    cg: [f64; 3],
    friction: f64,
    footing: Vec<Foot>,
    pulls: Vec<Tie>,
    anchors: Vec<Option<f64>>,
}

#[derive(Clone, Debug, Serialize)]
struct Foot {
    at: [f64; 3],
    rolls: bool,
}

#[derive(Clone, Debug, Serialize)]
struct Tie {
    from: [f64; 3],
    to: [f64; 3],
    limit: f64,
    anchor: usize,
}

/// A cargo on four corners with up to twelve ties to eight anchors, some of which several share, some without a rating; all
/// ties on one side, no friction and no ties among them.
fn case() -> impl Strategy<Value = Case> {
    let size = (200.0..6000.0_f64, 0.4..2.5_f64, 0.3..1.1_f64, 0.2..1.4_f64);
    let shift = (-0.3..0.3_f64, -0.2..0.2_f64);
    let friction = prop_oneof![Just(0.0), 0.05..0.8_f64];
    let ties = vec((0..8_usize, -1.0..1.0_f64, -1.0..1.0_f64, 0.1..1.2_f64, 200.0..4000.0_f64), 0..=12);
    let anchors = vec(prop_oneof![Just(None), (300.0..4000.0_f64).prop_map(Some)], 8);
    (size, shift, friction, ties, anchors, any::<bool>()).prop_map(
        |((weight, long, wide, height), (ahead, left), friction, ties, anchors, rolls)| {
            let corners = [(1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)];
            let footing = corners.map(|(x, y)| Foot { at: [x * long, y * wide, 0.0], rolls: rolls && x > 0.0 });
            let anchor = |at: usize| {
                let (x, y) =
                    (f64::from(u8::try_from(at / 2).unwrap()) - 1.5, if at.is_multiple_of(2) { 1.0 } else { -1.0 });
                [x * 1.6, y * 1.2, 0.0]
            };
            let pulls = ties.into_iter().map(|(at, x, y, z, limit)| Tie {
                from: [x * long, y * wide, z],
                to: anchor(at),
                limit,
                anchor: at,
            });
            Case {
                weight,
                cg: [ahead * long, left * wide, height],
                friction,
                footing: footing.to_vec(),
                pulls: pulls.collect(),
                anchors,
            }
        },
    )
}

fn spot([ahead, left, height]: [f64; 3]) -> HoldSpot {
    HoldSpot { ahead: Length::new(ahead), left: Length::new(left), height: Length::new(height) }
}

fn held(case: &Case) -> Held {
    Held {
        weight: Mass::new(case.weight),
        cg: spot(case.cg),
        footing: case.footing.iter().map(|foot| Footing { at: spot(foot.at), rolls: foot.rolls }).collect(),
        friction: Share::new(case.friction),
        pulls: case
            .pulls
            .iter()
            .map(|tie| Pull {
                from: spot(tie.from),
                to: spot(tie.to),
                limit: Mass::new(tie.limit),
                anchor: Some(tie.anchor),
                over: false,
            })
            .collect(),
        presses: vec![],
        blocks: vec![],
        anchors: case.anchors.iter().map(|rating| rating.map(Mass::new)).collect(),
    }
}

#[test]
fn random_tie_downs_hold_what_another_solver_says() {
    let mut runner = TestRunner::deterministic();
    let cases: Vec<Case> = (0..CARGOES).map(|_| case().new_tree(&mut runner).unwrap().current()).collect();
    let Some(answers) = ask::<_, Vec<BTreeMap<String, Option<f64>>>>("holding.py", &cases) else { return };
    assert_eq!(answers.len(), CARGOES);
    let ways = [
        ("forward", Toward::Forward),
        ("rearward", Toward::Rearward),
        ("left", Toward::Left),
        ("right", Toward::Right),
        ("up", Toward::Up),
    ];
    let (mut compared, mut held_by_ties) = (0, 0);
    for (case, answer) in cases.iter().zip(&answers) {
        for (name, toward) in ways {
            let own = held(case).holds(toward).and_then(|holding| held(case).told(&holding)).map(Share::si).ok();
            let other = answer[name];
            let same = match (own, other) {
                (Some(own), Some(other)) => (own - other).abs() <= 1e-6 * other.abs().max(1.0),
                (own, other) => own.is_none() && other.is_none(),
            };
            assert!(same, "{name}: {own:?}, by scipy {other:?}\n{case:?}");
            compared += 1;
            held_by_ties += usize::from(other.is_some_and(|other| other > case.friction + 0.05));
        }
    }
    assert_eq!(compared, 5 * CARGOES);
    assert!(held_by_ties > CARGOES, "{held_by_ties} were held by their ties");
}
