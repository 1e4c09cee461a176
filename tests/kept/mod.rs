//! Documents that are kept: every file that one shows is written into a folder, every command whose output it shows is
//! run there, every part that is made is made, and what comes out must stand in the document byte for byte.
//!
//! Markers say what a block is; they are comments that the reader of the document does not see:
//!
//! - `<!-- file: NAME -->`: the block is a file of the small yard;
//! - `<!-- output: COMMAND | exit N | finds RULE … -->`: the block is what the command prints in the small yard;
//! - `<!-- output in this repository: … -->`: the same at the top of the repository;
//! - `<!-- message: COMMAND | exit N -->`: the block is what a command that prints no result says on standard error;
//! - `<!-- picture in this repository: FILE | COMMAND -->`: the file is what the command prints at the top of the repository;
//! - `<!-- rule holds: RULE -->`: the rule is in force in the small yard, and `draylint rules --test` finds nothing amiss there;
//! - `<!-- excerpt: DOCUMENT -->`: the block stands in that document too, line for line;
//! - `<!-- made: NAME -->`: from here to `<!-- end -->` is made from the program's own data.
//!
//! With the environment variable `DRAYLINT_UPDATE` set, outputs and made parts are rewritten instead of compared.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The variable that asks for what is stored to be rewritten.
pub(crate) const UPDATE: &str = "DRAYLINT_UPDATE";

pub(crate) fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

pub(crate) fn document(name: &str) -> String {
    fs::read_to_string(root().join(name)).unwrap_or_else(|why| panic!("{name}: {why}"))
}

/// What a command printed, and its exit status.
pub(crate) struct Ran {
    pub(crate) out: String,
    pub(crate) err: String,
    pub(crate) status: i32,
}

pub(crate) fn run(folder: &Path, words: &[&str]) -> Ran {
    let ran = run_whole(folder, words);
    assert!(ran.err.is_empty(), "{words:?} complains: {}", ran.err);
    ran
}

fn run_whole(folder: &Path, words: &[&str]) -> Ran {
    let mut command = Command::new(env!("CARGO_BIN_EXE_draylint"));
    command.args(words).current_dir(folder).env("LC_ALL", "C.UTF-8").env("NO_COLOR", "1");
    let output = command.output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    Ran { out: text(output.stdout), err: text(output.stderr), status: output.status.code().unwrap() }
}

/// The rules whose findings a `draylint check` with these further words shows, in order, each as often as it speaks.
fn found(folder: &Path, words: &[&str]) -> Vec<String> {
    let words = [words, &["--format", "json"]].concat();
    let report: serde_json::Value = serde_json::from_str(&run(folder, &words).out).unwrap();
    let findings = report["findings"].as_array().unwrap();
    findings.iter().map(|finding| finding["rule"].as_str().unwrap().to_owned()).collect()
}

/// The text between the fence that opens at the start of `rest` and the one that closes it.
fn fenced(rest: &str) -> &str {
    let fence = rest.lines().next().unwrap_or("");
    assert!(fence.starts_with("```"), "a block must follow its marker at once, not {fence:?}");
    let body = &rest[fence.len() + 1..];
    let end = if body.starts_with("```") { 0 } else { body.find("\n```").expect("a block that is closed") + 1 };
    &body[..end]
}

/// A document as it would be, and how much in it was tried.
#[derive(Default)]
pub(crate) struct Kept {
    pub(crate) text: String,
    pub(crate) files: usize,
    pub(crate) outputs: usize,
    pub(crate) rules: usize,
    pub(crate) made: usize,
}

