//! What a walk takes, leaves aside and survives: ignored, hidden and linked files, hostile names and hostile texts.

use crate::harness::{FLEET, GOOD, LIGHT, Ran, Yard, finding, program, rules, sheet};

/// The sheets of all loads.
fn loads(yard: &Yard) -> Vec<String> {
    let json = yard.run(&["weigh", "--format", "json"]).json();
    let loads = json["loads"].as_array().expect("loads").clone();
    loads.iter().map(|load| load["sheet"].as_str().expect("a name").to_owned()).collect()
}

#[test]
fn ignored_files() {
    let yard = Yard::new()
        .folder(".git")
        .file(".gitignore", "old/\n*.draft.kdl\n!keep.draft.kdl\n")
        .file("a.kdl", sheet("a", GOOD))
        .file("old/b.kdl", sheet("b", GOOD))
        .file("c.draft.kdl", sheet("c", GOOD))
        .file("keep.draft.kdl", sheet("keep", GOOD))
        .file("sheets/.gitignore", "d.kdl\n!e.draft.kdl\n/anchored.kdl\n")
        .file("sheets/d.kdl", sheet("d", GOOD))
        .file("sheets/e.draft.kdl", sheet("e", GOOD))
        .file("sheets/anchored.kdl", sheet("anchored", GOOD))
        .file("sheets/deep/anchored.kdl", sheet("deep", GOOD))
        .file("other/d.kdl", sheet("other d", GOOD));
    assert_eq!(loads(&yard), ["a", "keep", "other d", "deep", "e"]);
}

#[test]
fn a_parents_ignore_file_counts_up_to_the_top_of_the_repository() {
    let outer = Yard::empty()
        .file(".gitignore", "*.kdl\n")
        .folder("repository/.git")
        .file("repository/.gitignore", "drafts\n")
        .file("repository/yard/yard.kdl", "yard \"y\" { follow \"none\"; }\n")
        .file("repository/yard/fleet.kdl", FLEET)
        .file("repository/yard/drafts/b.kdl", sheet("b", GOOD))
        .file("repository/yard/a.kdl", sheet("a", GOOD));
    assert_eq!(loads(&outer), ["a"], "what lies above the repository does not count");
}

#[test]
fn hidden_files_and_folders() {
    let yard = Yard::new()
        .file("a.kdl", sheet("a", GOOD))
        .file(".hidden/b.kdl", sheet("b", GOOD))
        .file(".c.kdl", sheet("c", GOOD))
        .file("sheets/.d/e.kdl", sheet("e", GOOD));
    assert_eq!(loads(&yard), ["a"]);
    yard.run(&["check", ".hidden"]).status(0);
}

#[test]
fn only_kdl_files_and_only_files() {
    let yard = Yard::new()
        .file("a.kdl", sheet("a", GOOD))
        .file("b.kdl.bak", sheet("b", GOOD))
        .file("c.KDL", sheet("c", GOOD))
        .folder("folder.kdl")
        .file("folder.kdl/d.kdl", sheet("d", GOOD));
    assert_eq!(loads(&yard), ["a", "d"]);
    yard.run(&["check"]).status(0);
}

