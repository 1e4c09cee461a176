//! Statics against published and worked examples. The ids are those of
//! `../shared/reference/data/worked-examples.csv`; source and status stand beside each number.

use draylint::physics::{
    Distribution, EmptyTrailer, Machine, MachineWeight, Outline, PointLoad, RigLoads, Suspension, Trailer, TrailerAxle,
    Truck, TruckLoad, TruckLoads, rig_loads,
};
use draylint::units::{Length, Mass, MassMoment, Quantity, Share, Stiffness, unit};

fn in_unit<Q: Quantity>(value: f64, symbol: &str) -> Q {
    let unit = unit(symbol).unwrap();
    assert_eq!(unit.kind, Q::KIND);
    Q::from_si(value * unit.factor)
}
fn lb(value: f64) -> Mass {
    in_unit(value, "lb")
}
fn inch(value: f64) -> Length {
    in_unit(value, "in")
}
fn ft(value: f64) -> Length {
    in_unit(value, "ft")
}
fn as_lb(mass: Mass) -> f64 {
    mass.si() / unit("lb").unwrap().factor
}

#[track_caller]
fn near(found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() <= within, "found {found}, expected {expected} within {within}");
}

/// A truck of no weight, to see what a load or a hitch changes.
fn bare(wheelbase: Length, overhang: Length) -> Truck {
    Truck { front: Mass::ZERO, rear: Mass::ZERO, wheelbase, overhang }
}

fn carrying(truck: &Truck, aboard: &[TruckLoad]) -> TruckLoads {
    truck.loads(Mass::ZERO, MassMoment::ZERO, aboard).unwrap()
}

fn trailer(tongue: Mass, axles: Mass, station: Length) -> Trailer {
    Trailer {
        empty: EmptyTrailer { tongue, axles },
        axles: vec![TrailerAxle::at(station)],
        suspension: Suspension::Equalized,
    }
}

/// L1: a maker's manual, secondary. It prints 62.14 lb on the rear (exact 62.150) and 38.86 on the front; those add up to
/// 101 lb, so the front is a misprint for 37.86 (exact 37.850).
#[test]
fn l1_hundred_pounds_on_a_frame() {
    let load = TruckLoad { weight: lb(100.0), ahead: inch(214.0 - 133.0) };
    let found = carrying(&bare(inch(214.0), Length::ZERO), &[load]);
    near(as_lb(found.rear), 62.14, 0.02);
    near(as_lb(found.rear), 62.150, 5e-4);
    near(as_lb(found.front), 37.850, 5e-4);
    let misprint: f64 = 38.86;
    near(misprint - as_lb(found.front), 1.0, 0.02);
}

/// L2: a maker's manual, secondary. A load spread evenly over a body acts at the body's middle.
#[test]
fn l2_a_body_spread_evenly() {
    let middle = 72.0 + 168.0 / 2.0;
    let load = TruckLoad { weight: lb(14_500.0), ahead: inch(214.0 - middle) };
    let found = carrying(&bare(inch(214.0), Length::ZERO), &[load]);
    near(as_lb(found.rear), 10_570.0, 0.5);
    near(as_lb(found.front), 3929.9, 0.05);
}

/// L3: machine-design textbook, problem 3.16, secondary: 6,700 N on the near axle, 300 N on the far one. Here the near axle
/// is the rear one and the load overhangs behind it.
#[test]
fn l3_a_load_beyond_an_axle() {
    let newton = |value: f64| in_unit::<draylint::units::Force>(value, "N").as_mass();
    let (wheelbase, far) = (Length::new(1.5), Length::new(0.9));
    let vehicle = TruckLoad { weight: newton(4500.0), ahead: wheelbase - far };
    let load = TruckLoad { weight: newton(2500.0), ahead: Length::new(-0.9) };
    let found = carrying(&bare(wheelbase, Length::ZERO), &[vehicle, load]);
    near(found.rear.weight().si(), 6700.0, 1e-6);
    near(found.front.weight().si(), 300.0, 1e-6);
}

