//! The ranges of every item against bisection: a place is good when the findings that depend on the place are absent.

use std::collections::BTreeSet;

use draylint::mend::{FacingPlaces, ItemPlaces, places};
use draylint::syntax::{pool, with_stack};
use rayon::prelude::*;

use crate::jobs::{Job, Kind, Otherwise};
use crate::maker::{Wanted, job};
use crate::pipeline::{Key, Pipeline, Seen};

/// How near the ends of ranges are to those found by bisection, in m or m³.
const NEAR: f64 = 1e-4;

/// One entry of one item, varied.
struct Varied<'j> {
    job: &'j Job,
    pipeline: &'j Pipeline,
    item: usize,
    turned: bool,
    volume: bool,
}

impl Varied<'_> {
    fn seen(&self, at: f64) -> Seen {
        let item = &self.job.items[self.item];
        let mut otherwise = Otherwise { item: self.item, gap_by: 0.0, turned: self.turned, volume: None };
        if self.volume {
            otherwise.volume = Some(at);
        } else {
            otherwise.gap_by = at - item.gap.si;
        }
        self.pipeline.with(self.job, &[otherwise])
    }

    /// Between which values it makes any sense: something of the item is over the deck.
    fn domain(&self) -> (f64, f64) {
        match (self.volume, self.job.items[self.item].long) {
            (true, _) => (0.001, 100.0),
            (false, Some(long)) => (-long, self.job.deck),
            (false, None) => (0.0, self.job.deck * (1.0 - 1e-9)),
        }
    }
}

/// The limits that depend on the entry: broken at some values and not at others, or by a figure that changes.
pub(crate) fn dependent<'s>(all: impl Iterator<Item = &'s Seen>) -> BTreeSet<Key> {
    let computed: Vec<&Seen> = all.filter(|seen| seen.computed).collect();
    let keys: BTreeSet<Key> = computed.iter().flat_map(|seen| seen.broken.keys().cloned()).collect();
    let varies = |key: &Key| {
        let values: Vec<Option<f64>> = computed.iter().map(|seen| seen.broken.get(key).copied()).collect();
        let first = values[0];
        values.iter().any(|value| match (value, first) {
            (Some(value), Some(first)) => (value - first).abs() > 1e-7 * first.abs().max(1e-3),
            (None, None) => false,
            _ => true,
        })
    };
    keys.into_iter().filter(varies).collect()
}

pub(crate) fn is_good(seen: &Seen, dependent: &BTreeSet<Key>) -> bool {
    seen.computed && seen.broken.keys().all(|key| !dependent.contains(key))
}

/// The good ranges by a grid, with a bisection wherever two neighbours differ.
fn bisected(varied: &Varied<'_>, grid: &[(f64, Seen)], dependent: &BTreeSet<Key>) -> Vec<(f64, f64)> {
    let good = |at: f64| is_good(&varied.seen(at), dependent);
    let mut ranges: Vec<(f64, f64)> = Vec::new();
    let mut open: Option<f64> = None;
    for (place, (at, seen)) in grid.iter().enumerate() {
        let is = is_good(seen, dependent);
        if let Some((before, _)) = place.checked_sub(1).map(|place| &grid[place])
            && is != open.is_some()
        {
            let (mut low, mut high) = (*before, *at);
            while high - low > NEAR / 20.0 {
                let middle = f64::midpoint(low, high);
                *(if good(middle) == is { &mut high } else { &mut low }) = middle;
            }
            if is {
                open = Some(high);
            } else {
                ranges.extend(open.take().map(|from| (from, low)));
            }
        } else if place == 0 && is {
            open = Some(*at);
        }
    }
    ranges.extend(open.map(|from| (from, grid.last().unwrap().0)));
    ranges
}

