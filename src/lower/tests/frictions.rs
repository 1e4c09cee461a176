//! Frictions: what a yard says over what is built in.

use super::read;
use crate::lower::builtin_frictions;
use crate::model::{DeckCondition, Surface, Touching};

const PLANKS: &str = r#"friction "rubber-tire" on="wood" deck="wet" low=0.4 high=(pct)55 source="pulled with a scale" status="measured""#;

#[test]
fn a_friction_of_the_yard_stands_beside_or_in_the_place_of_the_built_in_ones() {
    let steel = r#"friction "rubber-tire" on="smooth-steel" deck="wet" low=0.25 high=0.35"#;
    let (yard, findings, _) = read(&["", PLANKS, steel]);
    assert_eq!(findings, Vec::new());
    assert_eq!(yard.frictions.len(), builtin_frictions().len() + 1);
    let range = |on, deck| {
        let one = yard.friction(Touching::RubberTire, on, deck)?;
        Some((one.low.value()?.si(), one.high.value()?.si()))
    };
    assert_eq!(range(Surface::Wood, DeckCondition::Wet), Some((0.4, 0.55)));
    assert_eq!(range(Surface::SmoothSteel, DeckCondition::Wet), Some((0.25, 0.35)));
    assert_eq!(range(Surface::SmoothSteel, DeckCondition::Dry), Some((0.5, 0.7)), "a built-in one");
    assert_eq!(range(Surface::Wood, DeckCondition::Dry), None, "nothing is published");
}

#[test]
fn faults_of_a_friction_are_told() {
    for (old, new, rule, said) in [
        ("low=0.4", "low=(lb)4", "unit-wrong", "`low` is a plain number"),
        ("low=0.4", "low=40", "not-possible", "`low` cannot be 40"),
        ("low=0.4", "low=0.6", "does-not-add-up", "the least friction is 0.6, and the most is 0.55"),
        (" low=0.4", "", "missing-entry", "low"),
        ("\"wood\"", "\"wod\"", "unknown-word", "wod"),
        ("rubber-tire", "rubber-tyre", "unknown-word", "rubber-tyre"),
    ] {
        let (_, findings, _) = read(&["", &PLANKS.replacen(old, new, 1)]);
        let [only] = &findings[..] else { panic!("{old} {new}: {findings:#?}") };
        assert!(only.rule == rule && only.message.contains(said), "{}: {}", only.rule, only.message);
    }
    let (_, findings, _) = read(&["", PLANKS, PLANKS]);
    assert_eq!(findings.len(), 1);
    assert_eq!((&*findings[0].rule, findings[0].labels.len()), ("name-twice", 1));
}