/// L4: formula, derived.
#[test]
fn l4_a_tongue_behind_the_rear_axle() {
    let found = bare(inch(140.0), inch(60.0)).loads(lb(1000.0), MassMoment::ZERO, &[]).unwrap();
    near(as_lb(found.rear), 1428.571, 5e-4);
    near(as_lb(found.front), -428.571, 5e-4);
}

/// L5: freight course, secondary. Sliding a trailer's tandem back by two holes of 6 in moves 2 x 400 lb, as published, from
/// the trailer's axles to the drives or back. One hole moves 400 lb when `W·6/(s·(s+6))` of moment is; the course gives the
/// 400 lb, not the trailer, so here the trailer's length is taken from the 400 lb and the second hole and sum are the check.
#[test]
fn l5_moving_the_tandem_keeps_the_gross() {
    // Pin to tandem in inches such that the first hole (6 in forward) brings 400 lb from the drives to the tandem:
    // 32,100 s = 32,500 (s - 6).
    let first: f64 = 32_500.0 * 6.0 / 400.0;
    let moved = |holes: f64| {
        let trailer = trailer(Mass::ZERO, Mass::ZERO, inch(first - 6.0 * holes));
        let loads = PointLoad { weight: lb(66_800.0), station: inch(first * 32_100.0 / 66_800.0), left: Length::ZERO };
        let found = trailer.loads(&[loads]).unwrap();
        // The pin stands over the drives; the steer axle keeps its 11,590.
        let drives = Truck { front: lb(11_590.0), rear: Mass::ZERO, wheelbase: inch(220.0), overhang: Length::ZERO };
        let truck = drives.loads(found.tongue, MassMoment::ZERO, &[]).unwrap();
        (as_lb(truck.front), as_lb(truck.rear), as_lb(found.group))
    };
    let (steer, drives, tandem) = moved(0.0);
    near(drives, 34_700.0, 1e-6);
    near(tandem, 32_100.0, 1e-6);
    near(steer + drives + tandem, 78_390.0, 1e-6);
    let (steer, drives, tandem) = moved(2.0);
    // 400 lb to every hole is the course's rule of thumb; the exact second hole moves 10 lb more than the first, half the
    // step of a truck scale.
    near(drives, 33_900.0, 10.5);
    near(tandem, 32_900.0, 10.5);
    near(steer + drives + tandem, 78_390.0, 1e-6);
}

/// The textbook pickup and trailer: engineering-statics textbook; problem and weights secondary, dimensions memory.
fn pickup_and_trailer(distribution: Distribution) -> RigLoads {
    let trailer = trailer(Mass::ZERO, Mass::ZERO, ft(11.0));
    let weight = PointLoad { weight: lb(2400.0), station: ft(9.0), left: Length::ZERO };
    let truck = bare(ft(9.0), ft(3.0));
    let pickup = TruckLoad { weight: lb(2900.0), ahead: ft(5.0) };
    rig_loads(&trailer, &[weight], &truck, &[pickup], distribution).unwrap()
}

/// F1: per wheel 982, 935 and 733 lb as remembered from the book (memory); decimals derived.
#[test]
fn f1_pickup_and_trailer_on_a_plain_ball() {
    let found = pickup_and_trailer(Distribution::None);
    near(as_lb(found.tongue), 436.364, 5e-4);
    for (axle, remembered, exact) in
        [(found.trailer.group, 982.0, 981.82), (found.truck.rear, 935.0, 935.35), (found.truck.front, 733.0, 732.83)]
    {
        near(as_lb(axle) / 2.0, remembered, 0.5);
        near(as_lb(axle) / 2.0, exact, 5e-3);
    }
    // Without the trailer 644.44 and 805.56 (derived): the trailer adds 290.91 and takes 72.73.
    let alone = carrying(&bare(ft(9.0), ft(3.0)), &[TruckLoad { weight: lb(2900.0), ahead: ft(5.0) }]);
    near(as_lb(alone.rear) / 2.0, 644.44, 5e-3);
    near(as_lb(alone.front) / 2.0, 805.56, 5e-3);
    near(as_lb(found.truck.rear - alone.rear) / 2.0, 290.91, 5e-3);
    near(as_lb(found.truck.front - alone.front) / 2.0, -72.73, 5e-3);
}