/// What is wrong with the ranges of one item, one way round.
fn compare(varied: &Varied<'_>, found: &FacingPlaces, step: f64) -> Vec<String> {
    let (from, to) = varied.domain();
    let mut at: Vec<f64> = vec![from, to];
    if varied.volume {
        // Far beyond what the trailer can carry nothing happens any more.
        at.extend(steps(from, 8.0, step));
        at.extend(steps(8.0, to, 4.0));
    } else {
        at.extend(steps(from, to, step));
    }
    // What a grid would step over: the middles of ranges and of what lies between them.
    let ends: Vec<f64> = found.ranges.iter().flat_map(|range| [range.from.at, range.to.at]).collect();
    // A rule that gives way to another may be heard for a few millimetres only: just beyond each end.
    at.extend(ends.iter().flat_map(|end| [end - 2.0 * NEAR, end + 2.0 * NEAR]).filter(|at| *at > from && *at < to));
    at.extend(ends.windows(2).map(|pair| f64::midpoint(pair[0], pair[1])));
    at.sort_by(f64::total_cmp);
    at.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    let grid: Vec<(f64, Seen)> = at.into_iter().map(|at| (at, varied.seen(at))).collect();
    let dependent = dependent(grid.iter().map(|(_, seen)| seen));
    let wanted = bisected(varied, &grid, &dependent);
    let mut wrong = Vec::new();
    // A range that is a single point need not be seen by a judge who computes it the other way round.
    let ranges: Vec<_> = found.ranges.iter().filter(|range| range.to.at - range.from.at > NEAR / 10.0).collect();
    let same = ranges.len() == wanted.len()
        && ranges
            .iter()
            .zip(&wanted)
            .all(|(range, (from, to))| (range.from.at - from).abs() <= NEAR && (range.to.at - to).abs() <= NEAR);
    if !same {
        let shown: Vec<(f64, f64)> = ranges.iter().map(|range| (range.from.at, range.to.at)).collect();
        wrong.push(format!("ranges {shown:?} {ranges:?}, by bisection {wanted:?}; dependent {dependent:?}"));
        return wrong;
    }
    for range in ranges {
        for (end, outward, edge) in [(&range.from, -1.0, from), (&range.to, 1.0, to)] {
            if end.limit.is_none() && (end.at - edge).abs() <= NEAR {
                continue;
            }
            let beyond = varied.seen(end.at + outward * 2.0 * NEAR);
            match &end.limit {
                None => {
                    if beyond.computed {
                        wrong.push(format!("no limit at {}, beyond it {:?}", end.at, beyond.broken));
                    }
                }
                Some(id) => {
                    let gives_way = &varied.pipeline.rules.get(id).unwrap().gives_way_to;
                    let speaks = |rule: &str| beyond.broken.keys().any(|key| key.0 == rule);
                    let breaks = speaks(id) || gives_way.iter().any(|(other, _)| speaks(other));
                    if beyond.computed && !breaks {
                        wrong.push(format!("{id} at {}, beyond it {:?}", end.at, beyond.broken));
                    }
                    if !beyond.computed {
                        wrong.push(format!("{id} at {}, beyond it nothing can be computed", end.at));
                    }
                }
            }
        }
    }
    wrong
}

fn steps(from: f64, to: f64, step: f64) -> Vec<f64> {
    let mut all = vec![from];
    while all.last().unwrap() + step < to {
        all.push(all.last().unwrap() + step);
    }
    all
}

/// What was seen over all jobs.
#[derive(Debug, Default)]
struct Tally {
    ranges: usize,
    none: usize,
    limits: BTreeSet<String>,
    wrong: Vec<String>,
}

impl Tally {
    fn and(mut self, other: Self) -> Self {
        self.ranges += other.ranges;
        self.none += other.none;
        self.limits.extend(other.limits);
        self.wrong.extend(other.wrong);
        self
    }

    /// Places and the want of them, and limits of every kind.
    fn has_seen_enough(&self) {
        let enough = self.ranges >= 10 && self.none > 0 && self.limits.len() >= 8;
        assert!(enough, "{} ranges, {} times none, {:?}", self.ranges, self.none, self.limits);
    }

    fn take(&mut self, found: &FacingPlaces) {
        self.ranges += found.ranges.len();
        self.none += usize::from(found.ranges.is_empty());
        for range in &found.ranges {
            self.limits.extend(
                [&range.from, &range.to].into_iter().filter_map(|end| end.limit.as_ref()).map(ToString::to_string),
            );
        }
    }
}

