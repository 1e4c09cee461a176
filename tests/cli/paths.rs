//! Which loads a path, a sheet's name or a leg's name selects.

use crate::harness::{FLEET, GOOD, LIGHT, Yard, finding, rules, run_in, sheet};

/// The sheets that findings belong to, in order.
fn sheets(json: &serde_json::Value) -> Vec<&str> {
    let findings = json["findings"].as_array().expect("findings");
    findings.iter().map(|one| one["sheet"].as_str().unwrap_or("-")).collect()
}

fn two_trucks() -> Yard {
    let other = FLEET.replace("\"pickup\"", "\"other\"").split("trailer \"flat\"").next().expect("a truck").to_owned();
    Yard::new()
        .file("trucks/other.kdl", other)
        .file("sheets/a.kdl", sheet("a", LIGHT))
        .file("sheets/far/b.kdl", sheet("b", LIGHT).replace("pickup", "other"))
        .file("sheets/far/c.kdl", sheet("c", GOOD))
}

#[test]
fn a_sheet_a_folder_a_definition() {
    let yard = two_trucks();
    assert_eq!(sheets(&yard.json(&[])), ["a", "b"]);
    assert_eq!(sheets(&yard.json(&["sheets/a.kdl"])), ["a"]);
    assert_eq!(sheets(&yard.json(&["sheets/far"])), ["b"]);
    assert_eq!(sheets(&yard.json(&["trucks/other.kdl"])), ["b"], "the load that rests on it");
    assert_eq!(sheets(&yard.json(&["trucks"])), ["b"]);
    assert_eq!(sheets(&yard.json(&["fleet.kdl"])), ["a", "b"]);
    assert_eq!(sheets(&yard.json(&["sheets/far/c.kdl"])), [""; 0]);
    assert_eq!(sheets(&yard.json(&["yard.kdl"])), ["a", "b"], "settings hold for every load");
    assert_eq!(sheets(&yard.json(&["sheets/a.kdl", "trucks/other.kdl"])), ["a", "b"]);
    assert_eq!(sheets(&yard.json(&["sheets/a.kdl", "sheets/a.kdl"])), ["a"], "asked twice, said once");
    let summary = yard.json(&["sheets/far"])["summary"].clone();
    assert_eq!((&summary["files"], &summary["loads"]), (&2.into(), &2.into()));
}

#[test]
fn from_inside_and_from_outside() {
    let yard = two_trucks();
    let inside = run_in(&yard.path("sheets/far"), &["check", "--format", "json"]);
    assert_eq!(sheets(&inside.json()), ["b"], "the current folder stands for itself, not for its yard");
    assert_eq!(inside.json()["findings"][0]["file"], "b.kdl");
    let outside = run_in(&yard.path("trucks"), &["check", "--format", "json", "../sheets/a.kdl"]);
    assert_eq!(sheets(&outside.json()), ["a"]);
}

#[test]
fn what_reading_found_is_said_for_the_files_asked_for() {
    let yard = two_trucks();
    yard.put("sheets/far/c.kdl", sheet("c", GOOD).replace("(in)98", "98"));
    yard.put("trucks/other.kdl", "truck \"other\" {\n wheelbase 170\n}\n");
    assert_eq!(sheets(&yard.json(&["sheets/a.kdl"])), ["a"]);
    assert!(rules(&yard.json(&["sheets/far/c.kdl"])).contains(&"unit-missing".to_owned()));
    // The load rests on a broken truck: its fault is part of the answer.
    assert!(rules(&yard.json(&["sheets/far/b.kdl"])).contains(&"unit-missing".to_owned()));
}

#[test]
fn narrowed_to_a_sheet_or_a_leg() {
    let legs = "sheet \"trips\" {\n truck \"pickup\"\n trailer \"flat\"\n conditions speed=(mph)55\n leg \"out\" {\n  cargo \"p\" \
                weight=(lb)6000 length=(in)48 width=(in)44 height=(in)40 front-gap=(in)112\n }\n leg \"back\" {\n  cargo \"p\" \
                weight=(lb)6000 length=(in)48 width=(in)44 height=(in)40 front-gap=(in)113\n }\n}\n";
    let yard = two_trucks().file("sheets/trips.kdl", legs);
    let legs = |arguments: &[&str]| {
        let json = yard.json(arguments);
        let findings = json["findings"].as_array().expect("findings").clone();
        findings.iter().map(|one| format!("{}/{}", one["sheet"], one["leg"]).replace('"', "")).collect::<Vec<_>>()
    };
    assert_eq!(legs(&["--sheet", "trips"]), ["trips/out", "trips/back"]);
    assert_eq!(legs(&["--leg", "back"]), ["trips/back"]);
    assert_eq!(legs(&["--sheet", "trips", "--leg", "out"]), ["trips/out"]);
    assert_eq!(legs(&["--sheet", "b"]), ["b/null"]);
    let ran = yard.run(&["check", "--sheet", "nobody"]);
    assert_eq!((ran.status, &*ran.err), (2, "draylint: there is no sheet \"nobody\" here\n"));
    let ran = yard.run(&["check", "--sheet", "trips", "--leg", "home"]);
    assert_eq!((ran.status, &*ran.err), (2, "draylint: there is no sheet \"trips\" with a leg \"home\" here\n"));
    let ran = yard.run(&["check", "--leg", "home"]);
    assert_eq!((ran.status, &*ran.err), (2, "draylint: there is no leg \"home\" here\n"));
    let weighed = yard.run(&["weigh", "--format", "json", "--sheet", "trips", "--leg", "back"]).json();
    assert_eq!(weighed["loads"].as_array().expect("loads").len(), 1);
}

