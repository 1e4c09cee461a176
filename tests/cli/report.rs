//! `report` as a user runs it: a folder of pages that lead to one another, ask nothing of anyone, and replace nothing that is
//! dear. What a browser makes of them: `tests/outside_python/report.rs`.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use tempfile::TempDir;

use crate::harness::{FLEET, GOOD, Yard, run_in, sheet};

const DAY: &str = "2026-11-25";

fn example() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/yard")
}

/// The pages of a report, by name.
fn pages(out: &Path) -> BTreeMap<String, String> {
    let name = |path: &Path| path.file_name().unwrap().to_str().unwrap().to_owned();
    let all = fs::read_dir(out).unwrap().map(|entry| entry.unwrap().path());
    all.map(|path| (name(&path), fs::read_to_string(&path).unwrap())).collect()
}

/// Reports on a yard, and gives the pages and what was told.
fn reported(yard: &Path, more: &[&str]) -> (TempDir, BTreeMap<String, String>, String) {
    let home = TempDir::new().unwrap();
    let out = home.path().join("report");
    let arguments = ["report", "--out", out.to_str().unwrap(), "--today", DAY];
    let told = run_in(yard, &[&arguments[..], more].concat()).status(0).out.clone();
    let pages = pages(&out);
    (home, pages, told)
}

/// The values of an attribute in a page.
fn values<'p>(page: &'p str, attribute: &str) -> Vec<&'p str> {
    let lead = format!(" {attribute}=\"");
    page.split(&*lead).skip(1).map(|rest| rest.split_once('"').unwrap().0).collect()
}

/// A page without its drawings.
fn without_drawings(page: &str) -> String {
    page.split("<svg")
        .enumerate()
        .map(|(at, part)| if at == 0 { part } else { part.split_once("</svg>").unwrap().1 })
        .collect()
}

#[test]
fn every_load_has_its_row_and_every_link_its_place() {
    let (_home, pages, told) = reported(&example(), &[]);
    let weighed = run_in(&example(), &["weigh", "--format", "json"]).json();
    let loads = weighed["loads"].as_array().unwrap();
    let index = &pages["index.html"];
    let rows: Vec<&str> = index.split("<tr role=\"row\" data-").skip(1).collect();
    assert_eq!(rows.len(), loads.len());
    let links: Vec<&str> = values(index, "href").into_iter().filter(|link| link.contains('#')).collect();
    assert_eq!(links.len(), loads.len());
    for (link, load) in links.iter().zip(loads) {
        let (page, place) = link.split_once('#').unwrap();
        assert!(values(&pages[page], "id").contains(&place), "{link}");
        assert!(pages[page].contains(&format!("<h1>{}</h1>", load["sheet"].as_str().unwrap())), "{link}");
    }
    assert!(
        told.starts_with("made ") && told.contains(&format!("{} loads: 1 cannot be computed, ", loads.len())),
        "{told}"
    );
    for (name, page) in pages.iter().filter(|(name, _)| *name != "pages.txt") {
        let mut ids = values(page, "id");
        let all = ids.len();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), all, "{name}: an id stands twice");
        for link in values(page, "href").into_iter().filter(|link| !link.starts_with("data:,")) {
            let to = link.split_once('#').map_or(link, |(to, _)| to);
            assert!(to.is_empty() || pages.contains_key(to), "{name} leads to {link}");
        }
        let outside = page.replace("http://www.w3.org/2000/svg", "");
        assert!(!outside.contains("://") && values(page, "src").is_empty(), "{name} asks nothing of anyone");
        assert_eq!(name == "index.html", page.contains("<script"), "{name}");
    }
    let list = &pages["pages.txt"];
    assert!(pages.keys().filter(|name| *name != "pages.txt").all(|name| list.lines().any(|line| line == name)));
}

#[test]
fn a_page_tells_what_check_and_weigh_tell() {
    let (_home, pages, _) = reported(&example(), &["--sheet", "digger-and-stone"]);
    assert_eq!(pages.keys().collect::<Vec<_>>(), ["index.html", "pages.txt", "sheet-digger-and-stone.html"]);
    let page = &pages["sheet-digger-and-stone.html"];
    let escaped =
        |text: &str| text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;");
    let found =
        run_in(&example(), &["check", "--sheet", "digger-and-stone", "--format", "json", "--today", DAY]).json();
    let found = found["findings"].as_array().unwrap();
    assert!(found.len() > 5 && found.iter().any(|finding| !finding["waived"].is_null()), "one is waived");
    for finding in found {
        for part in ["message", "help", "source"] {
            let Some(words) = finding[part].as_str() else { continue };
            assert!(page.contains(&escaped(words)), "{words}");
        }
    }
    assert!(page.contains("<b>Waived: </b>"));
    let weighed = run_in(&example(), &["weigh", "--quiet", "--sheet", "digger-and-stone"]).status(0).out.clone();
    let lines: Vec<&str> = weighed.lines().filter(|line| line.contains(" left") || line.contains(" over")).collect();
    assert!(lines.len() > 20);
    for line in lines {
        let room = line.rsplit("  ").next().unwrap();
        assert!(page.contains(&format!("{room}</td>")), "{line}");
    }
}

