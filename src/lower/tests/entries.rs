//! One fault put into the example yard at a time: exactly one finding, at the smallest thing to change, with help that
//! says what to write.

use super::{YARD, read};

/// The findings of the example yard with one piece replaced, as `rule @ snippet | help`. The piece must stand there.
pub(super) fn with(old: &str, new: &str) -> Vec<String> {
    assert!(YARD.contains(old), "{old} is not in the yard");
    show(&[&YARD.replacen(old, new, 1)])
}

fn show(files: &[&str]) -> Vec<String> {
    let (_, findings, sources) = read(files);
    let shown = findings.iter().map(|one| {
        let help = one.help.as_deref().unwrap_or("-");
        format!("{} @ {} | {help}", one.rule, sources.slice(one.primary.span))
    });
    shown.collect()
}

#[track_caller]
pub(super) fn one(old: &str, new: &str, expected: &str) {
    assert_eq!(with(old, new), [expected]);
}

#[test]
fn an_unknown_word_has_its_nearest() {
    one("wheelbase (in)172", "whelbase (in)172", "unknown-word @ whelbase | write `wheelbase (in)172`");
    one("weighed=(lb)4360", "wieghed=(lb)4360", "unknown-word @ wieghed | write `weighed=(lb)4360`");
    one("truck \"rook\" {", "truk \"rook\" {", "unknown-word @ truk | write `truck`");
    one("    breakaway #true", "    break-away #true", "unknown-word @ break-away | write `breakaway #true`");
}

#[test]
fn an_unknown_word_in_the_other_form_is_rewritten() {
    one(
        "truck \"rook\" {\n    describe \"one-ton crew cab, dual rear wheels, driver and full tank aboard\"",
        "truck \"rook\" gvwr=(lb)14000 {",
        "unknown-word @ gvwr | write it as a child: gvwr (lb)14000",
    );
    one(
        "suspension \"equalized\"",
        "suspension \"equalized\" { level-at (in)20; }",
        "unknown-word @ level-at | write it on that line: level-at=(in)20",
    );
}

#[test]
fn an_unknown_word_that_belongs_elsewhere_says_where() {
    one(
        "    gvwr (lb)14000\n    gcwr",
        "    gvwr (lb)14000\n    outline front=(in)1\n    gcwr",
        "unknown-word @ outline | move it to machine or attachment, where it belongs",
    );
    one("leg \"out\" {", "leg \"out\" {\n truck \"rook\"", "unknown-word @ truck | move it to sheet, where it belongs");
    one("leg \"out\" {", "leg \"out\" {\n leg \"x\" {}", "unknown-word @ leg | move it to sheet, where it belongs");
}

#[test]
fn a_colon_is_the_syntaxs_to_report() {
    for (old, new) in [
        ("gvwr (lb)14000\n    gcwr", "gvwr: (lb)14000\n    gcwr"),
        ("wheelbase (in)58", "wheelbase: 58 in"),
        ("truck \"rook\" {", "truck: \"rook\" {"),
    ] {
        assert_eq!(with(old, new), Vec::<String>::new());
    }
}

#[test]
fn an_unknown_word_near_to_none_lists_what_is_known() {
    one(
        "    brake-controller #true",
        "    brake-controller #true; zzz 3",
        "unknown-word @ zzz | write one of its words: behind-rear-axle, height, restores, s-value, d-value, dc-value, v-value, rating, ball or brake-controller",
    );
    assert_eq!(show(&[YARD, "foreign 1\nother { x 2; }"]), Vec::<String>::new());
    let mixed = show(&[YARD, "foreign 1\ntiedown \"spare\" kind=\"chain\""]);
    assert_eq!(mixed.len(), 2, "{mixed:?}");
    assert!(mixed[0].starts_with("unknown-word @ foreign"), "{mixed:?}");
}

#[test]
fn a_word_of_a_list_has_its_nearest() {
    one("hitch \"ball\"", "hitch \"bal\"", "unknown-word @ \"bal\" | write \"ball\"");
    one(
        "tiedown \"chain-38\" kind=\"chain\"",
        "tiedown \"chain-38\" kind=\"string\"",
        "unknown-word @ \"string\" | write \"chain\", \"webbing\", \"wire-rope\", \"fiber-rope\" or \"steel-strapping\"",
    );
    one("low=(pct)11", "low=(pct)11 levl=\"note\"", "unknown-word @ levl | write `level=\"note\"`");
    one("pressure=(psi)65", "pressure=(psi)65 speed=\"l\"", "unknown-word @ \"l\" | write \"L\"");
}

