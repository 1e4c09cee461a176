//! Fixes of notation: what is proposed is applied to the text by its spans; then the finding is gone and the rest stands
//! byte for byte.

use proptest::prelude::*;

use super::{YARD, read, tree};
use crate::finding::{Finding, Fix, Grade, applied};
use crate::syntax::{Node, Value, parse, with_stack};
use crate::text::{FileId, Span};

/// The text with the edits of a fix, which must stand in order and apart.
fn with_fix(text: &str, fix: &Fix) -> String {
    assert!(fix.edits.is_sorted_by_key(|edit| edit.span), "edits stand out of order: {fix:?} in {text:?}");
    applied(text, &fix.edits).expect("edits that fit the text and do not overlap")
}

/// The fix that a finding proposes, whose title begins the help: of notation, but for a unit, to which a person must agree.
fn notation(finding: &Finding) -> Option<&Fix> {
    assert!(finding.fixes.len() <= 1, "{finding:?}");
    let fix = finding.fixes.first()?;
    let help = finding.help.as_deref().expect("help");
    assert!(help.starts_with(&fix.title), "{help:?} and {:?}", fix.title);
    assert_eq!(fix.grade == Grade::Advice, fix.edits.is_empty(), "{fix:?}");
    // A unit that stands nowhere is a guess, however good.
    let guessed = fix.grade == Grade::Change;
    assert!(!guessed || finding.rule == "unit-missing", "{fix:?}");
    (fix.grade != Grade::Advice).then_some(fix)
}

/// The only finding of the example yard with one piece replaced, and the text.
#[track_caller]
fn broken(old: &str, new: &str) -> (String, Finding) {
    assert!(YARD.contains(old), "{old} is not in the yard");
    let text = YARD.replacen(old, new, 1);
    let (_, mut findings, _) = read(&[&text]);
    assert_eq!(findings.len(), 1, "{new}: {findings:#?}");
    (text, findings.remove(0))
}

/// The fix of the only finding makes this of the piece and cures it.
#[track_caller]
fn mends(old: &str, new: &str, mended: &str) {
    let (text, finding) = broken(old, new);
    let fix = notation(&finding).unwrap_or_else(|| panic!("{new}: {finding:?}"));
    let text = with_fix(&text, fix);
    assert_eq!(text, YARD.replacen(old, mended, 1), "{new}");
    assert_eq!(with_stack(|| parse(FileId(0), &text)).findings, []);
    assert_eq!(read(&[&text]).1, [], "{new}");
}

#[track_caller]
fn restores(old: &str, new: &str) {
    mends(old, new, old);
}

#[track_caller]
fn proposes_nothing(old: &str, new: &str) {
    let (_, finding) = broken(old, new);
    assert!(notation(&finding).is_none(), "{new}: {finding:?}");
    assert!(finding.help.is_some(), "{new}");
}

#[test]
fn a_unit_that_all_around_have_is_put_in() {
    restores("weighed=(lb)4360", "weighed=4360");
    restores("gcwr (lb)31000", "gcwr 31000");
    restores("front-gap=(in)43", "front-gap=43");
    restores("foot-rise (in)0", "foot-rise 0");
    mends("front-gap=(in)43", "front-gap=43.50", "front-gap=(in)43.50");
    restores("weighed=(lb)4360", "weighed=4360 \"lb\"".replace('"', "").as_str());
    mends("weighed=(lb)4360", "weighed=4360  \"lbs\"", "weighed=(lb)4360  ");
}

