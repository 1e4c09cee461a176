//! Evaluation in Kleene's three-valued logic, with what is missing and which comparison decided.

use std::ops::Range;
use std::sync::Arc;

use super::condition::{Comparison, Condition, Number, Operands, Place, Text};
use super::term::Arithmetic;
use super::{Compared, Expr, Op, Side, Truth, Value, Verdict};

/// Numbers count as equal within this share of the larger magnitude, or of 1 where both are smaller.
///
/// Unit factors are exact in decimal but not in binary: 5 ft and 60 in are the same length by definition and differ in
/// the last bit as products of binary fractions, and so does a sum taken in another order. A bound that is met exactly
/// on paper must be met here, in whichever unit it is written. The tolerance is far above such rounding (1e-16 for each
/// step) and far below anything that can be measured. Near zero a share of the magnitude means nothing, since a sum that
/// should vanish is off by the rounding of its terms: there a millionth of a gram or of a millimetre counts.
pub const TOLERANCE: f64 = 1e-9;

impl Expr {
    /// Evaluates the condition, reading each value by the slot that [`Names::resolve`](super::Names::resolve) gave. For
    /// a value that is not known the caller says what is missing. A slot may be read several times, and is not read at
    /// all when an earlier part of an `&&` has failed.
    ///
    /// A value of another type than the slot was said to have counts as undefined, as does a number that is not finite.
    pub fn eval<M: Clone>(&self, read: &mut dyn FnMut(usize) -> Result<Value, M>) -> Verdict<M> {
        self.run(read, true)
    }

    /// The same without the comparisons (`compared` is empty, `blamed` nothing), for conditions of which only the truth
    /// is asked, such as `when`: nothing is allocated unless something is missing.
    pub fn decide<M: Clone>(&self, read: &mut dyn FnMut(usize) -> Result<Value, M>) -> Verdict<M> {
        self.run(read, false)
    }

    fn run<M: Clone>(&self, read: &mut dyn FnMut(usize) -> Result<Value, M>, record: bool) -> Verdict<M> {
        let compared = if record { Vec::with_capacity(self.comparisons.len()) } else { Vec::new() };
        let mut run = Run { read, missing: Vec::new(), undefined: None, record, compared };
        let known = run.condition(&self.root);
        let truth = match &known {
            Some(Known { truth: true, .. }) => Truth::Holds,
            Some(Known { truth: false, .. }) => Truth::Fails,
            None => Truth::CannotTell,
        };
        let missing = if run.missing.is_empty() { Vec::new() } else { once_each(&run.missing) };
        let blamed = known.and_then(|known| known.blamed);
        Verdict { truth, missing, undefined: run.undefined, compared: run.compared, blamed }
    }
}

/// What is missing, once for each slot, in the order in which it was first read.
fn once_each<M: Clone>(missing: &[(usize, M)]) -> Vec<M> {
    let first = |at: usize, slot: usize| missing.iter().take(at).all(|(earlier, _)| *earlier != slot);
    let kept = missing.iter().enumerate().filter(|(at, (slot, _))| first(*at, *slot));
    kept.map(|(_, (_, missing))| missing.clone()).collect()
}

/// A known outcome, and the comparison to blame for it, whose `holds` is this truth.
#[derive(Clone, Copy)]
struct Known {
    truth: bool,
    blamed: Option<usize>,
}

pub(super) struct Run<'r, M> {
    read: &'r mut dyn FnMut(usize) -> Result<Value, M>,
    /// What was unknown, with its slot. What turns out not to matter is taken off again.
    missing: Vec<(usize, M)>,
    /// The first place that gave no number; taken off again likewise.
    undefined: Option<Range<usize>>,
    /// Whether comparisons are to be kept.
    record: bool,
    compared: Vec<Compared>,
}

impl<'r, M: Clone> Run<'r, M> {
    /// One that keeps no comparisons.
    pub(super) fn without_record(read: &'r mut dyn FnMut(usize) -> Result<Value, M>) -> Self {
        Self { read, missing: Vec::new(), undefined: None, record: false, compared: Vec::new() }
    }

    fn condition(&mut self, condition: &Condition) -> Option<Known> {
        match condition {
            Condition::Constant(truth) => Some(Known { truth: *truth, blamed: None }),
            Condition::All(parts) => self.all(parts),
            Condition::Any(parts) => self.any(parts),
            Condition::Alike { same, sides } => self.alike(*same, sides),
            Condition::Choice(parts) => self.choice(parts),
            Condition::Compare(comparison) => self.compare(comparison),
        }
    }

