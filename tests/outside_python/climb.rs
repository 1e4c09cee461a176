//! Random machines up random ramps, from the text of a sheet to the figures, against a brute-force sweep with shapely and
//! numpy (`tests/python/climb.py`).

use std::collections::BTreeMap;

use serde::Deserialize;
use serde_json::json;

use crate::python::ask;
use crate::weighed::weighed;

const SHEETS: usize = 400;
const SEED: u32 = 20_261_128;

/// In metres. The sweep's own error is below 0.02 mm.
const GAP: f64 = 0.5e-3;
/// As a part of the machine's weight. The sweep's own error is below a tenth of it.
const FORCE: f64 = 1e-3;
/// In degrees.
const ANGLE: f64 = 1e-9;

#[derive(Deserialize)]
struct Job {
    text: String,
    /// The heaviest machine's.
    weight: f64,
    /// Whether the ramp is long enough for what it has to rise.
    possible: bool,
    /// Each figure in SI.
    loading: BTreeMap<String, f64>,
}

fn tolerance(name: &str, weight: f64) -> f64 {
    match name.rsplit_once('.').unwrap().1 {
        "clearance" => GAP,
        "ramp_angle" => ANGLE,
        // A ball behind the rear axle moves up to half as much again.
        "truck_rear_axle_least" => 1.5 * FORCE * weight,
        _ => FORCE * weight,
    }
}

#[test]
fn four_hundred_climbs_by_brute_force() {
    let Some(jobs) = ask::<_, Vec<Job>>("climb.py", &json!({ "seed": SEED, "sheets": SHEETS })) else { return };
    assert_eq!(jobs.len(), SHEETS);
    let mut apart = Vec::new();
    let (mut compared, mut impossible, mut touches) = (0, 0, 0);
    for (at, job) in jobs.iter().enumerate() {
        let (json, findings) = weighed(&job.text);
        let figures = &json["loads"][0]["figures"];
        if !job.possible {
            impossible += 1;
            // A lack: the figure stands there without a value.
            for (name, figure) in figures.as_object().into_iter().flatten() {
                let told = name.starts_with("loading[") && !figure["value"].is_null();
                if told && ["clearance", "ramp_angle", "tongue_least"].iter().any(|end| name.ends_with(end)) {
                    apart.push(format!("{at}: {name} is {figure}, but the ramp is too short\n{}", job.text));
                }
            }
            continue;
        }
        assert!(findings.is_empty(), "{findings:?}\n{}", job.text);
        for (name, wanted) in &job.loading {
            let Some(found) = figures[name]["value"].as_f64() else {
                apart.push(format!("{at}: {name} is not told; by brute force {wanted}\n{}", job.text));
                continue;
            };
            compared += 1;
            touches += usize::from(name.ends_with(".clearance") && *wanted < 0.0);
            if (found - wanted).abs() > tolerance(name, job.weight) {
                apart.push(format!("{at}: {name} is {found}, by brute force {wanted}\n{}", job.text));
            }
        }
    }
    assert!(apart.is_empty(), "{} of {compared} differ\n{}", apart.len(), apart.join("\n"));
    assert!(compared > 6 * SHEETS, "{compared} figures were compared");
    assert!(impossible > SHEETS / 20, "{impossible} ramps were too short");
    assert!(touches > SHEETS / 5 && touches < SHEETS, "{touches} machines touch");
}
