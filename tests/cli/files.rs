//! `tidy` and `start`: what they write, and what they leave alone.

use crate::harness::{FLEET, GOOD, Yard, sheet};

fn text(yard: &Yard, name: &str) -> String {
    std::fs::read_to_string(yard.path(name)).expect("a file")
}

#[test]
fn a_new_yard_has_nothing_to_mend() {
    let yard = Yard::empty();
    let made = yard.run(&["start", "our loads/first"]).status(0).out.clone();
    assert!(made.contains("made our loads/first/yard.kdl") && made.contains("verify on a scale"), "{made}");
    let checked = yard.run(&["check", "our loads/first", "--gate", "note"]).status(0).out.clone();
    assert!(checked.contains("6 files, 1 load: nothing to mend"), "{checked}");
    assert!(yard.run(&["weigh", "our loads/first"]).status(0).out.contains("tongue share"));
    assert_eq!(yard.run(&["tidy", "our loads/first", "--check"]).status(0).out, "6 files: all are laid out\n");
}

#[test]
fn what_is_there_is_not_written_over() {
    let yard = Yard::empty().file("here/fleet/gear.kdl", "mine");
    let said = yard.run(&["start", "here"]).status(2).err.clone();
    assert!(said.contains("here/fleet/gear.kdl is there already: nothing was written"), "{said}");
    assert_eq!(text(&yard, "here/fleet/gear.kdl"), "mine");
    assert!(!yard.path("here/yard.kdl").exists());
    let yard = Yard::empty().file("plain", "");
    yard.run(&["start", "plain"]).status(2);
    assert_eq!(text(&yard, "plain"), "");
}

#[test]
fn laying_out_changes_no_finding_and_no_comment() {
    let good = sheet("good", GOOD);
    let messy = good.replace("    ", "\t ").replace(" {", "{  // why") + "\n\n\n";
    let yard = Yard::new().file("sheets/a.kdl", &messy).file("sheets/b.kdl", &good);
    let before = yard.json(&[]);
    let told = yard.run(&["tidy", "--check"]).status(1).out.clone();
    assert!(told.contains("sheets/a.kdl: would be laid out anew"), "{told}");
    assert_eq!(text(&yard, "sheets/a.kdl"), messy, "it was only asked");
    let done = yard.run(&["tidy", "sheets"]).status(0).out.clone();
    assert_eq!(done, "sheets/a.kdl: laid out\n");
    let laid = text(&yard, "sheets/a.kdl");
    assert_eq!(laid, good.replace(" {", " {  // why"));
    assert_eq!(yard.run(&["tidy", "sheets"]).status(0).out, "2 files: all were\n");
    assert_eq!(yard.json(&[])["summary"], before["summary"]);
    assert!(text(&yard, "fleet.kdl").starts_with('\n'), "the fleet was not asked for");
    assert_eq!(text(&yard, "fleet.kdl"), FLEET);
}

#[test]
fn what_cannot_be_read_whole_is_left_alone() {
    let yard = Yard::new().file("bad.kdl", "sheet \"bad\" {\n  truck \"x\n}\n").file("other.kdl", "recipe 1");
    let told = yard.run(&["tidy"]).status(0).out.clone();
    assert!(told.contains("bad.kdl: cannot be read whole"), "{told}");
    assert_eq!(text(&yard, "bad.kdl"), "sheet \"bad\" {\n  truck \"x\n}\n");
    assert_eq!(text(&yard, "other.kdl"), "recipe 1", "it is none of ours");
    yard.run(&["tidy", "nowhere"]).status(2);
}
