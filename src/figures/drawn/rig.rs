//! Truck, trailer and axles of a picture, and the scene put together.

use std::sync::Arc;

use super::assumed;
use super::climb::climb;
use super::items::items;
use super::scene::{Anchored, AxleSeen, Centre, ItemSeen, Notes, Scene, Strip, TrailerSeen, TruckSeen};
use crate::figures::{AxleRef, Each, Known, Lack, Load, Subject, figure};
use crate::model::{HitchKind, ItemKind, Slot};
use crate::units::Length;

impl Notes {
    /// A size and whether it is known; else what stands in for it.
    pub(super) fn or(&mut self, size: Known<Length>, assumed: f64) -> (f64, bool) {
        match size {
            Ok(size) => (size.si(), true),
            Err(lack) => {
                self.assumes(&lack);
                (assumed, false)
            }
        }
    }

    /// Notes a size that is not given, once.
    pub(super) fn assumes(&mut self, lack: &Lack) {
        once(&mut self.assumed, lack);
    }

    /// Notes why something is not drawn, once.
    pub(super) fn lacks(&mut self, lack: &Lack) {
        once(&mut self.undrawn, lack);
    }
}

fn once(all: &mut Vec<String>, lack: &Lack) {
    let told = lack.to_string();
    if !all.contains(&told) {
        all.push(told);
    }
}

impl Scene {
    /// What a picture of a load shows.
    ///
    /// # Errors
    /// What is missing to compute the load.
    pub fn of(load: &Load<'_>) -> Known<Self> {
        let still = load.still.as_ref().map_err(Clone::clone)?;
        load.rig.as_ref().map_err(Clone::clone)?;
        let (mut side, mut top) = (Notes::default(), Notes::default());
        let truck = truck(load)?;
        let trailer = trailer(load, &mut side, &mut top)?;
        let axles = axles(load, &truck)?;
        let items = items(load, &trailer, &mut side, &mut top)?;
        // The empty trailer's weight, its centre where its tongue and axles put it; across, in the middle.
        let empty = &still.trailer.empty;
        let whole = (empty.tongue + empty.axles).si();
        let at = if whole > 0.0 { still.trailer.mean_station().si() * empty.axles.si() / whole } else { 0.0 };
        let mut sum = Sum { weight: whole, along: whole * at, across: 0.0 };
        let mut aboard = Sum::default();
        for one in &still.aboard {
            for sum in [&mut sum, &mut aboard] {
                sum.add(one.weight.si(), one.station.si(), one.left.si());
            }
        }
        let climbs = load.items.iter().enumerate().filter(|(_, one)| matches!(one.item.kind, ItemKind::Machine(_)));
        Ok(Self {
            load_centre: aboard.centre().map(|centre| Centre { height: height(load, &items), ..centre }),
            whole_centre: sum.centre().unwrap_or(Centre { station: at, left: 0.0, height: None }),
            climbs: climbs.map(|(at, one)| climb(load, at, one)).collect(),
            side_notes: side,
            top_notes: top,
            truck,
            trailer,
            axles,
            items,
        })
    }
}

/// Weights added up with their moments.
#[derive(Default)]
struct Sum {
    weight: f64,
    along: f64,
    across: f64,
}

impl Sum {
    fn add(&mut self, weight: f64, station: f64, left: f64) {
        self.weight += weight;
        self.along += weight * station;
        self.across += weight * left;
    }

    fn centre(&self) -> Option<Centre> {
        let (weight, along, across) = (self.weight, self.along, self.across);
        (weight > 0.0).then(|| Centre { station: along / weight, left: across / weight, height: None })
    }
}

/// The height of the load's centre of gravity, where that of each item is known.
fn height(load: &Load<'_>, items: &[ItemSeen]) -> Option<f64> {
    let (mut weight, mut moment) = (0.0, 0.0);
    for (one, seen) in load.items.iter().zip(items) {
        let own = one.weight().ok()?.si();
        weight += own;
        moment += own * seen.centre.height?;
    }
    (weight > 0.0).then(|| moment / weight)
}