#[test]
fn no_unit_is_guessed() {
    // Of the trailer's lengths its deck's is in feet.
    proposes_nothing("deck from=(in)62", "deck from=62");
    proposes_nothing("length=(ft)20", "length=20");
    // The only one of its kind, a part of a whole, and the half-width of who knows what.
    proposes_nothing("speed=(mph)55", "speed=55");
    proposes_nothing("grade=(pct)6", "grade=6");
    let share = |grade: &str| {
        let sheet = "sheet \"a\" { truck \"rook\"; trailer \"sled-20\"; conditions grade=(pct)4; }\n";
        let other = "sheet \"b\" { truck \"rook\"; trailer \"sled-20\"; conditions grade=_; }";
        let (_, findings, _) = read(&[YARD, &format!("{sheet}{}", other.replace('_', grade))]);
        assert_eq!(findings.iter().map(|one| &*one.rule).collect::<Vec<_>>(), ["unit-missing"]);
        notation(&findings[0]).is_some()
    };
    assert!(share("6") && !share("0.06") && share("0"));
    proposes_nothing("wheelbase (in)58", "wheelbase (in)58 plus-minus=1");
    proposes_nothing("weighed=(lb)4360", "weighed=4360 in");
    // All else is in inches, but for feet and inches in words.
    let (text, finding) = broken("front-gap=(in)43", "front-gap=43");
    assert!(notation(&finding).is_some());
    let text = text.replacen("rear-gap=(in)6", "rear-gap=\"0 ft 6 in\"", 1);
    assert!(read(&[&text]).1.iter().all(|finding| notation(finding).is_none()));
    // A like node elsewhere has this entry in another unit.
    let one =
        "sheet \"a\" { truck \"rook\"; trailer \"sled-20\"; cargo \"box\" weight=(lb)90 length=30 front-gap=(in)3; }";
    let other = "\nsheet \"b\" { truck \"rook\"; trailer \"sled-20\"; cargo \"box\" weight=(lb)90 length=(ft)3 front-gap=(in)3; }";
    let proposed = |text: &str| {
        let (_, findings, _) = read(&[YARD, text]);
        let missing: Vec<_> = findings.iter().filter(|one| one.rule == "unit-missing").collect();
        assert_eq!(missing.len(), 1);
        notation(missing[0]).is_some()
    };
    assert!(proposed(one));
    assert!(!proposed(&format!("{one}{other}")));
}

#[test]
fn what_is_missing_is_shown_in_the_units_around_it() {
    let si = "trailer \"anhang\" { empty tongue=(kg)90 axles=(kg)600; axle at=(mm)3000; }";
    let (_, findings, _) = read(&["", si]);
    let helps: Vec<_> = findings.iter().filter_map(|one| one.help.as_deref()).collect();
    assert_eq!(helps, ["add deck from=(mm)… length=(mm)… in its braces"]);
    let fix = &findings[0].fixes[0];
    assert_eq!((fix.grade, fix.title.as_str()), (Grade::Advice, helps[0]));
    assert!(fix.edits.is_empty());
}

#[test]
fn a_unit_that_is_miswritten_is_put_right() {
    restores("weighed=(lb)4360", "weighed=(lbs)4360");
    restores("weighed=(lb)4360", "weighed=(\"LB\")4360");
    restores("volume=(yd3)4", "volume=(cy)4");
    restores("gcwr (lb)31000", "(lb)gcwr 31000");
    restores("trailer \"sled-20\" {", "(big)trailer \"sled-20\" {");
    restores("tires count=4 load", "tires count=(ea)4 load");
    proposes_nothing("weighed=(lb)4360", "weighed=(in)4360");
    proposes_nothing("weighed=(lb)4360", "weighed=(mg)4360");
    proposes_nothing("gcwr (lb)31000", "(lb /* marked */)gcwr 31000");
}

#[test]
fn a_number_in_words_is_written_as_one() {
    restores("weighed=(lb)4360", "weighed=\"4360 lb\"");
    restores("weighed=(lb)4360", "weighed=\"4,360 pounds\"");
    restores("weighed=(lb)4360", "weighed=(lb)\"4360\"");
    mends("front-gap=(in)43", "front-gap=\"3' 7\\\"\"", "front-gap=\"3 ft 7 in\"");
    proposes_nothing("weighed=(lb)4360", "weighed=\"4,36 lb\"");
    restores("grade=\"70\"", "grade=70");
    restores("brake-controller #true", "brake-controller \"yes\"");
    restores("brake-controller #true", "brake-controller yes");
    proposes_nothing("brake-controller #true", "brake-controller \"maybe\"");
}

