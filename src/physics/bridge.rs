//! The federal bridge formula: what a group of consecutive axles may weigh by its length and number of axles.

use crate::units::{Length, Mass};

/// One foot, in m.
const FOOT: f64 = 0.3048;
/// One pound, in kg.
const POUND: f64 = 0.453_592_37;
/// Lengths this near to a whole number of feet or inches count as that: far below what a tape shows, far above rounding.
const SAME: f64 = 1e-9;

/// An axle as a road sees it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoadAxle {
    /// Its station, rearward positive, in m from any one point.
    pub station: Length,
    /// What it carries.
    pub load: Mass,
}

/// Axles that follow one another without a gap, from the front.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AxleGroup {
    /// The first axle's place among all, from 0.
    pub first: usize,
    /// The last axle's place.
    pub last: usize,
    /// Between the centres of the first and the last; nothing for one axle.
    pub length: Length,
    /// What they carry together.
    pub load: Mass,
}

impl AxleGroup {
    /// How many axles it has.
    #[must_use]
    pub const fn axles(&self) -> usize {
        self.last - self.first + 1
    }
}

/// Every group of consecutive axles, single axles included, in order of the first axle and then of the last. `axles`
/// stand in order, front to rear.
#[must_use]
pub fn axle_groups(axles: &[RoadAxle]) -> Vec<AxleGroup> {
    let mut groups = Vec::new();
    for (first, from) in axles.iter().enumerate() {
        let mut load = Mass::ZERO;
        for (last, to) in axles.iter().enumerate().skip(first) {
            load += to.load;
            groups.push(AxleGroup { first, last, length: to.station - from.station, load });
        }
    }
    groups
}

/// What the bridge formula allows a group of this length and number of axles, in kg: none for fewer than two axles,
/// which it does not speak of.
///
/// `W = 500 (L N / (N - 1) + 12 N + 36)` lb, L in whole feet between the extreme axles, rounded to 500 lb with ties
/// down. Up to 8 ft (96 in) the group is a tandem: 34,000 lb however many axles. Between 8 and 9 ft two axles have
/// 38,000 and more have 42,000 lb. Two consecutive tandems may carry 34,000 lb each when their first and last axle are
/// 36 ft or more apart: that concerns four axles at 36, 37 and 38 ft, where the formula gives less than 68,000 lb.
///
/// A length between two whole feet counts as the shorter one, the cautious reading. The caps on axle, tandem and gross
/// weight stand above it and are not applied here.
///
/// Sources: `../shared/reference/us-rules.md` 6.2 and `../shared/reference/data/bridge-formula.csv`: formula and most
/// values seen in state tables, whole feet, ties down and the 36 ft exception secondary, the values between 8 and 9 ft
/// seen, their split memory.
#[must_use]
pub fn bridge_limit(length: Length, axles: usize) -> Option<Mass> {
    let count = u32::try_from(axles).ok().filter(|count| *count >= 2)?;
    let feet = length.si() / FOOT;
    let pounds = if feet <= 8.0 + SAME {
        34_000.0
    } else if feet < 9.0 - SAME {
        if count == 2 { 38_000.0 } else { 42_000.0 }
    } else {
        bridge_formula((feet + SAME).floor(), f64::from(count))
    };
    Some(Mass::new(pounds * POUND))
}

/// The same where the group is two consecutive tandems: 34,000 lb each where the first and the last axle are 36 ft or
/// more apart. Each pair is a tandem where it is longer than 40 in and not longer than 96 in.
///
/// Source: as for [`bridge_limit`]; the exception is secondary.
#[must_use]
pub fn bridge_limit_of(axles: &[RoadAxle]) -> Option<Mass> {
    let (first, last) = (axles.first()?, axles.last()?);
    let length = last.station - first.station;
    let formula = bridge_limit(length, axles.len())?;
    let [a, b, c, d] = axles else { return Some(formula) };
    let tandem = |one: &RoadAxle, other: &RoadAxle| {
        let inches = (other.station - one.station).si() / FOOT * 12.0;
        inches > 40.0 + SAME && inches <= 96.0 + SAME
    };
    let apart = length.si() / FOOT >= 36.0 - SAME;
    let tandems = tandem(a, b) && tandem(c, d);
    Some(if apart && tandems { formula.max(Mass::new(68_000.0 * POUND)) } else { formula })
}

