//! Waivers: what they accept, until when, and what they cannot.

use crate::harness::{GOOD, HEAVY, Yard, finding, rules, sheet};

fn waived(gap: u32, waive: &str) -> Yard {
    let text = sheet("a", gap).replace("    conditions", &format!("    {waive}\n    conditions"));
    Yard::new().file("a.kdl", text)
}

const WHY: &str = "reason=\"farm lane\" by=\"foreman\" until=\"2027-03-31\"";

#[test]
fn a_waived_finding_is_shown_and_does_not_count() {
    let yard = waived(HEAVY, &format!("waive \"tongue-heavy\" {WHY}"));
    let ran = yard.run(&["check", "--today", "2027-03-31", "--gate", "note"]);
    ran.status(0);
    assert!(ran.out.contains("waived: farm lane; by foreman until 2027-03-31"), "{}", ran.out);
    assert!(ran.out.contains("3 files, 1 load: nothing to mend, 1 waived"), "{}", ran.out);
    let json = yard.json(&["--today", "2027-03-31"]);
    assert_eq!(finding(&json, "tongue-heavy")["waived"]["by"], "foreman");
}

#[test]
fn the_day_after_it_is_over() {
    let yard = waived(HEAVY, &format!("waive \"tongue-heavy\" {WHY}"));
    yard.run(&["check", "--today", "2027-04-01", "--gate", "warning"]).status(1);
    let json = yard.json(&["--today", "2027-04-01"]);
    assert!(finding(&json, "tongue-heavy").get("waived").is_none());
    // Long ago and far ahead, years are compared as days are.
    yard.run(&["check", "--today", "0999-12-31", "--gate", "warning"]).status(0);
}

#[test]
fn narrowed_to_an_item() {
    let long = |item: &str| {
        let waive = format!("waive \"too-long\" {WHY} item=\"{item}\"");
        let text =
            sheet("a", GOOD).replace("length=(in)48", "length=(in)250").replace("front-gap=(in)98", "front-gap=(in)2");
        let text = text.replace("    conditions", &format!("    {waive}\n    conditions"));
        Yard::new().file("a.kdl", text).json(&["--today", "2026-11-25"])
    };
    let other = long("crate");
    assert!(finding(&other, "too-long").get("waived").is_none());
    assert_eq!(finding(&other, "name-unknown")["sheet"], "a");
}

#[test]
fn law_ratings_and_physics_cannot_be_waived() {
    let text = sheet("a", GOOD).replace("(lb)6000", "(lb)12000").replace(
        "    conditions",
        &format!("    waive \"trailer-over-gvwr\" {WHY}\n    waive \"unit-missing\" {WHY}\n    conditions"),
    );
    let yard = Yard::new().file("a.kdl", text);
    yard.run(&["check", "--today", "2026-11-25"]).status(1);
    assert!(finding(&yard.json(&["--today", "2026-11-25"]), "trailer-over-gvwr").get("waived").is_none());
}

#[test]
fn a_misspelt_rule() {
    let json = waived(HEAVY, &format!("waive \"tongue-hevy\" {WHY}")).json(&["--today", "2026-11-25"]);
    assert_eq!(rules(&json), ["name-unknown", "tongue-heavy"]);
    let unknown = finding(&json, "name-unknown");
    assert_eq!(unknown["help"], "write \"tongue-heavy\"");
    assert!(finding(&json, "tongue-heavy").get("waived").is_none());
}

#[test]
fn a_waiver_without_its_facts_waives_nothing() {
    for waive in [
        "waive \"tongue-heavy\" by=\"foreman\" until=\"2027-03-31\"",
        "waive \"tongue-heavy\" reason=\"lane\" until=\"2027-03-31\"",
        "waive \"tongue-heavy\" reason=\"lane\" by=\"foreman\"",
        "waive \"tongue-heavy\" reason=\"lane\" by=\"foreman\" until=\"2027-02-30\"",
        "waive \"tongue-heavy\" reason=\"lane\" by=\"foreman\" until=\"soon\"",
    ] {
        let json = waived(HEAVY, waive).json(&["--today", "2026-11-25"]);
        assert!(finding(&json, "tongue-heavy").get("waived").is_none(), "{waive}");
        assert_eq!(rules(&json).len(), 2, "{waive}: {json:#}");
    }
}

#[test]
fn in_a_leg_it_holds_for_that_leg() {
    let cargo = "cargo \"p\" weight=(lb)6000 length=(in)48 width=(in)44 height=(in)40 front-gap=(in)86";
    let text = format!(
        "sheet \"a\" {{\n truck \"pickup\"\n trailer \"flat\"\n conditions speed=(mph)55\n leg \"one\" {{\n  {cargo}\n  waive \
         \"tongue-heavy\" {WHY}\n }}\n leg \"two\" {{\n  {cargo}\n }}\n}}\n"
    );
    let json = Yard::new().file("a.kdl", text).json(&["--today", "2026-11-25"]);
    let waived: Vec<bool> =
        json["findings"].as_array().expect("findings").iter().map(|one| one.get("waived").is_some()).collect();
    assert_eq!(waived, [true, false], "{json:#}");
}

#[test]
fn a_misspelt_rule_of_the_whole_sheet_is_told_once_and_of_no_leg() {
    let cargo = "cargo \"p\" weight=(lb)6000 length=(in)48 width=(in)44 height=(in)40 front-gap=(in)98";
    let text = format!(
        "sheet \"a\" {{\n truck \"pickup\"\n trailer \"flat\"\n conditions speed=(mph)55\n waive \"tongue-hevy\" {WHY}\n leg \"one\" \
         {{ {cargo}; }}\n leg \"two\" {{ {cargo}; waive \"leens\" {WHY}; }}\n}}\n"
    );
    let json = Yard::new().file("a.kdl", text).json(&["--today", "2026-11-25"]);
    assert_eq!(rules(&json), ["name-unknown", "name-unknown"], "{json:#}");
    assert!(json["findings"][0]["leg"].is_null(), "{json:#}");
    assert_eq!(json["findings"][1]["leg"], "two");
}
