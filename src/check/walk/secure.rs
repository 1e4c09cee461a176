//! What holds each item: tie by tie, with its working load limit, and what the ties hold together.

use super::numbers::Numbers;
use super::place::in_order;
use crate::figures::{Each, OnDeck, Subject};
use crate::finding::{Step, WalkLine};
use crate::model::{Bulk, End, Facing, ItemKind, Tie};
use crate::units::show;

pub(super) fn lines(numbers: &Numbers<'_, '_>) -> Vec<WalkLine> {
    let mut lines = Vec::new();
    for at in in_order(numbers) {
        let Some(one) = numbers.load.items.get(at) else { continue };
        lines.push(WalkLine::Item(one.label.to_string()));
        if let ItemKind::Machine(aboard) = &one.item.kind
            && aboard.facing.value() == Some(Facing::Backward)
        {
            let note =
                "it stands backward: its own left, where its driver sits facing forward, is on the trailer's right";
            lines.push(WalkLine::Note(note.to_owned()));
        }
        lines.extend(before(one).into_iter().map(WalkLine::Step));
        let own = one.item.ties.len();
        let steps = one.ties().enumerate().take(own).map(|(tie, said)| tied(numbers, (at, tie), said, "it"));
        lines.extend(steps.map(WalkLine::Step));
        lines.extend(fits(numbers, at, one).into_iter().map(WalkLine::Step));
        match &one.item.kind {
            ItemKind::Bulk(bulk) => lines.extend(covered(bulk).map(WalkLine::Step)),
            ItemKind::Machine(_) | ItemKind::Cargo(_) if own == 0 => {
                let mut step = Step::new("tied down, as its maker, the trailer's and the law ask");
                step.more.push("the sheet gives no tie-down on it, so this list cannot say how".to_owned());
                lines.push(WalkLine::Step(step));
            }
            ItemKind::Machine(_) | ItemKind::Cargo(_) => lines.extend(held(numbers, at).map(WalkLine::Note)),
        }
    }
    lines.push(WalkLine::Item("the trailer".to_owned()));
    lines.extend(stowed(numbers).into_iter().map(WalkLine::Step));
    lines
}

/// What is done to an item before it is tied.
fn before(one: &OnDeck<'_>) -> Vec<Step> {
    let mut steps = Vec::new();
    if matches!(one.item.kind, ItemKind::Machine(_)) {
        let mut brake = Step::new("parking brake set");
        if one.item.parking_brake.value() != Some(true) {
            brake.more.push("the sheet does not say that it is set".to_owned());
        }
        steps.push(brake);
        steps.push(Step::new("in gear or park and shut down, as its maker says; doors and covers latched"));
    }
    for end in &one.item.blocked {
        let end = if end.value == End::Front { "front" } else { "rear" };
        steps.push(Step::new(format!("bears against the wall or its blocking at its {end}")));
    }
    steps
}

/// The attachments: how they ride, and what holds them.
fn fits(numbers: &Numbers<'_, '_>, item: usize, one: &OnDeck<'_>) -> Vec<Step> {
    let mut steps = Vec::new();
    // Ties of attachments are counted after the item's own.
    let mut tie = one.item.ties.len();
    for (fit, said) in one.fits().iter().enumerate() {
        let name = &said.attachment.name.value;
        let lowers = numbers.flag("attachment.lowers", Each::Attachment, Subject::Fit { item, fit });
        steps.push(Step::new(match lowers {
            Some(true) => format!("{name} lowered until it rests"),
            Some(false) => format!("{name} does not lower: locked as its maker says"),
            None => format!("{name} lowered, or locked as its maker says: the sheet does not say how it rides"),
        }));
        for one in &said.ties {
            steps.push(tied(numbers, (item, tie), one, name));
            tie += 1;
        }
    }
    steps
}

