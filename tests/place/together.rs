//! Several items moved at once, against all places of a grid: where `no-place` is found the grid holds no good place, and a
//! fix that moves several items moves them no further than the nearest place of the grid that has the same room to spare.

use std::collections::BTreeSet;

use draylint::check::{Gathered, gather, judge};
use draylint::finding::applied;
use draylint::finding::{Finding, Grade};
use draylint::mend::{Bench, fix};
use draylint::model::{Gap, ItemKind};
use draylint::rules::RuleSet;
use draylint::syntax::pool;
use draylint::text::{Source, Sources};
use rayon::prelude::*;

use crate::jobs::{Chance, Job, Kind, Otherwise};
use crate::maker::{Wanted, job};
use crate::pipeline::{Key, MATERIALS, Pipeline, options};
use crate::ranges::{cases, dependent, is_good};

/// The most that an item may reach behind the deck (`rear-overhang`), in m; none may reach ahead of it (`over-the-wall`).
const OVERHANG: f64 = 4.0 * 0.3048;

/// The step of a tape in inches to which a first fix is rounded, in m.
const TAPE: f64 = 0.0254;

/// What a search for fixes said of a job.
struct Searched {
    no_place: Option<Finding>,
    /// For each fix that moves the load: where each item then stands, by how much its gap grew, and whether it was turned.
    fixes: Vec<Vec<Move>>,
    /// Findings of rules that a change of place could cure, for which none was found.
    without: Vec<String>,
}

#[derive(Clone, Copy, Debug)]
struct Move {
    gap_by: f64,
    turned: bool,
}

fn searched(job: &Job, pipeline: &Pipeline) -> Searched {
    let sheet = job.sheet(&[]);
    let mut sources = Sources::default();
    for (name, text) in [("fleet.kdl", &job.fleet), ("yard.kdl", &job.settings), ("sheet.kdl", &sheet)] {
        sources.add(Source::new(name, text.clone()));
    }
    let (yard, read) = pipeline.yard(&sheet);
    let judged = yard.loads().filter_map(|which| judge(&yard, &pipeline.rules, which, &options())).collect();
    let Gathered { mut findings, .. } = gather(&yard, &pipeline.rules, read, judged);
    let unset = RuleSet::builtin();
    let bench = Bench::new(&sources, MATERIALS, &yard, &unset, options());
    let added = fix(&bench, &pipeline.rules, findings.iter_mut(), None);
    let changes = findings.iter().flat_map(|finding| &finding.fixes).filter(|fix| fix.grade == Grade::Change);
    let fixes =
        changes.map(|fix| moves(job, pipeline, &applied(&sheet, &fix.edits).expect("edits that fit"))).collect();
    let without = findings.iter().filter(|finding| {
        let rule = pipeline.rules.get(&finding.rule);
        finding.fixes.is_empty() && rule.is_some_and(|rule| rule.cure.iter().any(|cure| &**cure == "place"))
    });
    let without = without.map(|finding| finding.rule.to_string()).collect();
    Searched { no_place: added.into_iter().find(|one| one.rule == "no-place"), fixes, without }
}

/// How a changed sheet differs from a job.
fn moves(job: &Job, pipeline: &Pipeline, sheet: &str) -> Vec<Move> {
    let (yard, _) = pipeline.yard(sheet);
    let items = yard.sheets[0].base.items.iter().zip(&job.items);
    items
        .map(|(new, old)| {
            let gap = match &new.gap {
                Gap::Front(gap) | Gap::Rear(gap) => gap.value.si(),
                Gap::Fills | Gap::Broken => old.gap.si,
            };
            let backward = match &new.kind {
                ItemKind::Machine(machine) => machine.facing.value() == Some(draylint::model::Facing::Backward),
                ItemKind::Cargo(_) | ItemKind::Bulk(_) => false,
            };
            let turned = match old.kind {
                Kind::Machine { backward: was } => was != backward,
                Kind::Cargo | Kind::Bulk => false,
            };
            Move { gap_by: gap - old.gap.si, turned }
        })
        .collect()
}

