//! One entry moved over all it can be: where each limit is kept, and so where all are.
//!
//! With one item moved along the deck, which way round it stands being fixed, every load figure is linear in the move, or
//! a quotient of two that are (shares); figures that go by edges are so between the places where edges come level
//! ([`Movable::cuts`]). So the difference between the sides of a comparison changes its sign at most once between two
//! such places, and where it does is found by regula falsi, of which the first step is exact for what is linear. The
//! turning points of all comparisons of a limit cut the move into pieces on each of which the limit is kept or broken as
//! a whole. A company's condition may be of any form: a piece on which it is not of one mind is cut in two until it is.

use super::limit::{Limit, Stand};
use super::movable::{Movable, SAME};
use crate::figures::{Lack, Load};

/// Differences smaller than this share of what is compared are rounding.
const ROUNDING: f64 = 1e-11;

/// A stretch in which limits are kept, and the limit at each end; none where nothing but the entry's own reach ends it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stretch {
    pub(super) from: f64,
    pub(super) to: f64,
    pub(super) from_limit: Option<usize>,
    pub(super) to_limit: Option<usize>,
}

/// How one limit fares as the entry moves.
#[derive(Clone, Debug, Default)]
pub(super) struct Fares {
    /// Where it is not known to be broken; ends belong to it.
    pub(super) kept: Vec<(f64, f64)>,
    /// Whether it depends on the entry at all.
    pub(super) depends: bool,
    /// What is missing to judge it everywhere.
    pub(super) lacks: Vec<Lack>,
}

/// A scan of one entry.
pub(super) struct Scan<'a, 'y> {
    ends: &'a [Load<'y>],
    movable: &'a Movable,
    turned: bool,
    /// Between which values the load can be computed.
    from: f64,
    to: f64,
}

/// What was seen of a limit at one point.
struct Seen {
    at: f64,
    gaps: Vec<Option<f64>>,
    stand: Stand,
}

impl Seen {
    fn breaks(&self) -> bool {
        self.stand == Stand::Breaks
    }
}

