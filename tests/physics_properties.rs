//! What must not change when the same rig is written another way, what must move which way, and that odd numbers do no
//! harm.

mod rig_samples;

use draylint::physics::{
    Deck, Distribution, EmptyTrailer, Facing, Gap, Item, Outline, PointLoad, Sharing, StaticsError, Suspension,
    Trailer, TrailerAxle, TrailerLoads, Truck, TruckLoad, rig_loads,
};
use draylint::units::{Length, Mass, MassMoment, Share, Stiffness};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use rig_samples::{Rig, figures, point_load, rig};

fn close(left: &[f64], right: &[f64], within: f64) -> Result<(), TestCaseError> {
    prop_assert_eq!(left.len(), right.len());
    for (left, right) in left.iter().zip(right) {
        prop_assert!((left - right).abs() <= within, "{left} and {right} differ by more than {within}");
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    #[test]
    fn other_units_scale_every_figure(rig in rig(), mass in 0.2_f64..5.0, length in 0.2_f64..5.0) {
        let mut scaled = rig.clone();
        let empty = &mut scaled.trailer.empty;
        (empty.tongue, empty.axles) = (empty.tongue * mass, empty.axles * mass);
        for axle in &mut scaled.trailer.axles {
            axle.station = axle.station * length;
            axle.rate = axle.rate.map(|rate| Stiffness::new(rate.si() * mass / length));
            axle.empty = axle.empty.map(|empty| empty * mass);
        }
        if let Suspension::Independent { level_at, held_at } = &mut scaled.trailer.suspension {
            *level_at = level_at.map(|height| height * length);
            *held_at = held_at.map(|height| height * length);
        }
        for load in &mut scaled.on_trailer {
            (load.weight, load.station) = (load.weight * mass, load.station * length);
        }
        let truck = &mut scaled.truck;
        (truck.front, truck.rear) = (truck.front * mass, truck.rear * mass);
        (truck.wheelbase, truck.overhang) = (truck.wheelbase * length, truck.overhang * length);
        for load in &mut scaled.on_truck {
            (load.weight, load.ahead) = (load.weight * mass, load.ahead * length);
        }
        if let Distribution::Couple(couple) = &mut scaled.distribution {
            *couple = *couple * (mass * length);
        }
        let mut expected: Vec<f64> = figures(&rig.loads()).into_iter().map(|value| value * mass).collect();
        if let Some(couple) = expected.last_mut() {
            *couple *= length;
        }
        close(&figures(&scaled.loads()), &expected, 1e-9 * scaled.weight() * length.max(1.0))?;
    }

    #[test]
    fn order_and_nothings_change_nothing(rig in rig(), nothing in point_load(), at in any::<prop::sample::Index>()) {
        let mut other = rig.clone();
        other.on_trailer.reverse();
        other.on_truck.reverse();
        let nothing = PointLoad { weight: Mass::ZERO, ..nothing };
        other.on_trailer.insert(at.index(other.on_trailer.len() + 1), nothing);
        close(&figures(&other.loads()), &figures(&rig.loads()), 1e-9 * rig.weight())?;
        let sides = |rig: &Rig| rig.trailer.sides(&rig.loads().trailer, &rig.on_trailer).unwrap().unwrap();
        for (one, two) in sides(&rig).iter().zip(sides(&other)) {
            prop_assert!((one.left - two.left).abs().si() < 1e-9 * rig.weight());
        }
    }

    #[test]
    fn weight_moved_rearward_lowers_the_tongue(rig in rig(), moved in point_load(), by in 0.01..3.0) {
        prop_assume!(moved.weight > Mass::new(1.0));
        let tongue = |station: Length| {
            let mut loads = rig.on_trailer.clone();
            loads.push(PointLoad { station, ..moved });
            rig.trailer.loads(&loads).unwrap().tongue
        };
        prop_assert!(tongue(moved.station + Length::new(by)) < tongue(moved.station));
    }

    /// Sides: vertical and rolling balance of the whole group, each axle's own sum, and alike axles sharing alike.
    #[test]
    fn the_sides_balance_the_roll(rig in rig()) {
        let loads = rig.trailer.loads(&rig.on_trailer).unwrap();
        let sides = rig.trailer.sides(&loads, &rig.on_trailer).unwrap().unwrap();
        let mut answered = 0.0;
        for ((side, load), axle) in sides.iter().zip(&loads.axles).zip(&rig.trailer.axles) {
            prop_assert!((side.left + side.right - *load).abs().si() < 1e-9 * rig.weight());
            answered += (side.left - side.right).si() / 2.0 * axle.track.unwrap().si();
        }
        let roll: f64 = rig.on_trailer.iter().map(|load| load.weight.si() * load.left.si()).sum();
        prop_assert!((answered - roll).abs() < 1e-9 * rig.weight());
        if !matches!(loads.sharing, Sharing::BySprings { .. }) {
            for side in &sides {
                prop_assert!((side.left - sides[0].left).abs().si() < 1e-9 * rig.weight());
            }
        } else if let Some(grounded) = loads.axles.iter().position(|load| load.si() > 0.0) {
            // One frame rolls by one angle: left spring in, right spring out by angle times half the track each.
            let angle = |at: usize| {
                let axle = &rig.trailer.axles[at];
                (sides[at].left - sides[at].right).si() / (axle.rate.unwrap().si() * axle.track.unwrap().si())
            };
            for (at, side) in sides.iter().enumerate() {
                if loads.axles[at].si() > 0.0 {
                    prop_assert!((angle(at) - angle(grounded)).abs() < 1e-9 * angle(grounded).abs().max(1e-6));
                } else {
                    prop_assert!(side.left.si() == 0.0 && side.right.si() == 0.0, "a lifted axle carries nothing");
                }
            }
        }
        let mut unknown = rig.trailer.clone();
        unknown.axles[0].track = None;
        let known = unknown.sides(&loads, &rig.on_trailer).unwrap().is_some();
        prop_assert_eq!(known, roll == 0.0);
    }

    #[test]
    fn an_item_turned_twice_is_where_it_was(
        weight in 10.0..5000.0, arm in -1.0..3.0, left in -0.5..0.5, front in 0.5..4.0, rear in -3.0..0.4,
        gap in -1.0..3.0, from in 0.5..3.0, length in 2.0..8.0, off in -0.5..0.5, by_rear in any::<bool>(),
    ) {
        let m = Length::new;
        let item = Item { weight: Mass::new(weight), arm: m(arm), left: m(left), outline: Outline { front: m(front), rear: m(rear) } };
        let deck = Deck { from: m(from), length: m(length) };
        let gap_at = if by_rear { Gap::Rear(m(gap)) } else { Gap::Front(m(gap)) };
        let forward = item.place(deck, gap_at, Facing::Forward, m(off)).unwrap();
        let backward = item.place(deck, gap_at, Facing::Forward.turned(), m(off)).unwrap();
        let again = item.place(deck, gap_at, Facing::Forward.turned().turned(), m(off)).unwrap();
        prop_assert_eq!(forward, again);
        // The outline covers the same ground either way; the centre of gravity is mirrored about the outline's middle
        // and the trailer-side centre line of the item.
        let near = |one: Length, two: Length| (one - two).abs() < m(1e-9);
        prop_assert!(near(forward.front(), backward.front()) && near(forward.rear(), backward.rear()));
        let (one, two) = (forward.load(), backward.load());
        prop_assert!(near(one.station + two.station, forward.front() + forward.rear()));
        prop_assert!(near(one.left + two.left, m(2.0 * off)));
        let read = if by_rear { forward.rear_gap(deck) } else { forward.front_gap(deck) };
        prop_assert!(near(read, m(gap)));
    }
}

/// Any number at all, the odd ones often.
fn anything() -> impl Strategy<Value = f64> {
    prop_oneof![
        1 => any::<f64>(),
        1 => prop::sample::select(vec![0.0, -0.0, 1.0, -1.0, 1e-300, 1e300, 5e-324, f64::MAX, f64::INFINITY, f64::NAN]),
        1 => -10.0..10.0,
        25 => 0.0..10.0,
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1500))]

    #[test]
    fn odd_numbers_give_an_error_or_a_finite_answer(
        numbers in prop::collection::vec(anything(), 30), axles in 0_usize..4, springs in any::<bool>(), bars in 0..3,
    ) {
        let mut numbers = numbers.into_iter();
        let mut next = || numbers.next().unwrap();
        let (mut trailer, load) = (two_springs(0.5), PointLoad {
            weight: Mass::new(next()), station: Length::new(next()), left: Length::new(next()),
        });
        trailer.empty.tongue = Mass::new(next());
        trailer.empty.axles = Mass::new(next());
        trailer.axles = (0..axles).map(|_| TrailerAxle {
            station: Length::new(next()),
            rate: Some(Stiffness::new(next())),
            empty: Some(Mass::new(next())),
            track: Some(Length::new(next())),
        }).collect();
        trailer.suspension = if springs {
            Suspension::Independent { level_at: Some(Length::new(next())), held_at: Some(Length::new(next())) }
        } else {
            Suspension::Equalized
        };
        let truck = Truck {
            front: Mass::new(next()), rear: Mass::new(next()),
            wheelbase: Length::new(next()), overhang: Length::new(next()),
        };
        let aboard = TruckLoad { weight: Mass::new(next()), ahead: Length::new(next()) };
        let distribution = match bars {
            0 => Distribution::None,
            1 => Distribution::Restores(Share::new(next())),
            _ => Distribution::Couple(MassMoment::new(next())),
        };
        if let Ok(found) = rig_loads(&trailer, &[load], &truck, &[aboard], distribution) {
            prop_assert!(figures(&found).iter().all(|number| number.is_finite()), "{found:?}");
            prop_assert!(found.trailer.axles.iter().all(|load| *load >= Mass::ZERO), "{found:?}");
            if let Ok(Some(sides)) = trailer.sides(&found.trailer, &[load]) {
                prop_assert!(sides.iter().all(|side| side.left.si().is_finite() && side.right.si().is_finite()));
            }
        }
    }
}