    /// Fails by its first part that fails; holds by the part that is nearest to failing.
    fn all(&mut self, parts: &[Condition]) -> Option<Known> {
        let mark = self.mark();
        let mut unknown = false;
        let mut tightest: Option<Known> = None;
        for part in parts {
            match self.condition(part) {
                None => unknown = true,
                Some(known) if !known.truth => {
                    self.forget(mark);
                    return Some(known);
                }
                Some(known) => tightest = Some(self.nearer(tightest, known)),
            }
        }
        if unknown { None } else { tightest }
    }

    /// Holds by the part that is furthest from failing, since that one carries it; fails by the part that is nearest to
    /// holding. So all parts are looked at.
    fn any(&mut self, parts: &[Condition]) -> Option<Known> {
        let mark = self.mark();
        let mut unknown = false;
        let (mut firmest, mut nearest): (Option<Known>, Option<Known>) = (None, None);
        for part in parts {
            match self.condition(part) {
                None => unknown = true,
                Some(known) if known.truth => {
                    let firmer = firmest.is_none_or(|best| self.distance(best) < self.distance(known));
                    firmest = if firmer { Some(known) } else { firmest };
                }
                Some(known) => nearest = Some(self.nearer(nearest, known)),
            }
        }
        if firmest.is_some() {
            self.forget(mark);
            return firmest;
        }
        if unknown { None } else { nearest }
    }

    /// Either side turned round would turn the whole: the nearer one is to blame.
    fn alike(&mut self, same: bool, sides: &[Condition; 2]) -> Option<Known> {
        let [left, right] = sides;
        let (left, right) = (self.condition(left), self.condition(right));
        let (left, right) = (left?, right?);
        let truth = (left.truth == right.truth) == same;
        let nearer = self.nearer(Some(left), right);
        Some(self.turned(nearer, truth))
    }

    fn choice(&mut self, parts: &[Condition; 3]) -> Option<Known> {
        let [test, one, other] = parts;
        let mark = self.mark();
        if let Some(tested) = self.condition(test) {
            let taken = self.condition(if tested.truth { one } else { other })?;
            // A constant outcome cannot be blamed, but the test that led to it can.
            return Some(if taken.blamed.is_some() { taken } else { self.turned(tested, taken.truth) });
        }
        let (one, other) = (self.condition(one), self.condition(other));
        let (one, other) = (one?, other?);
        if one.truth != other.truth {
            return None;
        }
        self.forget(mark);
        Some(self.nearer(Some(one), other))
    }

    fn compare(&mut self, comparison: &Comparison) -> Option<Known> {
        let Comparison { op, left, right, .. } = comparison;
        let (left_value, right_value, holds) = match &comparison.operands {
            Operands::Numbers(one, other) => {
                let (one, other) = (self.number(one), self.number(other));
                let (one, other) = (one?, other?);
                (Value::Number(one), Value::Number(other), numbers_hold(*op, one, other))
            }
            Operands::Texts(one, other) => {
                let (one, other) = (self.text(one, &left.range), self.text(other, &right.range));
                let (one, other) = (one?, other?);
                let holds = (one == other) == (*op == Op::Equal);
                (Value::Text(one), Value::Text(other), holds)
            }
            Operands::NumberIn(one, list) => {
                let one = self.number(one)?;
                let nearest = list.iter().copied().min_by(|a, b| (a - one).abs().total_cmp(&(b - one).abs()))?;
                let holds = near(one, nearest) == (*op == Op::In);
                (Value::Number(one), Value::Number(nearest), holds)
            }
            Operands::TextIn(one, list) => {
                let one = self.text(one, &left.range)?;
                let equal = list.iter().find(|item| **item == one);
                let holds = equal.is_some() == (*op == Op::In);
                (Value::Text(one), Value::Text(Arc::clone(equal.or(list.first())?)), holds)
            }
            Operands::Flag(slot, wanted) => match (self.read)(*slot) {
                Ok(Value::Flag(found)) => (Value::Flag(found), Value::Flag(*wanted), found == *wanted),
                Ok(_) => return self.no_value(&left.range),
                Err(missing) => return self.lacks(*slot, missing),
            },
        };
        if !self.record {
            return Some(Known { truth: holds, blamed: None });
        }
        let blamed = Some(self.compared.len());
        let (left, right) = (side(left, left_value), side(right, right_value));
        self.compared.push(Compared { at: comparison.at, left, op: *op, right, holds });
        Some(Known { truth: holds, blamed })
    }

