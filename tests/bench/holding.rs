//! How long it takes to find what twelve ties hold, in all five directions: what one item of a load costs.
//!
//! `cargo bench --bench holding`. Aim: under 1 ms, in the median; with what each bound is worth, which tells the tie that
//! governs and the slopes, about three times that.

use std::hint::black_box;

use draylint::physics::{Footing, Held, HoldSpot as Spot, Pull, Toward};
use draylint::units::{Length, Mass, Share};

fn main() {
    divan::main();
}

fn spot(ahead: f64, left: f64, height: f64) -> Spot {
    Spot { ahead: Length::new(ahead), left: Length::new(left), height: Length::new(height) }
}

/// A machine of 4.5 t on four wheels, tied twelve times to twelve rated anchors, no two ties alike.
fn twelve() -> Held {
    let corners = [(1.0, 0.7), (1.0, -0.7), (-1.0, 0.7), (-1.0, -0.7)];
    let pulls = (0..12_u32).map(|at| {
        let (side, along) = (if at % 2 == 0 { 1.0 } else { -1.0 }, f64::from(at / 2) / 5.0 - 0.5);
        Pull {
            from: spot(along * 2.2, side * 0.5, 0.4 + 0.03 * f64::from(at)),
            to: spot(along * 4.8 + 0.1 * side, side, 0.0),
            limit: Mass::new(1500.0 + 100.0 * f64::from(at)),
            anchor: Some(at as usize),
            over: false,
        }
    });
    Held {
        weight: Mass::new(4500.0),
        cg: spot(0.1, 0.02, 0.8),
        footing: corners.into_iter().map(|(x, y)| Footing { at: spot(x, y, 0.0), rolls: false }).collect(),
        friction: Share::new(0.3),
        pulls: pulls.collect(),
        presses: vec![],
        blocks: vec![],
        anchors: vec![Some(Mass::new(2400.0)); 12],
    }
}

#[divan::bench(sample_count = 200)]
fn five_directions(bencher: divan::Bencher) {
    let held = twelve();
    bencher.bench_local(|| Toward::ALL.map(|toward| black_box(&held).holds(toward).map(|holding| held.told(&holding))));
}

#[divan::bench(sample_count = 200)]
fn five_directions_with_what_bounds_are_worth(bencher: divan::Bencher) {
    let held = twelve();
    bencher
        .bench_local(|| Toward::ALL.map(|toward| black_box(&held).weighed(toward).map(|holding| held.told(&holding))));
}