/// `chain-38 from anchor front-left to front-left on it`.
fn tied(numbers: &Numbers<'_, '_>, (item, at): (usize, usize), tie: &Tie, whose: &str) -> Step {
    let count = tie.count.value().unwrap_or(1);
    let name = &tie.tiedown.name.value;
    let mut text = if count == 1 { name.to_string() } else { format!("{count} of {name}") };
    let over = tie.over.value() == Some(true);
    text.push_str(if over { " over the top" } else { "" });
    match (tie.from.value(), tie.to.value()) {
        (Some(from), Some(to)) if over => text = format!("{text}, from anchor {from} to anchor {to}"),
        (Some(from), Some(to)) => text = format!("{text}, direct, from anchor {from} to {to} on {whose}"),
        (Some(from), None) => text = format!("{text}, from anchor {from}"),
        (None, Some(to)) => text = format!("{text}, to {to}"),
        (None, None) => text.push_str(": the sheet does not say from where to where"),
    }
    let mut step = Step::new(text);
    let subject = Subject::Tie { item, tie: at };
    let each = if count == 1 { "" } else { " each" };
    step.more.push(match numbers.entry("tie.default_wll", Each::Tie, subject) {
        Some(limit) if numbers.flag("tie.marked", Each::Tie, subject) == Some(true) => {
            format!("working load limit {limit}{each}")
        }
        Some(limit) => format!("working load limit {limit}{each}, by the published table: it bears no mark"),
        None => "working load limit not known".to_owned(),
    });
    step
}

fn covered(bulk: &Bulk) -> Option<Step> {
    (bulk.covered.value() == Some(true)).then(|| Step::new("covered, the cover tied down"))
}

/// What its ties hold at their working load limits, way by way, with what is asked.
fn held(numbers: &Numbers<'_, '_>, item: usize) -> Option<String> {
    let subject = Subject::Item(item);
    let ways = [
        ("ties.holds_forward", "forward"),
        ("ties.holds_rearward", "rearward"),
        ("ties.holds_sideways", "sideways"),
        ("ties.holds_up", "down"),
    ];
    let way = |(name, way): (&str, &str)| {
        let line = numbers.line(name, Each::Item, subject)?;
        let held = numbers.bare(name, Each::Item, subject)?;
        let asked = line.at_least.as_ref().zip(line.kind).map(|((least, _), kind)| show(*least, kind, numbers.system));
        let asked = asked.map_or_else(String::new, |asked| format!(" (at least {asked} asked)"));
        Some(format!("{way} {held}{asked}"))
    };
    let told: Vec<String> = ways.into_iter().filter_map(way).collect();
    if told.is_empty() {
        let first = numbers.told("ties.holds_forward", Each::Item, subject)?;
        return Some(format!("what the tie-downs hold is {first}"));
    }
    let weakest = numbers.word("ties.weakest", Each::Item, subject);
    let weakest = weakest.map_or_else(String::new, |way| format!("; weakest {way}"));
    Some(format!(
        "at their working load limits the tie-downs hold, in parts of its weight: {}{weakest}",
        told.join(", ")
    ))
}

/// What of the trailer is put up and shut before it rolls.
fn stowed(numbers: &Numbers<'_, '_>) -> Vec<Step> {
    let Ok(trailer) = &numbers.load.trailer else { return Vec::new() };
    let mut steps = Vec::new();
    if trailer.ramp.is_some() {
        steps.push(Step::new("ramp up and pinned"));
    }
    let tilts = trailer.tip_hinge.entry().is_some()
        || trailer.deck.as_ref().is_some_and(|deck| deck.tilt_hinge.entry().is_some());
    if tilts {
        steps.push(Step::new("bed down and locked"));
    }
    if trailer.rear_doors.is_some() {
        steps.push(Step::new("rear doors shut and latched"));
    }
    if !numbers.load.loading.stands.is_empty() {
        steps.push(Step::new("stands up or taken away"));
    }
    steps.push(Step::new("chocks taken away, the last thing before driving off"));
    steps
}
