//! The search for the smallest change that cures each finding of a load: proposals, each tried before it is offered.

use std::cell::{Cell, OnceCell};
use std::sync::Arc;

use super::bench::Bench;
use super::entry::{rounded, spoken, steps, written};
use super::limit::{Limit, Stand, limits};
use super::movable::{Movable, SAME, What};
use super::place::{facing, other};
use super::prove::prove;
use super::scan::{Fares, Scan, Stretch};
use super::together::Standing;
use crate::figures::Load;
use crate::finding::{Edit, Finding, Fix, Grade};
use crate::model::{Choice as _, ItemKind, LoadRef, Yard};
use crate::rules::RuleSet;

/// How many changes are tried for one finding.
const MOST_TRIES: usize = 20;

/// What can be moved in a load, and how each limit fares.
pub(super) struct Moves<'a, 'y> {
    pub(super) ends: Vec<Load<'y>>,
    pub(super) limits: Vec<Limit<'a>>,
    /// Everything that can be moved, moved over all it can be; once it is asked for.
    scanned: OnceCell<Vec<(Movable, bool, Vec<Fares>)>>,
    /// The ways for the items to stand in which every limit is kept; once they are asked for.
    pub(super) standing: OnceCell<Vec<(Standing, Vec<f64>)>>,
    /// How many linear programs may still be searched.
    searches: Cell<usize>,
}

/// How many looks at a limit are taken in all searches for several items of one load.
const MOST_LIMITS: usize = 400_000;

/// How many looks at a limit are taken to see where each item of a load may stand: what stands on a crowded deck is not
/// searched to the last item.
const MOST_LOOKS: usize = 1_500_000;

/// One way to cure a finding by moving one entry.
pub(super) struct Way {
    /// Which of the moves.
    pub(super) which: usize,
    /// Where it may be moved to.
    pub(super) stretch: Stretch,
    /// How far that is.
    pub(super) far: f64,
    /// Whether every limit is kept there.
    pub(super) all_kept: bool,
}

impl<'a, 'y> Moves<'a, 'y> {
    /// What can be moved in a load. None when the load cannot be computed.
    pub(super) fn of_yard(yard: &'y Yard, rules: &'a RuleSet, which: LoadRef) -> Option<Self> {
        let ends = Load::at_both_ends(yard, which)?;
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
                What::FrontGap | What::RearGap | What::Left => {
                    if *turned {
                        may("facing")
                    } else {
                        may("place")
                    }
                }
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
            for to in candidates(movable, &way.stretch, self.edge(movable, &way.stretch)) {
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
        let fix = one.or_else(|| self.several(bench, finding, cures))?;
        // Tie-downs that go to points of a machine would cross it once it is turned round: a person has to lead them anew.
        let turned = self.turns_what_is_tied(&fix);
        Some(if turned { Fix::advice(format!("{}; lead its tie-downs anew", fix.title)) } else { fix })
    }

    fn turns_what_is_tied(&self, fix: &Fix) -> bool {
        let mut items = self.ends.iter().flat_map(|load| &load.items).map(|one| one.item);
        items.any(|item| {
            let ItemKind::Machine(machine) = &item.kind else { return false };
            let facing = machine.facing.entry().map(|entry| entry.written);
            item.ties.iter().any(|tie| !tie.from.is_absent()) && fix.edits.iter().any(|edit| Some(edit.span) == facing)
        })
    }

    /// Whether the nearest end of a stretch is an edge of something, at which it is normal to stand: not one of weights.
    fn edge(&self, movable: &Movable, stretch: &Stretch) -> bool {
        let end = if movable.now < stretch.from { stretch.from_limit } else { stretch.to_limit };
        end.and_then(|at| self.limits.get(at)).is_some_and(|limit| !limit.rule.thin)
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
    pub(super) fn title(&self, movable: &Movable, turned: bool, to: f64, way: &Way) -> String {
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

/// What is left to an edge, in m.
const AN_INCH: f64 = 0.0254;

/// How far a value is from a stretch.
fn far(stretch: &Stretch, now: f64) -> f64 {
    (stretch.from - now).max(now - stretch.to).max(0.0)
}

/// Values to try in a stretch, the nearest to the present one first, each rounded to the coarsest step that still lies
/// in it, and then ever further in, as far as its middle.
fn candidates(movable: &Movable, stretch: &Stretch, edge: bool) -> Vec<f64> {
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
    // A tape cannot set a machine against an edge to the last bit: an inch is left where there is room for it.
    let near = if edge && wide > 4.0 * AN_INCH { near + inward * AN_INCH } else { near };
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
