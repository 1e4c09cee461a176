//! The linear program of a cargo that stands in balance, and its dual.

use microlp::{ComparisonOp, OptimizationDirection, Problem};

use crate::units::Dual;

/// Forces are solved for in this part of the weight: the simplex takes bounds as kept within an absolute 1e-7, which is too
/// coarse for parts of the whole.
const FINE: f64 = 1e4;

/// A force that can be as large as is favourable.
pub(super) struct Column {
    /// Force and moment about the centre of gravity, in parts of the weight.
    pub(super) wrench: [Dual; 6],
    /// Its part in each bound that several share, by the bound's place.
    pub(super) shares: Vec<(usize, Dual)>,
    /// Its own bound.
    pub(super) most: Option<Dual>,
    pub(super) gain: f64,
    /// The tie that it is.
    pub(super) pull: Option<usize>,
}

/// The program of one direction: columns, what the balance must come to, and the shared bounds.
pub(super) struct Program {
    pub(super) columns: Vec<Column>,
    pub(super) balance: [Dual; 6],
    pub(super) shared: Vec<Dual>,
}

impl Program {
    /// The best value and its forces.
    pub(super) fn best(&self) -> Option<(f64, Vec<f64>)> {
        let mut problem = Problem::new(OptimizationDirection::Maximize);
        let vars: Vec<_> = self
            .columns
            .iter()
            .map(|column| {
                problem.add_var(column.gain, (0.0, column.most.map_or(f64::INFINITY, |most| most.value() * FINE)))
            })
            .collect();
        for row in 0..6 {
            let terms: Vec<_> = self
                .columns
                .iter()
                .zip(&vars)
                .filter_map(|(column, var)| Some((*var, column.wrench.get(row)?.value())))
                .filter(|(_, part)| part.abs() > 0.0)
                .collect();
            problem.add_constraint(terms, ComparisonOp::Eq, self.balance.get(row)?.value() * FINE);
        }
        for (row, bound) in self.shared.iter().enumerate() {
            let terms: Vec<_> = self
                .columns
                .iter()
                .zip(&vars)
                .flat_map(|(column, var)| column.shares.iter().map(|(at, part)| (*var, *at, part.value())))
                .filter(|(_, at, _)| *at == row)
                .map(|(var, _, part)| (var, part))
                .collect();
            problem.add_constraint(terms, ComparisonOp::Le, bound.value() * FINE);
        }
        let solution = problem.solve().ok()?.into_solution().ok()?;
        let forces = vars.iter().map(|var| solution.var_value(*var) / FINE).collect();
        solution.objective().is_finite().then(|| (solution.objective() / FINE, forces))
    }

    /// What each row and each column's own bound is worth: the dual program.
    pub(super) fn worth(&self) -> Option<(Vec<f64>, Vec<f64>)> {
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let free = (f64::NEG_INFINITY, f64::INFINITY);
        let mut rows: Vec<_> = self.balance.iter().map(|bound| problem.add_var(bound.value(), free)).collect();
        rows.extend(self.shared.iter().map(|bound| problem.add_var(bound.value(), (0.0, f64::INFINITY))));
        let bounds: Vec<_> = self
            .columns
            .iter()
            .map(|column| column.most.map(|most| problem.add_var(most.value(), (0.0, f64::INFINITY))))
            .collect();
        for (column, bound) in self.columns.iter().zip(&bounds) {
            let mut terms: Vec<_> = column.wrench.iter().zip(&rows).map(|(part, row)| (*row, part.value())).collect();
            terms.extend(column.shares.iter().filter_map(|(at, part)| Some((*rows.get(6 + at)?, part.value()))));
            terms.extend(bound.map(|bound| (bound, 1.0)));
            problem.add_constraint(terms, ComparisonOp::Ge, column.gain * FINE);
        }
        let solution = problem.solve().ok()?.into_solution().ok()?;
        let rows = rows.iter().map(|row| solution.var_value(*row) / FINE).collect();
        let bounds = bounds.iter().map(|bound| bound.map_or(0.0, |bound| solution.var_value(bound) / FINE)).collect();
        Some((rows, bounds))
    }
}
