//! Results for programs, read back and compared with the shapes that the command's documentation shows.

use std::collections::BTreeSet;

use draylint::finding::{Finding, Level};
use draylint::render::{fingerprints, json};
use draylint::text::{FileId, Source, Sources, Span};
use serde_json::{Value, json};

use crate::samples::{SHEET, loads, report, sources, ties, tongue, waived};

fn keys(value: &Value) -> BTreeSet<&str> {
    value.as_object().unwrap().keys().map(String::as_str).collect()
}

fn set<'a>(names: &[&'a str]) -> BTreeSet<&'a str> {
    names.iter().copied().collect()
}

fn check() -> Value {
    let sources = sources();
    let findings = [ties(&sources), tongue(&sources), waived(&sources)];
    serde_json::from_str(&json::check(&report(&sources, &findings))).unwrap()
}

const FINDING: [&str; 16] = [
    "rule",
    "level",
    "sheet",
    "leg",
    "message",
    "file",
    "line",
    "column",
    "end_line",
    "end_column",
    "labels",
    "figure",
    "source",
    "help",
    "fixes",
    "fingerprint",
];

#[test]
fn check_has_the_keys_of_the_documented_sample() {
    let check = check();
    assert_eq!(keys(&check), set(&["schema", "summary", "findings"]));
    assert_eq!(check["schema"], 1);
    assert_eq!(check["summary"], json!({"files": 9, "loads": 3, "errors": 1, "warnings": 1, "notes": 0, "waived": 1}));
    let findings = check["findings"].as_array().unwrap();
    assert_eq!(keys(&findings[0]), set(&FINDING));
    assert_eq!(keys(&findings[1]), set(&FINDING));
    let with_waiver: BTreeSet<&str> = FINDING.into_iter().chain(["waived"]).collect();
    assert_eq!(keys(&findings[2]), with_waiver);
    assert_eq!(
        findings[2]["waived"],
        json!({"reason": "two miles of farm lane, 20 mph", "by": "yard foreman", "until": "2027-03-31"})
    );
    assert_eq!(keys(&findings[1]["labels"][0]), set(&["file", "line", "column", "end_line", "end_column", "text"]));
    assert_eq!(findings[0]["figure"], Value::Null);
    assert_eq!(findings[0]["leg"], Value::Null);
}

#[test]
fn places_are_counted_from_one_and_edits_in_bytes() {
    let check = check();
    let tongue = &check["findings"][1];
    assert_eq!((&tongue["line"], &tongue["column"]), (&json!(8), &json!(44)));
    assert_eq!((&tongue["end_line"], &tongue["end_column"]), (&json!(8), &json!(60)));
    assert_eq!(tongue["labels"][1]["file"], "fleet/machines.kdl");
    assert_eq!(
        tongue["fixes"],
        json!([{"title": "move it 7 in forward", "grade": "change", "edits": [
            {"file": "sheets/trencher-move.kdl", "offset": SHEET.find("(in)50").unwrap(), "length": 6, "text": "(in)43"}
        ]}])
    );
    assert_eq!(
        tongue["figure"],
        json!({"name": "trailer.tongue_share", "value": 0.0979, "unit": "1", "plus_minus": 0.004, "at_least": 0.11,
               "at_most": null})
    );
}

#[test]
fn check_is_written_in_the_documented_order() {
    let sources = sources();
    insta::assert_snapshot!(json::check(&report(&sources, &[tongue(&sources)])));
}

#[test]
fn numbers_are_finite_or_null_and_come_back_as_they_were() {
    let sources = sources();
    let mut finding = tongue(&sources);
    let figure = finding.figure.as_mut().unwrap();
    figure.value = f64::NAN;
    figure.at_least = Some(f64::INFINITY);
    figure.plus_minus = Some(0.1 + 0.2);
    let read: Value = serde_json::from_str(&json::check(&report(&sources, &[finding]))).unwrap();
    let figure = &read["findings"][0]["figure"];
    assert_eq!((&figure["value"], &figure["at_least"]), (&Value::Null, &Value::Null));
    assert_eq!(figure["plus_minus"].as_f64().map(f64::to_bits), Some((0.1_f64 + 0.2).to_bits()));
}