#[test]
fn a_word_that_is_misspelt_is_put_right() {
    restores("    wheelbase (in)172", "    whelbase (in)172");
    restores("weighed=(lb)4360", "wieghed=(lb)4360");
    restores("truck \"rook\" {", "truk \"rook\" {");
    restores("    breakaway #true", "    \"break-away\" #true".replace('"', "").as_str());
    mends("wheelbase (in)172", "\"whelbase\" (in)172", "\"wheelbase\" (in)172");
    restores("facing=\"forward\"", "facing=\"foward\"");
    mends("facing=\"forward\"", "facing=foward", "facing=forward");
    mends("facing=\"forward\"", "facing=#\"foward\"#", "facing=\"forward\"");
    mends("pressure=(psi)65", "pressure=(psi)65 speed=\"l\"", "pressure=(psi)65 speed=\"L\"");
    mends("low=(pct)11", "low=(pct)11 level=\"off\"", "low=(pct)11 off=#true");
    mends("front-gap=(in)43", "front-gap=(in)43 right=(in)4", "front-gap=(in)43 left=(in)-4");
    mends("front-gap=(in)43", "front-gap=(in)43 right=(in)-4.5", "front-gap=(in)43 left=(in)4.5");
}

#[test]
fn no_word_is_put_where_it_stands_or_does_not_belong() {
    // It is there already, stands elsewhere, or in another form.
    proposes_nothing("weighed=(lb)4360", "weighed=(lb)4360 wieghed=(lb)4400");
    proposes_nothing("    gvwr (lb)14000\n    gcwr", "    gvwr (lb)14000\n    outline front=(in)1\n    gcwr");
    proposes_nothing("suspension \"equalized\"", "suspension \"equalized\" { level-at (in)20; }");
    proposes_nothing("front-gap=(in)43", "front-gap=(in)43 left=(in)1 right=(in)4");
    proposes_nothing("    brake-controller #true", "    brake-controller #true; zzz 3");
    proposes_nothing("hitch \"ball\"", "hitch #true");
}

#[test]
fn what_stands_twice_alike_or_on_the_line_goes_where_it_belongs() {
    restores("weighed=(lb)4360", "weighed=(lb)4360 weighed=(lb)4360");
    mends("weighed=(lb)4360 r", "weighed=(lb)4360 /* b */ weighed=(lb)4360 r", "weighed=(lb)4360 /* b */  r");
    proposes_nothing("weighed=(lb)4360", "weighed=(lb)4360 weighed=(lb)4400");
    proposes_nothing("weighed=(lb)4360", "weighed=(lb)4360 weighed=(kg)4360");
    proposes_nothing("gcwr (lb)31000", "gcwr (lb)31000; gcwr (lb)31000");
    let machine = "machine \"mini-digger-26\" {\n    describe";
    mends(
        machine,
        "machine \"mini-digger-26\" cg-left=(in)1.5 {\n    describe",
        "machine \"mini-digger-26\" {\n    cg-left (in)1.5; describe",
    );
    let (_, findings, _) = read(&[&YARD
        .replacen("truck \"rook\" {", "truck \"rook\" wheelbase=(in)172 {", 1)
        .replacen("    wheelbase (in)172\n", "", 1)]);
    assert_eq!(findings.len(), 1, "{findings:#?}");
    proposes_nothing("machine \"mini-digger-26\" {", "machine \"mini-digger-26\" weight=(lb)5840 {");
    proposes_nothing("suspension \"equalized\"", "suspension \"equalized\" { level-at (in)20; }");
}

