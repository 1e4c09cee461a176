//! What gauges showed against what was computed: which one cause would explain the difference, by generalised least
//! squares.
//!
//! The model is linear: what was read less what was computed is `a = h r + e`. `r` is how far each reading's figure moves
//! when the cause is off by its half-width, `h` by how many half-widths it is off, and `e` what all other causes do
//! together, with the covariance `C = Σ r rᵀ` over them. All half-widths are taken at one coverage, so one factor stands
//! before every term and cancels. Figures that share entries have errors that go together, which is why readings are
//! not simply weighed by their own spreads.
//!
//! Source: propagation of errors, JCGM 100, 5.1.2 and 5.2.2 (from memory); the estimate `h = rᵀC⁻¹a / rᵀC⁻¹r` with
//! variance `1 / rᵀC⁻¹r` is that of A. C. Aitken, "On least squares and linear combination of observations" (1935), as
//! textbooks have it (from memory).

use std::fmt;

use crate::units::{Mass, Share};

/// One cause taken to be wrong by itself, as the readings have it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Explanation {
    /// By how many of its half-widths it is off, with its sign; 1 is one half-width.
    pub off: Share,
    /// How well the readings tell that: the half-width of `off`, in the same measure.
    pub spread: Share,
    /// What it leaves unexplained: the weighted sum of squares of the residuals, zero where one reading is explained.
    pub misfit: Share,
}

/// Why readings tell nothing of a cause.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unexplained {
    /// No readings, or not as many reaches as readings.
    Shape,
    /// The cause moves none of the figures that were read.
    NothingMoves,
    /// Some combination of the readings cannot be off at all, so that no weights can be given.
    Exact,
    /// A number that is not finite.
    NotFinite,
}

impl fmt::Display for Unexplained {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Shape => "there must be readings, and as many reaches as readings",
            Self::NothingMoves => "it moves none of the figures that were read",
            Self::Exact => "some combination of the readings cannot be off",
            Self::NotFinite => "a number is not finite",
        })
    }
}

impl std::error::Error for Unexplained {}

/// The part of its diagonal below which a pivot is rounding.
const ROUNDING: f64 = 1e-13;

/// By how much a cause would have to be off to explain the readings, were it alone wrong. `apart` is what each gauge
/// showed less what is computed; `cause` is how far each of those figures moves when the cause is off by its half-width;
/// `others` is the same for everything else that can be off, the gauges themselves included.
///
/// ```
/// # use draylint::physics::explain;
/// # use draylint::units::Mass;
/// // One reading is 30 kg apart; the cause moves it by 10 kg: three half-widths, whatever the others are.
/// let kg = Mass::new;
/// let found = explain(&[kg(30.0)], &[kg(10.0)], &[vec![kg(4.0)]])?;
/// assert_eq!(found.off.si(), 3.0);
/// assert_eq!(found.misfit.si(), 0.0);
/// # Ok::<(), draylint::physics::Unexplained>(())
/// ```
///
/// # Errors
/// See [`Unexplained`].
pub fn explain(apart: &[Mass], cause: &[Mass], others: &[Vec<Mass>]) -> Result<Explanation, Unexplained> {
    let count = apart.len();
    if count == 0 || cause.len() != count || others.iter().any(|other| other.len() != count) {
        return Err(Unexplained::Shape);
    }
    let numbers = apart.iter().chain(cause).chain(others.iter().flatten());
    if !numbers.into_iter().all(|number| number.si().is_finite()) {
        return Err(Unexplained::NotFinite);
    }
    let factor = Factor::of(count, others).ok_or(Unexplained::Exact)?;
    let apart = factor.whitened(apart.iter().map(|mass| mass.si()));
    let cause = factor.whitened(cause.iter().map(|mass| mass.si()));
    let information = dot(&cause, &cause);
    if information <= 0.0 {
        return Err(Unexplained::NothingMoves);
    }
    let off = dot(&cause, &apart) / information;
    let left = apart.iter().zip(&cause).map(|(apart, cause)| apart - off * cause);
    let misfit = if count == 1 { 0.0 } else { left.map(|left| left * left).sum() };
    let found = Explanation {
        off: Share::new(off),
        spread: Share::new(information.sqrt().recip()),
        misfit: Share::new(misfit),
    };
    let finite = found.off.si().is_finite() && found.spread.si().is_finite() && found.misfit.si().is_finite();
    if finite { Ok(found) } else { Err(Unexplained::NotFinite) }
}

