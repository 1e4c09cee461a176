//! What evaluation says: truth, what is missing, which comparison decided, and the bound it stands for.

use draylint::expr::{Compared, Limit, Op, Truth, Value, Verdict};

use crate::yard::{is_parameter, judged, n, right, slot, t};

const LB: f64 = 0.453_592_37;

fn verdict(text: &str, values: &[(&str, Value)]) -> Verdict<String> {
    judged(&right(text), values)
}

/// The text of the comparison to blame, as `left op right`, with the value the right side had.
fn blamed(text: &str, values: &[(&str, Value)]) -> String {
    let verdict = verdict(text, values);
    let decisive: &Compared = verdict.decisive().unwrap_or_else(|| panic!("{text}: {verdict:?}"));
    assert_eq!(decisive.holds, verdict.truth == Truth::Holds, "{text}");
    let right = match &decisive.right.value {
        Value::Number(value) => value.to_string(),
        Value::Text(value) => format!("'{value}'"),
        Value::Flag(value) => value.to_string(),
    };
    format!("{} {} {right}", &text[decisive.left.range.clone()], decisive.op.symbol())
}

#[test]
fn a_bound_met_exactly_in_another_unit_is_met() {
    // 5 ft as 60 in, and as 1.524 m: the same length by definition (1 in = 25.4 mm), not always the same bits.
    let feet = 5.0 * (12.0 * 0.0254);
    // Sums of the like that are known to differ in the last bit.
    let pairs = [(feet, 60.0 * 0.0254), (feet, 1.524), (0.1 + 0.2, 0.3), (2000.0 * LB * 3.3, 6600.0 * LB), (0.0, -0.0)];
    assert!(pairs.iter().any(|(a, b)| a.to_bits() != b.to_bits() && *a != 0.0), "nothing would be tested");
    for (a, b) in pairs {
        let values = [("trailer.length", n(a)), ("trailer.rear_overhang", n(b))];
        for (op, holds) in [("<=", true), (">=", true), ("==", true), ("<", false), (">", false), ("!=", false)] {
            let text = format!("trailer.length {op} trailer.rear_overhang");
            let verdict = verdict(&text, &values);
            assert_eq!(verdict.truth, if holds { Truth::Holds } else { Truth::Fails }, "{text} of {a} and {b}");
        }
        let margin = verdict("trailer.length <= trailer.rear_overhang", &values).compared[0].margin();
        assert!(margin.is_some_and(|margin| (0.0..1e-12).contains(&margin)));
    }
    // A millionth more is more.
    let over = [("trailer.length", n(1.524 * (1.0 + 1e-6))), ("trailer.rear_overhang", n(1.524))];
    assert_eq!(verdict("trailer.length <= trailer.rear_overhang", &over).truth, Truth::Fails);
    // So is a millionth more than nothing; what rounding leaves of nothing is none.
    assert_eq!(verdict("low > 0.0", &[("low", n(1e-6))]).truth, Truth::Holds);
    assert_eq!(verdict("low > 0.0", &[("low", n(1e-15))]).truth, Truth::Fails);
    assert_eq!(verdict("low < 0.0", &[("low", n(-f64::MAX))]).truth, Truth::Holds);
    assert_eq!(verdict("low < reserve", &[("low", n(-f64::MAX)), ("reserve", n(f64::MAX))]).truth, Truth::Holds);
}

/// A condition, the values that are known, the verdict, and what is missing.
type Case<'a> = (&'a str, &'a [(&'a str, Value)], Truth, &'a [&'a str]);

