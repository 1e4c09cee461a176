//! A company's own rules: they can use all that the built-in ones use, and their mistakes are shown where they stand.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::path::Path;

use crate::harness::{GOOD, LIGHT, Yard, finding, rules, run_in, sheet};

/// A rule that passes, as a company would write it.
const SOUND: &str = r#"rule "house" {
    level "warning"
    title "more than the house limit rides on the hitch"
    each "load"
    param "most" (lb)1500 doc="the house limit"
    require "trailer.tongue <= most"
    point "item.place"
    say "{trailer.tongue} rides on the hitch, the house limit is {most}"
    source "house rule" kind="company"
    why "The house has its reasons."
}
"#;

fn with_rule(text: &str) -> Yard {
    Yard::new()
        .file("yard.kdl", "yard \"y\" { follow \"none\"; rules-from \"rules\"; }\n")
        .file("rules/house.kdl", text)
        .file("a.kdl", sheet("a", GOOD))
}

#[test]
fn a_company_rule_speaks() {
    let yard = with_rule(&SOUND.replace("1500", "1000"));
    let json = yard.json(&[]);
    assert_eq!(rules(&json), ["house"]);
    let house = finding(&json, "house");
    assert_eq!(house["message"], "1,175 lb rides on the hitch, the house limit is 1,000 lb");
    assert_eq!(house["file"], "a.kdl");
    assert_eq!(house["source"], "house rule (company)");
    assert_eq!(with_rule(SOUND).rules(&[]), [""; 0]);
    yard.put("a.kdl", sheet("a", LIGHT));
    assert_eq!(rules(&yard.json(&["rules/house.kdl"])), ["tongue-light"], "the rule's file asks for all loads");
}

#[test]
fn rules_that_no_setting_names_are_not_asked() {
    let yard = with_rule(&SOUND.replace("1500", "1000"));
    yard.put("yard.kdl", "yard \"y\" { follow \"none\"; }\n");
    let json = yard.json(&[]);
    assert_eq!(rules(&json), ["never-used"]);
    assert_eq!(finding(&json, "never-used")["file"], "rules/house.kdl");
}

#[test]
fn where_rules_may_come_from() {
    for (named, found) in [
        ("rules", &["house"][..]),
        ("./rules", &["house"]),
        (".", &["house"]),
        ("../rules", &["not-possible", "never-used"]),
        ("/rules", &["not-possible", "never-used"]),
        ("rules/../../out", &["not-possible", "never-used"]),
        ("", &["not-possible", "never-used"]),
        ("nothing", &["not-possible", "never-used"]),
        ("rule", &["not-possible", "never-used"]),
        ("empty", &["setting-idle", "never-used"]),
    ] {
        let yard = with_rule(&SOUND.replace("1500", "1000"));
        yard.put("yard.kdl", format!("yard \"y\" {{ follow \"none\"; rules-from \"{named}\"; }}\n"));
        yard.put("empty/notes.txt", "no rule\n");
        let mut said = yard.rules(&[]);
        let mut wanted: Vec<String> = found.iter().map(|&id| id.to_owned()).collect();
        said.sort();
        wanted.sort();
        assert_eq!(said, wanted, "{named}");
    }
}

/// A unit that measures what a figure measures, by the unit of results.
fn annotation(si: &str) -> &'static str {
    match si {
        "kg" => "(kg)",
        "N" => "(N)",
        "m" => "(m)",
        "1" => "(pct)",
        "m3" => "(m3)",
        "m/s" => "(kmh)",
        "Pa" => "(kPa)",
        "deg" => "(deg)",
        other => panic!("a figure is measured in {other}"),
    }
}

