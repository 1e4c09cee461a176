//! What the program says of its rules: `why`, `rules`, `rules --names`, `rules --test`.

use crate::harness::{Yard, sheet};

/// The widest line that is not an excerpt of a rule file: those are quoted as they stand.
fn widest(text: &str) -> Option<&str> {
    let quoted = |line: &&str| line.starts_with("    ") || line.contains('│');
    text.lines().filter(|line| !quoted(line)).max_by_key(|line| line.chars().count())
}

fn ids() -> Vec<String> {
    let rules = Yard::empty().run(&["rules", "--format", "json"]).status(0).json();
    let rules = rules["rules"].as_array().expect("rules").clone();
    rules.iter().map(|rule| rule["rule"].as_str().expect("an id").to_owned()).collect()
}

/// Rules whose fault cannot stand in an example: a file over the limit, a file that is not UTF-8.
const UNSHOWN: [&str; 2] = ["not-readable", "too-large"];

#[test]
fn every_rule_has_a_why_that_fits() {
    let ids = ids();
    assert!(ids.len() > 40);
    let yard = Yard::empty();
    for id in ids {
        let ran = yard.run(&["why", &id]);
        ran.status(0);
        assert_eq!(ran.err, "");
        // No text in a rule file can show what is no text.
        let parts = if UNSHOWN.contains(&&*id) { &["Source"][..] } else { &["Source", "This fails", "This passes"] };
        for part in parts {
            assert!(ran.out.contains(part), "{id} says no {part}");
        }
        let widest = widest(&ran.out).unwrap_or("");
        assert!(widest.chars().count() <= 80, "{id}: {widest}");
        let loud = ran.out.lines().find(|line| line.ends_with('!') || line.contains("! "));
        assert_eq!(loud, None, "{id}: calm words");
    }
}

#[test]
fn two_of_them_as_they_are() {
    let yard = Yard::empty();
    insta::assert_snapshot!(yard.run(&["why", "tongue-light"]).out);
    insta::assert_snapshot!(yard.run(&["why", "unit-missing"]).out);
}

#[test]
fn the_list_of_rules() {
    let yard = Yard::empty();
    let ran = yard.run(&["rules"]);
    ran.status(0);
    let widest = widest(&ran.out).unwrap_or("");
    assert!(widest.chars().count() <= 80, "{widest}");
    insta::assert_snapshot!(ran.out);
}

#[test]
fn the_list_of_names() {
    let ran = Yard::empty().run(&["rules", "--names"]);
    ran.status(0);
    let widest = ran.out.lines().max_by_key(|line| line.chars().count()).unwrap_or("");
    assert!(widest.chars().count() <= 80, "{widest}");
    insta::assert_snapshot!(ran.out);
}

#[test]
fn the_list_shows_what_the_yard_set() {
    let yard = Yard::new()
        .file(
            "yard.kdl",
            "yard \"y\" {\n rules-from \"rules\"\n set \"tongue-light\" low=(pct)11\n set \"tongue-heavy\" off=#true\n set \
             \"leans\" level=\"error\"\n}\n",
        )
        .file("rules/house.kdl", house("", ""));
    let json = yard.run(&["rules", "--format", "json"]).status(0).json();
    let rule = |id: &str| {
        let rules = json["rules"].as_array().expect("rules");
        rules.iter().find(|rule| rule["rule"] == id).unwrap_or_else(|| panic!("no {id}")).clone()
    };
    assert_eq!(rule("tongue-light")["params"][0]["value"], 0.11);
    assert_eq!(rule("tongue-light")["params"][0]["moved"], true);
    assert_eq!(rule("tongue-heavy")["off"], true);
    assert_eq!(rule("leans")["level"], "error");
    assert_eq!(rule("house")["file"], "rules/house.kdl");
    assert!(rule("leans")["file"].is_null());
    let text = yard.run(&["rules"]).status(0).out.clone();
    assert!(text.contains("from rules/house.kdl"), "{text}");
    let why = yard.run(&["why", "house"]);
    why.status(0);
    assert!(why.out.contains("The house has its reasons."), "{}", why.out);
}

#[test]
fn no_such_rule() {
    let ran = Yard::empty().run(&["why", "tongue-ligth"]);
    assert_eq!((ran.status, &*ran.out), (2, ""));
    assert_eq!(ran.err, "draylint: there is no rule \"tongue-ligth\"; did you mean tongue-light?\n");
    let ran = Yard::empty().run(&["why", "weather"]);
    assert_eq!(ran.err, "draylint: there is no rule \"weather\"; `draylint rules` lists them all\n");
    Yard::empty().run(&["rules", "nowhere"]).status(2);
    Yard::empty().run(&["rules", "--test", "--names"]).status(2);
}

/// A company's rule with two examples; each holds what stands in its braces.
fn house(fails: &str, passes: &str) -> String {
    let example = |which: &str, body: &str| {
        if body.is_empty() { String::new() } else { format!("    example \"{which}\" {{\n{body}    }}\n") }
    };
    format!(
        "rule \"house\" {{\n    level \"warning\"\n    title \"more than the house limit rides on the hitch\"\n    each \"load\"\n    \
         param \"most\" (lb)1000 doc=\"the house limit\"\n    require \"trailer.tongue <= most\"\n    point \"item.place\"\n    say \
         \"{{trailer.tongue}} rides on the hitch, the house limit is {{most}}\"\n    source \"house rule\" kind=\"company\"\n    why \"The \
         house has its reasons.\"\n{}{}}}\n",
        example("fails", fails),
        example("passes", passes)
    )
}