/// The samples above are worth little if none of them lifts a wheel or restores a front axle.
#[test]
fn the_samples_reach_the_corners() {
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let [mut lifts, mut pulls, mut restores, mut ahead] = [0; 4];
    for _ in 0..600 {
        let rig = rig().new_tree(&mut runner).unwrap().current();
        let loads = rig.loads();
        lifts += usize::from(loads.trailer.lifted().next().is_some());
        pulls += usize::from(loads.tongue < Mass::ZERO);
        restores += usize::from(matches!(rig.distribution, Distribution::Restores(_)));
        ahead += usize::from(rig.truck.overhang < Length::ZERO);
    }
    for count in [lifts, pulls, restores, ahead] {
        assert!(count > 20, "{lifts} lift, {pulls} pull, {restores} restore, {ahead} stand ahead of the axle");
    }
}

fn two_springs(held_at: f64) -> Trailer {
    let axle =
        |station: f64| TrailerAxle { rate: Some(Stiffness::new(250e3)), ..TrailerAxle::at(Length::new(station)) };
    Trailer {
        empty: EmptyTrailer { tongue: Mass::new(150.0), axles: Mass::new(1000.0) },
        axles: vec![axle(4.6), axle(5.5)],
        suspension: Suspension::Independent { level_at: Some(Length::new(0.5)), held_at: Some(Length::new(held_at)) },
    }
}

