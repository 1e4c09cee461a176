//! Generalised least squares by hand, against nalgebra, and its properties.

use draylint::physics::{Explanation, Unexplained, explain, within_ranges};
use draylint::units::Mass;
use nalgebra::{DMatrix, DVector};
use proptest::collection::vec;
use proptest::prelude::*;

fn kg(values: &[f64]) -> Vec<Mass> {
    values.iter().copied().map(Mass::new).collect()
}

fn near(a: f64, b: f64, scale: f64) -> bool {
    (a - b).abs() <= 1e-9 * scale
}

/// Worked by hand (derived). Two readings, 10 and -4 kg apart; the gauges can be off by 3 and 2 kg, and one entry moves them
/// by 1 and -1 kg: `C = [9 0; 0 4] + [1 -1; -1 1] = [10 -1; -1 5]`, its determinant 49, `C⁻¹ = [5 1; 1 10] / 49`. The
/// cause moves them by 2 and 1 kg: `rᵀC⁻¹ = (11, 12) / 49`, so `rᵀC⁻¹a = (110 - 48) / 49 = 62/49` and
/// `rᵀC⁻¹r = (22 + 12) / 49 = 34/49`: off by 62/34 half-widths, give or take the root of 49/34. Before, the sum of squares
/// is `(500 - 80 + 160) / 49 = 580/49`; 62 x 62 / 34 / 49 of it is explained, and 162/17 is left.
#[test]
fn two_readings_by_hand() {
    let others = [kg(&[3.0, 0.0]), kg(&[0.0, 2.0]), kg(&[1.0, -1.0])];
    let found = explain(&kg(&[10.0, -4.0]), &kg(&[2.0, 1.0]), &others).unwrap();
    assert!(near(found.off.si(), 31.0 / 17.0, 1.0), "{found:?}");
    assert!(near(found.spread.si(), 7.0 / 34.0_f64.sqrt(), 1.0), "{found:?}");
    assert!(near(found.misfit.si(), 162.0 / 17.0, 1.0), "{found:?}");
}

/// A trailer worked by hand (derived), in lb: a load of 6,000 lb whose place moves tongue and axles oppositely, by 6000/205 lb
/// an inch, half an inch its half-width. Tongue 351 lb less than computed and axles 351 lb more, as it stands 12 in farther
/// back: 24 half-widths, whatever the gauges' own spreads are, and nothing is left.
#[test]
fn what_the_tongue_lost_the_axles_gained() {
    let inch = 6000.0 / 205.0;
    let cause = [-inch / 2.0, inch / 2.0];
    let apart = [-12.0 * inch, 12.0 * inch];
    for own in [[20.0, 85.0], [85.0, 20.0], [1.0, 1.0]] {
        let others = [kg(&[own[0], 0.0]), kg(&[0.0, own[1]]), kg(&[36.6, 263.4])];
        let found = explain(&kg(&apart), &kg(&cause), &others).unwrap();
        assert!(near(found.off.si(), 24.0, 24.0) && near(found.misfit.si(), 0.0, 1.0), "{found:?}");
    }
}

#[test]
fn what_cannot_be_told_is_said() {
    let one = [kg(&[1.0])];
    assert_eq!(explain(&[], &[], &[]), Err(Unexplained::Shape));
    assert_eq!(explain(&kg(&[1.0]), &kg(&[1.0, 2.0]), &one), Err(Unexplained::Shape));
    assert_eq!(explain(&kg(&[1.0, 1.0]), &kg(&[1.0, 2.0]), &one), Err(Unexplained::Shape));
    assert_eq!(explain(&kg(&[1.0]), &kg(&[0.0]), &one), Err(Unexplained::NothingMoves));
    assert_eq!(explain(&kg(&[1.0]), &kg(&[1.0]), &[]), Err(Unexplained::Exact));
    // Two readings that only one entry can move are the same reading twice.
    assert_eq!(explain(&kg(&[1.0, 1.0]), &kg(&[1.0, 0.0]), &[kg(&[1.0, 3.0])]), Err(Unexplained::Exact));
    assert_eq!(explain(&kg(&[f64::NAN]), &kg(&[1.0]), &one), Err(Unexplained::NotFinite));
}

/// The same by nalgebra's LU of the normal equations, with the covariance inverted outright.
fn by_nalgebra(apart: &[f64], cause: &[f64], others: &[Vec<f64>]) -> (f64, f64, f64) {
    let n = apart.len();
    let covariance = others.iter().fold(DMatrix::zeros(n, n), |sum: DMatrix<f64>, other| {
        let other = DVector::from_row_slice(other);
        sum + &other * other.transpose()
    });
    let inverse = covariance.lu().try_inverse().expect("every gauge can be off");
    let (apart, cause) = (DVector::from_row_slice(apart), DVector::from_row_slice(cause));
    let information = (cause.transpose() * &inverse * &cause)[0];
    let off = (cause.transpose() * &inverse * &apart)[0] / information;
    let left = &apart - &cause * off;
    (off, information.sqrt().recip(), (left.transpose() * inverse * left)[0])
}

