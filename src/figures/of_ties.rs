//! Figures of an item's tie-downs taken together.

use std::sync::Arc;

use super::figure::{computed, entry, leaf, value};
use super::held::{Against, Tied, governing, holds, wll};
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
        Measures::Number,
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
        "holds forward",
        ITEM,
        SHARE,
        "deceleration that ties, friction and wall hold at the ties' working load limits, in parts of gravity",
        BALANCE,
        |load, subject| value(held(load, subject, &[Toward::Forward], Against::Working)?),
    ),
    computed(
        "ties.holds_rearward",
        "holds rearward",
        ITEM,
        SHARE,
        "acceleration that ties and friction hold at the ties' working load limits, in parts of gravity",
        BALANCE,
        |load, subject| value(held(load, subject, &[Toward::Rearward], Against::Working)?),
    ),
    computed(
        "ties.holds_sideways",
        "holds sideways",
        ITEM,
        SHARE,
        "acceleration to the worse side that ties and friction hold at the ties' working load limits, in parts of gravity",
        BALANCE,
        |load, subject| value(held(load, subject, &[Toward::Left, Toward::Right], Against::Working)?),
    ),
    computed(
        "ties.holds_up",
        "holds down",
        ITEM,
        SHARE,
        "what the ties hold down at their working load limits beside its own weight, in parts of gravity",
        BALANCE,
        |load, subject| value(held(load, subject, &[Toward::Up], Against::Working)?),
    ),
    entry(
        "ties.breaks_forward",
        "holds forward at breaking strength",
        ITEM,
        SHARE,
        "deceleration that ties, friction and wall hold at the ties' breaking strength, in parts of gravity",
        |load, subject| value(held(load, subject, &[Toward::Forward], Against::Breaking)?),
    ),
    entry(
        "ties.breaks_rearward",
        "holds rearward at breaking strength",
        ITEM,
        SHARE,
        "acceleration that ties and friction hold at the ties' breaking strength, in parts of gravity",
        |load, subject| value(held(load, subject, &[Toward::Rearward], Against::Breaking)?),
    ),
    entry(
        "ties.breaks_sideways",
        "holds sideways at breaking strength",
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
                || "none of them at its limit".to_owned(),
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
        "ties.geometry",
        "geometry given",
        ITEM,
        Measures::Flag,
        "whether each of its tie-downs says between which points it goes",
        |load, subject| {
            let ties = Tied::of(load, item(load, subject)?)?;
            value(ties.iter().all(|tied| if tied.over { tied.anchors.len() == 2 } else { tied.lash.is_some() }))
        },
    ),
    entry(
        "ties.direct",
        "direct ties",
        ITEM,
        Measures::Flag,
        "whether any of its tie-downs goes from an anchor to a point on it",
        |load, subject| value(Tied::of(load, item(load, subject)?)?.iter().any(|tied| !tied.over)),
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
    entry(
        "tie.marked",
        "marked",
        &[Each::Tie],
        Measures::Flag,
        "whether its working load limit is marked",
        |load, subject| {
            let (_, tiedown) = the_tie(load, subject)?;
            value(!tiedown.wll.is_absent())
        },
    ),
    entry(
        "tie.default_wll",
        "limit of the published table",
        &[Each::Tie],
        WEIGHT,
        "working load limit by its marking, or by the table of 49 CFR 393.108 where it bears none",
        |load, subject| {
            let (_, tiedown) = the_tie(load, subject)?;
            value(wll(load, tiedown)?)
        },
    ),
    entry(
        "anchor.pull",
        "pull on the anchor",
        &[Each::Anchor],
        WEIGHT,
        "working load limits of all that hangs on it, each counted with no more than the anchor's own rating",
        |load, subject| {
            let Subject::Anchor(at) = subject else { return Err(gone(load, "anchor")) };
            let mut sum = Mass::ZERO;
            for one in &load.items {
                for tied in Tied::of(load, one)? {
                    if tied.anchors.iter().any(|(anchor, _)| *anchor == at) {
                        sum += tied.weakest(load)? * f64::from(tied.count);
                    }
                }
            }
            value(sum)
        },
    ),
    entry(
        "attachment.ties",
        "tie-downs",
        &[Each::Attachment],
        Measures::Number,
        "how many tie-downs secure the attachment itself",
        |load, subject| {
            let Subject::Fit { item: at, fit } = subject else { return Err(gone(load, "fit")) };
            let fit = load.items.get(at).and_then(|one| one.fits().get(fit)).ok_or_else(|| gone(load, "fit"))?;
            let count =
                fit.ties.iter().map(|tie| tie.count.or(1, &tie.owner, "count")).collect::<Result<Vec<u32>, _>>()?;
            value(count.into_iter().sum::<u32>())
        },
    ),
    entry(
        "attachment.lowers",
        "rides lowered",
        &[Each::Attachment],
        Measures::Flag,
        "whether the attachment rides lowered",
        |load, subject| {
            let Subject::Fit { item: at, fit } = subject else { return Err(gone(load, "fit")) };
            let fit = load.items.get(at).and_then(|one| one.fits().get(fit)).ok_or_else(|| gone(load, "fit"))?;
            let attachment = fit.attachment.target.and_then(|at| load.yard.attachments.get(at));
            let attachment = attachment.ok_or_else(|| gone(load, "fit"))?;
            leaf(&attachment.lowers, &attachment.owner, "lowers")
        },
    ),
    entry(
        "attachment.on_heavy",
        "weight of its machine",
        &[Each::Attachment],
        WEIGHT,
        "what the machine weighs that carries it, attachments included",
        |load, subject| {
            let Subject::Fit { item: at, .. } = subject else { return Err(gone(load, "fit")) };
            value(load.items.get(at).ok_or_else(|| gone(load, "fit"))?.weight()?)
        },
    ),
];

fn the_tie<'y>(load: &Load<'y>, subject: Subject) -> Known<(&'y crate::model::Tie, &'y crate::model::Tiedown)> {
    let Subject::Tie { item: at, tie } = subject else { return Err(gone(load, "tie")) };
    let tie = load.items.get(at).and_then(|item| item.ties().nth(tie)).ok_or_else(|| gone(load, "tie"))?;
    let tiedown = tie.tiedown.target.and_then(|at| load.yard.tiedowns.get(at));
    tiedown.map(|tiedown| (tie, tiedown)).ok_or_else(|| gone(load, "tie"))
}

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
