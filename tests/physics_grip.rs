//! Grip on a slope, whatever the machine: against the balance of forces and moments, and how it must change.

use draylint::physics::{Acting, Facing, Stance, grip_needed, grip_on};
use draylint::units::{Angle, Length, Quantity, Share};
use nalgebra::{Matrix3, Vector3};
use proptest::prelude::*;

fn stance() -> impl Strategy<Value = Stance> {
    (0.5..4.0, 0.05..0.95, 0.1..2.0, any::<bool>()).prop_map(
        |(wheelbase, part, height, forward): (f64, f64, f64, bool)| Stance {
            wheelbase: Length::new(wheelbase),
            ahead: Length::new(wheelbase * part),
            height: Length::new(height),
            facing: if forward { Facing::Forward } else { Facing::Backward },
        },
    )
}

/// The forces square to the slope on rear and front axle and the one along it, for a weight of 1: two balances of forces,
/// and one of moments about the rear axle's contact, in coordinates of the slope.
fn balance(stance: &Stance, slope: f64) -> Vector3<f64> {
    let (sin, cos) = slope.to_radians().sin_cos();
    // The front axle stands uphill of the rear one, or downhill.
    let uphill = if stance.facing == Facing::Forward { 1.0 } else { -1.0 };
    let (front, middle) = (uphill * stance.wheelbase.si(), uphill * stance.ahead.si());
    let forces = Matrix3::new(1.0, 1.0, 0.0, 0.0, 0.0, 1.0, 0.0, front, 0.0);
    // The weight pulls downhill at the height of the centre of gravity and presses square to the slope at its place.
    let weight = Vector3::new(cos, sin, middle * cos - stance.height.si() * sin);
    forces.lu().solve(&weight).expect("two axles apart")
}

proptest! {
    #[test]
    fn the_friction_needed_is_what_the_balance_of_forces_asks(stance in stance(), slope in 0.5_f64..35.0) {
        let angle = Angle::new(slope);
        let forces = balance(&stance, slope);
        let (rear, front, along) = (forces[0], forces[1], forces[2]);
        let share = stance.rear_share(angle).si();
        prop_assert!((share - rear / (rear + front)).abs() < 1e-12);
        if rear > 1e-6 && front > 1e-6 {
            let needed = |acting| grip_needed(&stance, acting, angle).map(Share::si);
            for (acting, pressed) in [(Acting::Rear, rear), (Acting::Front, front), (Acting::All, rear + front)] {
                let needed = needed(acting).expect("it stands");
                prop_assert!((needed - along / pressed).abs() < 1e-9 * needed, "{acting:?}: {needed}");
            }
        } else if rear < 0.0 || front < 0.0 {
            prop_assert_eq!(grip_needed(&stance, Acting::All, angle), None);
        }
    }

    /// Turned round, what held at the rear is held at the front of a machine whose weight lies as far from that axle.
    #[test]
    fn facing_is_a_mirror(stance in stance(), slope in 0.0_f64..35.0) {
        let angle = Angle::new(slope);
        let mirrored = Stance {
            ahead: stance.wheelbase - stance.ahead,
            facing: if stance.facing == Facing::Forward { Facing::Backward } else { Facing::Forward },
            ..stance
        };
        let (one, other) = (stance.share(Acting::Rear, angle), mirrored.share(Acting::Front, angle));
        prop_assert_eq!(one.is_some(), other.is_some());
        if let (Some(one), Some(other)) = (one, other) {
            prop_assert!((one.si() - other.si()).abs() < 1e-12);
            prop_assert!((0.0..=1.0).contains(&one.si()));
        }
    }

    /// Steeper needs more, also at the lower axle, whose share grows.
    #[test]
    fn a_steeper_slope_needs_more(stance in stance(), slope in 0.5_f64..30.0, more in 0.1_f64..5.0) {
        for acting in [Acting::All, Acting::Front, Acting::Rear] {
            let at = |slope| grip_needed(&stance, acting, Angle::new(slope)).map(Share::si);
            if let (Some(less), Some(more)) = (at(slope), at(slope + more)) {
                prop_assert!(less < more, "{acting:?}: {less} {more}");
            }
            // Fewer wheels never need less.
            if let Some(needed) = at(slope) {
                prop_assert!(needed >= grip_on(Angle::new(slope)).si() * (1.0 - 1e-12));
            }
        }
    }

    #[test]
    fn slopes_along_the_entries_are_derivatives(stance in stance(), slope in 1.0_f64..20.0) {
        let acting = Acting::Front;
        let angle = Angle::new(slope);
        let varied = Stance { height: stance.height.varied(0), ahead: stance.ahead.varied(1), ..stance };
        let at = |height: f64, ahead: f64, slope: f64| {
            let moved = Stance { height: Length::new(height), ahead: Length::new(ahead), ..stance };
            grip_needed(&moved, acting, Angle::new(slope)).map(Share::si)
        };
        let (height, ahead, step) = (stance.height.si(), stance.ahead.si(), 1e-6);
        let told = grip_needed(&varied, acting, angle.varied(2)).map(|needed| (needed.si(), needed.dual().slopes()));
        let pairs = [
            (at(height + step, ahead, slope), at(height - step, ahead, slope)),
            (at(height, ahead + step, slope), at(height, ahead - step, slope)),
            (at(height, ahead, slope + step), at(height, ahead, slope - step)),
        ];
        if let Some((needed, slopes)) = told.filter(|(needed, _)| *needed < 3.0) {
            for (slope, pair) in slopes.into_iter().zip(pairs) {
                let (Some(above), Some(below)) = pair else { continue };
                let by_difference = (above - below) / (2.0 * step);
                prop_assert!((slope - by_difference).abs() < 1e-4 * (1.0 + needed * needed), "{slope} {by_difference}");
            }
        }
    }
}

/// `tan φ > µ` slides: for 0.5, 26.57 degrees; for 0.3, 16.70; for 0.1, 5.71 (angles of friction, any textbook).
#[test]
fn angles_of_friction_as_textbooks_have_them() {
    for (friction, degrees) in [(0.1, 5.711), (0.2, 11.310), (0.3, 16.699), (0.5, 26.565), (0.7, 34.992), (1.0, 45.0)] {
        assert!((grip_on(Angle::new(degrees)).si() - friction).abs() < 1e-4, "{friction}");
        assert!(
            grip_on(Angle::new(degrees - 0.01)).si() < friction && friction < grip_on(Angle::new(degrees + 0.01)).si()
        );
    }
}