#[test]
fn a_name_that_is_misspelt_is_put_right() {
    restores("    truck \"rook\"\n    trailer \"tipper-12\"", "    truck \"rok\"\n    trailer \"tipper-12\"");
    restores("bulk \"crushed-stone\"", "bulk \"crushed-stones\"");
    // Several times, because it is built in.
    let both = YARD.replacen("bulk \"crushed-stone\"", "bulk \"crushed-stnoe\"; bulk \"crushed-stnoe\"", 1);
    let (_, findings, _) = read(&[&both.replace("volume", "front-gap=(in)1 volume")]);
    assert_eq!(findings.iter().filter(|one| notation(one).is_some()).count(), 2, "{findings:#?}");
    restores("from=\"front-left\"  to=\"front-left\"", "from=\"front-lefd\"  to=\"front-left\"");
    restores("from=\"front-left\"  to=\"front-left\"", "from=\"front-left\"  to=\"front-lfet\"");
    mends("tie \"chain-38\" from", "tie chian-38 from", "tie chain-38 from");
    restores("tie \"strap-3\"", "tie \"strp-3\"");
    mends("rear-gap=(in)6 {", "rear-gap=(in)6 on=\"trenchr-30\" {", "rear-gap=(in)6 on=\"trencher-30\" {");
    mends("rear-gap=(in)6 {", "rear-gap=(in)6 on=trenchr-30 {", "rear-gap=(in)6 on=trencher-30 {");
    let until = "until=\"2027-03-31\"";
    mends(until, &format!("{until} item=\"mini-diger-26\""), &format!("{until} item=\"mini-digger-26\""));
}

#[test]
fn no_name_is_guessed() {
    // A digit more or less is another machine.
    proposes_nothing("fit \"backfill-blade\"", "fit \"trencher-30\"");
    proposes_nothing("until=\"2027-03-31\"", "until=\"2027-03-31\" item=\"mini-digger-25\"");
    let (_, findings, _) = read(&[&YARD.replacen("tie \"strap-3\"", "tie \"strap-4\"", 1)]);
    assert!(findings.iter().all(|finding| notation(finding).is_none()), "{findings:#?}");
    // The definition is what is misspelt, since nothing else is called so and several sheets say it otherwise.
    let (_, findings, _) = read(&[&YARD.replacen("truck \"rook\" {", "truck \"rokk\" {", 1)]);
    assert_eq!(findings.iter().map(|one| &*one.rule).collect::<Vec<_>>(), ["name-unknown"; 2]);
    assert!(findings.iter().all(|finding| notation(finding).is_none()), "{findings:#?}");
    // Two are as near.
    let second = YARD.replacen("truck \"rook\" {", "truck \"rooks\" { wheelbase (in)150; axle \"front\" weighed=(lb)4000; axle \"rear\" weighed=(lb)3000; hitch \"ball\" behind-rear-axle=(in)50; }\n\ntruck \"rook\" {", 1);
    let second = second.replacen(
        "    truck \"rook\"\n    trailer \"tipper-12\"",
        "    truck \"rookz\"\n    trailer \"tipper-12\"",
        1,
    );
    let (_, findings, _) = read(&[&second]);
    let unknown: Vec<_> = findings.iter().filter(|one| one.rule == "name-unknown").collect();
    assert_eq!(unknown.len(), 1, "{findings:#?}");
    assert!(notation(unknown[0]).is_none(), "{unknown:#?}");
}

/// Every annotation of the example yard, with its parentheses.
fn annotations(nodes: &[Node], all: &mut Vec<Span>) {
    for node in nodes {
        let typed = node.entries.iter().filter(|entry| entry.ty.is_some());
        all.extend(typed.map(|entry| Span { end: entry.value_span.start, ..entry.typed_span }));
        annotations(node.children.as_deref().unwrap_or_default(), all);
    }
}

#[test]
fn each_unit_left_out_is_put_back_as_it_was_or_not_at_all() {
    let tree = tree(FileId(0), YARD).expect("a tree");
    let mut all = Vec::new();
    annotations(&tree.nodes, &mut all);
    let mut back = 0;
    for unit in &all {
        let mut text = YARD.to_owned();
        text.replace_range(unit.range(), "");
        for finding in read(&[&text]).1 {
            if let Some(fix) = notation(&finding) {
                assert_eq!(with_fix(&text, fix), YARD);
                back += 1;
            }
        }
    }
    assert!(all.len() > 150 && 2 * back > all.len(), "{back} of {} put back", all.len());
}

