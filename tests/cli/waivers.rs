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
    assert_eq!(finding(&json, "tongue-heavy")["waived"]["reason"], "farm lane");
    assert_eq!(finding(&json, "tongue-heavy")["waived"]["until"], "2027-03-31");
    let summary = &json["summary"];
    assert_eq!((summary["warnings"].as_u64(), summary["waived"].as_u64()), (Some(0), Some(1)));
    assert_eq!(rules(&json), ["tongue-heavy"], "it accepts something, so it is not unused");
}

#[test]
fn the_day_after_it_is_over() {
    let yard = waived(HEAVY, &format!("waive \"tongue-heavy\" {WHY}"));
    yard.run(&["check", "--today", "2027-04-01", "--gate", "warning"]).status(1);
    let json = yard.json(&["--today", "2027-04-01"]);
    assert!(finding(&json, "tongue-heavy").get("waived").is_none());
    let ended = finding(&json, "waiver-ended");
    let message = "this waiver held through 2027-03-31 and is over since 2027-04-01: what it accepted of tongue-heavy counts again";
    assert_eq!((ended["message"].as_str(), ended["line"].as_u64()), (Some(message), Some(4)));
    assert_eq!(rules(&json), ["waiver-ended", "tongue-heavy"], "it is told of once, not as unused too");
    assert_eq!(json["summary"]["waived"], 0);
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
    let json = yard.json(&["--today", "2026-11-25"]);
    assert!(finding(&json, "trailer-over-gvwr").get("waived").is_none());
    // It is said that these waivers do nothing, and why.
    let findings = json["findings"].as_array().expect("findings").iter();
    let unused: Vec<&str> = findings
        .filter(|one| one["rule"] == "waiver-unused")
        .map(|one| one["message"].as_str().expect("a message"))
        .collect();
    let wanted = [
        "trailer-over-gvwr rests on rating, which no waiver accepts: this one does nothing",
        "unit-missing rests on how a sheet is read, which no waiver accepts: this one does nothing",
    ];
    assert_eq!(unused, wanted);
}

#[test]
fn a_waiver_that_accepts_nothing() {
    let yard = waived(GOOD, &format!("waive \"tongue-heavy\" {WHY}"));
    let json = yard.json(&["--today", "2026-11-25"]);
    assert_eq!(rules(&json), ["waiver-unused"]);
    let unused = finding(&json, "waiver-unused");
    assert_eq!(unused["message"], "this waiver accepted nothing: tongue-heavy found nothing where it holds");
    assert_eq!((unused["line"].as_u64(), unused["column"].as_u64()), (Some(4), Some(11)));
    // Over, it is told of by another rule; turned off, by none.
    assert_eq!(yard.rules(&["--today", "2027-04-01"]), ["waiver-ended"]);
    yard.put("yard.kdl", "yard \"Test Yard\" { follow \"none\"; set \"waiver-unused\" off=#true; }\n");
    assert_eq!(yard.rules(&["--today", "2026-11-25"]), [""; 0]);
}

/// Two legs with a waiver each and one for both.
fn two_legs(whole: &str, first: u32, second: u32) -> Yard {
    let leg = |name: &str, gap: u32| {
        let cargo = format!("cargo \"p\" weight=(lb)6000 length=(in)48 width=(in)44 height=(in)40 front-gap=(in){gap}");
        format!(" leg \"{name}\" {{\n  {cargo}\n }}\n")
    };
    let legs = leg("one", first) + &leg("two", second);
    let head = " truck \"pickup\"\n trailer \"flat\"\n conditions speed=(mph)55\n";
    Yard::new().file("a.kdl", format!("sheet \"a\" {{\n{head} {whole}\n{legs}}}\n"))
}

#[test]
fn it_is_unused_only_where_no_leg_needs_it_and_all_were_checked() {
    let waive = format!("waive \"tongue-heavy\" {WHY}");
    let day = ["--today", "2026-11-25"];
    assert_eq!(two_legs(&waive, GOOD, GOOD).rules(&day), ["waiver-unused"]);
    assert_eq!(two_legs(&waive, GOOD, HEAVY).rules(&day), ["tongue-heavy"]);
    let yard = two_legs(&waive, GOOD, GOOD);
    assert_eq!(yard.rules(&[&day[..], &["--leg", "one"]].concat()), [""; 0], "the other leg was not looked at");
    assert_eq!(yard.rules(&[&day[..], &["--sheet", "a"]].concat()), ["waiver-unused"]);
}

#[test]
fn it_is_not_called_unused_where_its_rule_could_not_be_judged() {
    let waive = format!("waive \"trailer-too-tall\" {WHY}");
    let text = sheet("a", GOOD).replace("    conditions", &format!("    {waive}\n    conditions"));
    let rule = "rule \"trailer-too-tall\" { level \"warning\"; title \"too tall for the shed\"; each \"load\"; param \"most\" (in)100 \
                doc=\"door of the shed\"; require \"load.height <= most\"; point \"trailer.gvwr\"; say \"{value} is too tall\"; \
                source \"the shed\" kind=\"company\"; why \"the door\"; }\n";
    let yard = Yard::new()
        .file("yard.kdl", "yard \"Test Yard\" { follow \"none\"; rules-from \"rules\"; }\n")
        .file("rules/tall.kdl", rule)
        .file("a.kdl", &text);
    assert_eq!(yard.rules(&["--today", "2026-11-25"]), ["waiver-unused"], "the deck's height is given");
    yard.put("fleet.kdl", crate::harness::FLEET.replace("width=(in)82 height=(in)25", "width=(in)82"));
    let left = yard.rules(&["--today", "2026-11-25"]);
    assert!(left.contains(&"cannot-tell".to_owned()) && !left.contains(&"waiver-unused".to_owned()), "{left:?}");
}

#[test]
fn a_note_that_a_margin_is_thin_can_be_accepted_too() {
    let thin = |waive: &str| {
        let text = sheet("a", GOOD).replace("front-gap=(in)98", "front-gap=(in)105");
        Yard::new().file("a.kdl", text.replace("    conditions", &format!("    {waive}\n    conditions")))
    };
    assert_eq!(thin("").rules(&["--today", "2026-11-25"]), ["margin-thin"]);
    let json = thin(&format!("waive \"margin-thin\" {WHY}")).json(&["--today", "2026-11-25"]);
    assert_eq!((rules(&json), &json["summary"]["waived"]), (vec!["margin-thin".to_owned()], &serde_json::json!(1)));
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
