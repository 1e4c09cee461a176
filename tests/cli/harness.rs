//! Yards on a disk of their own, and the program run on them.

use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use tempfile::TempDir;

/// A pickup, a flat deck, a loader: enough that a plain sheet passes every rule. All of it is made up.
pub(crate) const FLEET: &str = r#"
truck "pickup" {
    axle "front" weighed=(lb)4300 rating=(lb)5600 track-width=(in)69 {
        tires count=2 rating=(lb)3640 pressure=(psi)80 max-pressure=(psi)80 speed="R" kind="LT"
    }
    axle "rear" weighed=(lb)3200 rating=(lb)9900 track-width=(in)75 {
        tires count=4 rating=(lb)3000 dual=#true pressure=(psi)80 max-pressure=(psi)80 speed="R" kind="LT"
    }
    wheelbase (in)170
    gvwr (lb)14000
    gcwr (lb)23000
    hitch "ball" behind-rear-axle=(in)55 height=(in)20 {
        rating tongue=(lb)1800 trailer=(lb)18000
        ball size=(in)2.3125 rating=(lb)18000
        brake-controller #true
    }
}
trailer "flat" {
    empty tongue=(lb)450 axles=(lb)3000
    gvwr (lb)14000
    coupler "ball" size=(in)2.3125 rating=(lb)18000 tongue=(lb)2200 height=(in)20
    axle at=(in)190 rating=(lb)7000 track-width=(in)88 {
        tires count=2 rating=(lb)3750 pressure=(psi)110 max-pressure=(psi)110 speed=(mph)75 kind="ST"
        brakes "electric"
    }
    axle at=(in)224 rating=(lb)7000 track-width=(in)88 {
        tires count=2 rating=(lb)3750 pressure=(psi)110 max-pressure=(psi)110 speed=(mph)75 kind="ST"
        brakes "electric"
    }
    suspension "equalized"
    safety-chains count=2 breaking=(lb)16000
    breakaway #true
    deck from=(in)60 length=(ft)20 width=(in)82 height=(in)25 surface="wood"
    width (in)102
    length (in)304
}
"#;

/// A sheet on that fleet with one pallet of 6,000 lb, 48 in long. With the axles' middle at 207 in and the deck from 60 in,
/// a gap of g leaves 450 + 6,000 x (123 - g) / 207 lb of 9,450 lb on the hitch.
pub(crate) fn sheet(name: &str, gap: u32) -> String {
    format!(
        "sheet \"{name}\" {{\n    truck \"pickup\"\n    trailer \"flat\"\n    conditions speed=(mph)55\n    cargo \"pallet\" \
         weight=(lb)6000 length=(in)48 width=(in)44 height=(in)40 front-gap=(in){gap}\n}}\n"
    )
}

/// A gap at which nothing is at fault: 12.4 % on the hitch.
pub(crate) const GOOD: u32 = 98;
/// A gap at which too little rides on the hitch, 8.1 %: an error.
pub(crate) const LIGHT: u32 = 112;
/// A gap at which too much rides on the hitch, 16.1 %: a warning.
pub(crate) const HEAVY: u32 = 86;

/// A folder that is gone when the test is over.
pub(crate) struct Yard {
    folder: TempDir,
}

impl Yard {
    /// An empty folder.
    pub(crate) fn empty() -> Self {
        Self { folder: tempfile::tempdir().expect("a folder for the test") }
    }

    /// A yard with its settings and the fleet.
    pub(crate) fn new() -> Self {
        Self::empty().file("yard.kdl", "yard \"Test Yard\" { follow \"none\"; }\n").file("fleet.kdl", FLEET)
    }

    pub(crate) fn file(self, name: &str, text: impl AsRef<[u8]>) -> Self {
        self.put(name, text);
        self
    }

    pub(crate) fn put(&self, name: impl AsRef<Path>, text: impl AsRef<[u8]>) {
        let path = self.path(name);
        std::fs::create_dir_all(path.parent().expect("a file stands in a folder")).expect("a folder");
        let mut file = std::fs::File::create(path).expect("a file");
        file.write_all(text.as_ref()).expect("written");
    }

    pub(crate) fn folder(self, name: &str) -> Self {
        std::fs::create_dir_all(self.path(name)).expect("a folder");
        self
    }

    pub(crate) fn path(&self, name: impl AsRef<Path>) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Runs the program in this folder.
    pub(crate) fn run(&self, arguments: &[&str]) -> Ran {
        run_in(self.folder.path(), arguments)
    }

    /// `check --format json` with these further arguments.
    pub(crate) fn json(&self, arguments: &[&str]) -> serde_json::Value {
        self.run(&[&["check", "--format", "json"], arguments].concat()).json()
    }

    /// The ids of the rules found, in order, with these arguments after `check`.
    pub(crate) fn rules(&self, arguments: &[&str]) -> Vec<String> {
        rules(&self.json(arguments))
    }
}

/// The ids of the rules in a JSON result, in order.
pub(crate) fn rules(json: &serde_json::Value) -> Vec<String> {
    let findings = json["findings"].as_array().expect("findings");
    findings.iter().map(|finding| finding["rule"].as_str().expect("a rule").to_owned()).collect()
}

/// The first finding of a rule in a JSON result.
pub(crate) fn finding<'j>(json: &'j serde_json::Value, rule: &str) -> &'j serde_json::Value {
    let findings = json["findings"].as_array().expect("findings");
    let found = findings.iter().find(|finding| finding["rule"] == rule);
    found.unwrap_or_else(|| panic!("no {rule} in {json:#}"))
}

/// What a run left.
#[derive(Debug)]
pub(crate) struct Ran {
    pub(crate) status: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Ran {
    pub(crate) fn json(&self) -> serde_json::Value {
        serde_json::from_str(&self.out).unwrap_or_else(|why| panic!("{why} in {self:?}"))
    }

    #[track_caller]
    pub(crate) fn status(&self, wanted: i32) -> &Self {
        assert_eq!(self.status, wanted, "{}\n{}", self.out, self.err);
        self
    }
}

impl From<Output> for Ran {
    fn from(output: Output) -> Self {
        let text = |bytes| String::from_utf8(bytes).expect("UTF-8 out");
        Self { status: output.status.code().expect("no signal"), out: text(output.stdout), err: text(output.stderr) }
    }
}

/// The program, with nothing of the tester's environment.
pub(crate) fn program(folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_draylint"));
    command.current_dir(folder).env_clear().env("LANG", "C.UTF-8");
    command
}

pub(crate) fn run_in(folder: &Path, arguments: &[&str]) -> Ran {
    program(folder).args(arguments).output().expect("the program starts").into()
}