/// Follows the markers of a document in a small yard; `part` makes the parts that are made.
pub(crate) fn keep(text: &str, yard: &Path, part: &dyn Fn(&str) -> Option<String>) -> Kept {
    let (mut kept, mut rest) = (Kept::default(), text);
    while let Some(at) = rest.find("<!-- ") {
        let end = at + rest[at..].find(" -->\n").expect("a marker on one line") + " -->\n".len();
        let marker = rest[at..end].trim_start_matches("<!-- ").trim_end_matches(" -->\n");
        kept.text.push_str(&rest[..end]);
        rest = &rest[end..];
        let (what, words) = marker.split_once(": ").unwrap_or_else(|| panic!("{marker:?} is no marker"));
        match what {
            "rule holds" => {
                let tried = run(yard, &["rules", "--test"]);
                assert_eq!(tried.status, 0, "{}", tried.out);
                assert!(run(yard, &["rules"]).out.contains(words), "{words} is not in force");
                kept.rules += 1;
                continue;
            }
            "picture in this repository" => {
                let (file, command) = words.split_once(" | ").expect("a file and a command");
                let stored = fs::read_to_string(root().join(file)).unwrap_or_default();
                let words: Vec<&str> = command.split(' ').collect();
                assert_eq!(words[0], "draylint");
                let ran = run(&root(), &words[1..]);
                assert_eq!(ran.status, 0, "{command}");
                settle(file, &stored, &ran.out);
                kept.outputs += 1;
                continue;
            }
            "made" => {
                let made = part(words).unwrap_or_else(|| panic!("nothing is made under the name {words:?}"));
                kept.text.extend(["\n", &made, "\n"]);
                rest = &rest[rest.find("<!-- end -->\n").expect("an end of what is made")..];
                kept.text.push_str("<!-- end -->\n");
                rest = &rest["<!-- end -->\n".len()..];
                kept.made += 1;
                continue;
            }
            _ => {}
        }
        let body = fenced(rest);
        let opening = rest.find('\n').unwrap() + 1;
        kept.text.push_str(&rest[..opening]);
        rest = &rest[opening + body.len()..];
        match what {
            "file" => {
                let path = yard.join(words);
                fs::create_dir_all(path.parent().unwrap()).unwrap();
                fs::write(path, body).unwrap();
                kept.text.push_str(body);
                kept.files += 1;
            }
            "excerpt" => {
                assert!(document(words).contains(body), "{words} does not hold\n{body}");
                kept.text.push_str(body);
            }
            "output" => {
                kept.text.push_str(&output(yard, words));
                kept.outputs += 1;
            }
            "output in this repository" => {
                kept.text.push_str(&output(&root(), words));
                kept.outputs += 1;
            }
            "message" => {
                let (command, exit) = words.split_once(" | exit ").expect("a command and its status");
                let ran = run_whole(yard, &command.split(' ').skip(1).collect::<Vec<_>>());
                assert_eq!((&*ran.out, &*ran.status.to_string()), ("", exit), "{command}");
                kept.text.push_str(&ran.err);
                kept.outputs += 1;
            }
            _ => panic!("no marker is called {what:?}"),
        }
    }
    kept.text.push_str(rest);
    kept
}

/// What a command prints, held against what its marker promises.
fn output(folder: &Path, marker: &str) -> String {
    let mut parts = marker.split(" | ");
    let command: Vec<&str> = parts.next().unwrap().split(' ').collect();
    assert_eq!(command[0], "draylint");
    let ran = run(folder, &command[1..]);
    for part in parts {
        match part.split_once(' ').unwrap() {
            ("exit", status) => assert_eq!(ran.status.to_string(), status, "{marker}: {}", ran.out),
            ("finds", "nothing") => assert_eq!(found(folder, &command[1..]), [""; 0]),
            ("finds", rules) => assert_eq!(found(folder, &command[1..]), rules.split(' ').collect::<Vec<_>>()),
            _ => panic!("no promise is called {part:?}"),
        }
    }
    ran.out
}

/// Compares what is stored under a name with what should be there, or stores it where that is asked for.
pub(crate) fn settle(name: &str, stored: &str, wanted: &str) {
    if stored == wanted {
        return;
    }
    assert!(
        std::env::var_os(UPDATE).is_some(),
        "{name}: run again with {UPDATE}=1 and read the difference; it would be\n{wanted}"
    );
    let path = root().join(name);
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(path, wanted).unwrap();
}

/// Asserts that the paths of the repository that a text names in backquotes are there, and tells how many it names.
pub(crate) fn paths_are_there(name: &str, text: &str, further: impl Iterator<Item = String>) -> usize {
    let mut seen = 0;
    let quoted = text.split('`').skip(1).step_by(2).map(str::to_owned);
    for path in quoted.chain(further) {
        let folders = ["src/", "tests/", "rules/", "fixtures/", "book/", ".ci/", "LICENSE", "DEVELOPERS", "README"];
        let is_path = folders.iter().any(|folder| path.starts_with(folder)) && !path.contains(['<', '*', ' ', '…']);
        // Some are files of the small yard.
        if is_path && !text.contains(&format!("<!-- file: {path} -->")) {
            assert!(root().join(&path).exists(), "{name} names {path}, which is not there");
            seen += 1;
        }
    }
    seen
}
