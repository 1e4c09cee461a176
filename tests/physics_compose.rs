//! What stands on the deck: a composed machine against its parts placed one by one, and what makes no sense.

use draylint::physics::{
    Attachment, Cargo, Deck, EmptyTrailer, Extent, Facing, Gap, Machine, MachineWeight, Outline, Placed, PointLoad,
    StaticsError, Suspension, Trailer, TrailerAxle,
};
use draylint::units::{Length, Mass};
use proptest::collection::vec;
use proptest::prelude::*;

fn kg(value: f64) -> Mass {
    Mass::new(value)
}
fn m(value: f64) -> Length {
    Length::new(value)
}

fn attachment() -> impl Strategy<Value = Attachment> {
    let reach = proptest::option::of(0.0..1.0);
    (0.0..300.0, -2.0..3.0, -0.5..0.5, reach.clone(), reach).prop_map(|(weight, arm, left, ahead, behind)| Attachment {
        weight: kg(weight),
        arm: m(arm),
        left: m(left),
        extent: Extent { front: ahead.map(|reach| m(arm + reach)), rear: behind.map(|reach| m(arm - reach)) },
    })
}

fn machine() -> impl Strategy<Value = Machine> {
    let weight = prop_oneof![
        (300.0..2000.0, 700.0..3000.0, 1.0..2.5).prop_map(|(front, rear, wheelbase)| MachineWeight::Axles {
            front: kg(front),
            rear: kg(rear),
            wheelbase: m(wheelbase)
        }),
        (1000.0..5000.0, -0.5..2.0).prop_map(|(weight, arm)| MachineWeight::Whole { weight: kg(weight), arm: m(arm) }),
    ];
    (weight, -0.2..0.2, vec(attachment(), 0..3), 1.0..3.0, -1.5..0.5).prop_map(
        |(weight, left, weighed_with, front, rear)| Machine {
            weight,
            left: m(left),
            weighed_with,
            outline: Outline { front: m(front), rear: m(rear) },
        },
    )
}

fn trailer() -> Trailer {
    Trailer {
        empty: EmptyTrailer { tongue: kg(200.0), axles: kg(1400.0) },
        axles: vec![TrailerAxle { track: Some(m(1.9)), ..TrailerAxle::at(m(5.0)) }],
        suspension: Suspension::Equalized,
    }
}

/// Every part of the machine as a load of its own: the axles (or the whole) as weighed, what was on then taken off, what
/// is on now put on.
fn parts(machine: &Machine, fitted: &[Attachment], placed: &Placed) -> Vec<PointLoad> {
    let point = |weight: Mass, arm: Length, left: Length| PointLoad {
        weight,
        station: placed.station(arm),
        left: placed.across(left),
    };
    let mut parts = match machine.weight {
        MachineWeight::Axles { front, rear, wheelbase } => {
            vec![point(front, wheelbase, machine.left), point(rear, Length::ZERO, machine.left)]
        }
        MachineWeight::Whole { weight, arm } => vec![point(weight, arm, machine.left)],
    };
    parts.extend(machine.weighed_with.iter().map(|one| point(-one.weight, one.arm, one.left)));
    parts.extend(fitted.iter().map(|one| point(one.weight, one.arm, one.left)));
    parts
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn a_composed_machine_loads_the_trailer_like_its_parts(
        machine in machine(), fitted in vec(attachment(), 0..3), gap in -0.5..2.0, by_rear in any::<bool>(),
        backward in any::<bool>(), off in -0.3..0.3,
    ) {
        let deck = Deck { from: m(1.5), length: m(6.0) };
        let gap = if by_rear { Gap::Rear(m(gap)) } else { Gap::Front(m(gap)) };
        let facing = if backward { Facing::Backward } else { Facing::Forward };
        let placed = machine.with(&fitted).unwrap().place(deck, gap, facing, m(off)).unwrap();
        let whole = [placed.load()];
        let parts = parts(&machine, &fitted, &placed);
        let trailer = trailer();
        let (one, many) = (trailer.loads(&whole).unwrap(), trailer.loads(&parts).unwrap());
        prop_assert!((one.tongue - many.tongue).abs() < kg(1e-6));
        prop_assert!((one.group - many.group).abs() < kg(1e-6));
        let side = |loads: &[PointLoad]| trailer.sides(&one, loads).unwrap().unwrap()[0].left;
        prop_assert!((side(&whole) - side(&parts)).abs() < kg(1e-6));
        // Its ends take in the machine and every fitted attachment, and no more.
        let mut ends: Vec<Length> = vec![machine.outline.front, machine.outline.rear];
        ends.extend(fitted.iter().flat_map(|one| [one.extent.front, one.extent.rear]).flatten());
        let stations: Vec<f64> = ends.into_iter().map(|arm| placed.station(arm).si()).collect();
        prop_assert!((placed.front().si() - stations.iter().copied().fold(f64::MAX, f64::min)).abs() < 1e-9);
        prop_assert!((placed.rear().si() - stations.iter().copied().fold(f64::MIN, f64::max)).abs() < 1e-9);
    }

    #[test]
    fn what_was_weighed_with_and_is_fitted_changes_nothing(machine in machine()) {
        let bare = Machine { weighed_with: vec![], ..machine.clone() };
        let (again, plain) = (machine.with(&machine.weighed_with).unwrap(), bare.with(&[]).unwrap());
        prop_assert!((again.weight - plain.weight).abs() < kg(1e-9));
        prop_assert!((again.arm - plain.arm).abs() < m(1e-9) && (again.left - plain.left).abs() < m(1e-9));
    }
}

