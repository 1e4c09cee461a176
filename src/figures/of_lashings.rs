//! Figures of an item's lashings by EN 12195-1.

use std::sync::Arc;

use super::figure::{Worth, computed, entry, value};
use super::held::Tied;
use super::lashed::{Lashed, Tilts};
use super::of_part::{gone, item};
use super::{Each, Figure, Known, Load, Measures, Subject};
use crate::expr::Value;
use crate::model::ItemKind;
use crate::physics::en12195::{Criterion, Lashings, Way, weight_force};
use crate::units::{Angle, Force, Kind, LANES, Share};

const ITEM: &[Each] = &[Each::Item];
const SHARE: Measures = Measures::Quantity(Kind::Share);

const STANDARD: &str = "EN 12195-1:2010, from memory";
const LEVERS: &str = "balance of moments, EN 12195-1:2010 from memory";

impl Worth for Lashings {
    fn worth(self) -> Value {
        Value::Number(self.exact().value())
    }
    fn slopes(&self) -> [f64; LANES] {
        self.exact().slopes()
    }
}

pub(super) static FIGURES: &[Figure] = &[
    entry(
        "load.to_lash",
        "anything to lash",
        &[],
        Measures::Flag,
        "whether a machine or a piece of cargo stands on the deck",
        |load, _| value(load.items.iter().any(|one| !matches!(one.item.kind, ItemKind::Bulk(_)))),
    ),
    computed(
        "lashings.over_count",
        "lashings over the top that count",
        ITEM,
        Measures::Count,
        "how many lashings over the top count: with a known tension, steep enough, and with friction to press on",
        STANDARD,
        |load, subject| value(Lashed::of(load, subject)?.count()),
    ),
    computed(
        "lashings.needed",
        "lashings over the top needed",
        ITEM,
        Measures::Number,
        "how many lashings like those over its top it takes in the direction that takes most, not yet rounded up",
        STANDARD,
        |load, subject| {
            let lashed = Lashed::of(load, subject)?;
            value(lashed.needed().map_or(Lashings::NONE, |(_, count)| count).or(lashed.criteria.least))
        },
    ),
    entry(
        "lashings.over_said",
        "count worked out",
        ITEM,
        Measures::Text,
        "how many lashings over the top count, how many it takes, and how that is worked out",
        |load, subject| value(over_said(&Lashed::of(load, subject)?)),
    ),
    entry(
        "lashings.over_angle",
        "angle of the flattest lashing over the top",
        ITEM,
        Measures::Quantity(Kind::Angle),
        "angle to the deck of the flattest lashing that goes over its top",
        |load, subject| {
            let lashed = Lashed::of(load, subject)?;
            value(
                lashed
                    .over
                    .iter()
                    .map(super::lashed::Over::angle)
                    .reduce(Angle::min)
                    .ok_or_else(|| gone(load, "tie"))?,
            )
        },
    ),
    entry(
        "lashings.direct_count",
        "direct lashings",
        ITEM,
        Measures::Count,
        "how many lashings go from it to an anchor and not over its top",
        |load, subject| {
            let ties = Tied::of(load, item(load, subject)?)?;
            value(ties.iter().filter(|tied| !tied.over).map(|tied| tied.count).sum::<u32>())
        },
    ),
    computed(
        "lashings.direct_used",
        "lashing capacity used",
        ITEM,
        SHARE,
        "force in each direct lashing over the capacity of the weakest, in the direction that uses most of those held",
        STANDARD,
        |load, subject| value(used(load, subject)?.0),
    ),
    entry(
        "lashings.direct_open",
        "open to one side",
        ITEM,
        Measures::Flag,
        "whether there is a direction in which friction does not hold it and no direct lashing pulls back",
        |load, subject| value(open(&Lashed::of(load, subject)?).is_some()),
    ),
    entry(
        "lashings.direct_said",
        "forces worked out",
        ITEM,
        Measures::Text,
        "what its direct lashings must hold in the direction that uses most of them, and how that is worked out",
        |load, subject| value(direct_said(load, subject)?),
    ),
    computed(
        "lashings.tilt_held",
        "held against tilting",
        ITEM,
        SHARE,
        "acceleration at which it tilts, its lashings counted, in the direction in which it is nearest to that, in parts of gravity",
        LEVERS,
        |load, subject| value(tilts(load, subject)?.held),
    ),
    entry(
        "lashings.tilt_needed",
        "asked against tilting",
        ITEM,
        SHARE,
        "acceleration that it must stand without tilting in that direction, in parts of gravity",
        |load, subject| value(tilts(load, subject)?.needed),
    ),
    entry(
        "lashings.tilt_said",
        "tilting worked out",
        ITEM,
        Measures::Text,
        "which way it tilts first, at what acceleration by itself and with what holds it, and what is asked",
        |load, subject| {
            let tilts = tilts(load, subject)?;
            let needed = tilts.needed.si();
            let (alone, held) = (told(tilts.alone.si(), needed), told(tilts.held.si(), needed));
            let helped =
                if tilts.held > tilts.alone { format!(", with what holds it at {held} g") } else { String::new() };
            let said = format!("{} at {alone} g{helped}, where {} g is asked", way(tilts.way), told(needed, needed));
            value::<Arc<str>>(said.into())
        },
    ),
    entry(
        "tie.tension_given",
        "tension given",
        &[Each::Tie],
        Measures::Flag,
        "whether its standard tension force is given",
        |load, subject| {
            let Subject::Tie { item: at, tie } = subject else { return Err(gone(load, "tie")) };
            let tie = load.items.get(at).and_then(|item| item.ties().nth(tie)).ok_or_else(|| gone(load, "tie"))?;
            let tiedown = tie.tiedown.target.and_then(|at| load.yard.tiedowns.get(at));
            value(!tiedown.ok_or_else(|| gone(load, "tie"))?.tension_force.is_absent())
        },
    ),
];