#[test]
fn a_sheet_that_cannot_be_read_whole_can_still_be_named() {
    let yard = two_trucks().file("sheets/d.kdl", sheet("d", GOOD).replace("(in)98", "98"));
    assert_eq!(rules(&yard.json(&["--sheet", "d"])), ["unit-missing"]);
}

#[test]
fn a_yard_inside_a_yard_is_its_own() {
    let yard = two_trucks()
        .file("lent/yard.kdl", "yard \"lent\" { follow \"none\"; }\n")
        .file("lent/fleet.kdl", FLEET)
        .file("lent/z.kdl", sheet("z", LIGHT))
        .file("lent/reaches-out.kdl", sheet("reaches out", LIGHT).replace("pickup", "other"));
    let json = yard.json(&[]);
    assert_eq!(sheets(&json), ["a", "b", "reaches out", "z"]);
    assert_eq!(finding(&json, "name-unknown")["sheet"], "reaches out", "no name leads out of a yard");
    assert!(!finding(&json, "name-unknown")["help"].to_string().contains("yard.kdl"), "there is one");
    assert_eq!(json["summary"]["loads"], 5);
    assert_eq!(sheets(&yard.json(&["lent"])), ["reaches out", "z"]);
    assert_eq!(sheets(&yard.json(&["lent/z.kdl"])), ["z"]);
    assert_eq!(sheets(&yard.json(&["sheets"])), ["a", "b"]);
    // Whole and part: the whole.
    assert_eq!(sheets(&yard.json(&["lent/z.kdl", "."])), ["a", "b", "reaches out", "z"]);
}

#[test]
fn two_yards_in_one_run() {
    let both = Yard::empty()
        .file("west/yard.kdl", "yard \"west\" { follow \"none\"; }\n")
        .file("west/fleet.kdl", FLEET)
        .file("west/a.kdl", sheet("a", LIGHT))
        .file("east/yard.kdl", "yard \"east\" { follow \"none\"; }\n")
        .file("east/fleet.kdl", FLEET)
        .file("east/a.kdl", sheet("a", LIGHT));
    for arguments in [&["west", "east"][..], &["."], &["east/a.kdl", "west"]] {
        let json = both.json(arguments);
        let files: Vec<&str> =
            json["findings"].as_array().expect("findings").iter().filter_map(|one| one["file"].as_str()).collect();
        assert_eq!(files, ["east/a.kdl", "west/a.kdl"], "{arguments:?}");
        assert_eq!(json["findings"][1]["labels"][0]["file"], "west/fleet.kdl");
        assert_eq!(json["summary"]["loads"], 2);
    }
}

#[test]
fn without_a_yard_file() {
    // Without settings the rules of the US hold, and nothing ties the cargo.
    let own = ["tongue-light", "too-few-ties", "wll-short"];
    let alone = Yard::empty().file("one.kdl", format!("{FLEET}{}", sheet("one", LIGHT)));
    assert_eq!(rules(&alone.json(&["one.kdl"])), own);
    assert_eq!(rules(&alone.json(&[])), own);
    assert_eq!(rules(&alone.json(&[".", "one.kdl"])), own, "part of the folder, not a yard beside it");

    let folder = Yard::empty().file("fleet/fleet.kdl", FLEET).file("sheets/a.kdl", sheet("a", LIGHT));
    assert_eq!(rules(&folder.json(&[])), own);
    assert_eq!(rules(&folder.json(&[".", "sheets"])), own);
    let json = folder.json(&["sheets"]);
    assert_eq!(rules(&json), ["name-unknown", "name-unknown"], "the path itself is the yard");
    let help = finding(&json, "name-unknown")["help"].to_string();
    assert!(help.contains("a yard.kdl at the root of your folders joins"), "{help}");
}

#[test]
fn a_name_that_is_nearly_there() {
    let yard = Yard::new()
        .file("tuesday.kdl", sheet("tuesday", GOOD))
        .file("far/trips.kdl", sheet("trips", GOOD).replace("\n}", "\n leg \"out\"\n leg \"back again\"\n}"));
    let told = |arguments: &[&str]| {
        let ran = yard.run(arguments);
        assert_eq!((ran.status, &*ran.out), (2, ""));
        ran.err
    };
    let none = "draylint: there is no sheet \"tuesdy\" here";
    assert_eq!(told(&["weigh", "--sheet", "tuesdy"]), format!("{none}; did you mean sheet \"tuesday\"?\n"));
    assert_eq!(told(&["check", "--sheet", "tuesdy", "far"]), format!("{none}\n"), "only of what was asked for");
    let none = "draylint: there is no sheet \"trips\" with a leg \"back agan\" here";
    let near = format!("{none}; did you mean leg \"back again\"?\n");
    assert_eq!(told(&["check", "--sheet", "trips", "--leg", "back agan"]), near);
}

#[cfg(unix)]
#[test]
fn a_link_that_leads_to_nothing() {
    let yard = Yard::new();
    std::os::unix::fs::symlink(yard.path("nothing.kdl"), yard.path("gone.kdl")).expect("a link");
    let ran = yard.run(&["check", "gone.kdl"]);
    assert_eq!((ran.status, &*ran.err), (2, "draylint: gone.kdl is a link that leads to nothing\n"));
    let ran = yard.run(&["check", "nothing.kdl"]);
    assert_eq!((ran.status, &*ran.err), (2, "draylint: there is no file or folder nothing.kdl\n"));
}
