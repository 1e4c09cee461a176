//! The crew's list: what stands in it, in each form, and that its numbers are those of `weigh`.

use std::path::Path;
use std::sync::LazyLock;

use pulldown_cmark::{Event, Options, Parser, Tag};
use serde_json::Value;

use crate::harness::{GOOD, Ran, Yard, run_in, sheet};

/// A day on which the waivers of the example yard still hold, but for one.
const DAY: [&str; 2] = ["--today", "2026-11-25"];

fn demo(arguments: &[&str]) -> Ran {
    run_in(Path::new(env!("CARGO_MANIFEST_DIR")), &[arguments, &DAY].concat())
}

/// The list of one load of the example yard.
fn list(sheet: &str, leg: Option<&str>, more: &[&str]) -> String {
    let leg: Vec<&str> = leg.into_iter().flat_map(|leg| ["--leg", leg]).collect();
    let ran = demo(&[&["walkaround", "fixtures/yard", "--sheet", sheet][..], &leg, more].concat());
    assert_eq!(ran.err, "");
    ran.status(0);
    ran.out
}

/// A text without its line breaks, indents and frame.
fn flat(text: &str) -> String {
    let lines = text.lines().map(|line| line.trim_start_matches("| ").trim_end_matches('|'));
    lines.flat_map(str::split_whitespace).collect::<Vec<_>>().join(" ")
}

/// What stands in the page's body.
fn body(page: &str) -> &str {
    page.split_once("</head>").expect("a head").1
}

#[test]
fn as_text() {
    insta::assert_snapshot!(list("loader-mill-road", None, &[]));
    insta::assert_snapshot!(list("paving-slabs", None, &["--units", "si"]));
}

#[test]
fn as_markdown() {
    insta::assert_snapshot!(list("digger-and-stone", Some("out"), &["--format", "markdown"]));
}

#[test]
fn as_html() {
    insta::assert_snapshot!(body(&list("skid-and-plate", None, &["--format", "html"])).replace("><", ">\n<"));
}

/// The number after the first place where a phrase stands, and by how much it can be off for its rounding.
fn number(text: &str, phrase: &str) -> Option<(f64, f64)> {
    let rest = &text[text.find(phrase)? + phrase.len()..];
    let digits: String = rest.chars().take_while(|c| c.is_ascii_digit() || "-,.".contains(*c)).collect();
    let digits = digits.trim_end_matches(['.', ',']).replace(',', "");
    let decimals = digits.split_once('.').map_or(0, |(_, after)| after.len());
    // Zeros at the end are not printed, so a number may be finer than it looks, never coarser.
    Some((digits.parse().ok()?, 0.5 * 10_f64.powi(-i32::try_from(decimals).unwrap())))
}

#[track_caller]
fn same(text: &str, phrase: &str, value: &Value, unit: f64) {
    let value = value.as_f64().expect("a number") / unit;
    let (told, rounding) = number(text, phrase).unwrap_or_else(|| panic!("nothing after {phrase:?} in {text}"));
    assert!((told - value).abs() <= rounding * 1.000_001, "{phrase}: {told} is told, {value} is weighed");
}

/// The list of a load among those of the whole yard, which is made once.
fn among_all(sheet: &str, leg: Option<&str>) -> String {
    static ALL: LazyLock<String> = LazyLock::new(|| demo(&["walkaround", "fixtures/yard", "--units", "us", "-q"]).out);
    let leg = leg.map_or_else(String::new, |leg| format!(", leg {leg}"));
    let head = format!("sheet {sheet}{leg}\n");
    let from = ALL.find(&head).unwrap_or_else(|| panic!("no {head} in the yard"));
    let rest = &ALL[from..];
    flat(&rest[..rest[1..].find("\nsheet ").map_or(rest.len(), |end| end + 1)])
}

/// The loads of the example yard with their figures.
fn weighed() -> Vec<Value> {
    let json = demo(&["weigh", "fixtures/yard", "--format", "json"]).json();
    json["loads"].as_array().expect("loads").clone()
}

