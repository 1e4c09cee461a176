//! `trim` as a user runs it: options, exit status, what is shown and what is written.

use std::fs;

use crate::harness::{FLEET, GOOD, HEAVY, LIGHT, Ran, Yard, finding, run_in, sheet};
use crate::patched::patched;

/// A yard with a sheet that is light on the hitch.
fn light() -> Yard {
    Yard::new().file("a.kdl", sheet("a", LIGHT))
}

fn text(yard: &Yard, name: &str) -> String {
    fs::read_to_string(yard.path(name)).expect("text")
}

fn json(yard: &Yard, arguments: &[&str]) -> serde_json::Value {
    yard.run(&[&["trim", "--format", "json"], arguments].concat()).status(0).json()
}

fn names(yard: &Yard) -> Vec<String> {
    let all = fs::read_dir(yard.path("")).expect("a folder");
    let mut all: Vec<String> = all.map(|one| one.expect("one").file_name().to_string_lossy().into_owned()).collect();
    all.sort();
    all
}

#[test]
fn shown_then_written() {
    let yard = light();
    let before = text(&yard, "a.kdl");
    let shown = yard.run(&["trim"]);
    shown.status(0);
    assert!(shown.out.contains("nothing was written"), "{}", shown.out);
    assert_eq!(text(&yard, "a.kdl"), before);
    let json = json(&yard, &[]);
    assert_eq!(json["schema"], 1);
    assert_eq!(json["written"], serde_json::json!([]));
    let trim = &json["trims"][0];
    assert_eq!((&trim["file"], &trim["grade"]), (&"a.kdl".into(), &"change".into()));
    assert_eq!(trim["cures"][0]["rule"], "tongue-light");
    assert_eq!(
        trim["moves"].as_array().expect("figures").iter().filter(|one| one["name"] == "trailer.tongue").count(),
        1
    );
    // It moves the load, so it is not made without agreement.
    yard.run(&["trim", "--write"]).status(0);
    assert_eq!(text(&yard, "a.kdl"), before);
    let written = yard.run(&["trim", "--write", "--agreed"]);
    assert!(written.status(0).out.contains("written: a.kdl"), "{}", written.out);
    assert_eq!(text(&yard, "a.kdl"), before.replace("(in)112", "(in)104"));
    yard.run(&["check", "--gate", "note"]).status(0);
    assert_eq!(names(&yard), ["a.kdl", "fleet.kdl", "yard.kdl"], "nothing else is left");
}

#[test]
fn agreement_without_writing_is_refused() {
    let yard = light();
    let ran = yard.run(&["trim", "--agreed"]);
    ran.status(2);
    assert!(ran.out.is_empty() && ran.err.contains("--write"), "{}", ran.err);
}

#[test]
fn only_what_was_asked_for() {
    let legs = sheet("legs", LIGHT);
    let (head, cargo) = legs.split_once("    cargo").expect("cargo");
    let cargo = cargo.strip_suffix("}\n").expect("an end");
    let legs =
        format!("{head}    leg \"out\" {{\n    cargo{cargo}    }}\n    leg \"back\" {{\n    cargo{cargo}    }}\n}}\n");
    let yard = light().file("far/b.kdl", sheet("b", LIGHT)).file("legs.kdl", legs);
    let titles = |arguments: &[&str]| {
        let json = json(&yard, arguments);
        let all = json["trims"].as_array().expect("trims").clone();
        all.iter()
            .map(|one| format!("{}/{}", one["cures"][0]["sheet"], one["cures"][0]["leg"]).replace('"', ""))
            .collect::<Vec<_>>()
    };
    assert_eq!(titles(&[]), ["a/null", "b/null", "legs/out", "legs/back"]);
    assert_eq!(titles(&["far"]), ["b/null"]);
    assert_eq!(titles(&["--sheet", "a"]), ["a/null"]);
    assert_eq!(titles(&["--leg", "back"]), ["legs/back"]);
    yard.run(&["trim", "--write", "--agreed", "--sheet", "legs", "--leg", "back"]).status(0);
    let text = text(&yard, "legs.kdl");
    assert_eq!((text.matches("(in)112").count(), text.matches("(in)104").count()), (1, 1));
    assert!(text.find("(in)112") < text.find("(in)104"), "the other leg stays");
    yard.run(&["trim", "--sheet", "nobody"]).status(2);
    yard.run(&["trim", "nowhere"]).status(2);
}