impl<'a, 'y> Scan<'a, 'y> {
    pub(super) fn new(ends: &'a [Load<'y>], movable: &'a Movable, turned: bool) -> Self {
        let mut scan = Self { ends, movable, turned, from: movable.from, to: movable.to };
        scan.from = scan.computed_to(movable.from);
        scan.to = scan.computed_to(movable.to);
        scan
    }

    /// The farthest value on the way to this one at which the load can be computed: beyond it the trailer's wheels or its
    /// coupling would leave the ground, and no figure means anything.
    fn computed_to(&self, end: f64) -> f64 {
        let computed = |at: f64| self.loads(at).iter().all(|load| load.rig.is_ok());
        let now = self.movable.now.clamp(self.movable.from, self.movable.to);
        if computed(end) || !computed(now) {
            return end;
        }
        let (mut known, mut unknown) = (now, end);
        while (known - unknown).abs() > SAME {
            let middle = f64::midpoint(known, unknown);
            *(if computed(middle) { &mut known } else { &mut unknown }) = middle;
        }
        known
    }

    /// How many looks at a limit it takes to see how all fare, but for those at which comparisons turn.
    pub(super) fn looks(&self, limits: &[Limit<'_>]) -> usize {
        let cuts = self.ends.first().map_or(0, |load| self.movable.cuts(load, self.turned).len());
        let bending = limits.iter().filter(|limit| limit.bends && !self.is_apart(limit)).count();
        bending * (2 * cuts + 3) + 5 * (limits.len() - bending)
    }

    /// Whether a limit is about something that stays where it is.
    fn is_apart(&self, limit: &Limit<'_>) -> bool {
        let own = self.movable.item;
        let goes = |item: usize| item == own || self.ends.first().is_some_and(|load| load.stands_on(item, own));
        limit.is_apart(goes)
    }

    /// How each limit fares.
    pub(super) fn fares(&self, limits: &[Limit<'_>]) -> Vec<Fares> {
        let (from, to) = (self.from, self.to);
        let coarse: Vec<f64> = [0.0, 0.217, 0.5, 0.783, 1.0].iter().map(|share| from + share * (to - from)).collect();
        let cuts = self.ends.first().map(|load| self.movable.cuts(load, self.turned)).unwrap_or_default();
        let mut bends: Vec<f64> =
            std::iter::once(from).chain(cuts.into_iter().filter(|cut| *cut > from && *cut < to)).chain([to]).collect();
        let middles: Vec<f64> = bends.windows(2).filter_map(|pair| middle(pair.first(), pair.last())).collect();
        bends.extend(middles);
        bends.sort_by(f64::total_cmp);
        let mut seen: Vec<Vec<Seen>> = limits.iter().map(|_| Vec::new()).collect();
        for (grid, bending) in [(&coarse, false), (&bends, true)] {
            for at in grid {
                let loads = self.loads(*at);
                for (limit, seen) in
                    limits.iter().zip(&mut seen).filter(|(limit, _)| limit.bends == bending && !self.is_apart(limit))
                {
                    if let Some(load) = loads.get(limit.end) {
                        seen.push(Seen { at: *at, gaps: limit.gaps(load), stand: limit.stand(load) });
                    }
                }
            }
        }
        limits.iter().zip(seen).map(|(limit, seen)| self.fare(limit, &seen)).collect()
    }

    /// All ends of the load with the entry at a value.
    fn loads(&self, at: f64) -> Vec<Load<'y>> {
        self.ends.iter().map(|load| load.changed(self.movable.moved(at, self.turned))).collect()
    }

    fn one(&self, limit: &Limit<'_>, at: f64) -> Option<Load<'y>> {
        self.ends.get(limit.end).map(|load| load.changed(self.movable.moved(at, self.turned)))
    }

    /// Whether a limit is known to be broken: what cannot be told for want of an entry at one value may well be at another.
    fn breaks(&self, limit: &Limit<'_>, at: f64) -> bool {
        self.one(limit, at).is_some_and(|load| limit.stand(&load) == Stand::Breaks)
    }

    fn fare(&self, limit: &Limit<'_>, seen: &[Seen]) -> Fares {
        let lacks = seen.iter().find_map(|one| match &one.stand {
            Stand::CannotTell(lacks) => Some(lacks.clone()),
            Stand::Keeps | Stand::Breaks => None,
        });
        let lacks = lacks.unwrap_or_default();
        let alike = seen.windows(2).all(|pair| matches!(pair, [one, other] if one.breaks() == other.breaks()));
        let turns = self.turns(limit, seen);
        if alike && turns.is_empty() {
            // What is apart was not looked at: it is everywhere as it is now.
            let now = || {
                let load = self.one(limit, self.movable.now);
                load.is_none_or(|load| limit.stand(&load) != Stand::Breaks)
            };
            let keeps = seen.first().map_or_else(now, |one| !one.breaks());
            let whole = vec![(self.from, self.to)];
            let depends = !keeps && varies(seen, limit.of_when());
            return Fares { kept: if keeps { whole } else { Vec::new() }, depends, lacks };
        }
        let mut points: Vec<f64> = vec![self.from, self.to];
        points.extend(turns);
        if limit.bends || !alike {
            points.extend(seen.iter().map(|one| one.at));
        }
        points.sort_by(f64::total_cmp);
        points.dedup_by(|a, b| (*a - *b).abs() <= ROUNDING);
        let kept = self.kept(limit, &points);
        let whole = matches!(kept.as_slice(), [(from, to)] if *from <= self.from && *to >= self.to);
        let depends = !whole && (!kept.is_empty() || varies(seen, limit.of_when()));
        Fares { kept, depends, lacks }
    }

    /// Where comparisons turn between the points that were looked at.
    fn turns(&self, limit: &Limit<'_>, seen: &[Seen]) -> Vec<f64> {
        let mut turns = Vec::new();
        for pair in seen.windows(2) {
            let [one, other] = pair else { continue };
            for (which, (a, b)) in one.gaps.iter().zip(&other.gaps).enumerate() {
                let (Some(a), Some(b)) = (*a, *b) else { continue };
                let rounding = ROUNDING * a.abs().max(b.abs()).max(1.0);
                match (a.abs() <= rounding, b.abs() <= rounding) {
                    (true, true) => {}
                    (true, false) => turns.push(one.at),
                    (false, true) => turns.push(other.at),
                    (false, false) if (a > 0.0) == (b > 0.0) => {}
                    (false, false) => turns.extend(self.turn(limit, which, (one.at, a), (other.at, b))),
                }
            }
        }
        turns
    }

    /// Where one comparison turns between two points at which it stands on opposite sides: regula falsi in the form that
    /// halves the value of an end which stays (the Illinois method), so that it cannot creep.
    fn turn(&self, limit: &Limit<'_>, which: usize, mut low: (f64, f64), mut high: (f64, f64)) -> Option<f64> {
        let mut stayed = 0_i8;
        for _ in 0..80 {
            let at = (low.0 * high.1 - high.0 * low.1) / (high.1 - low.1);
            let at = if at.is_finite() {
                at.clamp(low.0.min(high.0), low.0.max(high.0))
            } else {
                f64::midpoint(low.0, high.0)
            };
            if (high.0 - low.0).abs() <= ROUNDING {
                return Some(at);
            }
            let gap = limit.gaps(&self.one(limit, at)?).get(which).copied().flatten()?;
            if gap.abs() <= ROUNDING * 1e-2 {
                return Some(at);
            }
            if (gap > 0.0) == (low.1 > 0.0) {
                if (at - low.0).abs() <= ROUNDING * 1e-2 {
                    return Some(at);
                }
                low = (at, gap);
                if stayed == 1 {
                    high.1 /= 2.0;
                }
                stayed = 1;
            } else {
                if (at - high.0).abs() <= ROUNDING * 1e-2 {
                    return Some(at);
                }
                high = (at, gap);
                if stayed == -1 {
                    low.1 /= 2.0;
                }
                stayed = -1;
            }
        }
        Some(f64::midpoint(low.0, high.0))
    }

    /// The pieces between these points on which a limit is kept, joined; a point that keeps it alone is a piece too.
    fn kept(&self, limit: &Limit<'_>, points: &[f64]) -> Vec<(f64, f64)> {
        let mut kept: Vec<(f64, f64)> = Vec::new();
        let mut take = |from: f64, to: f64| match kept.last_mut() {
            Some(last) if from <= last.1 + SAME => last.1 = last.1.max(to),
            _ => kept.push((from, to)),
        };
        let mut last_kept = false;
        for (place, at) in points.iter().enumerate() {
            if !last_kept && !self.breaks(limit, *at) {
                take(*at, *at);
            }
            let Some(next) = points.get(place + 1) else { break };
            last_kept = false;
            for (from, to) in self.pieces(limit, *at, *next, 24) {
                take(from, to);
                last_kept = (to - next).abs() <= 0.0;
            }
        }
        kept
    }

    /// Where a limit is kept between two points between which no comparison that is known of turns. Three looks tell
    /// whether the piece is of one mind; where it is not, it is cut in two.
    fn pieces(&self, limit: &Limit<'_>, from: f64, to: f64, depth: u32) -> Vec<(f64, f64)> {
        let at = |share: f64| !self.breaks(limit, from + share * (to - from));
        let looks = [at(0.037), at(0.5), at(0.963)];
        let narrow = to - from <= 1e-7 || depth == 0;
        match looks {
            [true, true, true] => vec![(from, to)],
            [false, false, false] => Vec::new(),
            [_, middle, _] if narrow => {
                if middle {
                    vec![(from, to)]
                } else {
                    Vec::new()
                }
            }
            _ => {
                let half = f64::midpoint(from, to);
                let mut both = self.pieces(limit, from, half, depth - 1);
                both.extend(self.pieces(limit, half, to, depth - 1));
                both
            }
        }
    }

    /// The stretches in which all of these limits are kept.
    pub(super) fn stretches<'f>(&self, fares: impl Iterator<Item = (usize, &'f Fares)>) -> Vec<Stretch> {
        let whole = Stretch { from: self.from, to: self.to, from_limit: None, to_limit: None };
        let mut all = vec![whole];
        for (limit, fares) in fares.filter(|(_, fares)| fares.depends) {
            let mut next = Vec::new();
            for stretch in &all {
                for (from, to) in &fares.kept {
                    let mut cut = *stretch;
                    if *from > cut.from + SAME {
                        (cut.from, cut.from_limit) = (*from, Some(limit));
                    }
                    if *to < cut.to - SAME {
                        (cut.to, cut.to_limit) = (*to, Some(limit));
                    }
                    if cut.from <= cut.to + SAME {
                        next.push(Stretch { to: cut.to.max(cut.from), ..cut });
                    }
                }
            }
            all = next;
        }
        all
    }
}

/// Whether what a requirement compares changes with the entry.
fn varies(seen: &[Seen], of_when: usize) -> bool {
    let Some(first) = seen.first() else { return false };
    (of_when..first.gaps.len()).any(|which| {
        let gaps: Vec<f64> = seen.iter().filter_map(|one| one.gaps.get(which).copied().flatten()).collect();
        let (least, most) =
            gaps.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), gap| (a.min(*gap), b.max(*gap)));
        most - least > 1e-7 * most.abs().max(least.abs()).max(1e-3)
    })
}

fn middle(one: Option<&f64>, other: Option<&f64>) -> Option<f64> {
    Some(f64::midpoint(*one?, *other?))
}
