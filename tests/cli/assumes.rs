//! What `weigh` says that a figure rests on, where an entry that would decide it is not given.

use serde_json::Value;

use crate::harness::{FLEET, GOOD, Yard, sheet};

/// The figures of the only load, the fleet changed.
fn figures(from: &str, to: &str, sheet: &str) -> Value {
    assert!(FLEET.contains(from), "{from}");
    let yard = Yard::empty()
        .file("yard.kdl", "yard \"Test Yard\" { follow \"none\"; }\n")
        .file("fleet.kdl", FLEET.replacen(from, to, 1));
    let json = yard.file("a.kdl", sheet).run(&["weigh", "--format", "json"]).status(0).json();
    json["loads"][0]["figures"].clone()
}

#[test]
fn without_suspension_the_tongue_says_how_it_was_taken_and_the_axles_are_not_known() {
    let given = figures("deck from", "deck from", &sheet("a", GOOD));
    let missing = figures("    suspension \"equalized\"\n", "", &sheet("a", GOOD));
    let (tongue, axle) = ("trailer.tongue", "trailer.axle[1].load");
    assert_eq!(missing[tongue]["value"], given[tongue]["value"]);
    assert!(given[tongue]["assumes"].is_null());
    let assumes = missing[tongue]["assumes"].as_str().expect("an assumption");
    assert!(assumes.contains("suspension is not given"), "{assumes}");
    assert!(given[axle]["value"].is_number() && missing[axle]["value"].is_null());
    // A sum asks nothing of the axles.
    assert!(missing["trailer.gross"]["assumes"].is_null());
    assert_eq!(missing["trailer.gross"]["value"], given["trailer.gross"]["value"]);
}

#[test]
fn material_that_may_be_dry_or_wet_says_so() {
    // Sand, lb/yd3: 2,619 dry and 3,186 wet at the most (`rules/materials.kdl`).
    let heap = |said: &str| {
        let sheet = format!(
            "sheet \"a\" {{\n truck \"pickup\"\n trailer \"flat\"\n bulk \"sand\" volume=(yd3)2{said} length=(in)48 \
             front-gap=(in)98\n}}\n"
        );
        figures("deck from", "walls height=(in)40\n    deck from", &sheet)["item[sand].weight"].clone()
    };
    for (said, wanted, word) in [(" moisture=\"dry\"", 2.0 * 2619.0, "heaviest"), ("", 2.0 * 3186.0, "dry or wet")] {
        let weight = heap(said);
        let value = weight["value"].as_f64().expect("a number");
        assert!((value - wanted * 0.453_592_37).abs() < 1e-6, "{weight}");
        assert!(weight["assumes"].as_str().expect("an assumption").contains(word), "{weight}");
    }
}

#[test]
fn behind_a_fifth_wheel_a_wheel_off_the_middle_shows_the_least_it_can_carry() {
    let fleet = |left: &str| {
        let sheet = sheet("a", GOOD).replace("front-gap", &format!("{left}front-gap"));
        let fifth = FLEET.replace("hitch \"ball\"", "hitch \"fifth-wheel\"");
        let fifth = fifth.replace("coupler \"ball\"", "coupler \"fifth-wheel\"");
        let yard = Yard::empty()
            .file("yard.kdl", "yard \"Test Yard\" { follow \"none\"; }\n")
            .file("fleet.kdl", fifth)
            .file("a.kdl", sheet);
        yard.run(&["weigh", "--format", "json"]).status(0).json()["loads"][0].clone()
    };
    let (middle, off) = (fleet(""), fleet("left=(in)6 "));
    let wheel = "trailer.axle[1].wheel.load";
    assert_eq!(off["figures"][wheel]["value"], middle["figures"][wheel]["value"]);
    assert!(middle["figures"][wheel]["assumes"].is_null());
    assert!(off["figures"][wheel]["assumes"].as_str().expect("an assumption").contains("at the least"));
    let rules = |load: &Value| {
        let undecided = load["undecided"].as_array().expect("a list");
        undecided.iter().any(|one| one["rule"] == "tire-over")
    };
    assert!(rules(&off) && !rules(&middle));
}
