//! What an author gets wrong, where it is shown and what is said.

use draylint::expr::{MAX_DEPTH, MAX_LENGTH, compile};
use proptest::prelude::*;

use crate::yard::{NAMES, Subject};

/// A condition with the part at fault between `«` and `»`, the message, and the help.
type Case = (&'static str, &'static str, Option<&'static str>);

const CASES: &[Case] = &[
    // Names.
    (
        "trailer.gross <= cap && «axle.laod» <= cap",
        "`axle.laod` is not known here",
        Some("write `axle.load`, the nearest known name"),
    ),
    (
        "«tongue_share» >= low",
        "`tongue_share` is not known here",
        Some("write `trailer.tongue_share`, the nearest known name"),
    ),
    // Of two letters anything is near.
    (
        "((  «lo»  )) < 1.0",
        "`lo` is not known here",
        Some("run `draylint rules --names` for the names of each subject"),
    ),
    (
        "«weather.wind» < 1.0",
        "`weather.wind` is not known here",
        Some("run `draylint rules --names` for the names of each subject"),
    ),
    (
        "«trailer.rear» < cap",
        "`trailer.rear` is not known here",
        Some("write `trailer.rear_overhang`, the nearest known name"),
    ),
    // Units.
    (
        "trailer.gross >= «100.0»",
        "a weight cannot be compared with a plain number",
        Some("give the number as a parameter with its unit: param \"low\" (lb)100"),
    ),
    (
        "«7000» >= axle.load",
        "a weight cannot be compared with a plain number",
        Some("give the number as a parameter with its unit: param \"high\" (lb)7000"),
    ),
    (
        "trailer.length == «(2.5)»",
        "a length cannot be compared with a plain number",
        Some("give the number as a parameter with its unit"),
    ),
    (
        "bulk.volume < «3.5»",
        "a volume cannot be compared with a plain number",
        Some("give the number as a parameter with its unit: param \"high\" (yd3)3.5"),
    ),
    (
        "axle.load * axle.load > «2.0»",
        "mass^2 cannot be compared with a plain number",
        Some("give the number as a parameter with its unit"),
    ),
    ("«trailer.gross <= trailer.length»", "a weight cannot be compared with a length", None),
    ("«trailer.gross <= truck.axles»", "a weight cannot be compared with a share or plain number", None),
    (
        "cap < axle.load + «5.0»",
        "a plain number cannot be added to a weight",
        Some("give the number as a parameter with its unit: param \"amount\" (lb)5"),
    ),
    ("«trailer.gross - trailer.length» > cap", "a length cannot be taken from a weight", None),
    ("axle.load in [«100.0»]", "a weight cannot be compared with a plain number", None),
    // Types.
    (
        "«axle.load»",
        "a condition must stand here, and this is a weight",
        Some("compare it with something, as in `axle.load <= axle.rating`"),
    ),
    (
        "low < 1.0 && «hitch.kind»",
        "a condition must stand here, and this is a text",
        Some("compare it with something, as in `axle.load <= axle.rating`"),
    ),
    ("«hitch.kind < 'ball'»", "texts have no order to compare by `<`", Some("use `==`, `!=` or `in`")),
    ("«hitch.locked >= true»", "conditions have no order to compare by `>=`", Some("use `==`, `!=`, `&&` or `||`")),
    ("«hitch.kind == 2.0»", "a text cannot be compared with a plain number", None),
    ("hitch.kind in ['ball', «1.0»]", "a text cannot be compared with a plain number", None),
    ("truck.axles in [«'two'»]", "a share or plain number cannot be compared with a text", None),
    ("hitch.locked in [«'yes'»]", "a condition cannot be compared with a text", None),
    (
        "!«axle.load» < cap",
        "`!` turns a condition, and this is a weight",
        Some("put the comparison in parentheses, as in `!(hitch.kind == 'ball')`"),
    ),
    ("-«hitch.kind» == 'ball'", "a number must stand here, and this is a text", None),
    ("low + «(low < 1.0)» > 1.0", "a number must stand here, and this is a condition", None),
    (
        "low < «(hitch.locked ? 1.0 : 'one')»",
        "both outcomes of a choice must be of one kind, and these are a plain number and a text",
        None,
    ),
    // Signs of other languages.
    ("low < 1.0 «and» hitch.locked", "`and` is not an operator here", Some("write `&&`")),
    ("low < 1.0 «OR» hitch.locked", "`OR` is not an operator here", Some("write `||`")),
    ("«not» hitch.locked", "`not` is not an operator here", Some("write `!`")),
    ("«not»(hitch.locked)", "`not` is not an operator here", Some("write `!`")),
    ("hitch.kind «not» in ['ball']", "`not` is not an operator here", Some("write `!`")),
    ("hitch.kind «is» 'ball'", "`is` is not an operator here", Some("write `==`")),
    ("hitch.kind «=» 'ball'", "`=` is not an operator here", Some("write `==`")),
    ("low «=>» 1.0", "`=>` is not an operator here", Some("write `>=`")),
    ("low «=<» 1.0", "`=<` is not an operator here", Some("write `<=`")),
    ("low «<>» 1.0", "`<>` is not an operator here", Some("write `!=`")),
    ("low «===» 1.0", "`===` is not an operator here", Some("write `==`")),
    ("hitch.locked «&» hitch.locked", "a single `&` is not an operator here", Some("write `&&`")),
    ("hitch.locked «|» hitch.locked", "a single `|` is not an operator here", Some("write `||`")),
    ("low «**» 2.0 < 1.0", "`**` is not an operator here", Some("write it with `+ - * /`")),
    (
        "low < 10«%»",
        "`%` is not an operator here",
        Some("give a share as a parameter with its unit: param \"limit\" (pct)10, or write it as in `0.1`"),
    ),
    ("low «≤» 1.0", "`≤` has no meaning in a condition", Some("write `<=`")),
    ("hitch.kind == «“»ball”", "`“` has no meaning in a condition", Some("write `\"`")),
    ("low < 1.0 «//» most", "a condition holds no comment", Some("write it above the condition")),
    // Structure.
    ("«0.1 < low < 0.2»", "comparisons cannot be chained", Some("write `0.1 < low && low < 0.2`")),
    (
        "hitch.locked && «low == reserve == truck.axles»",
        "comparisons cannot be chained",
        Some("write `low == reserve && reserve == truck.axles`"),
    ),
    (
        "hitch.kind in ['ball'] «==» true",
        "`==` does not fit here",
        Some("put parentheses around the comparison before it"),
    ),
    (
        "hitch.locked «?» low < 1.0 : low > 1.0",
        "a choice must stand in parentheses",
        Some("write `(test ? one : other)`"),
    ),
    ("low < 1.0 «)»", "`)` does not fit here", None),
    ("low < 1.0 «hitch.locked»", "an operator is missing before `hitch.locked`", None),
    ("low «0.5»", "an operator is missing before `0.5`", None),
    ("(low < 1.0«»", "the condition ends too early", Some("write `)` here")),
    ("low <«»", "the condition ends too early", None),
    ("low < 1.0 && «||» hitch.locked", "`||` does not fit here", None),
    ("«»", "the condition is empty", Some("write what must hold")),
    ("«  \t»", "the condition is empty", Some("write what must hold")),
    // Not in the subset.
    ("«size»(hitch.kind) > 2", "a condition cannot call `size`", Some("use only operators, names, numbers and texts")),
    (
        "«hitch.kind.startsWith»('b')",
        "a condition cannot call `hitch.kind.startsWith`",
        Some("use only operators, names, numbers and texts"),
    ),
    (
        "«truck.axle[»front].load < cap",
        "a name takes no brackets here",
        Some("bind the subject with `each`, as in each \"truck-axle\" with `axle.load`"),
    ),
    ("hitch.kind == «[»'ball']", "a list can stand only after `in`", None),
    (
        "hitch.kind in «coupler.kind»",
        "after `in` comes a list in brackets",
        Some("write it as in `hitch.kind in ['ball', 'pintle']`"),
    ),
    (
        "hitch.kind in ['ball', «coupler.kind»]",
        "a list holds only numbers and texts",
        Some("compare with anything else by `==` and join with `||`"),
    ),
    ("hitch.kind in «[]»", "this list is empty", None),
    ("hitch.kind in ['ball' «'pintle'»]", "an operator is missing before this text", None),
    ("«in» ['ball']", "before `in` comes a name", Some("write it as in `hitch.kind in ['ball']`")),
    ("low == «null»", "`null` is a word that CEL keeps for itself", None),
    ("«package.load» < 1.0", "`package.load` is a word that CEL keeps for itself", None),
    ("low < «{»}", "`{` has no meaning in a condition", None),
    // Literals.
    ("hitch.kind == «'ball»", "this text is not closed", Some("write ' at its end")),
    ("hitch.kind == «\"ball» \n && low < 1.0", "this text is not closed", Some("write \" at its end")),
    ("hitch.kind == «'ball\\»", "this text is not closed", Some("write ' at its end")),
    (
        "hitch.kind == 'b«\\x»61ll'",
        "this escape is not known",
        Some("write the character itself, or `\\\\` for a backslash"),
    ),
    (
        "hitch.kind == 'b«\\é»'",
        "this escape is not known",
        Some("write the character itself, or `\\\\` for a backslash"),
    ),
    (
        "hitch.kind == «r»'ball'",
        "a text literal takes no letter before its quote",
        Some("write the text between quotes only, as in 'ball'"),
    ),
    (
        "hitch.kind == «'''»ball'''",
        "a text literal has one quote on either side",
        Some("write the text on one line, as in 'ball'"),
    ),
    (
        "axle.load < «7000lb»",
        "`7000lb` is not a number",
        Some("give it as a parameter with its unit: param \"limit\" (lb)7000"),
    ),
    ("low < «1.»", "`1.` is not a number", Some("write `1.0`")),
    ("low < «0x1F»", "`0x1F` is not a number", Some("write it in decimal digits, as in `2`, `0.5` or `1e3`")),
    ("low < «1.2.3»", "`1.2.3` is not a number", Some("write it in decimal digits, as in `2`, `0.5` or `1e3`")),
    ("low < «1e999»", "`1e999` is too large for a number", None),
    ("«low.» < 1.0", "a name cannot end in a dot", Some("write the name without space, as in `axle.load`")),
    // Beyond ASCII, before the fault and at it.
    ("hitch.kind == 'größer' && «lwo» < 1.0", "`lwo` is not known here", Some("write `low`, the nearest known name")),
    (
        "«é»tat < 1.0",
        "`é` has no meaning in a condition",
        Some("write names in the letters a to z, and any other text in quotes"),
    ),
    ("low < 1.0 «\u{202e}»", "`<U+202E>` has no meaning in a condition", None),
];

#[test]
fn every_mistake_is_shown_at_its_place() {
    for (marked, message, help) in CASES {
        let start = marked.find('«').unwrap();
        let end = marked.find('»').unwrap() - '«'.len_utf8();
        let text = marked.replacen('«', "", 1).replacen('»', "", 1);
        let error = compile(&text, &Subject).expect_err(marked);
        assert_eq!(error.message, *message, "{marked}");
        assert_eq!(error.help.as_deref(), *help, "{marked}");
        assert_eq!(error.range, start..end, "{marked}");
    }
}

#[test]
fn a_power_that_no_dimension_can_hold_is_refused() {
    let power =
        |unit: &str, doublings: usize| (0..doublings).fold(unit.to_owned(), |term, _| format!("({term}*{term})"));
    let square = power("axle.load", 6);
    assert!(compile(&format!("{square} > {square}"), &Subject).is_ok());
    let refused = compile(&format!("hitch.locked && {square} * {square} > cap"), &Subject).unwrap_err();
    assert_eq!(refused.message, "this product has too high a power of a unit");
    assert_eq!(refused.range, 16..16 + 2 * square.len() + 3);
    let inverse = format!("1.0 / {square} / {square} / axle.load < low");
    assert_eq!(compile(&inverse, &Subject).unwrap_err().message, "this product has too high a power of a unit");
}

#[test]
fn length_and_depth_are_limited() {
    let long = format!("low < {}1.0", " ".repeat(MAX_LENGTH));
    let error = compile(&long, &Subject).unwrap_err();
    assert_eq!((error.range, error.message.as_str()), (0..long.len(), "this condition is longer than 4096 bytes"));

    let deep = |open: &str, close: &str, by: usize| format!("{}hitch.locked{}", open.repeat(by), close.repeat(by));
    for (open, close) in [("(", ")"), ("!", ""), ("!(", ")"), ("(true ? ", " : false)"), ("(true ? true : ", ")")] {
        let refused = compile(&deep(open, close, MAX_DEPTH + 1), &Subject).expect_err(open);
        assert_eq!(refused.message, "this condition is nested more than 64 deep", "{open}");
        compile(&deep(open, close, MAX_DEPTH / 2 - 1), &Subject).expect(open);
    }
    let sum = |by: usize| format!("low{} < 1.0", " + low".repeat(by));
    assert!(compile(&sum(MAX_DEPTH - 3), &Subject).is_ok());
    assert!(compile(&sum(MAX_DEPTH + 1), &Subject).unwrap_err().message.contains("nested"));
    let chain = format!("hitch.locked{}", " && hitch.locked".repeat(250));
    assert_eq!(compile(&chain, &Subject).unwrap().comparisons(), 251);
}

#[test]
fn the_deepest_input_does_not_need_a_large_stack() {
    let worst = ["(", "!", "-", "!(", "(true ? ", "[", "low + (", "'", "!-"];
    let run = move || {
        for open in worst {
            let text: String = open.chars().cycle().take(MAX_LENGTH).collect();
            assert!(compile(&text, &Subject).is_err());
        }
    };
    // Half of what a worker thread has.
    std::thread::Builder::new().stack_size(1 << 20).spawn(run).unwrap().join().unwrap();
}

/// Pieces that are likelier than random text to get far into the parser.
fn pieces() -> impl Strategy<Value = String> {
    let signs = [
        "&&", "||", "!", "<", "<=", "==", "!=", "+", "-", "*", "/", "(", ")", "[", "]", ",", "?", ":", " in ", "=",
        ".", "'", "\"", "\\", "\n", " ", "1", "1.5", "1e", "'ball'", "\"\\n\"", "true", "é", "“", "\u{202e}", "10lb",
        "not ",
    ];
    let names: Vec<&str> = NAMES.iter().map(|(name, _)| *name).collect();
    let piece = prop_oneof![proptest::sample::select(signs.to_vec()), proptest::sample::select(names)];
    proptest::collection::vec(piece, 0..24).prop_map(|pieces| pieces.concat())
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(3000) })]

    #[test]
    fn no_text_makes_it_panic_and_every_range_lies_in_the_text(text in prop_oneof!["\\PC{0,60}", any::<String>(), pieces()]) {
        match compile(&text, &Subject) {
            Ok(expr) => {
                prop_assert_eq!(expr.text(), text.as_str());
                for (slot, name, range) in expr.names() {
                    prop_assert_eq!(NAMES[slot].0, name);
                    prop_assert_eq!(text.get(range), Some(name));
                }
                for at in 0..expr.comparisons() {
                    prop_assert!(text.get(expr.comparison(at).unwrap()).is_some());
                }
            }
            Err(error) => {
                prop_assert!(error.range.start <= error.range.end);
                prop_assert!(text.get(error.range.clone()).is_some(), "{:?}", error);
                let ends_early = error.message.contains("too early") || error.message.contains("is empty");
                prop_assert!(!error.range.is_empty() || ends_early, "{:?}", error);
                prop_assert!(!error.message.contains(draylint::text::is_hidden), "{:?}", error);
                prop_assert!(!error.help.unwrap_or_default().contains(draylint::text::is_hidden));
            }
        }
    }
}
