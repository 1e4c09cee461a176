//! Which one entry would explain readings that do not agree with the sheet, and what it would have to be.

use super::readings::{Cause, Compared, LEAST, Readings};
use crate::figures::{Load, OnDeck, Rest, assumed_middle};
use crate::model::{Origin, Slot};
use crate::physics::{Explanation, Placed, explain};
use crate::rules::HalfWidths;
use crate::text::Span;
use crate::units::{Kind, Length, Mass};

/// How many entries are solved for.
const SHORTLIST: usize = 40;
/// Steps toward the value that an entry would need; figures are nearly linear in their entries, so few are taken.
const STEPS: usize = 40;
/// The part of a half-width below which a step changes nothing.
const STILL: f64 = 1e-9;
/// Sums of squares that lie no farther apart than this tell nothing about which entry fits better: half-widths stand for
/// about two standard deviations, so that one in their measure is about four in that of chi-squared.
const ALIKE: f64 = 1.0;

/// Lengths that may lie below zero: places and points of an outline, not sizes.
const SIGNED: [&str; 11] = [
    "front-gap",
    "rear-gap",
    "left",
    "arm",
    "cg arm",
    "cg-left",
    "front",
    "rear",
    "behind-rear-axle",
    "ahead-of-rear-axle",
    "from",
];

/// What kind of slip is supposed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Slip {
    /// The entry is off.
    Entry,
    /// The cargo's centre of gravity is not in its middle, where it is taken to be when the sheet says nothing.
    Middle,
    /// The gauge was misread, or shows too much or too little.
    Misread(usize),
}

/// One entry that would explain the readings.
#[derive(Clone, Debug)]
pub(super) struct Told {
    pub(super) slip: Slip,
    pub(super) rest: Rest,
    /// What it would have to be, in the SI unit of its kind.
    pub(super) needed: f64,
    /// How well the readings tell that: a half-width.
    pub(super) sure: f64,
    /// By how many of its half-widths that differs from what is written.
    pub(super) far: f64,
    /// Whether all readings agree with the sheet then.
    pub(super) settles: bool,
    misfit: f64,
    /// The item it says something of, by its place; an item differs from load to load, truck and trailer do not.
    item: Option<usize>,
    /// Whether the sheet itself says it, and not a definition that other sheets rest on too.
    here: bool,
}

/// What an entry is about: the place, the weight or the balance of something; what is looked at first, first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum About {
    Place,
    Weight,
    Balance,
    Reading,
}

/// The entries that would explain the readings and that can be so at all, best first.
pub(super) fn explanations(readings: &Readings<'_>) -> Vec<Told> {
    let entries = shortlist(readings).into_iter().filter_map(|at| {
        let cause = readings.causes.get(at)?;
        let found = solved(readings, cause, Some(at))?;
        told(readings, Slip::Entry, &cause.rest, (cause.half, found), item_of(&readings.load, cause.rest.at))
    });
    let middles = readings.load.items.iter().enumerate().filter_map(|(at, one)| middle(readings, at, one));
    let misread = (0..readings.compared.len()).filter_map(|at| misread(readings, at));
    let mut all: Vec<Told> = entries.chain(middles).chain(misread).collect();
    let settles = all.iter().any(|one| one.settles);
    let least = all.iter().filter(|one| one.settles == settles).map(|one| one.misfit).fold(f64::INFINITY, f64::min);
    let fits = |one: &Told| if one.misfit <= least + ALIKE { least } else { one.misfit };
    all.sort_by(|a, b| {
        b.settles
            .cmp(&a.settles)
            .then(fits(a).total_cmp(&fits(b)))
            .then(b.item.is_some().cmp(&a.item.is_some()))
            .then((a.far * 100.0).round().total_cmp(&(b.far * 100.0).round()))
            .then(b.here.cmp(&a.here))
            .then(is_gap(b).cmp(&is_gap(a)))
            .then(about(a).cmp(&about(b)))
    });
    // One for the weight, one for the place and one for the balance of each thing tells more than three for its place.
    let mut seen: Vec<(About, Option<usize>, Slip)> = Vec::new();
    all.retain(|one| {
        let slip = if one.slip == Slip::Middle { Slip::Entry } else { one.slip };
        let key = (about(one), one.item, slip);
        let new = !seen.contains(&key);
        seen.push(key);
        new
    });
    all
}

