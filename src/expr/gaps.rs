//! How far apart the two sides of each comparison are: for whoever looks for where a condition turns.

use super::condition::{Comparison, Condition, Number, Operands, Text};
use super::eval::Run;
use super::{Expr, Value};

impl Expr {
    /// The left side less the right side of each comparison of numbers, in the order in which [`Expr::comparison`] counts
    /// them; nothing where a side is not known, and for comparisons of texts, flags and lists. Unlike [`Expr::eval`] this
    /// looks at every comparison, whichever decides.
    pub fn gaps<M: Clone>(&self, read: &mut dyn FnMut(usize) -> Result<Value, M>) -> Vec<Option<f64>> {
        let mut gaps = vec![None; self.comparisons()];
        let mut run = Run::without_record(read);
        each(&self.root, &mut |comparison| {
            if let Operands::Numbers(left, right) = &comparison.operands
                && let (Some(left), Some(right)) = (run.number(left), run.number(right))
                && let Some(gap) = gaps.get_mut(comparison.at)
            {
                *gap = Some(left - right).filter(|gap| gap.is_finite());
            }
        });
        gaps
    }
}

/// Visits every comparison of a condition, those inside the sides of others included.
fn each(condition: &Condition, visit: &mut dyn FnMut(&Comparison)) {
    match condition {
        Condition::Constant(_) => {}
        Condition::All(parts) | Condition::Any(parts) => parts.iter().for_each(|part| each(part, visit)),
        Condition::Alike { sides, .. } => sides.iter().for_each(|side| each(side, visit)),
        Condition::Choice(parts) => parts.iter().for_each(|part| each(part, visit)),
        Condition::Compare(comparison) => {
            visit(comparison);
            match &comparison.operands {
                Operands::Numbers(left, right) => {
                    each_in_number(left, visit);
                    each_in_number(right, visit);
                }
                Operands::NumberIn(left, _) => each_in_number(left, visit),
                Operands::Texts(left, right) => {
                    each_in_text(left, visit);
                    each_in_text(right, visit);
                }
                Operands::TextIn(left, _) => each_in_text(left, visit),
                Operands::Flag(..) => {}
            }
        }
    }
}

fn each_in_number(number: &Number, visit: &mut dyn FnMut(&Comparison)) {
    match number {
        Number::Literal(_) | Number::Name(..) => {}
        Number::Minus(inner) => each_in_number(inner, visit),
        Number::Sum(_, sides, _) => sides.iter().for_each(|side| each_in_number(side, visit)),
        Number::Choice(parts) => {
            let (test, one, other) = parts.as_ref();
            each(test, visit);
            each_in_number(one, visit);
            each_in_number(other, visit);
        }
    }
}

fn each_in_text(text: &Text, visit: &mut dyn FnMut(&Comparison)) {
    if let Text::Choice(parts) = text {
        let (test, one, other) = parts.as_ref();
        each(test, visit);
        each_in_text(one, visit);
        each_in_text(other, visit);
    }
}