/// An example that rests on the built-in example yard: a crate of 6,000 lb at a gap in inches.
fn crate_at(gap: u32, remark: &str) -> String {
    sheet("example", gap).replace("pallet", "crate").replace("\n}", &format!("{remark}\n}}"))
}

fn tried(fails: &str, passes: &str) -> (i32, String) {
    let yard = Yard::new()
        .file("yard.kdl", "yard \"y\" { follow \"none\"; rules-from \"rules\"; }\n")
        .file("rules/house.kdl", house(fails, passes));
    let ran = yard.run(&["rules", "--test"]);
    (ran.status, ran.out)
}

#[test]
fn the_built_in_examples_hold() {
    let ran = Yard::empty().run(&["rules", "--test"]);
    assert!(ran.out.ends_with(" examples tried, 0 amiss\n"), "{}", ran.out);
    ran.status(0);
}

#[test]
fn a_company_rule_whose_examples_hold() {
    let (status, out) = tried(&crate_at(98, "  // expect house"), &crate_at(105, ""));
    assert_eq!(status, 0, "{out}");
    assert!(out.ends_with(" examples tried, 0 amiss\n"), "{out}");
}

#[test]
fn silent_stray_and_misplaced() {
    let (status, out) = tried(&crate_at(105, ""), "");
    assert_eq!(status, 1, "{out}");
    assert!(out.starts_with("silent: house: example \"fails\"\n"), "{out}");

    let (status, out) = tried("", &crate_at(98, ""));
    assert_eq!(status, 1, "{out}");
    assert!(out.starts_with("stray: house: example \"passes\"\n"), "{out}");
    assert!(out.contains("warning house at rules/house.kdl"), "{out}");

    // Another rule speaks beside it.
    let (status, out) = tried(&crate_at(86, ""), "");
    assert_eq!(status, 1, "{out}");
    assert!(out.starts_with("stray: house: example \"fails\"\n"), "{out}");

    let misplaced = crate_at(98, "").replace("trailer \"flat\"", "trailer \"flat\"  // expect house");
    let (status, out) = tried(&misplaced, "");
    assert_eq!(status, 1, "{out}");
    assert!(out.starts_with("misplaced: house: example \"fails\"\n"), "{out}");
}

#[test]
fn an_example_with_a_slip_of_its_own_is_stray() {
    let (status, out) = tried(&crate_at(98, "").replace("weight=(lb)", "weight="), "");
    assert_eq!(status, 1, "{out}");
    assert!(out.contains("house: example \"fails\""), "{out}");
    assert!(out.contains("unit-missing at rules/house.kdl"), "{out}");
}

#[test]
fn the_words_of_the_language() {
    let yard = Yard::empty();
    let ran = yard.run(&["words"]);
    ran.status(0);
    let wide = ran.out.lines().find(|line| line.chars().count() > 80);
    assert_eq!(wide, None);
    for word in
        ["weight-distributing", "equalized", "waive \"rule\"", "leg \"name\"", "lb kg t ton", "16 ft 4 in", "gravel"]
    {
        assert!(ran.out.contains(word), "{word}");
    }
    let one = yard.run(&["words", "hitch"]);
    one.status(0);
    assert!(one.out.starts_with("in truck\nhitch [\"kind\"]"), "{}", one.out);
    assert!(!one.out.contains("coupler"), "{}", one.out);
    let none = yard.run(&["words", "htich"]);
    assert_eq!((none.status, &*none.err), (2, "draylint: there is no word \"htich\"; did you mean hitch?\n"));
    let none = yard.run(&["words", "xylophone"]);
    assert_eq!(none.err, "draylint: there is no word \"xylophone\"; `draylint words` lists them all\n");
}

#[test]
fn examples_tried_for_a_program() {
    let yard = Yard::new()
        .file("yard.kdl", "yard \"y\" { follow \"none\"; rules-from \"rules\"; }\n")
        .file("rules/house.kdl", house(&crate_at(105, ""), ""));
    let ran = yard.run(&["rules", "--test", "--format", "json"]);
    ran.status(1);
    let json = ran.json();
    assert_eq!(json["schema"], 1);
    assert!(json["tried"].as_u64().expect("a count") > 40);
    assert_eq!(json["amiss"], serde_json::json!([{"rule": "house", "example": "fails", "how": "silent"}]));
    assert_eq!(json["without"], serde_json::json!([]));
}

#[test]
fn a_company_rule_without_examples_is_told() {
    let (status, out) = tried("", "");
    assert_eq!(status, 0, "{out}");
    assert!(out.starts_with("no examples: house\n"), "{out}");
    assert!(out.ends_with(" 0 amiss\n"), "{out}");
    let (_, out) = tried(&crate_at(98, "  // expect house"), "");
    assert!(!out.contains("no examples"), "{out}");
}

#[test]
fn a_number_from_memory_is_called_so_once() {
    let ran = Yard::empty().run(&["why", "over-height"]);
    let source = ran.out.split("Source\n").nth(1).expect("a source");
    let source = source.split("\n\n").next().expect("a paragraph");
    assert!(source.contains("; from memory: check it"), "{source}");
    assert_eq!(source.matches("memory").count(), 1, "{source}");
}

#[test]
fn help_with_a_command_is_that_commands_help() {
    let yard = Yard::empty();
    let asked = yard.run(&["help", "weigh"]);
    asked.status(0);
    assert_eq!(asked.out, yard.run(&["weigh", "--help"]).out);
    assert_eq!(yard.run(&["help"]).status(0).out, yard.run(&["--help"]).out);
    yard.run(&["help", "wiegh"]).status(2);
}
