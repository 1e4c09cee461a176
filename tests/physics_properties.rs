//! The rig's statics against a second formulation, and what must not change when the same rig is written another way.
//!
//! The oracle writes down every balance of forces and moments, every condition of the suspension and of the bars as rows of
//! one linear system about an arbitrary origin, and leaves the solving to nalgebra. Wheels that lift are found by trying
//! every set of grounded axles.

mod rig_samples;

use draylint::physics::{
    Deck, Distribution, Facing, Gap, Item, Outline, PointLoad, RigLoads, Sharing, StaticsError, Suspension, Trailer,
    TrailerLoads, rig_loads,
};
use draylint::units::{Length, Mass, Stiffness};
use nalgebra::{DMatrix, DVector};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use rig_samples::{Rig, point_load, rig};

/// What each axle's spring carries with the frame empty and level, in kg, and its rate in kg/m; `None` for a trailer
/// whose axles share equally. Written here a second time, from the documentation of `Trailer` and `Sharing`.
fn spring_rows(trailer: &Trailer) -> Option<Vec<(f64, f64)>> {
    let Suspension::Independent { level_at: Some(_), held_at: Some(_) } = trailer.suspension else { return None };
    let per_metre: Vec<f64> =
        trailer.axles.iter().map(|axle| axle.rate.map(|rate| rate.si() / 9.80665)).collect::<Option<_>>()?;
    let empties: Vec<f64> = trailer.axles.iter().filter_map(|axle| axle.empty).map(Mass::si).collect();
    let weights = if empties.len() == trailer.axles.len() { &empties } else { &per_metre };
    let all: f64 = weights.iter().sum();
    let group = trailer.empty.axles.si();
    Some(weights.iter().zip(&per_metre).map(|(weight, rate)| (group * weight / all, *rate)).collect())
}

/// How far the coupling is held below the level height, in m.
fn lowered(trailer: &Trailer) -> f64 {
    match trailer.suspension {
        Suspension::Independent { level_at: Some(level_at), held_at: Some(held_at) } => level_at.si() - held_at.si(),
        _ => 0.0,
    }
}

/// Unknowns: ball, n axles, pitch, truck front, truck rear, couple.
struct System {
    rows: Vec<(Vec<f64>, f64)>,
    axles: usize,
}

impl System {
    fn width(&self) -> usize {
        self.axles + 5
    }
    const BALL: usize = 0;
    fn axle(at: usize) -> usize {
        1 + at
    }
    fn pitch(&self) -> usize {
        self.axles + 1
    }
    fn front(&self) -> usize {
        self.axles + 2
    }
    fn rear(&self) -> usize {
        self.axles + 3
    }
    fn couple(&self) -> usize {
        self.axles + 4
    }
    fn row(&mut self, terms: &[(usize, f64)], equals: f64) {
        let mut row = vec![0.0; self.width()];
        for (at, value) in terms {
            row[*at] += value;
        }
        self.rows.push((row, equals));
    }
    fn solve(&self) -> Option<Vec<f64>> {
        let width = self.width();
        assert_eq!(self.rows.len(), width);
        let matrix = DMatrix::from_fn(width, width, |row, column| self.rows[row].0[column]);
        let right = DVector::from_iterator(width, self.rows.iter().map(|row| row.1));
        matrix.lu().solve(&right).map(|solution| solution.iter().copied().collect())
    }
}

/// What closes the system for the bars.
#[derive(Clone, Copy)]
enum Bars {
    Couple(f64),
    FrontCarries(f64),
}