fn loaded(trailer: &Trailer) -> TrailerLoads {
    let load = PointLoad { weight: Mass::new(2000.0), station: Length::new(4.7), left: Length::ZERO };
    trailer.loads(&[load]).unwrap()
}

#[test]
fn a_high_coupler_loads_the_rear_axle_and_in_the_end_lifts_the_front_one() {
    let low = loaded(&two_springs(0.35));
    let level = loaded(&two_springs(0.45));
    let high = loaded(&two_springs(0.60));
    assert!(low.axles[0] > low.axles[1]);
    assert!(high.axles[1] > level.axles[1] && high.axles[0] < level.axles[0]);
    let lifted = loaded(&two_springs(1.5));
    assert_eq!(lifted.lifted().collect::<Vec<_>>(), [0]);
    // One axle left: it carries what levers give it alone.
    let moment = 2000.0 * 4.7 + 1000.0 * 5.05;
    assert!((lifted.axles[1].si() - moment / 5.5).abs() < 1e-9);
}

#[test]
fn the_result_says_on_what_the_shares_rest() {
    let mut trailer = two_springs(0.5);
    assert_eq!(loaded(&trailer).sharing, Sharing::BySprings { empty_weighed: false });
    for axle in &mut trailer.axles {
        axle.empty = Some(Mass::new(510.0));
    }
    assert_eq!(loaded(&trailer).sharing, Sharing::BySprings { empty_weighed: true });
    trailer.axles[1].rate = None;
    assert_eq!(loaded(&trailer).sharing, Sharing::SharedEquallyNotKnown);
    trailer.suspension = Suspension::Equalized;
    assert_eq!(loaded(&trailer).sharing, Sharing::SharedEqually);
}

