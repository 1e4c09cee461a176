//! Contradictions in a machine or an attachment.

use std::collections::HashMap;
use std::sync::Arc;

use super::{Out, apart, shown, shown_like};
use crate::model::{Attachment, Entry, LashPoint, Machine, MachineAxle, Outline, Slot, Underside};
use crate::text::Span;
use crate::units::{Length, unit};

pub(super) fn check(machine: &Machine, out: &mut Out<'_>) {
    if let (Some(axle), Some(tracks)) = (machine.front.as_ref().or(machine.rear.as_ref()), &machine.tracks) {
        let message = "a machine stands on wheels or on tracks, not on both".to_owned();
        out.clash(tracks.owner.at, message, (axle.owner.at, "an axle".to_owned()), "delete one of them");
        return;
    }
    weights(machine, out);
    let Some(outline) = &machine.outline else {
        return;
    };
    let wrong_sign = signs(machine, outline, out);
    if !wrong_sign {
        extremities(outline, out);
    }
    let width = "the machine's width";
    let help = "measure between the centres of the wheels or tracks";
    out.at_most(&machine.track_width, &outline.width, ("the track", width), help);
    for axle in [&machine.front, &machine.rear].into_iter().flatten() {
        out.at_most(&axle.track_width, &outline.width, ("the track", width), help);
    }
    if let Some(tracks) = &machine.tracks {
        out.at_most(&tracks.gauge, &outline.width, ("the gauge", width), help);
        let help = "measure both from the rear end of the tracks' ground contact";
        let names = ("the ground contact's length", "the foremost point");
        if !wrong_sign {
            out.at_most(&tracks.contact_length, &outline.front, names, help);
        }
    }
    let help = "measure the foremost point from the rear axle";
    if !wrong_sign {
        out.at_most(&machine.wheelbase, &outline.front, ("the wheelbase", "the foremost point"), help);
    }
    out.at_most(
        &machine.cg_height,
        &outline.height,
        ("the height of the centre of gravity", "the machine's height"),
        "measure both again",
    );
    underside(machine.underside.as_ref(), out);
    if !wrong_sign {
        machine.lash_points.iter().for_each(|point| on_the_machine(point, outline, out));
    }
    wheels_apart(machine, out);
}

/// How far outside the outline a lash point can be, in m: on what a tape was not held to
/// (judgement, no source).
const BEYOND: f64 = 0.5;

fn on_the_machine(point: &LashPoint, outline: &Outline, out: &mut Out<'_>) {
    let help = "measure the point from the datum, the centre line and the ground";
    let beyond = |at: &Slot<Length>, least: Option<f64>, most: &Slot<Length>, share: f64| {
        let (at, end) = (at.entry()?, most.entry()?);
        let (value, end_at) = (at.value.si(), end.value.si() * share + BEYOND);
        let outside = value > end_at || least.is_some_and(|least| value < least - BEYOND);
        outside.then(|| (at.at, shown(at), end.at))
    };
    let rear = outline.rear.entry().map(|rear| rear.value.si());
    let across = outline.width.entry().map(|width| -width.value.si() / 2.0);
    let along = beyond(&point.arm, rear, &outline.front, 1.0).map(|found| (found, "along the machine"));
    let aside = beyond(&point.left, across, &outline.width, 0.5).map(|found| (found, "off its middle"));
    let above = beyond(&point.height, None, &outline.height, 1.0).map(|found| (found, "above the ground"));
    for ((at, value, end), way) in [along, aside, above].into_iter().flatten() {
        let message = format!("a lash point {value} {way} lies outside the machine's outline");
        out.clash(at, message, (end, "the outline".to_owned()), help);
    }
}

fn wheels_apart(machine: &Machine, out: &mut Out<'_>) {
    let radius = |axle: &Option<MachineAxle>| axle.as_ref().and_then(|axle| axle.wheel_radius.entry().cloned());
    if let (Some(front), Some(rear), Some(base)) =
        (radius(&machine.front), radius(&machine.rear), machine.wheelbase.entry())
        && front.value.si() + rear.value.si() > base.value.si() + 1e-9
    {
        let message = format!(
            "wheels with radii of {} and {} do not fit in a wheelbase of {}",
            shown(&front),
            shown(&rear),
            shown(base)
        );
        out.clash(
            front.at,
            message,
            (base.at, "the wheelbase".to_owned()),
            "measure from the ground to the wheel's centre",
        );
    }
}

