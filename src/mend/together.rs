//! Several items moved at once: the smallest total move along the deck that keeps every limit, as a linear program.
//!
//! With the way round of each item and their order along the deck fixed, every load figure is linear in the moves, or a
//! quotient of two that are (not to overlap is no convex demand, so one program knows one order). Each round takes the
//! limits as they are at the present place, solves the program, and goes to its solution, until all are kept there and
//! the place no longer changes: for what is linear that is one round and one to see it.

use microlp::{ComparisonOp, OptimizationDirection, Problem, Variable};

use super::limit::{Limit, Stand};
use super::movable::Movable;
use crate::expr::{Op, Truth};
use crate::figures::{Changed, Load, figures};
use crate::model::ItemKind;
use crate::rules::Slot;
use crate::units::Kind;

/// Rounds of linear programs before the search is given up.
const ROUNDS: usize = 12;
/// By how much a limit may be missed and still count as kept, in m of move: a thousandth of what a tape can show.
const KEPT: f64 = 1e-6;
/// The step with which the change along an item's place is taken, in m.
const STEP: f64 = 1e-3;

/// Items moved together.
pub(super) struct Together<'a, 'y> {
    pub(super) ends: &'a [Load<'y>],
    pub(super) limits: &'a [Limit<'a>],
    pub(super) items: &'a [Movable],
    /// Which of them stand the other way round.
    pub(super) turned: Vec<bool>,
    /// Pairs of which the first stays ahead of the second.
    order: Vec<Ahead>,
}

/// How items stand: which of them the other way round, and in which order from the front of the deck.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Standing {
    pub(super) turned: Vec<bool>,
    pub(super) order: Vec<usize>,
}

impl Standing {
    /// Every way for items to stand, the present one first, then those with fewer turned and in the present order before
    /// those in another. Many items are looked at in their present order only, as each more would multiply the ways.
    pub(super) fn all(load: &Load<'_>, items: &[Movable], turns: bool) -> Vec<Self> {
        let mut present: Vec<usize> = (0..items.len()).collect();
        let middle = |item: &usize| {
            let one = items.get(*item).and_then(|item| load.items.get(item.item));
            one.and_then(|one| one.placed.as_ref().ok()).map_or(0.0, |placed| (placed.front() + placed.rear()).si())
        };
        present.sort_by(|a, b| middle(a).total_cmp(&middle(b)));
        let mut all = Vec::new();
        for turned in turned(load, items, turns) {
            for order in if items.len() <= MOST_ORDERED { orders(&present) } else { vec![present.clone()] } {
                all.push(Self { turned: turned.clone(), order });
            }
        }
        let count = |one: &Self| one.turned.iter().filter(|turned| **turned).count();
        all.sort_by_key(|one| (one.order != present, count(one)));
        all
    }
}

/// How many items are looked at in every order, and how many machines both ways round.
pub(super) const MOST_ORDERED: usize = 3;
const MOST_TURNED: usize = 4;

fn turned(load: &Load<'_>, items: &[Movable], may: bool) -> Vec<Vec<bool>> {
    let mut all: Vec<Vec<bool>> = vec![Vec::new()];
    for (at, item) in items.iter().enumerate() {
        let machine = load.items.get(item.item).is_some_and(|one| matches!(one.item.kind, ItemKind::Machine(_)));
        let ways: &[bool] = if may && machine && at < MOST_TURNED { &[false, true] } else { &[false] };
        let longer =
            all.iter().flat_map(|turned| ways.iter().map(|way| turned.iter().copied().chain([*way]).collect()));
        all = longer.collect();
    }
    all
}

/// Every order of these.
fn orders(of: &[usize]) -> Vec<Vec<usize>> {
    let mut all: Vec<Vec<usize>> = vec![Vec::new()];
    for one in of {
        let longer = all.iter().flat_map(|order| {
            (0..=order.len()).rev().map(|at| {
                let mut longer = order.clone();
                longer.insert(at, *one);
                longer
            })
        });
        all = longer.collect();
    }
    all
}

/// One item ahead of another, and the room between them as they stand.
struct Ahead {
    first: usize,
    second: usize,
    room: f64,
}

