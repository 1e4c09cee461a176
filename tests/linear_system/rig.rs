//! The statics of a rig against the linear system.

use draylint::units::Mass;
use proptest::prelude::*;

use crate::oracle::{System, second_formulation};
use crate::rig_samples::{figures, rig};

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1000))]

    #[test]
    fn the_rig_agrees_with_a_full_linear_system(rig in rig(), origin in -20.0..20.0) {
        let loads = rig.loads();
        let mut expected = second_formulation(&rig, origin);
        let pitch = expected.remove(rig.trailer.axles.len() + 1);
        let ball = expected.remove(System::BALL);
        let everything = rig.weight();
        prop_assert!((loads.ball.si() - ball).abs() < 1e-6 * everything);
        for (found, expected) in figures(&rig.loads()).into_iter().zip(expected) {
            prop_assert!((found - expected).abs() < 1e-6 * everything, "{found}, by the linear system {expected}");
        }
        if let Some(found) = loads.trailer.pitch {
            prop_assert!((found.si() - pitch).abs() < 1e-9);
        }
        prop_assert!((loads.gross().si() - everything).abs() < 1e-9 * everything);
        prop_assert!((loads.trailer.tongue + loads.trailer.group - loads.trailer.gross).abs().si() < 1e-9 * everything);
        prop_assert!(loads.trailer.axles.iter().all(|load| *load >= Mass::ZERO));
    }
}
