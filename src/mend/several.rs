//! Cures that move several items at once: the ways for them to stand, their gaps rounded to what a tape can show, each
//! tried before it is offered.

use std::sync::Arc;

use super::bench::Bench;
use super::cure::{Moves, Way};
use super::entry::{rounded, steps};
use super::limit::Limit;
use super::movable::{Movable, SAME};
use super::prove::prove;
use super::scan::Stretch;
use super::together::{Found, MOST_ORDERED, Standing, Together};
use crate::finding::{Edit, Finding, Fix, Grade};

/// How many ways for several items to stand are tried.
const MOST_STANDINGS: usize = 4;

/// The step, by its place among an entry's steps, to which several moves are rounded, and what is spared beyond that
/// so that no bound is kept by less than the numbers can be off, in m.
const SPARES: &[(usize, f64)] = &[(0, 0.0), (1, 0.0), (9, 0.0), (0, 0.02), (0, 0.05), (0, 0.1), (0, 0.2)];

impl Moves<'_, '_> {
    /// The fix that cures a finding by moving several items along the deck, tried.
    pub(super) fn several(&self, bench: &Bench<'_>, finding: &Finding, cures: &[Arc<str>]) -> Option<Fix> {
        let may = |word: &str| cures.iter().any(|cure| &**cure == word);
        let items = Movable::along(self.ends.first()?);
        let own = |limit: &Limit<'_>| *limit.rule.id == *finding.rule;
        let held = |at: usize| self.limits.get(at).is_some_and(|limit| own(limit) || !self.broken(limit));
        if !may("place") || items.len() < 2 || !self.limits.iter().any(|limit| own(limit) && self.broken(limit)) {
            return None;
        }
        let every: &dyn Fn(usize) -> bool = &|_| true;
        for (held, whole) in [(every, true), (&held, false)] {
            let ways = if whole && may("facing") {
                self.standing.get_or_init(|| self.standings(&items, true, every)).clone()
            } else {
                self.standings(&items, may("facing"), held)
            };
            for (way, moves) in ways.into_iter().take(MOST_STANDINGS) {
                let together = Together::new(&self.ends, &self.limits, &items, &way);
                for to in self.roundings(&items, &way, &moves, held) {
                    let edits = self.edits_of(&items, &to, &way.turned)?;
                    if prove(bench, finding, &edits).is_some() {
                        let title = self.titles(&items, &to, &way);
                        return Some(Fix { title, grade: Grade::Change, edits });
                    }
                }
                for (step, more) in SPARES {
                    if !self.may_search() {
                        return None;
                    }
                    let Some(to) = Self::rounded_to(&together, &items, *step, *more, held) else { continue };
                    let edits = self.edits_of(&items, &to, &way.turned)?;
                    if prove(bench, finding, &edits).is_some() {
                        let title = self.titles(&items, &to, &way);
                        return Some(Fix { title, grade: Grade::Change, edits });
                    }
                }
            }
        }
        None
    }

    /// The ways for items to stand in which some place keeps every limit, those of the present order and with fewer
    /// turned round first, and of these the ones with the smallest move.
    pub(super) fn standings(
        &self,
        items: &[Movable],
        turns: bool,
        held: &dyn Fn(usize) -> bool,
    ) -> Vec<(Standing, Vec<f64>)> {
        let Some(load) = self.ends.first() else { return Vec::new() };
        let all = Standing::all(load, items, turns);
        let Some(present) = all.first().map(|one| one.order.clone()) else { return Vec::new() };
        let mut found: Vec<(Standing, Vec<f64>)> = Vec::new();
        for way in all {
            if !self.may_search() {
                break;
            }
            let together = Together::new(&self.ends, &self.limits, items, &way);
            if let Some(Found::Moves(moves)) = together.search(0.0, held) {
                found.push((way, moves));
            }
        }
        let size = |moves: &[f64]| moves.iter().map(|by| by.abs()).sum::<f64>();
        let turns = |one: &Standing| one.turned.iter().filter(|turned| **turned).count();
        found.sort_by(|a, b| {
            let ranks = |one: &Standing| (one.order != present, turns(one));
            ranks(&a.0).cmp(&ranks(&b.0)).then_with(|| size(&a.1).total_cmp(&size(&b.1)))
        });
        found
    }

