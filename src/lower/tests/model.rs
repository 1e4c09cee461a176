//! What the model holds after reading.

use super::{YARD, read};
use crate::lower::{read_number, words};
use crate::model::{Choice, Gap, ItemKind, Origin, Slot};
use crate::syntax::{parse, with_stack};
use crate::text::FileId;
use crate::units::{Kind, Length, Speed};

const LB: f64 = 0.453_592_37;
const INCH: f64 = 0.0254;

#[track_caller]
fn near(value: f64, expected: f64) {
    assert!((value - expected).abs() <= 1e-9 * expected.abs().max(1.0), "{value} is not {expected}");
}

#[test]
fn leaves_know_their_value_place_unit_and_origin() {
    let (yard, _, sources) = read(&[YARD]);
    let truck = &yard.trucks[0];
    let front = truck.front.as_ref().expect("a front axle");
    let weighed = front.weighed.entry().expect("weighed");
    near(weighed.value.si(), 4360.0 * LB);
    assert_eq!(sources.slice(weighed.at), "weighed=(lb)4360");
    assert_eq!(weighed.unit.map(|unit| unit.symbol), Some("lb"));
    assert_eq!(&*front.owner.path, "truck \"rook\" axle \"front\"");
    assert_eq!(sources.slice(front.owner.at), "axle \"front\" weighed=(lb)4360 rating=(lb)5600");
    assert_eq!(sources.slice(truck.wheelbase.at().expect("a wheelbase")), "wheelbase (in)172");
    let trailer = &yard.trailers[0];
    assert_eq!(trailer.empty_tongue.entry().expect("a tongue").origin, Some(Origin::Weighed));
    assert_eq!(&*trailer.axles[1].owner.path, "trailer \"sled-20\" axle 2");
    assert_eq!(&*trailer.axles[1].tires.as_ref().expect("tires").owner.path, "trailer \"sled-20\" axle 2 tires");
    let sheet = yard.sheets.iter().find(|sheet| &*sheet.name.value == "digger-and-stone").expect("the sheet");
    let item = &sheet.legs[0].part.items[0];
    assert_eq!(&*item.owner.path, "sheet \"digger-and-stone\" leg \"out\" machine \"mini-digger-26\"");
    assert!(matches!(&item.gap, Gap::Rear(gap) if (gap.value.si() - 2.0 * INCH).abs() < 1e-12));
    let ItemKind::Machine(aboard) = &item.kind else { panic!("a machine") };
    assert_eq!(aboard.machine.target.map(|at| &*yard.machines[at].id.value), Some("mini-digger-26"));
    assert_eq!(sheet.trailer.as_ref().and_then(|trailer| trailer.target), Some(1));
    assert!(matches!(sheet.legs[1].part.items[0].gap, Gap::Fills));
}

#[test]
fn a_spread_goes_to_the_numbers_it_fits() {
    let text = r#"truck "a" {
        axle "front" weighed=(lb)4000 rating=(lb)5000 track-width=(in)60 plus-minus=(lb)40 origin="weighed"
        axle "rear" weighed=(lb)3000 rating=(lb)5000 track-width=(in)60 plus-minus=(pct)2
        wheelbase (in)150 plus-minus=(mm)5
        hitch "ball" behind-rear-axle="4 ft 2 in" restores=(pct)50 plus-minus=(pct)10
    }"#;
    let (yard, findings, _) = read(&["", text]);
    assert_eq!(findings, Vec::new());
    let (front, rear) = (yard.trucks[0].front.as_ref().expect("front"), yard.trucks[0].rear.as_ref().expect("rear"));
    let spread = |slot: &Slot<crate::units::Mass>| slot.entry().expect("given").plus_minus;
    near(spread(&front.weighed).expect("a spread"), 40.0 * LB);
    assert_eq!(spread(&front.rating), None, "a rating has no spread");
    assert_eq!(front.track_width.entry().expect("given").plus_minus, None, "pounds are no length");
    assert_eq!(front.weighed.entry().expect("given").origin, Some(Origin::Weighed));
    near(spread(&rear.weighed).expect("a spread"), 60.0 * LB);
    near(rear.track_width.entry().expect("given").plus_minus.expect("a spread"), 1.2 * INCH);
    near(yard.trucks[0].wheelbase.entry().expect("given").plus_minus.expect("a spread"), 0.005);
    let hitch = yard.trucks[0].hitch.as_ref().expect("a hitch");
    // A share on a line that holds a share is meant for that one.
    near(hitch.restores.entry().expect("given").plus_minus.expect("a spread"), 0.1);
    let behind = hitch.behind_rear_axle.entry().expect("given");
    assert_eq!((behind.plus_minus, behind.unit), (None, None));
    near(behind.value.si(), 50.0 * INCH);
}

