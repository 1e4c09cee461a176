//! Statics of a rig a second time: every balance of forces and moments, every condition of the suspension and of the bars
//! as rows of one linear system about an arbitrary origin; the solving is left to nalgebra. Wheels that lift are found by
//! trying every set of grounded axles.

use draylint::physics::{Distribution, Suspension, Trailer};
use draylint::units::Mass;
use nalgebra::{DMatrix, DVector};

use crate::rig_samples::Rig;

/// What each axle's spring carries with the frame empty and level, in kg, and its rate in kg/m; `None` for a trailer
/// whose axles share equally. Written here a second time, from the documentation of `Trailer` and `Sharing`.
pub(crate) fn spring_rows(trailer: &Trailer) -> Option<Vec<(f64, f64)>> {
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
pub(crate) struct System {
    rows: Vec<(Vec<f64>, f64)>,
    axles: usize,
}

impl System {
    fn width(&self) -> usize {
        self.axles + 5
    }
    pub(crate) const BALL: usize = 0;
    pub(crate) fn axle(at: usize) -> usize {
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

/// The unknowns of a rig, solved.
pub(crate) fn second_formulation(rig: &Rig, origin: f64) -> Vec<f64> {
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
