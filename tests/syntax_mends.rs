//! Fixes that the syntax proposes: each is applied by its spans, and the text must then be whole.

use draylint::finding::{Finding, Fix, Grade, applied};
use draylint::syntax::{Document, Parsed, parse, with_stack};
use draylint::text::FileId;

fn read(text: &str) -> Parsed {
    with_stack(|| parse(FileId(0), text))
}

/// The text with the edits of a fix.
fn with_fix(text: &str, fix: &Fix) -> String {
    assert!(fix.edits.is_sorted_by_key(|edit| edit.span), "edits stand out of order: {fix:?} in {text:?}");
    applied(text, &fix.edits).expect("edits that fit the text and do not overlap")
}

/// The only fix of a finding, which must be one of notation whose title begins the help.
fn notation(finding: &Finding) -> Option<&Fix> {
    assert!(finding.fixes.len() <= 1, "{finding:?}");
    let fix = finding.fixes.first()?;
    assert_eq!(fix.grade, Grade::Notation);
    assert!(!fix.edits.is_empty());
    let help = finding.help.as_deref().expect("help");
    assert!(help.starts_with(&fix.title), "{help:?} and {:?}", fix.title);
    Some(fix)
}

/// A broken line, and the line as it is after the fix of its only finding.
const MENDED: &[(&str, &str)] = &[
    ("a true", "a #true"),
    ("a k=false // true", "a k=#false // true"),
    ("a r\"x\\y\"", "a #\"x\\y\"#"),
    ("a r#\"x\"#", "a #\"x\"#"),
    ("a  4200lb /* as weighed */ 3", "a  (lb)4200 /* as weighed */ 3"),
    ("a k=-4.5in", "a k=(in)-4.5"),
    ("a 9%", "a (pct)9"),
    ("a 60pcf", "a (\"lb/ft3\")60"),
    ("a (lb)4200lb", "a (lb)4200"),
    ("a (lb)4200pounds", "a (lb)4200"),
    ("a 4200(lb)", "a (lb)4200"),
    ("a k=4200(lb) l=1", "a k=(lb)4200 l=1"),
    ("a 4,200", "a 4200"),
    ("a -1,204,200.5", "a -1204200.5"),
    ("a 1, 2", "a 1 2"),
    ("a \"x\", k=1", "a \"x\" k=1"),
    ("a \"x\",\"y\"", "a \"x\" \"y\""),
    ("a x, true", "a x true"),
    ("a .5", "a 0.5"),
    ("a -.5", "a -0.5"),
    ("a 5.", "a 5"),
    ("a 16'", "a (ft)16"),
    ("a length=5'6", "a length=\"5 ft 6 in\""),
    ("a k=4\" l=1", "a k=(in)4 l=1"),
    ("wheelbase 43\"", "wheelbase (in)43"),
    ("a 4\"lb\"", "a 4 \"lb\""),
    ("a = (lb)1", "a  (lb)1"),
    ("a=1", "a 1"),
    ("a= 1", "a 1"),
    ("a k==1", "a k=1"),
    ("a (lb/yd3)4", "a (\"lb/yd3\")4"),
    ("a \"x\\q\"", "a \"x\\\\q\""),
    ("a 'x'", "a \"x\""),
    ("weight: 4200", "weight 4200"),
    ("weight:4200", "weight 4200"),
    ("weight:(lb)4200", "weight (lb)4200"),
    ("weight: (lb)4200 origin=\"plate\"", "weight (lb)4200 origin=\"plate\""),
    ("weight: 4200 lb origin=\"plate\"", "weight (lb)4200 origin=\"plate\""),
    ("gvwr: 11,000 lbs // marked", "gvwr (lb)11000 // marked"),
    ("gvwr:  /* marked */ 11000 lb", "gvwr  /* marked */ (lb)11000"),
    ("truck: \"rook\" { a; }", "truck \"rook\" { a; }"),
    ("cargo \"x\" weight: 900 lb length=(in)40", "cargo \"x\" weight=(lb)900 length=(in)40"),
    ("a weighed: (lb)4360", "a weighed=(lb)4360"),
    ("a weighed:4360lb", "a weighed=(lb)4360"),
    ("a weighed:(lb)4360 k=true", "a weighed=(lb)4360 k=true"),
    ("a\n{ b; }", "a {\n b; }"),
    ("a 1 // its braces follow\n{ b; }", "a 1 { // its braces follow\n b; }"),
    ("a /- /- b", "a /-  b"),
    ("a 1/-2", "a 1 /-2"),
    ("a; ; b", "a;  b"),
    ("a { b; /- }", "a { b;  }"),
    ("a x\u{200b}y", "a xy"),
];

#[test]
fn what_a_slip_proposes_mends_it_and_nothing_else() {
    for (broken, mended) in MENDED {
        for (before, after) in [("", "\n"), ("// é\r\nok 1 // kept\n", "\n/* kept */ ok\n"), ("ok { ok; ", "\n }")] {
            let text = format!("{before}{broken}{after}");
            let findings = read(&text).findings;
            let fix = findings.first().and_then(notation).unwrap_or_else(|| panic!("{broken:?}: {findings:?}"));
            let text = with_fix(&text, fix);
            assert_eq!(text, format!("{before}{mended}{after}"));
            let again = read(&text);
            let left: Vec<_> = again.findings.iter().map(|one| &one.message).collect();
            if findings.len() == 1 {
                assert_eq!(left, Vec::<&String>::new(), "{text:?}");
                assert!(again.document.as_ref().is_some_and(Document::is_whole), "{text:?}");
            } else {
                assert!(!left.contains(&&findings[0].message), "{text:?}");
            }
        }
    }
}

#[test]
fn what_could_be_meant_otherwise_is_not_proposed() {
    for text in [
        // A comma for the decimal point.
        "a (m)2,5",
        "a 12,34,567",
        // The units disagree, or mean nothing.
        "a (kg)4200lb",
        "a 4200x",
        "a k=(in)5'",
        // A name and a key cannot be #true.
        "true 1",
        "a true=1",
        // Feet before the inches, the text of several quotes.
        "a k=5' 6\"",
        "a 5 ft 6\"",
        "a \"x\"y",
        "a \"x",
        // What belongs to which brace.
        "a { b",
        "a }",
        "a { b; } c",
        "a weighed: /* kg */ 4360",
        "a 'one ton'",
        "a #yes",
        "a 3/8",
        "a \u{2028}b",
        "a x\u{200b}\u{200b}y",
    ] {
        let findings = read(text).findings;
        assert!(!findings.is_empty(), "{text:?} is taken");
        let first = &findings[0];
        assert!(first.fixes.is_empty(), "{text:?}: {:?}", first.fixes);
        assert!(first.help.is_some(), "{text:?}");
    }
}
