//! A machine driven up a ramp: worked examples of `../shared/reference/towing-and-statics.md` 6.3 and 7.1, and what must hold
//! of any climb.

use draylint::physics::{Bearer, Climb, ClimbError, Climber, Course, Facing, Gear, Low, Spot, Underside, Way};
use draylint::units::{Length, Mass};

const INCH: f64 = 0.0254;
const POUND: f64 = 0.453_592_37;

fn inches(value: f64) -> Length {
    Length::new(value * INCH)
}

fn point(arm: f64, clearance: f64) -> Underside {
    let low = Low { from: inches(arm), to: inches(arm), clearance: inches(clearance) };
    Underside { parts: vec![low], ends: (None, None) }
}

/// Case G4 of the reference: deck 24 in, ramp 60 in, point wheels 80 in apart.
fn g4(undersides: Vec<Underside>) -> Climb {
    Climb {
        way: Way {
            foot_rise: Length::ZERO,
            ramp: Some(inches(60.0)),
            deck_length: inches(240.0),
            deck_height: inches(24.0),
            dovetail: None,
            tilt: None,
        },
        machine: Climber {
            gear: Gear::Wheels { wheelbase: inches(80.0), front_radius: Length::ZERO, rear_radius: Length::ZERO },
            weight: Mass::new(6000.0 * POUND),
            arm: inches(32.0),
            height: Some(inches(30.0)),
            facing: Facing::Forward,
            undersides,
        },
        ahead: inches(60.0),
        trailer: Bearer { rear_edge: inches(300.0), axles: inches(190.0), stands: Some(inches(300.0)), free_on: None },
    }
}

#[test]
fn g4_clears_and_touches_as_derived() {
    let belly = g4(vec![point(40.0, 9.0)]);
    let tip = g4(vec![point(100.0, 8.0)]);
    let tail = g4(vec![point(-25.0, 9.0)]);
    for (climb, expected, spot) in [(belly, 0.666, Spot::Crest), (tip, -0.729, Spot::Foot), (tail, 1.085, Spot::Foot)] {
        let found = climb.found(false).unwrap();
        let clearance = climb.clearance(&found).unwrap().unwrap();
        assert!((clearance.gap.si() / INCH - expected).abs() < 2e-3, "{} for {expected}", clearance.gap.si() / INCH);
        assert_eq!(clearance.spot, spot);
    }
    let pitch = g4(vec![]);
    let pitch = pitch.pitch(&pitch.found(false).unwrap()).unwrap();
    assert!((pitch.si() - 17.46).abs() < 5e-3, "{pitch:?}");
}

#[test]
fn m1_lifts_the_coupler_as_derived() {
    // CG 48 in behind the front axle of 80: 32 in ahead of the rear one. T0 = 288 lb.
    let climb = g4(vec![]);
    let found = climb.found(false).unwrap();
    let least = 288.0 + climb.course(&found, Course::Tongue).unwrap().si() / POUND;
    assert!((least + 2175.2).abs() < 0.1, "{least}");
    // Rigid stands at the edge get 5,360 lb at the most; the axles 8,175.2 of the machine's 6,000.
    let stands = climb.course(&found, Course::Stands).unwrap().si() / POUND;
    assert!(stands > 5359.9, "{stands}");
    let axles = climb.course(&found, Course::Axles).unwrap().si() / POUND;
    assert!((axles - (10_575.2 - 2112.0)).abs() < 0.1, "{axles}");
}

#[test]
fn a_ramp_that_does_not_reach_is_no_way_up() {
    let mut climb = g4(vec![]);
    climb.way.ramp = Some(inches(24.0));
    assert_eq!(climb.found(false).unwrap_err(), ClimbError::RampTooShort);
}

