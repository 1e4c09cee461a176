//! Loads that cannot be computed, or that nobody would write: something is said, and nothing goes wrong.

use draylint::mend::{LoadPlaces, places};
use draylint::syntax::with_stack;
use draylint::yard::{Narrowed, Progress, Trimmed, Write, trim};

use crate::pipeline::{Pipeline, options};

const TRUCK: &str = r#"truck "rook" {
    axle "front" weighed=(lb)4400 rating=(lb)5600 { tires count=2 rating=(lb)3000; }
    axle "rear" weighed=(lb)3300 rating=(lb)9900 { tires count=4 rating=(lb)2600; }
    wheelbase (in)172
    gvwr (lb)14000
    gcwr (lb)30000
    hitch "ball" behind-rear-axle=(in)54 height=(in)20 { rating tongue=(lb)2100 trailer=(lb)18500; ball size=(in)2.3125 rating=(lb)20000; }
}
"#;
const SLED: &str = r#"trailer "sled" {
    empty tongue=(lb)440 axles=(lb)3200
    gvwr (lb)14000
    coupler "ball" size=(in)2.3125 rating=(lb)15000
    axle at=(in)188 rating=(lb)7000 track-width=(in)87 { tires count=2 rating=(lb)3750; }
    axle at=(in)222 rating=(lb)7000 track-width=(in)87 { tires count=2 rating=(lb)3750; }
    suspension "equalized"
    safety-chains count=2 breaking=(lb)17000
    deck from=(in)60 length=(ft)20 width=(in)83 height=(in)26
}
machine "skid" {
    axle "front" weighed=(lb)2300
    axle "rear" weighed=(lb)4300
    wheelbase (in)42
    track-width (in)58
    outline front=(in)70 rear=(in)-38 width=(in)68 height=(in)80
}
"#;
const SETTINGS: &str =
    "yard \"Heron Fork Groundworks\" {\n    follow \"none\"\n    conditions deck=\"dry\" speed=(mph)55\n}\n";

/// Where things may stand in a sheet with these lines, after one change of the definitions.
fn placed(change: (&str, &str), lines: &str) -> LoadPlaces {
    let fleet = format!("{TRUCK}{SLED}");
    assert!(fleet.contains(change.0), "{}", change.0);
    let fleet = fleet.replace(change.0, change.1);
    let sheet = format!("sheet \"job\" {{\n    truck \"rook\"\n    trailer \"sled\"\n{lines}\n}}\n");
    with_stack(move || {
        let pipeline = Pipeline::of_any(&fleet, SETTINGS);
        let (yard, _) = pipeline.yard_of_any(&sheet);
        let which = yard.loads().next().expect("a load");
        places(&yard, &pipeline.rules, which, None).expect("a load")
    })
}

/// What `trim` makes of the same sheet on a disk.
fn trimmed(lines: &str) -> Trimmed {
    let folder = tempfile::tempdir().unwrap();
    let sheet = format!("sheet \"job\" {{\n    truck \"rook\"\n    trailer \"sled\"\n{lines}\n}}\n");
    for (name, text) in [("yard.kdl", SETTINGS), ("fleet.kdl", &format!("{TRUCK}{SLED}")), ("job.kdl", &sheet)] {
        std::fs::write(folder.path().join(name), text).unwrap();
    }
    let pool = draylint::syntax::pool().build().unwrap();
    pool.install(|| {
        trim(&[folder.path().to_path_buf()], &Narrowed::default(), &options(), Write::Nothing, &Progress::default())
            .unwrap()
    })
}

const SAME: (&str, &str) = ("", "");
const CRATE: &str = "    cargo \"crate\" weight=(lb)3000 length=(in)60 width=(in)50 height=(in)40 front-gap=(in)60";

/// Everything that is said of ranges is a number, and in order.
fn sound(load: &LoadPlaces) {
    for item in &load.items {
        assert!(!item.facings.is_empty());
        for facing in &item.facings {
            // Either there are ranges, or it is said what excludes them.
            assert_eq!(facing.ranges.is_empty(), facing.collision.is_some(), "{}: {facing:?}", item.item);
            let ends: Vec<f64> = facing.ranges.iter().flat_map(|range| [range.from.at, range.to.at]).collect();
            assert!(ends.iter().all(|end| end.is_finite()) && ends.is_sorted(), "{ends:?}");
        }
    }
}

#[test]
fn what_is_missing_is_named_and_no_range_is_offered() {
    for (change, lines, missing) in [
        (("    empty tongue=(lb)440 axles=(lb)3200\n", ""), CRATE, "empty"),
        (("    wheelbase (in)172\n", ""), CRATE, "wheelbase"),
        (("from=(in)60 length=(ft)20", "length=(ft)20"), CRATE, "from"),
        (("length=(ft)20 width", "width"), CRATE, "length"),
        (("    wheelbase (in)42\n", ""), "    machine \"skid\" facing=\"forward\" front-gap=(in)60", "wheelbase"),
        (SAME, "    cargo \"crate\" length=(in)60 front-gap=(in)60", "weight"),
        (SAME, "    cargo \"crate\" weight=(lb)3000 length=(in)60", "front-gap"),
        (SAME, "    machine \"skid\" front-gap=(in)60", "facing"),
        (SAME, "    machine \"nobody\" facing=\"forward\" front-gap=(in)60", "machine"),
        (("axle at=(in)188", "axle"), CRATE, "at"),
        (("behind-rear-axle=(in)54 ", ""), CRATE, "behind-rear-axle"),
    ] {
        let load = placed(change, lines);
        let said = load.missing.as_deref().unwrap_or("nothing");
        assert!(said.contains(missing), "{missing}: {said}\n{lines}");
        assert!(load.items.is_empty(), "{missing}");
    }
    // With all of it there are ranges, so that none was held back for another reason.
    let load = placed(SAME, CRATE);
    assert_eq!((load.missing.as_deref(), load.items.len()), (None, 1));
    assert_eq!(load.items[0].facings[0].ranges.len(), 1);
}