#[test]
fn each_number_is_the_one_that_weigh_gives() {
    const LB: f64 = 0.453_592_37;
    const INCH: f64 = 0.0254;
    let mut compared = 0;
    for load in weighed() {
        let Some(figures) = load["figures"].as_object() else { continue };
        let text = among_all(load["sheet"].as_str().unwrap(), load["leg"].as_str());
        let trailer = text.split_once(", trailer ").unwrap().1.split_once(';').unwrap().0.to_owned();
        let truck = text.split_once(" truck ").unwrap().1.split_once(',').unwrap().0.to_owned();
        let one_axle = !figures.contains_key("trailer.axle[2].load");
        for (name, figure) in figures {
            let gauge = match name.as_str() {
                "trailer.tongue" => "bars are set expected ".to_owned(),
                "trailer.tongue_share" => "divided by the trailer's gross expected ".to_owned(),
                "trailer.gross" => "tongue and axles together expected ".to_owned(),
                "trailer.axles.load" if !one_axle => "trailer's axles together expected ".to_owned(),
                "truck.axle[front].load" => format!("{truck}'s front axle, coupled expected "),
                "truck.axle[rear].load" => format!("{truck}'s rear axle, coupled expected "),
                "truck.gross" => "the truck's axles together, coupled expected ".to_owned(),
                "combination.gross" => "truck and trailer together expected ".to_owned(),
                "trailer.axle[1].load" if one_axle => format!("{trailer}'s axle, on its own expected "),
                "trailer.axle[1].load" => format!("{trailer}'s axle 1, on its own expected "),
                "trailer.axle[2].load" => format!("{trailer}'s axle 2, on its own expected "),
                _ => String::new(),
            };
            let unit = if figure["unit"] == "1" { 0.01 } else { LB };
            if !gauge.is_empty() {
                same(&text, &gauge, &figure["value"], unit);
                let from = text.find(&gauge).unwrap() + gauge.len();
                let rest = text[from..].split(" read ").next().unwrap();
                for (key, phrase) in [("plus_minus", "± "), ("at_least", "at least "), ("at_most", "at most ")] {
                    // That nothing may weigh less than nothing is not told.
                    match figure.get(key).filter(|value| value.as_f64().is_some_and(|value| value != 0.0)) {
                        Some(value) => same(rest, phrase, value, unit),
                        None => assert!(!rest.contains(phrase), "{name}: {rest}"),
                    }
                }
                compared += 1;
            }
            let Some((item, own)) = name.split_once('[').and_then(|(_, rest)| rest.rsplit_once("].")) else { continue };
            let (phrase, unit) = match own {
                "clearance" => ("clearance ", INCH),
                "tongue_least" => ("no stands bearing: ", LB),
                "truck_rear_axle_least" => ("then carries at the least: ", LB),
                "ramp_load" => ("puts on each ramp at the most: ", LB),
                "pitch" => ("it stands at ", 1.0),
                "stands_load" => ("so that the coupler does not lift - up to ", LB),
                _ => continue,
            };
            // Only one machine in these loads climbs.
            let machines = figures.keys().filter(|name| name.ends_with("].pitch")).count();
            if machines == 1 && figure["value"].is_number() && text.contains(phrase) {
                let from = if own == "ramp_load" { text.find(&format!("{item} puts on")).unwrap() } else { 0 };
                same(&text[from..], phrase, &figure["value"], unit);
                compared += 1;
            }
        }
        for name in figures.keys() {
            let Some(item) = name.strip_prefix("tie[").and_then(|rest| rest.strip_suffix("].holds_forward")) else {
                continue;
            };
            let section = text.split_once(" 3. Secure ").unwrap().1.split_once(" 4. Verify ").unwrap().0;
            let from = section.find(&format!(" {item} [ ]")).or_else(|| section.starts_with(item).then_some(0));
            let own = &section[from.unwrap_or_else(|| panic!("{item} in {section}"))..];
            for (way, phrase) in
                [("forward", "forward "), ("rearward", "rearward "), ("sideways", "sideways "), ("up", "down ")]
            {
                let figure = &figures[&format!("tie[{item}].holds_{way}")];
                if figure["value"].is_number() {
                    let held = &own[own.find("in parts of its weight: ").unwrap()..];
                    same(held, phrase, &figure["value"], 0.01);
                    compared += 1;
                }
            }
        }
    }
    assert!(compared > 200, "only {compared} numbers were compared");
}

