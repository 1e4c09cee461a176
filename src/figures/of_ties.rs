//! Figures of an item's tie-downs taken together.

use std::sync::Arc;

use super::figure::{computed, entry, leaf, value};
use super::held::{Against, Tied, directly, governing, holds, pressed_only};
use super::of_part::{gone, item};
use super::{Each, Figure, Known, Load, Measures, Reading, Subject};
use crate::expr::Value;
use crate::model::{End, ItemKind};
use crate::physics::Toward;
use crate::units::{Kind, LANES, Mass, Share};

const ITEM: &[Each] = &[Each::Item];
const WEIGHT: Measures = Measures::Quantity(Kind::Mass);
const SHARE: Measures = Measures::Quantity(Kind::Share);

const COUNTED: &str = "49 CFR 393.106(d) and 393.108(a)";
const BALANCE: &str = "balance of forces and moments, a linear program; the ties share as favourably as they can";

pub(super) static FIGURES: &[Figure] = &[
    computed(
        "ties.count",
        "tie-downs",
        ITEM,
        Measures::Count,
        "how many tie-downs hold it, those of its attachments not counted",
        "",
        |load, subject| {
            let ties = Tied::of(load, item(load, subject)?)?;
            value(ties.iter().map(|tied| tied.count).sum::<u32>())
        },
    ),
    computed(
        "ties.wll_total",
        "working load limits together",
        ITEM,
        WEIGHT,
        "working load limits as they count toward the sum, each of its weakest part: the whole of one that crosses over the cargo, half of any other",
        COUNTED,
        |load, subject| {
            let ties = Tied::of(load, item(load, subject)?)?;
            let counted = ties.iter().map(|tied| tied.counts(load)).collect::<Known<Vec<Mass>>>()?;
            value(counted.into_iter().sum::<Mass>())
        },
    ),
    computed(
        "ties.holds_forward",
        "held forward",
        ITEM,
        SHARE,
        "deceleration that ties, friction and wall hold at the ties' working load limits, in parts of gravity",
        BALANCE,
        |load, subject| value(held(load, subject, &[Toward::Forward], Against::Working)?),
    ),
    computed(
        "ties.holds_rearward",
        "held rearward",
        ITEM,
        SHARE,
        "acceleration that ties and friction hold at the ties' working load limits, in parts of gravity",
        BALANCE,
        |load, subject| value(held(load, subject, &[Toward::Rearward], Against::Working)?),
    ),
    computed(
        "ties.holds_sideways",
        "held sideways",
        ITEM,
        SHARE,
        "acceleration to the worse side that ties and friction hold at the ties' working load limits, in parts of gravity",
        BALANCE,
        |load, subject| value(held(load, subject, &[Toward::Left, Toward::Right], Against::Working)?),
    ),
    computed(
        "ties.holds_up",
        "held down",
        ITEM,
        SHARE,
        "the force with which the ties press it down at their working load limits, in parts of its weight",
        "49 CFR 393.102(b): the vertical parts of the ties' limits added up",
        |load, subject| value(held(load, subject, &[Toward::Up], Against::Working)?),
    ),
    entry(
        "ties.breaks_forward",
        "held forward at breaking strength",
        ITEM,
        SHARE,
        "deceleration that ties, friction and wall hold at the ties' breaking strength, in parts of gravity",
        |load, subject| value(held(load, subject, &[Toward::Forward], Against::Breaking)?),
    ),
    entry(
        "ties.breaks_rearward",
        "held rearward at breaking strength",
        ITEM,
        SHARE,
        "acceleration that ties and friction hold at the ties' breaking strength, in parts of gravity",
        |load, subject| value(held(load, subject, &[Toward::Rearward], Against::Breaking)?),
    ),
    entry(
        "ties.breaks_sideways",
        "held sideways at breaking strength",
        ITEM,
        SHARE,
        "acceleration to the worse side that ties and friction hold at the ties' breaking strength, in parts of gravity",
        |load, subject| value(held(load, subject, &[Toward::Left, Toward::Right], Against::Breaking)?),
    ),
    entry(
        "ties.strength_known",
        "breaking strength given",
        ITEM,
        Measures::Flag,
        "whether the breaking strength of each of its tie-downs is given",
        |load, subject| {
            let ties = Tied::of(load, item(load, subject)?)?;
            value(!ties.is_empty() && ties.iter().all(|tied| tied.tiedown.breaking.entry().is_some()))
        },
    ),
    entry(
        "ties.bare_least",
        "held by ties alone",
        ITEM,
        SHARE,
        "the least that its ties hold in any direction along and across the deck without friction, in parts of gravity",
        |load, subject| value(weakest(load, subject, Against::Bare)?.0),
    ),
    entry(
        "ties.bare_weakest",
        "direction that ties leave open",
        ITEM,
        Measures::Text,
        "the direction in which its ties hold least without friction",
        |load, subject| text(way(weakest(load, subject, Against::Bare)?.1)),
    ),
    entry(
        "ties.governing",
        "tie that governs",
        ITEM,
        Measures::Text,
        "the tie-down whose limit holds it back most in the direction in which least is held",
        |load, subject| {
            let Subject::Item(at) = subject else { return Err(gone(load, "tie")) };
            let (_, toward) = weakest(load, subject, Against::Working)?;
            let one = item(load, subject)?;
            let tie = governing(load, at, toward)?.and_then(|at| one.item.ties.get(at));
            let name = |end: Option<Arc<str>>| end.map_or_else(String::new, |end| format!(" at {end}"));
            let said = tie.map_or_else(
                || "no tie alone".to_owned(),
                |tie| format!("{}{}", tie.tiedown.name.value, name(tie.from.value())),
            );
            let at = tie.map(|tie| tie.owner.at);
            Ok(Reading { at, ..text(said.into())? })
        },
    ),
    entry(
        "ties.weakest",
        "weakest direction",
        ITEM,
        Measures::Text,
        "the direction along or across the deck in which least is held",
        |load, subject| text(way(weakest(load, subject, Against::Working)?.1)),
    ),
    entry(
        "ties.sum",
        "sum of working load limits",
        ITEM,
        Measures::Text,
        "how the working load limits add up",
        |load, subject| text(sum(load, subject)?.into()),
    ),
    entry(
        "ties.placed",
        "direct ties placed",
        ITEM,
        Measures::Flag,
        "whether any of its tie-downs says from which anchor to which point on it it goes",
        |load, subject| value(directly(load, item(load, subject)?)?),
    ),
    entry(
        "ties.pressing",
        "only tied over the top",
        ITEM,
        Measures::Flag,
        "whether all its tie-downs go over the top, from known anchors and with a known tension",
        |load, subject| value(pressed_only(load, item(load, subject)?)?),
    ),
    entry(
        "item.blocked_front",
        "blocked at the front",
        ITEM,
        Measures::Flag,
        "whether it bears against a wall or is blocked at its front",
        |load, subject| value(item(load, subject)?.item.blocked.iter().any(|end| end.value == End::Front)),
    ),
    entry(
        "item.parking_brake",
        "parking brake",
        ITEM,
        Measures::Flag,
        "whether its parking brake is set",
        |load, subject| {
            let item = item(load, subject)?.item;
            leaf(&item.parking_brake, &item.owner, "parking-brake")
        },
    ),
];

