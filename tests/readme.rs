//! The README is kept: every file that it shows is written into an empty folder, every command whose output it shows is
//! run there, and what comes out must stand in the README byte for byte.
//!
//! Markers in the README say what a block is; they are comments that its reader does not see:
//!
//! - `<!-- file: NAME -->`: the block is a file of the small yard;
//! - `<!-- output: COMMAND | exit N | finds RULE … -->`: the block is what the command prints in the small yard;
//! - `<!-- output in this repository: … -->`: the same where the README stands;
//! - `<!-- rule holds: RULE -->`: the rule is in force in the small yard, and `draylint rules --test` finds nothing amiss there.
//!
//! With the environment variable `DRAYLINT_UPDATE` set, the blocks of outputs are rewritten instead of compared.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The variable that asks for stored outputs to be rewritten.
const UPDATE: &str = "DRAYLINT_UPDATE";

fn updating() -> bool {
    std::env::var_os(UPDATE).is_some()
}

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn document(name: &str) -> String {
    fs::read_to_string(root().join(name)).unwrap()
}

/// What a command printed, and its exit status.
struct Ran {
    out: String,
    status: i32,
}

fn run(folder: &Path, words: &[&str]) -> Ran {
    let mut command = Command::new(env!("CARGO_BIN_EXE_draylint"));
    command.args(words).current_dir(folder).env("LC_ALL", "C.UTF-8").env("NO_COLOR", "1");
    let output = command.output().unwrap();
    assert!(output.stderr.is_empty(), "{words:?} complains: {}", String::from_utf8_lossy(&output.stderr));
    Ran { out: String::from_utf8(output.stdout).unwrap(), status: output.status.code().unwrap() }
}

/// The rules whose findings `draylint check` shows, in order, each as often as it speaks.
fn found(folder: &Path) -> Vec<String> {
    let report: serde_json::Value = serde_json::from_str(&run(folder, &["check", "--format", "json"]).out).unwrap();
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

#[test]
fn what_the_readme_shows_is_what_happens() {
    let readme = document("README.md");
    let yard = tempfile::tempdir().unwrap();
    let (mut kept, mut rest) = (String::new(), &*readme);
    let (mut files, mut outputs, mut rules) = (0, 0, 0);
    while let Some(at) = rest.find("<!-- ") {
        let end = at + rest[at..].find(" -->\n").expect("a marker on one line") + " -->\n".len();
        let marker = rest[at..end].trim_start_matches("<!-- ").trim_end_matches(" -->\n");
        kept.push_str(&rest[..end]);
        rest = &rest[end..];
        let (what, words) = marker.split_once(": ").expect("a marker with a colon");
        if what == "rule holds" {
            let tried = run(yard.path(), &["rules", "--test"]);
            assert_eq!(tried.status, 0, "{}", tried.out);
            assert!(run(yard.path(), &["rules"]).out.contains(words), "{words} is not in force");
            rules += 1;
            continue;
        }
        let body = fenced(rest);
        let opening = rest.find('\n').unwrap() + 1;
        kept.push_str(&rest[..opening]);
        rest = &rest[opening + body.len()..];
        if what == "file" {
            let path = yard.path().join(words);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, body).unwrap();
            kept.push_str(body);
            files += 1;
            continue;
        }
        let folder = match what {
            "output" => yard.path().to_path_buf(),
            "output in this repository" => root(),
            _ => panic!("no marker is called {what:?}"),
        };
        let mut parts = words.split(" | ");
        let command: Vec<&str> = parts.next().unwrap().split(' ').collect();
        assert_eq!(command[0], "draylint");
        let ran = run(&folder, &command[1..]);
        for part in parts {
            match part.split_once(' ').unwrap() {
                ("exit", status) => assert_eq!(ran.status.to_string(), status, "{words}: {}", ran.out),
                ("finds", "nothing") => assert_eq!(found(&folder), [""; 0]),
                ("finds", rules) => assert_eq!(found(&folder), rules.split(' ').collect::<Vec<_>>()),
                _ => panic!("no promise is called {part:?}"),
            }
        }
        kept.push_str(&ran.out);
        outputs += 1;
    }
    kept.push_str(rest);
    // A README without markers would pass in silence.
    assert!(files >= 4 && outputs >= 3 && rules >= 1, "{files} files, {outputs} outputs, {rules} rules");
    if updating() {
        fs::write(root().join("README.md"), kept).unwrap();
    } else {
        assert!(kept == readme, "run again with {UPDATE}=1 and read the difference; it would be\n{kept}");
    }
}

#[test]
fn the_readme_names_the_commands_that_there_are() {
    let help = run(&root(), &["--help"]).out;
    let list = help.split("Commands:\n").nth(1).unwrap().split("\n\n").next().unwrap();
    // A command stands two spaces in; what it does goes on further in.
    let there = list.lines().filter(|line| !line.starts_with("   ")).filter_map(|line| line.split_whitespace().next());
    let readme = document("README.md");
    let named = readme.lines().filter_map(|line| line.strip_prefix("| `draylint ")?.split([' ', '`']).next());
    assert_eq!(there.collect::<BTreeSet<_>>(), named.collect::<BTreeSet<_>>());
}

#[test]
fn paths_that_the_documents_name_are_there() {
    for name in ["README.md", "DEVELOPERS.md"] {
        let text = document(name);
        let mut seen = 0;
        for path in text.split('`').skip(1).step_by(2).chain(links(&text)) {
            let folders = ["src/", "tests/", "rules/", "fixtures/", ".ci/", "LICENSE", "DEVELOPERS", "README"];
            let is_path = folders.iter().any(|folder| path.starts_with(folder)) && !path.contains(['<', '*', ' ', '…']);
            // `rules/room-in-front.kdl` is a file of the small yard.
            if is_path && !text.contains(&format!("<!-- file: {path} -->")) {
                assert!(root().join(path).exists(), "{name} names {path}, which is not there");
                seen += 1;
            }
        }
        assert!(seen > 2, "{name} names {seen} paths");
    }
}

/// Where the links of a document lead.
fn links(text: &str) -> impl Iterator<Item = &str> {
    text.split("](").skip(1).filter_map(|rest| rest.split(')').next())
}