/// F2: the same with a compensating hitch, its chains 1.7 ft behind the ball (derived; not confirmed in print). Two
/// chains of 572.34 lb pull the bars' ends.
#[test]
fn f2_pickup_and_trailer_with_bars() {
    let found = pickup_and_trailer(Distribution::Couple(lb(2.0 * 572.34) * ft(1.7)));
    near(as_lb(found.tongue), 436.364, 5e-4);
    near(as_lb(found.trailer.group) / 2.0, 1070.27, 6e-3);
    near(as_lb(found.truck.rear) / 2.0, 709.31, 6e-3);
    near(as_lb(found.truck.front) / 2.0, 870.42, 6e-3);
    near(as_lb(found.gross()), 5300.0, 1e-6);
    // "The truck's added load equal on all four wheels": 64.86 lb each.
    near(as_lb(found.truck.rear) / 2.0 - 644.444, 64.86, 6e-3);
    near(as_lb(found.truck.front) / 2.0 - 805.556, 64.86, 6e-3);
}

/// W1: +300 lb on the trailer's axles (secondary), front +611.54 and rear -911.54 from the couple alone (derived).
#[test]
fn w1_the_couple_alone() {
    let trailer = trailer(Mass::ZERO, lb(1.0), inch(200.0));
    let couple = lb(2.0 * 1000.0) * inch(30.0);
    let found = rig_loads(&trailer, &[], &bare(inch(130.0), inch(65.0)), &[], Distribution::Couple(couple)).unwrap();
    near(as_lb(found.trailer.group) - 1.0, 300.0, 1e-9);
    near(as_lb(found.truck.front), 611.54, 5e-3);
    near(as_lb(found.truck.rear), -911.54, 5e-3);
    near(as_lb(found.ball), -300.0, 1e-9);
}

/// W2 and W3: formula, derived; the restored part is SAE J2807's front axle load restoration (secondary).
#[test]
fn w2_w3_restoring_the_front_axle() {
    for (part, couple, front, rear, axles) in [
        (1.0, 47_142.86, 0.0, 785.714, 214.286),
        (0.5, 23_571.43, -214.286, 1107.143, 107.143),
        (0.0, 0.0, -428.571, 1428.571, 0.0),
    ] {
        let trailer = trailer(lb(1000.0), lb(5000.0), inch(220.0));
        let restores = Distribution::Restores(Share::new(part));
        let found = rig_loads(&trailer, &[], &bare(inch(140.0), inch(60.0)), &[], restores).unwrap();
        near(found.couple.kg_m() / (lb(1.0) * inch(1.0)).kg_m(), couple, 5e-3);
        near(as_lb(found.truck.front), front, 5e-4);
        near(as_lb(found.truck.rear), rear, 5e-4);
        near(as_lb(found.trailer.group) - 5000.0, axles, 5e-4);
        near(as_lb(found.tongue), 1000.0, 1e-9);
    }
}

/// Two axles of 1,500 lb/in, 34 in apart about 200 in behind the ball, held this far above the level height.
fn on_springs(high: f64) -> (f64, f64, f64) {
    let axle = |station: f64| TrailerAxle { rate: Some(in_unit(1500.0, "lb/in")), ..TrailerAxle::at(inch(station)) };
    let trailer = Trailer {
        empty: EmptyTrailer { tongue: lb(500.0), axles: lb(5000.0) },
        axles: vec![axle(183.0), axle(217.0)],
        suspension: Suspension::Independent { level_at: Some(inch(20.0)), held_at: Some(inch(20.0 + high)) },
    };
    let found = trailer.loads(&[]).unwrap();
    let [front, rear] = found.axles[..] else { panic!("two axles") };
    (as_lb(front), as_lb(rear), found.pitch.unwrap().si())
}

