//! The forms of `check` beside text and JSON. What other programs read in them is tested in `tests/outside_python`.

use std::path::Path;

use draylint::text::is_hidden;

use crate::harness::{GOOD, HEAVY, LIGHT, Ran, Yard, finding, run_in, sheet};

const DAY: [&str; 2] = ["--today", "2026-11-25"];

fn demo(arguments: &[&str]) -> Ran {
    run_in(Path::new(env!("CARGO_MANIFEST_DIR")), &[&["check"], arguments, &DAY].concat())
}

#[test]
fn the_example_yard_in_short() {
    insta::assert_snapshot!(demo(&["fixtures/yard", "--short"]).status(1).out);
}

#[test]
fn the_example_yard_as_a_comment() {
    insta::assert_snapshot!(demo(&["fixtures/yard", "--format", "markdown"]).status(1).out);
}

/// A sheet with a waived finding, and warnings.
const ONE: [&str; 5] = ["fixtures/yard", "--sheet", "digger-and-stone", "--leg", "out"];

#[test]
fn one_sheet_as_sarif() {
    insta::assert_snapshot!(demo(&[&ONE[..], &["--format", "sarif"]].concat()).out);
}

#[test]
fn one_sheet_as_junit() {
    insta::assert_snapshot!(demo(&[&ONE[..], &["--format", "junit", "--gate", "warning"]].concat()).out);
}

#[test]
fn the_schema_needs_no_yard() {
    let yard = Yard::empty();
    let ran = yard.run(&["check", "--format", "json", "--schema"]);
    let schema = ran.status(0).json();
    assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
    assert_eq!(schema["properties"]["schema"]["const"], 1);
    assert_eq!(
        schema["$defs"]["Finding"]["properties"]["level"]["enum"],
        serde_json::json!(["error", "warning", "note"])
    );
}

#[test]
fn options_of_one_form_are_refused_with_another() {
    let yard = Yard::new().file("a.kdl", sheet("a", GOOD));
    let told = |arguments: &[&str]| yard.run(&[&["check"], arguments].concat()).status(2).err.clone();
    assert_eq!(told(&["--short", "--format", "json"]), "draylint: --short is for --format text\n");
    assert_eq!(told(&["--schema"]), "draylint: --schema is for --format json\n");
    assert_eq!(told(&["--schema", "--format", "sarif"]), "draylint: --schema is for --format json\n");
    yard.run(&["weigh", "--format", "sarif"]).status(2);
}

#[test]
fn short_has_a_line_a_finding_and_then_what_was_checked() {
    let yard = Yard::new().file("a.kdl", sheet("a", LIGHT)).file("b.kdl", sheet("b", HEAVY));
    let json = yard.json(&[]);
    let found = yard.run(&["check", "--short", "--quiet"]).status(1).out.clone();
    let wanted: Vec<String> = json["findings"]
        .as_array()
        .expect("findings")
        .iter()
        .map(|one| {
            let text = |key: &str| one[key].as_str().expect("a text").to_owned();
            let place = format!("{}:{}:{}", text("file"), one["line"], one["column"]);
            format!("{place}: {} {}: {}", text("level"), text("rule"), text("message"))
        })
        .collect();
    assert_eq!(found.lines().collect::<Vec<_>>(), wanted);
    let whole = yard.run(&["check", "--short"]).out;
    assert!(whole.starts_with(&found) && whole[found.len()..].starts_with("4 files, 2 loads: "), "{whole}");
}

/// The gate decides which loads fail, and the exit status is the same in every form.
#[test]
fn the_gate_holds_in_every_form() {
    let yard = Yard::new().file("a.kdl", sheet("a", GOOD)).file("b.kdl", sheet("b", HEAVY));
    for (gate, status, failures) in [("error", 0, 0), ("warning", 1, 1)] {
        for form in ["text", "json", "sarif", "junit", "markdown"] {
            let ran = yard.run(&["check", "--gate", gate, "--format", form]);
            assert_eq!(ran.status(status).err, "", "{form}");
            if form == "junit" {
                assert_eq!(ran.out.matches("<failure ").count(), failures, "{}", ran.out);
                assert_eq!(ran.out.matches("<testcase ").count(), 2);
            }
        }
    }
}

/// A fault in the fleet is told once, and every load that rests on it is named and fails.
#[test]
fn a_fault_of_several_loads_fails_each_of_them() {
    let fleet = crate::harness::FLEET.replacen("ball size=(in)2.3125 rating", "ball size=(in)2 rating", 1);
    let yard = Yard::new().file("fleet.kdl", fleet);
    for name in ["a", "b", "c"] {
        yard.put(format!("{name}.kdl"), sheet(name, GOOD));
    }
    let told = |form: &str| yard.run(&["check", "--format", form]).status(1).out.clone();
    let found: serde_json::Value = serde_json::from_str(&told("json")).unwrap();
    let one = finding(&found, "ball-size-differs");
    assert_eq!(found["summary"]["errors"], 1, "{found:#}");
    assert_eq!((&one["sheet"], one["also"].as_array().unwrap().len()), (&"a".into(), 2), "{one:#}");
    assert_eq!((&one["also"][0]["sheet"], &one["also"][1]["sheet"]), (&"b".into(), &"c".into()));
    let junit = told("junit");
    assert_eq!((junit.matches("<testcase ").count(), junit.matches("<failure ").count()), (3, 3), "{junit}");
    assert!(told("text").contains("also: in sheet b; sheet c"));
    assert!(told("markdown").contains("Also: in sheet b; sheet c"));
    assert!(told("sarif").contains("\"also\": ["));
    let short = yard.run(&["check", "--short"]).status(1).out.clone();
    assert!(short.contains("(sheet a, and 2 more loads)"), "{short}");
}