/// Every figure at every subject where it is there, in a rule of its own that no load can pass: each must be asked.
#[test]
fn every_subject_and_every_figure_can_be_used() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let names = run_in(root, &["rules", "--names", "--format", "json"]).status(0).json();
    let names = names["names"].as_array().expect("names").clone();
    let all = [
        "sheet",
        "load",
        "truck",
        "truck-axle",
        "hitch",
        "trailer",
        "trailer-axle",
        "wheel",
        "item",
        "machine",
        "attachment",
        "tie",
        "anchor",
        "bulk",
        "reading",
        "waiver",
    ];
    let yard = Yard::empty();
    copy(&root.join("fixtures/yard"), &yard, Path::new(""));
    // No place cures that there is a figure, so none is looked for.
    let mut ids = BTreeSet::new();
    for each in all {
        let mut text = String::new();
        for name in &names {
            let of = name["each"].as_array().expect("a list");
            if !of.is_empty() && !of.iter().any(|one| one == each) {
                continue;
            }
            let figure = name["name"].as_str().expect("a name");
            let id = format!("{each}-{}", figure.replace(['.', '_'], "-"));
            let (param, require) = match name["measures"].as_str().expect("a word") {
                "word" => (String::new(), format!("{figure} == 'no such word'")),
                "yes or no" => (String::new(), format!("{figure} && !{figure}")),
                "number" | "count" => ("param \"p\" -1000000".to_owned(), format!("{figure} < p")),
                _ => {
                    let unit = annotation(name["unit"].as_str().expect("a unit"));
                    (format!("param \"p\" {unit}-1000000"), format!("{figure} < p"))
                }
            };
            let _ = writeln!(
                text,
                "rule \"{id}\" {{\n level \"note\"\n title \"t\"\n each \"{each}\"\n {param}\n require \"{require}\"\n \
                 cure \"rating\"\n say \"{id}: {{{figure}}}\"\n source \"s\" kind=\"company\"\n why \"w\"\n}}"
            );
            ids.insert(id);
        }
        yard.put(format!("rules/{each}.kdl"), text);
    }
    assert!(ids.len() > 600, "{}", ids.len());
    let found = yard.json(&[]);
    assert!(!rules(&found).contains(&"rule-broken".to_owned()), "{:#}", finding(&found, "rule-broken"));
    let mut asked: BTreeSet<String> = rules(&found).into_iter().collect();
    let weighed = yard.run(&["weigh", "--format", "json"]).status(0).json();
    for load in weighed["loads"].as_array().expect("loads") {
        let undecided = load["undecided"].as_array().expect("a list");
        asked.extend(undecided.iter().filter_map(|one| one["rule"].as_str()).map(str::to_owned));
    }
    let silent: Vec<&String> = ids.iter().filter(|id| !asked.contains(*id)).collect();
    assert_eq!(silent, [""; 0]);
}

fn copy(from: &Path, to: &Yard, under: &Path) {
    for entry in std::fs::read_dir(from).expect("a folder") {
        let entry = entry.expect("an entry");
        let under = under.join(entry.file_name());
        if entry.path().is_dir() {
            copy(&entry.path(), to, &under);
        } else {
            to.put(under, std::fs::read(entry.path()).expect("a file"));
        }
    }
}

/// Each slip of a rule's author: what to write in the sound rule instead, with the place of the finding in ⟦ ⟧, and
/// words of the message and its help.
const SLIPS: &[(&str, &str, &str)] = &[
    ("trailer.tongue <= most", "⟦trailer.tonge⟧ <= most", "trailer.tongue"),
    ("trailer.tongue <= most", "trailer.tongue <= ⟦mosst⟧", "most"),
    ("\"trailer.tongue <= most\"", "\"⟦axle.load⟧ <= most\"", "axle.load"),
    ("param \"most\" (lb)1500", "param \"most\" (in)1500", "length"),
    ("trailer.tongue <= most\"", "trailer.tongue <= ⟦1500⟧\"", "unit"),
    ("trailer.tongue <= most\"", "trailer.tongue <=⟦⟧\"", ""),
    ("trailer.tongue <= most", "⟦trailer.tongue⟧", ""),
    ("hitch, the", "hitch, {⟦trailer.tonge⟧} the", "trailer.tonge"),
    ("level \"warning\"", "level ⟦\"fatal\"⟧", "error, warning, note"),
    ("level \"warning\"", "⟦levell⟧ \"warning\"", "level"),
    ("each \"load\"", "each ⟦\"lode\"⟧", "load"),
    ("point \"item.place\"", "point ⟦\"item.plce\"⟧", "item.place"),
    ("(lb)1500", "(⟦lbs⟧)1500", "lb"),
    ("why \"", "⟦param \"level\" (lb)1⟧\n    why \"", "level"),
    ("why \"The house has its reasons.\"", "why ⟦12⟧", "text"),
    ("kind=\"company\"", "kind=⟦\"compny\"⟧", "company"),
    ("kind=\"company\"", "kind=\"company\" status=⟦\"rumour\"⟧", "seen"),
    ("why \"", "cure ⟦\"weather\"⟧\n    why \"", "place"),
    ("why \"", "gives-way-to ⟦\"tongue-lite\"⟧\n    why \"", "tongue-lite"),
    ("why \"", "⟦level⟧ \"note\"\n    why \"", "twice"),
];

/// The text without its marks, and the marked range in bytes.
fn marked(text: &str) -> (String, Option<(usize, usize)>) {
    let start = text.find('⟦');
    let end = text.find('⟧').map(|end| end - '⟦'.len_utf8());
    (text.replace(['⟦', '⟧'], ""), start.zip(end))
}

/// The bytes of a text between two places of a result.
fn range(text: &str, place: &serde_json::Value) -> (usize, usize) {
    let at = |line: &str, column: &str| {
        let number = |key: &str| usize::try_from(place[key].as_u64().expect("a number")).expect("small");
        let start: usize = text.split_inclusive('\n').take(number(line) - 1).map(str::len).sum();
        let rest = &text[start..];
        start + rest.chars().take(number(column) - 1).map(char::len_utf8).sum::<usize>()
    };
    (at("line", "column"), at("end_line", "end_column"))
}

