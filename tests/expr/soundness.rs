//! What is decided with values unknown stays decided when they become known, and what is said to be missing is enough.

use std::cell::Cell;

use draylint::expr::{Expr, Truth, Value, Verdict, compile};
use proptest::prelude::*;
use proptest::test_runner::{TestCaseError, TestRunner};

use crate::generated::{NAMES, Plain, condition, values};

fn config(cases: u32) -> ProptestConfig {
    ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(cases) }
}

/// The verdict with the slots in `unknown` unknown; what is missing is the slot.
fn judged(expr: &Expr, values: &[Value], unknown: &[bool]) -> Verdict<usize> {
    expr.eval(&mut |slot| if unknown[slot] { Err(slot) } else { Ok(values[slot].clone()) })
}

fn unknown() -> impl Strategy<Value = Vec<bool>> {
    proptest::collection::vec(proptest::bool::weighted(0.4), NAMES.len())
}

/// What every verdict must be in itself.
fn coherent(verdict: &Verdict<usize>) -> Result<(), TestCaseError> {
    let nothing_open = verdict.missing.is_empty() && verdict.undefined.is_none();
    prop_assert_eq!(nothing_open, verdict.truth != Truth::CannotTell, "{:?}", verdict);
    let mut once = verdict.missing.clone();
    once.sort_unstable();
    once.dedup();
    prop_assert_eq!(once.len(), verdict.missing.len());
    prop_assert_eq!(verdict.blamed.is_some(), verdict.decisive().is_some());
    if let Some(blamed) = verdict.decisive() {
        let truth = if blamed.holds { Truth::Holds } else { Truth::Fails };
        prop_assert_eq!(verdict.truth, truth, "{:?}", verdict);
    }
    for compared in &verdict.compared {
        let margin = compared.margin().unwrap_or(0.0);
        prop_assert!(if compared.holds { margin >= 0.0 } else { margin <= 0.0 }, "{:?}", compared);
    }
    Ok(())
}

#[test]
fn what_becomes_known_never_contradicts_a_verdict() {
    let (decided, open) = (Cell::new(0), Cell::new(0));
    let others = proptest::collection::vec(values(), 6);
    let result = TestRunner::new(config(3000)).run(&(condition(), values(), unknown(), others), |input| {
        let (text, values, unknown, others) = input;
        let expr = compile(&text, &Plain).map_err(|error| TestCaseError::fail(error.message))?;
        let before = judged(&expr, &values, &unknown);
        coherent(&before)?;
        let plain = expr.decide(&mut |slot| if unknown[slot] { Err(slot) } else { Ok(values[slot].clone()) });
        prop_assert!(plain.compared.is_empty() && plain.blamed.is_none());
        prop_assert_eq!(
            (plain.truth, &plain.missing, &plain.undefined),
            (before.truth, &before.missing, &before.undefined)
        );
        let matters = unknown.contains(&true) && expr.names().any(|(slot, ..)| unknown[slot]);
        let counted = if before.truth == Truth::CannotTell { &open } else { &decided };
        counted.set(counted.get() + u32::from(matters));
        for other in &others {
            let filled: Vec<Value> = (0..NAMES.len())
                .map(|slot| if unknown[slot] { other[slot].clone() } else { values[slot].clone() })
                .collect();
            let after = judged(&expr, &filled, &[false; NAMES.len()]);
            coherent(&after)?;
            prop_assert!(after.missing.is_empty());
            if before.truth != Truth::CannotTell {
                prop_assert_eq!(after.truth, before.truth);
                continue;
            }
            // What was said to be missing is enough to decide, unless a quotient stands in the way.
            let rest: Vec<bool> =
                (0..NAMES.len()).map(|slot| unknown[slot] && !before.missing.contains(&slot)).collect();
            let enough = judged(&expr, &filled, &rest);
            prop_assert!(enough.missing.is_empty(), "{:?} then {:?}", before, enough);
            prop_assert_eq!(enough.truth, after.truth);
        }
        Ok(())
    });
    if let Err(error) = result {
        panic!("{error}");
    }
    let (decided, open) = (decided.get(), open.get());
    assert!(decided >= 500 && open >= 500, "{decided} decided in spite of the unknown, {open} open");
}

proptest! {
    #![proptest_config(config(2000))]

    #[test]
    fn the_opposite_is_the_opposite(text in condition(), values in values(), unknown in unknown()) {
        let plain = judged(&compile(&text, &Plain).unwrap(), &values, &unknown);
        let turned = judged(&compile(&format!("!({text})"), &Plain).unwrap(), &values, &unknown);
        coherent(&turned)?;
        let opposite = match plain.truth {
            Truth::Holds => Truth::Fails,
            Truth::Fails => Truth::Holds,
            Truth::CannotTell => Truth::CannotTell,
        };
        prop_assert_eq!(turned.truth, opposite);
        let sorted = |mut missing: Vec<usize>| { missing.sort_unstable(); missing };
        prop_assert_eq!(sorted(plain.missing), sorted(turned.missing));
    }

    #[test]
    fn flipping_turns_one_comparison_and_twice_none(text in condition(), values in values()) {
        let known = [false; NAMES.len()];
        let expr = compile(&text, &Plain).unwrap();
        let plain = judged(&expr, &values, &known);
        for at in 0..expr.comparisons() {
            let flipped = expr.flipped(at);
            coherent(&judged(&flipped, &values, &known))?;
            prop_assert_eq!(&judged(&flipped.flipped(at), &values, &known), &plain);
            if let Condition::Single = shape(&expr, &text) {
                let truth = judged(&flipped, &values, &known).truth;
                prop_assert!(truth != plain.truth || truth == Truth::CannotTell);
            }
        }
        prop_assert_eq!(&judged(&expr.flipped(expr.comparisons()), &values, &known), &plain);
    }
}

/// Whether a condition is one comparison and nothing around it.
enum Condition {
    Single,
    Other,
}

fn shape(expr: &Expr, text: &str) -> Condition {
    let alone = expr.comparisons() == 1 && expr.comparison(0) == Some(0..text.len());
    if alone { Condition::Single } else { Condition::Other }
}