/// W4: formula, derived: at a tilt of 0.0100 the rear axle carries 255 lb more than the mean, the front 255 less. The
/// formula takes the tilt as given, hitch height over distance; here the tilt follows from the height, and since the frame
/// also settles a little it is 0.7 % less at 2 in.
#[test]
fn w4_a_high_coupler_loads_the_rear_axle() {
    let (front, rear, pitch) = on_springs(2.0);
    near(pitch, 0.0100, 0.0001);
    near((rear - front) / 2.0, 255.0, 2.0);
    let (front, rear, tilt) = on_springs(2.0 * 0.01 / pitch);
    near(tilt, 0.01, 1e-12);
    near((rear - front) / 2.0, 255.0, 1e-6);
    let (front, rear, level) = on_springs(0.0);
    near(level, 0.0, 1e-12);
    near(rear - front, 0.0, 1e-6);
}

/// A trailer that presses on its coupling with this part of its weight, found by moving one load.
fn with_tongue_share(gross: Mass, share: f64) -> Mass {
    let station = Length::new(5.0);
    let empty = trailer(Mass::ZERO, Mass::ZERO, station);
    let load = PointLoad { weight: gross, station: station * (1.0 - share), left: Length::ZERO };
    let found = empty.loads(&[load]).unwrap();
    near(found.share().unwrap().si(), share, 1e-12);
    found.tongue
}

/// N1-N4, secondary (a maker's manual; N3, N4 other sources): the bands' arithmetic is on the trailer's whole weight. The
/// last line is common practice: a 10,000 lb trailer wants 1,000 to 1,100 lb where the band is 10 to 11 %.
#[test]
fn n1_to_n4_tongue_bands_are_of_the_whole_trailer() {
    for (gross, low, high, from, to) in [
        (6000.0, 0.10, 0.15, 600.0, 900.0),
        (12_000.0, 0.20, 0.25, 2400.0, 3000.0),
        (7000.0, 0.09, 0.15, 630.0, 1050.0),
        (2000.0 + 3000.0, 0.10, 0.15, 500.0, 750.0),
        (10_000.0, 0.10, 0.11, 1000.0, 1100.0),
    ] {
        near(as_lb(with_tongue_share(lb(gross), low)), from, 1e-6);
        near(as_lb(with_tongue_share(lb(gross), high)), to, 1e-6);
    }
}

/// N5: a maker's manual, secondary: 40 US gal of water (8.345 lb each) moved from nose to tail, each end about one tongue
/// length out, moves the tongue from about +330 to about -330 lb.
#[test]
fn n5_water_moved_from_nose_to_tail() {
    let axle = Length::new(4.0);
    let at = |station: f64| {
        let water = PointLoad { weight: lb(40.0 * 8.345), station: Length::new(station), left: Length::ZERO };
        as_lb(trailer(Mass::ZERO, lb(1000.0), axle).loads(&[water]).unwrap().tongue)
    };
    near(at(0.0), 330.0, 5.0);
    near(at(8.0), -330.0, 5.0);
}

/// P1 and P2, secondary: payload is what a gross rating leaves. A truck at its curb weight with exactly that much aboard
/// weighs its rating, however it is spread; with the whole trailer behind it, the combination weighs 19,000 lb.
#[test]
fn p1_p2_payload_fills_the_ratings() {
    let truck = Truck { front: lb(4200.0), rear: lb(3000.0), wheelbase: inch(160.0), overhang: inch(50.0) };
    let aboard =
        [TruckLoad { weight: lb(6000.0), ahead: inch(10.0) }, TruckLoad { weight: lb(800.0), ahead: inch(90.0) }];
    near(as_lb(carrying(&truck, &aboard).gross()), 14_000.0, 1e-6);
    let trailer = trailer(lb(1000.0), lb(9000.0), inch(200.0));
    let held_to = TruckLoad { weight: lb(9000.0 - 7200.0), ahead: inch(10.0) };
    let found = rig_loads(&trailer, &[], &truck, &[held_to], Distribution::None).unwrap();
    near(as_lb(found.gross()), 19_000.0, 1e-6);
    // The tongue is the truck's load, not the trailer axles'.
    near(as_lb(found.truck.gross()), 10_000.0, 1e-6);
}

