//! Figures of how a machine is put aboard: what is under it, what it does to coupler, truck, ramp and stands on the way up.

use std::sync::Arc;

use super::climbing::{Climbing, stands, way};
use super::figure::{Worth, computed, entry, finite, value};
use super::of_part::gone;
use super::of_plan::{ramp, rear_edge};
use super::{Each, Figure, Known, Lack, Load, Measures, Reading, Subject};
use crate::expr::Value;
use crate::physics::{Clearance, Course, Spot};
use crate::units::{Angle, Dual, Kind, LANES, Length, Mass, Share};

const MACHINE: &[Each] = &[Each::Machine];
const WEIGHT: Measures = Measures::Quantity(Kind::Mass);
const LENGTH: Measures = Measures::Quantity(Kind::Length);
const ANGLE: Measures = Measures::Quantity(Kind::Angle);

const ROLLED: &str = "the machine rolled up the way, rigid on its wheels or tracks";
const LEVERS: &str = "levers, the machine at every place of its way up";

pub(super) static FIGURES: &[Figure] = &[
    computed(
        "loading.ramp_angle",
        "ramp angle",
        MACHINE,
        ANGLE,
        "slope of the ramp above level ground; of the tilted deck where there is no ramp",
        "sine of the rise over the ramp's length",
        |load, _| {
            let way = way(load)?;
            finite(way.angle(), || gone(load, "ramp"))
        },
    ),
    computed(
        "loading.pitch",
        "steepest pitch",
        MACHINE,
        ANGLE,
        "how steep the machine itself stands at the steepest",
        ROLLED,
        |load, subject| value(climbing(load, subject)?.ask(crate::physics::Climb::pitch)?),
    ),
    computed(
        "loading.clearance",
        "least clearance",
        MACHINE,
        LENGTH,
        "least gap under it on the way up, measured upright; below zero it drags",
        ROLLED,
        |load, subject| {
            let (climbing, clearance) = clearance(load, subject)?;
            Ok(Reading { open: climbing.open(), ..value(clearance.gap)? })
        },
    ),
    computed(
        "loading.tongue_least",
        "least tongue weight",
        MACHINE,
        WEIGHT,
        "least weight on the hitch while it climbs, no stands bearing; below zero the coupler pulls up",
        LEVERS,
        |load, subject| levelled(load, subject, tongue_least(load, subject)?),
    ),
    computed(
        "loading.truck_rear_axle_least",
        "truck's rear axle at least",
        MACHINE,
        WEIGHT,
        "what the truck's rear axle, where its parking brake acts, carries at the least while it climbs; stands under the trailer's rear keep the coupler from lifting",
        LEVERS,
        |load, subject| levelled(load, subject, truck_rear(load, subject)?),
    ),
    computed(
        "loading.axles_most",
        "trailer's axles at most",
        MACHINE,
        WEIGHT,
        "what the trailer's axles carry together at the most while it climbs, no stands bearing",
        LEVERS,
        |load, subject| {
            let climbing = climbing(load, subject)?;
            let (_, before) = climbing.before()?;
            levelled(load, subject, before + climbing.ask(|climb, found| climb.course(found, Course::Axles))?)
        },
    ),
    computed(
        "loading.ramp_load",
        "load on each ramp",
        MACHINE,
        WEIGHT,
        "most that stands on one ramp, both sides bearing alike",
        LEVERS,
        |load, subject| {
            let climbing = climbing(load, subject)?;
            let ramp = ramp(load)?;
            let count = ramp.count.need(&ramp.owner, "count")?;
            let most = climbing.ask(|climb, found| climb.course(found, Course::Ramps))?;
            Ok(Reading { open: climbing.levelled(), ..finite(most / f64::from(count), || gone(load, "ramp"))? })
        },
    ),
    computed(
        "loading.edge_load",
        "load on the deck's edge",
        MACHINE,
        WEIGHT,
        "most that comes on the deck's rear edge through the ramps",
        LEVERS,
        |load, subject| course(load, subject, Course::Edge),
    ),
    computed(
        "loading.stands_needed",
        "needed of stands",
        MACHINE,
        WEIGHT,
        "least that stands under the rear must bear so that the coupler does not lift; under the deck's rear edge where the sheet has none",
        LEVERS,
        |load, subject| {
            let climbing = climbing(load, subject)?;
            let bearer = &climbing.climb.trailer;
            let at = bearer.stands.unwrap_or(bearer.rear_edge);
            let lift = -tongue_of(&climbing)?;
            let needed = if lift > Mass::ZERO { lift * (bearer.axles / (at - bearer.axles)) } else { Mass::ZERO };
            Ok(Reading { open: climbing.levelled(), ..finite(needed, || gone(load, "stands"))? })
        },
    ),
    computed(
        "loading.stands_load",
        "most on stands",
        MACHINE,
        WEIGHT,
        "most that stands under the rear can get, standing stiffer than the trailer's springs",
        "levers about the coupling, the axles bearing nothing",
        |load, subject| course(load, subject, Course::Stands),
    ),
    computed(
        "loading.tip_back_margin",
        "margin to tipping back",
        MACHINE,
        ANGLE,
        "how much steeper it could stand before it tips over backward",
        "the vertical through the centre of gravity over the rear end of what it stands on",
        |load, subject| {
            let climbing = climbing(load, subject)?;
            let tips = tips_back_at(&climbing)?;
            // Tracks are taken to lie on the ramp, also where it is shorter than they are.
            let stands = match climbing.climb.machine.gear {
                crate::physics::Gear::Tracks { .. } => climbing.climb.way.angle(),
                crate::physics::Gear::Wheels { .. } => climbing.ask(crate::physics::Climb::pitch)?,
            };
            value(tips - stands)
        },
    ),
    computed(
        "loading.crest_drop",
        "drop at the crest",
        MACHINE,
        LENGTH,
        "how far the leading end of tracks falls as they tip over the crest; nothing on wheels",
        ROLLED,
        |load, subject| {
            let drop = climbing(load, subject)?.ask(crate::physics::Climb::crest_drop)?;
            value(drop.unwrap_or(Length::ZERO))
        },
    ),
    entry(
        "loading.brake_grip_needed",
        "grip the truck's brake needs",
        MACHINE,
        Measures::Quantity(Kind::Share),
        "friction under the truck's rear wheels that holds truck, trailer and machine on the slope by the parking brake alone",
        |load, subject| {
            let climbing = climbing(load, subject)?;
            let slope = Load::loading_slope(load)?;
            let rig = load.rig.as_ref().map_err(Clone::clone)?;
            let (tongue, axles) = climbing.before()?;
            let truck = rig.loads.truck.gross() - rig.loads.ball;
            let all = truck + tongue + axles + climbing.climb.machine.weight;
            let bears = truck_rear(load, subject)?;
            if bears <= Mass::ZERO {
                // Wheels that bear nothing hold nothing, whatever the friction.
                return value(Share::new(f64::MAX));
            }
            let needed = Share::of((all / bears) * slope.abs().dual());
            Ok(Reading { open: climbing.levelled(), ..finite(needed, || gone(load, "slope"))? })
        },
    ),
    entry(
        "loading.tight_part",
        "tightest part",
        MACHINE,
        Measures::Text,
        "the part of the underside that comes nearest",
        |load, subject| {
            let (climbing, clearance) = clearance(load, subject)?;
            let part = climbing.part(clearance.part).ok_or_else(|| gone(load, "underside"))?;
            Ok(Reading { at: Some(part.owner.at), ..text(Arc::clone(&part.name.value))? })
        },
    ),
    entry(
        "loading.tight_spot",
        "tightest place",
        MACHINE,
        Measures::Text,
        "where the underside comes nearest: the foot, the crest or the top of the dovetail",
        |load, subject| {
            text(match clearance(load, subject)?.1.spot {
                Spot::Foot => "the ramp's foot".into(),
                Spot::Crest => "the crest".into(),
                Spot::DovetailTop => "the top of the dovetail".into(),
            })
        },
    ),
    entry(
        "loading.tight_off",
        "leading end from the edge then",
        MACHINE,
        LENGTH,
        "how far its leading axle or track end is from the deck's rear edge when it is tightest",
        |load, subject| value(clearance(load, subject)?.1.lead.abs()),
    ),
    entry(
        "loading.tight_side",
        "side of the edge then",
        MACHINE,
        Measures::Text,
        "whether its leading axle or track end is past the deck's rear edge or short of it when it is tightest",
        |load, subject| {
            let past = clearance(load, subject)?.1.lead >= Length::ZERO;
            text(if past { "past".into() } else { "short of".into() })
        },
    ),
    entry(
        "loading.least_off",
        "leading end from the edge at the least tongue",
        MACHINE,
        LENGTH,
        "how far its leading axle or track end is from the deck's rear edge when the least weight is on the hitch",
        |load, subject| value(least_lead(load, subject)?.abs()),
    ),
    entry(
        "loading.least_side",
        "side of the edge at the least tongue",
        MACHINE,
        Measures::Text,
        "whether its leading axle or track end is past the deck's rear edge or short of it when the least weight is on the hitch",
        |load, subject| {
            text(if least_lead(load, subject)? >= Length::ZERO { "past".into() } else { "short of".into() })
        },
    ),
    entry(
        "loading.tongue_before",
        "tongue weight before",
        MACHINE,
        WEIGHT,
        "weight on the hitch before it climbs",
        |load, subject| value(climbing(load, subject)?.before()?.0),
    ),
    entry(
        "loading.tongue_kept",
        "part of the tongue weight that stays",
        MACHINE,
        Measures::Quantity(Kind::Share),
        "least weight on the hitch while it climbs as a part of that before; nothing where there was none",
        |load, subject| {
            let (before, least) = (climbing(load, subject)?.before()?.0, tongue_least(load, subject)?);
            let kept = if before > Mass::ZERO { Share::of(least / before) } else { Share::ZERO };
            levelled(load, subject, kept)
        },
    ),
    entry(
        "loading.split_note",
        "note on its axle loads",
        MACHINE,
        Measures::Text,
        "says that its axle loads are taken as on level ground where the height of its centre of gravity is not given; else nothing",
        |load, subject| {
            let known = climbing(load, subject)?.climb.machine.height.is_some();
            text(if known {
                "".into()
            } else {
                " (its axle loads taken as on level ground, because its cg-height is not given)".into()
            })
        },
    ),
];

