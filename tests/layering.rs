//! The structure of the project, read from its files: which room uses which, who touches the machine, how long a file
//! is, what lies at the top.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// Files longer than 400 lines, each with its reason.
const LONG: &[(&str, &str)] = &[];

/// What may lie at the top of the repository.
const TOP: &[&str] = &[
    ".ci",
    ".git",
    ".gitignore",
    ".rustfmt.toml",
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "LICENSE-APACHE",
    "LICENSE-MIT",
    "README.md",
    "book",
    "fixtures",
    "rules",
    "src",
    "target",
    "tests",
];

/// Crates that only one room may name.
const HELD_BY: &[(&str, &[&str])] = &[
    ("kdl", &["syntax"]),
    ("miette", &["render"]),
    ("schemars", &["render"]),
    ("serde", &["render"]),
    ("serde_json", &["render"]),
    ("unicode_width", &["render"]),
    ("clap", &["cli"]),
    ("clap_complete", &["cli"]),
    ("clap_mangen", &["cli"]),
    ("walkdir", &["yard"]),
    ("ignore", &["yard"]),
    ("tempfile", &["yard"]),
    ("maud", &["render"]),
    ("microlp", &["physics", "mend"]),
    ("similar", &["mend"]),
];

/// What touches the machine the program runs on, and the rooms that may.
const TOUCHES: &[(&str, &[&str])] = &[
    ("std::fs", &["yard"]),
    ("std::env", &["yard", "cli"]),
    ("std::io", &["yard", "cli"]),
    ("std::process", &["cli", "main.rs"]),
    ("std::net", &[]),
    ("std::time", &["cli"]),
    ("println!", &[]),
    ("print!", &[]),
    ("eprintln!", &[]),
    ("eprint!", &[]),
    ("dbg!", &[]),
];

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// A file under src: its path from there, the room it stands in, and its code without comments.
struct Code {
    path: String,
    room: String,
    text: String,
}

fn rust_files(folder: &Path, all: &mut Vec<PathBuf>) {
    let entries = std::fs::read_dir(folder).expect("a folder");
    for path in entries.map(|entry| entry.expect("an entry").path()) {
        if path.is_dir() {
            rust_files(&path, all);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            all.push(path);
        }
    }
    all.sort();
}

fn code() -> Vec<Code> {
    let src = root().join("src");
    let mut files = Vec::new();
    rust_files(&src, &mut files);
    assert!(files.len() > 50, "the walk finds the files");
    let read = |path: &PathBuf| {
        let text = std::fs::read_to_string(path).expect("a text");
        let path = path.strip_prefix(&src).expect("under src").to_str().expect("UTF-8").replace('\\', "/");
        let room = path.split('/').next().unwrap_or("").to_owned();
        Code { text: without_comments(&text), path, room }
    };
    // The build script stands in its room but runs elsewhere.
    files.iter().map(read).filter(|code| code.path != "rules/embed.rs").collect()
}

/// The text without line comments; a `//` inside a string costs the rest of its line, which hides nothing of use.
fn without_comments(text: &str) -> String {
    let lines = text.lines().map(|line| line.find("//").map_or(line, |at| &line[..at]));
    lines.collect::<Vec<_>>().join("\n")
}

/// The rooms in the order of src/lib.rs.
fn rooms() -> Vec<String> {
    let text = std::fs::read_to_string(root().join("src/lib.rs")).expect("lib.rs");
    let rooms = text.lines().filter_map(|line| line.strip_prefix("pub mod ")?.strip_suffix(';'));
    rooms.map(str::to_owned).collect()
}

/// The rooms that a text names as `crate::room`, also inside braces: `use crate::{text::Span, units}`.
fn named_rooms(text: &str) -> BTreeSet<String> {
    let word = |text: &str| text.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect::<String>();
    let mut named = BTreeSet::new();
    for (at, _) in text.match_indices("crate::") {
        // `macro_crate::` and the like are another crate.
        if text[..at].ends_with(|c: char| c.is_alphanumeric() || c == '_') {
            continue;
        }
        let rest = &text[at + "crate::".len()..];
        match rest.strip_prefix('{') {
            None => {
                named.insert(word(rest));
            }
            Some(list) => {
                let (mut depth, mut start) = (0, true);
                for (at, c) in list.char_indices() {
                    match c {
                        '{' => depth += 1,
                        '}' if depth == 0 => break,
                        '}' => depth -= 1,
                        ',' if depth == 0 => start = true,
                        c if c.is_whitespace() => {}
                        _ => {
                            if start && depth == 0 {
                                named.insert(word(&list[at..]));
                            }
                            start = false;
                        }
                    }
                }
            }
        }
    }
    named
}

/// Whether a text names a crate or a path: not as a part of a longer word or path.
fn names(text: &str, what: &str) -> bool {
    text.match_indices(what).any(|(at, _)| {
        let before = text[..at].chars().next_back();
        let after = text[at + what.len()..].chars().next();
        let part = |c: Option<char>| c.is_some_and(|c| c.is_alphanumeric() || c == '_');
        !part(before) && before != Some('"') && !part(after)
    })
}