/// The least of what is held in these directions.
fn held(load: &Load<'_>, subject: Subject, toward: &[Toward], against: Against) -> Known<Share> {
    let Subject::Item(at) = subject else { return Err(gone(load, "tie")) };
    if matches!(item(load, subject)?.item.kind, ItemKind::Bulk(_)) {
        return Err(gone(load, "tie"));
    }
    let mut least: Option<Share> = None;
    for one in toward {
        let holds = holds(load, at, *one, against)?;
        least = Some(least.map_or(holds, |least| least.min(holds)));
    }
    least.ok_or_else(|| gone(load, "tie"))
}

/// The direction along or across the deck in which least is held.
fn weakest(load: &Load<'_>, subject: Subject, against: Against) -> Known<(Share, Toward)> {
    let mut least: Option<(Share, Toward)> = None;
    for toward in [Toward::Forward, Toward::Rearward, Toward::Left, Toward::Right] {
        let holds = held(load, subject, &[toward], against)?;
        if least.is_none_or(|(least, _)| holds < least) {
            least = Some((holds, toward));
        }
    }
    least.ok_or_else(|| gone(load, "tie"))
}

fn way(toward: Toward) -> Arc<str> {
    match toward {
        Toward::Forward => "forward",
        Toward::Rearward => "rearward",
        Toward::Left => "to the left",
        Toward::Right => "to the right",
        Toward::Up => "up",
    }
    .into()
}

/// `4 x 6,600 x 1/2 + 1 x 5,000`, each tie-down entry of one kind counted together; in lb, as tie-downs are marked.
fn sum(load: &Load<'_>, subject: Subject) -> Known<String> {
    let mut parts: Vec<(u32, i64, bool)> = Vec::new();
    for tied in Tied::of(load, item(load, subject)?)? {
        let weakest = tied.weakest(load)?;
        let whole = (tied.counts(load)?.si() - weakest.si() * f64::from(tied.count)).abs() < 1e-9;
        #[expect(clippy::cast_possible_truncation, reason = "a working load limit is far below 2^52 lb")]
        let pounds = (weakest.si() / 0.453_592_37).round() as i64;
        match parts.iter_mut().find(|(_, other, full)| *other == pounds && *full == whole) {
            Some((count, ..)) => *count += tied.count,
            None => parts.push((tied.count, pounds, whole)),
        }
    }
    let said = parts.iter().map(|(count, pounds, whole)| {
        let half = if *whole { "" } else { " x 1/2" };
        format!("{count} x {}{half}", thousands(*pounds))
    });
    let said: Vec<String> = said.collect();
    Ok(if said.is_empty() { "none".to_owned() } else { said.join(" + ") })
}

fn thousands(value: i64) -> String {
    let digits = value.to_string();
    let mut out = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    out
}

#[expect(clippy::unnecessary_wraps, reason = "every reader returns a Known, and this ends some of them")]
fn text(word: Arc<str>) -> Known<Reading> {
    Ok(Reading { value: Value::Text(word), slopes: [0.0; LANES], at: None, unit: None, open: None })
}
