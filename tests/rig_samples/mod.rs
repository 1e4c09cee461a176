//! Random rigs for tests: one to four axles, equalized or on springs, loads anywhere on and off the deck, every number
//! written in a unit of its own as a sheet would have it.

use draylint::physics::{
    Distribution, EmptyTrailer, PointLoad, RigLoads, Suspension, Trailer, TrailerAxle, Truck, TruckLoad, rig_loads,
};
use draylint::units::{Length, Mass, MassMoment, Quantity, Share, Stiffness, units_of};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;

/// A truck, a trailer and what they carry.
#[derive(Clone, Debug)]
pub(crate) struct Rig {
    pub(crate) trailer: Trailer,
    pub(crate) on_trailer: Vec<PointLoad>,
    pub(crate) truck: Truck,
    pub(crate) on_truck: Vec<TruckLoad>,
    pub(crate) distribution: Distribution,
}

impl Rig {
    /// Its loads; the samples all stand.
    pub(crate) fn loads(&self) -> RigLoads {
        let loads = rig_loads(&self.trailer, &self.on_trailer, &self.truck, &self.on_truck, self.distribution);
        loads.expect("a rig that stands")
    }

    /// Everything it weighs, in kg, summed from the entries.
    pub(crate) fn weight(&self) -> f64 {
        let on_trailer: Mass = self.on_trailer.iter().map(|load| load.weight).sum();
        let on_truck: Mass = self.on_truck.iter().map(|load| load.weight).sum();
        let empty = self.trailer.empty.tongue + self.trailer.empty.axles + self.truck.front + self.truck.rear;
        (on_trailer + on_truck + empty).si()
    }
}

/// Trailer axles, front axle, rear axle in kg, and the couple in kg m.
pub(crate) fn figures(loads: &RigLoads) -> Vec<f64> {
    let mut all: Vec<f64> = loads.trailer.axles.iter().map(|load| load.si()).collect();
    all.extend([loads.truck.front.si(), loads.truck.rear.si(), loads.couple.kg_m()]);
    all
}

/// A quantity between two SI values, rounded to hundredths of a random unit of its kind.
fn written<Q: Quantity + std::fmt::Debug>(low: f64, high: f64) -> impl Strategy<Value = Q> {
    let units = units_of(Q::KIND).count();
    (low..high, 0..units).prop_map(|(si, unit)| {
        let factor = units_of(Q::KIND).nth(unit).map_or(1.0, |unit| unit.factor);
        // Large units (ton, kN/m) would round small values away.
        let steps = if factor > 10.0 { 1e5 } else { 1e3 };
        Q::from_si((si / factor * steps).round() / steps * factor)
    })
}

/// A weight on the trailer.
pub(crate) fn point_load() -> impl Strategy<Value = PointLoad> {
    (written::<Mass>(0.0, 4000.0), written::<Length>(0.2, 11.0), written::<Length>(-1.0, 1.0))
        .prop_map(|(weight, station, left)| PointLoad { weight, station, left })
}

fn axles() -> impl Strategy<Value = Vec<TrailerAxle>> {
    let rest = (written::<Length>(0.6, 1.3), written::<Stiffness>(80e3, 500e3), written::<Mass>(100.0, 900.0));
    (written::<Length>(2.0, 7.0), vec(rest, 1..=4), any::<bool>(), vec(written::<Length>(1.4, 2.3), 4)).prop_map(
        |(first, rest, weighed, tracks)| {
            let mut station = first;
            let mut axles = Vec::new();
            for ((spacing, rate, empty), track) in rest.into_iter().zip(tracks) {
                let empty = weighed.then_some(empty);
                axles.push(TrailerAxle { station, rate: Some(rate), empty, track: Some(track) });
                station += spacing;
            }
            axles
        },
    )
}

fn suspension() -> impl Strategy<Value = Suspension> {
    let height = || option::weighted(0.9, written::<Length>(0.35, 0.80));
    prop_oneof![
        Just(Suspension::Equalized),
        (height(), height()).prop_map(|(level_at, held_at)| Suspension::Independent { level_at, held_at }),
    ]
}

/// A truck with its ball behind or its kingpin ahead of the rear axle.
pub(crate) fn truck() -> impl Strategy<Value = Truck> {
    let axle = || written::<Mass>(800.0, 3000.0);
    (axle(), axle(), written::<Length>(2.4, 5.0), written::<Length>(-0.8, 2.0))
        .prop_map(|(front, rear, wheelbase, overhang)| Truck { front, rear, wheelbase, overhang })
}

fn truck_load() -> impl Strategy<Value = TruckLoad> {
    (written::<Mass>(0.0, 700.0), written::<Length>(-1.5, 2.5)).prop_map(|(weight, ahead)| TruckLoad { weight, ahead })
}

/// A whole rig. A part is to be restored only where the ball is behind the rear axle.
pub(crate) fn rig() -> impl Strategy<Value = Rig> {
    let empty = (written::<Mass>(-60.0, 500.0), written::<Mass>(400.0, 3500.0));
    let bars = prop_oneof![
        Just(Distribution::None),
        (0.0..1.2).prop_map(|part| Distribution::Restores(Share::new(part))),
        (0.0..1500.0).prop_map(|kg_m| Distribution::Couple(MassMoment::new(kg_m))),
    ];
    let trailer = (empty, axles(), suspension());
    (trailer, vec(point_load(), 0..6), truck(), vec(truck_load(), 0..4), bars).prop_map(
        |((empty, axles, suspension), on_trailer, truck, on_truck, bars)| {
            let empty = EmptyTrailer { tongue: empty.0, axles: empty.1 };
            let restorable = truck.overhang > Length::ZERO;
            let distribution = match bars {
                Distribution::Restores(_) if !restorable => Distribution::None,
                bars => bars,
            };
            Rig { trailer: Trailer { empty, axles, suspension }, on_trailer, truck, on_truck, distribution }
        },
    )
}