/// Places for all items on a grid: how far each item's foremost point is behind the deck's front edge.
struct Grid<'j> {
    job: &'j Job,
    pipeline: &'j Pipeline,
    dependent: BTreeSet<Key>,
}

impl<'j> Grid<'j> {
    fn new(job: &'j Job, pipeline: &'j Pipeline, seed: u64) -> Self {
        // What depends on the places shows in a few dozen of them.
        let mut chance = Chance(seed ^ 0x55);
        let seen: Vec<_> = (0..40)
            .map(|_| {
                let ahead: Vec<f64> = job.items.iter().map(|_| chance.between(-1.0, job.deck)).collect();
                let turned: Vec<bool> = job.items.iter().map(|_| chance.happens(0.5)).collect();
                pipeline.with(job, &otherwise(job, &ahead, &turned))
            })
            .collect();
        Self { job, pipeline, dependent: dependent(seen.iter()) }
    }

    fn good(&self, ahead: &[f64], turned: &[bool]) -> bool {
        is_good(&self.pipeline.with(self.job, &otherwise(self.job, ahead, turned)), &self.dependent)
    }

    /// Whether a place is good, and so are all in which every item stands this much further ahead or behind.
    fn good_by(&self, ahead: &[f64], turned: &[bool], spare: f64) -> bool {
        self.good(ahead, turned)
            && (0..1_usize << ahead.len()).all(|corner| {
                let moved = ahead.iter().enumerate();
                let moved: Vec<f64> =
                    moved.map(|(at, ahead)| ahead + if corner >> at & 1 == 1 { spare } else { -spare }).collect();
                self.good(&moved, turned)
            })
    }

    /// All places of the grid at which no two items stand in one another and none reaches off the deck further than it
    /// may: the others break `overlap`, `over-the-wall` or `rear-overhang` whatever they weigh.
    fn places(&self, step: f64) -> Vec<Vec<f64>> {
        let mut all: Vec<Vec<f64>> = vec![Vec::new()];
        for item in &self.job.items {
            let long = item.long.unwrap();
            let mut longer = Vec::new();
            for before in &all {
                let mut ahead = 0.0;
                while ahead <= self.job.deck + OVERHANG - long {
                    let clear = before
                        .iter()
                        .zip(&self.job.items)
                        .all(|(other, its)| *other >= ahead + long || ahead >= other + its.long.unwrap());
                    if clear {
                        longer.push(before.iter().copied().chain([ahead]).collect());
                    }
                    ahead += step;
                }
            }
            all = longer;
        }
        all
    }

    /// Every way round.
    fn ways(&self) -> Vec<Vec<bool>> {
        let mut all: Vec<Vec<bool>> = vec![Vec::new()];
        for item in &self.job.items {
            let ways: &[bool] = if matches!(item.kind, Kind::Machine { .. }) { &[false, true] } else { &[false] };
            all = all
                .iter()
                .flat_map(|way| ways.iter().map(|turned| way.iter().copied().chain([*turned]).collect()))
                .collect();
        }
        all
    }
}

/// How far an item's foremost point is behind the deck's front edge.
fn ahead(job: &Job, item: usize) -> f64 {
    let item = &job.items[item];
    if item.front == Some(true) { item.gap.si } else { job.deck - item.gap.si - item.long.unwrap() }
}

fn otherwise(job: &Job, to: &[f64], turned: &[bool]) -> Vec<Otherwise> {
    let all = to.iter().zip(turned).enumerate();
    all.map(|(item, (to, turned))| {
        let gap_by = (to - ahead(job, item)) * job.sign(item);
        Otherwise { item, gap_by, turned: *turned, volume: None }
    })
    .collect()
}

fn total(job: &Job, to: &[f64]) -> f64 {
    to.iter().enumerate().map(|(item, to)| (to - ahead(job, item)).abs()).sum()
}

/// The order of items from the front.
fn order(places: &[f64]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..places.len()).collect();
    order.sort_by(|a, b| places[*a].total_cmp(&places[*b]));
    order
}

#[derive(Debug, Default)]
struct Tally {
    no_place: usize,
    compared: usize,
    wrong: Vec<String>,
}

