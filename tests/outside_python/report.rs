//! A report as a browser shows it, on a screen, a phone and paper (`tests/python/report.py`).

use std::collections::{BTreeMap, BTreeSet};
use std::ffi::OsStr;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::LazyLock;

use serde::Deserialize;
use serde_json::{Value, json};
use tempfile::TempDir;

use crate::python::ask;

const DAY: &str = "2026-11-25";

/// Names by which Debian and others call Chromium.
const BROWSERS: [&str; 3] = ["chromium", "chromium-browser", "google-chrome"];

#[derive(Deserialize)]
struct Seen {
    index: Index,
    sheets: BTreeMap<String, Sheet>,
    requests: Vec<String>,
    told: Vec<String>,
    dialogs: Vec<String>,
}

#[derive(Deserialize)]
struct Index {
    title: String,
    unsorted: Vec<String>,
    /// By column: the order after it was chosen once, and once more.
    sorted: BTreeMap<String, [Vec<String>; 2]>,
    aria: BTreeMap<String, [String; 2]>,
    filtered: BTreeMap<String, (Vec<String>, String)>,
    link: [String; 3],
    letter: Printed,
    faults: Vec<String>,
    wider: i64,
    phone: Phone,
    #[serde(rename = "without script")]
    without_script: (Vec<String>, usize),
}

#[derive(Deserialize)]
struct Sheet {
    title: String,
    text: String,
    pictures: Vec<String>,
    named: usize,
    boxes: usize,
    elements: Vec<String>,
    faults: Vec<String>,
    wider: i64,
    letter: Option<Printed>,
    a4: Option<Printed>,
    phone: Phone,
}

#[derive(Deserialize)]
struct Phone {
    faults: Vec<String>,
    wider: i64,
    #[serde(default)]
    pictures: usize,
    #[serde(default)]
    rows: usize,
    scale: Option<f64>,
}

#[derive(Debug, Deserialize)]
struct Printed {
    pages: usize,
    size: [f64; 2],
    text: String,
}

/// The browser; nothing where there is none, which fails under `CI`.
#[expect(clippy::print_stderr, reason = "says that there is no browser")]
fn browser() -> Option<PathBuf> {
    let path = std::env::var_os("PATH").unwrap_or_default();
    let named = |folder: PathBuf| BROWSERS.map(|name| folder.join(name)).into_iter().find(|file| file.is_file());
    let found = std::env::split_paths(&path).find_map(named);
    if found.is_none() {
        assert!(std::env::var_os("CI").is_none(), "no browser: install Chromium");
        eprintln!("skipped: no browser among {BROWSERS:?}");
    }
    found
}

