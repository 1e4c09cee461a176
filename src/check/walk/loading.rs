//! Before anything is driven aboard: the ground, chocks, brake, stands, ramp, and each machine's way up.

use super::numbers::Numbers;
use super::place::in_order;
use crate::figures::{Each, Subject};
use crate::finding::{Step, WalkLine};
use crate::model::{End, Facing, ItemKind, StandsEntry};
use crate::units::{Kind, show};

const MACHINE: Each = Each::Machine;

pub(super) fn lines(numbers: &Numbers<'_, '_>) -> Vec<WalkLine> {
    let load = numbers.load;
    let machines: Vec<usize> = in_order(numbers)
        .into_iter()
        .filter(|at| load.items.get(*at).is_some_and(|one| matches!(one.item.kind, ItemKind::Machine(_))))
        .collect();
    let mut steps = vec![ground(numbers)];
    let deck = numbers.word("conditions.deck", Each::Load, Subject::Whole);
    steps.push(Step::new(match deck {
        Some(deck) => format!("the deck is {deck}, as this list takes it: wetter, iced or soiled, it holds less"),
        None => "the deck is clean; its state is not given".to_owned(),
    }));
    steps.push(said("the trailer's wheels chocked", load.loading.chocks.value()));
    steps.push(said("the truck's parking brake set", load.loading.parking_brake.value()));
    steps.extend(load.loading.stands.iter().map(|one| stands(numbers, one)));
    if let Some(step) = borne(numbers, &machines) {
        steps.push(step);
    }
    let tilt = load.loading.bed_tilt.entry().filter(|entry| entry.value.si() > 0.0);
    if let Some(entry) = tilt {
        steps.push(Step::new(format!("the bed tilted by {}", numbers.written(entry))));
    }
    if !machines.is_empty() {
        steps.extend(ramp(numbers, &machines));
    }
    steps.extend(machines.iter().map(|at| way_up(numbers, *at)));
    steps.into_iter().map(WalkLine::Step).collect()
}

/// A step that the sheet may say is done.
fn said(what: &str, given: Option<bool>) -> Step {
    let mut step = Step::new(what);
    if given != Some(true) {
        step.more.push("the sheet does not say that this is done".to_owned());
    }
    step
}

fn ground(numbers: &Numbers<'_, '_>) -> Step {
    let slope = numbers.load.loading.slope.entry().filter(|entry| entry.value.si().abs() > 0.0);
    let mut step = Step::new(match slope {
        Some(entry) => {
            let way = if entry.value.si() > 0.0 { "downhill" } else { "uphill" };
            let slope = show(entry.value.si().abs(), Kind::Share, numbers.system);
            format!("firm ground that slopes by {slope}, the truck pointing {way}, as the sheet has it")
        }
        None => "firm, level ground: the sheet gives no slope".to_owned(),
    });
    let rise = numbers.load.loading.foot_rise.entry().filter(|entry| entry.value.si().abs() > 0.0);
    if let Some(entry) = rise {
        let said = numbers.written(entry);
        step.more.push(format!("the ramp's foot {said} higher than the ground under the trailer (below zero: lower)"));
    }
    step
}

fn stands(numbers: &Numbers<'_, '_>, one: &StandsEntry) -> Step {
    let end = match one.end.value() {
        Some(End::Front) => "front",
        Some(End::Rear) => "rear",
        None => "trailer",
    };
    let count = one.count.value().unwrap_or(1);
    let mut text =
        if count == 1 { format!("a stand under the {end}") } else { format!("{count} stands under the {end}") };
    match numbers.slot(&one.at) {
        Some(at) => text = format!("{text}, {at} behind the coupling's centre"),
        None if end == "rear" => text.push_str(", under the deck's rear edge"),
        None => {}
    }
    match numbers.slot(&one.rating) {
        Some(rating) => text = format!("{text}, rated {rating} each"),
        None => text.push_str(", their rating not given"),
    }
    Step::new(text)
}

