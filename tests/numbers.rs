//! No bare number crosses a room's wall: what these rooms hand out or take in are quantities, never an `f64` that could be
//! taken for another kind.

use std::fs;
use std::path::{Path, PathBuf};

/// Rooms whose public items speak in quantities. `units` makes them; `figures`, `expr`, `rules` and `finding` carry figures
/// and bounds by name, where a number is in SI and what it measures stands beside it or in the registry.
const ROOMS: [&str; 6] = ["model", "physics", "syntax", "lower", "check", "yard"];

/// What may hold a number: with its kind beside it, or a pure ratio by its name.
const ALLOWED: [&str; 4] = [
    "pub plus_minus: Option<f64>,",
    "pub params: Vec<(Entry<Arc<str>>, f64, Option<Kind>)>,",
    "pub fn read_number(entry: &Entry) -> Result<(f64, Option<Kind>, Option<&'static Unit>), ReadError> {",
    "pub const PASSENGER_TIRE_DIVISOR: f64 = 1.10;",
];

fn rust_files(folder: &Path, all: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            rust_files(&path, all);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            all.push(path);
        }
    }
}

/// The public items of a text, each as far as its body: `pub fn mass(self) -> Mass`, `pub weight: Mass,`.
fn public_items(text: &str) -> Vec<String> {
    let lines: Vec<&str> = text.lines().map(str::trim).collect();
    let starts = lines.iter().enumerate().filter(|(_, line)| line.starts_with("pub ")).map(|(at, _)| at);
    let ends = |line: &&&str| !line.ends_with(['{', ';', '}']) && !line.ends_with("),");
    starts
        .map(|start| {
            let is_field = lines[start].ends_with(',') && !lines[start].contains("fn ");
            let more = if is_field { 0 } else { lines[start..].iter().take_while(ends).count() };
            lines[start..=(start + more).min(lines.len() - 1)].join(" ")
        })
        .collect()
}

#[test]
fn the_reader_of_items_reads_items() {
    let text = "    pub weight: f64,\n    other: f64,\npub fn a(\n    b: Mass,\n    c: f64,\n) -> Mass {\n    1.0_f64\n}\npub use x::Y;\n";
    let items = public_items(text);
    assert_eq!(items, ["pub weight: f64,", "pub fn a( b: Mass, c: f64, ) -> Mass {", "pub use x::Y;"]);
}

#[test]
fn no_public_item_holds_a_bare_number() {
    let mut faults = Vec::new();
    let mut seen = 0;
    for room in ROOMS {
        let mut files = Vec::new();
        rust_files(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src").join(room), &mut files);
        for file in files {
            let items = public_items(&fs::read_to_string(&file).unwrap());
            seen += items.len();
            let bare = items.into_iter().filter(|item| item.contains("f64") && !ALLOWED.contains(&&**item));
            faults.extend(bare.map(|item| format!("{}: {item}", file.display())));
        }
    }
    assert_eq!(faults, [""; 0]);
    assert!(seen > 200, "only {seen} public items were read");
}
