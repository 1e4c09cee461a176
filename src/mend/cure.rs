//! The search for the smallest change that cures each finding of a load: proposals, each tried before it is offered.

use std::cell::{Cell, OnceCell};
use std::sync::Arc;

use super::bench::Bench;
use super::entry::{rounded, spoken, steps, written};
use super::limit::{Limit, Stand, limits};
use super::movable::{Movable, SAME, What};
use super::place::{ends, facing, other};
use super::prove::prove;
use super::scan::{Fares, Scan, Stretch};
use super::together::{Found, Standing, Together};
use crate::figures::Load;
use crate::finding::{Edit, Finding, Fix, Grade};
use crate::model::{Choice as _, ItemKind, LoadRef, Yard};
use crate::rules::RuleSet;

/// How many changes are tried for one finding.
const MOST_TRIES: usize = 20;
/// How many ways for several items to stand are tried.
const MOST_STANDINGS: usize = 4;

/// What can be moved in a load, and how each limit fares.
pub(super) struct Moves<'a, 'y> {
    pub(super) ends: Vec<Load<'y>>,
    pub(super) limits: Vec<Limit<'a>>,
    /// Everything that can be moved, moved over all it can be; once it is asked for.
    scanned: OnceCell<Vec<(Movable, bool, Vec<Fares>)>>,
    /// The ways for the items to stand in which every limit is kept; once they are asked for.
    standing: OnceCell<Vec<(Standing, Vec<f64>)>>,
    /// How many linear programs may still be searched.
    searches: Cell<usize>,
}

/// How many looks at a limit are taken in all searches for several items of one load.
const MOST_LIMITS: usize = 100_000;

/// How many looks at a limit are taken to see where each item of a load may stand: what stands on a crowded deck is not
/// searched to the last item.
pub(super) const MOST_LOOKS: usize = 300_000;

/// One way to cure a finding by moving one entry.
struct Way {
    /// Which of the moves.
    which: usize,
    /// Where it may be moved to.
    stretch: Stretch,
    /// How far that is.
    far: f64,
    /// Whether every limit is kept there.
    all_kept: bool,
}

impl<'a, 'y> Moves<'a, 'y> {
    /// What can be moved in a load. None when the load cannot be computed.
    pub(super) fn of_yard(yard: &'y Yard, rules: &'a RuleSet, which: LoadRef) -> Option<Self> {
        let ends = ends(yard, which)?;
        let load = ends.first()?;
        if load.still.is_err() || load.rig.is_err() {
            return None;
        }
        let limits = limits(rules, &ends);
        let searches = Cell::new(MOST_LIMITS / (limits.len() * (load.items.len() + 1)).max(1));
        Some(Self { ends, limits, scanned: OnceCell::new(), standing: OnceCell::new(), searches })
    }

    /// Whether one more linear program may be searched.
    pub(super) fn may_search(&self) -> bool {
        let left = self.searches.get();
        self.searches.set(left.saturating_sub(1));
        left > 0
    }

    /// Everything that can be moved, either way round, with how each limit fares.
    pub(super) fn all(&self) -> &[(Movable, bool, Vec<Fares>)] {
        self.scanned.get_or_init(|| {
            let (mut all, mut left) = (Vec::new(), MOST_LOOKS);
            let Some(load) = self.ends.first() else { return all };
            for movable in Movable::all(load) {
                let one = load.items.get(movable.item);
                let machine = one.is_some_and(|one| matches!(one.item.kind, ItemKind::Machine(_)));
                let turns = machine && movable.what.rearward().abs() > 0.5;
                for turned in if turns { vec![false, true] } else { vec![false] } {
                    let scan = Scan::new(&self.ends, &movable, turned);
                    left = left.saturating_sub(scan.looks(&self.limits));
                    if left == 0 {
                        // Another would be no less to look at.
                        return all;
                    }
                    let fares = scan.fares(&self.limits);
                    all.push((movable.clone(), turned, fares));
                }
            }
            all
        })
    }

    /// Whether a limit is broken as the load stands.
    pub(super) fn broken(&self, limit: &Limit<'_>) -> bool {
        self.ends.get(limit.end).is_some_and(|load| limit.stand(load) == Stand::Breaks)
    }

    /// Whether where things stand along the deck has to do with a rule at all.
    pub(super) fn depends(&self, rule: &str) -> bool {
        let own = |at: usize| self.limits.get(at).is_some_and(|limit| &*limit.rule.id == rule && !limit.across());
        let along = self.all().iter().filter(|(movable, ..)| movable.what.rearward().abs() > 0.5);
        along.flat_map(|(.., fares)| fares.iter().enumerate()).any(|(at, fares)| fares.depends && own(at))
    }