fn run(arguments: &[&OsStr]) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_draylint")).args(arguments).output().unwrap();
    assert!(output.stderr.is_empty(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap()
}

/// A report of a yard, and what a browser shows of these of its pages; all of them where none is named.
fn seen(yard: &Path, pages: &[&str], pdf: &[&str], filters: &[[&str; 3]]) -> Option<(TempDir, Seen)> {
    let browser = browser()?;
    let home = TempDir::new().unwrap();
    let out = home.path().join("report");
    run(&["report".as_ref(), yard.as_ref(), "--out".as_ref(), out.as_ref(), "--today".as_ref(), DAY.as_ref()]);
    // The crew's list is a page too.
    let sheet: &[&str] = if yard == example() { &["--sheet", LISTED] } else { &[] };
    let list = ["walkaround", "--format", "html", "--today", DAY].iter().chain(sheet).map(AsRef::as_ref);
    fs::write(out.join(LIST), run(&list.chain([yard.as_os_str()]).collect::<Vec<_>>())).unwrap();
    let mut all: Vec<String> =
        fs::read_dir(&out).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    all.retain(|name| {
        name == LIST || name.starts_with("sheet") && (pages.is_empty() || pages.contains(&name.as_str()))
    });
    all.sort();
    let question = json!({ "folder": out, "browser": browser, "pages": all, "pdf": pdf, "filters": filters });
    let seen: Seen = ask("report.py", &question)?;
    // Nothing is asked of anyone, nothing is amiss in the console, nothing that a name says is run.
    let own = format!("file://{}/", out.canonicalize().unwrap().display());
    assert!(seen.requests.iter().all(|url| url.starts_with(&own)), "{:?}", seen.requests);
    assert!(seen.told.is_empty() && seen.dialogs.is_empty(), "{:?} {:?}", seen.told, seen.dialogs);
    let sides = seen.sheets.values().map(|sheet| (&sheet.faults, sheet.wider));
    let phones = seen.sheets.values().map(|sheet| (&sheet.phone.faults, sheet.phone.wider));
    let index = [(&seen.index.faults, seen.index.wider), (&seen.index.phone.faults, seen.index.phone.wider)];
    for (faults, wider) in sides.chain(phones).chain(index) {
        assert!(faults.is_empty(), "{faults:?}");
        assert_eq!(wider, 0, "a page is as wide as its window");
    }
    assert_eq!(seen.sheets.len(), all.len());
    Some((home, seen))
}

/// The page of a crew's list, and the sheet that it is made for.
const LIST: &str = "walkaround.html";
const LISTED: &str = "trencher-move";

/// The page that is printed.
const PRINTED: &str = "sheet-trencher-move.html";

/// The report of the example yard.
static EXAMPLE: LazyLock<Option<(TempDir, Seen)>> = LazyLock::new(|| {
    let filters = [["text", "Containing", "stone leg"], ["fails", "Verdict", "fails"], ["rule", "Found", "ramp-steep"]];
    seen(&example(), &[PRINTED, "sheet-barn-lane.html"], &[PRINTED, LIST], &filters)
});

fn example() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/yard")
}

/// The loads as the index names them, with the rules that `check` finds at fault in each.
fn loads() -> BTreeMap<String, Vec<Value>> {
    let of = |command: &str| -> Value {
        let yard = example();
        let arguments = [command.as_ref(), yard.as_os_str(), "--format".as_ref(), "json".as_ref(), "--today".as_ref()];
        serde_json::from_str(&run(&[&arguments[..], &[DAY.as_ref()]].concat())).unwrap()
    };
    let name = |of: &Value| {
        let leg = of["leg"].as_str().map(|leg| format!(", leg {leg}")).unwrap_or_default();
        format!("{}{leg}", of["sheet"].as_str().unwrap())
    };
    let weighed = of("weigh");
    let mut loads: BTreeMap<String, Vec<Value>> =
        weighed["loads"].as_array().unwrap().iter().map(|load| (name(load), Vec::new())).collect();
    for finding in of("check")["findings"].as_array().unwrap() {
        if finding["sheet"].is_string()
            && let Some(load) = loads.get_mut(&name(finding))
        {
            load.push(finding.clone());
        }
    }
    loads
}