#[test]
fn tracks_tip_over_the_crest() {
    let mut climb = g4(vec![]);
    climb.machine.gear = Gear::Tracks { contact: inches(62.0) };
    climb.machine.arm = inches(31.0);
    let found = climb.found(false).unwrap();
    // On the ramp of 23.578 degrees the vertical through the centre of gravity, 30 in high, meets the tracks 30 tan 23.578
    // behind the middle; 62 in less that lie ahead of the edge as it tips, and fall by their sine (derived).
    let slope = (24.0_f64 / 60.0).asin();
    let ahead = 62.0 - (31.0 - 30.0 * slope.tan());
    let drop = climb.crest_drop(&found).unwrap().unwrap().si() / INCH;
    assert!((drop - ahead * slope.sin()).abs() < 1e-6, "{drop}");
    let pitch = climb.pitch(&found).unwrap();
    assert!((pitch.si() - slope.to_degrees()).abs() < 1e-9, "{pitch:?}");
    // Tipping, all of it stands on the edge, 110 in behind axles 190 in behind the coupling.
    let tongue = climb.course(&found, Course::Tongue).unwrap().si() / POUND;
    assert!((tongue + 6000.0 * 110.0 / 190.0).abs() < 1e-6, "{tongue}");
}

#[test]
fn tracks_that_would_tip_back_are_refused() {
    let mut climb = g4(vec![]);
    climb.machine.gear = Gear::Tracks { contact: inches(62.0) };
    climb.machine.arm = inches(12.0);
    assert_eq!(climb.found(false).unwrap_err(), ClimbError::TipsBack);
    climb.machine.arm = inches(70.0);
    assert_eq!(climb.found(false).unwrap_err(), ClimbError::NotOnTracks);
}

#[test]
fn the_numbers_of_a_climb_tell_it_from_any_other() {
    let of = |change: &dyn Fn(&mut Climb)| {
        let mut climb = g4(vec![point(40.0, 9.0), point(100.0, 8.0)]);
        change(&mut climb);
        climb
    };
    let more = |length: &mut Length| *length += inches(1.0);
    let all: Vec<Climb> = vec![
        of(&|_| {}),
        of(&|climb| more(&mut climb.way.foot_rise)),
        of(&|climb| climb.way.ramp = Some(inches(61.0))),
        of(&|climb| climb.way.ramp = None),
        of(&|climb| more(&mut climb.way.deck_length)),
        of(&|climb| more(&mut climb.way.deck_height)),
        of(&|climb| climb.way.dovetail = Some((inches(30.0), inches(6.0)))),
        of(&|climb| climb.way.dovetail = Some((inches(30.0), inches(7.0)))),
        of(&|climb| climb.way.tilt = Some((inches(80.0), draylint::units::Angle::new(3.0)))),
        of(&|climb| climb.way.tilt = Some((inches(80.0), draylint::units::Angle::new(4.0)))),
        of(&|climb| climb.machine.gear = Gear::Tracks { contact: inches(80.0) }),
        of(&|climb| {
            climb.machine.gear =
                Gear::Wheels { wheelbase: inches(80.0), front_radius: inches(9.0), rear_radius: Length::ZERO };
        }),
        of(&|climb| climb.machine.weight = Mass::new(1.0)),
        of(&|climb| more(&mut climb.machine.arm)),
        of(&|climb| climb.machine.height = None),
        of(&|climb| climb.machine.facing = Facing::Backward),
        of(&|climb| climb.machine.undersides.truncate(1)),
        of(&|climb| climb.machine.undersides.swap(0, 1)),
        of(&|climb| more(&mut climb.machine.undersides[1].parts[0].clearance)),
        of(&|climb| climb.machine.undersides[0].ends.0 = Some(inches(-30.0))),
        of(&|climb| {
            // The same parts under one machine, not under two.
            let parts = climb.machine.undersides.remove(1).parts;
            climb.machine.undersides[0].parts.extend(parts);
        }),
        of(&|climb| more(&mut climb.trailer.rear_edge)),
        of(&|climb| more(&mut climb.trailer.axles)),
        of(&|climb| climb.trailer.stands = None),
        of(&|climb| climb.trailer.free_on = Some(inches(80.0))),
    ];
    for (at, one) in all.iter().enumerate() {
        for (other_at, other) in all.iter().enumerate().skip(at + 1) {
            assert_ne!(one.numbers(), other.numbers(), "{at} and {other_at}");
        }
    }
    let elsewhere = of(&|climb| more(&mut climb.ahead));
    assert_eq!(elsewhere.numbers(), all[0].numbers(), "where it stops is asked apart");
}