#[test]
fn a_value_without_a_key_has_no_place() {
    one(
        "weighed=(lb)4360",
        "(lb)4360",
        "unknown-word @ (lb)4360 | write its key before it: weighed, rating or track-width",
    );
    one("gcwr (lb)31000", "gcwr (lb)31000 5", "unknown-word @ 5 | delete 5");
}

#[test]
fn the_yard_node_stands_in_its_own_file() {
    let found = show(&[YARD, "yard \"Other\" { units \"si\"; }"]);
    assert_eq!(found, ["unknown-word @ yard | move it to yard.kdl, or delete it"]);
}

#[test]
fn how_well_it_is_known_stands_beside_numbers() {
    one(
        "breakaway #true",
        "breakaway #true origin=\"plate\"",
        "unknown-word @ origin | write it on the line of the numbers that it is about",
    );
    one(
        "wheelbase (in)172",
        "wheelbase (in)172 plus-minus=(lb)1",
        "unit-wrong @ lb | write it in the unit of the numbers, or as a share in pct",
    );
    one(
        "wheelbase (in)172",
        "wheelbase (in)172 plus-minus=(in)-1",
        "not-possible @ -1 | write how far it can be off, without a sign",
    );
    one(
        "wheelbase (in)172",
        "wheelbase (in)172 plus-minus=1",
        "unit-missing @ 1 | write (lb)1, (in)1 or (pct)1, as it is meant",
    );
}

#[test]
fn what_is_missing_is_said_once() {
    one("weighed=(lb)4360 ", "", "missing-entry @ axle \"front\" | add weighed=(lb)… to its line");
    one("    wheelbase (in)172\n", "", "missing-entry @ truck \"rook\" | add wheelbase (in)… in its braces");
    one("wheelbase (in)172", "wheelbase", "missing-entry @ wheelbase | write wheelbase (in)…");
    one("truck \"rook\" {", "truck {", "missing-entry @ truck | write truck \"…\"");
    one("anchor \"rear-left\"   from", "anchor from", "missing-entry @ anchor | write anchor \"…\"");
    one("lash-point \"rear-left\"   arm", "lash-point arm", "missing-entry @ lash-point | write lash-point \"…\"");
    one(
        "axle \"front\" weighed=(lb)4360",
        "axle weighed=(lb)4360",
        "missing-entry @ axle | write axle \"front\" or \"rear\"",
    );
    one(
        "    truck \"rook\"\n    trailer \"tipper-12\"",
        "    trailer \"tipper-12\"",
        "missing-entry @ sheet \"digger-and-stone\" | add truck \"…\" in its braces",
    );
    one(
        "    cg arm=(in)31 height=(in)30",
        "",
        "missing-entry @ machine \"mini-digger-26\" | add cg arm=(in)… in its braces",
    );
    one(
        "    axle \"rear\"  weighed=(lb)1890 wheel-radius=(in)13 driven=#true\n",
        "",
        "missing-entry @ machine \"trencher-30\" | add axle \"rear\" weighed=(lb)… in its braces",
    );
    one("until=\"2027-03-31\"", "", "missing-entry @ waive \"tongue-heavy\" | add until=\"YYYY-MM-DD\" to its line");
}

#[test]
fn a_machine_stands_on_something() {
    let text = "machine \"crate\" { outline front=(in)1 rear=(in)-1; }";
    let found = show(&["", text]);
    assert_eq!(
        found,
        ["missing-entry @ machine \"crate\" | add both axles as weighed and the wheelbase, or weight, cg and tracks"]
    );
}

#[test]
fn a_unit_that_is_missing_is_offered() {
    // What all others of the definition are written in, or those of the file where it has none.
    let weight = "unit-missing @ 4360 | write (lb)4360, as every other weight here; kg, t, ton fit too";
    one("weighed=(lb)4360", "weighed=4360", weight);
    let length = "unit-missing @ 0 | write (in)0, as every other length here; ft, mm, cm, m, yd fit too";
    one("foot-rise (in)0", "foot-rise 0", length);
    // This trailer's deck is in feet, the rest of it in inches: no unit is guessed.
    one(
        "deck from=(in)62",
        "deck from=62",
        "unit-missing @ 62 | write (in) or (mm) before the number; ft, cm, m, yd fit too",
    );
    one(
        "length=(ft)20",
        "length=20",
        "unit-missing @ 20 | write (in) or (mm) before the number; ft, cm, m, yd fit too",
    );
    // The only speed of the file.
    one("speed=(mph)55", "speed=55", "unit-missing @ 55 | write (mph) or (kmh) before the number");
    // Shares have one unit, and yet a small number may be a part of the whole.
    one("grade=(pct)6", "grade=0.06", "unit-missing @ 0.06 | write (pct) before the number");
    one("weighed=(lb)4360", "weighed=4360 \"lb\"", "unit-missing @ 4360 | write the unit before the number: (lb)4360");
    one("gcwr (lb)31000", "gcwr 31000 lbs", "unit-missing @ 31000 | write the unit before the number: (lb)31000");
}

