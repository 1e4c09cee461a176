//! How long it takes to drive a machine up a ramp: the least gap under it with its slopes, and the course of what it does to
//! coupler, axles, ramps and stands.
//!
//! `cargo bench --bench climb`. Aim: under 2 ms in the median for a machine with six points on its underside, and linear in
//! the number of points of an underside that is as steep with many as with few. One that is the more jagged the more points it
//! has takes more looks besides: each tooth has a least gap of its own.

use std::hint::black_box;

use divan::Bencher;
use divan::counter::ItemsCount;
use draylint::physics::{Bearer, Climb, Climber, Facing, Gear, Low, Underside, Way};
use draylint::units::{Length, Mass};

fn main() {
    divan::main();
}

/// A wheeled loader of 2.7 t on a ramp of 2.7 m, with so many points under it, all the way from its tail to its nose: by so
/// much, in m, higher or lower than those beside them.
fn loader(points: u32, uneven: f64) -> Climb {
    let parts = (0..points).map(|at| {
        let along = f64::from(at) / f64::from(points - 1);
        let arm = Length::new(-0.9 + along * 3.1);
        let bulge = 0.08 * (2.0 * along - 1.0).powi(2);
        let clearance = Length::new(0.28 + bulge + uneven * f64::from(at % 3));
        Low { from: arm, to: arm, clearance }
    });
    Climb {
        way: Way {
            foot_rise: Length::new(0.05),
            ramp: Some(Length::new(2.7)),
            deck_length: Length::new(6.1),
            deck_height: Length::new(0.66),
            dovetail: None,
            tilt: None,
        },
        machine: Climber {
            gear: Gear::Wheels {
                wheelbase: Length::new(1.78),
                front_radius: Length::new(0.36),
                rear_radius: Length::new(0.38),
            },
            weight: Mass::new(2720.0),
            arm: Length::new(0.71),
            height: Some(Length::new(0.76)),
            facing: Facing::Forward,
            undersides: vec![Underside {
                parts: parts.collect(),
                ends: (Some(Length::new(-1.0)), Some(Length::new(2.3))),
            }],
        },
        ahead: Length::new(2.0),
        trailer: Bearer {
            rear_edge: Length::new(7.6),
            axles: Length::new(5.2),
            stands: Some(Length::new(7.6)),
            free_on: None,
        },
    }
}

/// One sweep with what is told of it.
fn swept(climb: &Climb) -> Option<f64> {
    let found = climb.found(false).ok()?;
    Some(climb.clearance(&found).ok()??.gap.si())
}

#[divan::bench(args = [6, 10, 100, 1000], sample_count = 200)]
fn wheels(bencher: Bencher, points: u32) {
    let climb = loader(points, 0.1 / f64::from(points));
    assert!(swept(&climb).is_some());
    bencher.counter(ItemsCount::new(points)).bench_local(|| swept(black_box(&climb)));
}

#[divan::bench(args = [6, 10, 100, 1000], sample_count = 200)]
fn tracks(bencher: Bencher, points: u32) {
    let mut climb = loader(points, 0.1 / f64::from(points));
    climb.machine.gear = Gear::Tracks { contact: Length::new(1.6) };
    assert!(swept(&climb).is_some());
    bencher.counter(ItemsCount::new(points)).bench_local(|| swept(black_box(&climb)));
}

#[divan::bench(args = [6, 10, 100, 1000], sample_count = 100)]
fn jagged(bencher: Bencher, points: u32) {
    let climb = loader(points, 0.01);
    assert!(swept(&climb).is_some());
    bencher.counter(ItemsCount::new(points)).bench_local(|| swept(black_box(&climb)));
}
