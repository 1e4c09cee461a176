//! Fifty rigs against `SymPy`, a general computer-algebra package, which finds the same loads by virtual work in exact
//! rationals (`tests/python/virtual_work.py`).
//!
//! The test makes a virtual environment of its own under `target/` with pinned packages. Where that cannot be made (no
//! Python, no network) it says so and passes, except under `CI`, where it fails.

mod rig_samples;

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use draylint::physics::{Distribution, Suspension};
use draylint::units::Quantity;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use rig_samples::{Rig, figures};
use serde_json::{Value, json};

const PACKAGES: [&str; 2] = ["sympy==1.14.0", "mpmath==1.3.0"];
const RIGS: usize = 50;

fn succeeds(command: &mut Command) -> Result<(), String> {
    let output = command.output().map_err(|error| format!("{command:?}: {error}"))?;
    if output.status.success() {
        return Ok(());
    }
    Err(format!("{command:?}: {}", String::from_utf8_lossy(&output.stderr)))
}

/// The interpreter of the environment, which is made on first use; a stamp says that it was finished.
fn environment() -> Result<PathBuf, String> {
    let home = Path::new(env!("CARGO_TARGET_TMPDIR")).join("python");
    let python = home.join(if cfg!(windows) { "Scripts/python.exe" } else { "bin/python" });
    let stamp = home.join("packages");
    if fs::read_to_string(&stamp).is_ok_and(|made| made == PACKAGES.join("\n")) {
        return Ok(python);
    }
    succeeds(Command::new("python3").args(["-m", "venv", "--clear"]).arg(&home))?;
    let pip = ["-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--no-deps"];
    succeeds(Command::new(&python).args(pip).args(PACKAGES))?;
    fs::write(&stamp, PACKAGES.join("\n")).map_err(|error| error.to_string())?;
    Ok(python)
}

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

fn ask(python: &Path, rigs: &[Value]) -> Vec<Vec<f64>> {
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/python/virtual_work.py");
    let mut child = Command::new(python)
        .arg(script)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the environment's Python starts");
    let mut input = child.stdin.take().unwrap();
    input.write_all(serde_json::to_string(rigs).unwrap().as_bytes()).unwrap();
    drop(input);
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).unwrap()
}

#[test]
#[expect(clippy::print_stderr, reason = "says that the environment could not be made")]
fn fifty_rigs_by_virtual_work() {
    let python = match environment() {
        Ok(python) => python,
        Err(why) => {
            assert!(std::env::var_os("CI").is_none(), "no Python environment: {why}");
            eprintln!("skipped: no Python environment: {why}");
            return;
        }
    };
    let mut runner = TestRunner::deterministic();
    let rigs: Vec<Rig> = (0..RIGS).map(|_| rig_samples::rig().new_tree(&mut runner).unwrap().current()).collect();
    let answers = ask(&python, &rigs.iter().map(as_json).collect::<Vec<_>>());
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