#[test]
fn the_index_sorts_and_filters() {
    let Some((_, seen)) = &*EXAMPLE else { return };
    let index = &seen.index;
    assert_eq!(index.title, "Load report");
    let loads = loads();
    let mut all: Vec<&String> = index.unsorted.iter().collect();
    assert_eq!(all.len(), loads.len());
    all.sort();
    assert_eq!(all, loads.keys().collect::<Vec<_>>(), "every load stands there once");
    let reversed = |[once, again]: &[Vec<String>; 2]| once.iter().eq(again.iter().rev());
    assert_eq!(index.sorted.keys().collect::<Vec<_>>(), ["findings", "margin", "text", "verdict"]);
    assert!(reversed(&index.sorted["text"]), "names differ, so each order is the other turned round");
    assert!(index.sorted["text"][0].is_sorted_by_key(|name| name.to_lowercase()));
    for (column, orders) in &index.sorted {
        assert_eq!(index.aria[column], ["ascending", "descending"]);
        for order in orders {
            let mut sorted: Vec<&String> = order.iter().collect();
            sorted.sort();
            assert_eq!(sorted, all, "{column}: no row is lost");
        }
    }
    let errors = |name: &String| {
        let open = |finding: &&Value| finding["level"] == "error" && finding.get("waived").is_none_or(Value::is_null);
        loads[name].iter().filter(open).count()
    };
    let last = |order: &[String]| order.iter().position(|name| errors(name) == 0).unwrap_or(order.len());
    let verdicts = &index.sorted["verdict"][0];
    assert_eq!(verdicts[0], "monday", "what cannot be computed comes first");
    assert!(verdicts[last(verdicts)..].iter().all(|name| errors(name) == 0), "then all that fail: {verdicts:?}");
    assert!(index.sorted["findings"][0].is_sorted_by(|a, b| errors(a) >= errors(b)), "the most errors first");
    assert_eq!(index.sorted["margin"][0].last().unwrap(), "monday", "a margin that is not known stands last");
    assert_eq!(index.sorted["margin"][1].last().unwrap(), "monday", "either way");

    let (shown, told) = &index.filtered["text"];
    let fits = |name: &&String| name.contains("stone") && name.contains("leg");
    let sorted = |names: &[String]| names.iter().cloned().collect::<BTreeSet<String>>();
    assert_eq!(sorted(shown), index.unsorted.iter().filter(fits).cloned().collect(), "every word, anywhere");
    assert_eq!(told, &format!("{} of {} shown: stone leg", shown.len(), loads.len()));
    let (shown, _) = &index.filtered["fails"];
    assert!(!shown.is_empty() && shown.iter().all(|name| errors(name) > 0));
    let (shown, _) = &index.filtered["rule"];
    let steep = |name: &String| loads[name].iter().any(|finding| finding["rule"] == "ramp-steep");
    assert!(!shown.is_empty() && loads.keys().filter(|name| steep(name)).all(|name| shown.contains(name)));

    let paper = &index.letter;
    assert!(paper.pages > 1 && loads.keys().all(|name| paper.text.contains(name)), "{paper:?}");
    assert!(paper.text.matches("Thinnest margin").count() >= 2, "the head of the table stands on every page of it");
    assert!(!paper.text.contains("shown"), "what narrows the table down is not printed");

    let [load, heading, address] = &index.link;
    assert!(load.starts_with(heading) && address.ends_with("#load-1"), "{:?}", index.link);
    assert_eq!(index.phone.rows, loads.len());
    assert_eq!(index.without_script, (index.unsorted.clone(), 0), "without its script it tells the same");
}

#[test]
fn a_sheet_is_told_on_a_screen_a_phone_and_paper() {
    let Some((_, seen)) = &*EXAMPLE else { return };
    let told = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    // A printer may join letters.
    let plain = |text: &str| {
        text.replace('\u{fb01}', "fi").replace('\u{fb02}', "fl").replace('\u{fb00}', "ff").replace('\u{2019}', "'")
    };
    let loads = loads();
    let found = &loads["trencher-move"];
    let sheet = &seen.sheets[PRINTED];
    assert_eq!(sheet.title, "Load sheet trencher-move");
    assert_eq!((sheet.pictures.len(), sheet.named, sheet.phone.pictures), (3, 3, 3));
    assert_eq!(seen.sheets["sheet-barn-lane.html"].pictures.len(), 6, "three for each leg");
    assert!(sheet.phone.scale.is_some_and(|scale| scale > 0.99), "{:?}", sheet.phone.scale);
    assert!(found.len() > 3);
    let letter = sheet.letter.as_ref().unwrap();
    let a4 = sheet.a4.as_ref().unwrap();
    for finding in found {
        for part in ["rule", "message", "help", "source"] {
            let Some(words) = finding[part].as_str().map(told) else { continue };
            assert!(sheet.text.contains(&words), "{words}");
            for paper in [letter, a4] {
                // A word that is broken at the end of a line is two for who reads the paper.
                let squeezed = |text: &str| plain(text).replace(char::is_whitespace, "");
                assert!(squeezed(&paper.text).contains(&squeezed(&words)), "{words}");
            }
        }
    }
    // Letter and A4 in points.
    assert!((letter.size[0] - 612.0).abs() < 1.0 && (letter.size[1] - 792.0).abs() < 1.0, "{:?}", letter.size);
    assert!((a4.size[0] - 595.3).abs() < 1.0 && (a4.size[1] - 841.9).abs() < 1.5, "{:?}", a4.size);
    for paper in [letter, a4] {
        for page in 1..=paper.pages {
            assert!(paper.text.contains(&format!("{page} of {}", paper.pages)), "{page}");
        }
        assert!(paper.text.matches("Load sheet trencher-move").count() >= paper.pages, "every page says of what it is");
        assert!((3..=10).contains(&paper.pages), "{} pages", paper.pages);
        assert!(!paper.text.contains("All loads"), "what leads elsewhere is not printed");
    }
}

