//! Exit status: 0 nothing at or above the gate, 1 something, 2 the run itself failed.

use std::process::Stdio;

use crate::harness::{FLEET, GOOD, HEAVY, LIGHT, Yard, program, sheet};

#[test]
fn gates_and_levels() {
    for (gap, level) in [(GOOD, 0), (HEAVY, 2), (LIGHT, 3)] {
        let yard = Yard::new().file("a.kdl", sheet("a", gap));
        for (gate, at) in [("note", 1), ("warning", 2), ("error", 3)] {
            let ran = yard.run(&["check", "--gate", gate]);
            ran.status(i32::from(level >= at));
        }
        yard.run(&["check"]).status(i32::from(level == 3));
    }
}

#[test]
fn a_clean_run_is_short() {
    let yard = Yard::new().file("a.kdl", sheet("a", GOOD));
    let ran = yard.run(&["check"]);
    ran.status(0);
    assert_eq!(ran.out.lines().next(), Some("3 files, 1 load: nothing to mend"));
    assert_eq!(ran.out.matches("This checks the sheet, not the truck").count(), 1);
}

#[test]
fn a_note_passes_the_warning_gate() {
    let yard =
        Yard::new().file("a.kdl", sheet("a", GOOD)).file("gear.kdl", "tiedown \"spare\" kind=\"chain\" wll=(lb)4700\n");
    assert_eq!(yard.rules(&[]), ["never-used"]);
    yard.run(&["check", "--gate", "warning"]).status(0);
    yard.run(&["check", "--gate", "note"]).status(1);
}

#[test]
fn no_such_path() {
    let ran = Yard::new().run(&["check", "sheets/gone.kdl"]);
    ran.status(2);
    assert_eq!(ran.out, "");
    assert_eq!(ran.err, "draylint: there is no file or folder sheets/gone.kdl\n");
}

#[test]
fn bad_options() {
    let yard = Yard::new().file("a.kdl", sheet("a", GOOD));
    for arguments in [
        &["check", "--gate", "fatal"][..],
        &["check", "--format", "yaml"],
        &["check", "--today", "2026-02-30"],
        &["check", "--today", "26-2-3"],
        &["check", "--jobs", "0"],
        &["check", "--jobs", "many"],
        &["check", "--units", "imperial"],
        &["check", "--color", "red"],
        &["check", "--unheard-of"],
        &["chek"],
        &[],
    ] {
        let ran = yard.run(arguments);
        ran.status(2);
        assert_eq!(ran.out, "", "{arguments:?}");
        assert!(!ran.err.is_empty(), "{arguments:?}");
    }
    yard.run(&["--help"]).status(0);
    yard.run(&["check", "--help"]).status(0);
    yard.run(&["--version"]).status(0);
}

#[test]
fn a_named_path_that_holds_nothing_of_ours() {
    let yard = Yard::new()
        .file("a.kdl", sheet("a", LIGHT))
        .file("other/list.kdl", "shopping \"rags\"\n")
        .file("README.md", "# Not { a sheet\n");
    for path in ["other", "other/list.kdl", "README.md"] {
        let ran = yard.run(&["check", path]);
        ran.status(2);
        assert_eq!(ran.err, format!("draylint: {path} holds no load sheet and no definition\n"));
    }
    let alone = Yard::empty().file("README.md", "# Not { a sheet\n");
    alone.run(&["check", "README.md"]).status(2);
    // As part of a whole it is left alone, with a note.
    assert_eq!(yard.rules(&[]), ["tongue-light", "not-ours"]);
}

#[test]
fn an_empty_folder() {
    for yard in [Yard::empty(), Yard::empty().file("README.md", "nothing here")] {
        let ran = yard.run(&["check"]);
        ran.status(0);
        assert!(ran.out.starts_with("no sheets here: nothing was checked\n"), "{}", ran.out);
    }
    let yard = Yard::new().file("a.kdl", sheet("a", LIGHT)).folder("sheets");
    let ran = yard.run(&["check", "sheets"]);
    ran.status(0);
    assert!(ran.out.starts_with("no sheets here: nothing was checked\n"), "{}", ran.out);
}

