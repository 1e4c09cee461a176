//! `set` in yard.kdl: what it moves, and what is said of a setting that does nothing.

use crate::harness::{FLEET, GOOD, HEAVY, LIGHT, Yard, finding, rules, sheet};

fn with(set: &str, gap: u32) -> Yard {
    // Sheets without ties and carrier: what published sets ask of them is not the subject, but where it is said to be.
    let own = set.is_empty() || ["follow", "state", "carrier", "coupling"].iter().any(|word| set.contains(word));
    let follow = if own { "" } else { "follow \"none\";" };
    Yard::new().file("yard.kdl", format!("yard \"y\" {{ {follow}\n    {set}\n}}\n")).file("a.kdl", sheet("a", gap))
}

#[test]
fn a_moved_bound_is_told_with_its_place() {
    let json = with("set \"tongue-light\" low=(pct)13", GOOD).json(&[]);
    assert_eq!(rules(&json), ["tongue-light"]);
    let light = finding(&json, "tongue-light");
    assert_eq!(light["figure"]["at_least"], 0.13);
    assert_eq!(light["labels"][0]["file"], "yard.kdl");
    assert_eq!(light["labels"][0]["text"], "this yard's own bound");
}

#[test]
fn levels_and_off() {
    let heavy = with("set \"tongue-heavy\" level=\"error\"", HEAVY);
    heavy.run(&["check"]).status(1);
    assert_eq!(finding(&heavy.json(&[]), "tongue-heavy")["level"], "error");
    assert_eq!(with("set \"tongue-heavy\" off=#true", HEAVY).rules(&[]), [""; 0]);
    assert_eq!(with("set \"tongue-light\" level=\"warning\"", LIGHT).json(&[])["summary"]["warnings"], 1);
}

/// Each setting that does nothing or may not do it, and words of what is said.
#[test]
fn settings_that_do_nothing() {
    for (set, rule, words) in [
        ("set \"tongue-ligth\" low=(pct)11", "setting-idle", "tongue-light"),
        ("set \"tongue-light\" loww=(pct)11", "setting-idle", "write low"),
        ("set \"tongue-light\" low=(pct)10", "setting-idle", "already"),
        ("set \"tongue-light\" low=(lb)900", "unit-wrong", "share"),
        ("set \"tongue-light\" low=11", "unit-missing", "unit"),
        ("set \"tongue-light\" low=(pct)110", "not-possible", "from 0 pct to 100 pct"),
        ("set \"tongue-light\" low=(pct)-9", "not-possible", "from 0 pct to 100 pct"),
        ("set \"tongue-light\"", "setting-idle", "sets nothing"),
        ("set \"tongue-light\" level=\"error\"", "setting-idle", "already"),
        ("set \"tongue-light\" off=#false", "setting-idle", "on already"),
        ("set \"truck-over-gvwr\" off=#true", "setting-idle", "cannot be turned off"),
        ("set \"truck-over-gvwr\" level=\"note\"", "setting-idle", "cannot be lowered"),
        ("set \"over-width\" level=\"warning\"", "setting-idle", "cannot be lowered"),
        ("set \"unknown-word\" level=\"note\"", "setting-idle", "cannot be lowered"),
        ("set \"unknown-word\" off=#true", "setting-idle", "cannot be turned off"),
        ("set \"tongue-heavy\" level=\"fatal\"", "unknown-word", "warning"),
    ] {
        let yard = with(set, GOOD);
        let json = yard.json(&[]);
        let found = rules(&json);
        assert_eq!(found.len(), 1, "{set}: {json:#}");
        let one = &json["findings"][0];
        let said = format!("{} {}", one["message"], one["help"]);
        assert!(found[0] == rule && said.contains(words), "{set}: {found:?} {said}");
        assert_eq!((&one["file"], &one["line"]), (&"yard.kdl".into(), &2.into()));
    }
}

#[test]
fn a_binding_rule_stays_on_whatever_the_yard_says() {
    let heavy = sheet("a", GOOD).replace("(lb)6000", "(lb)12000");
    let yard = with("set \"trailer-over-gvwr\" off=#true", GOOD).file("a.kdl", heavy);
    let found = yard.rules(&[]);
    assert!(found.contains(&"trailer-over-gvwr".to_owned()) && found.contains(&"setting-idle".to_owned()), "{found:?}");
}

#[test]
fn set_twice() {
    let json = with("set \"tongue-light\" low=(pct)13; set \"tongue-light\" low=(pct)9", GOOD).json(&[]);
    assert!(!rules(&json).is_empty(), "one of the two does nothing: {json:#}");
}