#[test]
fn what_is_open_is_told_as_a_check_tells_it() {
    let mut open = 0;
    let loads = [
        ("trencher-move", None),
        ("monday", None),
        ("borrowed-trailer", None),
        ("cold-patch", None),
        ("mulch-and-stone", Some("mulch")),
        ("digger-and-stone", Some("out")),
        ("digger-and-stone", Some("stone")),
        ("barn-lane", Some("tractor and pipe")),
    ];
    for (sheet, leg) in loads {
        let text = among_all(sheet, leg);
        let leg: Vec<&str> = leg.into_iter().flat_map(|leg| ["--leg", leg]).collect();
        let units = ["--units", "us"];
        let check =
            demo(&[&["check", "fixtures/yard", "--format", "json", "--sheet", sheet][..], &leg, &units].concat());
        let findings = check.json()["findings"].as_array().unwrap().clone();
        let wanted: Vec<&Value> =
            findings.iter().filter(|one| one["level"] != "note" && one.get("waived").is_none()).collect();
        for finding in &wanted {
            let said = format!(
                "{}: {} ({} {})",
                if finding["level"] == "error" { "not ready" } else { "settle first" },
                flat(finding["message"].as_str().unwrap()),
                finding["level"].as_str().unwrap(),
                finding["rule"].as_str().unwrap()
            );
            assert!(text.contains(&said), "{said}\n{text}");
        }
        let told = text.matches("not ready: ").count() + text.matches("settle first: ").count();
        assert_eq!(told, wanted.len(), "{sheet}: {text}");
        open += wanted.len();
    }
    assert!(open > 30, "{open}");
}

#[test]
fn what_a_waiver_accepts_is_told_apart() {
    let text = flat(&list("digger-and-stone", Some("out"), &[]));
    assert!(text.contains("accepted by a waiver: tongue-heavy: "), "{text}");
    assert!(text.contains("accepted: two miles of farm lane, 20 mph; by yard foreman until 2027-03-31"), "{text}");
    let after = Path::new(env!("CARGO_MANIFEST_DIR"));
    let arguments =
        ["walkaround", "fixtures/yard", "--sheet", "digger-and-stone", "--leg", "out", "--today", "2027-04-01"];
    let text = flat(&run_in(after, &arguments).out);
    assert!(!text.contains("accepted by a waiver"), "{text}");
    assert!(text.contains("(warning tongue-heavy)") && text.contains("(warning waiver-ended)"), "{text}");
}

#[test]
fn a_load_that_cannot_be_computed_has_no_list() {
    for form in ["text", "markdown", "html"] {
        let out = list("monday", None, &["--format", form]);
        let told = flat(&out);
        assert!(told.contains("cannot be computed"), "{told}");
        assert!(told.contains("could not be read"), "{told}");
        // The page's style stands before its body.
        let list = out.split_once("</head>").map_or(&*out, |(_, body)| body);
        for word in ["[ ]", "expected", "measured", "checkbox", "working load limit", "<h2", "## "] {
            assert!(!list.contains(word), "{form}: {word}");
        }
    }
}

#[test]
fn every_leg_has_a_list_of_its_own() {
    let text = list("barn-lane", None, &[]);
    assert_eq!(text.matches("1. Place").count(), 2);
    assert!(text.contains("sheet barn-lane, leg tractor and pipe\n"), "{text}");
    assert!(text.contains("sheet barn-lane, leg loader, forks on\n"), "{text}");
    let page = list("barn-lane", None, &["--format", "html"]);
    assert_eq!((page.matches("<article>").count(), page.matches("<footer>").count()), (2, 1));
    let one = list("barn-lane", Some("loader, forks on"), &[]);
    assert!(!one.contains("tractor and pipe") && one.contains("nose away from the truck"), "{one}");
    // What is read off a gauge is told, and whether it can be believed.
    assert!(flat(&one).contains("already read on hitch gauge, first try: tongue weight 2,480 lb: void"), "{one}");
}

#[test]
fn flags_and_where_to_stop_again_come_from_their_rules() {
    let text = flat(&list("barn-lane", Some("tractor and pipe"), &[]));
    assert!(
        text.contains("[ ] drain pipe, banded projects 54 in behind the deck; beyond 4 ft it needs flags"),
        "{text}"
    );
    assert!(text.contains("- hang red or orange fluorescent flags"), "{text}");
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let sheet = ["fixtures/recheck-due/fails.kdl", "--sheet", "recheck-due fails 1"];
    let check = run_in(root, &[&["check", "--format", "json"], &sheet[..]].concat()).json();
    let due = check["findings"].as_array().unwrap().iter().find(|one| one["rule"] == "recheck-due").expect("it is due");
    let text = flat(&run_in(root, &[&["walkaround"], &sheet[..]].concat()).out);
    let again = text.split_once("6. Check again on the way ").unwrap().1;
    assert!(again.starts_with(due["message"].as_str().unwrap()), "{again}");
    assert!(again.contains("a duty on this trip"), "{again}");
}

