//! Checked machine and attachment nodes to machines and attachments.

use super::read_truck::axle_word;
use super::report::Report;
use super::seen::Seen;
use crate::model::{
    Arm, Attachment, Choice, End, LashPoint, Machine, MachineAxle, Outline, Slot, Tracks, Underside, UndersidePart,
};
use crate::units::Length;

/// The machine; nothing when it has no id.
pub(super) fn machine(seen: &Seen<'_>, report: &mut Report<'_>) -> Option<Machine> {
    let id = seen.name()?;
    let owner = seen.owner("");
    let path = &owner.path;
    let axle = |end: End| {
        let axle = seen.children("axle").find(|axle| axle.choice::<End>("end").value() == Some(end));
        axle.map(|axle| self::axle(axle, path))
    };
    let cg = seen.child("cg");
    let mut machine = Machine {
        id,
        front: axle(End::Front),
        rear: axle(End::Rear),
        wheelbase: seen.quantity("wheelbase"),
        weight: seen.quantity("weight"),
        cg_arm: seen.within(cg, "cg", |cg| cg.quantity("arm")),
        cg_height: first_of(seen.within(cg, "cg", |cg| cg.quantity("height")), seen.quantity("cg-height")),
        cg_left: first_of(seen.within(cg, "cg", |cg| cg.quantity("left")), seen.quantity("cg-left")),
        tracks: seen.child("tracks").map(|tracks| Tracks {
            owner: tracks.owner(path),
            contact_length: tracks.quantity("contact-length"),
            gauge: tracks.quantity("gauge"),
        }),
        track_width: seen.quantity("track-width"),
        contact: seen.choice("contact"),
        outline: seen.child("outline").map(|one| outline(one, path)),
        underside: seen.child("underside").map(|one| underside(one, path)),
        lash_points: seen.children("lash-point").filter_map(|point| lash_point(point, path)).collect(),
        weighed_with: seen.children("weighed-with").filter_map(|one| one.reference("attachment")).collect(),
        owner,
    };
    if let Some(cg) = cg {
        for (inner, outer) in [("height", "cg-height"), ("left", "cg-left")] {
            report.same(&cg.quantity::<Length>(inner), &seen.quantity(outer), inner, outer);
        }
    }
    needs(seen, &mut machine, report);
    Some(machine)
}

/// `cg height=` and `cg-height` say the same; a contradiction is told by the caller.
fn first_of<T: Clone>(cg: Slot<T>, own: Slot<T>) -> Slot<T> {
    if cg.is_absent() { own } else { cg }
}

/// A machine stands on wheels, with two axles and a wheelbase, or on tracks, with weight and centre of gravity.
fn needs(seen: &Seen<'_>, machine: &mut Machine, report: &mut Report<'_>) {
    if seen.lost {
        return;
    }
    let says = |name: &str| seen.child(name).is_some() || seen.is_broken(name);
    if says("axle") {
        // As with a truck's.
        let axles = || seen.children("axle");
        let unsure = seen.is_broken("axle") || axles().count() > 1 || axles().any(|axle| axle.leaf("end").is_none());
        for (end, there) in [(End::Front, machine.front.is_some()), (End::Rear, machine.rear.is_some())] {
            if !there && !unsure {
                report.lacks_axle(seen, end.word());
                machine.owner.reported.push(axle_word(end));
            }
        }
        if !says("wheelbase") {
            report.lacks(seen, "wheelbase");
            machine.owner.reported.push("wheelbase");
        }
    } else if ["weight", "cg", "tracks"].into_iter().any(says) {
        for name in ["weight", "cg", "tracks"].into_iter().filter(|name| !says(name)) {
            report.lacks(seen, name);
            machine.owner.reported.push(name);
        }
    } else {
        report.stands_on_nothing(seen);
        machine.owner.reported.extend(["axle", "weight", "cg", "tracks"]);
    }
}

fn axle(seen: &Seen<'_>, parent: &str) -> MachineAxle {
    MachineAxle {
        owner: seen.owner(parent),
        weighed: seen.quantity("weighed"),
        wheel_radius: seen.quantity("wheel-radius"),
        driven: seen.flag("driven"),
        braked: seen.flag("braked"),
        track_width: seen.quantity("track-width"),
    }
}

/// The attachment; nothing when it has no id.
pub(super) fn attachment(seen: &Seen<'_>) -> Option<Attachment> {
    let id = seen.name()?;
    let owner = seen.owner("");
    let path = &owner.path;
    let arms = seen.children("arm").map(|arm| Arm { machine: arm.reference("for"), arm: arm.quantity("length") });
    Some(Attachment {
        id,
        weight: seen.quantity("weight"),
        arms: arms.collect(),
        outline: seen.child("outline").map(|one| outline(one, path)),
        underside: seen.child("underside").map(|one| underside(one, path)),
        lowers: seen.flag("lowers"),
        lash_points: seen.children("lash-point").filter_map(|point| lash_point(point, path)).collect(),
        owner,
    })
}

fn outline(seen: &Seen<'_>, parent: &str) -> Outline {
    Outline {
        owner: seen.owner(parent),
        front: seen.quantity("front"),
        rear: seen.quantity("rear"),
        width: seen.quantity("width"),
        height: seen.quantity("height"),
    }
}

fn underside(seen: &Seen<'_>, parent: &str) -> Underside {
    let owner = seen.owner(parent);
    let parts = seen.children.iter().filter_map(|part| {
        let point = part.word.name == "point";
        Some(UndersidePart {
            name: part.name()?,
            from: part.quantity(if point { "arm" } else { "from" }),
            to: part.quantity(if point { "arm" } else { "to" }),
            clearance: part.quantity("clearance"),
            flat: !point,
            owner: part.owner(&owner.path),
        })
    });
    Underside { parts: parts.collect(), owner }
}

fn lash_point(seen: &Seen<'_>, parent: &str) -> Option<LashPoint> {
    Some(LashPoint {
        id: seen.name()?,
        owner: seen.owner(parent),
        arm: seen.quantity("arm"),
        left: seen.quantity("left"),
        height: seen.quantity("height"),
        rating: seen.quantity("rating"),
    })
}