#[test]
fn what_makes_no_sense_is_named() {
    let load = |kg: f64, m: f64| PointLoad { weight: Mass::new(kg), station: Length::new(m), left: Length::ZERO };
    let trailer = two_springs(0.5);
    let with = |change: &dyn Fn(&mut Trailer)| {
        let mut trailer = trailer.clone();
        change(&mut trailer);
        trailer.loads(&[load(500.0, 4.0)]).unwrap_err()
    };
    assert_eq!(with(&|trailer| trailer.axles.clear()), StaticsError::NoAxles);
    let ahead = with(&|trailer| trailer.axles[1].station = Length::new(-0.1));
    assert_eq!(ahead, StaticsError::AxleNotBehindCoupling(1));
    let slack = with(&|trailer| trailer.axles[0].rate = Some(Stiffness::ZERO));
    assert_eq!(slack, StaticsError::NotPositive("the spring rate"));
    let endless = with(&|trailer| trailer.empty.tongue = Mass::new(f64::INFINITY));
    assert_eq!(endless, StaticsError::NotFinite("the empty tongue weight"));
    assert_eq!(trailer.loads(&[load(9000.0, -3.0)]), Err(StaticsError::WheelsLift));
    let equalized = Trailer { suspension: Suspension::Equalized, ..trailer.clone() };
    assert_eq!(equalized.loads(&[load(9000.0, -3.0)]), Err(StaticsError::WheelsLift));
    for trailer in [&trailer, &equalized] {
        let overflow = trailer.loads(&[load(1e308, 1e3), load(1e308, 1e3)]);
        assert!(matches!(overflow, Err(StaticsError::NotFinite(_))), "{overflow:?}");
    }
    // A gooseneck takes nothing off the front axle, so nothing can be given back; below zero means nothing either.
    let restored = |overhang: f64, part: f64| {
        let (front, rear) = (Mass::new(1900.0), Mass::new(1500.0));
        let truck = Truck { front, rear, wheelbase: Length::new(4.0), overhang: Length::new(overhang) };
        let bars = Distribution::Restores(Share::new(part));
        rig_loads(&equalized, &[load(900.0, 4.0)], &truck, &[], bars).map(|loads| loads.couple)
    };
    assert_eq!(restored(-0.2, 0.5), Err(StaticsError::NothingToRestore));
    assert_eq!(restored(0.0, 0.5), Err(StaticsError::NothingToRestore));
    assert_eq!(restored(1.0, -0.5), Err(StaticsError::Negative("the restored part")));
    assert!(restored(1.0, 0.5).unwrap() > MassMoment::ZERO);
    // A negative tongue is an answer.
    assert!(equalized.loads(&[load(3000.0, 7.0)]).unwrap().tongue < Mass::ZERO);
}
