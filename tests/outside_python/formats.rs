//! The forms of `check` as other programs read them (`tests/python/formats.py`): the same facts in each.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;

use serde::Deserialize;
use serde_json::{Value, json};

use crate::python::ask;

const DAY: &str = "2026-11-25";

/// A name that would be markup, a call, a link, the end of a section, a colour or a change of direction.
const HOSTILE: &str = "<script>alert('x')</script> ]]> & \\\"q\\\" a|b `c` ``d @yard #12 GH-7 www.example.org https://example.org \
                       [e](https://example.org) {0} $f$ ~~g~~ *h* \\u{1b}[31m \\u{202e} \\u{0} \\n # i";

#[derive(Deserialize)]
struct Read {
    sarif: Sarif,
    junit: Junit,
    markdown: Markdown,
    /// Fixes that lead to the same text by bytes and by regions.
    fixes: usize,
}

#[derive(Deserialize)]
struct Sarif {
    by_level: BTreeMap<String, u64>,
    lines: Vec<(String, u64, String, String)>,
    findings: Vec<Value>,
}

#[derive(Deserialize)]
struct Junit {
    tests: u64,
    failures: u64,
    counts: BTreeMap<String, u64>,
    failing: Vec<(String, String, String)>,
    text: String,
}

#[derive(Deserialize)]
struct Markdown {
    tags: Vec<String>,
    rows: usize,
    attributes: Vec<String>,
    refers: Vec<String>,
    text: String,
}