/// Whether it is the tape measurement that places something: of entries that explain a place alike, the one to look at
/// first.
fn is_gap(told: &Told) -> bool {
    matches!(told.rest.word, "front-gap" | "rear-gap")
}

fn about(told: &Told) -> About {
    match (told.slip, told.rest.kind, told.rest.word) {
        (Slip::Misread(_), ..) => About::Reading,
        (_, Kind::Mass | Kind::Volume, _) => About::Weight,
        (_, _, "cg arm" | "arm" | "cg-from-front" | "wheelbase") => About::Balance,
        _ => About::Place,
    }
}

/// The entries that are worth solving for, by their places: on a sheet of hundreds of items most are not. Roughly, as if the
/// readings had nothing in common, by what each leaves and by how far it would be off.
fn shortlist(readings: &Readings<'_>) -> Vec<usize> {
    let whitened = |values: &mut dyn Iterator<Item = f64>| -> Vec<f64> {
        values.zip(&readings.compared).map(|(value, one)| value / one.tolerance().max(LEAST)).collect()
    };
    let apart = whitened(&mut readings.compared.iter().map(Compared::apart));
    let dot = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
    let mut all: Vec<(f64, usize)> = Vec::with_capacity(readings.causes.len());
    for (at, cause) in readings.causes.iter().enumerate() {
        let reach = whitened(&mut cause.reach.iter().map(|one| one.si()));
        let off = dot(&reach, &apart) / dot(&reach, &reach);
        let left = dot(&apart, &apart) - off * dot(&reach, &apart);
        all.push((left + off.abs(), at));
    }
    all.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    all.into_iter().take(SHORTLIST).map(|(_, at)| at).collect()
}

/// The value with which an entry explains the readings best, with what that leaves.
struct Solved {
    needed: f64,
    found: Explanation,
    apart: Vec<Mass>,
}

/// Everything else that can be off: the other entries, and the gauges themselves.
fn others(readings: &Readings<'_>, but_entry: Option<usize>, but_gauge: Option<usize>) -> Vec<Vec<Mass>> {
    let count = readings.compared.len();
    let entries = readings.causes.iter().enumerate().filter(|(at, _)| Some(*at) != but_entry);
    let gauges = readings.compared.iter().enumerate().filter(|(at, _)| Some(*at) != but_gauge);
    let gauges = gauges.map(|(at, one)| one.own(at, count));
    entries.map(|(_, cause)| cause.reach.clone()).chain(gauges).collect()
}

/// Changes an entry until the readings fit best (Gauss and Newton: figures are not all linear in their entries), and
/// computes the load with it once more. None where it does not settle or the load cannot be so.
fn solved(readings: &Readings<'_>, cause: &Cause, at: Option<usize>) -> Option<Solved> {
    let others = others(readings, at, None);
    let entry = cause.rest.at;
    let mut needed = cause.rest.value;
    for _ in 0..STEPS {
        let load = readings.changed(entry, needed);
        let apart = readings.apart(&load)?;
        let found = explain(&apart, &readings.reach(&load, entry, cause.half)?, &others).ok()?;
        let step = found.off.si();
        needed += step * cause.half;
        if step.abs() <= STILL * (1.0 + (needed - cause.rest.value).abs() / cause.half) {
            let apart = readings.apart(&readings.changed(entry, needed))?;
            return Some(Solved { needed, found, apart });
        }
    }
    None
}

