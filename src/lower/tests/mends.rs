//! Faults whose mend must be exact: units, feet and inches, words that people write for others, and one fault told once.

use super::entries::{one, with};
use super::{YARD, read};

#[test]
fn what_carries_a_value_is_not_to_be_deleted() {
    let weighed = "write weighed-with \"bucket\" in the machine's braces, if it was on when the machine was weighed";
    for (old, new, written) in [
        ("wheelbase (in)58", "wheelbase (in)58; weight (lb)3110 with=\"bucket\"", "with"),
        ("wheelbase (in)58", "wheelbase (in)58; fitted \"bucket\"", "fitted"),
        ("wheelbase (in)58", "wheelbase (in)58; includes \"bucket\"", "includes"),
    ] {
        one(old, new, &format!("unknown-word @ {written} | {weighed}"));
    }
    one(
        "front-gap=(in)43",
        "front-gap=(in)43 with=\"bucket\"",
        "unknown-word @ with | write it as a child: fit \"bucket\"",
    );
    one(
        "foot-rise (in)0",
        "foot-rise (in)0 zzz=3",
        "unknown-word @ zzz | write no more on it than its value, origin and plus-minus: move this to where it belongs",
    );
    one(
        "breakaway #true",
        "breakaway #true zzz=3",
        "unknown-word @ zzz | `breakaway` takes nothing further: keep this as a comment, after //",
    );
    let trailer = with("    breakaway #true", "    breakaway #true; qqqqqq 3");
    assert!(trailer[0].ends_with("anchor, width or length"), "{trailer:?}");
}

#[test]
fn no_mend_of_a_unit_changes_the_number() {
    let speed = |written: &str| format!("speed=({written})55");
    for (written, help) in [("kph", "write (kmh)55"), ("km-h", "write it in mph or kmh"), ("kmph", "write (kmh)55")] {
        let found = with("speed=(mph)55", &speed(written));
        assert_eq!(found, [format!("unit-wrong @ {written} | {help}")]);
    }
    for (written, help) in [
        ("tonne", "write (t)4360"),
        ("T", "write (t)4360"),
        ("tons", "write (ton)4360"),
        ("kilos", "write (kg)4360"),
        ("pounds", "write (lb)4360"),
        ("mg", "write it in lb, kg, t or ton"),
        ("st", "write it in lb, kg, t or ton"),
        ("feet", "write it in lb, kg, t or ton"),
    ] {
        let found = with("weighed=(lb)4360", &format!("weighed=({written})4360"));
        assert_eq!(found, [format!("unit-wrong @ {written} | {help}")]);
    }
    one("volume=(yd3)", "volume=(cy)", "unit-wrong @ cy | write (yd3)4");
}