/// The formula in lb, of a whole number of feet, to the nearest 500 lb, ties down.
fn bridge_formula(feet: f64, axles: f64) -> f64 {
    let steps = feet * axles / (axles - 1.0) + 12.0 * axles + 36.0;
    // A tie lies exactly half way: whole feet times N / (N - 1) is off by rounding alone.
    (steps - 0.5 - SAME).ceil() * 500.0
}

#[cfg(test)]
mod tests {
    use super::{AxleGroup, FOOT, POUND, RoadAxle, axle_groups, bridge_limit, bridge_limit_of};
    use crate::units::{Length, Mass};

    fn limit(feet: f64, axles: usize) -> f64 {
        (bridge_limit(Length::new(feet * FOOT), axles).unwrap().si() / POUND).round()
    }

    /// Values of the published table: `../shared/reference/us-rules.md` 6.3, seen but for N = 3, L = 9 (memory) and the
    /// tie rounding (secondary); the derived one is marked.
    #[test]
    fn published_values() {
        for (feet, axles, pounds) in [
            (8.0, 2, 34_000.0),
            (8.5, 2, 38_000.0),
            (8.5, 3, 42_000.0),
            (9.0, 2, 39_000.0),
            (9.0, 3, 42_500.0),  // tie, down
            (11.0, 3, 44_000.0), // tie, down
            (16.0, 4, 52_500.0),
            (18.0, 5, 59_000.0), // tie, down
            (30.0, 5, 66_500.0), // tie, down
            (27.0, 7, 75_500.0), // tie, down
            (36.0, 5, 70_500.0),
            (51.0, 5, 80_000.0), // derived
        ] {
            assert!((limit(feet, axles) - pounds).abs() < 0.5, "{feet} ft, {axles} axles: {}", limit(feet, axles));
        }
        assert_eq!(bridge_limit(Length::new(10.0), 1), None);
    }

    /// 96 in are a tandem, a hair more is not; a length just short of a foot counts as the foot before.
    #[test]
    fn the_edges() {
        assert!((limit(96.0 / 12.0, 2) - 34_000.0).abs() < 0.5);
        assert!((limit(96.01 / 12.0, 2) - 38_000.0).abs() < 0.5);
        assert!((limit(9.99, 2) - 39_000.0).abs() < 0.5);
    }

    /// U23: 12,000, 34,000 and 34,000 lb; axles 1-3 20 ft, 2-5 35 or 36 ft, 1-5 51 ft (derived; inputs from memory).
    #[test]
    fn a_five_axle_rig() {
        let rig = |last: f64| {
            let at = |feet: f64, pounds: f64| RoadAxle {
                station: Length::new(feet * FOOT),
                load: Mass::new(pounds * POUND),
            };
            [
                at(0.0, 12_000.0),
                at(16.0, 17_000.0),
                at(20.0, 17_000.0),
                at(16.0 + last - 4.0, 17_000.0),
                at(16.0 + last, 17_000.0),
            ]
        };
        let short = rig(35.0);
        let groups = axle_groups(&short);
        assert_eq!(groups.len(), 15);
        let group = |first: usize, last: usize| -> AxleGroup {
            *groups.iter().find(|group| (group.first, group.last) == (first, last)).unwrap()
        };
        let allowed = |axles: &[RoadAxle]| (bridge_limit_of(axles).unwrap().si() / POUND).round();
        let carries = |first, last| (group(first, last).load.si() / POUND).round();
        assert!((carries(0, 2) - 46_000.0).abs() < 0.5 && (allowed(&short[0..3]) - 51_000.0).abs() < 0.5);
        assert!((carries(1, 4) - 68_000.0).abs() < 0.5 && (allowed(&short[1..5]) - 65_500.0).abs() < 0.5);
        assert!((carries(0, 4) - 80_000.0).abs() < 0.5 && (allowed(&short) - 80_000.0).abs() < 0.5);
        // At 36 ft the exception cures it.
        let long = rig(36.0);
        assert!((allowed(&long[1..5]) - 68_000.0).abs() < 0.5);
        assert_eq!(group(1, 4).axles(), 4);
    }
}