    /// The ways to cure a rule's finding, the smallest change first.
    fn ways(&self, rule: &str, cures: &[Arc<str>]) -> Vec<Way> {
        let may = |word: &str| cures.iter().any(|cure| &**cure == word);
        let mut ways = Vec::new();
        for (which, (movable, turned, fares)) in self.all().iter().enumerate() {
            let allowed = match movable.what {
                What::FrontGap | What::RearGap | What::Left => may("place") && (!*turned || may("facing")),
                What::Volume => may("load") || may("place"),
            };
            let own = |limit: &Limit<'_>| &*limit.rule.id == rule;
            let helps = self
                .limits
                .iter()
                .zip(fares)
                .any(|(limit, fares)| own(limit) && (fares.depends || *turned) && self.broken(limit));
            if !allowed || !helps {
                continue;
            }
            let scan = Scan::new(&self.ends, movable, *turned);
            // What is broken anyhow, and not by this rule, need not be cured by the same change; better if it is.
            let held = |at: usize| self.limits.get(at).is_some_and(|limit| own(limit) || !self.broken(limit));
            for all_kept in [true, false] {
                let kept = fares.iter().enumerate().filter(|(at, _)| all_kept || held(*at));
                let stretches = scan.stretches(kept);
                let nearest = stretches.into_iter().map(|stretch| (far(&stretch, movable.now), stretch));
                if let Some((far, stretch)) = nearest.min_by(|a, b| a.0.total_cmp(&b.0)) {
                    ways.push(Way { which, stretch, far, all_kept });
                    break;
                }
            }
        }
        let turned = |way: &Way| self.all().get(way.which).is_some_and(|(_, turned, _)| *turned);
        ways.sort_by(|a, b| {
            (turned(a), !a.all_kept).cmp(&(turned(b), !b.all_kept)).then_with(|| a.far.total_cmp(&b.far))
        });
        ways
    }

    /// The fix that cures a finding by moving one entry, tried.
    pub(super) fn one_move(&self, bench: &Bench<'_>, finding: &Finding, cures: &[Arc<str>]) -> Option<Fix> {
        let mut tries = 0;
        for way in self.ways(&finding.rule, cures) {
            let (movable, turned, _) = self.all().get(way.which)?;
            for to in candidates(movable, &way.stretch) {
                if tries == MOST_TRIES {
                    return None;
                }
                tries += 1;
                let Some(edits) = self.edits(movable, to, *turned) else { break };
                if prove(bench, finding, &edits).is_some() {
                    let title = self.title(movable, *turned, to, &way);
                    return Some(Fix { title, grade: Grade::Change, edits });
                }
            }
        }
        None
    }

    /// The fix that cures a finding: by moving one entry, or else several items at once.
    pub(super) fn fix(&self, bench: &Bench<'_>, finding: &Finding, cures: &[Arc<str>]) -> Option<Fix> {
        let one = self.one_move(bench, finding, cures);
        one.or_else(|| self.several(bench, finding, cures))
    }