#[test]
fn only_what_matters_is_missing() {
    let on = ("hitch.locked", Value::Flag(true));
    let off = ("hitch.locked", Value::Flag(false));
    let cases: [Case; 19] = [
        ("hitch.locked && low < 1.0", std::slice::from_ref(&off), Truth::Fails, &[]),
        ("low < 1.0 && hitch.locked", std::slice::from_ref(&off), Truth::Fails, &[]),
        ("hitch.locked && low < 1.0", std::slice::from_ref(&on), Truth::CannotTell, &["low"]),
        ("hitch.locked || low < 1.0", std::slice::from_ref(&on), Truth::Holds, &[]),
        ("low < 1.0 || hitch.locked", std::slice::from_ref(&on), Truth::Holds, &[]),
        ("low < reserve || hitch.kind == 'ball'", &[], Truth::CannotTell, &["low", "reserve", "hitch.kind"]),
        ("low < 1.0 && machine.tracked", &[], Truth::CannotTell, &["low", "machine.tracked"]),
        ("low <= reserve && reserve <= low", &[], Truth::CannotTell, &["low", "reserve"]),
        ("hitch.kind in ['ball', 'pintle']", &[], Truth::CannotTell, &["hitch.kind"]),
        ("truck.axles in [2.0, 3.0]", &[], Truth::CannotTell, &["truck.axles"]),
        ("!(low < 1.0 && hitch.locked)", std::slice::from_ref(&off), Truth::Holds, &[]),
        ("(machine.tracked ? low < 1.0 : reserve < 1.0)", &[("low", n(0.5)), ("reserve", n(0.5))], Truth::Holds, &[]),
        (
            "(machine.tracked ? low < 1.0 : reserve < 1.0)",
            &[("low", n(0.5)), ("reserve", n(2.0))],
            Truth::CannotTell,
            &["machine.tracked"],
        ),
        (
            "(machine.tracked ? low < 1.0 : reserve < 1.0)",
            &[("low", n(0.5))],
            Truth::CannotTell,
            &["machine.tracked", "reserve"],
        ),
        ("low < (machine.tracked ? 1.0 : 1.0)", &[("low", n(0.5))], Truth::Holds, &[]),
        ("low < (machine.tracked ? 1.0 : 2.0)", &[("low", n(0.5))], Truth::CannotTell, &["machine.tracked"]),
        ("(hitch.locked ? low : reserve) < 1.0", &[off.clone(), ("reserve", n(2.0))], Truth::Fails, &[]),
        ("hitch.locked == machine.tracked", std::slice::from_ref(&on), Truth::CannotTell, &["machine.tracked"]),
        ("low * 0.0 == 0.0", &[], Truth::CannotTell, &["low"]),
    ];
    for (text, values, truth, missing) in cases {
        let verdict = verdict(text, values);
        assert_eq!(verdict.truth, truth, "{text}");
        assert_eq!(verdict.missing, missing, "{text}");
        assert_eq!(verdict.undefined, None, "{text}");
    }
}

#[test]
fn what_is_no_number_is_no_verdict() {
    let undefined = |text: &str, values: &[(&str, Value)]| {
        let verdict = verdict(text, values);
        assert!(verdict.missing.is_empty(), "{text}");
        assert_eq!(verdict.undefined.is_some(), verdict.truth == Truth::CannotTell, "{text}");
        verdict.undefined.map(|range| text[range].to_owned())
    };
    let zero = [("low", n(0.0)), ("reserve", n(1.0))];
    assert_eq!(undefined("1.0 < reserve / low", &zero).as_deref(), Some("reserve / low"));
    assert_eq!(undefined("!(low / low == 1.0)", &zero).as_deref(), Some("low / low"));
    assert_eq!(undefined("reserve / low in [1.0]", &zero).as_deref(), Some("reserve / low"));
    assert_eq!(undefined("low > 0.0 && reserve / low < 2.0", &zero), None);
    assert_eq!(undefined("reserve / low < 2.0 || low <= 0.0", &zero), None);
    assert_eq!(undefined("low < 1.0", &[("low", n(f64::NAN))]).as_deref(), Some("low"));
    assert_eq!(undefined("low < 1.0", &[("low", n(f64::INFINITY))]).as_deref(), Some("low"));
    assert_eq!(undefined("low * low > 1.0", &[("low", n(1e200))]).as_deref(), Some("low * low"));
    // A value of the wrong type is the caller's mistake, and no reason to panic.
    assert_eq!(undefined("low < 1.0", &[("low", t("ball"))]).as_deref(), Some("low"));
    assert_eq!(undefined("hitch.kind == 'ball'", &[("hitch.kind", n(1.0))]).as_deref(), Some("hitch.kind"));
    assert_eq!(undefined("hitch.locked", &[("hitch.locked", n(1.0))]).as_deref(), Some("hitch.locked"));
}