#[test]
fn what_acts_on_a_terminal_is_escaped_and_comes_back_as_it_was() {
    let sources = sources();
    let mut finding = tongue(&sources);
    finding.message = "a\u{1b}[2J\u{202e}\u{9b}\u{7f}\u{e0041}b".to_owned();
    let text = json::check(&report(&sources, std::slice::from_ref(&finding)));
    assert!(!text.contains(['\u{1b}', '\u{202e}', '\u{9b}', '\u{7f}', '\u{e0041}']));
    let read: Value = serde_json::from_str(&text).unwrap();
    assert_eq!(read["findings"][0]["message"], finding.message);
}

#[test]
fn weigh_has_the_keys_of_the_documented_sample_and_keeps_the_order() {
    let text = json::weigh(&sources(), &loads());
    let read: Value = serde_json::from_str(&text).unwrap();
    assert_eq!(keys(&read), set(&["schema", "loads"]));
    let load = &read["loads"][0];
    assert_eq!(keys(load), set(&["sheet", "leg", "file", "figures", "readings", "undecided"]));
    assert_eq!(keys(&load["figures"]["trailer.tongue"]), set(&["value", "unit", "plus_minus"]));
    assert_eq!(load["figures"]["trailer.tongue"]["unit"], "kg");
    assert_eq!(load["figures"]["truck.axle[rear].load"]["value"], Value::Null);
    assert_eq!(load["figures"]["trailer.tongue_share"]["at_least"], 0.11);
    assert_eq!(load["figures"]["trailer.tongue_share"]["at_most"], 0.15);
    assert_eq!(load["figures"]["tie[trencher-30].count"]["unit"], "1");
    assert_eq!(
        load["undecided"],
        json!([{"rule": "truck-axle-over", "missing": "truck \"rook\" axle \"rear\" weighed"}])
    );
    assert_eq!(read["loads"][1]["figures"], Value::Null);
    let order: Vec<usize> =
        loads()[0].figures.iter().flatten().map(|figure| text.find(&format!("\"{}\"", figure.name)).unwrap()).collect();
    assert!(order.is_sorted());
}

fn printed(text: &str, rule: &'static str, entries: &[&str]) -> Vec<String> {
    let mut sources = Sources::default();
    sources.add(Source::new("a.kdl", text));
    let mut from = 0;
    let findings: Vec<Finding> = entries
        .iter()
        .map(|entry| {
            let start = from + text[from..].find(entry).unwrap();
            from = start + entry.len();
            Finding::new(rule, Level::Error, Span::new(FileId(0), start..from), "message")
        })
        .collect();
    fingerprints(&report(&sources, &findings))
}

#[test]
fn a_fingerprint_stays_when_unrelated_lines_move() {
    let before = printed("a 1\nb 2\n", "rule", &["2"]);
    assert_eq!(before, printed("// new\n\na 1\n\t b   2\nc 3\n", "rule", &["2"]));
    assert_ne!(before, printed("a 1\nb 3\n", "rule", &["3"]));
    assert_ne!(before, printed("a 1\nb 2\n", "other", &["2"]));
}

#[test]
fn fingerprints_of_equal_findings_differ_and_are_known() {
    let two = printed("tie 1\ntie 1\n", "rule", &["1", "1"]);
    assert_ne!(two[0], two[1]);
    assert_eq!(two[0], printed("tie 1\n", "rule", &["1"])[0]);
    // The value itself is fixed: baselines of users rest on it.
    assert_eq!(two[0].len(), 16);
    insta::assert_snapshot!(two.join(" "));
}