/// A machine standing backward 0.5 m from the deck's rear edge, in figures that can be followed by hand.
#[test]
fn a_machine_backward_by_its_rear_gap() {
    let machine = Machine {
        weight: MachineWeight::Axles { front: kg(600.0), rear: kg(900.0), wheelbase: m(1.5) },
        left: m(0.1),
        weighed_with: vec![],
        outline: Outline { front: m(2.0), rear: m(-1.0) },
    };
    let blade = Attachment {
        weight: kg(100.0),
        arm: m(2.2),
        left: m(-0.1),
        extent: Extent { front: Some(m(2.5)), rear: None },
    };
    let deck = Deck { from: m(1.5), length: m(6.0) };
    let item = machine.with(&[blade]).unwrap();
    let placed = item.place(deck, Gap::Rear(m(0.5)), Facing::Backward, m(0.2)).unwrap();
    // The blade's edge, 2.5 m ahead of the rear axle, is the rearmost point: 0.5 m before 7.5 m.
    assert!((placed.rear().si() - 7.0).abs() < 1e-12);
    assert!((placed.datum.si() - 4.5).abs() < 1e-12);
    assert!((placed.front().si() - 3.5).abs() < 1e-12);
    assert!((placed.station(m(1.5)).si() - 6.0).abs() < 1e-12, "its front axle stands behind its rear axle");
    assert!((item.arm.si() - (600.0 * 1.5 + 100.0 * 2.2) / 1600.0).abs() < 1e-12);
    let left = (1500.0 * 0.1 - 100.0 * 0.1) / 1600.0;
    assert!((placed.load().left.si() - (0.2 - left)).abs() < 1e-12, "its left is the trailer's right");
    assert!((placed.front_gap(deck).si() - 2.0).abs() < 1e-12);
    assert!((placed.rear_gap(deck).si() - 0.5).abs() < 1e-12);
}

#[test]
fn cargo_is_heaviest_in_its_middle_unless_said() {
    let tools = Cargo { weight: kg(400.0), length: m(2.0), ..Cargo::default() };
    let deck = Deck { from: m(1.0), length: m(5.0) };
    let station = |cargo: Cargo, facing: Facing| {
        cargo.item().unwrap().place(deck, Gap::Front(m(0.5)), facing, m(0.0)).unwrap().load().station.si()
    };
    assert!((station(tools, Facing::Forward) - 2.5).abs() < 1e-12);
    assert!((station(tools, Facing::Backward) - 2.5).abs() < 1e-12);
    let nose_heavy = Cargo { cg_from_front: Some(m(0.5)), ..tools };
    assert!((station(nose_heavy, Facing::Forward) - 2.0).abs() < 1e-12);
    assert!((station(nose_heavy, Facing::Backward) - 3.0).abs() < 1e-12);
}

#[test]
fn what_makes_no_sense_is_named() {
    let good = Machine {
        weight: MachineWeight::Axles { front: kg(600.0), rear: kg(900.0), wheelbase: m(1.5) },
        left: m(0.0),
        weighed_with: vec![],
        outline: Outline { front: m(2.0), rear: m(-1.0) },
    };
    let heavy = Attachment { weight: kg(1500.0), ..Attachment::default() };
    let eaten = Machine { weighed_with: vec![heavy], ..good.clone() };
    assert_eq!(eaten.with(&[]), Err(StaticsError::MachineWeighsNothing(kg(0.0))));
    // Fitting it again does not excuse a ticket that leaves no machine.
    assert_eq!(eaten.with(&[heavy]), Err(StaticsError::MachineWeighsNothing(kg(0.0))));
    let reversed = Machine { outline: Outline { front: m(-1.0), rear: m(2.0) }, ..good.clone() };
    assert_eq!(reversed.with(&[]), Err(StaticsError::OutlineReversed));
    let weight = |weight: MachineWeight| Machine { weight, ..good.clone() }.with(&[]).unwrap_err();
    let axles = |front: f64, rear: f64, wheelbase: f64| {
        weight(MachineWeight::Axles { front: kg(front), rear: kg(rear), wheelbase: m(wheelbase) })
    };
    assert_eq!(axles(600.0, 900.0, 0.0), StaticsError::NotPositive("the wheelbase"));
    assert_eq!(axles(-1.0, 900.0, 1.5), StaticsError::Negative("the front axle's weight"));
    assert_eq!(axles(0.0, 0.0, 1.5), StaticsError::NotPositive("the machine's weight"));
    assert_eq!(axles(f64::NAN, 900.0, 1.5), StaticsError::NotFinite("the front axle's weight"));
    let whole = weight(MachineWeight::Whole { weight: kg(10.0), arm: m(f64::INFINITY) });
    assert_eq!(whole, StaticsError::NotFinite("the machine's centre of gravity"));
    assert!(Cargo { weight: kg(0.0), length: m(1.0), ..Cargo::default() }.item().is_err());
    assert!(Cargo { weight: kg(1.0), length: m(-1.0), ..Cargo::default() }.item().is_err());
}