    /// The fix that cures a finding by moving several items along the deck, tried.
    fn several(&self, bench: &Bench<'_>, finding: &Finding, cures: &[Arc<str>]) -> Option<Fix> {
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
            for (way, _) in ways.into_iter().take(MOST_STANDINGS) {
                let together = Together::new(&self.ends, &self.limits, &items, &way);
                for (step, more) in SPARES {
                    if !self.may_search() {
                        return None;
                    }
                    let Some(to) = Self::rounded_to(&together, &items, *step, *more, held) else { continue };
                    let edits = self.edits_of(&items, &to, &way.turned)?;
                    if prove(bench, finding, &edits).is_some() {
                        let title = self.titles(&items, &to, &way.turned);
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

    /// Where several items may stand in this way, rounded to what a tape can show.
    pub(super) fn rounded(&self, items: &[Movable], way: &Standing, held: &dyn Fn(usize) -> bool) -> Option<Vec<f64>> {
        let together = Together::new(&self.ends, &self.limits, items, way);
        SPARES.iter().take(3).find_map(|(step, more)| Self::rounded_to(&together, items, *step, *more, held))
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

    fn titles(&self, items: &[Movable], to: &[f64], turned: &[bool]) -> String {
        let whole = Stretch { from: 0.0, to: 0.0, from_limit: None, to_limit: None };
        let way = Way { which: 0, stretch: whole, far: 0.0, all_kept: false };
        let moved = items.iter().zip(to).zip(turned);
        let moved = moved.filter(|((item, to), turned)| **turned || (*to - item.now).abs() > SAME);
        let titles: Vec<String> = moved.map(|((item, to), turned)| self.title(item, *turned, *to, &way)).collect();
        titles.join(", and ")
    }

    /// The edits that move an entry, what stands on the item going along.
    pub(super) fn edits(&self, movable: &Movable, to: f64, turned: bool) -> Option<Vec<Edit>> {
        let one = self.ends.first()?.items.get(movable.item)?;
        let mut edits = Vec::new();
        if (to - movable.now).abs() > SAME {
            edits.push(Edit::replace(movable.written, written(to, movable.unit)));
            let riders = movable.riders.iter();
            edits.extend(
                riders.map(|rider| Edit::replace(rider.written, written(rider.after(to - movable.now), rider.unit))),
            );
        }
        if turned {
            let ItemKind::Machine(machine) = &one.item.kind else { return None };
            let entry = machine.facing.entry()?;
            edits.push(Edit::replace(entry.written, format!("\"{}\"", other(entry.value).word())));
        }
        edits.sort_by_key(|edit| edit.span);
        Some(edits)
    }

    /// What the fix does, as an imperative sentence with the numbers to write.
    fn title(&self, movable: &Movable, turned: bool, to: f64, way: &Way) -> String {
        let one = self.ends.first().and_then(|load| load.items.get(movable.item));
        let name = one.map_or("it", |one| &*one.label);
        let by = to - movable.now;
        let unit = movable.unit;
        let value = format!("{}={}", movable.what.word(), written(to, unit));
        let mut title = match movable.what {
            What::Volume if by < 0.0 => format!("take off {} of {name}: {value}", spoken(-by, unit)),
            What::Volume => format!("load {} more of {name}: {value}", spoken(by, unit)),
            What::Left => {
                let side = if by > 0.0 { "left" } else { "right" };
                format!("move {name} {} to the {side}: {value}", spoken(by.abs(), unit))
            }
            What::FrontGap | What::RearGap => {
                let rearward = by * movable.what.rearward() > 0.0;
                let side = if rearward { "rearward" } else { "forward" };
                let mut title = String::new();
                if turned && let Some(facing) = one.and_then(|one| facing(one.item)) {
                    title = format!("turn {name} round: facing=\"{}\"", other(facing).word());
                }
                if by.abs() > SAME {
                    let and = if turned { ", and " } else { "" };
                    let name = if turned { "it" } else { name };
                    title = format!("{title}{and}move {name} {} {side}: {value}", spoken(by.abs(), unit));
                }
                title
            }
        };
        if way.all_kept && way.stretch.to - way.stretch.from > SAME {
            let step = steps(unit).last().copied().unwrap_or(SAME);
            let (from, to) = (rounded(way.stretch.from, step, true), rounded(way.stretch.to, step, false));
            let least = movable.what == What::Volume && way.stretch.from_limit.is_none();
            let range = if least {
                format!("anything up to {}", spoken(to, unit))
            } else {
                format!("anything from {} to {}", spoken(from, unit), spoken(to, unit))
            };
            // What is broken wherever this stands, by something else, is broken in that range too.
            let elsewhere = self.all().get(way.which).is_some_and(|(.., fares)| {
                self.limits.iter().zip(fares).any(|(limit, fares)| {
                    !fares.depends && fares.kept.is_empty() && fares.lacks.is_empty() && self.broken(limit)
                })
            });
            let which = if elsewhere { " that depends on it" } else { "" };
            title = format!("{title}; {range} keeps every limit{which}");
        }
        title
    }
}

/// The step, by its place among an entry's steps, to which several moves are rounded, and what is spared beyond that
/// so that no bound is kept by less than the numbers can be off, in m.
const SPARES: &[(usize, f64)] = &[(0, 0.0), (1, 0.0), (9, 0.0), (0, 0.02), (0, 0.05), (0, 0.1), (0, 0.2)];

fn step_of(item: &Movable, which: usize) -> f64 {
    let steps = steps(item.unit);
    steps.get(which).or(steps.last()).copied().unwrap_or(SAME)
}

/// The multiple of a step that is nearest, or the value as it is when that was hardly moved.
fn nearest(item: &Movable, to: f64, step: f64) -> f64 {
    if (to - item.now).abs() <= 1e-6 { item.now } else { (to / step).round() * step }
}

/// How far a value is from a stretch.
fn far(stretch: &Stretch, now: f64) -> f64 {
    (stretch.from - now).max(now - stretch.to).max(0.0)
}

/// Values to try in a stretch, the nearest to the present one first, each rounded to the coarsest step that still lies
/// in it, and then ever further in, as far as its middle.
fn candidates(movable: &Movable, stretch: &Stretch) -> Vec<f64> {
    let now = movable.now;
    if far(stretch, now) <= 0.0 {
        return vec![now];
    }
    let inward = if now < stretch.from { 1.0 } else { -1.0 };
    let (near, wide) = if now < stretch.from {
        (stretch.from, stretch.to - stretch.from)
    } else {
        (stretch.to, stretch.to - stretch.from)
    };
    let steps = steps(movable.unit);
    let fits = |to: f64| to >= stretch.from - SAME && to <= stretch.to + SAME;
    let mut all: Vec<f64> = Vec::new();
    let mut take = |to: f64| {
        if fits(to) && all.iter().all(|other| (other - to).abs() > SAME) {
            all.push(to);
        }
    };
    // A coarse step that goes no further than a finer one would by much is the one that a tape is set to.
    for step in &steps {
        take(rounded(near, *step, inward > 0.0));
    }
    let step = steps.first().copied().unwrap_or(SAME);
    let (mut by, mut times) = (step, 0);
    while by < wide / 2.0 {
        take(rounded(near + inward * by, step, inward > 0.0));
        times += 1;
        by = if times < 6 { by + step } else { by * 1.5 };
    }
    for step in &steps {
        take(rounded(near + inward * wide / 2.0, *step, inward > 0.0));
    }
    all
}