const fn way(way: Way) -> &'static str {
    match way {
        Way::Forward => "forward",
        Way::Rearward => "rearward",
        Way::Left => "to the left",
        Way::Right => "to the right",
    }
}

/// With as many digits as a hand calculation has.
fn plain(share: Share) -> String {
    told(share.si(), share.si())
}

fn newtons(force: Force) -> String {
    kilonewtons(force, force)
}

/// A force, told from another.
fn kilonewtons(force: Force, from: Force) -> String {
    format!("{} kN", told(force.si() / 1000.0, from.si() / 1000.0))
}

/// A number with two decimals, or as many more as tell it from another.
fn told(number: f64, from: f64) -> String {
    let same = (number - from).abs() <= 1e-9 * from.abs();
    let with = |digits: usize, number: f64| format!("{number:.digits$}");
    let digits = (2..6).find(|digits| same || with(*digits, number) != with(*digits, from)).unwrap_or(6);
    let text = with(digits, number);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// `2 lashings over the top count, forward 3 are needed: (0.8 - 0.3) x 9.81 kN x 1.25 / (0.3 x 7.73 kN) = 2.64`.
fn over_said(lashed: &Lashed) -> Arc<str> {
    let least = lashed.criteria.least;
    let counted = match lashed.count() {
        0 => "no lashing over the top counts".to_owned(),
        1 => "1 lashing over the top counts".to_owned(),
        count => format!("{count} lashings over the top count"),
    };
    let why = match (lashed.needed(), lashed.press()) {
        (Some((toward, count)), Some(press)) if count.whole(0) >= least => {
            let (whole, criterion) = (count.whole(least), lashed.criteria.of(toward));
            let blocked = lashed.sliding(toward).blocked;
            let wall = if blocked > Force::ZERO { format!(" - {}", newtons(blocked)) } else { String::new() };
            let friction = plain(lashed.friction);
            format!(
                "{} it takes {whole}: (({} - {friction}) x {}{wall}) x {} / ({friction} x {}) = {}",
                ways(lashed, toward),
                plain(criterion.slide),
                newtons(weight_force(lashed.weight)),
                plain(criterion.safety),
                newtons(press),
                told(count.exact().value(), count.exact().value().floor()),
            )
        }
        (Some(_), _) => format!("{least} is the least number"),
        (None, _) if lashed.friction <= Share::ZERO => "lashings over the top cannot work, as nothing grips".to_owned(),
        (None, _) if lashed.over.is_empty() => return unheld(lashed).into(),
        (None, _) if lashed.over.iter().any(|over| over.tension.is_some()) => {
            format!("lashings over the top cannot work at {:.0} deg to the deck", steepest(lashed).si())
        }
        (None, _) => "none has a standard tension force".to_owned(),
    };
    format!("{counted}; {why}").into()
}

/// What friction and wall leave of a cargo that nothing else holds, in the direction in which that is most.
fn unheld(lashed: &Lashed) -> String {
    let left = |way: &Way| lashed.sliding(*way).left(lashed.criteria.of(*way).slide, Share::new(1.0));
    let most = Way::ALL.into_iter().reduce(|most, way| if left(&way) > left(&most) { way } else { most });
    let way = most.unwrap_or(Way::Forward);
    format!(
        "no lashing holds it; {} its friction of {} leaves {} of {} to be held",
        ways(lashed, way),
        plain(lashed.friction),
        newtons(left(&way)),
        newtons(lashed.sliding(way).left(lashed.criteria.of(way).slide, Share::ZERO)),
    )
}

/// The direction that takes most lashings, with those that take as many.
fn ways(lashed: &Lashed, toward: Way) -> &'static str {
    match toward {
        Way::Forward => "forward",
        Way::Rearward if alike(lashed.criteria.rearward, lashed.criteria.sideways) => "rearward and sideways",
        Way::Rearward => "rearward",
        Way::Left | Way::Right => "sideways",
    }
}