fn system(rig: &Rig, origin: f64, bars: Bars, grounded: &[bool]) -> System {
    let trailer = &rig.trailer;
    let n = trailer.axles.len();
    let mut system = System { rows: Vec::new(), axles: n };
    let at = |axle: usize| trailer.axles[axle].station.si();
    let (couple, pitch, front, rear) = (system.couple(), system.pitch(), system.front(), system.rear());
    let springs = spring_rows(trailer);
    // The empty trailer as one weight where its own axle loads put it.
    let empty_axles: Vec<(f64, f64)> = match &springs {
        Some(rows) => rows.iter().enumerate().map(|(axle, row)| (row.0, at(axle))).collect(),
        None => {
            (0..n).map(|axle| (trailer.empty.axles.si() / f64::from(u32::try_from(n).unwrap()), at(axle))).collect()
        }
    };
    let mut weights: Vec<(f64, f64)> =
        rig.on_trailer.iter().map(|load| (load.weight.si(), load.station.si())).collect();
    weights.push((trailer.empty.tongue.si(), 0.0));
    weights.extend(empty_axles);
    let axle_terms = |value: &dyn Fn(usize) -> f64| -> Vec<(usize, f64)> {
        (0..n).map(|axle| (System::axle(axle), value(axle))).collect()
    };
    let mut up = axle_terms(&|_| 1.0);
    up.push((System::BALL, 1.0));
    system.row(&up, weights.iter().map(|weight| weight.0).sum());
    let mut turn = axle_terms(&|axle| at(axle) - origin);
    turn.extend([(System::BALL, -origin), (couple, -1.0)]);
    system.row(&turn, weights.iter().map(|(weight, station)| weight * (station - origin)).sum());
    if let Some(rows) = &springs {
        for (axle, (empty, rate)) in rows.iter().enumerate() {
            if grounded[axle] {
                let terms = [(System::axle(axle), 1.0), (pitch, -rate * at(axle))];
                system.row(&terms, empty + rate * lowered(trailer));
            } else {
                system.row(&[(System::axle(axle), 1.0)], 0.0);
            }
        }
    } else {
        for axle in 1..n {
            system.row(&[(System::axle(axle), 1.0), (System::axle(0), -1.0)], 0.0);
        }
        system.row(&[(pitch, 1.0)], 0.0);
    }
    // The truck on the same line of stations: rear axle ahead of the ball by the overhang.
    let truck = &rig.truck;
    let rear_at = -truck.overhang.si();
    let front_at = rear_at - truck.wheelbase.si();
    let mut carried = vec![(truck.front.si(), front_at), (truck.rear.si(), rear_at)];
    carried.extend(rig.on_truck.iter().map(|load| (load.weight.si(), rear_at - load.ahead.si())));
    system.row(&[(front, 1.0), (rear, 1.0), (System::BALL, -1.0)], carried.iter().map(|weight| weight.0).sum());
    let terms = [(front, front_at - origin), (rear, rear_at - origin), (System::BALL, origin), (couple, 1.0)];
    system.row(&terms, carried.iter().map(|(weight, station)| weight * (station - origin)).sum());
    match bars {
        Bars::Couple(kg_m) => system.row(&[(couple, 1.0)], kg_m),
        Bars::FrontCarries(kg) => system.row(&[(front, 1.0)], kg),
    }
    system
}

/// The solution whose grounded wheels all push and whose lifted wheels all hang free.
fn oracle(rig: &Rig, origin: f64, bars: Bars) -> Vec<f64> {
    let n = rig.trailer.axles.len();
    let Some(rows) = spring_rows(&rig.trailer) else {
        return system(rig, origin, bars, &vec![true; n]).solve().expect("a regular system");
    };
    let mut best: Option<(f64, Vec<f64>)> = None;
    for set in 1..1_usize << n {
        let grounded: Vec<bool> = (0..n).map(|axle| set >> axle & 1 == 1).collect();
        let Some(solution) = system(rig, origin, bars, &grounded).solve() else { continue };
        let pitch = solution[n + 1];
        let worst = (0..n).map(|axle| {
            let (empty, rate) = rows[axle];
            let pressed = empty + rate * (lowered(&rig.trailer) + pitch * rig.trailer.axles[axle].station.si());
            if grounded[axle] { -solution[System::axle(axle)] } else { pressed }
        });
        let worst = worst.fold(0.0, f64::max);
        if best.as_ref().is_none_or(|(least, _)| worst < *least) {
            best = Some((worst, solution));
        }
    }
    let (worst, solution) = best.expect("some set of wheels");
    assert!(worst < 1e-6, "no set of wheels stands: {worst}");
    solution
}

fn second_formulation(rig: &Rig, origin: f64) -> Vec<f64> {
    match rig.distribution {
        Distribution::None => oracle(rig, origin, Bars::Couple(0.0)),
        Distribution::Couple(couple) => oracle(rig, origin, Bars::Couple(couple.kg_m())),
        Distribution::Restores(part) => {
            let plain = oracle(rig, origin, Bars::Couple(0.0));
            let front = rig.trailer.axles.len() + 2;
            let truck = &rig.truck;
            let carried: f64 = rig.on_truck.iter().map(|load| load.weight.si() * load.ahead.si()).sum();
            let alone = truck.front.si() + carried / truck.wheelbase.si();
            if plain[System::BALL] <= 0.0 {
                return plain;
            }
            oracle(rig, origin, Bars::FrontCarries(alone - (1.0 - part.si()) * (alone - plain[front])))
        }
    }
}