/// So does an entry that is missing in the fleet.
#[test]
fn an_entry_that_several_loads_lack_fails_each_of_them() {
    let fleet = crate::harness::FLEET.replacen("    gvwr (lb)14000\n", "", 1);
    let yard = Yard::new().file("fleet.kdl", fleet);
    for name in ["a", "b"] {
        yard.put(format!("{name}.kdl"), sheet(name, GOOD));
    }
    let found = yard.run(&["check", "--format", "json"]).json();
    let one = finding(&found, "rating-missing");
    assert_eq!((&one["sheet"], &one["also"][0]["sheet"]), (&"a".into(), &"b".into()), "{one:#}");
    let junit = yard.run(&["check", "--gate", "warning", "--format", "junit"]).status(1).out.clone();
    assert_eq!((junit.matches("<testcase ").count(), junit.matches("<failure ").count()), (2, 2), "{junit}");
}

/// Two yards in one run may have a sheet of the same name: each keeps its own findings.
#[test]
fn sheets_of_one_name_in_two_yards_stay_apart() {
    let yard = Yard::empty();
    for (folder, gap) in [("one", GOOD), ("two", LIGHT)] {
        yard.put(format!("{folder}/yard.kdl"), "yard \"Test Yard\" { follow \"none\"; }\n");
        yard.put(format!("{folder}/fleet.kdl"), crate::harness::FLEET);
        yard.put(format!("{folder}/sheets/a.kdl"), sheet("a", gap));
    }
    let out = yard.run(&["check", "--format", "junit"]).status(1).out.clone();
    let suites: Vec<&str> = out.split("<testsuite ").skip(1).collect();
    let fails: Vec<(bool, bool)> = suites
        .iter()
        .map(|suite| (suite.contains("package=\"two/sheets/a.kdl\""), suite.contains("<failure ")))
        .collect();
    assert_eq!(fails, [(false, false), (true, true)], "{out}");
}

/// A company's rule tells its own words, as a built-in one does.
#[test]
fn rules_of_the_company_are_told_in_sarif() {
    let log = demo(&["fixtures/yard", "--format", "sarif"]).json();
    let rules = log["runs"][0]["tool"]["driver"]["rules"].as_array().expect("rules");
    let own = rules.iter().find(|rule| rule["id"] == "axle-reserve").expect("the company's rule");
    assert!(own["help"]["text"].as_str().expect("a text").starts_with("Potholes on the haul roads;"), "{own:#}");
}

#[test]
fn an_empty_folder_is_told_in_every_form() {
    let yard = Yard::empty();
    for form in ["sarif", "junit", "markdown"] {
        yard.run(&["check", "--format", form]).status(0);
    }
    assert!(
        yard.run(&["check", "--format", "markdown"])
            .out
            .starts_with("**draylint**: no sheets here: nothing was checked\n")
    );
    assert!(yard.run(&["check", "--format", "junit"]).out.ends_with("<testsuites>\n</testsuites>\n"));
}

/// Names that would be markup or act on a terminal, one of them very long.
#[test]
fn hostile_names_stay_harmless_in_every_form() {
    let name = "<script>x</script> '\\\"q\\\" ]]> a|b `c` @yard [d](https://example.org) \\u{1b}[31m \\u{202e}";
    let yard = Yard::new().file("a.kdl", sheet(name, LIGHT)).file("b.kdl", sheet(&"<b>|`".repeat(1_000), LIGHT));
    let json = yard.json(&[]);
    let message = finding(&json, "tongue-light")["message"].as_str().expect("a message").to_owned();
    for arguments in [&["--short"][..], &["--format", "sarif"], &["--format", "junit"], &["--format", "markdown"]] {
        let ran = yard.run(&[&["check"], arguments].concat());
        let out = &ran.status(1).out;
        assert!(!out.contains(|c: char| is_hidden(c) || matches!(c, '\r' | '\t')), "{arguments:?}: {out}");
        assert!(out.contains("tongue-light"), "{message}");
        match arguments {
            [_, "junit"] => assert!(!out.contains("<script") && !out.contains("<b>") && !out.contains("]]>"), "{out}"),
            [_, "markdown"] => {
                let escaped = out.replace("\\<", "");
                assert!(!escaped.contains("<script") && !escaped.contains("<b>") && !out.contains("@yard"), "{out}");
                assert!(out.len() < 65_000, "{}", out.len());
            }
            _ => {}
        }
    }
}