/// What the axles weigh against a weight and a centre of gravity that are given as well.
fn weights(machine: &Machine, out: &mut Out<'_>) {
    let (Some(front), Some(rear)) = (&machine.front, &machine.rear) else {
        return;
    };
    let (Some(front), Some(rear)) = (front.weighed.entry(), rear.weighed.entry()) else {
        return;
    };
    let sum = front.value.si() + rear.value.si();
    if let Some(weight) = machine.weight.entry()
        && apart(sum, weight.value.si(), 5.0, &[front.plus_minus, rear.plus_minus, weight.plus_minus])
    {
        let message = format!(
            "the axles weigh {} together, and {} is written as the weight",
            shown_like(sum, weight),
            shown(weight)
        );
        let label = (front.at, "an axle as weighed".to_owned());
        out.clash(weight.at, message, label, "delete weight, because the axles say it");
    }
    if let (Some(arm), Some(wheelbase)) = (machine.cg_arm.entry(), machine.wheelbase.entry()) {
        // Moments about the rear axle.
        let by_axles = wheelbase.value.si() * front.value.si() / sum;
        if apart(by_axles, arm.value.si(), 0.05 * wheelbase.value.si(), &[arm.plus_minus, wheelbase.plus_minus]) {
            let message = format!(
                "the axles put the centre of gravity {} ahead of the rear axle, and {} is written",
                shown_like(by_axles, arm),
                shown(arm)
            );
            let label = (front.at, "an axle as weighed".to_owned());
            out.clash(arm.at, message, label, "delete the arm, because the axles say it");
        }
    }
}

/// The datum of a machine lies within it: its foremost point ahead of it, its rearmost not. Whether one of them has the
/// other's sign.
fn signs(machine: &Machine, outline: &Outline, out: &mut Out<'_>) -> bool {
    let datum = if machine.tracks.is_some() { "the rear end of the tracks' ground contact" } else { "the rear axle" };
    let front = outline.front.entry().filter(|front| front.value.si() < 0.0);
    let rear = outline.rear.entry().filter(|rear| rear.value.si() > 0.0);
    if let Some(rear) = rear {
        let message = format!("the machine's rearmost point would lie {} ahead of {datum}", shown(rear));
        let help = "arms run forward from there, and behind it they are negative";
        out.alone(rear.at, message, &format!("write rear={}: {help}", turned(rear)));
    }
    if let Some(front) = front {
        let distance = shown_like(-front.value.si(), front);
        let message = format!("the machine's foremost point would lie {distance} behind {datum}");
        out.alone(front.at, message, &format!("write front={}", turned(front)));
    }
    front.is_some() || rear.is_some()
}

/// A length with its sign turned, as a sheet writes it.
fn turned(entry: &Entry<Length>) -> String {
    let symbol = entry.unit.map_or("in", |unit| unit.symbol);
    let factor = unit(symbol).map_or(1.0, |unit| unit.factor);
    let value = -entry.value.si() / factor;
    format!("({symbol}){}", (value * 1e6).round() / 1e6)
}

fn extremities(outline: &Outline, out: &mut Out<'_>) {
    if let (Some(front), Some(rear)) = (outline.front.entry(), outline.rear.entry())
        && front.value <= rear.value
    {
        let message =
            format!("the foremost point, {}, does not lie ahead of the rearmost, {}", shown(front), shown(rear));
        let label = (rear.at, "the rearmost point".to_owned());
        out.clash(front.at, message, label, "measure both forward from the datum; behind it is negative");
    }
}

fn underside(underside: Option<&Underside>, out: &mut Out<'_>) {
    for part in underside.into_iter().flat_map(|underside| &underside.parts) {
        let help = "write the rear end as from= and the front end as to=";
        out.at_most(&part.from, &part.to, ("its rear end", "its front end"), help);
    }
}

pub(super) fn check_attachment(attachment: &Attachment, out: &mut Out<'_>) {
    if let Some(outline) = &attachment.outline {
        extremities(outline, out);
    }
    underside(attachment.underside.as_ref(), out);
    let mut firsts: HashMap<Option<Arc<str>>, Span> = HashMap::new();
    for arm in &attachment.arms {
        let Some(at) = arm.arm.at() else {
            continue;
        };
        let machine = arm.machine.as_ref().map(|machine| Arc::clone(&machine.name.value));
        let first = *firsts.entry(machine).or_insert(at);
        if first != at {
            let message = "the attachment's arm is given twice for the same machine".to_owned();
            let help = "delete one, or say with for= which machine it holds for";
            out.clash(at, message, (first, "given here".to_owned()), help);
        }
    }
}