#[test]
fn absurd_loads_have_ranges_or_reasons() {
    let machine = "    machine \"skid\" facing=\"forward\" front-gap=(in)60";
    for (what, change, lines) in [
        ("a deck of no length", ("length=(ft)20", "length=(in)0"), CRATE.to_owned()),
        ("a deck of a millimetre", ("length=(ft)20", "length=(mm)1"), CRATE.to_owned()),
        ("an item longer than the deck", SAME, CRATE.replace("length=(in)60", "length=(in)900")),
        ("a negative gap", SAME, CRATE.replace("front-gap=(in)60", "front-gap=(in)-20")),
        ("wholly ahead of the deck", SAME, CRATE.replace("front-gap=(in)60", "front-gap=(in)-400")),
        ("wholly behind the deck", SAME, CRATE.replace("front-gap=(in)60", "front-gap=(in)800")),
        ("nothing in weight", SAME, CRATE.replace("weight=(lb)3000", "weight=(lb)0")),
        ("heavier than a ship", SAME, CRATE.replace("weight=(lb)3000", "weight=(t)1e9")),
        ("the largest number", SAME, CRATE.replace("front-gap=(in)60", "front-gap=(in)1e308")),
        ("no number at all", SAME, CRATE.replace("front-gap=(in)60", "front-gap=(in)#nan")),
        ("a needle", SAME, CRATE.replace("length=(in)60", "length=(mm)0.001")),
        ("twice the same machine", SAME, format!("{machine}\n{machine}")),
        ("on itself", SAME, format!("{CRATE} on=\"crate\"")),
        ("on nothing", SAME, format!("{CRATE} on=\"nobody\"")),
        (
            "a ring of two",
            SAME,
            format!("{CRATE} on=\"other\"\n{}", CRATE.replace("\"crate\"", "\"other\"") + " on=\"crate\""),
        ),
        ("an axle far behind", ("at=(in)222", "at=(in)100000"), CRATE.to_owned()),
        ("axles at the ball", ("at=(in)188", "at=(in)0.001"), CRATE.to_owned()),
        ("no tongue", ("tongue=(lb)440", "tongue=(lb)-2000"), CRATE.to_owned()),
        ("nothing aboard", SAME, String::new()),
        ("a heap over the whole deck", SAME, "    bulk \"gravel\" volume=(yd3)150".to_owned()),
        ("a heap behind the deck", SAME, "    bulk \"gravel\" volume=(yd3)2 front-gap=(in)240".to_owned()),
    ] {
        let load = placed(change, &lines);
        sound(&load);
        // What could be computed speaks of everything that has a gap of its own on the deck, or a volume.
        let rings = lines.matches(" on=").count();
        let own = lines.matches("-gap=").count().saturating_sub(if what == "on nothing" { 0 } else { rings });
        let volumes = lines.matches("volume=").count();
        if load.missing.is_none() {
            assert_eq!(load.items.len(), own + volumes, "{what}");
        } else {
            assert!(load.items.is_empty(), "{what}");
        }
    }
}

/// So many crates in a row, an inch between any two.
fn row(count: usize) -> String {
    let line = |at: usize| {
        let gap = at * 8;
        format!("    cargo \"crate-{at}\" weight=(lb)150 length=(in)7 width=(in)50 height=(in)40 front-gap=(in){gap}\n")
    };
    (0..count).map(line).collect()
}

#[test]
fn thirty_items_on_one_deck_are_looked_at() {
    // Three high: what stands on others goes along with the lowest.
    let mut lines = row(10);
    lines.extend((0..20).map(|at| {
        let (on, under, gap) = if at < 10 { ("crate", at, at * 8) } else { ("upper", at - 10, (at - 10) * 8) };
        format!(
            "    cargo \"upper-{at}\" weight=(lb)50 length=(in)7 width=(in)50 height=(in)10 front-gap=(in){gap} \
             on=\"{on}-{under}\"\n"
        )
    }));
    let load = placed(SAME, &lines);
    sound(&load);
    assert_eq!(load.items.len(), 10);
    assert!(load.items.iter().all(|item| item.with.len() == 2));
}

#[test]
fn a_dozen_items_are_searched_for_fixes() {
    assert_eq!(trimmed(&row(12)).loads, 1);
}

#[test]
fn a_search_for_fixes_returns_from_absurd_loads() {
    for lines in [
        CRATE.replace("length=(in)60", "length=(in)900"),
        CRATE.replace("front-gap=(in)60", "front-gap=(in)-400"),
        CRATE.replace("front-gap=(in)60", "front-gap=(in)800"),
        CRATE.replace("weight=(lb)3000", "weight=(t)1e9"),
        format!("{CRATE} on=\"crate\""),
        format!("{CRATE} on=\"other\"\n{}", CRATE.replace("\"crate\"", "\"other\"") + " on=\"crate\""),
        format!("{CRATE}\n{CRATE}\n{CRATE}"),
        "    bulk \"gravel\" volume=(yd3)150".to_owned(),
    ] {
        // Whatever is offered can be made: its edits stand in the sheet.
        let trimmed = trimmed(&lines);
        assert_eq!(trimmed.loads, 1, "{lines}");
        for trim in &trimmed.trims {
            let source = trimmed.sources.get(trim.file).unwrap();
            assert!(draylint::finding::applied(&source.text, &trim.fix.edits).is_some(), "{lines}");
        }
    }
}