fn climbing<'l, 'y>(load: &'l Load<'y>, subject: Subject) -> Known<Climbing<'l, 'y>> {
    let Subject::Item(at) = subject else { return Err(gone(load, "machine")) };
    Climbing::of(load, at)
}

/// A figure that hangs on the axles' loads on the slope: it can be worse than on level ground.
fn levelled(load: &Load<'_>, subject: Subject, number: impl Worth) -> Known<Reading> {
    Ok(Reading { open: climbing(load, subject)?.levelled(), ..value(number)? })
}

fn course(load: &Load<'_>, subject: Subject, what: Course) -> Known<Reading> {
    let climbing = climbing(load, subject)?;
    Ok(Reading { open: climbing.levelled(), ..value(climbing.ask(|climb, found| climb.course(found, what))?)? })
}

fn clearance<'l, 'y>(load: &'l Load<'y>, subject: Subject) -> Known<(Climbing<'l, 'y>, Clearance)> {
    let climbing = climbing(load, subject)?;
    if let Some(lack) = climbing.unseen() {
        return Err(lack);
    }
    let clearance = climbing.ask(crate::physics::Climb::clearance)?;
    let clearance = clearance.ok_or_else(|| Lack::Entry(climbing.machine.owner.lacks("underside")))?;
    Ok((climbing, clearance))
}