impl Tally {
    fn and(mut self, other: Self) -> Self {
        self.no_place += other.no_place;
        self.compared += other.compared;
        self.wrong.extend(other.wrong);
        self
    }
}

fn tried(seed: u64, wanted: Wanted, step: f64) -> Tally {
    let job = job(seed, wanted);
    let pipeline = Pipeline::of(&job);
    let mut tally = Tally::default();
    if !pipeline.seen(&job.sheet(&[])).computed {
        return tally;
    }
    let found = searched(&job, &pipeline);
    let several = found.fixes.iter().filter(|fix| fix.iter().filter(|one| one.gap_by.abs() > 1e-6).count() > 1);
    let several: Vec<&Vec<Move>> = several.collect();
    if found.no_place.is_none() && several.is_empty() && found.without.is_empty() {
        return tally;
    }
    let grid = Grid::new(&job, &pipeline, seed);
    let mut places = grid.places(step);
    if let Some(no_place) = &found.no_place {
        tally.no_place += 1;
        for turned in grid.ways() {
            if let Some(good) = places.iter().find(|place| grid.good(place, &turned)) {
                tally.wrong.push(format!("seed {seed}: {}, but {good:?} {turned:?} is good", no_place.message));
            }
        }
        return tally;
    }
    places.sort_by(|a, b| total(&job, a).total_cmp(&total(&job, b)));
    for fix in several {
        let turned: Vec<bool> = fix.iter().map(|one| one.turned).collect();
        let to: Vec<f64> =
            fix.iter().enumerate().map(|(item, one)| ahead(&job, item) + one.gap_by * job.sign(item)).collect();
        let same = |place: &&Vec<f64>| order(place) == order(&to);
        let Some(best) = places.iter().filter(same).find(|place| grid.good_by(place, &turned, TAPE / 2.0)) else {
            continue;
        };
        tally.compared += 1;
        // Each item is rounded to the nearest inch or centimetre; a millimetre for limits that are quotients.
        let allowed = total(&job, best) + TAPE / 2.0 * f64::from(u32::try_from(to.len()).unwrap()) + 1e-3;
        if total(&job, &to) > allowed {
            tally.wrong.push(format!(
                "seed {seed}: moves {:.4} to {to:?} {turned:?}, the grid {:.4} to {best:?}",
                total(&job, &to),
                total(&job, best)
            ));
        }
    }
    // A finding that no move cures, in a load that has a place with room to spare.
    if !found.without.is_empty() {
        for turned in grid.ways() {
            if let Some(good) = places.iter().find(|place| grid.good_by(place, &turned, 0.02)) {
                tally
                    .wrong
                    .push(format!("seed {seed}: nothing cures {:?}, but {good:?} {turned:?} is good", found.without));
                break;
            }
        }
    }
    tally
}

fn all(first: u64, count: u64, wanted: Wanted, step: f64) -> Tally {
    let pool = pool().build().unwrap();
    pool.install(|| {
        (first..first + count).into_par_iter().map(|seed| tried(seed, wanted, step)).reduce(Tally::default, Tally::and)
    })
}

const TWO: Wanted = Wanted { items: (2, 2), gaps: false, machines: 0.35, off: (0.3, 2.2), bulk: false, stacked: false };

#[test]
fn two_items_stand_no_better_on_any_place_of_a_grid() {
    let tally = all(20_000, cases(32), TWO, 0.12);
    // Both kinds of answer were looked at.
    assert!(tally.no_place > 0 && tally.compared > 0, "{tally:?}");
    assert!(tally.wrong.is_empty(), "{}", tally.wrong.join("\n"));
}

#[test]
fn three_items_stand_no_better_on_any_place_of_a_grid() {
    let tally = all(30_012, cases(12), Wanted { items: (3, 3), machines: 0.0, ..TWO }, 0.24);
    // Both kinds of answer were looked at.
    assert!(tally.no_place > 0 && tally.compared > 0, "{tally:?}");
    assert!(tally.wrong.is_empty(), "{}", tally.wrong.join("\n"));
}