fn run(folder: &Path, arguments: &[&str]) -> String {
    let mut command = Command::new(env!("CARGO_BIN_EXE_draylint"));
    let output = command.args(arguments).current_dir(folder).env("LC_ALL", "C.UTF-8").output().unwrap();
    assert!(output.stderr.is_empty(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap()
}

/// What each reader says of a yard, and the JSON beside it.
fn read(folder: &Path, yard: &str) -> Option<(Value, Read)> {
    let form = |form: &str| run(folder, &["check", yard, "--today", DAY, "--gate", "warning", "--format", form]);
    let found: Value = serde_json::from_str(&form("json")).unwrap();
    let findings = found["findings"].as_array().unwrap();
    let names = findings.iter().flat_map(|finding| {
        let edits = finding["fixes"].as_array().unwrap().iter().flat_map(|fix| fix["edits"].as_array().unwrap());
        edits.map(|edit| edit["file"].as_str().unwrap().to_owned())
    });
    let files: BTreeMap<String, Vec<u8>> =
        names.map(|name| (name.clone(), fs::read(folder.join(name)).unwrap())).collect();
    let question = json!({
        "json": form("json"), "sarif": form("sarif"), "junit": form("junit"), "markdown": form("markdown"),
        "schema": run(folder, &["check", "--format", "json", "--schema"]), "files": files,
    });
    Some((found, ask("formats.py", &question)?))
}

/// That all readers tell the same.
fn agree(found: &Value, read: &Read) {
    let findings = found["findings"].as_array().unwrap();
    let waived = |finding: &Value| finding.get("waived").is_some();
    let level = |name: &str| findings.iter().filter(|one| one["level"] == name).count() as u64;
    // The reader counts what is suppressed with the rest, so its numbers are those of all findings.
    for name in ["error", "warning", "note"] {
        assert_eq!(read.sarif.by_level.get(name).copied().unwrap_or(0), level(name), "{name}");
    }
    assert_eq!(read.sarif.findings.len(), findings.len());
    for (ours, theirs) in findings.iter().zip(&read.sarif.findings) {
        for key in [
            "rule",
            "level",
            "sheet",
            "leg",
            "also",
            "message",
            "help",
            "source",
            "figure",
            "file",
            "line",
            "end_line",
            "fingerprint",
        ] {
            assert_eq!(ours[key], theirs[key], "{key} of {ours:#}");
        }
        assert_eq!(waived(ours), theirs["waived"], "{ours:#}");
        assert_eq!(ours["labels"].as_array().unwrap().len() as u64, theirs["labels"].as_u64().unwrap());
    }
    let lines: Vec<(u64, &str, &str)> = findings
        .iter()
        .map(|one| (one["line"].as_u64().unwrap(), one["level"].as_str().unwrap(), one["rule"].as_str().unwrap()))
        .collect();
    let told: Vec<(u64, &str, &str)> =
        read.sarif.lines.iter().map(|(_, line, level, rule)| (*line, level.as_str(), rule.as_str())).collect();
    assert_eq!(lines, told);

    // A fault of several loads is told once elsewhere, and here in the case of each.
    let loads = |one: &Value| 1 + one["also"].as_array().map_or(0, Vec::len) as u64;
    for (key, level) in [("errors", "error"), ("warnings", "warning"), ("notes", "note")] {
        let open = || findings.iter().filter(|one| one["level"] == level && !waived(one));
        assert_eq!(open().count() as u64, found["summary"][key].as_u64().unwrap(), "{key}");
        assert_eq!(read.junit.counts[key], open().map(loads).sum::<u64>(), "{key}");
    }
    assert_eq!(read.junit.counts["waived"], findings.iter().filter(|one| waived(one)).map(loads).sum::<u64>());
    assert!(read.junit.tests >= found["summary"]["loads"].as_u64().unwrap());
    assert_eq!(read.junit.failures, read.junit.failing.len() as u64);
    // A row a finding, and the head of each of the two tables.
    let tables = [true, false].into_iter().filter(|which| findings.iter().any(|one| waived(one) == *which)).count();
    assert_eq!(read.markdown.rows, findings.len() + tables);
    for finding in findings {
        let message = draylint::text::visible(finding["message"].as_str().unwrap(), true).into_owned();
        assert!(read.junit.text.contains(&message), "{message} in {}", read.junit.text);
        // Set on one line, and cut where it is very long.
        let words = message.split_whitespace().collect::<Vec<_>>().join(" ");
        let start: String = words.chars().take(300).collect();
        assert!(read.markdown.text.contains(&start), "{start} in {}", read.markdown.text);
    }
    let known =
        ["br", "details", "li", "p", "span", "strong", "summary", "table", "tbody", "td", "th", "thead", "tr", "ul"];
    for tag in &read.markdown.tags {
        assert!(known.contains(&tag.as_str()), "<{tag}>");
    }
    assert!(read.markdown.attributes.is_empty(), "{:?}", read.markdown.attributes);
    assert!(read.markdown.refers.is_empty(), "{:?}", read.markdown.refers);
}

#[test]
fn the_example_yard_is_the_same_to_every_reader() {
    let Some((found, read)) = read(Path::new(env!("CARGO_MANIFEST_DIR")), "fixtures/yard") else { return };
    agree(&found, &read);
    assert!(read.fixes >= 10, "{} fixes", read.fixes);
    assert!(read.junit.counts["waived"] > 0);
    // Which loads fail, from the JSON: those with a finding at or above the gate that is not waived. Faults of a sheet's
    // every leg, and of files without a sheet, are cases of their own.
    let over = found["findings"].as_array().unwrap().iter();
    let over = over.filter(|one| one["level"] != "note" && one.get("waived").is_none());
    let wanted: std::collections::BTreeSet<(String, Option<String>)> = over
        .flat_map(|one| {
            let text = |of: &Value, key: &str| of[key].as_str().map(str::to_owned);
            let own = (text(one, "sheet").unwrap_or_else(|| text(one, "file").unwrap()), text(one, "leg"));
            let also = one["also"].as_array().into_iter().flatten();
            also.map(|load| (text(load, "sheet").unwrap(), text(load, "leg"))).chain([own]).collect::<Vec<_>>()
        })
        .collect();
    assert_eq!(read.junit.failures, wanted.len() as u64, "{wanted:?}");
    for (sheet, leg) in wanted {
        let failing = read.junit.failing.iter();
        let mut of_sheet =
            failing.filter(|(suite, case, _)| *suite == sheet && leg.as_ref().is_none_or(|leg| case == leg));
        assert!(of_sheet.next().is_some(), "{sheet}, {leg:?}");
    }
}

/// Names that would act, a very long one, a mark of byte order, line breaks of two kinds, and characters of several bytes.
#[test]
fn hostile_names_are_the_same_to_every_reader_and_harmless() {
    let folder = tempfile::tempdir().unwrap();
    let put = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    put("yard.kdl", "yard \"Test Yard\" { follow \"none\"; }\n");
    let sheet = |name: &str| {
        format!("sheet \"{name}\" {{\r\n    /* é😀 */ trukc \"{name}\"\n    trailer \"no {name}\"\r\n}}\r\n")
    };
    put("a<i>&'q' @yard ]]> é.kdl", &format!("\u{feff}{}", sheet(HOSTILE)));
    put("long.kdl", &sheet(&"<b>".repeat(1_700)));
    put("mark.kdl", "\u{feff}sheeet \"é\" {\n}\n");
    let Some((found, read)) = read(folder.path(), ".") else { return };
    agree(&found, &read);
    let sheets: Vec<&str> =
        found["findings"].as_array().unwrap().iter().filter_map(|one| one["sheet"].as_str()).collect();
    assert!(sheets.iter().any(|name| name.contains("<script>") && name.contains('\u{202e}')), "{sheets:?}");
    assert!(sheets.iter().any(|name| name.len() > 5_000), "{sheets:?}");
    assert!(read.fixes >= 3, "{} fixes in {found:#}", read.fixes);
}
