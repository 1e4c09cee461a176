//! What must hold of any machine driven up any ramp: slopes against differences, symmetry, scale, and what may change nothing.

mod climb_samples;
mod varied;

use std::cell::RefCell;
use std::collections::BTreeMap;

use climb_samples::{climb, mirrored, plain, scaled};
use draylint::physics::{Climb, Course, Facing, Found, Gear, Low, Underside};
use draylint::units::{Length, Mass};
use proptest::prelude::*;
use proptest::test_runner::{RngAlgorithm, TestRng, TestRunner};
use varied::{Change, change, change_some};

const COURSES: [Course; 5] = [Course::Tongue, Course::Axles, Course::Ramps, Course::Edge, Course::Stands];

/// What is told of a climb: its names, numbers and slopes along the first lane. None where it cannot be climbed.
fn told(climb: &Climb) -> Option<Vec<(&'static str, f64, f64)>> {
    let found = climb.found(false).ok()?;
    let mut all = vec![("gap", climb.clearance(&found).ok()??.gap.dual())];
    for (name, what) in ["tongue", "axles", "ramps", "edge", "stands"].into_iter().zip(COURSES) {
        all.push((name, climb.course(&found, what).ok()?.dual()));
    }
    all.push(("pitch", climb.pitch(&found).ok()?.dual()));
    if let Some(drop) = climb.crest_drop(&found).ok()? {
        all.push(("drop", drop.dual()));
    }
    Some(all.into_iter().map(|(name, dual)| (name, dual.value(), dual.slopes()[0])).collect())
}

fn numbers(climb: &Climb) -> Option<Vec<f64>> {
    Some(told(climb)?.into_iter().map(|(_, value, _)| value).collect())
}

fn gap(climb: &Climb) -> Option<(f64, f64)> {
    let found = climb.found(false).ok()?;
    let clearance = climb.clearance(&found).ok()??;
    Some((clearance.gap.si(), clearance.lead.si()))
}

fn courses(climb: &Climb, found: &Found) -> Vec<f64> {
    COURSES.map(|what| climb.course(found, what).unwrap().si()).to_vec()
}