#[test]
fn broken_leaves_are_broken_and_absent_ones_absent() {
    let text =
        YARD.replacen("weighed=(lb)4360", "weighed=4360", 1).replacen("wheelbase (in)172", "whelbase (in)172", 1);
    let (yard, findings, _) = read(&[&text]);
    assert_eq!(findings.len(), 2);
    let truck = &yard.trucks[0];
    assert_eq!(truck.front.as_ref().expect("front").weighed, Slot::Broken);
    assert_eq!(truck.wheelbase, Slot::Broken);
    assert_eq!(truck.front.as_ref().expect("front").track_width, Slot::<Length>::Absent);
    // A node whose child node is unreadable does not say that the child's entries are absent.
    let text = YARD.replacen("empty tongue=(lb)430", "emty tongue=(lb)430", 1);
    let (yard, findings, _) = read(&[&text]);
    assert_eq!(findings.len(), 1);
    assert_eq!(yard.trailers[0].empty_tongue, Slot::Broken);
    assert_eq!(yard.trailers[0].empty_axles, Slot::Broken);
}

#[test]
fn axles_are_put_in_order_and_keep_their_written_number() {
    let text = YARD.replacen("axle at=(in)189", "axle at=(in)250", 1);
    let (yard, findings, _) = read(&[&text]);
    assert_eq!(findings, Vec::new());
    let paths: Vec<&str> = yard.trailers[0].axles.iter().map(|axle| &*axle.owner.path).collect();
    assert_eq!(paths, ["trailer \"sled-20\" axle 2", "trailer \"sled-20\" axle 1"]);
}

#[test]
fn a_speed_symbol_is_a_speed_and_two_load_indexes_are_kept() {
    let text = YARD.replacen("load-index=120", "load-index=\"123/120\" speed=\"L\" dual=#true kind=\"LT\"", 1);
    let (yard, findings, _) = read(&[&text]);
    assert_eq!(findings, Vec::new());
    let tires = yard.trucks[0].rear.as_ref().and_then(|axle| axle.tires.as_ref()).expect("tires");
    // L is 120 km/h (speed symbols, memory; see the table in `physics`).
    near(tires.speed.value().map_or(0.0, Speed::si), 120.0 / 3.6);
    let index = tires.load_index.value().expect("an index");
    assert_eq!((index.single, index.dual), (123, Some(120)));
}

#[test]
fn settings_are_read_from_the_yard_file_alone() {
    let text = r#"yard "Heron Fork Groundworks" {
        follow "us" "eu"; units "si"; rules-from "rules" "more"
        set "tongue-light" low=(pct)11 level="note" off=#false count=3
        state "Ohio"; conditions speed=(mph)55
        loading { chocks #true; stands "rear" rating=(lb)5000 count=2 at=(in)290; stands "front"; parking-brake #false; }
    }"#;
    let (yard, findings, _) = read(&[text]);
    assert_eq!(findings, Vec::new());
    let settings = &yard.settings;
    assert_eq!(settings.follow.iter().map(|one| &*one.value).collect::<Vec<_>>(), ["us", "eu"]);
    assert_eq!(settings.rules_from.len(), 2);
    let set = &settings.set[0];
    assert_eq!((&*set.params[0].0.value, set.params[0].2), ("low", Some(Kind::Share)));
    near(set.params[0].1, 0.11);
    assert_eq!((&*set.params[1].0.value, set.params[1].2), ("count", None));
    assert_eq!(set.level.as_ref().map(|level| level.value.name()), Some("note"));
    assert_eq!(set.off.as_ref().map(|off| off.value), Some(false));
    near(settings.conditions.speed.value().map_or(0.0, Speed::si), 55.0 * 0.44704);
    let loading = &settings.loading;
    assert_eq!((loading.chocks.value(), loading.parking_brake.value()), (Some(true), Some(false)));
    assert!(loading.bed_tilt.is_absent() && loading.owner.is_some());
    assert_eq!(loading.stands.len(), 2);
    near(loading.stands[0].at.value().map_or(0.0, Length::si), 290.0 * INCH);
    // Where stands are put is not guessed.
    assert!(loading.stands[1].at.is_absent());
}

#[test]
fn a_material_of_the_yard_stands_in_the_place_of_the_built_in_one() {
    let own = "material \"sand\" { density \"dry\" low=(\"kg/m3\")1500 high=(\"kg/m3\")1600; }";
    let (yard, _, _) = read(&["", own]);
    let sand: Vec<_> = yard.materials.iter().filter(|one| &*one.id.value == "sand").collect();
    assert_eq!(sand.len(), 1);
    near(sand[0].densities[0].high.value().map_or(0.0, crate::units::Density::si), 1600.0);
    assert_eq!(yard.materials.len(), 14);
}