/// A yard in which every name and text does its worst.
fn hostile() -> Yard {
    let name = "<script>alert(1)</script>\\\" onload='x' & [a](javascript:b) `c` *d* \\u{1b}[31m \\u{202e} | # - ";
    let text = sheet("a", GOOD)
        .replace("sheet \"a\"", &format!("sheet \"{name}\""))
        .replace("\"pallet\"", &format!("\"{name}\""))
        .replace(
            "    conditions",
            &format!("    aboard-truck \"{name}\" weight=(lb)100 ahead-of-rear-axle=(in)10\n    conditions"),
        )
        .replace("front-gap=(in)98", &format!("front-gap=(in)98 {{ tie \"{name}\" from=\"{name}\" to=\"{name}\"; }}"));
    Yard::new().file("a.kdl", text)
}

#[test]
fn names_do_no_harm() {
    let yard = hostile();
    let text = yard.run(&["walkaround"]).out;
    assert!(text.contains("<U+001B>[31m") && text.contains("<U+202E>"), "{text}");
    assert!(!text.contains(['\u{1b}', '\u{202e}']));
    let page = yard.run(&["walkaround", "--format", "html"]).out;
    assert!(page.contains("&lt;script&gt;alert(1)&lt;/script&gt;"), "{page}");
    assert!(!page.contains("<script") && !page.contains(['\u{1b}', '\u{202e}']), "{page}");
    // Whatever a tag is made of is ours: a name never stands within one.
    for tag in page.split('<').skip(1).map(|rest| rest.split('>').next().unwrap()) {
        assert!(!tag.contains("alert(") && !tag.contains("onload") && !tag.contains("javascript"), "<{tag}>");
    }
    let markdown = yard.run(&["walkaround", "--format", "markdown"]).out;
    for event in Parser::new_ext(&markdown, Options::ENABLE_TASKLISTS | Options::ENABLE_GFM | Options::ENABLE_TABLES) {
        let harm = matches!(
            event,
            Event::Html(_) | Event::InlineHtml(_) | Event::Code(_) | Event::Start(Tag::Link { .. } | Tag::Emphasis)
        );
        assert!(!harm, "{event:?} in {markdown}");
    }
}

#[test]
fn names_of_great_length_stay_within_the_width() {
    let long = "very ".repeat(400) + &"long".repeat(500);
    let yard = Yard::new().file("a.kdl", sheet("a", GOOD).replace("pallet", &long));
    let text = yard.run(&["walkaround"]).status(0).out.clone();
    assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
    yard.run(&["walkaround", "--format", "html"]).status(0);
}

#[test]
fn the_page_asks_nothing_of_any_network_and_runs_nothing() {
    let page = list("skid-and-plate", None, &["--format", "html"]);
    // An icon of nothing keeps a browser from asking for one.
    assert_eq!(page.matches("<link rel=\"icon\" href=\"data:,\">").count(), 1);
    let page = page.replace("<link rel=\"icon\" href=\"data:,\">", "");
    for word in ["http:", "https:", "//", "src=", "href", "url(", "@import", "<script", "<link", "<img", "javascript"] {
        assert!(!page.contains(word), "{word}");
    }
    assert!(page.contains("content=\"default-src 'none'; style-src 'unsafe-inline'"), "{page}");
    assert!(page.contains("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">"), "{page}");
}

#[test]
fn it_judges_nothing_and_ends_with_the_cautions() {
    let ran = demo(&["walkaround", "fixtures/yard/sheets/trencher-move.kdl"]);
    ran.status(0);
    let told = flat(&ran.out);
    assert!(told.ends_with("ask a licensed professional where the load calls for one."), "{told}");
    assert!(
        told.contains("the maker's manual of truck, trailer, machine or tie-down differ, the manual holds"),
        "{told}"
    );
    let quiet = list("trencher-move", None, &["-q"]);
    assert!(!quiet.contains("licensed professional"));
    assert!(quiet.contains("Nobody stands behind"), "what keeps people from harm is told whoever asks");
    demo(&["walkaround", "fixtures/yard", "--sheet", "trencher-mov"]).status(2);
    let none = Yard::empty().run(&["walkaround"]);
    none.status(0);
    assert!(none.out.starts_with("no loads here"), "{}", none.out);
}

/// A yard that follows no published set asks nothing of ties; its list must not read as if all were well.
#[test]
fn what_is_not_tied_is_still_to_be_done() {
    let yard = Yard::new().file("a.kdl", sheet("a", GOOD));
    let out = yard.run(&["walkaround"]).status(0).out.clone();
    let flat = out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains("by the rules that its yard follows nothing is open"), "{out}");
    assert!(flat.contains("[ ] tied down, as its maker, the trailer's and the law ask"), "{out}");
}