/// One number that a climb rests on: its name, and how to change it where this climb has it, which is told.
type Number = (&'static str, fn(&mut Climb, Change) -> bool);

fn part(climb: &mut Climb) -> &mut Low {
    &mut climb.machine.undersides[0].parts[0]
}

const NUMBERS: [Number; 22] = [
    ("foot rise", |one, how| change(&mut one.way.foot_rise, how)),
    ("ramp", |one, how| change_some(one.way.ramp.as_mut(), how)),
    ("deck height", |one, how| change(&mut one.way.deck_height, how)),
    ("dovetail length", |one, how| change_some(one.way.dovetail.as_mut().map(|(run, _)| run), how)),
    ("dovetail drop", |one, how| change_some(one.way.dovetail.as_mut().map(|(_, drop)| drop), how)),
    ("hinge", |one, how| change_some(one.way.tilt.as_mut().map(|(hinge, _)| hinge), how)),
    ("tilt", |one, how| change_some(one.way.tilt.as_mut().map(|(_, angle)| angle), how)),
    ("wheelbase", |one, how| match &mut one.machine.gear {
        Gear::Wheels { wheelbase, .. } => change(wheelbase, how),
        Gear::Tracks { .. } => false,
    }),
    ("front radius", |one, how| match &mut one.machine.gear {
        Gear::Wheels { front_radius, .. } => change(front_radius, how),
        Gear::Tracks { .. } => false,
    }),
    ("rear radius", |one, how| match &mut one.machine.gear {
        Gear::Wheels { rear_radius, .. } => change(rear_radius, how),
        Gear::Tracks { .. } => false,
    }),
    ("contact length", |one, how| match &mut one.machine.gear {
        Gear::Tracks { contact } => change(contact, how),
        Gear::Wheels { .. } => false,
    }),
    ("weight", |one, how| change(&mut one.machine.weight, how)),
    ("arm", |one, how| change(&mut one.machine.arm, how)),
    ("height", |one, how| change_some(one.machine.height.as_mut(), how)),
    ("a part's rear end", |one, how| change(&mut part(one).from, how)),
    ("a part's front end", |one, how| change(&mut part(one).to, how)),
    ("a part's clearance", |one, how| change(&mut part(one).clearance, how)),
    ("outline's rear end", |one, how| change_some(one.machine.undersides[0].ends.0.as_mut(), how)),
    ("outline's front end", |one, how| change_some(one.machine.undersides[0].ends.1.as_mut(), how)),
    ("place", |one, how| change(&mut one.ahead, how)),
    ("axles", |one, how| change(&mut one.trailer.axles, how)),
    ("stands", |one, how| change_some(one.trailer.stands.as_mut(), how)),
];

/// Five-point central difference, and the one-sided ones, of values at -2, -1, 0, 1 and 2 steps.
fn differences([a, b, c, d, e]: [f64; 5], step: f64) -> (f64, f64, f64) {
    let central = (a - 8.0 * b + 8.0 * d - e) / (12.0 * step);
    (central, (a - 4.0 * b + 3.0 * c) / (2.0 * step), (-3.0 * c + 4.0 * d - e) / (2.0 * step))
}

/// A climb with a number moved by -2, -1, 0, 1 and 2 steps, and something told of each. None where one cannot be told.
fn five<T>(set: Number, climb: &Climb, step: f64, told: impl Fn(&Climb) -> Option<T>) -> Option<[T; 5]> {
    let at = |times: f64| {
        let mut moved = climb.clone();
        (set.1)(&mut moved, Change::Add(times * step));
        told(&moved)
    };
    Some([at(-2.0)?, at(-1.0)?, at(0.0)?, at(1.0)?, at(2.0)?])
}

/// Compares a number's slopes with five-point differences of what a new search finds; says of how many figures they were
/// smooth and not zero. What is a least or a most has kinks: there the slope lies between those of both sides.
fn compared(set: Number, climb: &Climb) -> Result<usize, TestCaseError> {
    let name = set.0;
    let mut varied = climb.clone();
    if !(set.1)(&mut varied, Change::Vary) {
        return Ok(0);
    }
    let (Some(exact), step) = (told(&varied), 2e-5) else { return Ok(0) };
    let Some(values) = five(set, climb, step, numbers) else { return Ok(0) };
    if values.iter().any(|all| all.len() != exact.len()) {
        return Ok(0);
    }
    let mut smooth = compared_gap(set, climb, exact[0].2)?;
    for (place, (figure, value, slope)) in exact.iter().enumerate().skip(1) {
        let here = [0, 1, 2, 3, 4].map(|at| values[at][place]);
        prop_assert!((here[2] - value).abs() <= 1e-9 * (1.0 + value.abs()), "{figure} is {} and {value}", here[2]);
        let (central, left, right) = differences(here, step);
        let scale = if ["drop", "pitch"].contains(figure) { 1.0 } else { climb.machine.weight.si() };
        let blind = 2e-5 * (scale + slope.abs());
        if (left - right).abs() <= 20.0 * blind {
            prop_assert!(
                (slope - central).abs() <= 3.0 * (blind + (left - right).abs()),
                "{name}, {figure}: slope {slope}, difference {central} (left {left}, right {right})"
            );
            smooth += usize::from(slope.abs() > 100.0 * blind);
        } else {
            let room = 20.0 * blind + 0.2 * (left - right).abs();
            prop_assert!(
                (left.min(right) - room..=left.max(right) + room).contains(slope),
                "{name}, {figure}: slope {slope} at a kink, left {left}, right {right}"
            );
        }
    }
    Ok(smooth)
}

/// The same for the gap, which the search finds to a twentieth of a millimetre: of one touch that stays the same its own
/// place is sharper than that, and a longer step sees over the rest.
fn compared_gap(set: Number, climb: &Climb, slope: f64) -> Result<usize, TestCaseError> {
    let step = 5e-4;
    let touch = |climb: &Climb| {
        let found = climb.found(false).ok()?;
        let clearance = climb.clearance(&found).ok()??;
        Some((clearance.gap.si(), (clearance.part, clearance.spot), clearance.lead.si()))
    };
    let Some(touches) = five(set, climb, step, touch) else { return Ok(0) };
    let (_, first, lead) = touches[0];
    if touches.iter().any(|(_, touch, at)| *touch != first || (at - lead).abs() > 20.0 * step) {
        return Ok(0);
    }
    let (central, left, right) = differences(touches.map(|(gap, ..)| gap), step);
    let blind = 1e-3 * (1.0 + slope.abs());
    if (left - right).abs() > 5.0 * blind {
        return Ok(0);
    }
    prop_assert!(
        (slope - central).abs() <= blind + (left - right).abs(),
        "{}, gap: slope {slope}, difference {central} (left {left}, right {right})",
        set.0
    );
    Ok(usize::from(slope.abs() > 20.0 * blind))
}

#[test]
fn slopes_are_the_derivatives() {
    let told = RefCell::new(BTreeMap::from(NUMBERS.map(|(name, _)| (name, 0_usize))));
    let mut runner =
        TestRunner::new_with_rng(ProptestConfig::with_cases(150), TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    let run = runner.run(&climb(), |climb| {
        for number in NUMBERS {
            if compared(number, &climb)? > 0 {
                *told.borrow_mut().get_mut(number.0).unwrap() += 1;
            }
        }
        Ok(())
    });
    run.unwrap();
    let mut told = told.into_inner();
    // Where it comes to stand is past everything that counts, but for a few.
    told.remove("place");
    assert!(
        told.values().all(|climbs| *climbs > 0),
        "numbers with a slope that is not zero, in so many climbs: {told:?}"
    );
}

/// How near the least gap is found, in m.
const FOUND: f64 = 6e-5;

/// Whether two climbs are the same: the gap as near as it is found, all else nearer.
fn near(a: &[f64], b: &[f64], scale: f64) -> bool {
    let same = |a: f64, b: f64| (a - b).abs() <= 1e-7 * (scale + a.abs());
    a.len() == b.len() && (a[0] - b[0]).abs() < FOUND && a.iter().zip(b).skip(1).all(|(a, b)| same(*a, *b))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn a_machine_turned_about_in_a_mirror_climbs_the_same(climb in climb()) {
        if let Some(before) = numbers(&climb) {
            let after = numbers(&mirrored(&climb)).expect("it climbs too");
            prop_assert!(near(&before, &after, climb.machine.weight.si()), "{before:?} {after:?}");
        }
    }

    #[test]
    fn what_is_larger_all_over_has_larger_gaps_and_the_same_loads(climb in climb(), by in 0.5..3.0_f64, heavier in 0.5..3.0_f64) {
        let Ok(found) = climb.found(false) else { return Ok(()) };
        let mut big = scaled(&climb, by);
        big.machine.weight = Mass::new(climb.machine.weight.si() * heavier);
        let again = big.found(false).expect("it climbs too");
        let loads: Vec<f64> = courses(&climb, &found).iter().map(|load| load * heavier).collect();
        let after = courses(&big, &again);
        let same = after.iter().zip(&loads).all(|(a, b)| (a - b).abs() < 1e-7 * big.machine.weight.si());
        prop_assert!(same, "{after:?} {loads:?}");
        let (before, after) = (gap(&climb).unwrap(), gap(&big).unwrap());
        prop_assert!((before.0 * by - after.0).abs() < FOUND * (1.0 + by), "{before:?} {after:?}");
    }

    #[test]
    fn a_point_on_a_line_that_is_there_changes_nothing(climb in climb(), share in 0.01..0.99_f64) {
        let Some(before) = numbers(&climb) else { return Ok(()) };
        let parts = &climb.machine.undersides[0].parts;
        let mut sorted = parts.clone();
        sorted.sort_by(|a, b| a.from.partial_cmp(&b.from).unwrap());
        let [rear, front, ..] = sorted.as_slice() else { return Ok(()) };
        // Between the flat end of one and the next, where they do not overlap.
        prop_assume!(rear.to < front.from);
        let between = |a: Length, b: Length| Length::new(a.si() + (b.si() - a.si()) * share);
        let at = between(rear.to, front.from);
        let mut more = climb.clone();
        more.machine.undersides[0].parts.push(Low { from: at, to: at, clearance: between(rear.clearance, front.clearance) });
        let after = numbers(&more).expect("it climbs too");
        prop_assert!(near(&before, &after, climb.machine.weight.si()), "{before:?} {after:?}");
    }

    #[test]
    fn a_place_further_forward_changes_nothing_of_what_is_behind(climb in climb(), further in 0.01..1.0_f64) {
        let Some((here, _)) = gap(&climb) else { return Ok(()) };
        let mut forward = climb.clone();
        forward.ahead = Length::new(climb.ahead.si() + further);
        let (there, lead) = gap(&forward).expect("it climbs too");
        prop_assert!(there <= here + FOUND, "{there} above {here}");
        let base = match climb.machine.gear {
            Gear::Wheels { wheelbase, .. } => wheelbase,
            Gear::Tracks { contact } => contact,
        };
        let nose = climb.machine.facing == Facing::Forward;
        let parked = climb.ahead.si() + if nose { base.si() } else { 0.0 };
        // On a dovetail or a tilted bed the lead is less than along the deck; half a foot of room for that.
        if lead < parked - 0.15 * (1.0 + parked) {
            prop_assert!((there - here).abs() < FOUND, "{there} and {here}, tightest at {lead}");
        }
    }

    #[test]
    fn a_longer_ramp_is_no_worse_for_a_belly_at_the_crest(
        base in 0.8..3.5_f64, arm in 0.1..0.9_f64, height in 0.3..1.0_f64, steep in 1.1..8.0_f64, longer in 1.0..2.0_f64,
    ) {
        let belly = |ramp: f64| {
            let mut climb = plain(base, 0.5);
            climb.way.deck_height = Length::new(height);
            climb.way.ramp = Some(Length::new(ramp));
            let at = Length::new(base * arm);
            let low = Low { from: at, to: at, clearance: Length::new(0.3) };
            climb.machine.undersides = vec![Underside { parts: vec![low], ends: (None, None) }];
            gap(&climb)
        };
        // Steeper than 60 degrees nothing is driven.
        let (Some(short), Some(long)) = (belly(height * steep.max(1.2)), belly(height * steep.max(1.2) * longer)) else {
            return Err(TestCaseError::fail("a way up that is none"));
        };
        prop_assert!(long.0 >= short.0 - FOUND, "{short:?} {long:?}");
    }

    /// On points and with its axle loads as on the level the course of the tongue is straight between the axles' crossings:
    /// nothing on the ground, the leading axle at the edge with the trailing one on the ramp, the trailing axle at the edge,
    /// and at its place what the statics of the parked trailer say (derived by hand).
    #[test]
    fn the_course_of_the_tongue_is_that_of_levers(
        base in 0.8..3.0_f64, arm in 0.2..0.8_f64, place in 0.0..2.0_f64, axles in 1.5..7.9_f64, nose in any::<bool>(),
    ) {
        let mut climb = plain(base, arm);
        climb.way.ramp = Some(Length::new(4.0));
        climb.trailer.axles = Length::new(axles);
        climb.trailer.stands = None;
        climb.machine.facing = if nose { Facing::Forward } else { Facing::Backward };
        climb.ahead = Length::new(if nose { place } else { place + base });
        let weight = climb.machine.weight.si();
        let (front, rear) = (weight * arm, weight * (1.0 - arm));
        let (leading, trailing) = if nose { (front, rear) } else { (rear, front) };
        // At so far ahead of the edge.
        let lever = |ahead: f64| (axles - (8.0 - ahead)) / axles;
        let on_ramp = (4.0 - base) / 4.0;
        let at_crest = leading * lever(0.0) + trailing * on_ramp * lever(0.0);
        let at_edge = leading * lever(base) + trailing * lever(0.0);
        let parked = leading * lever(place + base) + trailing * lever(place);
        let foot = leading * (base / 4.0) * lever(0.0);
        let least = [0.0, foot, at_crest, at_edge, parked].into_iter().fold(f64::INFINITY, f64::min);
        let found = climb.found(false).unwrap();
        let told = climb.course(&found, Course::Tongue).unwrap().si();
        prop_assert!((told - least).abs() < 1e-6 * weight, "{told}, by hand {least}");
    }
}