#[test]
fn what_cannot_tell_may_be_raised() {
    let bare = sheet("a", GOOD).replace("height=(in)40 ", "");
    let yard = with("set \"cannot-tell\" level=\"error\"", GOOD).file("a.kdl", bare);
    yard.run(&["check"]).status(1);
    assert_eq!(yard.rules(&[]), ["cannot-tell"]);
}

/// The rules of the EU are on only where the yard follows them, and those of the US only where it does not say otherwise.
#[test]
fn rule_sets_are_on_where_they_are_followed() {
    let heavy = sheet("a", GOOD).replace("(lb)6000", "(lb)7000");
    let ids = |follow: &str| -> Vec<String> {
        let yard = with(follow, GOOD).file("a.kdl", heavy.clone());
        yard.json(&["--gate", "error"])["findings"]
            .as_array()
            .unwrap()
            .iter()
            .map(|one| format!("{} {}", one["rule"].as_str().unwrap(), one["message"].as_str().unwrap()))
            .collect()
    };
    let spoken = |all: &[String], rule: &str| all.iter().any(|one| one.contains(rule));
    let (unset, us, eu, both) = (ids(""), ids("follow \"us\""), ids("follow \"eu\""), ids("follow \"us\" \"eu\""));
    assert_eq!(unset, us);
    assert!(!spoken(&unset, "nose-load-over"), "{unset:#?}");
    assert!(spoken(&eu, "nose-load-over") && spoken(&both, "nose-load-over"), "{eu:#?}");
    assert!(!spoken(&eu, "setting-idle") && !spoken(&both, "setting-idle"), "{eu:#?}");
    // What a yard sets of rules that it does not follow does nothing.
    let idle = with("set \"coupling-d-value\" light=(kg)3000", GOOD).json(&[]);
    let said = finding(&idle, "setting-idle")["message"].to_string();
    assert!(said.contains("does not follow"), "{idle:#}");
    let idle = with("follow \"eu\"; set \"brakes-expected\" from=(lb)2000", GOOD).json(&[]);
    assert!(rules(&idle).contains(&"setting-idle".to_owned()), "{idle:#}");
}

/// The state moves the figure that differs there; a state of which nothing is known is told.
#[test]
fn the_state_moves_what_differs_there() {
    let unbraked = |weight: u32, state: &str| {
        let text = sheet("a", GOOD).replace("weight=(lb)6000", &format!("weight=(lb){weight}"));
        let fleet = FLEET.replace("brakes \"electric\"", "brakes \"none\"");
        with(state, GOOD).file("fleet.kdl", fleet).file("a.kdl", text).json(&[])
    };
    let speaks = |json: &serde_json::Value| rules(json).contains(&"brakes-expected".to_owned());
    let empty = unbraked(600, "");
    let figure = |json: &serde_json::Value| finding(json, "brakes-expected")["figure"].clone();
    assert!(speaks(&empty), "{empty:#}");
    let gross = figure(&empty)["value"].as_f64().unwrap() / 0.453_592_37;
    assert!((3000.0..4500.0).contains(&gross), "{gross}");
    for state in ["Texas", "texas", "TX"] {
        let there = unbraked(600, &format!("state \"{state}\""));
        assert!(!speaks(&there) && !rules(&there).contains(&"setting-idle".to_owned()), "{state}: {there:#}");
    }
    let nevada = unbraked(600, "state \"Nevada\"");
    assert_eq!(finding(&nevada, "brakes-expected")["labels"][0]["file"], "yard.kdl");
    let ohio = with("state \"Ohio\"", GOOD).json(&[]);
    assert!(rules(&ohio).contains(&"setting-idle".to_owned()), "{ohio:#}");
    // What the yard sets goes over the state's figure.
    assert!(speaks(&unbraked(600, "state \"Texas\"; set \"brakes-expected\" from=(lb)3100")));
}

/// What the yard says of the carrier holds for every sheet that does not say otherwise.
#[test]
fn a_carrier_of_the_whole_yard() {
    let speaks = |yard: &str, own: &str| {
        let text = sheet("a", GOOD).replacen("trailer \"flat\"", &format!("trailer \"flat\"\n    {own}"), 1);
        let json = with(yard, GOOD).file("a.kdl", text).json(&[]);
        rules(&json).contains(&"carrier-number-needed".to_owned())
    };
    let both = "carrier interstate=#true business=#true";
    assert!(speaks(both, "") && !speaks("", ""));
    assert!(!speaks(both, "carrier interstate=#false") && speaks("carrier business=#true", "carrier interstate=#true"));
    assert!(!speaks(both, "carrier number=#true"));
}