#[test]
fn an_empty_folder_and_one_that_is_well() {
    let empty = Yard::empty().run(&["trim"]);
    empty.status(0);
    assert!(!empty.out.is_empty());
    let well = Yard::new().file("a.kdl", sheet("a", GOOD));
    assert!(well.run(&["trim", "--write", "--agreed"]).status(0).out.contains("nothing was written"));
}

/// Places in JSON are bytes of the file as it is on disk, whatever its line ends and whether a mark is before it.
#[test]
fn offsets_fit_the_file() {
    let plain = sheet("a", LIGHT);
    for text in
        [plain.clone(), plain.replace('\n', "\r\n"), format!("\u{feff}{plain}"), format!("// façade 重\n{plain}")]
    {
        let yard = Yard::new().file("a.kdl", &text);
        let (trim, check) = (json(&yard, &[]), yard.json(&[]));
        let edit = &trim["trims"][0]["edits"][0];
        assert_eq!(edit, &finding(&check, "tongue-light")["fixes"][0]["edits"][0]);
        let at = |key: &str| usize::try_from(edit[key].as_u64().expect("a number")).expect("a place");
        let mut bytes = fs::read(yard.path("a.kdl")).expect("bytes");
        assert_eq!(&bytes[at("offset")..at("offset") + at("length")], b"(in)112");
        bytes.splice(at("offset")..at("offset") + at("length"), edit["text"].as_str().expect("text").bytes());
        yard.run(&["trim", "--write", "--agreed"]).status(0);
        assert_eq!(fs::read(yard.path("a.kdl")).expect("bytes"), bytes);
        assert_eq!(bytes, text.replace("(in)112", "(in)104").into_bytes());
    }
}

/// Each diff, applied to the file by a program of its own, gives the bytes that are written.
#[test]
fn the_diff_is_a_patch() {
    let plain = sheet("a", LIGHT);
    let texts = [
        plain.clone(),
        plain.replace('\n', "\r\n"),
        format!("\u{feff}{plain}"),
        plain.trim_end().to_owned(),
        // One line, without an end.
        plain.replace('\n', " ").replace("{ ", "{ ; ").replace("  ", ";").replace("} ", "}"),
        plain.replace("conditions", "conditions grade=6 /* \t tabs */"),
    ];
    for text in texts {
        let yard = Yard::new().file("a.kdl", &text);
        let trims = json(&yard, &[])["trims"].as_array().expect("trims").clone();
        for trim in &trims {
            let edits = trim["edits"].as_array().expect("edits");
            let mut wanted = text.clone().into_bytes();
            for edit in edits.iter().rev() {
                let at = |key: &str| usize::try_from(edit[key].as_u64().expect("a number")).expect("a place");
                wanted.splice(at("offset")..at("offset") + at("length"), edit["text"].as_str().expect("text").bytes());
            }
            let diff = trim["diff"].as_str().expect("a diff");
            assert_eq!(patched(&text, diff).into_bytes(), wanted, "{diff}");
        }
        assert!(!trims.is_empty(), "{text:?}: {}", yard.run(&["check"]).out);
    }
}

