//! The spreads of figures against the general-purpose package `uncertainties` (`tests/python/spreads.py`): random load
//! sheets go through the whole pipeline, from text to the JSON that `weigh` writes.

use std::collections::{BTreeMap, BTreeSet};

use serde::Deserialize;
use serde_json::json;

use crate::python::ask;
use crate::weighed::weighed;

const SHEETS: usize = 150;

/// How far the two may differ, as a part: values and slopes are the same expressions in another order, in double
/// precision. A difference of weights that nearly cancel keeps fewer digits, and of the sheets' weights (some tonnes) a
/// tongue of 20 kg is the least.
const PART: f64 = 1e-9;

#[derive(Deserialize)]
struct Job {
    text: String,
    /// Each figure with its half-width, in SI.
    figures: BTreeMap<String, (f64, f64)>,
}

#[test]
fn spreads_of_sheets_by_an_uncertainty_package() {
    let Some(jobs) = ask::<_, Vec<Job>>("spreads.py", &json!({ "seed": 20_261_125, "sheets": SHEETS })) else { return };
    assert_eq!(jobs.len(), SHEETS);
    let mut compared = 0;
    let mut names = BTreeSet::new();
    for job in &jobs {
        let (json, findings) = weighed(&job.text);
        assert!(findings.is_empty(), "{findings:?}\n{}", job.text);
        let figures = &json["loads"][0]["figures"];
        for (name, (value, half)) in &job.figures {
            let found = |key: &str| figures[name][key].as_f64().unwrap_or_else(|| panic!("{name} {key}\n{}", job.text));
            let near = |found: f64, wanted: f64, least: f64| (found - wanted).abs() <= PART * wanted.abs().max(least);
            assert!(near(found("value"), *value, 1.0), "{name}: {}, {value}\n{}", found("value"), job.text);
            // Of a figure that rests on nothing that can be off no spread is told.
            if *half > 0.0 {
                let spread = found("plus_minus");
                assert!(near(spread, *half, 0.0), "{name}: {spread}, by the package {half}\n{}", job.text);
                compared += 1;
                // All axles are one name.
                names.insert(name.split_once('[').map_or(name.clone(), |(head, rest)| {
                    format!("{head}[…]{}", rest.split_once(']').map_or("", |(_, tail)| tail))
                }));
            } else {
                assert!(figures[name]["plus_minus"].is_null(), "{name}\n{}", job.text);
            }
        }
    }
    assert!(compared > 10 * SHEETS, "{compared} spreads were compared");
    assert_eq!(names.len(), 15, "{names:?}");
}