    pub(super) fn number(&mut self, number: &Number) -> Option<f64> {
        match number {
            Number::Literal(value) => Some(*value),
            Number::Name(slot, range) => match (self.read)(*slot) {
                Ok(Value::Number(value)) if value.is_finite() => Some(value),
                Ok(_) => self.no_value(range),
                Err(missing) => self.lacks(*slot, missing),
            },
            Number::Minus(inner) => self.number(inner).map(|value| -value),
            Number::Sum(op, sides, range) => {
                let [left, right] = sides.as_ref();
                let (left, right) = (self.number(left), self.number(right));
                let (left, right) = (left?, right?);
                let value = match op {
                    Arithmetic::Add => left + right,
                    Arithmetic::Subtract => left - right,
                    Arithmetic::Multiply => left * right,
                    Arithmetic::Divide => left / right,
                };
                if value.is_finite() { Some(value) } else { self.no_value(range) }
            }
            Number::Choice(parts) => {
                let (test, one, other) = parts.as_ref();
                let mark = self.mark();
                if let Some(tested) = self.condition(test) {
                    return self.number(if tested.truth { one } else { other });
                }
                let (one, other) = (self.number(one), self.number(other));
                let (one, other) = (one?, other?);
                if !near(one, other) {
                    return None;
                }
                self.forget(mark);
                Some(one)
            }
        }
    }

    fn text(&mut self, text: &Text, range: &Range<usize>) -> Option<Arc<str>> {
        match text {
            Text::Literal(text) => Some(Arc::clone(text)),
            Text::Name(slot) => match (self.read)(*slot) {
                Ok(Value::Text(text)) => Some(text),
                Ok(_) => self.no_value(range),
                Err(missing) => self.lacks(*slot, missing),
            },
            Text::Choice(parts) => {
                let (test, one, other) = parts.as_ref();
                let mark = self.mark();
                if let Some(tested) = self.condition(test) {
                    return self.text(if tested.truth { one } else { other }, range);
                }
                let (one, other) = (self.text(one, range), self.text(other, range));
                let (one, other) = (one?, other?);
                if one != other {
                    return None;
                }
                self.forget(mark);
                Some(one)
            }
        }
    }

    fn lacks<T>(&mut self, slot: usize, missing: M) -> Option<T> {
        self.missing.push((slot, missing));
        None
    }

    fn no_value<T>(&mut self, range: &Range<usize>) -> Option<T> {
        self.undefined.get_or_insert_with(|| range.clone());
        None
    }

    /// Where [`Run::forget`] goes back to.
    fn mark(&self) -> (usize, bool) {
        (self.missing.len(), self.undefined.is_some())
    }

    /// Takes off what was found missing or undefined since the mark, because the outcome is known without it.
    fn forget(&mut self, (missing, undefined): (usize, bool)) {
        self.missing.truncate(missing);
        if !undefined {
            self.undefined = None;
        }
    }

    /// How far a known outcome is from turning, as a share; infinite when it cannot turn by degrees.
    fn distance(&self, known: Known) -> f64 {
        let compared = known.blamed.and_then(|at| self.compared.get(at));
        compared.and_then(Compared::margin).map_or(f64::INFINITY, f64::abs)
    }

    /// The one that is nearer to turning; of two alike the first, if there is something to blame for it.
    fn nearer(&self, best: Option<Known>, next: Known) -> Known {
        let Some(best) = best else { return next };
        let (so_far, now) = (self.distance(best), self.distance(next));
        if now < so_far || best.blamed.is_none() { next } else { best }
    }

    /// The same blame for an outcome of this truth.
    fn turned(&mut self, known: Known, truth: bool) -> Known {
        if known.truth != truth
            && let Some(compared) = known.blamed.and_then(|at| self.compared.get_mut(at))
        {
            compared.negate();
        }
        Known { truth, blamed: known.blamed }
    }
}

fn side(place: &Place, value: Value) -> Side {
    Side { name: place.name, first_name: place.first_name, value, dim: place.dim, range: place.range.clone() }
}

/// Whether two finite numbers count as equal. A difference that overflows is infinite, and so no tie.
fn near(left: f64, right: f64) -> bool {
    (left - right).abs() <= TOLERANCE * left.abs().max(right.abs()).max(1.0)
}

fn numbers_hold(op: Op, left: f64, right: f64) -> bool {
    let equal = near(left, right);
    match op {
        Op::Less => left < right && !equal,
        Op::AtMost => left < right || equal,
        Op::Greater => left > right && !equal,
        Op::AtLeast => left > right || equal,
        Op::Equal | Op::In => equal,
        Op::Differs | Op::NotIn => !equal,
    }
}
