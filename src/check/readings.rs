//! What gauges showed beside what is computed, each with how far it can be off.

use super::known::End;
use crate::figures::{Changed, Gauged, Lack, Load, Rest, Subject};
use crate::finding::ReadingLine;
use crate::model::{Choice, ItemKind, Slot, Stands};
use crate::physics::within_ranges;
use crate::rules::HalfWidths;
use crate::text::Span;
use crate::units::{Kind, LANES, Mass};

/// The least that a gauge is taken to be off where equations are solved, in kg: no scale shows less, and without it a
/// sheet that says `plus-minus=(lb)0` of several readings could leave equations without a solution.
pub(super) const LEAST: f64 = 0.001;

/// The readings of a load, compared.
pub(super) struct Readings<'y> {
    /// The load at the densities, within the ranges of its materials, that come nearest to the readings: a range is no
    /// spread, and what lies within it is no disagreement.
    pub(super) load: Load<'y>,
    /// Those densities.
    pub(super) densities: Vec<(Span, f64)>,
    /// Numbers that can be compared.
    pub(super) compared: Vec<Compared<'y>>,
    /// What can be off, with how far it moves each of them.
    pub(super) causes: Vec<Cause>,
    /// Why others cannot be.
    pub(super) lacks: Vec<Lack>,
    /// Every number that was read, for `weigh`.
    pub(super) lines: Vec<ReadingLine>,
}

/// A number that was read beside the one that is computed.
pub(super) struct Compared<'y> {
    pub(super) gauged: Gauged<'y>,
    /// Its place among all numbers that were read.
    line: usize,
    /// By how much the reading can be off, in kg.
    pub(super) half: f64,
    pub(super) computed: f64,
    /// By how much that can be off, in kg.
    pub(super) spread: f64,
}

/// An entry that can be off.
pub(super) struct Cause {
    pub(super) rest: Rest,
    /// Its half-width in the SI unit of its kind.
    pub(super) half: f64,
    /// How far each figure that is compared moves with that.
    pub(super) reach: Vec<Mass>,
}

impl Compared<'_> {
    /// What was read less what is computed, in kg.
    pub(super) fn apart(&self) -> f64 {
        self.gauged.read.value - self.computed
    }

    /// How far the two may lie apart: the root of the sum of the squares of what each can be off.
    pub(super) fn tolerance(&self) -> f64 {
        self.spread.hypot(self.half)
    }

    pub(super) fn agrees(&self) -> bool {
        self.apart().abs() <= self.tolerance()
    }

    /// The reading's own reach: itself and no other.
    pub(super) fn own(&self, at: usize, count: usize) -> Vec<Mass> {
        (0..count).map(|other| Mass::new(if other == at { self.half.max(LEAST) } else { 0.0 })).collect()
    }
}

impl<'y> Readings<'y> {
    /// Compares the readings of a load, given at the heaviest and, where that differs, the lightest end of its materials'
    /// densities. None when nothing was read.
    pub(super) fn of(ends: &[End<'y>]) -> Option<Self> {
        let heavy = &ends.first()?.load;
        if heavy.readings.is_empty() {
            return None;
        }
        let (mut compared, mut lacks, mut lines) = (Vec::new(), Vec::new(), Vec::new());
        for gauged in Gauged::all(heavy) {
            let half = HalfWidths::shipped().of(&gauged.read);
            let stands = &gauged.reading.stands;
            lines.push(line(heavy, &gauged, half));
            match usable(stands).then(|| number(heavy, &gauged)) {
                Some(Ok(computed)) => {
                    compared.push(Compared { gauged, line: lines.len() - 1, half, computed, spread: 0.0 });
                }
                Some(Err(lack)) => lacks.push(lack),
                None if matches!(stands, Slot::Given(_)) => {}
                None => lacks.extend(stands.need(&gauged.reading.owner, "stands").err().map(Lack::Entry)),
            }
        }
        let rests: Vec<Rest> =
            heavy.rests().into_iter().filter(|(_, statics)| *statics).map(|(rest, _)| rest).collect();
        let ranges = ends.get(1).map(|light| ranges(heavy, &light.load)).unwrap_or_default();
        let mut all = Self {
            load: heavy.changed(Changed::default()),
            densities: ranges.iter().map(|(at, high, _)| (*at, *high)).collect(),
            compared,
            causes: Vec::new(),
            lacks,
            lines,
        };
        all.spread(&rests);
        if !ranges.is_empty() {
            all.fit(&ranges);
            all.spread(&rests);
        }
        all.fill_lines();
        Some(all)
    }

    /// The load with an entry otherwise, the densities as they are here.
    pub(super) fn changed(&self, at: Span, value: f64) -> Load<'y> {
        let values = self.densities.iter().copied().chain([(at, value)]).collect();
        self.load.changed(Changed { values, turned: Vec::new() })
    }

    /// What was read less what a load comes to, or nothing where it cannot be computed.
    pub(super) fn apart(&self, load: &Load<'_>) -> Option<Vec<Mass>> {
        let apart = |one: &Compared<'_>| Some(Mass::new(one.gauged.read.value - number(load, &one.gauged).ok()?));
        self.compared.iter().map(apart).collect()
    }

    /// How far each figure moves with an entry, by that entry's half-width.
    pub(super) fn reach(&self, load: &Load<'_>, at: Span, half: f64) -> Option<Vec<Mass>> {
        self.reaches(&load.varied_statics(&[at]), &[half]).pop()?
    }