#[test]
fn feet_and_inches_of_the_trade_have_an_exact_mend() {
    for (written, help) in [
        (r#""5' 6\"""#, "\"5 ft 6 in\""),
        (r#""5ft 6in""#, "\"5 ft 6 in\""),
        (r#""5 ft, 6 in""#, "\"5 ft 6 in\""),
        (r#""5 ft 6""#, "\"5 ft 6 in\""),
        (r#""5 ft 1/2 in""#, "\"5 ft 0.5 in\""),
        (r#""3 ft 14 in""#, "\"4 ft 2 in\""),
        (r#""5'""#, "(ft)5"),
        (r#""5 foot""#, "(ft)5"),
        (r#""40\"""#, "(in)40"),
    ] {
        let found = with("front-gap=(in)43", &format!("front-gap={written}"));
        assert_eq!(found, [format!("not-possible @ {written} | write {help}")]);
    }
}

#[test]
fn what_one_line_lacks_is_one_finding() {
    one(
        " reason=\"two miles of farm lane, 20 mph\" by=\"yard foreman\" until=\"2027-03-31\"",
        "",
        "missing-entry @ waive \"tongue-heavy\" | add reason=\"…\" by=\"…\" until=\"YYYY-MM-DD\" to its line",
    );
    let (_, findings, _) = read(&[YARD, "sheet { truck \"rook\"; trailer \"sled-20\"; }"]);
    assert_eq!(findings[0].message, "sheet lacks its name");
}

#[test]
fn what_only_some_rules_need_may_be_left_out() {
    for (old, new) in [
        ("tracks contact-length=(in)62 gauge", "tracks gauge"),
        ("safety-chains count=2 rating", "safety-chains rating"),
        ("from-front=(in)120 left=(in)39", ""),
        ("arm=(in)62  left=(in)20  height=(in)20", ""),
        ("point \"belly\" arm=(in)29 clearance=(in)8.5", "point \"belly\"; flat \"sill\""),
    ] {
        assert_eq!(with(old, new), Vec::<String>::new(), "{new}");
    }
}

#[test]
fn a_character_that_cannot_be_seen_is_told_by_the_syntax_alone() {
    for (old, new) in [
        ("wheelbase (in)172", "wheel\u{200b}base (in)172"),
        ("    truck \"rook\"", "    truck \"rook\u{200b}\""),
        ("hitch \"ball\"", "hitch \"ball\u{200b}\""),
        ("weighed=(lb)4360", "weighed=(lb\u{200b})4360"),
        ("truck \"rook\" {", "truck\u{200b} \"rook\" {"),
    ] {
        assert_eq!(with(old, new), Vec::<String>::new(), "{new}");
    }
}

#[test]
fn words_that_people_write_for_others_are_known() {
    one(
        "front-gap=(in)43",
        "front-gap=(in)43 right=(in)4",
        "unknown-word @ right | write left=(in)-4: the right is negative",
    );
    one(
        "volume=(yd3)4",
        "volume=(yd3)4 weight=(lb)900",
        "unknown-word @ weight | bulk is given by its volume: write volume=(yd3)…",
    );
    one(
        "leg \"out\" {",
        "leg \"out\" {\n aboard-truck \"tools\" weight=(lb)90 ahead-of-rear-axle=(in)0 front-gap=(in)9",
        "unknown-word @ front-gap | measure from the truck's rear axle: write ahead-of-rear-axle=(in)…, negative behind it",
    );
    one("low=(pct)11", "low=(pct)11 level=\"off\"", "unknown-word @ \"off\" | write off=#true");
    one(
        "hitch \"ball\"",
        "hitch \"gooseneck\" behind-rear-axle=(in)-5\n    hitch \"ball\"",
        "name-twice @ hitch \"ball\" behind-rear-axle=(in)55 height=(in)20 | a truck here has one hitch: write a second truck for the other",
    );
}

#[test]
fn a_short_list_is_said_whole() {
    let (_, findings, _) = read(&[&YARD.replacen("axle \"front\"", "axle \"back\"", 1)]);
    assert_eq!(findings[0].message, "an axle is \"front\" or \"rear\", not \"back\"");
    let (_, findings, _) = read(&[&YARD.replacen("follow \"us\"", "follow \"ca\"", 1)]);
    assert_eq!(findings[0].message, "a rule set is \"us\", \"eu\" or \"none\", not \"ca\"");
}

#[test]
fn odd_places_are_not_possible() {
    one("wheelbase (in)172", "wheelbase (ft)4", "not-possible @ 4 | write a length from 4.92 ft to 39.4 ft");
    one("deck from=(in)62", "deck from=(in)-62", "not-possible @ -62 | write a length from 0 in to 1,180 in");
    let aboard = |at: &str| {
        with("leg \"out\" {", &format!("leg \"out\" {{\n aboard-truck \"tools\" weight=(lb)90 ahead-of-rear-axle={at}"))
    };
    let help = "measure forward from the truck's rear axle; behind it is negative";
    // The wheelbase is 172 in = 4.37 m.
    for (at, fits) in [("(m)7.3", true), ("(m)7.4", false), ("(m)-3.9", true), ("(m)-4.1", false)] {
        let found = if fits { vec![] } else { vec![format!("not-possible @ ahead-of-rear-axle={at} | {help}")] };
        assert_eq!(aboard(at), found);
    }
}