#[cfg(unix)]
#[test]
fn links_are_never_followed() {
    use std::os::unix::fs::symlink;
    let outside = Yard::empty().file("out.kdl", sheet("out", LIGHT)).file("folder/b.kdl", sheet("b", LIGHT));
    let yard = Yard::new().file("a.kdl", sheet("a", GOOD)).file("sheets/c.kdl", sheet("c", GOOD));
    symlink(outside.path("out.kdl"), yard.path("out.kdl")).expect("a link");
    symlink(outside.path("folder"), yard.path("far")).expect("a link");
    symlink(yard.path("a.kdl"), yard.path("near.kdl")).expect("a link");
    symlink(yard.path("sheets"), yard.path("again")).expect("a link");
    symlink(yard.path(""), yard.path("sheets/loop")).expect("a link");
    symlink(yard.path("nothing"), yard.path("nowhere.kdl")).expect("a link");
    symlink(outside.path("out.kdl"), yard.path("readme.txt")).expect("a link");
    let json = yard.json(&[]);
    assert_eq!(json["summary"]["loads"], 2, "{json:#}");
    let said: Vec<(&str, &str)> = json["findings"]
        .as_array()
        .expect("findings")
        .iter()
        .map(|one| (one["file"].as_str().expect("a file"), one["message"].as_str().expect("a text")))
        .collect();
    let out = "this link leads out of the yard and is not followed";
    assert_eq!(said, [("far", out), ("nowhere.kdl", "this link leads nowhere"), ("out.kdl", out)]);
    yard.run(&["check"]).status(0);
}

#[test]
fn not_utf8() {
    let mut bytes = sheet("b", GOOD).into_bytes();
    bytes.extend(b"// caf\xe9\n");
    let yard = Yard::new().file("a.kdl", sheet("a", LIGHT)).file("b.kdl", bytes);
    let json = yard.json(&[]);
    assert_eq!(rules(&json), ["tongue-light", "not-readable"]);
    let finding = finding(&json, "not-readable");
    assert_eq!((&finding["line"], &finding["column"]), (&7.into(), &7.into()));
    yard.run(&["check", "b.kdl"]).status(1);
}

#[test]
fn too_large() {
    let yard = Yard::new()
        .file("a.kdl", sheet("a", LIGHT))
        .file("b.kdl", format!("{}// {}\n", sheet("b", LIGHT), "x".repeat(64 * 1024)));
    assert_eq!(rules(&yard.json(&[])), ["tongue-light", "too-large"]);
    let limit = 64 * 1024 - sheet("b", LIGHT).len() - 4;
    yard.put("b.kdl", format!("{}// {}\n", sheet("b", LIGHT), "x".repeat(limit)));
    assert_eq!(rules(&yard.json(&[])), ["tongue-light", "tongue-light"], "at the limit it is read");
}

#[cfg(target_os = "linux")]
#[test]
fn of_a_huge_file_only_the_limit_is_read() {
    let yard = Yard::new().file("a.kdl", sheet("a", LIGHT)).file("huge.kdl", "");
    let huge = std::fs::OpenOptions::new().write(true).open(yard.path("huge.kdl")).expect("a file");
    huge.set_len(100 << 30).expect("a sparse file of 100 GiB, which no machine could read whole in a test");
    assert_eq!(rules(&yard.json(&[])), ["tongue-light", "too-large"]);
}

#[cfg(unix)]
#[test]
fn unreadable_files_and_folders() {
    use std::os::unix::fs::PermissionsExt as _;
    let yard = Yard::new()
        .file("a.kdl", sheet("a", LIGHT))
        .file("b.kdl", sheet("b", GOOD))
        .file("shut/c.kdl", sheet("c", GOOD))
        .file("open/d.kdl", sheet("d", GOOD));
    let set = |name: &str, mode| {
        std::fs::set_permissions(yard.path(name), std::fs::Permissions::from_mode(mode)).expect("allowed");
    };
    set("b.kdl", 0o000);
    set("shut", 0o000);
    // Whoever is root reads everything: then there is nothing to see here.
    let reads_all = std::fs::read(yard.path("b.kdl")).is_ok();
    let (all, sub) = (rules(&yard.json(&[])), yard.run(&["check", "--format", "json", "shut"]));
    set("b.kdl", 0o644);
    set("shut", 0o755);
    if reads_all {
        assert_eq!(all, ["tongue-light"]);
    } else {
        assert_eq!(all, ["tongue-light", "not-readable", "not-readable"]);
        assert_eq!(rules(&sub.json()), ["not-readable"], "also where only that folder was asked for");
    }
}

