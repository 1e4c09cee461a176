//! What a rule says of each subject of a load.

use draylint::expr::{Expr, Truth, Value, Verdict};
use draylint::figures::{Lack, Load, Subject, figures};
use draylint::rules::{Ask, Rule, Slot};

/// What a rule says of one subject.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Said {
    /// Its `when` does not hold.
    NotAsked,
    Holds,
    Fails,
    CannotTell,
}

/// The value behind a slot of a condition.
pub(crate) fn value(rule: &Rule, load: &Load<'_>, subject: Subject, slot: usize) -> Result<Value, Lack> {
    match Slot::of(slot) {
        Slot::Param(at) => Ok(Value::Number(rule.params[at].value)),
        Slot::Figure(at) => figures()[at].of(load, subject).map(|reading| reading.value),
    }
}

/// Whether a figure is only the best that is known, so that what holds of it is not known to hold.
pub(crate) fn is_open(load: &Load<'_>, subject: Subject, slot: usize) -> bool {
    match Slot::of(slot) {
        Slot::Param(_) => false,
        Slot::Figure(at) => figures()[at].of(load, subject).is_ok_and(|reading| reading.open.is_some()),
    }
}

/// The verdict of what must hold.
pub(crate) fn verdict(rule: &Rule, ask: &Ask, load: &Load<'_>, subject: Subject) -> Verdict<Lack> {
    ask.require.eval(&mut |slot| value(rule, load, subject, slot))
}

/// What a rule says of a subject.
pub(crate) fn said(rule: &Rule, ask: &Ask, load: &Load<'_>, subject: Subject) -> Said {
    let when =
        ask.when.as_ref().map_or(Truth::Holds, |when| when.eval(&mut |slot| value(rule, load, subject, slot)).truth);
    match (when, verdict(rule, ask, load, subject).truth) {
        (Truth::Fails, _) => Said::NotAsked,
        (_, Truth::Holds) => {
            let open = |expr: &Expr| expr.names().any(|(slot, ..)| is_open(load, subject, slot));
            if ask.when.iter().chain([&ask.require]).any(open) { Said::CannotTell } else { Said::Holds }
        }
        (Truth::Holds, Truth::Fails) => Said::Fails,
        _ => Said::CannotTell,
    }
}

/// What a rule says of every subject of some loads, in order.
pub(crate) fn all_said<'l>(rule: &Rule, loads: impl IntoIterator<Item = &'l Load<'l>>) -> Vec<Said> {
    let mut all = Vec::new();
    for load in loads {
        for ask in rule.asks() {
            all.extend(ask.each.subjects(load).into_iter().map(|subject| said(rule, ask, load, subject)));
        }
    }
    all
}