#[test]
fn the_comparison_that_decided_is_named() {
    let values = [
        ("axle.load", n(1100.0)),
        ("axle.rating", n(1000.0)),
        ("trailer.gross", n(3000.0)),
        ("hitch.rating", n(2000.0)),
        ("trailer.tongue_share", n(0.12)),
        ("low", n(0.1)),
        ("hitch.kind", t("pintle")),
        ("hitch.locked", Value::Flag(false)),
        ("machine.tracked", Value::Flag(true)),
    ];
    let cases = [
        // The first that fails.
        ("axle.load <= axle.rating && trailer.gross <= hitch.rating", "axle.load <= 1000"),
        ("trailer.tongue_share >= low && trailer.gross <= hitch.rating", "trailer.gross <= 2000"),
        // Of several that fail, the nearest.
        ("trailer.gross <= hitch.rating || axle.load <= axle.rating", "axle.load <= 1000"),
        ("hitch.kind == 'ball' || axle.load <= axle.rating", "axle.load <= 1000"),
        ("hitch.kind == 'ball' || hitch.locked", "hitch.kind == 'ball'"),
        // Of several that hold, the tightest; of alternatives, the firmest carries.
        ("trailer.tongue_share >= low && axle.rating <= axle.load", "axle.rating <= 1100"),
        ("trailer.tongue_share >= low || axle.rating <= axle.load", "trailer.tongue_share >= 0.1"),
        ("axle.rating <= axle.load || hitch.kind == 'pintle'", "hitch.kind == 'pintle'"),
        ("hitch.kind == 'pintle' && trailer.tongue_share >= low", "trailer.tongue_share >= 0.1"),
        // Through `!` the opposite is what was needed.
        ("!(axle.load > axle.rating)", "axle.load <= 1000"),
        ("!(trailer.tongue_share < low)", "trailer.tongue_share >= 0.1"),
        ("!(trailer.tongue_share >= low && axle.load > axle.rating)", "axle.load <= 1000"),
        ("!(trailer.tongue_share >= low || axle.load > axle.rating)", "trailer.tongue_share < 0.1"),
        ("!!(axle.load <= axle.rating)", "axle.load <= 1000"),
        ("!(hitch.kind in ['ball', 'pintle'])", "hitch.kind not in 'pintle'"),
        ("hitch.kind in ['ball', 'gooseneck']", "hitch.kind in 'ball'"),
        ("hitch.locked", "hitch.locked == true"),
        ("!machine.tracked", "machine.tracked == false"),
        ("!hitch.locked", "hitch.locked == false"),
        ("hitch.locked == true", "hitch.locked == true"),
        ("machine.tracked == false", "machine.tracked == false"),
        // A choice is decided by the outcome it takes, or by its test where the outcome is fixed.
        ("(machine.tracked ? axle.load <= axle.rating : hitch.locked)", "axle.load <= 1000"),
        ("(axle.load > axle.rating ? false : hitch.locked)", "axle.load <= 1000"),
        ("(axle.load <= axle.rating ? true : false)", "axle.load <= 1000"),
        ("(axle.load <= axle.rating ? hitch.locked : true)", "axle.load > 1000"),
        ("axle.load <= (machine.tracked ? axle.rating : hitch.rating)", "axle.load <= 1000"),
        // Alike or not.
        ("(axle.load <= axle.rating) == (trailer.gross > hitch.rating)", "axle.load <= 1000"),
        ("(axle.load <= axle.rating) == hitch.locked", "axle.load > 1000"),
    ];
    for (text, expected) in cases {
        assert_eq!(blamed(text, &values), expected, "{text}");
    }
    assert_eq!(verdict("true", &[]).blamed, None);
    assert_eq!(verdict("low < 1.0", &[]).blamed, None);
}

