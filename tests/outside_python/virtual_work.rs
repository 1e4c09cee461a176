//! Fifty rigs against `SymPy`, a general computer-algebra package, which finds the same loads by virtual work in exact
//! rationals (`tests/python/virtual_work.py`).

use draylint::physics::{Distribution, Suspension};
use draylint::units::Quantity;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use serde_json::{Value, json};

use crate::python::ask;
use crate::rig_samples::{self, Rig, figures};

const RIGS: usize = 50;

fn si<Q: Quantity>(values: impl IntoIterator<Item = Option<Q>>) -> Option<Vec<f64>> {
    values.into_iter().map(|value| value.map(Quantity::si)).collect()
}

fn as_json(rig: &Rig) -> Value {
    let trailer = &rig.trailer;
    let (rates, lowered) = match trailer.suspension {
        Suspension::Independent { level_at: Some(level_at), held_at: Some(held_at) } => {
            (si(trailer.axles.iter().map(|axle| axle.rate)), level_at.si() - held_at.si())
        }
        _ => (None, 0.0),
    };
    let bars = match rig.distribution {
        Distribution::None => Value::Null,
        Distribution::Restores(part) => json!({ "restores": part.si() }),
        Distribution::Couple(couple) => json!({ "couple": couple.kg_m() }),
    };
    let on_trailer: Vec<_> = rig.on_trailer.iter().map(|load| (load.weight.si(), load.station.si())).collect();
    let on_truck: Vec<_> = rig.on_truck.iter().map(|load| (load.weight.si(), load.ahead.si())).collect();
    json!({
        "empty_tongue": trailer.empty.tongue.si(),
        "empty_axles": trailer.empty.axles.si(),
        "stations": trailer.axles.iter().map(|axle| axle.station.si()).collect::<Vec<_>>(),
        "rates": rates,
        "empties": si(trailer.axles.iter().map(|axle| axle.empty)),
        "lowered": lowered,
        "on_trailer": on_trailer,
        "front": rig.truck.front.si(),
        "rear": rig.truck.rear.si(),
        "wheelbase": rig.truck.wheelbase.si(),
        "overhang": rig.truck.overhang.si(),
        "on_truck": on_truck,
        "bars": bars,
    })
}

#[test]
fn fifty_rigs_by_virtual_work() {
    let mut runner = TestRunner::deterministic();
    let rigs: Vec<Rig> = (0..RIGS).map(|_| rig_samples::rig().new_tree(&mut runner).unwrap().current()).collect();
    let asked: Vec<Value> = rigs.iter().map(as_json).collect();
    let Some(answers) = ask::<_, Vec<Vec<f64>>>("virtual_work.py", &asked) else { return };
    assert_eq!(answers.len(), RIGS);
    for (rig, answer) in rigs.iter().zip(&answers) {
        let figures = figures(&rig.loads());
        assert_eq!(answer.len(), figures.len());
        for (at, (found, expected)) in figures.iter().zip(answer).enumerate() {
            let near = (found - expected).abs() < 1e-6 * rig.weight();
            assert!(near, "figure {at}: {found}, by virtual work {expected}\n{rig:#?}");
        }
    }
}
