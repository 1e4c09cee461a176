//! How well the figures of a load are known, and which entries matter most.

use std::cell::OnceCell;

use crate::figures::{Figure, Load, Part, Spreads, Subject, root_sum_of_squares, statics_spreads};
use crate::rules::HalfWidths;

/// One end of a load's density range, with its spreads once they are asked for.
pub(super) struct End<'y> {
    pub(super) load: Load<'y>,
    spreads: OnceCell<Spreads<'y>>,
}

impl<'y> End<'y> {
    pub(super) const fn new(load: Load<'y>) -> Self {
        Self { load, spreads: OnceCell::new() }
    }

    /// The spreads of its figures. What the load has read until now is what it rests on, so this is asked after the
    /// rules.
    pub(super) fn spreads(&self) -> &Spreads<'y> {
        self.spreads.get_or_init(|| Spreads::of(&self.load, |rest| HalfWidths::shipped().of(rest)))
    }

    /// The spreads of figures that weights and places decide, at once.
    pub(super) fn statics_spreads(&self, asked: &[(&Figure, Subject)]) -> Vec<f64> {
        statics_spreads(&self.load, asked, |rest| HalfWidths::shipped().of(rest))
    }

    /// What each entry adds to the distance between a figure and its bound, the largest first.
    pub(super) fn parts(&self, figure: &Figure, bound: Option<&Figure>, subject: Subject) -> Vec<Part> {
        let spreads = self.spreads();
        let mut parts = spreads.parts(figure, subject);
        for less in bound.map(|bound| spreads.parts(bound, subject)).unwrap_or_default() {
            match parts.iter_mut().find(|part| part.rest == less.rest) {
                Some(part) => {
                    part.slope -= less.slope;
                    part.reach -= less.reach;
                }
                None => parts.push(Part { slope: -less.slope, reach: -less.reach, ..less }),
            }
        }
        parts.retain(|part| part.reach.abs() > 0.0);
        parts.sort_by(|a, b| b.reach.abs().total_cmp(&a.reach.abs()).then(a.rest.cmp(&b.rest)));
        parts
    }

    /// The spread of a figure; none when nothing it rests on can be off.
    pub(super) fn spread(&self, figure: &Figure, subject: Subject) -> Option<f64> {
        let parts = self.spreads().parts(figure, subject);
        (!parts.is_empty()).then(|| root_sum_of_squares(&parts))
    }
}