/// The figure's text, which way it is bound, the bound's text, and the slack.
fn bound(text: &str, values: &[(&str, Value)]) -> Option<(String, Limit, String, f64)> {
    let verdict = verdict(text, values);
    let bound = verdict.decisive().unwrap().bound(is_parameter)?;
    let said = |range: &std::ops::Range<usize>| text[range.clone()].to_owned();
    Some((said(&bound.figure.range), bound.limit, said(&bound.bound.range), bound.slack()))
}

#[test]
fn a_comparison_is_read_as_a_figure_and_its_bound() {
    use Limit::{AtLeast, AtMost, Exactly};
    let values = [
        ("axle.load", n(1000.0)),
        ("axle.rating", n(2000.0)),
        ("trailer.gross", n(3000.0)),
        ("hitch.rating", n(4000.0)),
        ("cap", n(500.0)),
        ("trailer.tongue_share", n(0.5)),
        ("low", n(0.25)),
        ("reserve", n(0.25)),
        ("truck.axles", n(2.0)),
    ];
    let cases = [
        ("trailer.tongue_share >= low", "trailer.tongue_share", AtLeast, "low", 0.25),
        ("low <= trailer.tongue_share", "trailer.tongue_share", AtLeast, "low", 0.25),
        ("low > trailer.tongue_share", "trailer.tongue_share", AtMost, "low", -0.25),
        ("axle.load <= axle.rating * (1.0 - reserve)", "axle.load", AtMost, "axle.rating * (1.0 - reserve)", 500.0),
        ("axle.rating * (1.0 - reserve) >= axle.load", "axle.load", AtMost, "axle.rating * (1.0 - reserve)", 500.0),
        ("(1.0 - reserve) * axle.rating >= axle.load", "axle.load", AtMost, "(1.0 - reserve) * axle.rating", 500.0),
        ("hitch.rating >= trailer.gross", "hitch.rating", AtLeast, "trailer.gross", 1000.0),
        ("trailer.gross <= hitch.rating", "trailer.gross", AtMost, "hitch.rating", 1000.0),
        ("axle.load + axle.load <= cap", "axle.load + axle.load", AtMost, "cap", -1500.0),
        ("cap >= axle.load + axle.load", "axle.load + axle.load", AtMost, "cap", -1500.0),
        ("0.75 >= trailer.tongue_share", "trailer.tongue_share", AtMost, "0.75", 0.25),
        ("axle.load / axle.rating < 1.0 - reserve", "axle.load / axle.rating", AtMost, "1.0 - reserve", 0.25),
        ("(axle.load) <= cap", "(axle.load)", AtMost, "cap", -500.0),
        ("low < reserve", "low", AtMost, "reserve", 0.0),
        ("2.0 == truck.axles", "truck.axles", Exactly, "2.0", 0.0),
        ("truck.axles == 5.0", "truck.axles", Exactly, "5.0", -3.0),
        ("!(low > trailer.tongue_share)", "trailer.tongue_share", AtLeast, "low", 0.25),
    ];
    for (text, figure, limit, other, slack) in cases {
        let (found, way, at, by) = bound(text, &values).unwrap_or_else(|| panic!("{text} is no bound"));
        assert_eq!((found.as_str(), way, at.as_str()), (figure, limit, other), "{text}");
        assert!((by - slack).abs() < 1e-12, "{text}: {by}");
    }
    for text in ["1.0 < 2.0", "truck.axles != 1.0", "truck.axles in [2.0]"] {
        assert_eq!(bound(text, &values), None, "{text}");
    }
    let strict = verdict("low < trailer.tongue_share", &values);
    assert!(strict.compared[0].bound(is_parameter).unwrap().strict);
}