fn truck(load: &Load<'_>) -> Known<TruckSeen> {
    let (truck, hitch) = (load.truck.clone()?, load.hitch()?);
    let rear = -hitch.behind_rear_axle.need(&hitch.owner, "behind-rear-axle")?.si();
    let front = rear - truck.wheelbase.need(&truck.owner, "wheelbase")?.si();
    let aboard = load.in_truck.iter().filter_map(|cargo| {
        let ahead = cargo.ahead_of_rear_axle.value()?.si();
        Some((Arc::clone(&cargo.name.value), rear - ahead))
    });
    Ok(TruckSeen { name: Arc::clone(&truck.id.value), front, rear, aboard: aboard.collect() })
}

fn trailer(load: &Load<'_>, side: &mut Notes, top: &mut Notes) -> Known<TrailerSeen> {
    let (trailer, deck, hitch) = (load.trailer.clone()?, load.deck()?, load.hitch()?);
    let length = |slot: &Slot<Length>, word| slot.need(&deck.owner, word).map_err(Lack::from);
    let from = length(&deck.from, "from")?.si();
    let to = from + length(&deck.length, "length")?.si();
    let (height, height_given) = side.or(length(&deck.height, "height"), assumed::DECK_HEIGHT);
    let tail = deck.dovetail_length.value().map(Length::si).filter(|run| *run > 0.0);
    let tail = tail.and_then(|run| Some((run, deck.dovetail_drop.value()?.si())));
    let line = match tail {
        Some((run, drop)) => vec![(from, height), ((to - run).max(from), height), (to, (height - drop).max(0.0))],
        None => vec![(from, height), (to, height)],
    };
    let ball = match &trailer.coupler {
        Some(coupler) if coupler.height.entry().is_some() => coupler.height.need(&coupler.owner, "height"),
        _ => hitch.height.need(&hitch.owner, "height"),
    };
    let anchors = trailer.anchors.iter().filter_map(|anchor| {
        let at = (from + anchor.from_front.value()?.si(), anchor.left.value()?.si());
        Some(Anchored { name: Arc::clone(&anchor.id.value), at })
    });
    let anchors: Vec<Anchored> = anchors.collect();
    for anchor in &trailer.anchors {
        for (slot, word) in [(&anchor.from_front, "from-front"), (&anchor.left, "left")] {
            if let Err(missing) = slot.need(&anchor.owner, word) {
                top.lacks(&missing.into());
            }
        }
    }
    Ok(TrailerSeen {
        name: Arc::clone(&trailer.id.value),
        ball: side.or(ball.map_err(Lack::from), assumed::HITCH_HEIGHT),
        gooseneck: matches!(hitch.kind.value(), Some(HitchKind::Gooseneck | HitchKind::FifthWheel)),
        deck: Strip { from, to },
        top: line,
        height_given,
        width: top.or(length(&deck.width, "width"), assumed::DECK_WIDTH),
        walls: trailer.walls.as_ref().and_then(|walls| walls.height.value()).map(Length::si),
        anchors,
    })
}

fn axles(load: &Load<'_>, truck: &TruckSeen) -> Known<Vec<AxleSeen>> {
    let still = load.still.as_ref().map_err(Clone::clone)?;
    let mut all = Vec::new();
    let subjects = [Each::TruckAxle, Each::TrailerAxle].into_iter().flat_map(|each| each.subjects(load));
    for subject in subjects {
        let Subject::Axle(axle) = subject else { continue };
        let (name, station) = match axle {
            AxleRef::Truck(crate::model::End::Front) => ("front axle".to_owned(), truck.front),
            AxleRef::Truck(crate::model::End::Rear) => ("rear axle".to_owned(), truck.rear),
            AxleRef::Trailer(at) => {
                let Some(axle) = still.trailer.axles.get(at) else { continue };
                let name = if still.trailer.axles.len() > 1 { format!("axle {}", at + 1) } else { "axle".to_owned() };
                (name, axle.station.si())
            }
        };
        let (_, own) = figure("axle.load", Each::TruckAxle).ok_or_else(|| load.owner().lacks("axle"))?;
        let rating = match axle {
            AxleRef::Truck(end) => load.truck_axle(end)?.rating.value(),
            AxleRef::Trailer(at) => load.trailer_axles().get(at).and_then(|axle| axle.rating.value()),
        };
        all.push(AxleSeen {
            name,
            of_truck: matches!(axle, AxleRef::Truck(_)),
            load: own.result_name(load, subject),
            station,
            rating: rating.map(crate::units::Mass::si),
        });
    }
    Ok(all)
}