    /// The same for a load that is varied along so many entries.
    fn reaches(&self, varied: &Load<'_>, halves: &[f64]) -> Vec<Option<Vec<Mass>>> {
        let slopes: Option<Vec<[f64; LANES]>> = self
            .compared
            .iter()
            .map(|one| one.gauged.figure.of(varied, Subject::Whole).ok().map(|reading| reading.slopes))
            .collect();
        let lane = |(lane, half): (usize, &f64)| {
            let slopes = slopes.as_ref()?;
            slopes.iter().map(|slopes| Some(Mass::new(slopes.get(lane)? * half))).collect()
        };
        halves.iter().enumerate().map(lane).collect()
    }

    /// Finds how far each entry moves what is compared, and how far that can be off by all of them. A density is a range
    /// and no cause.
    fn spread(&mut self, rests: &[Rest]) {
        let half = |rest: &Rest| HalfWidths::shipped().of(rest);
        let mut causes: Vec<(&Rest, f64)> = Vec::new();
        for rest in rests.iter().filter(|rest| rest.kind != Kind::Density) {
            let half = half(rest);
            if half > 0.0 && half.is_finite() && causes.iter().all(|(known, _)| known.at != rest.at) {
                causes.push((rest, half));
            }
        }
        self.causes.clear();
        for group in causes.chunks(LANES) {
            let along: Vec<Span> = group.iter().map(|(rest, _)| rest.at).collect();
            let halves: Vec<f64> = group.iter().map(|(_, half)| *half).collect();
            let reaches = self.reaches(&self.load.varied_statics(&along), &halves);
            for ((rest, half), reach) in group.iter().zip(reaches) {
                if let Some(reach) = reach.filter(|reach| reach.iter().any(|one| one.si().abs() > 0.0)) {
                    self.causes.push(Cause { rest: (*rest).clone(), half: *half, reach });
                }
            }
        }
        for (at, one) in self.compared.iter_mut().enumerate() {
            let squares = self.causes.iter().filter_map(|cause| cause.reach.get(at)).map(|reach| reach.si().powi(2));
            one.spread = squares.sum::<f64>().sqrt();
        }
    }

    /// Takes the densities within their ranges that come nearest to the readings.
    fn fit(&mut self, ranges: &[(Span, f64, f64)]) {
        let reach = |(at, high, low): &(Span, f64, f64)| self.reach(&self.load, *at, low - high);
        let Some(reaches) = ranges.iter().map(reach).collect::<Option<Vec<_>>>() else { return };
        let apart: Vec<Mass> = self.compared.iter().map(|one| Mass::new(one.apart())).collect();
        let tolerance: Vec<Mass> = self.compared.iter().map(|one| Mass::new(one.tolerance().max(LEAST))).collect();
        let along = within_ranges(&apart, &tolerance, &reaches);
        let best = ranges.iter().zip(along).map(|((at, high, low), along)| (*at, high + along.si() * (low - high)));
        self.densities = best.collect();
        self.load = self.load.changed(Changed { values: self.densities.clone(), turned: Vec::new() });
        for one in &mut self.compared {
            if let Ok(computed) = number(&self.load, &one.gauged) {
                one.computed = computed;
            }
        }
    }

    fn fill_lines(&mut self) {
        for one in &self.compared {
            let Some(line) = self.lines.get_mut(one.line) else { continue };
            line.computed = Some(one.computed);
            line.computed_plus_minus = Some(one.spread);
            line.agrees = Some(one.agrees());
            line.assumes = (!self.densities.is_empty())
                .then_some("the material at the density, within its range, that comes nearest to what was read");
        }
    }
}

/// Whether what was read can be compared: stands that bear carry what neither tongue nor axles then show.
fn usable(stands: &Slot<Stands>) -> bool {
    matches!(stands, Slot::Given(entry) if entry.value == Stands::Clear)
}

/// The figure that was read, in kg.
fn number(load: &Load<'_>, gauged: &Gauged<'_>) -> Result<f64, Lack> {
    match gauged.figure.of(load, Subject::Whole)?.value {
        crate::expr::Value::Number(number) => Ok(number),
        // No figure of a reading is a word; one that were could not be compared.
        crate::expr::Value::Text(_) | crate::expr::Value::Flag(_) => Ok(f64::NAN),
    }
}

/// The densities that are ranges, each from its heaviest to its lightest.
fn ranges(heavy: &Load<'_>, light: &Load<'_>) -> Vec<(Span, f64, f64)> {
    let (high, low) = (heavy.rests(), light.rests());
    let mut ranges: Vec<(Span, f64, f64)> = Vec::new();
    for (one, other) in heavy.items.iter().zip(&light.items) {
        if !matches!(one.item.kind, ItemKind::Bulk(_)) {
            continue;
        }
        let density = |rests: &[(Rest, bool)], on: &[Span]| {
            rests.iter().map(|(rest, _)| rest).find(|rest| rest.kind == Kind::Density && on.contains(&rest.at)).cloned()
        };
        if let (Some(high), Some(low)) = (density(&high, one.rests_on()), density(&low, other.rests_on()))
            && ranges.iter().all(|(at, ..)| *at != high.at)
        {
            ranges.push((high.at, high.value, low.value));
        }
    }
    ranges
}

fn line(load: &Load<'_>, gauged: &Gauged<'_>, half: f64) -> ReadingLine {
    ReadingLine {
        name: std::sync::Arc::clone(&gauged.reading.name.value),
        figure: gauged.figure.result_name(load, Subject::Whole),
        noun: gauged.figure.noun,
        kind: gauged.read.kind,
        unit: gauged.read.unit,
        read: gauged.read.value,
        plus_minus: half,
        computed: None,
        computed_plus_minus: None,
        stands: gauged.reading.stands.value().map(Stands::word),
        agrees: None,
        assumes: None,
    }
}