/// Apart, cause, others; every gauge can be off by itself.
fn problem(most: usize) -> impl Strategy<Value = (Vec<f64>, Vec<f64>, Vec<Vec<f64>>)> {
    (1..=most).prop_flat_map(|count| {
        let row = move |reach: f64| vec(-reach..reach, count);
        (row(400.0), row(60.0), vec(row(60.0), 0..12), vec(3.0..80.0_f64, count)).prop_map(
            |(apart, cause, mut others, own)| {
                for (at, half) in own.into_iter().enumerate() {
                    others.push((0..apart.len()).map(|other| if other == at { half } else { 0.0 }).collect());
                }
                (apart, cause, others)
            },
        )
    })
}

fn explained(apart: &[f64], cause: &[f64], others: &[Vec<f64>]) -> Explanation {
    let others: Vec<Vec<Mass>> = others.iter().map(|other| kg(other)).collect();
    explain(&kg(apart), &kg(cause), &others).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn as_nalgebra_has_it((apart, cause, others) in problem(12)) {
        let found = explained(&apart, &cause, &others);
        let (off, spread, misfit) = by_nalgebra(&apart, &cause, &others);
        // The inverse loses as many digits as the covariance's condition number has, some four here.
        let size: f64 = apart.iter().map(|apart| apart * apart / 9.0).sum();
        prop_assert!(near(found.off.si(), off, off.abs().max(spread)), "{found:?}, {off}");
        prop_assert!(near(found.spread.si(), spread, spread), "{found:?}, {spread}");
        prop_assert!(near(found.misfit.si(), misfit, size), "{found:?}, {misfit}");
    }

    #[test]
    fn what_one_cause_did_is_found((_, cause, others) in problem(12), off in -30.0..30.0_f64) {
        let apart: Vec<f64> = cause.iter().map(|reach| reach * off).collect();
        let found = explained(&apart, &cause, &others);
        prop_assert!(near(found.off.si(), off, off.abs().max(found.spread.si())), "{found:?}");
        prop_assert!(found.misfit.si() <= 1e-9, "{found:?}");
    }

    #[test]
    fn no_other_value_fits_better((apart, cause, others) in problem(6), step in -3.0..3.0_f64) {
        let best = explained(&apart, &cause, &others);
        let moved: Vec<f64> =
            apart.iter().zip(&cause).map(|(apart, cause)| apart - (best.off.si() + step) * cause).collect();
        // What is left at another value is the least misfit and the square of the step in units of the spread.
        let (again, wanted) = (explained(&moved, &cause, &others), (step / best.spread.si()).powi(2));
        prop_assert!(near(again.off.si(), -step, 1.0 + step.abs() + best.spread.si()), "{again:?}");
        let squares = |values: &[f64]| {
            let n = values.len();
            let covariance = others.iter().fold(DMatrix::zeros(n, n), |sum: DMatrix<f64>, other| {
                let other = DVector::from_row_slice(other);
                sum + &other * other.transpose()
            });
            let values = DVector::from_row_slice(values);
            (values.transpose() * covariance.lu().try_inverse().unwrap() * &values)[0]
        };
        let size: f64 = apart.iter().chain(&moved).map(|apart| apart * apart / 9.0).sum();
        prop_assert!(near(squares(&moved), best.misfit.si() + wanted, size));
    }

    #[test]
    fn in_other_units_it_is_the_same((apart, cause, others) in problem(6)) {
        let pounds = |values: &[f64]| values.iter().map(|value| value / 0.453_592_37).collect::<Vec<f64>>();
        let other: Vec<Vec<f64>> = others.iter().map(|other| pounds(other)).collect();
        let (one, two) = (explained(&apart, &cause, &others), explained(&pounds(&apart), &pounds(&cause), &other));
        prop_assert!(near(one.off.si(), two.off.si(), one.off.si().abs().max(one.spread.si())));
        prop_assert!(near(one.misfit.si(), two.misfit.si(), one.misfit.si().max(1.0) * 10.0), "{one:?} {two:?}");
    }

    /// Two ranges, every hundredth of each tried: none is nearer than what is found.
    #[test]
    fn nothing_within_the_ranges_is_nearer(
        apart in vec(-300.0..300.0_f64, 3),
        tolerance in vec(5.0..90.0_f64, 3),
        ranges in vec(vec(-200.0..200.0_f64, 3), 2),
    ) {
        let sides: Vec<Vec<Mass>> = ranges.iter().map(|range| kg(range)).collect();
        let found = within_ranges(&kg(&apart), &kg(&tolerance), &sides);
        let squares = |one: f64, other: f64| -> f64 {
            let left = |at: usize| (apart[at] - one * ranges[0][at] - other * ranges[1][at]) / tolerance[at];
            (0..3).map(|at| left(at).powi(2)).sum()
        };
        prop_assert!(found.iter().all(|along| (0.0..=1.0).contains(&along.si())), "{found:?}");
        let best = squares(found[0].si(), found[1].si());
        for at in 0..=10_000_u32 {
            let (one, other) = (f64::from(at / 101) / 99.0, f64::from(at % 101) / 100.0);
            let tried = squares(one.min(1.0), other);
            prop_assert!(best <= tried * (1.0 + 1e-6) + 1e-9, "{found:?}: {best}, at {one} and {other} {tried}");
        }
    }
}
