//! Every load figure of random rigs, written as sheets in mixed units and read through the whole pipeline, against a
//! linear system built from the numbers that were written.

use std::collections::BTreeMap;

use draylint::check::{Options, judge};
use draylint::finding::{Finding, LoadFigures};
use draylint::lower::{link, lower_file};
use draylint::rules::RuleSet;
use draylint::syntax::{parse, with_stack};
use draylint::text::FileId;
use proptest::prelude::*;

use crate::oracle::{System, second_formulation, spring_rows};
use crate::rig_samples::Rig;
use crate::sheets::{Job, job};

/// Figures whose values rest on entries that these sheets do not give: widths and heights on the deck, ratings. What the bridge
/// formula allows is held against its table in `tests/bridge_table.rs`.
const NOT_HERE: [&str; 5] =
    ["load.width", "load.height", "hitch.chain_rating", "combination.rated", "combination.bridge_used"];

/// The figures of a job's one load, and what reading it found.
fn read(text: &str) -> (LoadFigures, Vec<Finding>) {
    let (yard, mut findings) = with_stack(|| {
        let parsed = parse(FileId(0), text);
        assert!(parsed.findings.is_empty(), "{:?}\n{text}", parsed.findings);
        link(vec![lower_file(&parsed.document.unwrap(), false)], Vec::new())
    });
    let which = yard.loads().next().expect("a load");
    let options = Options { units: None, today: "2000-01-01".into(), weigh: true, mend: false };
    let judged = judge(&yard, &RuleSet::builtin(), which, &options).unwrap();
    findings.retain(|finding| finding.rule != "never-used");
    (judged.figures, findings)
}

/// The wheels of each side, left and right of each axle, from the rolling moment of all that stands off the middle.
fn sides(job: &Job, axles: &[f64]) -> Vec<(f64, f64)> {
    let rig = &job.rig;
    let roll: f64 = rig.on_trailer.iter().map(|load| load.weight.si() * load.left.si()).sum();
    let tracks: Vec<f64> = rig.trailer.axles.iter().map(|axle| axle.track.unwrap().si()).collect();
    // How strongly each axle answers: by its springs, or like every other. One whose wheels hang free answers not at all;
    // the solved system leaves a rounding of it.
    let stands = |load: f64| load > 1e-9 * rig.weight();
    let answers: Vec<f64> = match spring_rows(&rig.trailer).filter(|_| axles.len() > 1) {
        Some(rows) => {
            (0..axles.len()).map(|at| if stands(axles[at]) { rows[at].1 * tracks[at] } else { 0.0 }).collect()
        }
        None => vec![1.0; axles.len()],
    };
    let all: f64 = answers.iter().zip(&tracks).map(|(answer, track)| answer * track).sum();
    axles
        .iter()
        .zip(&answers)
        .map(|(load, answer)| (load / 2.0 + roll * answer / all, load / 2.0 - roll * answer / all))
        .collect()
}

/// Every figure that the linear system gives, by its name in results.
fn expected(job: &Job) -> BTreeMap<String, f64> {
    let rig = &job.rig;
    let n = rig.trailer.axles.len();
    let solved = second_formulation(rig, 3.7);
    let on_trailer: f64 = rig.on_trailer.iter().map(|load| load.weight.si()).sum();
    let gross = rig.trailer.empty.tongue.si() + rig.trailer.empty.axles.si() + on_trailer;
    let (ball, front, rear) = (solved[System::BALL], solved[n + 2], solved[n + 3]);
    let axles: Vec<f64> = (0..n).map(|at| solved[System::axle(at)]).collect();
    // The static tongue is the ball's load with the bars loose.
    let loose = Rig { distribution: draylint::physics::Distribution::None, ..rig.clone() };
    let tongue = second_formulation(&loose, -1.3)[System::BALL];
    let truck = &rig.truck;
    let carried: f64 = rig.on_truck.iter().map(|load| load.weight.si() * load.ahead.si()).sum();
    let alone = truck.front.si() + carried / truck.wheelbase.si();
    let sides = sides(job, &axles);
    let heavier = |pick: fn(&(f64, f64)) -> f64| sides.iter().map(pick).sum::<f64>();
    let (left, right) = (heavier(|side| side.0), heavier(|side| side.1));
    let mut all: BTreeMap<String, f64> = [
        ("trailer.tongue", tongue),
        ("trailer.tongue_share", tongue / gross),
        ("trailer.gross", gross),
        ("trailer.axles.load", axles.iter().sum()),
        ("trailer.axle_ratio", axles.iter().sum::<f64>() / (front + rear)),
        ("trailer.heavier_side_share", left.max(right) / (left + right)),
        ("truck.ball_load", ball),
        ("truck.gross", front + rear),
        ("truck.front_share", front / (front + rear)),
        ("truck.front_kept", front / alone),
        ("combination.gross", rig.weight()),
        ("truck.axle[front].load", front),
        ("truck.axle[rear].load", rear),
        ("truck.axle[front].tire_load", front / 2.0),
        ("truck.axle[rear].tire_load", rear / 4.0),
        ("truck.axle[front].wheel.load", front / 2.0),
        ("truck.axle[rear].wheel.load", rear / 2.0),
    ]
    .map(|(name, value)| (name.to_owned(), value))
    .into();
    for (at, (load, side)) in axles.iter().zip(&sides).enumerate() {
        let name = format!("trailer.axle[{}]", at + 1);
        all.insert(format!("{name}.load"), *load);
        all.insert(format!("{name}.wheel.load"), side.0.max(side.1));
        all.insert(format!("{name}.tire_load"), side.0.max(side.1) / f64::from(job.tires_a_side));
    }
    for item in &job.items {
        let name = format!("item[{}]", item.name);
        all.insert(format!("{name}.weight"), item.weight);
        all.insert(format!("{name}.cg"), item.cg);
        all.insert(format!("{name}.front_gap"), item.front_gap);
        all.insert(format!("{name}.rear_gap"), item.rear_gap);
    }
    all
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn figures_of_sheets_agree_with_a_linear_system(job in job()) {
        let (figures, findings) = read(&job.text);
        prop_assert!(findings.is_empty(), "{findings:?}\n{}", job.text);
        let lines = figures.figures.unwrap_or_default();
        let found: BTreeMap<&str, f64> =
            lines.iter().filter_map(|line| Some((&*line.name, line.value?))).collect();
        let everything = job.rig.weight();
        let expected = expected(&job);
        for (name, value) in &expected {
            let Some(figure) = found.get(&**name) else {
                return Err(TestCaseError::fail(format!("no {name}\n{}", job.text)));
            };
            // Of what nearly cancels out only so much can be asked as the parts allow.
            let is_weight = ["load", "tongue"].iter().any(|word| name.ends_with(word));
            let parts = if is_weight { everything } else { 1.0 };
            let far = (figure - value).abs();
            prop_assert!(
                far <= 1e-6 * value.abs() + 1e-10 * parts,
                "{name} is {figure}, by the linear system {value}\n{}", job.text
            );
        }
        for line in &lines {
            // A machine's way up, an item's ties and a heap are held against other things, by tests of their own.
            let other = ["loading[", "tie[", "bulk"].iter().any(|head| line.name.starts_with(head));
            let known = other || expected.contains_key(&line.name) || NOT_HERE.contains(&&*line.name);
            prop_assert!(known, "{} is not checked here", line.name);
        }
    }
}
