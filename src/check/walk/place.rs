//! Where everything stands: which machine, which way round, and the gap to set by the tape.

use super::numbers::Numbers;
use crate::figures::{Each, OnDeck, Subject};
use crate::finding::{Step, WalkLine};
use crate::model::{Bulk, Choice as _, Facing, Gap, Item, ItemKind, Slot};
use crate::units::{Kind, unit_for};

pub(super) fn lines(numbers: &Numbers<'_, '_>) -> Vec<WalkLine> {
    let mut lines = vec![WalkLine::Step(coupled(numbers))];
    lines.extend(numbers.load.in_truck.iter().map(|cargo| {
        let mut text = format!("in the truck: {}", cargo.name.value);
        if let Some(weight) = numbers.slot(&cargo.weight) {
            text = format!("{text}, {weight}");
        }
        if let Some(entry) = cargo.ahead_of_rear_axle.entry() {
            text = format!("{text}, its middle {} ahead of the rear axle", numbers.written(entry));
            if entry.value.si() < 0.0 {
                text.push_str(" (below zero: behind it)");
            }
        }
        WalkLine::Step(Step::new(text))
    }));
    lines.extend(in_order(numbers).into_iter().filter_map(|at| item(numbers, at)).map(WalkLine::Step));
    lines
}

/// The items in the order in which they come aboard: the foremost first, what stands on another after it.
pub(super) fn in_order(numbers: &Numbers<'_, '_>) -> Vec<usize> {
    let items = &numbers.load.items;
    let front = |at: &usize| {
        let placed = items.get(*at).and_then(|one| one.placed.as_ref().ok());
        placed.map_or(f64::INFINITY, |placed| placed.front().si())
    };
    let below = |at: usize| (0..items.len()).filter(|other| numbers.load.stands_on(at, *other)).count();
    let mut order: Vec<usize> = (0..items.len()).collect();
    order.sort_by(|a, b| below(*a).cmp(&below(*b)).then(front(a).total_cmp(&front(b))).then(a.cmp(b)));
    order
}

fn coupled(numbers: &Numbers<'_, '_>) -> Step {
    let load = numbers.load;
    let truck = load.truck.as_ref().map_or("the truck", |truck| &*truck.id.value);
    let trailer = load.trailer.as_ref().map_or("the trailer", |trailer| &*trailer.id.value);
    let mut step = Step::new(format!("{trailer} coupled to {truck}, the coupling closed and locked"));
    let ball = load.hitch().ok().and_then(|hitch| hitch.ball.as_ref());
    if let Some(size) = ball.and_then(|ball| numbers.slot(&ball.size)) {
        step.more.push(format!("ball {size}"));
    }
    step
}

fn item(numbers: &Numbers<'_, '_>, at: usize) -> Option<Step> {
    let one = numbers.load.items.get(at)?;
    let subject = Subject::Item(at);
    let mut step = Step::new(head(one));
    if let ItemKind::Bulk(bulk) = &one.item.kind {
        step.text.push_str(&heap(numbers, bulk));
    }
    let gaps = gaps(numbers, one.item, subject);
    if let Some((set, other)) = gaps {
        step.text = format!("{}: {set}", step.text);
        step.more.extend(other);
        let unit = gap_unit(numbers, one.item);
        step.blanks.push(("measured", unit));
    }
    for fit in one.fits() {
        let attachment = fit.attachment.target.and_then(|at| numbers.load.yard.attachments.get(at));
        let lowers = attachment.and_then(|one| one.lowers.value());
        let rides = match lowers {
            Some(true) => ", riding lowered",
            Some(false) => ", which does not ride lowered",
            None => "",
        };
        step.more.push(format!("fitted: {}{rides}; gaps are measured with it on", fit.attachment.name.value));
    }
    let left = one.item.left.entry().filter(|entry| entry.value.si().abs() > 0.0);
    if let Some(entry) = left {
        let said = numbers.written(entry);
        step.more.push(format!("its middle {said} left of the deck's middle (below zero: to the right)"));
    }
    if let Some(under) = one.under.and_then(|under| numbers.load.items.get(under)) {
        step.more.push(format!("stands on {}", under.label));
    }
    if let Some(weight) = numbers.told("item.weight", Each::Item, subject) {
        step.more.push(format!("weighs {weight}"));
    }
    Some(step)
}

/// What it is and which way round.
fn head(one: &OnDeck<'_>) -> String {
    let ItemKind::Machine(aboard) = &one.item.kind else { return one.label.to_string() };
    let facing = match aboard.facing {
        Slot::Given(ref entry) if entry.value == Facing::Forward => "nose toward the truck",
        Slot::Given(_) => "nose away from the truck",
        Slot::Absent | Slot::Broken => "which way round is not given",
    };
    format!("{}, {facing}", one.label)
}

/// How much loose material, and how it lies.
fn heap(numbers: &Numbers<'_, '_>, bulk: &Bulk) -> String {
    let mut said = String::new();
    if let Some(volume) = numbers.slot(&bulk.volume) {
        said = format!(", {volume}");
    }
    if let Some(moisture) = bulk.moisture.value() {
        said = format!("{said}, {}", moisture.word());
    }
    if let Some(length) = numbers.slot(&bulk.length) {
        said = format!("{said}, over {length} of the deck");
    }
    said
}

/// The gap to set, as the sheet measures it, and the one that it leaves at the other end.
fn gaps(numbers: &Numbers<'_, '_>, item: &Item, subject: Subject) -> Option<(String, Option<String>)> {
    let front = |gap: String| format!("{gap} from the deck's front edge to its foremost point");
    let rear = |gap: String| format!("{gap} from its rearmost point to the deck's rear edge");
    let leaves = |name: &str| numbers.told(name, Each::Item, subject);
    let overhang = |si: f64| if si < 0.0 { " (below zero: it reaches past the edge)" } else { "" };
    match &item.gap {
        Gap::Front(entry) => {
            let set = front(numbers.written(entry)) + overhang(entry.value.si());
            Some((set, leaves("item.rear_gap").map(|gap| format!("that leaves {}", rear(gap)))))
        }
        Gap::Rear(entry) => {
            let set = rear(numbers.written(entry)) + overhang(entry.value.si());
            Some((set, leaves("item.front_gap").map(|gap| format!("that leaves {}", front(gap)))))
        }
        Gap::Fills | Gap::Broken => None,
    }
}

/// The unit in which the gap is measured: the one it is written in.
fn gap_unit(numbers: &Numbers<'_, '_>, item: &Item) -> &'static str {
    let written = match &item.gap {
        Gap::Front(entry) | Gap::Rear(entry) => entry.unit,
        Gap::Fills | Gap::Broken => None,
    };
    written.unwrap_or_else(|| unit_for(Kind::Length, numbers.system)).shown
}
