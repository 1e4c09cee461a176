//! What a coupling must be made for by UN R55: the forces D, `D_c` and V of a towing vehicle and its trailer.

use crate::units::{Dual, Force, Length, Mass};

/// Gravity as the regulation's formulas are worked, in m/s2.
///
/// Source: `../shared/reference/international.md`, head: g = 9.81 m/s2 (secondary).
const GRAVITY: f64 = 9.81;

/// The towing vehicle's rear axle, which sets the vertical acceleration at the coupling.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RearSuspension {
    /// Air suspension, or one that is equivalent: 1.8 m/s2.
    Air,
    /// Any other: 2.4 m/s2.
    Other,
}

impl RearSuspension {
    /// In m/s2. Source: UN R55 (secondary).
    const fn acceleration(self) -> f64 {
        match self {
            Self::Air => 1.8,
            Self::Other => 2.4,
        }
    }
}

/// D of a full trailer, or of any trailer behind a light vehicle's ball: `g T R / (T + R)`. `towing` is the towing
/// vehicle's largest permissible mass, `trailer` the trailer's. None where neither weighs anything.
///
/// Source: UN R55 as makers' data sheets give it (secondary).
#[must_use]
pub fn d_value(towing: Mass, trailer: Mass) -> Option<Force> {
    reduced(towing, trailer, towing + trailer)
}

/// D of a semi-trailer on a fifth wheel: `0.6 g T R / (T + R - U)`, `on_wheel` (U) being what presses on the fifth
/// wheel. It does not hold for other trailers. None where the denominator is nothing or less.
///
/// Source: UN R55 as makers' data sheets give it (secondary).
#[must_use]
pub fn d_value_semi(towing: Mass, trailer: Mass, on_wheel: Mass) -> Option<Force> {
    reduced(towing, trailer, towing + trailer - on_wheel).map(|force| force * 0.6)
}

/// `D_c` of a centre-axle trailer: `g T C / (T + C)`, `axles` (C) being what its axles carry and `towing` including what
/// presses on the coupling.
///
/// Source: UN R55 as makers' data sheets give it (secondary).
#[must_use]
pub fn d_c_value(towing: Mass, axles: Mass) -> Option<Force> {
    reduced(towing, axles, towing + axles)
}

/// V of a centre-axle trailer above 3.5 t: `a (X2 / L2) C`, X the length of the load area, L from the coupling to the
/// middle of the axles; `X2 / L2` counts as 1 at the least. None where L is nothing or less.
///
/// Source: UN R55 as makers' data sheets give it (secondary); the floor and the 3.5 t from memory.
#[must_use]
pub fn v_value(rear: RearSuspension, load_area: Length, to_axles: Length, axles: Mass) -> Option<Force> {
    if to_axles <= Length::ZERO {
        return None;
    }
    let ratio = load_area / to_axles;
    let squared = (ratio * ratio).max(Dual::new(1.0));
    Some(Force::of((axles * squared).dual() * rear.acceleration()))
}

/// The heaviest trailer that a coupling of this D takes behind this vehicle: `D T / (g T - D)`. None where every trailer
/// will do, because `g T` is not above D.
#[must_use]
pub fn heaviest_for_d(d: Force, towing: Mass) -> Option<Mass> {
    let weight = force(towing);
    let left = weight - d;
    (left > Force::ZERO).then(|| towing * (d / left))
}

fn force(mass: Mass) -> Force {
    Force::of(mass.dual() * GRAVITY)
}

fn reduced(one: Mass, other: Mass, over: Mass) -> Option<Force> {
    (over > Mass::ZERO).then(|| force(one * (other / over)))
}

#[cfg(test)]
mod tests {
    use super::{RearSuspension, d_c_value, d_value, d_value_semi, heaviest_for_d, v_value};
    use crate::units::{Force, Length, Mass};

    fn t(tonnes: f64) -> Mass {
        Mass::new(tonnes * 1000.0)
    }

    #[track_caller]
    fn kilonewtons(force: Option<Force>, expected: f64) {
        let got = force.unwrap().si() / 1000.0;
        assert!((got - expected).abs() < 0.005, "{got} instead of {expected}");
    }

    /// D1 to D7 of `../shared/reference/data/worked-examples.csv`: inputs of D1 and D2 secondary, answers derived.
    #[test]
    fn worked_examples() {
        kilonewtons(d_value(t(18.0), t(14.0)), 77.25);
        kilonewtons(d_value_semi(t(16.0), t(16.0), t(8.0)), 62.78);
        kilonewtons(d_value(t(2.0), t(1.5)), 8.41);
        kilonewtons(d_value(t(3.5), t(3.5)), 17.17);
        let most = heaviest_for_d(Force::new(8500.0), t(1.8)).unwrap();
        assert!((most.si() - 1671.0).abs() < 0.5, "{most:?}");
        kilonewtons(d_c_value(t(18.0), t(10.0)), 63.06);
        kilonewtons(v_value(RearSuspension::Air, Length::new(6.0), Length::new(5.0), t(10.0)), 25.92);
    }

    /// A short load area counts as one as long as the drawbar; a D above the vehicle's weight sets no limit.
    #[test]
    fn edges() {
        kilonewtons(v_value(RearSuspension::Other, Length::new(3.0), Length::new(5.0), t(10.0)), 24.0);
        assert_eq!(v_value(RearSuspension::Other, Length::new(3.0), Length::ZERO, t(10.0)), None);
        assert_eq!(heaviest_for_d(Force::new(20_000.0), t(1.8)), None);
        assert_eq!(d_value(t(0.0), t(0.0)), None);
    }

    /// The inverse leads back.
    #[test]
    fn there_and_back() {
        let most = heaviest_for_d(Force::new(17_000.0), t(3.5)).unwrap();
        kilonewtons(d_value(t(3.5), most), 17.0);
    }
}
