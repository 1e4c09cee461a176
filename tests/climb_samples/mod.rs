//! Random machines and ways onto decks.

use draylint::physics::{Bearer, Climb, Climber, Facing, Gear, Low, Underside, Way};
use draylint::units::{Angle, Length, Mass};
use proptest::prelude::*;

/// A machine that goes up a ramp, on wheels or on tracks, either way round, its datum where `trailing` is ahead of the edge.
pub(crate) fn climb() -> impl Strategy<Value = Climb> {
    let way = (1.4..4.5_f64, 0.1..0.5_f64, -0.25..0.3_f64, prop::option::of((0.3..1.5_f64, 0.05..0.3_f64)), 0..3_u8);
    let machine = (0.8..3.0_f64, [0.05..0.25_f64, 0.05..0.25_f64], 0.3..0.7_f64, 0.2..0.7_f64, any::<bool>(), 0..3_u8);
    let points = prop::collection::vec((-0.6..1.6_f64, 0.1..0.7_f64, prop::option::of(0.02..0.3_f64)), 1..6);
    let trailer = (prop_oneof![0.02..0.2_f64, 0.05..2.0_f64], 0.2..0.8_f64, 500.0..4000.0_f64, 0.2..8.0_f64);
    (way, machine, points, any::<bool>(), trailer).prop_map(
        |((ramp, steep, rise, dovetail, bed), (base, radii, arm, height, nose, gear), points, level, trailer)| {
            let (trailing, axles, weight, tilt) = trailer;
            let tracked = gear == 0;
            let length = |part: f64| Length::new(part * base);
            let parts = points.iter().map(|(arm, clearance, flat)| Low {
                from: length(*arm),
                to: length(*arm + flat.unwrap_or(0.0)),
                clearance: Length::new(*clearance),
            });
            let ends = if level { (Some(length(-0.7)), Some(length(2.0))) } else { (None, None) };
            let deck_length = 6.5;
            let facing = if nose { Facing::Forward } else { Facing::Backward };
            let ahead = if nose { trailing } else { trailing + base };
            // A tilted bed comes down at the hinge, and the foot with it, so that the ramp still reaches.
            let tilt = (bed == 0).then(|| (Length::new(1.8), Angle::new(tilt)));
            let dovetail = dovetail.map(|(run, drop)| (Length::new(run), Length::new(drop)));
            Climb {
                way: Way {
                    foot_rise: Length::new(rise),
                    ramp: Some(Length::new(ramp)),
                    deck_length: Length::new(deck_length),
                    deck_height: Length::new(0.55 + ramp * steep * 0.2),
                    dovetail,
                    tilt,
                },
                machine: Climber {
                    gear: if tracked {
                        Gear::Tracks { contact: Length::new(base) }
                    } else {
                        let [front_radius, rear_radius] = radii.map(length);
                        Gear::Wheels { wheelbase: Length::new(base), front_radius, rear_radius }
                    },
                    weight: Mass::new(weight),
                    arm: length(arm),
                    height: (tracked || gear == 1).then(|| length(height * arm.min(1.0 - arm) * 2.0)),
                    facing,
                    undersides: vec![Underside { parts: parts.collect(), ends }],
                },
                ahead: Length::new(ahead),
                trailer: Bearer {
                    rear_edge: Length::new(8.0),
                    axles: Length::new(8.0 - axles * 5.0),
                    stands: Some(Length::new(7.9)),
                    free_on: None,
                },
            }
        },
    )
}

/// The same machine seen in a mirror across the middle of its base.
pub(crate) fn mirrored(climb: &Climb) -> Climb {
    let mut turned = climb.clone();
    let base = match &mut turned.machine.gear {
        Gear::Wheels { wheelbase, front_radius, rear_radius } => {
            std::mem::swap(front_radius, rear_radius);
            *wheelbase
        }
        Gear::Tracks { contact } => *contact,
    };
    let flip = |arm: Length| base - arm;
    turned.machine.arm = flip(turned.machine.arm);
    for under in &mut turned.machine.undersides {
        for low in &mut under.parts {
            (low.from, low.to) = (flip(low.to), flip(low.from));
        }
        under.ends = (under.ends.1.map(flip), under.ends.0.map(flip));
    }
    let forward = climb.machine.facing == Facing::Forward;
    turned.machine.facing = if forward { Facing::Backward } else { Facing::Forward };
    turned.ahead = if forward { climb.ahead + base } else { climb.ahead - base };
    turned
}

/// The same, all of it so many times larger.
pub(crate) fn scaled(climb: &Climb, by: f64) -> Climb {
    let mut big = climb.clone();
    for length in lengths(&mut big) {
        *length = Length::new(length.si() * by);
    }
    big
}

/// Every length of a climb.
fn lengths(climb: &mut Climb) -> Vec<&mut Length> {
    let mut all: Vec<&mut Length> = vec![
        &mut climb.way.foot_rise,
        &mut climb.way.deck_length,
        &mut climb.way.deck_height,
        &mut climb.machine.arm,
        &mut climb.ahead,
        &mut climb.trailer.rear_edge,
        &mut climb.trailer.axles,
    ];
    all.extend(climb.way.ramp.as_mut());
    all.extend(climb.way.dovetail.as_mut().map(|(run, drop)| [run, drop]).into_iter().flatten());
    all.extend(climb.way.tilt.as_mut().map(|(hinge, _)| hinge));
    all.extend(climb.machine.height.as_mut());
    all.extend(climb.trailer.stands.as_mut());
    match &mut climb.machine.gear {
        Gear::Wheels { wheelbase, front_radius, rear_radius } => all.extend([wheelbase, front_radius, rear_radius]),
        Gear::Tracks { contact } => all.push(contact),
    }
    for Underside { parts, ends } in &mut climb.machine.undersides {
        all.extend(parts.iter_mut().flat_map(|low| [&mut low.from, &mut low.to, &mut low.clearance]));
        all.extend([ends.0.as_mut(), ends.1.as_mut()].into_iter().flatten());
    }
    all
}

/// On points, up a plain ramp of 3 m onto a deck of 0.6 m.
pub(crate) fn plain(base: f64, arm: f64) -> Climb {
    Climb {
        way: Way {
            foot_rise: Length::ZERO,
            ramp: Some(Length::new(3.0)),
            deck_length: Length::new(6.5),
            deck_height: Length::new(0.6),
            dovetail: None,
            tilt: None,
        },
        machine: Climber {
            gear: Gear::Wheels { wheelbase: Length::new(base), front_radius: Length::ZERO, rear_radius: Length::ZERO },
            weight: Mass::new(2000.0),
            arm: Length::new(base * arm),
            height: None,
            facing: Facing::Forward,
            undersides: Vec::new(),
        },
        ahead: Length::new(1.0),
        trailer: Bearer {
            rear_edge: Length::new(8.0),
            axles: Length::new(5.0),
            stands: Some(Length::new(8.0)),
            free_on: None,
        },
    }
}