#[test]
fn findings_within_a_sheet_name_sheet_and_leg() {
    let text = YARD.replacen("rear-gap=(in)2", "rear-gap=2", 1).replacen(
        "old-strap\" from=\"rear-right\"",
        "old-strap\" from=\"x\"",
        1,
    );
    let (_, findings, _) = read(&[&text]);
    assert_eq!(findings.len(), 2);
    for finding in findings {
        assert_eq!(finding.sheet.as_deref(), Some("digger-and-stone"));
        assert_eq!(finding.leg.as_deref(), Some("out"));
    }
}

#[test]
fn numbers_are_read_for_rule_files_too() {
    let text = "a (pct)10 12 \"16 ft 4 in\" (lbs)3 #inf \"ten\" low=(lb)2";
    let document = with_stack(|| parse(FileId(0), text)).document.expect("a document");
    let read: Vec<_> = document.nodes[0].entries.iter().map(read_number).collect();
    let values: Vec<Option<(f64, Option<Kind>)>> =
        read.iter().map(|one| one.as_ref().ok().map(|(si, kind, _)| (*si, *kind))).collect();
    assert_eq!(values[0], Some((0.1, Some(Kind::Share))));
    assert_eq!(values[1], Some((12.0, None)));
    near(values[2].expect("a length").0, 196.0 * INCH);
    let rules: Vec<&str> = read.iter().filter_map(|one| one.as_ref().err().map(|error| error.rule)).collect();
    assert_eq!(rules, ["unit-wrong", "not-possible", "not-possible"]);
    assert_eq!(values[6], Some((2.0 * LB, Some(Kind::Mass))));
}

#[test]
fn the_vocabulary_is_sound() {
    fn walk(word: &'static words::Word, count: &mut usize) {
        *count += 1;
        assert!(word.doc.ends_with('.') && word.doc.len() > 5, "{}: {}", word.name, word.doc);
        let values = || word.args.iter().chain(word.props);
        for value in values() {
            assert!(value.doc.ends_with('.'), "{} {}", word.name, value.name);
            let same = values().filter(|other| other.name == value.name).count();
            assert_eq!(same, 1, "{} {}", word.name, value.name);
            assert!(word.child(value.name).is_none(), "{} {} is a value and a node", word.name, value.name);
            if let words::Takes::Quantity { least, most, .. } = value.takes {
                assert!(least < most, "{} {}", word.name, value.name);
            }
        }
        for (at, child) in word.inner().enumerate() {
            assert!(!word.inner().take(at).any(|other| other.word.name == child.word.name), "{}", child.word.name);
            walk(child.word, count);
        }
    }
    let mut count = 0;
    for word in words::WORDS {
        walk(word, &mut count);
    }
    assert!(count > 100, "{count} words");
    assert_eq!(words::ORIGIN.takes.words().count(), Origin::ALL.len());
}

#[test]
fn what_cannot_be_kept_is_not_passed_over() {
    let lost = |old: &str, new: &str| {
        assert!(YARD.contains(old), "{old} is not in the yard");
        let (yard, findings, _) = read(&[&YARD.replacen(old, new, 1)]);
        assert_eq!(findings.len(), 1, "{findings:#?}");
        let mut lost: Vec<String> = Vec::new();
        lost.extend(yard.trailers.iter().filter(|one| one.owner.lost).map(|one| one.owner.path.to_string()));
        for sheet in &yard.sheets {
            lost.extend(sheet.owner.lost.then(|| sheet.owner.path.to_string()));
            lost.extend(sheet.legs.iter().filter(|leg| leg.owner.lost).map(|leg| leg.owner.path.to_string()));
        }
        lost
    };
    assert_eq!(lost("cargo \"pipe coil\"", "cargo"), ["sheet \"trencher-move\""]);
    assert_eq!(lost("cargo \"pipe coil\"", "carge \"pipe coil\""), ["sheet \"trencher-move\""]);
    assert_eq!(lost("cargo \"pipe coil\"", "something \"pipe coil\""), ["sheet \"trencher-move\""]);
    assert_eq!(lost("bulk \"crushed-stone\"", "bulk"), ["sheet \"digger-and-stone\" leg \"stone\""]);
    assert_eq!(lost("axle at=(in)189", "axel at=(in)189"), ["trailer \"sled-20\""]);
    assert_eq!(lost("gvwr (lb)12000", "gwvr (lb)12000"), Vec::<String>::new());
}

#[test]
fn a_weight_given_as_a_force_keeps_its_number() {
    let text = YARD.replacen("walls height=(in)24", "walls height=(in)24 holds=(lb)2000", 1);
    let (yard, findings, _) = read(&[&text]);
    assert_eq!(findings, Vec::new());
    let holds = yard.trailers[1].walls.as_ref().and_then(|walls| walls.holds.entry()).expect("a force");
    near(holds.value.si(), 2000.0 * LB * 9.806_65);
    assert_eq!(holds.unit.map(|unit| (unit.symbol, unit.kind)), Some(("lbf", Kind::Force)));
}