#[test]
fn it_is_the_same_on_one_thread_and_in_other_units_only_the_numbers_differ() {
    let (_one, pages, _) = reported(&example(), &["--jobs", "1", "--sheet", "barn-lane"]);
    let (_many, same, _) = reported(&example(), &["--jobs", "7", "--sheet", "barn-lane"]);
    assert!(pages == same);
    let (_other, si, _) = reported(&example(), &["--units", "si", "--sheet", "barn-lane"]);
    assert_eq!(si.keys().collect::<Vec<_>>(), pages.keys().collect::<Vec<_>>());
    let page = without_drawings(&si["sheet-barn-lane.html"]);
    assert!(page.contains(" kg left") && !page.contains(" lb left"), "{page}");
}

#[test]
fn a_plain_sheet_takes_less_than_twenty_kilobytes_beside_its_drawings() {
    let home = TempDir::new().unwrap();
    run_in(home.path(), &["start", "ours"]).status(0);
    let (_home, pages, _) = reported(&home.path().join("ours"), &[]);
    let page = &pages["sheet-first.html"];
    assert!(page.contains("<strong>This load passes</strong>"));
    let long = without_drawings(page).len();
    assert!((5_000..20_000).contains(&long), "{long} bytes");
}

#[test]
fn nothing_that_is_dear_is_replaced_and_nothing_is_left_of_a_run_that_fails() {
    let yard = Yard::new().file("sheets/a.kdl", sheet("a", GOOD));
    let home = TempDir::new().unwrap();
    let out = home.path().join("report");
    let report = |more: &[&str]| {
        let arguments = ["report", "--out", out.to_str().unwrap(), "--today", DAY];
        yard.run(&[&arguments[..], more].concat())
    };
    for wrong in [&["nowhere.kdl"][..], &["--sheet", "b"]] {
        let run = report(wrong);
        assert_eq!((run.status, run.out.as_str()), (2, ""));
        assert!(fs::read_dir(home.path()).unwrap().next().is_none(), "{wrong:?}");
    }
    report(&[]).status(0);
    report(&[]).status(0);
    fs::write(out.join("notes.txt"), "dear").unwrap();
    let run = report(&[]);
    assert_eq!(run.status, 2);
    assert!(run.err.contains("\"notes.txt\", which no report wrote"), "{}", run.err);
    assert_eq!(fs::read_to_string(out.join("notes.txt")).unwrap(), "dear");
    assert_eq!(fs::read_dir(home.path()).unwrap().count(), 1, "nothing is left beside it");
    // The yard's own folder is none that may be replaced.
    let run = yard.run(&["report", "--out", "."]);
    assert_eq!(run.status, 2);
    assert!(yard.path("fleet.kdl").exists());
    assert_eq!(yard.run(&["report"]).status, 2, "where to write is to be said");
}

#[test]
fn rules_that_cannot_be_read_are_told_on_the_index() {
    let yard = Yard::new()
        .file("yard.kdl", "yard \"x\" { rules-from \"rules\"; }")
        .file("rules/ours.kdl", "rule \"ours\" {\n    level \"grave\"\n}\n")
        .file("sheets/a.kdl", sheet("a", GOOD));
    let home = TempDir::new().unwrap();
    let out = home.path().join("report");
    let run = yard.run(&["report", "--out", out.to_str().unwrap()]);
    assert_eq!(run.status, 2);
    let index = &pages(&out)["index.html"];
    assert!(index.contains("Rules that could not be read") && index.contains("rules/ours.kdl:"), "{index}");
}

#[test]
fn no_loads_and_several_yards_are_reported_too() {
    let (_home, pages, told) = reported(&Yard::new().path(""), &[]);
    assert!(told.contains("0 loads\n"), "{told}");
    assert!(pages["index.html"].contains("No loads here"));

    let two = Yard::empty();
    for side in ["north", "south"] {
        two.put(format!("{side}/yard.kdl"), format!("yard \"{side}\""));
        two.put(format!("{side}/fleet.kdl"), FLEET);
        two.put(format!("{side}/a.kdl"), sheet("a", GOOD));
    }
    let (_home, pages, _) = reported(&two.path(""), &["north", "south"]);
    assert!(pages.contains_key("sheet-a.html") && pages.contains_key("sheet-a-2.html"), "{:?}", pages.keys());
    assert!(pages["sheet-a.html"].contains("north/a.kdl") && pages["sheet-a-2.html"].contains("south/a.kdl"));
}

#[test]
fn a_file_without_a_load_is_told_though_only_its_folder_was_asked_for() {
    let yard = Yard::new().file("sheets/a.kdl", sheet("a", GOOD)).file("sheets/b.kdl", "shet \"b\" {\n}\n");
    for asked in [&[][..], &["sheets"]] {
        let (_home, pages, _) = reported(&yard.path(""), asked);
        let index = &pages["index.html"];
        assert!(index.contains("Found elsewhere in the yard") && index.contains("sheets/b.kdl:"), "{asked:?}");
    }
    let (_home, pages, _) = reported(&yard.path(""), &["sheets/a.kdl"]);
    assert!(!pages["index.html"].contains("sheets/b.kdl:"), "what was not asked for is not told");
}