    /// Moves rounded up and down to what a tape can show, those that keep every limit: for where there is little room.
    fn roundings(
        &self,
        items: &[Movable],
        way: &Standing,
        moves: &[f64],
        held: &dyn Fn(usize) -> bool,
    ) -> Vec<Vec<f64>> {
        let together = Together::new(&self.ends, &self.limits, items, way);
        let mut all: Vec<Vec<f64>> = vec![Vec::new()];
        if items.len() > MOST_ORDERED {
            return Vec::new();
        }
        for (item, by) in items.iter().zip(moves) {
            let to = item.now + item.what.rearward() * by;
            let step = step_of(item, 0);
            let ways =
                if by.abs() <= 1e-6 { vec![item.now] } else { vec![rounded(to, step, true), rounded(to, step, false)] };
            all = all
                .iter()
                .flat_map(|so_far| ways.iter().map(|to| so_far.iter().copied().chain([*to]).collect()))
                .collect();
        }
        all.retain(|to| together.keeps(to, held));
        all
    }

    /// Where several items may stand in this way, rounded to what a tape can show.
    pub(super) fn rounded(&self, items: &[Movable], way: &Standing, held: &dyn Fn(usize) -> bool) -> Option<Vec<f64>> {
        let together = Together::new(&self.ends, &self.limits, items, way);
        let spared =
            SPARES.iter().take(3).find_map(|(step, more)| Self::rounded_to(&together, items, *step, *more, held));
        spared.or_else(|| {
            let Some(Found::Moves(moves)) = together.search(0.0, held) else { return None };
            self.roundings(items, way, &moves, held).into_iter().next()
        })
    }

    /// The same to one of each entry's steps, with so much spared beyond the rounding.
    fn rounded_to(
        together: &Together<'_, '_>,
        items: &[Movable],
        step: usize,
        more: f64,
        held: &dyn Fn(usize) -> bool,
    ) -> Option<Vec<f64>> {
        let steps: Vec<f64> = items.iter().map(|item| step_of(item, step)).collect();
        let spare = steps.iter().fold(0.0_f64, |most, step| most.max(step / 2.0)) + more;
        let Some(Found::Moves(moves)) = together.search(spare, held) else { return None };
        let to = items.iter().zip(&moves).zip(&steps);
        Some(to.map(|((item, by), step)| nearest(item, item.now + item.what.rearward() * by, *step)).collect())
    }

    /// The edits that put several items at these gaps.
    pub(super) fn edits_of(&self, items: &[Movable], to: &[f64], turned: &[bool]) -> Option<Vec<Edit>> {
        let mut edits = Vec::new();
        for ((item, to), turned) in items.iter().zip(to).zip(turned) {
            edits.extend(self.edits(item, *to, *turned)?);
        }
        edits.sort_by_key(|edit| edit.span);
        Some(edits)
    }

    fn titles(&self, items: &[Movable], to: &[f64], standing: &Standing) -> String {
        let whole = Stretch { from: 0.0, to: 0.0, from_limit: None, to_limit: None };
        let way = Way { which: 0, stretch: whole, far: 0.0, all_kept: false };
        let moved = items.iter().zip(to).zip(&standing.turned);
        let moved = moved.filter(|((item, to), turned)| **turned || (*to - item.now).abs() > SAME);
        let present = self.ends.first().and_then(|load| Standing::all(load, items, false).into_iter().next());
        let order = if present.is_some_and(|one| one.order == standing.order) {
            ""
        } else {
            "; they then stand in another order"
        };
        let titles: Vec<String> = moved.map(|((item, to), turned)| self.title(item, *turned, *to, &way)).collect();
        format!("{}{order}", titles.join(", and "))
    }
}

fn step_of(item: &Movable, which: usize) -> f64 {
    let steps = steps(item.unit);
    steps.get(which).or(steps.last()).copied().unwrap_or(SAME)
}

/// The multiple of a step that is nearest, or the value as it is when that was hardly moved.
fn nearest(item: &Movable, to: f64, step: f64) -> f64 {
    if (to - item.now).abs() <= 1e-6 { item.now } else { (to / step).round() * step }
}