/// A limit as it is at a place: by how much it is kept, and how that changes with each item's move rearward, both as
/// lengths: divided by the largest change.
struct Cut {
    /// Which limit.
    limit: usize,
    /// It is the order of two items, without which the others mean nothing.
    order: bool,
    slack: f64,
    change: Vec<f64>,
    /// What one metre is, in the unit of what is compared, and what that is.
    scale: f64,
    kind: Option<Kind>,
}

/// A limit that cannot be kept together with others: by what it is missed when all others are kept.
#[derive(Clone, Copy)]
pub(super) struct Missed {
    pub(super) limit: usize,
    pub(super) by: f64,
    /// What that measures.
    pub(super) kind: Option<Kind>,
}

/// What a search for a place came to.
pub(super) enum Found {
    /// How far each item is moved rearward, in m.
    Moves(Vec<f64>),
    /// No place keeps all; these are the limits that meet where least is missed, each with what it is missed by, in its
    /// own unit, when all others are kept.
    None(Vec<Missed>),
}

impl<'a, 'y> Together<'a, 'y> {
    /// For items that stand in this order from the front of the deck.
    pub(super) fn new(ends: &'a [Load<'y>], limits: &'a [Limit<'a>], items: &'a [Movable], way: &Standing) -> Self {
        let overlaps = limits.iter().any(reads_overlap);
        let ahead = |load| ahead(load, items, &way.order);
        let order = if overlaps { ends.first().map(ahead).unwrap_or_default() } else { Vec::new() };
        Self { ends, limits, items, turned: way.turned.clone(), order }
    }

    /// The smallest total move that keeps every limit that `held` names, each by so much of a move of every item.
    pub(super) fn search(&self, spare: f64, held: &dyn Fn(usize) -> bool) -> Option<Found> {
        let mut at = vec![0.0; self.items.len()];
        let mut missed: Option<f64> = None;
        for _ in 0..ROUNDS {
            let cuts: Vec<Cut> = self.cuts(&at)?.into_iter().filter(|cut| cut.order || held(cut.limit)).collect();
            let (least, elastic) = self.program(&cuts, &at, spare, None)?;
            if least > KEPT {
                // A quotient's limit is only seen rightly from nearby: look once more from the best place.
                if missed.is_some_and(|before| least > before - KEPT) {
                    return Some(Found::None(self.met(&cuts, &elastic, &at, spare, least)));
                }
                missed = Some(least);
                at = elastic;
                continue;
            }
            missed = None;
            let (_, next) = self.program(&cuts, &at, spare, Some(least))?;
            let there = at.iter().zip(&next).all(|(a, b)| (a - b).abs() <= KEPT);
            at = next;
            if there {
                return Some(Found::Moves(at));
            }
        }
        None
    }

    /// Whether every limit that `held` names is kept with the entries at these values.
    pub(super) fn keeps(&self, to: &[f64], held: &dyn Fn(usize) -> bool) -> bool {
        let moved = self.items.iter().zip(to).map(|(item, to)| (to - item.now) * item.what.rearward());
        let loads = self.loads(&moved.collect::<Vec<f64>>());
        self.limits.iter().enumerate().filter(|(at, _)| held(*at)).all(|(_, limit)| {
            let (Some(load), Some(before)) = (loads.get(limit.end), self.ends.get(limit.end)) else { return true };
            // What is broken and does not change has nothing to do with where things stand.
            limit.stand(load) != Stand::Breaks || limit.gaps(load) == limit.gaps(before)
        })
    }

    /// The load with every item at its place.
    pub(super) fn changed(&self, at: &[f64]) -> Changed {
        let mut changed = Changed::default();
        for ((item, by), turned) in self.items.iter().zip(at).zip(&self.turned) {
            item.move_in(&mut changed, item.now + item.what.rearward() * by, *turned);
        }
        changed
    }

    fn loads(&self, at: &[f64]) -> Vec<Load<'y>> {
        self.ends.iter().map(|load| load.changed(self.changed(at))).collect()
    }

    /// Every limit that depends on where the items stand, as it is at a place. None when it cannot be looked at.
    fn cuts(&self, at: &[f64]) -> Option<Vec<Cut>> {
        let here = self.loads(at);
        let beside: Vec<Vec<Load<'y>>> = (0..at.len())
            .map(|item| {
                let mut moved = at.to_vec();
                if let Some(place) = moved.get_mut(item) {
                    *place += STEP;
                }
                self.loads(&moved)
            })
            .collect();
        let mut cuts = Vec::new();
        for (which, limit) in self.limits.iter().enumerate().filter(|(_, limit)| !reads_overlap(limit)) {
            let load = here.get(limit.end)?;
            if !limit.asked(load) {
                continue;
            }
            let verdict = limit.required(load);
            let gaps = limit.gaps(load);
            let others: Vec<Vec<Option<f64>>> =
                beside.iter().filter_map(|loads| loads.get(limit.end)).map(|load| limit.gaps(load)).collect();
            let blamed = verdict.blamed;
            let wanted = verdict.compared.iter().enumerate().filter(|(place, compared)| {
                // Where it cannot be told, what is known to hold must not be lost.
                Some(*place) == blamed || (verdict.truth != Truth::Fails && compared.holds)
            });
            for (_, compared) in wanted {
                let sign = match compared.op {
                    Op::AtLeast | Op::Greater => 1.0,
                    Op::AtMost | Op::Less => -1.0,
                    Op::Equal | Op::Differs | Op::In | Op::NotIn => continue,
                };
                let place = limit.of_when() + compared.at;
                let Some(gap) = gaps.get(place).copied().flatten() else { continue };
                let change: Vec<f64> = others
                    .iter()
                    .map(|other| other.get(place).copied().flatten().map_or(0.0, |moved| sign * (moved - gap) / STEP))
                    .collect();
                let scale = change.iter().fold(0.0_f64, |most, one| most.max(one.abs()));
                // Less than a millionth of it for each metre is rounding.
                if scale > 1e-6 * gap.abs().max(1e-3) {
                    let change = change.into_iter().map(|one| one / scale).collect();
                    let kind = compared.left.dim.kind();
                    cuts.push(Cut { limit: which, order: false, slack: sign * gap / scale, change, scale, kind });
                }
            }
        }
        let overlap = self.limits.iter().position(reads_overlap).unwrap_or(usize::MAX);
        for pair in &self.order {
            let by = |item: usize| at.get(item).copied().unwrap_or(0.0);
            let mut change = vec![0.0; at.len()];
            for (item, one) in [(pair.first, -1.0), (pair.second, 1.0)] {
                if let Some(place) = change.get_mut(item) {
                    *place = one;
                }
            }
            let slack = pair.room + by(pair.second) - by(pair.first);
            let kind = Some(Kind::Length);
            cuts.push(Cut { limit: overlap, order: true, slack, change, scale: 1.0, kind });
        }
        Some(cuts)
    }

    /// Solves the program of these cuts, taken at a place: the least by which all must be missed, or, when that is given,
    /// the smallest total move that misses none by more. Gives what was minimised, and the place.
    fn program(&self, cuts: &[Cut], at: &[f64], spare: f64, missed: Option<f64>) -> Option<(f64, Vec<f64>)> {
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let moves = self.variables(&mut problem, if missed.is_some() { 1.0 } else { 0.0 });
        let short = missed.is_none().then(|| problem.add_var(1.0, (0.0, f64::INFINITY)));
        for cut in cuts {
            let mut terms = terms(&moves, &cut.change);
            terms.extend(short.map(|short| (short, 1.0)));
            problem.add_constraint(terms, ComparisonOp::Ge, needed(cut, at, spare) - missed.unwrap_or(0.0));
        }
        let solution = problem.solve().ok()?.into_solution().ok()?;
        let place =
            moves.iter().map(|(rearward, forward)| solution.var_value(*rearward) - solution.var_value(*forward));
        let place = place.collect();
        Some((short.map_or(solution.objective(), |short| solution.var_value(short)), place))
    }

    /// Each item's move in two parts, neither below nothing, so that their sum is its length.
    fn variables(&self, problem: &mut Problem, cost: f64) -> Vec<(Variable, Variable)> {
        let reach = |item: &Movable| {
            let (one, other) =
                ((item.from - item.now) * item.what.rearward(), (item.to - item.now) * item.what.rearward());
            (one.min(other), one.max(other))
        };
        let both = self.items.iter().map(|item| {
            let (forward, rearward) = reach(item);
            (problem.add_var(cost, (0.0, rearward.max(0.0))), problem.add_var(cost, (0.0, (-forward).max(0.0))))
        });
        both.collect()
    }

    /// The limits that meet where least is missed, each with what it is missed by when all others are kept.
    fn met(&self, cuts: &[Cut], place: &[f64], at: &[f64], spare: f64, least: f64) -> Vec<Missed> {
        let mut met: Vec<Missed> = Vec::new();
        for (which, cut) in cuts.iter().enumerate() {
            let limit = cut.limit;
            let moved: f64 =
                cut.change.iter().zip(place.iter().zip(at)).map(|(change, (to, from))| change * (to - from)).sum();
            let tight = cut.slack + moved + least <= needed_spare(cut, spare) + KEPT;
            if tight && met.iter().all(|known| known.limit != limit) {
                let missed = self.alone(cuts, which, at, spare);
                met.extend(missed.map(|missed| Missed { limit, by: missed * cut.scale, kind: cut.kind }));
            }
        }
        met.sort_by_key(|one| self.limits.get(one.limit).map(|limit| std::cmp::Reverse(limit.rule.level)));
        met
    }

    /// By how much one cut is missed when all others are kept.
    fn alone(&self, cuts: &[Cut], which: usize, at: &[f64], spare: f64) -> Option<f64> {
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let moves = self.variables(&mut problem, 0.0);
        let short = problem.add_var(1.0, (0.0, f64::INFINITY));
        for (one, cut) in cuts.iter().enumerate() {
            let mut terms = terms(&moves, &cut.change);
            if one == which {
                terms.push((short, 1.0));
            }
            problem.add_constraint(terms, ComparisonOp::Ge, needed(cut, at, spare));
        }
        let solution = problem.solve().ok()?.into_solution().ok()?;
        Some(solution.var_value(short))
    }
}