#[test]
fn a_broken_sheet_hides_no_other() {
    let broken = format!("{}}}\n", sheet("broken", GOOD));
    let yard = Yard::new().file("a.kdl", broken).file("b.kdl", sheet("b", LIGHT));
    let ran = yard.run(&["check"]);
    ran.status(1);
    assert!(ran.out.contains("not-kdl at a.kdl"), "{}", ran.out);
    assert!(ran.out.contains("tongue-light at b.kdl"), "{}", ran.out);
}

#[test]
fn one_broken_node_costs_that_node_only() {
    let text =
        format!("{}truck \"spare\" {{\n  wheelbase (in)\"\n}}\n\n{}", sheet("first", LIGHT), sheet("last", LIGHT));
    let found = Yard::new().file("a.kdl", text).json(&[]);
    let sheets: Vec<&str> = found["findings"]
        .as_array()
        .expect("findings")
        .iter()
        .filter(|finding| finding["rule"] == "tongue-light")
        .filter_map(|finding| finding["sheet"].as_str())
        .collect();
    assert_eq!(sheets[0], "first", "{found:#}");
    assert!(found["findings"].as_array().expect("findings").iter().any(|finding| finding["rule"] == "not-kdl"));

    // A slip inside a sheet costs the entry, and what can be judged without it is judged.
    let slip = FLEET.replace("gvwr (lb)14000\n    coupler", "gvwr 14000\n    coupler");
    let yard = Yard::empty()
        .file("yard.kdl", "yard \"y\" { follow \"none\"; }")
        .file("fleet.kdl", slip)
        .file("a.kdl", sheet("a", LIGHT));
    let found = yard.rules(&[]);
    assert_eq!(found, ["tongue-light", "unit-missing"]);
}

#[test]
fn a_closed_pipe_is_no_fault_of_the_sheets() {
    let many: String = (0..60).map(|at| sheet(&format!("s{at}"), LIGHT)).collect();
    let yard = Yard::new().file("a.kdl", many);
    let mut child = program(&yard.path(""))
        .arg("check")
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("it ends");
    assert_eq!(output.status.code(), Some(1));
    assert_eq!(String::from_utf8_lossy(&output.stderr), "");
}

#[test]
#[cfg(target_os = "linux")]
fn a_full_disk_is_a_failed_run() {
    let yard = Yard::new().file("a.kdl", sheet("a", GOOD));
    let full = std::fs::File::create("/dev/full").expect("a device that is always full");
    let output = program(&yard.path("")).arg("check").stdout(full).output().expect("the program starts");
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).starts_with("draylint: the output cannot be written"));
}

#[test]
fn colour_quiet_and_units() {
    let yard = Yard::new().file("a.kdl", sheet("a", LIGHT));
    let colour = |arguments: &[&str], set: &[(&str, &str)]| {
        let mut command = program(&yard.path(""));
        command.arg("check").args(arguments).envs(set.iter().copied());
        let output = command.output().expect("the program starts");
        String::from_utf8(output.stdout).expect("UTF-8").contains('\u{1b}')
    };
    assert!(!colour(&[], &[]), "a pipe gets no colour");
    assert!(!colour(&["--color", "never"], &[]));
    assert!(colour(&["--color", "always"], &[]));
    assert!(colour(&["--color", "always"], &[("NO_COLOR", "1")]), "what is asked for outright goes first");
    assert!(!colour(&["--color", "auto"], &[("NO_COLOR", "1")]));

    let whole = yard.run(&["check"]).out;
    let quiet = yard.run(&["check", "--quiet"]);
    quiet.status(1);
    assert!(whole.starts_with(&quiet.out) && quiet.out.len() < whole.len(), "{}", quiet.out);
    assert!(!quiet.out.contains("This checks the sheet"));
    let clean = Yard::new().file("a.kdl", sheet("a", GOOD)).run(&["check", "--quiet"]);
    assert_eq!((clean.status, &*clean.out), (0, ""));
}