#[test]
fn sides_and_margins_are_told() {
    let text = "axle.load <= axle.rating * (1.0 - reserve) && hitch.kind in ['ball', 'pintle']";
    let expr = right(text);
    let values =
        [("axle.load", n(600.0)), ("axle.rating", n(1000.0)), ("reserve", n(0.2)), ("hitch.kind", t("pintle"))];
    let verdict = judged(&expr, &values);
    let [weights, kinds] = verdict.compared.as_slice() else { panic!("{verdict:?}") };
    assert_eq!((weights.at, kinds.at), (0, 1));
    assert_eq!((weights.left.name, weights.left.first_name), (Some(slot("axle.load")), Some(slot("axle.load"))));
    assert_eq!((weights.right.name, weights.right.first_name), (None, Some(slot("axle.rating"))));
    assert_eq!(weights.right.dim, draylint::units::Kind::Mass.dim());
    assert!(weights.margin().is_some_and(|margin| (margin - 0.25).abs() < 1e-12));
    assert_eq!(kinds.right.value, t("pintle"));
    assert_eq!(kinds.margin(), None);
    let names: Vec<(usize, &str)> = expr.names().map(|(slot, name, _)| (slot, name)).collect();
    let expected = ["axle.load", "axle.rating", "reserve", "hitch.kind"].map(|name| (slot(name), name));
    assert_eq!(names, expected);
    assert_eq!(expr.comparison(1).map(|range| &text[range]), Some("hitch.kind in ['ball', 'pintle']"));
}

#[test]
fn numbers_in_a_list_are_compared_with_the_nearest() {
    let text = "truck.axles in [1, -7, 4.0, 2]";
    let found = verdict(text, &[("truck.axles", n(3.2))]);
    assert_eq!((found.truth, &found.compared[0].right.value), (Truth::Fails, &n(4.0)));
    assert_eq!(verdict(text, &[("truck.axles", n(-7.0))]).truth, Truth::Holds);
}

#[test]
fn a_flipped_comparison_is_its_opposite() {
    let values = [("low", n(0.5)), ("hitch.locked", Value::Flag(true)), ("hitch.kind", t("ball"))];
    let expr = right("low <= 1.0 && !hitch.locked == false && low < (hitch.kind == 'ball' ? 1.0 : 0.1)");
    assert_eq!(expr.comparisons(), 4);
    assert_eq!(judged(&expr, &values).truth, Truth::Holds);
    for at in 0..4 {
        assert_eq!(judged(&expr.flipped(at), &values).truth, Truth::Fails, "{at}");
    }
    assert_eq!(judged(&expr.flipped(0), &values).compared[0].op, Op::Greater);
}

#[test]
fn literals_are_read_as_cel_reads_them() {
    for text in [
        r#"'a\'b' == "a'b" && "a\"b" == 'a"b'"#,
        "'' == \"\"",
        "1e3 == 1000 && 1E+3 == 1.0e3 && .5 == 0.50 && 1e-3 == 0.001 && -1 < 0 && 7 - -1 == 8",
        "1 + 2 * 3 == 7 && (1 + 2) * 3 == 9 && 8 / 4 / 2 == 1 && 8 - 4 - 2 == 2 && -2 * 3 == -6",
        "true || false && false",
        "!false && !(true && false)",
        "(true ? false : true) == false",
        "'größer' in ['kleiner', 'größer']",
    ] {
        assert_eq!(verdict(text, &[]).truth, Truth::Holds, "{text}");
    }
}

#[test]
fn escapes_are_resolved() {
    let known = [("hitch.kind", t("\\?\"'`\u{7}\u{8}\u{c}\n\r\t\u{b}é"))];
    for text in [r#"hitch.kind == '\\\?\"\'\`\a\b\f\n\r\t\vé'"#, r#"hitch.kind in ["x", "\\\?\"\'\`\a\b\f\n\r\t\vé"]"#]
    {
        assert_eq!(verdict(text, &known).truth, Truth::Holds, "{text}");
    }
}

#[test]
fn a_condition_can_be_shared_between_threads() {
    let expr = right("low < 1.0");
    let truth = std::thread::scope(|scope| {
        let one = scope.spawn(|| judged(&expr, &[("low", n(0.5))]).truth);
        let other = scope.spawn(|| judged(&expr, &[("low", n(2.0))]).truth);
        (one.join().unwrap(), other.join().unwrap())
    });
    assert_eq!(truth, (Truth::Holds, Truth::Fails));
}