fn solve(rig: &Rig) -> RigLoads {
    rig_loads(&rig.trailer, &rig.on_trailer, &rig.truck, &rig.on_truck, rig.distribution).expect("a rig that stands")
}

fn all_weight(rig: &Rig) -> f64 {
    let trailer: Mass = rig.on_trailer.iter().map(|load| load.weight).sum();
    let truck: Mass = rig.on_truck.iter().map(|load| load.weight).sum();
    let empty = rig.trailer.empty.tongue + rig.trailer.empty.axles + rig.truck.front + rig.truck.rear;
    (trailer + truck + empty).si()
}

fn numbers(loads: &RigLoads) -> Vec<f64> {
    let mut all = vec![loads.ball.si()];
    all.extend(loads.trailer.axles.iter().map(|load| load.si()));
    all.extend([loads.truck.front.si(), loads.truck.rear.si(), loads.couple.kg_m()]);
    all
}

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
    fn the_rig_agrees_with_a_full_linear_system(rig in rig(), origin in -20.0..20.0) {
        let loads = solve(&rig);
        let mut expected = second_formulation(&rig, origin);
        let pitch = expected.remove(rig.trailer.axles.len() + 1);
        close(&numbers(&loads), &expected, 1e-6 * all_weight(&rig))?;
        if let Some(found) = loads.trailer.pitch {
            prop_assert!((found.si() - pitch).abs() < 1e-9);
        }
        let everything = all_weight(&rig);
        prop_assert!((loads.gross().si() - everything).abs() < 1e-9 * everything);
        prop_assert!((loads.trailer.tongue + loads.trailer.group - loads.trailer.gross).abs().si() < 1e-9 * everything);
        prop_assert!(loads.trailer.axles.iter().all(|load| *load >= Mass::ZERO));
    }

    #[test]
    fn other_units_scale_every_figure(rig in rig(), mass in 0.2..5.0, length in 0.2..5.0) {
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
        let mut expected: Vec<f64> = numbers(&solve(&rig)).into_iter().map(|value| value * mass).collect();
        if let Some(couple) = expected.last_mut() {
            *couple *= length;
        }
        close(&numbers(&solve(&scaled)), &expected, 1e-9 * all_weight(&scaled) * length.max(1.0))?;
    }

    #[test]
    fn order_and_nothings_change_nothing(rig in rig(), nothing in point_load(), at in any::<prop::sample::Index>()) {
        let mut other = rig.clone();
        other.on_trailer.reverse();
        other.on_truck.reverse();
        let nothing = PointLoad { weight: Mass::ZERO, ..nothing };
        other.on_trailer.insert(at.index(other.on_trailer.len() + 1), nothing);
        close(&numbers(&solve(&other)), &numbers(&solve(&rig)), 1e-9 * all_weight(&rig))?;
        let sides = |rig: &Rig| rig.trailer.sides(&solve(rig).trailer, &rig.on_trailer).unwrap().unwrap();
        for (one, two) in sides(&rig).iter().zip(sides(&other)) {
            prop_assert!((one.left - two.left).abs().si() < 1e-9 * all_weight(&rig));
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
            prop_assert!((side.left + side.right - *load).abs().si() < 1e-9 * all_weight(&rig));
            answered += (side.left - side.right).si() / 2.0 * axle.track.unwrap().si();
        }
        let roll: f64 = rig.on_trailer.iter().map(|load| load.weight.si() * load.left.si()).sum();
        prop_assert!((answered - roll).abs() < 1e-9 * all_weight(&rig));
        if !matches!(loads.sharing, Sharing::BySprings { .. }) {
            for side in &sides {
                prop_assert!((side.left - sides[0].left).abs().si() < 1e-9 * all_weight(&rig));
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

/// The samples above are worth little if none of them lifts a wheel or restores a front axle.
#[test]
fn the_samples_reach_the_corners() {
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let [mut lifts, mut pulls, mut restores, mut ahead] = [0; 4];
    for _ in 0..600 {
        let rig = rig().new_tree(&mut runner).unwrap().current();
        let loads = solve(&rig);
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
    let axle = |station: f64| draylint::physics::TrailerAxle {
        rate: Some(Stiffness::new(250e3)),
        ..draylint::physics::TrailerAxle::at(Length::new(station))
    };
    Trailer {
        empty: draylint::physics::EmptyTrailer { tongue: Mass::new(150.0), axles: Mass::new(1000.0) },
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
    // A negative tongue is an answer.
    assert!(equalized.loads(&[load(3000.0, 7.0)]).unwrap().tongue < Mass::ZERO);
}