#[test]
fn any_number_of_threads() {
    let yard = Yard::new();
    for at in 0..12 {
        let gap = if at % 2 == 0 { LIGHT } else { HEAVY };
        yard.put(format!("sheets/{}/s{at}.kdl", at % 5), sheet(&format!("s{at}"), gap));
    }
    for arguments in [&["trim"][..], &["trim", "--format", "json"], &["place"], &["place", "--format", "json"]] {
        let one = yard.run(&[arguments, &["--jobs", "1"]].concat());
        let eight = yard.run(&[arguments, &["--jobs", "8"]].concat());
        assert_eq!((one.status, &one.out, &one.err), (eight.status, &eight.out, &eight.err), "{arguments:?}");
        assert!(one.out.len() > 5000);
    }
    let texts = |jobs: &str| {
        let yard = light().file("b.kdl", sheet("b", HEAVY));
        yard.run(&["trim", "--write", "--agreed", "--jobs", jobs]).status(0);
        (text(&yard, "a.kdl"), text(&yard, "b.kdl"))
    };
    assert_eq!(texts("1"), texts("8"));
}

#[test]
fn a_yard_in_a_yard() {
    let yard = light()
        .file("lent/yard.kdl", "yard \"lent\" { follow \"none\"; }\n")
        .file("lent/fleet.kdl", FLEET)
        .file("lent/z.kdl", sheet("z", HEAVY).replace("front-gap=(in)86", "front-gap=86"));
    let json = json(&yard, &[]);
    let trims = json["trims"].as_array().expect("trims");
    let files: Vec<_> = trims.iter().map(|one| one["file"].as_str().expect("a file")).collect();
    assert_eq!(files, ["a.kdl", "lent/z.kdl"]);
    let written = yard.run(&["trim", "--write", "--agreed", "--format", "json"]).status(0).json();
    assert_eq!(written["written"], serde_json::json!(["a.kdl", "lent/z.kdl"]));
    // The unit first; then too much rides on the hitch, which could not be told before.
    assert!(!text(&yard, "lent/z.kdl").contains("gap=86") && !text(&yard, "lent/z.kdl").contains("(in)86"));
    yard.run(&["check", "--gate", "note"]).status(0);
}

#[cfg(unix)]
mod on_unix {
    use std::os::unix::fs::{PermissionsExt as _, symlink};

    use super::*;

    #[test]
    fn rights_are_kept() {
        for mode in [0o600, 0o640, 0o755] {
            let yard = light();
            fs::set_permissions(yard.path("a.kdl"), fs::Permissions::from_mode(mode)).expect("rights");
            yard.run(&["trim", "--write", "--agreed"]).status(0);
            let now = fs::metadata(yard.path("a.kdl")).expect("a file").permissions().mode() & 0o777;
            assert_eq!(now, mode);
        }
    }

    #[test]
    fn a_file_marked_as_read_only_is_left_and_so_are_the_others() {
        let yard = light().file("b.kdl", sheet("b", LIGHT));
        fs::set_permissions(yard.path("b.kdl"), fs::Permissions::from_mode(0o444)).expect("rights");
        let ran = yard.run(&["trim", "--write", "--agreed"]);
        ran.status(2);
        assert!(ran.err.contains("b.kdl cannot be written: it is marked as read-only; nothing was"), "{}", ran.err);
        assert_eq!((text(&yard, "a.kdl"), text(&yard, "b.kdl")), (sheet("a", LIGHT), sheet("b", LIGHT)));
        assert_eq!(names(&yard), ["a.kdl", "b.kdl", "fleet.kdl", "yard.kdl"]);
        yard.run(&["trim"]).status(0);
    }

    /// Whether this account is held to the rights of files at all.
    fn bound_by_rights() -> bool {
        let yard = light();
        fs::set_permissions(yard.path("a.kdl"), fs::Permissions::from_mode(0o000)).expect("rights");
        fs::read(yard.path("a.kdl")).is_err()
    }

    #[test]
    fn a_folder_that_cannot_be_written() {
        if !bound_by_rights() {
            return;
        }
        let yard = Yard::new().file("far/a.kdl", sheet("a", LIGHT));
        fs::set_permissions(yard.path("far"), fs::Permissions::from_mode(0o555)).expect("rights");
        let ran = yard.run(&["trim", "--write", "--agreed"]);
        fs::set_permissions(yard.path("far"), fs::Permissions::from_mode(0o755)).expect("rights");
        ran.status(2);
        assert!(ran.err.contains("far/a.kdl cannot be written"), "{}", ran.err);
        assert_eq!(text(&yard, "far/a.kdl"), sheet("a", LIGHT));
    }

