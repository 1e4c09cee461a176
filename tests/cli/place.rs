//! `place` as a user runs it.

use crate::harness::{GOOD, LIGHT, Yard, run_in, sheet};

fn yard() -> Yard {
    Yard::new().file("a.kdl", sheet("a", LIGHT)).file("far/b.kdl", sheet("b", GOOD))
}

fn json(yard: &Yard, arguments: &[&str]) -> serde_json::Value {
    yard.run(&[&["place", "--format", "json"], arguments].concat()).status(0).json()
}

/// The keys that the documents name, and ranges by hand: with a gap of g inches 450 + 6,000 x (123 - g) / 207 lb of 9,450 lb
/// ride on the hitch, of which 10 % to 15 % are right.
#[test]
fn documented_keys_and_ranges_by_hand() {
    let json = json(&yard(), &["a.kdl"]);
    assert_eq!(json["schema"], 1);
    let [place] = &json["places"].as_array().expect("places")[..] else { panic!("{json:#}") };
    assert_eq!((&place["sheet"], &place["leg"]), (&"a".into(), &serde_json::Value::Null));
    assert_eq!((&place["item"], &place["measured"]), (&"pallet".into(), &"front-gap".into()));
    let now = place["now"]["gap"].as_f64().expect("metres");
    assert!((now - 112.0 * 0.0254).abs() < 1e-9);
    let [facing] = &place["facings"].as_array().expect("facings")[..] else { panic!("cargo has no facing: {place:#}") };
    let [range] = &facing["ranges"].as_array().expect("ranges")[..] else { panic!("{facing:#}") };
    let gap = |share: f64| (123.0 - (share * 9450.0 - 450.0) * 207.0 / 6000.0) * 0.0254;
    for (key, wanted) in [("from", gap(0.15)), ("to", gap(0.10))] {
        let found = range[key].as_f64().expect("metres");
        assert!((found - wanted).abs() < 1e-6, "{key}: {found} and {wanted}");
    }
    assert_eq!((&range["from_limit"], &range["to_limit"]), (&"tongue-heavy".into(), &"tongue-light".into()));
}

#[test]
fn only_what_was_asked_for() {
    let yard = yard();
    let sheets = |arguments: &[&str]| {
        let json = json(&yard, arguments);
        json["places"]
            .as_array()
            .expect("places")
            .iter()
            .map(|one| one["sheet"].as_str().expect("a name").to_owned())
            .collect::<Vec<_>>()
    };
    assert_eq!(sheets(&[]), ["a", "b"]);
    assert_eq!(sheets(&["far"]), ["b"]);
    assert_eq!(sheets(&["--sheet", "a"]), ["a"]);
    let inside = run_in(&yard.path("far"), &["place", "--format", "json"]);
    assert_eq!(inside.status(0).json()["places"].as_array().expect("places").len(), 1);
    yard.run(&["place", "--sheet", "nobody"]).status(2);
    yard.run(&["place", "--leg", "nobody"]).status(2);
    yard.run(&["place", "nowhere"]).status(2);
}

/// Where nothing can be placed, that is said, and is no failure.
#[test]
fn nothing_to_place() {
    let empty = Yard::empty().run(&["place"]);
    assert!(empty.status(0).out.contains("nothing to place"), "{}", empty.out);
    let broken = Yard::new().file("a.kdl", sheet("a", GOOD).replace("weight=(lb)6000 ", ""));
    let ran = broken.run(&["place"]);
    assert!(ran.status(0).out.contains("for want of"), "{}", ran.out);
    let json = json(&broken, &[]);
    assert!(json["loads"][0]["missing"].is_string(), "{json:#}");
}

/// Ranges do not depend on the units in which they are shown.
#[test]
fn units_change_what_is_shown_and_not_what_is_found() {
    let yard = yard();
    assert_eq!(json(&yard, &["--units", "si"]), json(&yard, &["--units", "us"]));
    let (us, si) = (yard.run(&["place", "--units", "us"]).out, yard.run(&["place", "--units", "si"]).out);
    assert!(us.contains("front-gap 112 in") && si.contains("front-gap 2.845 m"), "{us}\n{si}");
}