#[test]
fn a_crews_list_is_told_on_a_phone_and_on_paper() {
    let Some((_, seen)) = &*EXAMPLE else { return };
    let list = &seen.sheets[LIST];
    let text = run(&["walkaround".as_ref(), example().as_os_str(), "--sheet".as_ref(), LISTED.as_ref()]);
    let ticks = text.matches("[ ]").count();
    assert!(ticks > 15);
    assert_eq!(list.boxes, ticks, "a box to tick for each step of the text");
    for paper in [list.letter.as_ref().unwrap(), list.a4.as_ref().unwrap()] {
        assert!((2..=5).contains(&paper.pages), "{} pages", paper.pages);
        for part in
            ["Place", "Before loading", "Secure", "Verify", "Drive", "Check again on the way", "the manual holds"]
        {
            assert!(paper.text.contains(part), "{part}");
        }
    }
}

#[test]
fn a_hostile_name_is_shown_and_does_nothing() {
    let name = "</title></script><script>alert(1)</script><img src=x onerror=alert(2)> & \"q\" 'r' `s` {t} \u{202e}x\u{1b}[31m";
    let written = name.replace('"', "\\\"").replace('\u{202e}', "\\u{202e}").replace('\u{1b}', "\\u{1b}");
    let home = TempDir::new().unwrap();
    for (path, from) in [("fleet", "src/yard/start/fleet"), ("sheets", "src/yard/start/sheets")] {
        fs::create_dir_all(home.path().join(path)).unwrap();
        for entry in fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join(from)).unwrap() {
            let entry = entry.unwrap();
            fs::copy(entry.path(), home.path().join(path).join(entry.file_name())).unwrap();
        }
    }
    fs::write(home.path().join("yard.kdl"), "yard \"x\"\n").unwrap();
    let sheets = home.path().join("sheets/first.kdl");
    let text = fs::read_to_string(&sheets).unwrap();
    let named = text.lines().find(|line| line.starts_with("sheet ")).unwrap();
    let long = format!("sheet \"{written}{}\" {{", "y".repeat(3000));
    // Another name and a leg with one: a tie that is not there brings them into findings.
    fs::write(&sheets, text.replacen(named, &long, 1).replacen("front-gap", "front-gup", 1)).unwrap();
    let Some((_kept, seen)) = seen(home.path(), &[], &[], &[]) else { return };
    let shown = "</title></script><script>alert(1)</script><img src=x onerror=alert(2)>";
    assert!(seen.index.unsorted[0].starts_with(shown), "{:?}", seen.index.unsorted);
    assert_eq!(seen.sheets.len(), 2);
    for sheet in seen.sheets.values() {
        assert!(sheet.text.contains(shown));
        assert!(!sheet.text.contains(['\u{202e}', '\u{1b}']));
        assert!(!sheet.elements.iter().any(|one| one == "script" || one == "img"), "{:?}", sheet.elements);
    }
}