/// How far along each range the readings are met best: 0 at its beginning, 1 at its end. `apart` is what each gauge showed
/// less what is computed at the beginning of all ranges, `tolerance` how far the two may lie apart, above zero; a range
/// is how far each figure moves from its beginning to its end. Figures are linear in what ranges (a weight in its
/// density), so the sum of squares is convex, and going along one range after the other finds its least.
#[must_use]
pub fn within_ranges(apart: &[Mass], tolerance: &[Mass], ranges: &[Vec<Mass>]) -> Vec<Share> {
    let weights: Vec<f64> = tolerance.iter().map(|one| one.si().max(f64::MIN_POSITIVE).recip()).collect();
    let mut left: Vec<f64> = apart.iter().zip(&weights).map(|(apart, weight)| apart.si() * weight).collect();
    let ranges: Vec<Vec<f64>> = ranges
        .iter()
        .map(|range| range.iter().zip(&weights).map(|(reach, weight)| reach.si() * weight).collect())
        .collect();
    let mut along = vec![0.0_f64; ranges.len()];
    // Ranges that move the figures nearly alike take many rounds; nearly all take a few.
    for _ in 0..50_000 {
        let mut moved = 0.0_f64;
        for (place, range) in along.iter_mut().zip(&ranges) {
            let square = dot(range, range);
            let wanted = (*place + dot(range, &left) / square).clamp(0.0, 1.0);
            if !(square > 0.0 && wanted.is_finite()) {
                continue;
            }
            let step = wanted - *place;
            *place = wanted;
            left.iter_mut().zip(range).for_each(|(left, reach)| *left -= step * reach);
            moved = moved.max(step.abs());
        }
        if moved < 1e-13 {
            break;
        }
    }
    along.into_iter().map(Share::new).collect()
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// The lower triangle `L` with `L Lᵀ = C`, row by row: row `i` has `i + 1` numbers.
struct Factor(Vec<Vec<f64>>);

impl Factor {
    /// The covariance that these causes give so many readings, factored by Cholesky's method; none where it is not
    /// positive definite to rounding.
    fn of(count: usize, causes: &[Vec<Mass>]) -> Option<Self> {
        let mut rows: Vec<Vec<f64>> = Vec::with_capacity(count);
        for at in 0..count {
            let covariance = |other: usize| -> f64 {
                let pair = |cause: &Vec<Mass>| Some(cause.get(at)?.si() * cause.get(other)?.si());
                causes.iter().filter_map(pair).sum()
            };
            let variance = covariance(at);
            let mut row = Vec::with_capacity(at + 1);
            for (other, above) in rows.iter().enumerate() {
                let (before, pivot) = (above.get(..other)?, above.get(other)?);
                row.push((covariance(other) - dot(&row, before)) / pivot);
            }
            let pivot = variance - dot(&row, &row);
            if !(pivot > ROUNDING * variance && pivot.is_finite()) {
                return None;
            }
            row.push(pivot.sqrt());
            rows.push(row);
        }
        Some(Self(rows))
    }

    /// `L⁻¹ v`: what has the covariance of this factor is then independent, each of variance 1.
    fn whitened(&self, values: impl Iterator<Item = f64>) -> Vec<f64> {
        let mut out: Vec<f64> = Vec::with_capacity(self.0.len());
        for (row, value) in self.0.iter().zip(values) {
            let Some((pivot, before)) = row.split_last() else { continue };
            let next = (value - dot(before, &out)) / pivot;
            out.push(next);
        }
        out
    }
}