/// What stands must bear, or would have to, for the machine that asks the most.
fn borne(numbers: &Numbers<'_, '_>, machines: &[usize]) -> Option<Step> {
    let most = |name: &str| {
        let line = |at: &usize| numbers.line(name, MACHINE, Subject::Item(*at));
        let of = |at: &&usize| line(at).and_then(|line| line.value);
        machines
            .iter()
            .filter(|at| of(at).is_some())
            .max_by(|a, b| of(a).unwrap_or(0.0).total_cmp(&of(b).unwrap_or(0.0)))
    };
    let needed = *most("loading.stands_needed")?;
    let value = numbers.line("loading.stands_needed", MACHINE, Subject::Item(needed))?.value?;
    let least = numbers.told("loading.stands_needed", MACHINE, Subject::Item(needed))?;
    let rear = numbers.load.loading.stands.iter().any(|one| one.end.value() == Some(End::Rear));
    if !rear {
        return (value > 0.0).then(|| {
            Step::new(format!(
                "stands under the rear: the sheet has none, and they would have to bear {least} at the least"
            ))
        });
    }
    let mut step = Step::new("stands snug under the frame, on firm ground");
    if value > 0.0 {
        step.more.push(format!("together they must bear {least}, so that the coupler does not lift"));
    } else {
        step.more.push("the coupler does not lift by the numbers of this load".to_owned());
    }
    let most =
        most("loading.stands_load").and_then(|at| numbers.told("loading.stands_load", MACHINE, Subject::Item(*at)));
    if let Some(most) = most {
        step.more.push(format!("up to {most} can come on them together"));
    }
    Some(step)
}

fn ramp(numbers: &Numbers<'_, '_>, machines: &[usize]) -> Option<Step> {
    let ramp = numbers.load.trailer.as_ref().ok()?.ramp.as_ref()?;
    let mut step = Step::new("the ramp down, seated and pinned");
    if let Some(length) = numbers.slot(&ramp.length) {
        step.more.push(format!("{length} long"));
    }
    let first = machines.first().map(|at| Subject::Item(*at))?;
    if let Some(angle) = numbers.told("loading.ramp_angle", MACHINE, first) {
        step.more.push(format!("slope {angle}"));
    }
    for at in machines {
        let Some(most) = numbers.told("loading.ramp_load", MACHINE, Subject::Item(*at)) else { continue };
        let of = numbers.load.items.get(*at).map_or("", |one| &*one.label);
        let rated = numbers.slot(&ramp.rating).map_or_else(String::new, |rating| format!(", rated {rating}"));
        step.more.push(format!("{of} puts on each ramp at the most: {most}{rated}"));
    }
    Some(step)
}

fn way_up(numbers: &Numbers<'_, '_>, at: usize) -> Step {
    let subject = Subject::Item(at);
    let one = numbers.load.items.get(at);
    let label = one.map_or("", |one| &*one.label);
    let facing = one.and_then(|one| match &one.item.kind {
        ItemKind::Machine(aboard) => aboard.facing.value(),
        ItemKind::Cargo(_) | ItemKind::Bulk(_) => None,
    });
    let mut step = Step::new(match facing {
        Some(Facing::Forward) => {
            format!("{label} up nose first, slowly and straight, one to guide and nobody behind it")
        }
        Some(Facing::Backward) => format!("{label} up backward, slowly and straight, one to guide and nobody below it"),
        None => format!("{label} up: which way round is not given"),
    });
    let told = |name: &str| numbers.told(name, MACHINE, subject);
    let word = |name: &str| numbers.word(name, MACHINE, subject);
    let below = |name: &str, means: &str| {
        if numbers.is_below_zero(name, MACHINE, subject) { format!(": below zero, {means}") } else { String::new() }
    };
    if let Some(gap) = told("loading.clearance") {
        let gap = gap + &below("loading.clearance", "it drags there");
        let watch = word("loading.tight_part").zip(word("loading.tight_spot"));
        step.more.push(match watch {
            Some((part, spot)) => format!("watch {part} at {spot}, the tightest: clearance {gap}"),
            None => format!("least clearance: {gap}"),
        });
    }
    let off = |off: &str, side: &str| {
        Some((numbers.entry(off, MACHINE, subject)?, word(side)?))
            .map(|(off, side)| format!("its leading axle or track end is then {off} {side} the deck's rear edge"))
    };
    step.more.extend(off("loading.tight_off", "loading.tight_side").filter(|_| word("loading.tight_part").is_some()));
    step.more.extend(told("loading.pitch").map(|pitch| format!("it stands at {pitch} at the steepest")));
    if let Some(least) = told("loading.tongue_least") {
        step.more.push(format!(
            "least on the hitch while it climbs, no stands bearing: {least}{}",
            below("loading.tongue_least", "the coupler pulls up")
        ));
        step.more.extend(off("loading.least_off", "loading.least_side"));
    }
    let rear = told("loading.truck_rear_axle_least");
    step.more.extend(
        rear.map(|rear| format!("the truck's rear axle, where its brake acts, then carries at the least: {rear}")),
    );
    step
}
