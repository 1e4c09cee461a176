//! How far a figure can be off: the root sum of squares of sensitivity times half-width over all entries that it rests on
//! (JCGM 100, 5.1.2, for entries that are independent of one another), each sensitivity exact.

use super::{Figure, Load, Rest, Subject};

/// A load varied along each entry that can be off.
#[derive(Debug)]
pub struct Spreads<'y> {
    /// The entries and their half-widths in SI.
    rests: Vec<(Rest, f64)>,
    /// The load varied along each of them.
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
        let (mut rests, mut varied) = (Vec::new(), Vec::new());
        for (rest, _) in load.rests() {
            let half = half_width(&rest);
            if can_be_off(half)
                && let Some(along) = load.varied(rest.at)
            {
                rests.push((rest, half));
                varied.push(along);
            }
        }
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
        let each = self.rests.iter().zip(&self.varied).enumerate();
        let mut parts: Vec<Part> = each
            .filter_map(|(rest, ((_, half), load))| {
                let slope = figure.of(load, subject).ok()?.slope;
                let reach = slope * half;
                (reach.abs() > 0.0 && reach.is_finite()).then_some(Part { rest, slope, reach })
            })
            .collect();
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
    for (rest, statics) in load.rests() {
        let half = half_width(&rest);
        if !statics || !can_be_off(half) {
            continue;
        }
        let varied = load.varied_statics(rest.at);
        for (sum, (figure, subject)) in squares.iter_mut().zip(asked) {
            let slope = figure.of(&varied, *subject).map_or(0.0, |reading| reading.slope);
            *sum += (slope * half) * (slope * half);
        }
    }
    squares.into_iter().map(f64::sqrt).collect()
}

fn can_be_off(half_width: f64) -> bool {
    half_width > 0.0 && half_width.is_finite()
}