    #[test]
    fn a_file_that_cannot_be_read_does_not_keep_others_from_it() {
        let yard = light().file("b.kdl", [0xff, 0xfe, 0x00]);
        let json = json(&yard, &[]);
        assert_eq!(json["trims"].as_array().expect("trims").len(), 1);
        yard.run(&["trim", "--write", "--agreed"]).status(0);
        assert_eq!(fs::read(yard.path("b.kdl")).expect("bytes"), [0xff, 0xfe, 0x00]);
    }

    #[test]
    fn a_file_with_a_hostile_name() {
        let name = "a\n+++ b\u{1b}[2J\u{202e}.kdl";
        let yard = Yard::new().file(name, sheet("a", LIGHT));
        let shown = yard.run(&["trim"]);
        let acts = |c: char| (c.is_control() && c != '\n') || c == '\u{202e}';
        assert!(!shown.status(0).out.chars().any(acts), "{:?}", shown.out);
        let json = json(&yard, &[]);
        let diff = json["trims"][0]["diff"].as_str().expect("a diff");
        // A line break in the name must not begin a line of the patch.
        assert_eq!(patched(&sheet("a", LIGHT), diff), sheet("a", LIGHT).replace("(in)112", "(in)104"));
        yard.run(&["trim", "--write", "--agreed"]).status(0);
        assert_eq!(text(&yard, name), sheet("a", LIGHT).replace("(in)112", "(in)104"));
    }

    #[test]
    fn nothing_is_written_through_a_link() {
        let outside = Yard::empty().file("a.kdl", sheet("a", LIGHT));
        let yard = Yard::new();
        symlink(outside.path("a.kdl"), yard.path("a.kdl")).expect("a link");
        let ran = yard.run(&["trim", "--write", "--agreed"]);
        assert!(ran.status(0).out.contains("nothing was written"), "{}", ran.out);
        assert_eq!(text(&outside, "a.kdl"), sheet("a", LIGHT));
    }
}

/// Nothing of a sheet acts on the terminal, in text or in JSON, and the JSON stays what it says.
#[test]
fn hostile_names_are_harmless() {
    let long = "x".repeat(3000);
    let hostile =
        ["pal\\u{1b}[31mlet\\u{202e}\\u{7}", "<b>&amp;\\\"; front-gap=(in)9", "a\\nb\\t", &long, "\\u{feff}\\u{200b}"];
    for name in hostile {
        let text = sheet("a", LIGHT).replace("pallet", name).replace("\"a\"", &format!("\"{name}\""));
        let text = text.replace("conditions", "// \u{1b}[2J\u{202e}\n    conditions");
        let yard = Yard::new().file("a.kdl", &text);
        for arguments in [&["trim"][..], &["place"], &["trim", "--format", "json"], &["place", "--format", "json"]] {
            let ran: Ran = yard.run(arguments);
            ran.status(0);
            let acts = |c: char| {
                (c.is_control() && c != '\n') || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
            };
            assert!(!ran.out.chars().any(acts), "{arguments:?}: {:?}", ran.out);
            if arguments.len() == 3 {
                ran.json();
            } else {
                assert!(ran.out.len() < 40_000, "{arguments:?}: {} bytes", ran.out.len());
            }
        }
        yard.run(&["trim", "--write", "--agreed"]).status(0);
        assert_eq!(self::text(&yard, "a.kdl"), text.replace("front-gap=(in)112", "front-gap=(in)104"), "{name}");
    }
}

#[test]
fn from_another_folder() {
    let yard = light().folder("elsewhere");
    let ran = run_in(&yard.path("elsewhere"), &["trim", "../a.kdl", "--write", "--agreed"]);
    assert!(ran.status(0).out.contains("written: "), "{}", ran.out);
    assert!(text(&yard, "a.kdl").contains("(in)104"));
}