/// Every item of a job, every way round, and every volume.
fn judged(seed: u64, wanted: Wanted, step: f64) -> Tally {
    let job = job(seed, wanted);
    let pipeline = Pipeline::of(&job);
    let text = job.sheet(&[]);
    let (yard, findings) = pipeline.yard(&text);
    let findings: Vec<_> = findings.iter().filter(|finding| finding.rule != "never-used").collect();
    assert!(findings.is_empty(), "{seed}: {findings:?}");
    let load = places(&yard, &pipeline.rules, yard.loads().next().unwrap(), None).unwrap();
    let mut tally = Tally::default();
    if load.missing.is_some() {
        assert!(!pipeline.seen(&text).computed, "{seed}: {:?}", load.missing);
        assert!(load.items.is_empty());
        return tally;
    }
    for found in &load.items {
        let Some(item) = job.items.iter().position(|item| *item.name == *found.item) else {
            panic!("{seed}: {}", found.item)
        };
        let backward = matches!(job.items[item].kind, Kind::Machine { backward: true });
        check_entry(&job, item, found);
        for facing in &found.facings {
            let faces_back = facing.facing == Some(draylint::model::Facing::Backward);
            let turned = facing.facing.is_some() && faces_back != backward;
            let varied = Varied { job: &job, pipeline: &pipeline, item, turned, volume: found.measured == "volume" };
            tally.take(facing);
            let wrong = compare(&varied, facing, step);
            let turned = if turned { " turned round" } else { "" };
            tally.wrong.extend(
                wrong
                    .into_iter()
                    .map(|wrong| format!("seed {seed}, {} {}{turned}: {wrong}", found.item, found.measured)),
            );
        }
    }
    let wanted: usize = job
        .items
        .iter()
        .map(|item| usize::from(item.on.is_none() && item.front.is_some()) + usize::from(item.volume.is_some()))
        .sum();
    if load.items.len() != wanted {
        tally.wrong.push(format!("seed {seed}: {} entries, not {wanted}", load.items.len()));
    }
    tally
}

fn check_entry(job: &Job, item: usize, found: &ItemPlaces) {
    let item = &job.items[item];
    let (word, now) = match (found.measured, item.front) {
        ("volume", _) => ("volume", item.volume.as_ref().unwrap().si),
        (_, Some(true)) => ("front-gap", item.gap.si),
        _ => ("rear-gap", item.gap.si),
    };
    assert_eq!(found.measured, word);
    assert!((found.now - now).abs() < 1e-9, "{} {}", found.now, now);
    let ways = if matches!(item.kind, Kind::Machine { .. }) { 2 } else { 1 };
    assert_eq!(found.facings.len(), ways);
    if let Some(long) = item.long {
        assert!((found.length - long).abs() < 1e-9);
    }
}

pub(crate) fn cases(default: u64) -> u64 {
    std::env::var("PLACE_CASES").ok().and_then(|cases| cases.parse().ok()).unwrap_or(default)
}

fn all(first: u64, count: u64, wanted: Wanted, step: f64) -> Tally {
    let pool = pool().build().unwrap();
    pool.install(|| {
        (first..first + count).into_par_iter().map(|seed| judged(seed, wanted, step)).reduce(Tally::default, Tally::and)
    })
}

const WHOLE: Wanted = Wanted { items: (1, 4), gaps: false, machines: 0.5, off: (0.85, 1.2), bulk: true, stacked: true };

#[test]
fn ranges_agree_with_bisection_through_the_whole_pipeline() {
    let tally = all(1, cases(8), WHOLE, 0.08);
    tally.has_seen_enough();
    assert!(tally.wrong.is_empty(), "{}", tally.wrong.join("\n"));
}

#[test]
fn ranges_agree_where_entries_are_missing() {
    let tally = all(5000, cases(8), Wanted { gaps: true, ..WHOLE }, 0.08);
    tally.has_seen_enough();
    assert!(tally.wrong.is_empty(), "{}", tally.wrong.join("\n"));
}

#[test]
fn nothing_is_missed_on_a_grid_of_ten_millimetres() {
    let tally = all(9000, cases(1), Wanted { items: (2, 3), ..WHOLE }, 0.01);
    assert!(tally.wrong.is_empty(), "{}", tally.wrong.join("\n"));
}

#[test]
fn a_sheet_is_written_as_the_job_says() {
    with_stack(|| {
        let job = job(3, WHOLE);
        let text = job.sheet(&[]);
        assert!(job.items.iter().all(|item| text.contains(&item.gap.text) || item.front.is_none()), "{text}");
    });
}
