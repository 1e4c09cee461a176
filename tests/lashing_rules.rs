//! The rules of lashing on sheets: what they say is what the published examples and the formulas say.

use draylint::check::{Options, judge};
use draylint::expr::Value;
use draylint::figures::{Each, Heap, Load, figure};
use draylint::lower::{link, lower_file};
use draylint::rules::RuleSet;
use draylint::syntax::{parse, with_stack};
use draylint::text::FileId;
use proptest::prelude::*;

/// A crate of so many kg, 1 m wide, on a deck with this friction, with straps of so many daN at an angle to the deck.
fn job(kg: f64, friction: f64, count: u32, dan: f64, alpha: f64) -> String {
    // Half a metre of width and as far out again as the angle asks, for a height of 1 m.
    let out = 0.5 + 1.0 / alpha.to_radians().tan();
    format!(
        r#"
yard "Heron Fork Groundworks" {{ follow "eu"; }}
friction "wood" on="wood" deck="dry" low={friction} high={friction} source="of an example" status="measured"
tiedown "strap" kind="webbing" lashing-capacity=(daN)2500 tension-force=(daN){dan}
trailer "sled" {{
    empty tongue=(kg)150 axles=(kg)1000
    axle at=(m)4 rating=(kg)6000
    deck from=(m)1 length=(m)6 width=(m)2.4 height=(m)0.6 surface="wood"
    anchor "left"  from-front=(m)2.5 left=(m){out}
    anchor "right" from-front=(m)2.5 left=(m)-{out}
}}
sheet "job" {{
    trailer "sled"
    conditions deck="dry"
    cargo "crate" weight=(kg){kg} length=(m)1 width=(m)1 height=(m)1 front-gap=(m)2 base="wood" {{
        tie "strap" over=#true from="left" to="right" count={count}
    }}
}}
"#
    )
}

/// Whether the count is enough, by the rule, and how many it takes by the figure, rounded up.
fn judged(text: &str) -> (bool, f64) {
    let (yard, _) = with_stack(|| {
        let parsed = parse(FileId(0), text);
        assert!(parsed.findings.is_empty(), "{:?}", parsed.findings);
        link(vec![lower_file(&parsed.document.unwrap(), true)], Vec::new())
    });
    let which = yard.loads().next().unwrap();
    let mut rules = RuleSet::builtin();
    rules.apply(&yard.settings);
    let options = Options { units: None, today: "2000-01-01".into(), weigh: false, mend: false };
    let findings = judge(&yard, &rules, which, &options).unwrap().findings;
    let enough = findings.iter().all(|finding| finding.rule != "eu-too-few-lashings");
    let load = Load::of(&yard, which, Heap::Heaviest).unwrap();
    let subject = Each::Item.subjects(&load)[0];
    let needed = figure("lashings.needed", Each::Item).unwrap().1.of(&load, subject).unwrap();
    let Value::Number(needed) = needed.value else { panic!("a number") };
    (enough, (needed - 1e-9).ceil())
}

/// E1 (a trade article, secondary; friction inferred) and E2 (a textbook, secondary, its answers by the edition of 2010): with as
/// many straps as that the rule is silent, with one fewer it is not.
#[test]
fn published_counts_are_what_the_rule_asks() {
    for (name, kg, friction, dan, alpha, straps) in [
        ("E1a", 2000.0, 0.2, 350.0, 85.0, 11),
        ("E1b", 2000.0, 0.2, 350.0, 45.0, 15),
        ("E1c", 2000.0, 0.6, 350.0, 85.0, 2),
        ("E2a", 4000.0, 0.3, 300.0, 60.0, 16),
        ("E2b", 4000.0, 0.6, 300.0, 60.0, 4),
    ] {
        assert_eq!(judged(&job(kg, friction, straps, dan, alpha)), (true, f64::from(straps)), "{name}");
        assert!(!judged(&job(kg, friction, straps - 1, dan, alpha)).0, "{name}: one fewer");
    }
}

/// Where nothing grips, or straps lie flat, no number of them is enough; where friction holds all, two are the least.
#[test]
fn at_the_edges_no_count_is_enough_or_two_are() {
    assert!(!judged(&job(100.0, 0.0, 20, 400.0, 80.0)).0, "nothing grips");
    assert!(!judged(&job(100.0, 0.3, 20, 400.0, 29.0)).0, "flat");
    assert_eq!(judged(&job(5000.0, 0.9, 2, 400.0, 80.0)), (true, 2.0));
    assert!(!judged(&job(5000.0, 0.9, 1, 400.0, 80.0)).0);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, ..ProptestConfig::default() })]

    /// The figure, from anchors and outline, is the formula with the angle that they make, in plain numbers.
    #[test]
    fn the_count_is_that_of_the_formula(
        kg in 200.0..4000.0_f64, friction in 0.1..0.7_f64, dan in 100.0..1000.0_f64, alpha in 31.0..89.0_f64,
    ) {
        let n = (0.8 - friction) * kg * 9.81 * 1.25 / (2.0 * friction * alpha.to_radians().sin() * dan * 10.0);
        let whole = n.max(2.0);
        prop_assume!((whole - whole.round()).abs() > 1e-6 || n < 2.0);
        let (_, needed) = judged(&job(kg, friction, 1, dan, alpha));
        prop_assert!((needed - whole.ceil()).abs() < 1e-9, "{needed} for {n}");
    }
}