fn told(
    readings: &Readings<'_>,
    slip: Slip,
    rest: &Rest,
    (half, solved): (f64, Solved),
    item: Option<usize>,
) -> Option<Told> {
    let but = match slip {
        Slip::Entry => Some(rest.at),
        Slip::Middle | Slip::Misread(_) => None,
    };
    // What the entry itself adds to the spreads is gone: it is taken to be known now.
    let spread = |at: usize| {
        let reach = |cause: &Cause| cause.reach.get(at).map_or(0.0, |reach| reach.si().powi(2));
        readings.causes.iter().filter(|cause| Some(cause.rest.at) != but).map(reach).sum::<f64>()
    };
    let near = |(at, (one, apart)): (usize, (&Compared<'_>, &Mass))| {
        apart.si().abs() <= spread(at).sqrt().hypot(one.half.max(LEAST))
    };
    let settles = readings.compared.iter().zip(&solved.apart).enumerate().all(near);
    let possible = match slip {
        Slip::Entry => {
            can_be(rest, solved.needed)
                && stands(&readings.changed(rest.at, solved.needed), &readings.load, rest, solved.needed)
        }
        Slip::Middle | Slip::Misread(_) => solved.needed > 0.0,
    };
    let told = Told {
        slip,
        rest: rest.clone(),
        needed: solved.needed,
        sure: solved.found.spread.si() * half,
        far: (solved.needed - rest.value).abs() / half,
        settles,
        misfit: solved.found.misfit.si(),
        item,
        here: readings.load.sheet.span.holds(rest.at),
    };
    (possible && told.far.is_finite()).then_some(told)
}

/// Cargo whose centre of gravity the sheet does not give: were it elsewhere than in the middle, that would be as if the
/// cargo stood elsewhere. No spread counts the middle, but nothing is better known than by judgement of what is not said.
fn middle(readings: &Readings<'_>, at: usize, one: &OnDeck<'_>) -> Option<Told> {
    let (rest, gap, rearward) = assumed_middle(one)?;
    let half = HalfWidths::shipped().of(&Rest { origin: Some(Origin::Estimate), ..rest.clone() });
    let reach = readings.reach(&readings.load, gap.at, half)?;
    let solved = solved(readings, &Cause { rest: gap.clone(), half, reach }, None)?;
    let moved = solved.needed - gap.value;
    let needed = rest.value + if rearward { moved } else { -moved };
    let within = needed <= 2.0 * rest.value;
    told(readings, Slip::Middle, &rest, (half, Solved { needed, ..solved }), Some(at)).filter(|_| within)
}

/// A reading taken to be wrong beside others; alone it could always be.
fn misread(readings: &Readings<'_>, at: usize) -> Option<Told> {
    let count = readings.compared.len();
    let one = readings.compared.get(at).filter(|_| count > 1)?;
    let own = one.own(at, count);
    let mut apart = readings.apart(&readings.load)?;
    let found = explain(&apart, &own, &others(readings, None, Some(at))).ok()?;
    let off = own.get(at)?.si() * found.off.si();
    if let Some(apart) = apart.get_mut(at) {
        *apart = *apart - Mass::new(off);
    }
    let half = own.get(at)?.si();
    let solved = Solved { needed: one.gauged.read.value - off, found, apart };
    told(readings, Slip::Misread(at), &one.gauged.read, (half, solved), None)
}

/// The item of which an entry says something: not of the deck it stands on.
fn item_of(load: &Load<'_>, at: Span) -> Option<usize> {
    let of_deck = |deck: &crate::model::Deck| [deck.from.at(), deck.length.at()].contains(&Some(at));
    if load.deck().is_ok_and(of_deck) {
        return None;
    }
    load.items.iter().position(|one| one.rests_on().contains(&at))
}

/// Whether such an entry can have this value at all.
fn can_be(rest: &Rest, value: f64) -> bool {
    match rest.kind {
        Kind::Share => (0.0..=1.0).contains(&value),
        // A trailer can be weighed with its tongue pulling up.
        Kind::Mass => value > 0.0 || (rest.word == "tongue" && rest.value <= 0.0),
        Kind::Length => value > 0.0 || SIGNED.contains(&rest.word),
        _ => value > 0.0,
    }
}

/// Whether every item still lies on the deck with its centre of gravity, and that within its own ends, where it did
/// before.
fn stands(load: &Load<'_>, before: &Load<'_>, changed: &Rest, value: f64) -> bool {
    let Ok(deck) = before.deck() else { return false };
    let read =
        |slot: &Slot<Length>| slot.entry().map(|entry| if entry.at == changed.at { value } else { entry.value.si() });
    let (Some(from), Some(length)) = (read(&deck.from), read(&deck.length)) else { return false };
    let fine = |placed: &Placed, from: f64, length: f64| {
        let (station, arm) = (placed.load().station.si(), placed.item.arm.si());
        let outline = placed.item.outline;
        (from..=from + length).contains(&station) && (outline.rear.si()..=outline.front.si()).contains(&arm)
    };
    let si = |slot: &Slot<Length>| slot.value().map_or(0.0, Length::si);
    let was = (si(&deck.from), si(&deck.length));
    load.items.iter().zip(&before.items).all(|(now, then)| match (&now.placed, &then.placed) {
        (Ok(now), Ok(then)) => fine(now, from, length) || !fine(then, was.0, was.1),
        _ => false,
    })
}
