//! How far apart two limits lie, against moments worked by hand beside the sheets of `fixtures/no-place`.

use std::path::Path;

use draylint::mend::{ItemPlaces, LoadPlaces};
use draylint::yard::{Narrowed, Progress, place};

use crate::pipeline::options;

/// Metres in an inch.
const INCH: f64 = 0.0254;

/// The loads of the folder's sheets.
fn loads(sheet: &str) -> Vec<LoadPlaces> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/no-place");
    let narrowed = Narrowed { sheet: Some(sheet.to_owned()), leg: None };
    draylint::syntax::pool()
        .build()
        .unwrap()
        .install(|| place(&[folder], &narrowed, &options(), &Progress::default()).unwrap().loads)
}

fn only(sheet: &str) -> ItemPlaces {
    let mut loads = loads(sheet);
    assert_eq!((loads.len(), loads[0].items.len()), (1, 1), "{sheet}");
    loads.remove(0).items.remove(0)
}

/// The number of a comment `// apart: 2.907 in` above a sheet.
fn by_hand(sheet: &str) -> f64 {
    let text = include_str!("../../fixtures/no-place/fails.kdl");
    let before = text.split_once(&format!("sheet \"{sheet}\"")).unwrap().0;
    let (_, number) = before.rsplit_once("// apart: ").unwrap();
    number.split_once(" in").unwrap().0.parse().unwrap()
}

#[test]
fn two_limits_lie_as_far_apart_as_moments_say() {
    for sheet in ["no-place fails single", "no-place fails by a tenth of an inch"] {
        let item = only(sheet);
        assert!(item.facings[0].ranges.is_empty(), "{sheet}");
        let collision = item.facings[0].collision.as_ref().unwrap();
        let limits: Vec<&str> = collision.limits.iter().map(|limit| &**limit).collect();
        assert_eq!(limits, ["tongue-heavy", "rear-overhang"], "{sheet}");
        // As the comment rounds it.
        let apart = collision.apart().unwrap() / INCH;
        assert!((apart - by_hand(sheet)).abs() < 0.0006, "{sheet}: {apart} in");
    }
}

/// The balance of moments once more, in the sheet's own units: gap at which the tongue is 15 % of the whole.
fn tongue_heavy_gap() -> f64 {
    let (tongue, whole, weight, axles, deck, cg) = (440.0, 3640.0 + 6500.0, 6500.0, 205.0, 60.0, 60.0);
    axles * (1.0 - (0.15 * whole - tongue) / weight) - deck - cg
}

#[test]
fn the_ends_that_exclude_one_another_stand_where_moments_put_them() {
    let item = only("no-place fails single");
    let (heavy, overhang) = item.facings[0].collision.as_ref().unwrap().ends.unwrap();
    assert!((heavy / INCH - tongue_heavy_gap()).abs() < 1e-6, "{}", heavy / INCH);
    assert!((overhang / INCH - 48.0).abs() < 1e-6, "{}", overhang / INCH);
    // From the rear: 240 in of deck less 237.2 in of poles is what both gaps come to.
    let item = only("no-place fails by a tenth of an inch");
    assert_eq!(item.measured, "rear-gap");
    let (heavy, overhang) = item.facings[0].collision.as_ref().unwrap().ends.unwrap();
    assert!((heavy / INCH - (240.0 - 237.2 - tongue_heavy_gap())).abs() < 1e-6, "{}", heavy / INCH);
    assert!((overhang / INCH + 48.0).abs() < 1e-6, "{}", overhang / INCH);
}

#[test]
fn what_is_just_possible_has_a_range_as_long_as_is_left() {
    let item = only("no-place passes single");
    let [range] = item.facings[0].ranges.as_slice() else { panic!("{:?}", item.facings[0]) };
    assert_eq!(range.from.limit.as_deref(), Some("tongue-heavy"));
    assert_eq!(range.to.limit.as_deref(), Some("rear-overhang"));
    assert!((range.from.at / INCH - tongue_heavy_gap()).abs() < 1e-6);
    assert!((range.to.at / INCH - 51.0).abs() < 1e-6);
}

#[test]
fn a_leg_has_its_own_places() {
    let loads = loads("no-place fails leg");
    let by_leg: Vec<(&str, bool)> =
        loads.iter().map(|load| (load.leg.as_deref().unwrap(), load.items[0].facings[0].ranges.is_empty())).collect();
    assert_eq!(by_leg, [("out", true), ("back", false)]);
}