#[test]
fn the_reader_of_paths_reads_paths() {
    let named =
        named_rooms("use crate::{text::{Span, Source}, units};\nlet a = crate::model::Yard; macro_crate::no::x");
    assert_eq!(named.into_iter().collect::<Vec<_>>(), ["model", "text", "units"]);
    assert!(names("use std::fs;", "std::fs") && names("std::fs::read(x)", "std::fs"));
    assert!(!names("eprintln!(x)", "println!") && names(" println!(x)", "println!"));
}

#[test]
fn a_room_uses_only_rooms_before_it() {
    let rooms = rooms();
    assert_eq!(rooms.first().map(String::as_str), Some("units"));
    assert_eq!(rooms.last().map(String::as_str), Some("cli"));
    let place = |room: &str| rooms.iter().position(|one| one == room);
    let mut faults = Vec::new();
    for code in code() {
        let Some(own) = place(&code.room) else {
            assert!(["main.rs", "lib.rs"].contains(&&*code.path), "{} stands in no room of lib.rs", code.path);
            continue;
        };
        for named in named_rooms(&code.text) {
            match place(&named) {
                Some(other) if other <= own => {}
                Some(_) => faults.push(format!("{} uses {named}, which comes later", code.path)),
                None => faults.push(format!("{} names crate::{named}, which is no room", code.path)),
            }
            if code.room == "physics" && !["units", "physics"].contains(&&*named) {
                faults.push(format!("{} uses {named}: physics knows only units", code.path));
            }
        }
    }
    assert_eq!(faults, [""; 0]);
}

#[test]
fn every_folder_is_a_room_in_the_list() {
    let rooms = rooms();
    for entry in std::fs::read_dir(root().join("src")).expect("src") {
        let path = entry.expect("an entry").path();
        let name = path.file_name().and_then(|name| name.to_str()).expect("UTF-8").to_owned();
        let known = if path.is_dir() { rooms.contains(&name) } else { ["main.rs", "lib.rs"].contains(&&*name) };
        assert!(known, "src/{name}");
    }
}

#[test]
fn each_crate_is_named_in_one_room() {
    let mut faults = Vec::new();
    for code in code() {
        for (name, rooms) in HELD_BY {
            let path = format!("{name}::");
            let inside = |at: usize| code.text[..at].ends_with(|c: char| c.is_alphanumeric() || c == '_' || c == ':');
            if !rooms.contains(&&*code.room) && code.text.match_indices(&path).any(|(at, _)| !inside(at)) {
                faults.push(format!("{} names {name}", code.path));
            }
        }
    }
    assert_eq!(faults, [""; 0]);
}

#[test]
fn only_the_rim_touches_the_machine() {
    let mut faults = Vec::new();
    for code in code() {
        for (what, rooms) in TOUCHES {
            if names(&code.text, what) && !rooms.contains(&&*code.room) {
                faults.push(format!("{} names {what}", code.path));
            }
        }
        // `use std::{fs, io}` would slip past the list above.
        assert!(!code.text.contains("use std::{"), "{}: one path a line", code.path);
    }
    assert_eq!(faults, [""; 0]);
}

#[test]
fn no_file_is_too_long() {
    let mut files = Vec::new();
    for folder in ["src", "tests"] {
        rust_files(&root().join(folder), &mut files);
    }
    let mut long = Vec::new();
    for path in files {
        let lines = std::fs::read_to_string(&path).expect("a text").lines().count();
        let name = path.strip_prefix(root()).expect("inside").to_str().expect("UTF-8").replace('\\', "/");
        let listed = LONG.iter().any(|(file, _)| *file == name);
        assert!(!(listed && lines <= 400), "{name} is no longer too long: take it out of the list");
        if lines > 400 && !listed {
            long.push(format!("{name}: {lines} lines"));
        }
    }
    assert_eq!(long, [""; 0]);
}

#[test]
fn the_top_holds_only_what_belongs_there() {
    let mut strange = Vec::new();
    for entry in std::fs::read_dir(root()).expect("the repository") {
        let name = entry.expect("an entry").file_name().into_string().expect("UTF-8");
        if !TOP.contains(&&*name) {
            strange.push(name);
        }
    }
    strange.sort();
    assert_eq!(strange, [""; 0]);
}

#[test]
fn no_path_of_a_machine_is_committed() {
    let mut files = Vec::new();
    for folder in ["src", "tests"] {
        rust_files(&root().join(folder), &mut files);
    }
    for path in files {
        let text = std::fs::read_to_string(&path).expect("a text");
        for part in ["work", "tmp", "home", "root"] {
            let found = text.match_indices(&format!("\"/{part}/")).next();
            assert!(found.is_none(), "{} holds a path of a machine", path.display());
        }
    }
}