#[test]
fn a_unit_that_is_wrong_is_named() {
    one("weighed=(lb)4360", "weighed=(in)4360", "unit-wrong @ in | write it in lb, kg, t or ton");
    one("weighed=(lb)4360", "weighed=(lbs)4360", "unit-wrong @ lbs | write (lb)4360");
    one("wheelbase (in)172", "wheelbase (inches)172", "unit-wrong @ inches | write (in)172");
    one("gcwr (lb)31000", "(lb)gcwr 31000", "unit-wrong @ lb | write gcwr (lb)31000");
    one("tires count=2 rating=(lb)3640", "tires count=(lb)2 rating=(lb)3640", "unit-wrong @ (lb)2 | write 2");
    one("trailer \"sled-20\" {", "(big)trailer \"sled-20\" {", "unit-wrong @ big | write trailer without it");
}

#[test]
fn what_cannot_be_is_said() {
    one("weighed=(lb)4360", "weighed=(lb)-4360", "not-possible @ -4360 | write a weight from 2.2 lb to 110,000 lb");
    one("weighed=(lb)4360", "weighed=(lb)#inf", "not-possible @ #inf | write a finite number");
    one("weighed=(lb)4360", "weighed=(lb)1e300", "not-possible @ 1e300 | write a weight from 2.2 lb to 110,000 lb");
    one("weighed=(lb)4360", "weighed=\"4360 lb\"", "not-possible @ \"4360 lb\" | write (lb)4360");
    one("weighed=(lb)4360", "weighed=(lb)\"4360\"", "not-possible @ \"4360\" | write (lb)4360");
    one("ball size=(in)2.3125", "ball size=\"2 5/16\"", "not-possible @ \"2 5/16\" | write (in)2.3125");
    one("weighed=(lb)4360", "weighed=\"4,360 pounds\"", "not-possible @ \"4,360 pounds\" | write (lb)4360");
    one("tires count=4", "tires count=0", "not-possible @ 0 | write a whole number from 1 to 16");
    one("tires count=4", "tires count=4.5", "not-possible @ 4.5 | write a whole number from 1 to 16");
    one(
        "until=\"2027-03-31\"",
        "until=\"2027-02-29\"",
        "not-possible @ \"2027-02-29\" | write year, month and day: \"YYYY-MM-DD\"",
    );
    one("brake-controller #true", "brake-controller \"yes\"", "not-possible @ \"yes\" | write #true");
    one("brake-controller #true", "brake-controller maybe", "not-possible @ maybe | write #true or #false");
    one(
        "load-index=120",
        "load-index=300",
        "not-possible @ 300 | write a whole number from 50 to 150, or two as on the tire: \"121/118\"",
    );
    one(
        "load-index=120",
        "load-index=\"121-118\"",
        "not-possible @ \"121-118\" | write a whole number from 50 to 150, or two as on the tire: \"121/118\"",
    );
    one("describe \"20 ft", "describe 20 //\"", "not-possible @ 20 | write it in quotes: \"20\"");
    one("grade=\"70\"", "grade=70", "not-possible @ 70 | write it in quotes: \"70\"");
    one(
        "hitch \"ball\"",
        "hitch #true",
        "not-possible @ #true | write \"ball\", \"weight-distributing\", \"gooseneck\", \"fifth-wheel\" or \"pintle\"",
    );
}

#[test]
fn names_that_stand_twice_show_the_first() {
    let twice = "tiedown \"strap-3\" kind=\"webbing\"";
    let (_, findings, sources) = read(&[YARD, twice]);
    assert_eq!(findings.len(), 1);
    assert_eq!(findings[0].rule, "name-twice");
    assert_eq!(findings[0].primary.span.file.0, 1);
    assert_eq!(sources.slice(findings[0].labels[0].span), "\"strap-3\"");
    assert_eq!(findings[0].labels[0].span.file.0, 0);
    one("gcwr (lb)31000", "gcwr (lb)31000; gcwr (lb)32000", "name-twice @ gcwr (lb)32000 | delete one of them");
    one("weighed=(lb)4360", "weighed=(lb)4360 weighed=(lb)4400", "name-twice @ weighed=(lb)4400 | delete one of them");
    one(
        "axle \"rear\"  weighed=(lb)1890",
        "axle \"front\" weighed=(lb)1890",
        "name-twice @ \"front\" | delete one of them",
    );
    one(
        "axle \"rear\" weighed=(lb)3240",
        "axle \"front\" weighed=(lb)3240",
        "name-twice @ \"front\" | delete one of them",
    );
    one("leg \"stone\"", "leg \"out\"", "name-twice @ \"out\" | delete one of them");
    let anchors = with("anchor \"mid-left\"", "anchor \"mid-right\"");
    assert_eq!(anchors, ["name-twice @ \"mid-right\" | delete one of them"]);
    let yards = with("// The company's yard", "yard \"Second\"\n// The company's yard");
    assert_eq!(yards.len(), 1);
    assert!(yards[0].starts_with("name-twice @ yard \"Heron Fork Groundworks\""), "{yards:?}");
}

