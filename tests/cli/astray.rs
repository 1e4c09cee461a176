//! What is said of a command or an option that is none: what was most likely meant, with exit status 2.

use crate::harness::{GOOD, Yard, sheet};

fn told(arguments: &[&str]) -> String {
    let ran = Yard::new().file("sheets/monday.kdl", sheet("monday", GOOD)).folder("drafts").run(arguments);
    assert_eq!((ran.status, &*ran.out), (2, ""), "{arguments:?}: {}", ran.err);
    assert!(ran.err.lines().all(|line| line.chars().count() <= 80), "{}", ran.err);
    ran.err
}

#[test]
fn a_slip_of_the_pen_names_what_is_near() {
    for (arguments, near) in [
        (&["chek"][..], "'check'"),
        (&["wiegh", "sheets"], "'weigh'"),
        (&["check", "--fromat", "json"], "'--format'"),
        (&["--unit", "si"], "'--units'"),
        (&["check", "--format", "jsn"], "'json'"),
        (&["check", "--gate", "eror"], "'error'"),
        (&["help", "chek"], "'check'"),
        (&["man", "plase"], "'place'"),
    ] {
        let told = told(arguments);
        assert!(told.contains(&format!("exists: {near}")), "{told}");
    }
}

#[test]
fn a_word_that_is_near_no_command_lists_them() {
    insta::assert_snapshot!(told(&["explain", "tongue-light"]));
    let help = Yard::empty().run(&["--help"]).out;
    let list = help.split("Commands:\n").nth(1).and_then(|rest| rest.split("\n\n").next()).expect("a list of commands");
    let told = told(&["explain", "tongue-light"]).replace(',', " ");
    for name in list.lines().filter(|line| !line.starts_with("   ")).filter_map(|line| line.split_whitespace().next()) {
        assert!(told.split_whitespace().any(|word| word == name), "{name} in\n{told}");
    }
}

#[test]
fn a_path_in_the_place_of_a_command() {
    insta::assert_snapshot!(told(&["sheets/monday.kdl"]));
    for (path, typed) in [
        ("sheets", "sheets"),
        ("drafts", "drafts"),
        (".", "."),
        ("gone/tuesday", "gone/tuesday"),
        ("tuesday.kdl", "tuesday.kdl"),
        ("my sheets/$(date).kdl", "PATH"),
    ] {
        let told = told(&[path]);
        assert!(told.contains(&format!("tip: a command comes first: draylint check {typed}\n")), "{told}");
    }
    // It may be either: both are said.
    let both = Yard::empty().folder("chek").run(&["chek"]);
    assert!(both.err.contains("'check'") && both.err.contains("draylint check chek\n"), "{}", both.err);
}

#[test]
fn nothing_in_an_argument_acts_on_the_terminal() {
    for arguments in [&["\u{1b}[31mred"][..], &["check", "--\u{1b}[31mred"], &["check", "--format", "\u{1b}]0;x\u{7}"]]
    {
        let told = told(arguments);
        assert!(told.contains("<U+001B>") && !told.contains('\u{1b}'), "{told:?}");
    }
}

#[test]
fn help_that_is_asked_for_is_no_fault() {
    let yard = Yard::empty();
    for arguments in [&["--help"][..], &["-h"], &["help"], &["help", "help"], &["check", "--help"], &["man", "-h"]] {
        let ran = yard.run(arguments);
        assert_eq!((ran.status, &*ran.err), (0, ""), "{arguments:?}");
        assert!(ran.out.contains("Usage: draylint"), "{}", ran.out);
    }
    assert_eq!(yard.run(&["--quiet", "help", "weigh"]).out, yard.run(&["weigh", "--help"]).out);
    let coloured = yard.run(&["help", "weigh", "--color", "always"]).out;
    assert!(coloured.contains("\u{1b}[") && !yard.run(&["help", "weigh"]).out.contains('\u{1b}'));
}