fn alike(one: Criterion, other: Criterion) -> bool {
    one.slide == other.slide && one.safety == other.safety
}

fn steepest(lashed: &Lashed) -> Angle {
    lashed.over.iter().map(super::lashed::Over::angle).fold(Angle::ZERO, Angle::max)
}

/// The direction in which direct lashings hold nothing of what friction leaves.
fn open(lashed: &Lashed) -> Option<Way> {
    Way::ALL.into_iter().find(|way| lashed.direct(*way).force.is_none())
}

/// How much of their capacity direct lashings use, in the direction that uses most.
fn used(load: &Load<'_>, subject: Subject) -> Known<(Share, Way)> {
    let lashed = Lashed::of(load, subject)?;
    if lashed.direct.is_empty() {
        return Err(gone(load, "tie"));
    }
    let mut most = (Share::ZERO, Way::Forward);
    for way in Way::ALL {
        let held = lashed.direct(way);
        let Some(force) = held.force.filter(|force| *force > Force::ZERO) else { continue };
        let used = Share::of(force / held.capacity);
        if used > most.0 {
            most = (used, way);
        }
    }
    Ok(most)
}

/// `forward each of 2 must hold 6.54 kN, the weakest holds 5.00 kN: (0.8 - 0.75 x 0.3) x 19.62 kN / 1.73`.
fn direct_said(load: &Load<'_>, subject: Subject) -> Known<Arc<str>> {
    let lashed = Lashed::of(load, subject)?;
    if let Some(toward) = open(&lashed) {
        let left = lashed.sliding(toward).left(lashed.criteria.of(toward).slide, lashed.criteria.direct_friction);
        return Ok(
            format!("{} no direct lashing pulls back, and friction leaves {}", way(toward), newtons(left)).into()
        );
    }
    let (_, toward) = used(load, subject)?;
    let (held, sliding) = (lashed.direct(toward), lashed.sliding(toward));
    let wall = if sliding.blocked > Force::ZERO { format!(" - {}", newtons(sliding.blocked)) } else { String::new() };
    Ok(format!(
        "{} each of {} must hold {}, the weakest holds {}: (({} - {} x {}) x {}{wall}) / {}",
        way(toward),
        held.count,
        kilonewtons(held.force.unwrap_or(Force::ZERO), held.capacity),
        kilonewtons(held.capacity, held.force.unwrap_or(Force::ZERO)),
        plain(lashed.criteria.of(toward).slide),
        plain(lashed.criteria.direct_friction),
        plain(lashed.friction),
        newtons(weight_force(lashed.weight)),
        plain(held.counted),
    )
    .into())
}

fn tilts(load: &Load<'_>, subject: Subject) -> Known<Tilts> {
    Lashed::of(load, subject)?.tilts(load, subject)
}
