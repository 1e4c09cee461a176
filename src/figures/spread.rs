//! How far a figure can be off: the root sum of squares of sensitivity times half-width over all entries that it rests on
//! (JCGM 100, 5.1.2, for entries that are independent of one another), each sensitivity exact.

use super::{Figure, Load, Rest, Subject};
use crate::text::Span;
use crate::units::LANES;

/// A load varied along each entry that can be off.
#[derive(Debug)]
pub struct Spreads<'y> {
    /// The entries and their half-widths in SI.
    rests: Vec<(Rest, f64)>,
    /// The load varied along [`LANES`] of them at a time.
    varied: Vec<Load<'y>>,
}

/// What one entry adds to a figure's spread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// The entry, by its place among [`Spreads::rests`].
    pub rest: usize,
    /// The figure's derivative along it, in SI units of both.
    pub slope: f64,
    /// By how much the figure moves when the entry is off by its half-width, in the figure's SI unit, with its sign.
    pub reach: f64,
}

impl<'y> Spreads<'y> {
    /// Varies a load along each number that it has read so far and that can be off.
    #[must_use]
    pub fn of(load: &Load<'y>, half_width: impl Fn(&Rest) -> f64) -> Self {
        let widths = load.rests().into_iter().map(|(rest, _)| (half_width(&rest), rest));
        let rests: Vec<(Rest, f64)> =
            widths.filter(|(half, _)| can_be_off(*half)).map(|(half, rest)| (rest, half)).collect();
        let groups = rests.chunks(LANES).map(|group| group.iter().map(|(rest, _)| rest.at).collect::<Vec<_>>());
        let varied = groups.filter_map(|group| load.varied(&group)).collect();
        Self { rests, varied }
    }

    /// The entries that can be off, in the order of the files.
    pub fn rests(&self) -> impl Iterator<Item = &Rest> {
        self.rests.iter().map(|(rest, _)| rest)
    }

    /// An entry and its half-width.
    #[must_use]
    pub fn rest(&self, at: usize) -> Option<(&Rest, f64)> {
        self.rests.get(at).map(|(rest, half)| (rest, *half))
    }

    /// What each entry adds to a figure's spread, the largest first; entries that add nothing are left out.
    #[must_use]
    pub fn parts(&self, figure: &Figure, subject: Subject) -> Vec<Part> {
        let mut parts = Vec::new();
        for (group, (rests, load)) in self.rests.chunks(LANES).zip(&self.varied).enumerate() {
            let Ok(reading) = figure.of(load, subject) else { continue };
            for (lane, ((_, half), slope)) in rests.iter().zip(reading.slopes).enumerate() {
                let reach = slope * half;
                if reach.abs() > 0.0 && reach.is_finite() {
                    parts.push(Part { rest: group * LANES + lane, slope, reach });
                }
            }
        }
        parts.sort_by(|a, b| b.reach.abs().total_cmp(&a.reach.abs()).then(a.rest.cmp(&b.rest)));
        parts
    }
}

/// The spread of these parts together.
#[must_use]
pub fn root_sum_of_squares(parts: &[Part]) -> f64 {
    parts.iter().map(|part| part.reach * part.reach).sum::<f64>().sqrt()
}

/// The spreads of several figures at once, over the entries on which weights and places rest. Quicker than [`Spreads`],
/// which keeps what each entry adds: every load of a yard is asked this.
#[must_use]
pub fn statics_spreads(load: &Load<'_>, asked: &[(&Figure, Subject)], half_width: impl Fn(&Rest) -> f64) -> Vec<f64> {
    let mut squares = vec![0.0; asked.len()];
    let rests = load.rests().into_iter().filter(|(_, statics)| *statics);
    let rests: Vec<(Span, f64)> =
        rests.map(|(rest, _)| (rest.at, half_width(&rest))).filter(|(_, half)| can_be_off(*half)).collect();
    for group in rests.chunks(LANES) {
        let along: Vec<Span> = group.iter().map(|(at, _)| *at).collect();
        let varied = load.varied_statics(&along);
        for (sum, (figure, subject)) in squares.iter_mut().zip(asked) {
            let Ok(reading) = figure.of(&varied, *subject) else { continue };
            *sum +=
                group.iter().zip(reading.slopes).map(|((_, half), slope)| (slope * half) * (slope * half)).sum::<f64>();
        }
    }
    squares.into_iter().map(f64::sqrt).collect()
}

fn can_be_off(half_width: f64) -> bool {
    half_width > 0.0 && half_width.is_finite()
}