#[test]
fn each_kind_of_slip_is_shown_at_its_place() {
    for (sound, slip, words) in SLIPS {
        assert!(SOUND.contains(sound), "{sound}");
        let (text, wanted) = marked(&SOUND.replacen(sound, slip, 1));
        let yard = with_rule(&text);
        let ran = yard.run(&["check"]);
        ran.status(2);
        assert!(ran.out.contains("error rule-broken at rules/house.kdl"), "{slip}\n{}", ran.out);
        let json = yard.json(&[]);
        let broken = finding(&json, "rule-broken");
        let said = format!("{} {}", broken["message"], broken["help"]);
        assert!(said.contains(words), "{slip}: {said}");
        if let Some(wanted) = wanted {
            let (start, end) = range(&text, broken);
            assert_eq!(&text[start..end], &text[wanted.0..wanted.1], "{slip}: {said}");
            assert_eq!((start, end), wanted, "{slip}: {said}");
        }
        // One slip, one finding; and the sheets are still checked.
        assert_eq!(rules(&json).iter().filter(|rule| *rule == "rule-broken").count(), 1, "{slip}: {json:#}");
        assert_eq!(json["summary"]["loads"], 1);
    }
}

#[test]
fn what_every_rule_must_say() {
    for word in ["level", "title", "each", "require", "say", "source", "why"] {
        let lines: Vec<&str> = SOUND.lines().filter(|line| !line.trim_start().starts_with(word)).collect();
        let yard = with_rule(&lines.join("\n"));
        yard.run(&["check"]).status(2);
        let broken = finding(&yard.json(&[]), "rule-broken").clone();
        assert_eq!(broken["message"], format!("this rule does not say its {word}"));
        assert_eq!(broken["line"], 1);
    }
}

#[test]
fn a_rule_file_that_is_not_even_kdl() {
    let yard = with_rule(&SOUND.replace("title \"more", "title more\""));
    yard.put("a.kdl", sheet("a", LIGHT));
    let ran = yard.run(&["check"]);
    ran.status(2);
    assert!(ran.out.contains("not-kdl at rules/house.kdl"), "{}", ran.out);
    assert!(ran.out.contains("tongue-light at a.kdl"), "{}", ran.out);
    // Narrowing hides no reason.
    let ran = yard.run(&["check", "a.kdl"]);
    ran.status(2);
    assert!(ran.out.contains("rules/house.kdl"), "{}", ran.out);
    let ran = yard.run(&["check", "--sheet", "a"]);
    ran.status(2);
    assert!(ran.out.contains("rules/house.kdl"), "{}", ran.out);
    let ran = yard.run(&["weigh"]);
    ran.status(2);
    assert!(ran.err.contains("rules/house.kdl") && ran.out.contains("sheet a"), "{ran:?}");
    for command in ["rules", "rules --test"] {
        let ran = yard.run(&command.split(' ').collect::<Vec<_>>());
        ran.status(2);
        assert!(ran.err.contains("rules/house.kdl"), "{ran:?}");
    }
    let ran = yard.run(&["why", "house"]);
    ran.status(2);
    assert!(ran.err.contains("rules/house.kdl"), "{ran:?}");
    yard.run(&["why", "tongue-light"]).status(0);
}

#[test]
fn an_id_that_is_taken() {
    let yard = with_rule(&SOUND.replace("\"house\"", "\"tongue-light\""));
    yard.run(&["check"]).status(2);
    let json = yard.json(&[]);
    let broken = finding(&json, "rule-broken");
    assert_eq!(broken["message"], "there is a rule \"tongue-light\" already");
    assert_eq!((&broken["line"], &broken["column"]), (&1.into(), &6.into()));

    let yard = with_rule(SOUND);
    yard.put("rules/other.kdl", SOUND);
    yard.run(&["check"]).status(2);
    let json = yard.json(&[]);
    let broken = finding(&json, "rule-broken");
    assert_eq!((&broken["file"], &broken["labels"][0]["file"]), (&"rules/other.kdl".into(), &"rules/house.kdl".into()));
}

#[test]
fn a_hostile_rule_does_no_harm() {
    let deep = format!("{}true{}", "(".repeat(4000), ")".repeat(4000));
    let long = vec!["trailer.tongue <= most"; 2000].join(" && ");
    for require in [&deep[..], &long, "", "\u{1b}[2J", "1.0 / 0.0 < 1.0", "trailer.tongue / (most - most) < 1.0"] {
        let yard = with_rule(&SOUND.replace("trailer.tongue <= most", require));
        let ran = yard.run(&["check"]);
        assert!((0..=2).contains(&ran.status), "{require:.40}");
        assert!(!ran.out.contains('\u{1b}'));
    }
}