fn tongue_of(climbing: &Climbing<'_, '_>) -> Known<Mass> {
    let (before, _) = climbing.before()?;
    Ok(before + climbing.ask(|climb, found| climb.course(found, Course::Tongue))?)
}

/// How far the leading end is ahead of the deck's rear edge when the least weight is on the hitch.
fn least_lead(load: &Load<'_>, subject: Subject) -> Known<Length> {
    climbing(load, subject)?.ask(|climb, found| climb.lead_at(found, Course::Tongue))
}

fn tongue_least(load: &Load<'_>, subject: Subject) -> Known<Mass> {
    tongue_of(&climbing(load, subject)?)
}

/// The truck's rear axle at the least: what it carries without a trailer, and the tongue's part. Bars of a
/// weight-distributing hitch are taken as slack.
fn truck_rear(load: &Load<'_>, subject: Subject) -> Known<Mass> {
    let rig = load.rig.as_ref().map_err(Clone::clone)?;
    let truck = load.truck.clone()?;
    let hitch = load.hitch()?;
    let wheelbase = load.outlines.need(&truck.wheelbase, &truck.owner, "wheelbase")?;
    let overhang = load.outlines.need(&hitch.behind_rear_axle, &hitch.owner, "behind-rear-axle")?;
    let mut tongue = tongue_least(load, subject)?;
    if stands(load, rear_edge(load)?)?.is_some() {
        tongue = tongue.max(Mass::ZERO);
    }
    let least = rig.rear_alone + tongue * (Dual::new(1.0) + overhang / wheelbase);
    if least.si().is_finite() { Ok(least) } else { Err(gone(load, "wheelbase")) }
}

/// The pitch at which the vertical through the centre of gravity meets the rear end of what the machine stands on.
fn tips_back_at(climbing: &Climbing<'_, '_>) -> Known<Angle> {
    let machine = &climbing.climb.machine;
    let lower = match (machine.facing, machine.gear) {
        (crate::physics::Facing::Forward, _) => machine.arm,
        (crate::physics::Facing::Backward, crate::physics::Gear::Wheels { wheelbase, .. }) => wheelbase - machine.arm,
        (crate::physics::Facing::Backward, crate::physics::Gear::Tracks { contact }) => contact - machine.arm,
    };
    let height = machine.height.ok_or_else(|| climbing.machine.owner.lacks("cg-height"))?;
    let angle = (lower / height).atan() * (180.0 / std::f64::consts::PI);
    if angle.is_finite() { Ok(Angle::of(angle)) } else { Err(climbing.machine.owner.lacks("cg-height").into()) }
}

#[expect(clippy::unnecessary_wraps, reason = "every reader returns a Known, and this ends some of them")]
fn text(word: Arc<str>) -> Known<Reading> {
    Ok(Reading { value: Value::Text(word), slopes: [0.0; LANES], at: None, unit: None, open: None })
}
