//! The built-in frictions against the table from which they come.

use std::collections::BTreeMap;
use std::path::Path;

use draylint::lower::{BUILTIN_FRICTIONS, builtin_frictions, lower_file};
use draylint::model::{Choice, Friction};
use draylint::syntax::{parse, with_stack};
use draylint::text::FileId;
use draylint::units::Share;

/// A row of the table: one thing, the other, and in which state.
type Row = (&'static str, &'static str, &'static str);

/// From which rows the least and the most of each built-in pair are taken.
const TAKEN: &[(&str, &str, &str, Row, Row)] = &[
    ("rubber-tire", "smooth-steel", "dry", ("rubber tire", "steel deck", "dry"), ("rubber tire", "steel deck", "dry")),
    ("rubber-tire", "smooth-steel", "wet", ("rubber tire", "steel deck", "wet"), ("rubber tire", "steel deck", "wet")),
    ("rubber-tire", "smooth-steel", "icy", ("rubber tire", "steel deck", "icy"), ("rubber tire", "steel deck", "icy")),
    (
        "rubber-tire",
        "smooth-steel",
        "muddy",
        ("rubber tire", "steel deck", "muddy"),
        ("rubber tire", "steel deck", "muddy"),
    ),
    ("rubber-tire", "tread-plate", "dry", ("rubber tire", "steel deck", "dry"), ("rubber tire", "steel deck", "dry")),
    ("rubber-tire", "tread-plate", "wet", ("rubber tire", "steel deck", "wet"), ("rubber tire", "steel deck", "wet")),
    ("rubber-tire", "tread-plate", "icy", ("rubber tire", "steel deck", "icy"), ("rubber tire", "steel deck", "icy")),
    (
        "rubber-tire",
        "tread-plate",
        "muddy",
        ("rubber tire", "steel deck", "muddy"),
        ("rubber tire", "steel deck", "muddy"),
    ),
    ("rubber-tire", "rubber-mat", "dry", ("rubber mat", "any, clean", "any"), ("rubber mat", "any, clean", "any")),
    ("rubber-tire", "rubber-mat", "wet", ("rubber mat", "any, clean", "any"), ("rubber mat", "any, clean", "any")),
    ("rubber-track", "smooth-steel", "dry", ("steel", "rubber", "any"), ("steel", "rubber", "any")),
    ("rubber-track", "smooth-steel", "wet", ("steel", "rubber", "any"), ("steel", "rubber", "any")),
    ("rubber-track", "tread-plate", "dry", ("steel", "rubber", "any"), ("steel", "rubber", "any")),
    ("rubber-track", "tread-plate", "wet", ("steel", "rubber", "any"), ("steel", "rubber", "any")),
    (
        "rubber-track",
        "wood",
        "muddy",
        ("soiled track", "wooden deck", "muddy"),
        ("soiled track", "wooden deck", "muddy"),
    ),
    ("rubber-track", "rubber-mat", "dry", ("rubber mat", "any, clean", "any"), ("rubber mat", "any, clean", "any")),
    ("rubber-track", "rubber-mat", "wet", ("rubber mat", "any, clean", "any"), ("rubber mat", "any, clean", "any")),
    ("steel-track", "smooth-steel", "dry", ("steel track", "steel deck", "dry"), ("steel track", "steel deck", "dry")),
    ("steel-track", "smooth-steel", "wet", ("steel track", "steel deck", "wet"), ("steel track", "steel deck", "wet")),
    ("steel-track", "smooth-steel", "icy", ("steel track", "steel deck", "icy"), ("steel track", "steel deck", "icy")),
    (
        "steel-track",
        "smooth-steel",
        "muddy",
        ("steel track", "steel deck", "muddy"),
        ("steel track", "steel deck", "muddy"),
    ),
    ("steel-track", "tread-plate", "dry", ("steel track", "steel deck", "dry"), ("steel track", "steel deck", "dry")),
    ("steel-track", "tread-plate", "wet", ("steel track", "steel deck", "wet"), ("steel track", "steel deck", "wet")),
    ("steel-track", "tread-plate", "icy", ("steel track", "steel deck", "icy"), ("steel track", "steel deck", "icy")),
    (
        "steel-track",
        "tread-plate",
        "muddy",
        ("steel track", "steel deck", "muddy"),
        ("steel track", "steel deck", "muddy"),
    ),
    ("steel-track", "wood", "dry", ("steel track", "wood deck", "dry"), ("steel track", "wood deck", "dry")),
    ("steel-track", "wood", "wet", ("metal", "wood", "wet"), ("metal", "wood", "wet")),
    ("steel-track", "wood", "muddy", ("steel track", "wood deck", "muddy"), ("steel track", "wood deck", "muddy")),
    ("steel-track", "aluminum", "dry", ("metal", "metal", "dry"), ("metal", "metal", "dry")),
    ("steel-track", "aluminum", "wet", ("metal", "metal", "wet"), ("metal", "metal", "wet")),
    ("steel-track", "rubber-mat", "dry", ("steel", "rubber", "any"), ("steel", "rubber mat", "dry")),
    ("steel-track", "rubber-mat", "wet", ("steel", "rubber", "any"), ("rubber mat", "any, clean", "any")),
    (
        "wood",
        "wood",
        "dry",
        ("planed wood", "laminate or plywood", "dry"),
        ("sawn timber or wooden pallet", "laminate or plywood", "dry"),
    ),
    (
        "wood",
        "wood",
        "wet",
        ("planed wood", "laminate or plywood", "wet"),
        ("sawn timber or wooden pallet", "laminate or plywood", "wet"),
    ),
    ("wood", "smooth-steel", "dry", ("wood", "steel deck", "dry"), ("wood", "steel deck", "dry")),
    ("wood", "smooth-steel", "wet", ("wood", "steel deck", "wet"), ("wood", "steel deck", "wet")),
    ("wood", "smooth-steel", "icy", ("wood", "steel deck", "icy"), ("wood", "steel deck", "icy")),
    ("wood", "smooth-steel", "muddy", ("wood", "steel deck", "muddy"), ("wood", "steel deck", "muddy")),
    ("wood", "tread-plate", "dry", ("wood", "steel deck", "dry"), ("wood", "steel deck", "dry")),
    ("wood", "tread-plate", "wet", ("wood", "steel deck", "wet"), ("wood", "steel deck", "wet")),
    ("wood", "tread-plate", "icy", ("wood", "steel deck", "icy"), ("wood", "steel deck", "icy")),
    ("wood", "tread-plate", "muddy", ("wood", "steel deck", "muddy"), ("wood", "steel deck", "muddy")),
    (
        "wood",
        "aluminum",
        "dry",
        ("planed wood", "grooved aluminium", "dry"),
        ("sawn timber or wooden pallet", "grooved aluminium", "dry"),
    ),
    (
        "wood",
        "aluminum",
        "wet",
        ("planed wood", "grooved aluminium", "wet"),
        ("sawn timber or wooden pallet", "grooved aluminium", "wet"),
    ),
    ("wood", "rubber-mat", "dry", ("rubber mat", "any, clean", "any"), ("rubber mat", "any, clean", "any")),
    ("wood", "rubber-mat", "wet", ("rubber mat", "any, clean", "any"), ("rubber mat", "any, clean", "any")),
    ("steel", "wood", "dry", ("metal", "wood", "any"), ("steel crate", "laminate or plywood", "dry")),
    ("steel", "wood", "wet", ("metal", "wood", "any"), ("steel crate", "laminate or plywood", "wet")),
    ("steel", "smooth-steel", "dry", ("metal", "metal", "any"), ("steel crate", "stainless steel sheet", "dry")),
    ("steel", "smooth-steel", "wet", ("metal", "metal", "any"), ("steel crate", "stainless steel sheet", "wet")),
    ("steel", "tread-plate", "dry", ("metal", "metal", "any"), ("steel crate", "stainless steel sheet", "dry")),
    ("steel", "tread-plate", "wet", ("metal", "metal", "any"), ("steel crate", "stainless steel sheet", "wet")),
    ("steel", "aluminum", "dry", ("metal", "metal", "any"), ("steel crate", "grooved aluminium", "dry")),
    ("steel", "aluminum", "wet", ("metal", "metal", "any"), ("steel crate", "grooved aluminium", "wet")),
    ("steel", "rubber-mat", "dry", ("steel", "rubber", "any"), ("steel", "rubber mat", "dry")),
    ("steel", "rubber-mat", "wet", ("steel", "rubber", "any"), ("rubber mat", "any, clean", "any")),
    (
        "plastic",
        "wood",
        "dry",
        ("plastic pallet", "laminate or plywood", "dry"),
        ("plastic pallet", "laminate or plywood", "dry"),
    ),
    (
        "plastic",
        "wood",
        "wet",
        ("plastic pallet", "laminate or plywood", "wet"),
        ("plastic pallet", "laminate or plywood", "wet"),
    ),
    (
        "plastic",
        "aluminum",
        "dry",
        ("plastic pallet", "grooved aluminium", "dry"),
        ("plastic pallet", "grooved aluminium", "dry"),
    ),
    (
        "plastic",
        "aluminum",
        "wet",
        ("plastic pallet", "grooved aluminium", "wet"),
        ("plastic pallet", "grooved aluminium", "wet"),
    ),
    (
        "plastic",
        "smooth-steel",
        "dry",
        ("plastic pallet", "stainless steel sheet", "dry"),
        ("plastic pallet", "stainless steel sheet", "dry"),
    ),
    (
        "plastic",
        "smooth-steel",
        "wet",
        ("plastic pallet", "stainless steel sheet", "wet"),
        ("plastic pallet", "stainless steel sheet", "wet"),
    ),
    (
        "plastic",
        "tread-plate",
        "dry",
        ("plastic pallet", "stainless steel sheet", "dry"),
        ("plastic pallet", "stainless steel sheet", "dry"),
    ),
    (
        "plastic",
        "tread-plate",
        "wet",
        ("plastic pallet", "stainless steel sheet", "wet"),
        ("plastic pallet", "stainless steel sheet", "wet"),
    ),
    ("plastic", "rubber-mat", "dry", ("rubber mat", "any, clean", "any"), ("rubber mat", "any, clean", "any")),
    ("plastic", "rubber-mat", "wet", ("rubber mat", "any, clean", "any"), ("rubber mat", "any, clean", "any")),
    (
        "rubber",
        "smooth-steel",
        "dry",
        ("steel", "rubber", "any"),
        ("anti-slip rubber", "any other material, clean", "dry"),
    ),
    (
        "rubber",
        "smooth-steel",
        "wet",
        ("steel", "rubber", "any"),
        ("anti-slip rubber", "any other material, clean", "wet"),
    ),
    (
        "rubber",
        "tread-plate",
        "dry",
        ("steel", "rubber", "any"),
        ("anti-slip rubber", "any other material, clean", "dry"),
    ),
    (
        "rubber",
        "tread-plate",
        "wet",
        ("steel", "rubber", "any"),
        ("anti-slip rubber", "any other material, clean", "wet"),
    ),
    ("rubber", "rubber-mat", "dry", ("rubber mat", "any, clean", "any"), ("rubber mat", "any, clean", "any")),
    ("rubber", "rubber-mat", "wet", ("rubber mat", "any, clean", "any"), ("rubber mat", "any, clean", "any")),
];

/// What the table says of a row: the least, the most, source and status.
struct Published {
    low: Option<f64>,
    high: Option<f64>,
    source: String,
    status: String,
}

/// The fields of a line; a field in quotes may hold commas.
fn fields(line: &str) -> Vec<String> {
    let (mut all, mut quoted) = (vec![String::new()], false);
    for letter in line.chars() {
        match letter {
            '"' => quoted = !quoted,
            ',' if !quoted => all.push(String::new()),
            other => all.last_mut().unwrap().push(other),
        }
    }
    all
}

fn table(text: &str) -> BTreeMap<(String, String, String), Vec<Published>> {
    let mut all: BTreeMap<_, Vec<Published>> = BTreeMap::new();
    for line in text.lines().skip(1) {
        let [a, b, state, low, high, source, status] = fields(line).try_into().expect("seven fields");
        let published = Published { low: low.parse().ok(), high: high.parse().ok(), source, status };
        all.entry((a, b, state)).or_default().push(published);
    }
    all
}

fn told(one: &Friction) -> (&str, &str, &str) {
    let (what, on, deck) = one.pair().expect("a pair");
    (what.word(), on.word(), deck.word())
}

/// From the best known to the least.
fn rank(status: &str) -> usize {
    ["seen", "secondary", "memory", "default"].iter().position(|one| *one == status).expect("a known status")
}

#[test]
fn the_built_in_frictions_are_whole() {
    let parsed = with_stack(|| parse(FileId(0), BUILTIN_FRICTIONS));
    assert_eq!(parsed.findings, Vec::new());
    let defs = lower_file(&parsed.document.expect("a document"), false);
    assert_eq!(defs.findings, Vec::new());
    assert_eq!(defs.frictions.len(), builtin_frictions().len());
    for (one, (what, on, deck, ..)) in builtin_frictions().iter().zip(TAKEN) {
        assert_eq!(told(one), (*what, *on, *deck));
        assert!(one.low.value() <= one.high.value() && one.source.value().is_some(), "{:?}", told(one));
    }
    assert_eq!(builtin_frictions().len(), TAKEN.len());
}

/// Every number with its source's status is that of a row; of two rows the less certain status is told.
#[test]
#[expect(clippy::print_stderr, reason = "says that the file is not at hand")]
fn every_built_in_friction_is_a_row_of_the_table() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../shared/reference/data/friction.csv");
    let Ok(text) = std::fs::read_to_string(&path) else {
        assert!(std::env::var_os("CI").is_none(), "no reference file beside this folder");
        eprintln!("skipped: no reference file beside this folder");
        return;
    };
    let table = table(&text);
    for (one, (_, _, _, low, high)) in builtin_frictions().iter().zip(TAKEN) {
        let row = |(a, b, state): Row| {
            let rows = table.get(&(a.to_owned(), b.to_owned(), state.to_owned()));
            let [only] = rows.map_or(&[][..], Vec::as_slice) else { panic!("{a}, {b}, {state}: not one row") };
            only
        };
        let (low, high) = (row(*low), row(*high));
        assert_eq!(one.low.value().map(Share::si), low.low, "{:?}", told(one));
        assert_eq!(one.high.value().map(Share::si), high.high, "{:?}", told(one));
        let worse = if rank(&low.status) > rank(&high.status) { &low.status } else { &high.status };
        assert_eq!(one.status.value().map(Choice::word), Some(worse.as_str()), "{:?}", told(one));
        let source = one.source.value().expect("a source");
        for row in [low, high].into_iter().filter(|row| row.status == "default") {
            assert!(row.source.starts_with("tool default") && source.starts_with("tool default, low confidence"));
        }
        for name in ["CTU Code 2014", "CSS Code Annex 13", "VDI", "Australian Load Restraint Guide"] {
            let quoted = [low, high].iter().any(|row| row.status != "default" && row.source.starts_with(name));
            assert!(!quoted || source.contains(name), "{:?}: {source}", told(one));
        }
    }
}