fn terms(moves: &[(Variable, Variable)], change: &[f64]) -> Vec<(Variable, f64)> {
    moves
        .iter()
        .zip(change)
        .flat_map(|((rearward, forward), change)| [(*rearward, *change), (*forward, -*change)])
        .collect()
}

/// What the moves must come to for a cut to be kept, with what is spared.
fn needed(cut: &Cut, at: &[f64], spare: f64) -> f64 {
    let here: f64 = cut.change.iter().zip(at).map(|(change, at)| change * at).sum();
    here - cut.slack + needed_spare(cut, spare)
}

/// So much of a move of every item, the wrong way.
fn needed_spare(cut: &Cut, spare: f64) -> f64 {
    spare * cut.change.iter().map(|change| change.abs()).sum::<f64>()
}

fn reads_overlap(limit: &Limit<'_>) -> bool {
    let mut slots = limit.ask.require.names().map(|(slot, ..)| Slot::of(slot));
    slots.any(|slot| match slot {
        Slot::Figure(at) => figures().get(at).is_some_and(|figure| figure.name.starts_with("item.overlap")),
        Slot::Param(_) => false,
    })
}

/// The room between items in this order, for all pairs that stand in one another's way.
fn ahead(load: &Load<'_>, items: &[Movable], order: &[usize]) -> Vec<Ahead> {
    let mut all = Vec::new();
    for (place, first) in order.iter().enumerate() {
        for second in order.iter().skip(place + 1) {
            let one = items.get(*first).and_then(|item| load.items.get(item.item));
            let other = items.get(*second).and_then(|item| load.items.get(item.item));
            let (Some(one), Some(other)) = (one, other) else { continue };
            let (Ok(one_at), Ok(other_at)) = (&one.placed, &other.placed) else { continue };
            let aside = match (one.sides(), other.sides()) {
                (Ok(one), Ok(other)) => one.left <= other.right || other.left <= one.right,
                _ => false,
            };
            if !aside {
                let room = (other_at.front() - one_at.rear()).si();
                all.push(Ahead { first: *first, second: *second, room });
            }
        }
    }
    all
}
