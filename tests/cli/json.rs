//! The machine-readable results against the commands page: every key, and no other.

use serde_json::Value;

use crate::harness::{GOOD, LIGHT, Yard, finding, sheet};

fn keys(value: &Value) -> Vec<&str> {
    let mut keys: Vec<&str> = value.as_object().expect("an object").keys().map(String::as_str).collect();
    keys.sort_unstable();
    keys
}

fn sorted(keys: &[&'static str]) -> Vec<&'static str> {
    let mut keys = keys.to_vec();
    keys.sort_unstable();
    keys
}

const PLACE: [&str; 5] = ["file", "line", "column", "end_line", "end_column"];
const FINDING: [&str; 11] =
    ["rule", "level", "sheet", "leg", "message", "labels", "figure", "source", "help", "fixes", "fingerprint"];

#[test]
fn check_has_the_documented_keys() {
    let yard = Yard::new().file("sheets/a.kdl", sheet("a", LIGHT)).file(
        "sheets/b.kdl",
        sheet("b", 86)
            .replace("conditions", "waive \"tongue-heavy\" reason=\"r\" by=\"b\" until=\"2027-01-31\"\n    conditions"),
    );
    let json = yard.json(&["--today", "2026-11-25"]);
    assert_eq!(keys(&json), sorted(&["schema", "summary", "findings"]));
    assert_eq!(json["schema"], 1);
    assert_eq!(keys(&json["summary"]), sorted(&["files", "loads", "errors", "warnings", "notes", "waived"]));
    assert_eq!(json["summary"]["files"], 4);
    assert_eq!(json["summary"]["loads"], 2);
    assert_eq!(json["summary"]["errors"], 1);
    assert_eq!(json["summary"]["warnings"], 0, "a waived finding does not count");
    assert_eq!(json["summary"]["waived"], 1);

    let light = finding(&json, "tongue-light");
    assert_eq!(keys(light), sorted(&[&FINDING[..], &PLACE[..]].concat()));
    assert_eq!(light["level"], "error");
    assert_eq!(light["sheet"], "a");
    assert!(light["leg"].is_null());
    assert_eq!(light["file"], "sheets/a.kdl");
    assert_eq!((&light["line"], &light["end_line"]), (&5.into(), &5.into()));
    // `    cargo "pallet" … ` is 76 characters long, and `front-gap=(in)112` 17.
    assert_eq!((&light["column"], &light["end_column"]), (&77.into(), &94.into()));
    let label = &light["labels"][0];
    assert_eq!(keys(label), sorted(&[&PLACE[..], &["text"]].concat()));
    assert_eq!(label["file"], "fleet.kdl");
    let figure = &light["figure"];
    assert_eq!(keys(figure), sorted(&["name", "value", "unit", "plus_minus", "at_least", "at_most"]));
    assert_eq!(figure["name"], "trailer.tongue_share");
    assert_eq!(figure["unit"], "1");
    assert_eq!(figure["at_least"], 0.1);
    assert!(figure["at_most"].is_null());
    // By hand: (450 + 6000 x 11 / 207) / 9450.
    let value = figure["value"].as_f64().expect("a number");
    assert!((value - (450.0 + 6000.0 * 11.0 / 207.0) / 9450.0).abs() < 1e-9, "{value}");
    let fix = &light["fixes"][0];
    assert_eq!(keys(fix), sorted(&["title", "grade", "edits"]));
    assert_eq!(fix["grade"], "change");
    let edit = &fix["edits"][0];
    assert_eq!(keys(edit), sorted(&["file", "offset", "length", "text"]));
    assert_eq!((&edit["file"], &edit["length"]), (&"sheets/a.kdl".into(), &"(in)112".len().into()));
    assert_eq!(light["fingerprint"].as_str().expect("a text").len(), 16);

    let heavy = finding(&json, "tongue-heavy");
    assert_eq!(keys(heavy), sorted(&[&FINDING[..], &PLACE[..], &["waived"]].concat()));
    assert_eq!(keys(&heavy["waived"]), sorted(&["reason", "by", "until"]));
}

#[test]
fn weigh_has_the_documented_keys() {
    let no_rating = sheet("a", GOOD).replace("truck \"pickup\"", "truck \"bare\"");
    let bare = "truck \"bare\" {\n axle \"front\" weighed=(lb)4300\n axle \"rear\" weighed=(lb)3200\n wheelbase (in)170\n \
                hitch \"ball\" behind-rear-axle=(in)55\n}\n";
    let broken = sheet("b", GOOD).replace("(in)98", "98");
    let yard = Yard::new().file("a.kdl", format!("{bare}{no_rating}")).file("b.kdl", broken);
    let json = yard.run(&["weigh", "--format", "json"]).status(0).json();
    assert_eq!(keys(&json), sorted(&["schema", "loads"]));
    let loads = json["loads"].as_array().expect("loads");
    assert_eq!(loads.len(), 2);
    for load in loads {
        assert_eq!(keys(load), sorted(&["sheet", "leg", "file", "figures", "readings", "undecided"]));
    }
    let tongue = &loads[0]["figures"]["trailer.tongue"];
    assert_eq!(tongue["unit"], "kg");
    // By hand: 450 + 6000 x 25 / 207 lb, in kg.
    let wanted = (450.0 + 6000.0 * 25.0 / 207.0) * 0.453_592_37;
    assert!((tongue["value"].as_f64().expect("a number") - wanted).abs() < 1e-9, "{tongue}");
    assert!(tongue.as_object().expect("an object").contains_key("plus_minus"));
    let undecided = loads[0]["undecided"].as_array().expect("a list");
    assert!(!undecided.is_empty());
    for one in undecided {
        assert_eq!(keys(one), sorted(&["rule", "missing"]));
    }
    let over = undecided.iter().filter(|one| one["rule"] == "truck-axle-over");
    let missing: Vec<&str> = over.filter_map(|one| one["missing"].as_str()).collect();
    assert_eq!(missing, ["truck \"bare\" axle \"front\" rating", "truck \"bare\" axle \"rear\" rating"]);
    assert!(loads[1]["figures"].is_null(), "a load that cannot be computed has no figures");
}

#[test]
fn units_move_words_and_never_values() {
    let yard = Yard::new().file("a.kdl", sheet("a", LIGHT).replace("(lb)6000", "(lb)12000"));
    let figures = |arguments: &[&str]| {
        let json = yard.json(arguments);
        json["findings"].as_array().expect("findings").iter().map(|one| one["figure"].clone()).collect::<Vec<_>>()
    };
    assert_eq!(figures(&["--units", "us"]), figures(&["--units", "si"]));
    let message = |arguments: &[&str]| {
        finding(&yard.json(arguments), "trailer-over-gvwr")["message"].as_str().expect("a text").to_owned()
    };
    assert!(message(&["--units", "us"]).contains("15,450 lb"), "{}", message(&["--units", "us"]));
    assert!(message(&["--units", "si"]).contains("7,008 kg"), "{}", message(&["--units", "si"]));
    // An entry is quoted as it was written, whatever the reader thinks in.
    assert!(message(&["--units", "si"]).contains("14,000 lb"), "{}", message(&["--units", "si"]));

    // Without the option, the yard's word; without that, what most of the sheet uses.
    yard.put("yard.kdl", "yard \"y\" { follow \"none\"; units \"si\"; }\n");
    assert!(message(&[]).contains("7,008 kg"));
    yard.put("yard.kdl", "yard \"y\" { follow \"none\"; }\n");
    assert!(message(&[]).contains("15,450 lb"));
    yard.put(
        "a.kdl",
        sheet("a", LIGHT)
            .replace("(lb)6000", "(kg)5443")
            .replace("(in)48", "(mm)1219")
            .replace("(in)44", "(mm)1118")
            .replace("(in)40", "(mm)1016")
            .replace("(in)112", "(mm)2845"),
    );
    assert!(message(&[]).contains(" kg"), "{}", message(&[]));
}

#[test]
fn offsets_and_fingerprints() {
    let yard = Yard::new().file("a.kdl", sheet("a", LIGHT));
    let before = finding(&yard.json(&[]), "tongue-light")["fingerprint"].clone();
    yard.put("a.kdl", format!("// a remark\n\n{}", sheet("a", LIGHT)));
    let after = yard.json(&[]);
    assert_eq!(finding(&after, "tongue-light")["fingerprint"], before, "lines above moved it");
    assert_eq!(finding(&after, "tongue-light")["line"], 7);
    yard.put("a.kdl", sheet("a", 113));
    assert_ne!(finding(&yard.json(&[]), "tongue-light")["fingerprint"], before, "the entry itself was changed");
}