/// Every word of the yard that can be misspelt: names, keys and texts, each without its quotes.
fn spelt(nodes: &[Node], all: &mut Vec<Span>) {
    let inner = |span: Span| {
        let quoted = u32::from(YARD[span.range()].starts_with('"'));
        Span { start: span.start + quoted, end: span.end - quoted, ..span }
    };
    for node in nodes {
        all.push(inner(node.name.span));
        all.extend(node.properties().map(|(key, _)| inner(key.span)));
        let texts = node.entries.iter().filter(|entry| matches!(entry.value, Value::Text(_)));
        all.extend(texts.map(|entry| inner(entry.value_span)).filter(|span| span.len() < 20));
        spelt(node.children.as_deref().unwrap_or_default(), all);
    }
}

/// A slip of the hand within a word.
fn slipped(word: &str, at: usize, sort: u8, letter: char) -> String {
    let mut letters: Vec<char> = word.chars().collect();
    let at = at % letters.len();
    match sort {
        0 if letters.len() > 1 => {
            letters.remove(at);
        }
        1 => letters.insert(at, letters[at]),
        2 if at > 0 => letters.swap(at - 1, at),
        3 => letters[at] = letter,
        _ => letters.insert(at, letter),
    }
    letters.into_iter().collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 80, ..ProptestConfig::default() })]

    #[test]
    fn what_is_proposed_for_slips_of_the_hand_cures_them(
        slips in prop::collection::vec((any::<prop::sample::Index>(), 0..30_usize, 0..5_u8, prop::char::range('a', 'z')), 1..4),
        units in prop::collection::vec(any::<prop::sample::Index>(), 0..3),
    ) {
        let tree = tree(FileId(0), YARD).expect("a tree");
        let (mut words, mut annotated) = (Vec::new(), Vec::new());
        spelt(&tree.nodes, &mut words);
        annotations(&tree.nodes, &mut annotated);
        let slips = slips.iter().map(|(word, at, sort, letter)| {
            let span = *word.get(&words);
            (span, slipped(&YARD[span.range()], *at, *sort, *letter))
        });
        let mut changes: Vec<(Span, String)> = slips.chain(units.iter().map(|unit| (*unit.get(&annotated), String::new()))).collect();
        changes.sort();
        changes.dedup_by_key(|(span, _)| *span);
        let mut text = YARD.to_owned();
        for (span, with) in changes.iter().rev() {
            text.replace_range(span.range(), with);
        }
        for finding in read(&[&text]).1 {
            let Some(fix) = notation(&finding) else { continue };
            let after = with_fix(&text, fix);
            prop_assert_eq!(with_stack(|| parse(FileId(0), &after)).findings, []);
            let place = finding.primary.span.start;
            let left = read(&[&after]).1;
            // Only what stood before the place could have moved it, and fixes change nothing before their own.
            let same = left.iter().any(|one| one.rule == finding.rule && one.primary.span.start == place);
            prop_assert!(!same, "{:?} leaves {:#?}", fix, left);
        }
    }
}

#[test]
fn most_slips_of_one_letter_are_put_back() {
    let tree = tree(FileId(0), YARD).expect("a tree");
    let mut words = Vec::new();
    spelt(&tree.nodes, &mut words);
    let (mut found, mut back, mut other) = (0, 0, Vec::new());
    for (nth, span) in words.iter().enumerate().step_by(3) {
        let word = &YARD[span.range()];
        let mut text = YARD.to_owned();
        text.replace_range(span.range(), &slipped(word, nth, 2 + 2 * u8::try_from(nth % 2).unwrap_or(0), 'x'));
        let findings = read(&[&text]).1;
        found += usize::from(!findings.is_empty());
        let mended: Vec<String> =
            findings.iter().filter_map(|one| notation(one)).map(|fix| with_fix(&text, fix)).collect();
        back += usize::from(mended.iter().any(|text| text == YARD));
        // Where a definition's name is misspelt, its only use may follow it.
        let follows = findings.iter().all(|one| one.rule == "name-unknown");
        other.extend(mended.into_iter().filter(|text| text != YARD && !follows).map(|_| findings[0].help.clone()));
    }
    assert!(words.len() > 400 && found > 120 && 4 * back > 3 * found, "{back} of {found} in {}", words.len());
    assert_eq!(other, [], "{back} of {found}");
}