/// K1: by formula, derived: 1,500 kg, wheelbase 2.5 m, 600 kg on the front axle: 1.00 m ahead of the rear axle.
#[test]
fn k1_centre_of_gravity_from_two_axles() {
    let machine = Machine {
        weight: MachineWeight::Axles { front: Mass::new(600.0), rear: Mass::new(900.0), wheelbase: Length::new(2.5) },
        left: Length::ZERO,
        weighed_with: vec![],
        outline: Outline { front: Length::new(3.5), rear: Length::new(-1.0) },
    };
    let item = machine.with(&[]).unwrap();
    near(item.arm.si(), 1.00, 1e-12);
    let (front, rear) = item.on_axles(Length::new(2.5)).unwrap();
    near(front.si(), 600.0, 1e-9);
    near(rear.si(), 900.0, 1e-9);
}

/// M1d, statics and beam solver, derived: both axles of a 6,000 lb machine on the deck behind the trailer's axle. The
/// coupler pulls up with 2,175.2 lb and the axle carries 10,575.2 lb: a negative tongue is an answer. (L 190, the
/// trailer's 2,400 lb 22.8 in ahead of the axle, the machine's rear axle 110 in behind it, 48 + 32 in wheelbase.)
#[test]
fn m1d_the_coupler_pulls_up() {
    let station = 190.0;
    let trailer = trailer(Mass::ZERO, Mass::ZERO, inch(station));
    let at = |pounds: f64, inches: f64| PointLoad { weight: lb(pounds), station: inch(inches), left: Length::ZERO };
    let found = trailer
        .loads(&[at(2400.0, station - 22.8), at(3600.0, station + 110.0), at(2400.0, station + 110.0 - 80.0)])
        .unwrap();
    near(as_lb(found.tongue), -2175.2, 0.05);
    near(as_lb(found.group), 10_575.2, 0.05);
    // M1g, statics, derived: with wheelbase 148 and overhang 50 a truck whose rear axle carries 2,600 lb lifts off at
    // 1,943.4 lb, so at this pull its rear wheels hang.
    let truck = Truck { front: lb(3000.0), rear: lb(2600.0), wheelbase: inch(148.0), overhang: inch(50.0) };
    let rear = |pull: f64| as_lb(truck.loads(lb(-pull), MassMoment::ZERO, &[]).unwrap().rear);
    near(rear(1943.4), 0.0, 0.1);
    let lifted = truck.loads(found.tongue, MassMoment::ZERO, &[]).unwrap().lifted();
    assert_eq!(lifted, Some(draylint::physics::TruckAxle::Rear));
}

/// n springs under a free beam, `towing-and-statics.md` 4.5 (derived): with the ball force free to be what it is, the axle
/// forces lie on one straight line `k (z + φ x)` and balance all weight together with the ball.
#[test]
fn springs_lie_on_one_line() {
    let rate: Stiffness = in_unit(1200.0, "lb/in");
    let stations = [170.0, 204.0, 238.0];
    let axle = |station: &f64| TrailerAxle { rate: Some(rate), ..TrailerAxle::at(inch(*station)) };
    let trailer = Trailer {
        empty: EmptyTrailer { tongue: lb(600.0), axles: lb(4200.0) },
        axles: stations.iter().map(axle).collect(),
        suspension: Suspension::Independent { level_at: Some(inch(22.0)), held_at: Some(inch(21.0)) },
    };
    let load = PointLoad { weight: lb(9000.0), station: inch(190.0), left: Length::ZERO };
    let found = trailer.loads(&[load]).unwrap();
    let [first, second, third] = found.axles[..] else { panic!("three axles") };
    near(as_lb(first + third), as_lb(second * 2.0), 1e-6);
    let moment = as_lb(first) * 170.0 + as_lb(second) * 204.0 + as_lb(third) * 238.0;
    near(moment, 4200.0 * 204.0 + 9000.0 * 190.0, 1e-4);
}