#[test]
fn unknown_names_have_their_nearest() {
    one(
        "    truck \"rook\"\n    trailer \"tipper-12\"",
        "    truck \"rok\"\n    trailer \"tipper-12\"",
        "name-unknown @ \"rok\" | write \"rook\", or define truck \"rok\" in a file of this yard",
    );
    one(
        "fit \"backfill-blade\"",
        "fit \"trencher-30\"",
        "name-unknown @ \"trencher-30\" | define attachment \"trencher-30\" in a file of this yard",
    );
    one(
        "bulk \"crushed-stone\"",
        "bulk \"crushed-stones\"",
        "name-unknown @ \"crushed-stones\" | write \"crushed-stone\", or define material \"crushed-stones\" in a file of this yard",
    );
    one(
        "from=\"front-left\"  to=\"front-left\"",
        "from=\"front-lefd\"  to=\"front-left\"",
        "name-unknown @ from=\"front-lefd\" | write \"front-left\", or add anchor \"front-lefd\" to trailer \"sled-20\"",
    );
    one(
        "from=\"front-left\"  to=\"front-left\"",
        "from=\"front-left\"  to=\"nose\"",
        "name-unknown @ to=\"nose\" | write one of \"front-left\", \"front-right\", \"rear-left\" or \"rear-right\", or add lash-point \"nose\" to machine \"trencher-30\"",
    );
    one(
        "rear-gap=(in)6 {",
        "rear-gap=(in)6 on=\"pallet\" {",
        "name-unknown @ on=\"pallet\" | write one of \"trencher-30\" or \"pipe coil\"",
    );
    one(
        "until=\"2027-03-31\"",
        "until=\"2027-03-31\" item=\"mini-digger-25\"",
        "name-unknown @ item=\"mini-digger-25\" | write \"mini-digger-26\"",
    );
    one(
        "rear-gap=(in)6 {",
        "rear-gap=(in)6 on=\"pipe coil\" {",
        "does-not-add-up @ on=\"pipe coil\" | name the item that it stands on",
    );
}

#[test]
fn an_item_is_placed_once() {
    one(
        "facing=\"forward\" front-gap=(in)43",
        "facing=\"forward\"",
        "not-placed @ machine \"trencher-30\" | add front-gap=(in)… from the deck's front edge, or rear-gap=(in)… from its rear edge",
    );
    one(
        "front-gap=(in)43",
        "front-gap=(in)43 rear-gap=(in)3",
        "placed-twice @ rear-gap=(in)3 | keep the one that was measured and delete the other",
    );
    one(
        "front-gap=(in)43",
        "front-gap=43",
        "unit-missing @ 43 | write (in)43, as every other length here; ft, mm, cm, m, yd fit too",
    );
    one("front-gap=(in)43", "frontgap=(in)43", "unknown-word @ frontgap | write `front-gap=(in)43`");
}

#[test]
fn what_no_sheet_uses_is_a_note() {
    let found = show(&[
        YARD,
        "tiedown \"spare\" kind=\"chain\"\nmaterial \"slag\" { density \"dry\" low=(\"lb/yd3\")1500 high=(\"lb/yd3\")1600; }",
    ]);
    let expected =
        ["\"spare\"", "\"slag\""].map(|id| format!("never-used @ {id} | delete it when it is not kept for later"));
    assert_eq!(found, expected);
    // Without a sheet, or with one that could not be read whole, nothing is known to be unused.
    assert_eq!(show(&["tiedown \"spare\" kind=\"chain\""]), Vec::<String>::new());
}

#[test]
fn what_the_syntax_lost_is_not_missed_again() {
    let broken = YARD.replacen("truck \"rook\" {", "truck \"rook\" { ) ", 1);
    assert_eq!(show(&[&broken]), Vec::<String>::new());
}