/// What a run on a yard with a file of this name shows.
fn with_name(name: &str) -> (Ran, serde_json::Value) {
    let yard = Yard::new().file(name, sheet("a", LIGHT));
    let ran = yard.run(&["check"]);
    (ran, yard.json(&[]))
}

#[cfg(unix)]
#[test]
fn file_names_that_act_on_a_terminal() {
    for name in ["\u{1b}[2Ja.kdl", "a\nerror: all is well.kdl", "\u{202e}ldk.a.kdl", "a\"b'c.kdl", "tab\tname.kdl"] {
        let (ran, json) = with_name(name);
        ran.status(1);
        let acts = ran.out.chars().any(|c| (c.is_control() && c != '\n') || c == '\u{202e}');
        assert!(!acts, "{name:?}: {:?}", ran.out);
        assert!(ran.out.lines().filter(|line| line.starts_with("error")).count() == 1, "{}", ran.out);
        assert_eq!(json["findings"][0]["file"], name, "a program gets the name as it is");
    }
}

#[cfg(target_os = "linux")]
#[test]
fn file_names_that_are_not_utf8() {
    use std::ffi::OsStr;
    use std::os::unix::ffi::OsStrExt as _;
    let yard = Yard::new();
    let name = OsStr::from_bytes(b"caf\xe9.kdl");
    yard.put(name, sheet("a", LIGHT));
    assert_eq!(rules(&yard.json(&[])), ["tongue-light"]);
    let output = program(&yard.path("")).arg("check").arg(name).output().expect("the program starts");
    Ran::from(output).status(1);
    let gone =
        program(&yard.path("")).arg("check").arg(OsStr::from_bytes(b"\xff\x1b[2J.kdl")).output().expect("starts");
    let gone = Ran::from(gone);
    gone.status(2);
    assert!(!gone.err.contains('\u{1b}'), "{:?}", gone.err);
}

#[test]
fn windows_line_endings_and_a_byte_order_mark() {
    let plain = Yard::new().file("a.kdl", sheet("a", LIGHT)).json(&[]);
    let windows = sheet("a", LIGHT).replace('\n', "\r\n");
    let windows = Yard::new().file("a.kdl", windows).file("fleet.kdl", FLEET.replace('\n', "\r\n")).json(&[]);
    // Offsets count bytes, and a line has one more of them here.
    let without_offsets = |json: &serde_json::Value| {
        let mut json = json.clone();
        let findings = json["findings"].as_array_mut().expect("findings").iter_mut();
        let fixes = findings.flat_map(|finding| finding["fixes"].as_array_mut().expect("fixes"));
        for edit in fixes.flat_map(|fix| fix["edits"].as_array_mut().expect("edits")) {
            assert!(edit["offset"].take().is_u64());
        }
        json
    };
    assert_eq!(without_offsets(&plain), without_offsets(&windows));
    let marked = Yard::new().file("a.kdl", format!("\u{feff}{}", sheet("a", LIGHT))).json(&[]);
    assert_eq!(rules(&marked), ["tongue-light"]);
    let (one, other) = (finding(&plain, "tongue-light"), finding(&marked, "tongue-light"));
    assert_eq!((&one["line"], &one["column"]), (&other["line"], &other["column"]));
}

#[test]
fn a_sheet_that_would_write_on_the_terminal() {
    let hostile = sheet("a", LIGHT)
        .replace("pallet", "pal\\u{1b}[31mlet\\u{202e}")
        .replace("conditions", "// \u{1b}[2J\n    conditions");
    let yard = Yard::new().file("a.kdl", hostile);
    let ran = yard.run(&["check"]);
    ran.status(1);
    assert!(!ran.out.chars().any(|c| (c.is_control() && c != '\n') || c == '\u{202e}'), "{:?}", ran.out);
    let weighed = yard.run(&["weigh"]).out;
    assert!(!weighed.chars().any(|c| (c.is_control() && c != '\n') || c == '\u{202e}'), "{weighed:?}");
}
