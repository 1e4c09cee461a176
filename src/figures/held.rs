//! An item with its tie-downs as the physics takes it, and what was found of it once and is kept.

use std::cell::RefCell;
use std::sync::{Arc, Mutex, PoisonError};

use super::borne::{blocks, footing};
use super::climbing::machine;
use super::of_part::gone;
use super::remembered::Remembered;
use super::{Each, Known, Lack, Load, OnDeck, Subject, figure};
use crate::expr::Value;
use crate::lower::unmarked_wll;
use crate::model::{Anchor, ItemKind, LashPoint, Tie, Tiedown};
use crate::physics::{Held, HoldError, HoldSpot, Holding, Placed, Press, Pull, Toward};
use crate::units::{Length, Mass, Share};

thread_local! {
    /// What was found of ties in any load.
    static FOUND: RefCell<Remembered<Result<Holding, HoldError>>> = RefCell::default();
}

/// Which limit of a tie counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Against {
    /// Its working load limit.
    Working,
    /// Its breaking strength.
    Breaking,
    /// Its working load limit, with nothing to help it: no friction, no wall.
    Bare,
}

/// What was found of the items' ties: by item, direction and limit, and whether with what each bound is worth.
#[derive(Debug, Default)]
pub(super) struct Holdings(Mutex<Vec<(Key, Kept)>>);

type Key = (usize, Toward, Against, bool);
type Kept = Arc<Result<Holding, HoldError>>;

impl Holdings {
    fn of(&self, key: Key, held: &Held) -> Kept {
        let kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let known = kept.iter().find(|(other, _)| *other == key).map(|(_, found)| Arc::clone(found));
        drop(kept);
        if let Some(found) = known {
            return found;
        }
        let (_, toward, _, weighed) = key;
        let mut question = held.numbers();
        question.extend([toward as u64, u64::from(weighed)]);
        let find = || if weighed { held.weighed(toward) } else { held.holds(toward) };
        let found = FOUND.with_borrow_mut(|found| found.of(question, find));
        self.0.lock().unwrap_or_else(PoisonError::into_inner).push((key, Arc::clone(&found)));
        found
    }
}

/// A tie-down entry with what it hangs on.
pub(super) struct Tied<'y> {
    pub(super) tie: &'y Tie,
    pub(super) tiedown: &'y Tiedown,
    /// How many it stands for.
    pub(super) count: u32,
    /// Whether it goes over the top.
    pub(super) over: bool,
    /// The anchors it is fixed to: one of a direct tie, two of one that goes over the top.
    pub(super) anchors: Vec<(usize, &'y Anchor)>,
    /// The lash point a direct tie holds.
    pub(super) lash: Option<&'y LashPoint>,
}

/// A tie-down's marked limit, or that of the published table for one without a mark.
pub(super) fn wll(load: &Load<'_>, tiedown: &Tiedown) -> Known<Mass> {
    if let Some(marked) = load.outlines.given(&tiedown.wll, &tiedown.owner, "wll")? {
        return Ok(marked);
    }
    unmarked_wll(tiedown).ok_or_else(|| tiedown.owner.lacks("wll").into())
}

impl<'y> Tied<'y> {
    /// The ties of an item itself, without those of its attachments.
    pub(super) fn of(load: &Load<'y>, one: &OnDeck<'y>) -> Known<Vec<Self>> {
        one.item.ties.iter().map(|tie| Self::one(load, one, tie)).collect()
    }

    /// All of them, those of its attachments too.
    pub(super) fn all(load: &Load<'y>, one: &OnDeck<'y>) -> Known<Vec<Self>> {
        one.ties().map(|tie| Self::one(load, one, tie)).collect()
    }

    fn one(load: &Load<'y>, item: &OnDeck<'y>, tie: &'y Tie) -> Known<Self> {
        let tiedown = tie.tiedown.target.and_then(|at| load.yard.tiedowns.get(at)).ok_or_else(|| gone(load, "tie"))?;
        let over = tie.over.or(false, &tie.owner, "over")?;
        let trailer = load.trailer.clone()?;
        let anchor = |name: &Option<Arc<str>>| {
            let name = name.as_ref()?;
            trailer.anchors.iter().enumerate().find(|(_, anchor)| anchor.id.value == *name)
        };
        let (from, to) = (tie.from.value(), tie.to.value());
        let mut anchors: Vec<(usize, &Anchor)> = anchor(&from).into_iter().collect();
        let mut lash = None;
        if over {
            anchors.extend(anchor(&to));
        } else if let Some(name) = &to {
            lash = lash_points(load, item).into_iter().find(|point| point.id.value == *name);
            if lash.is_none() {
                // Neither end of a direct tie names a lash point: it goes from an anchor round the cargo to another.
                anchors.extend(anchor(&to));
            }
        }
        let count = tie.count.or(1, &tie.owner, "count")?;
        Ok(Self { tie, tiedown, count, over, anchors, lash })
    }

    /// The working load limit of each: of its weakest part, the tie-down, what it is anchored to, what it is fixed to
    /// (49 CFR 393.108(a), seen).
    pub(super) fn weakest(&self, load: &Load<'_>) -> Known<Mass> {
        let mut least = wll(load, self.tiedown)?;
        for (_, anchor) in &self.anchors {
            if let Some(rating) = load.outlines.given(&anchor.rating, &anchor.owner, "rating")? {
                least = least.min(rating);
            }
        }
        Ok(least.min(self.lash_rating(load)?.unwrap_or(least)))
    }

    pub(super) fn lash_rating(&self, load: &Load<'_>) -> Known<Option<Mass>> {
        match self.lash {
            Some(lash) => load.outlines.given(&lash.rating, &lash.owner, "rating"),
            None => Ok(None),
        }
    }

    /// The part of its working load limit that counts toward the sum (49 CFR 393.106(d), secondary): the whole of one that
    /// goes from an anchor over the cargo to an anchor on the other side, half of any other.
    pub(super) fn counts(&self, load: &Load<'_>) -> Known<Mass> {
        let crosses = match self.anchors.as_slice() {
            [(_, one), (_, other)] => {
                let left = |anchor: &Anchor| load.outlines.need(&anchor.left, &anchor.owner, "left");
                left(one)?.si() * left(other)?.si() < 0.0
            }
            _ => self.over,
        };
        let share = if crosses { 1.0 } else { 0.5 };
        Ok(self.weakest(load)? * (share * f64::from(self.count)))
    }

    /// Its limit in the balance of forces, its anchor left out: what hangs on that together is bounded there.
    fn limit(&self, load: &Load<'_>, against: Against, item: Mass) -> Known<Mass> {
        let own = match against {
            Against::Working => wll(load, self.tiedown)?,
            // Which way it pulls does not depend on how strong it is.
            Against::Bare => wll(load, self.tiedown).unwrap_or(item),
            Against::Breaking => load.outlines.need(&self.tiedown.breaking, &self.tiedown.owner, "breaking")?,
        };
        let least = match against {
            // Ratings of anchors and lash points are working ratings.
            Against::Breaking => own,
            Against::Working | Against::Bare => own.min(self.lash_rating(load)?.unwrap_or(own)),
        };
        Ok(least * f64::from(self.count))
    }
}

/// The lash points of a machine.
fn lash_points<'y>(load: &Load<'y>, item: &OnDeck<'y>) -> Vec<&'y LashPoint> {
    machine(load, item).map(|machine| machine.lash_points.iter().collect()).unwrap_or_default()
}

/// What holds an item in a direction, in parts of its weight.
pub(super) fn holds(load: &Load<'_>, item: usize, toward: Toward, against: Against) -> Known<Share> {
    let one = load.items.get(item).ok_or_else(|| gone(load, "item"))?;
    let held = held(load, item, one, against)?;
    let wrong = |error: HoldError| {
        let tie = match error {
            HoldError::TieWithoutLength(at) => one.item.ties.get(at).map(|tie| tie.owner.at),
            _ => None,
        };
        let owner = &one.item.owner;
        Lack::Contradiction {
            at: tie.unwrap_or(owner.at),
            owner: Arc::clone(&owner.path),
            why: error.to_string().into(),
        }
    };
    let kept = load.holdings.of((item, toward, against, load.outlines.varies()), &held);
    match kept.as_ref() {
        Ok(holding) => held.told(holding).map_err(wrong),
        Err(error) => Err(wrong(*error)),
    }
}

/// The tie that governs in a direction: by its place among the item's ties.
pub(super) fn governing(load: &Load<'_>, item: usize, toward: Toward) -> Known<Option<usize>> {
    let one = load.items.get(item).ok_or_else(|| gone(load, "item"))?;
    let held = held(load, item, one, Against::Working)?;
    let kept = load.holdings.of((item, toward, Against::Working, true), &held);
    let pull = kept.as_ref().as_ref().ok().and_then(Holding::governing);
    // One over the top is two pulls, one on either side.
    let ties = Tied::of(load, one)?;
    let mut owners = ties.iter().enumerate().flat_map(|(at, tied)| std::iter::repeat_n(at, 1 + usize::from(tied.over)));
    Ok(pull.and_then(|pull| owners.nth(pull)))
}

fn held(load: &Load<'_>, item: usize, one: &OnDeck<'_>, against: Against) -> Known<Held> {
    let placed = one.placed.clone()?;
    let ties = Tied::of(load, one)?;
    let at = placed.load();
    let reads = &load.outlines;
    let height = cg_height(load, one)?;
    let friction = match against {
        Against::Bare => Share::ZERO,
        _ => friction(load, item)?,
    };
    let trailer = load.trailer.clone()?;
    let anchors = trailer
        .anchors
        .iter()
        .map(|anchor| match against {
            Against::Breaking => Ok(None),
            _ => reads.given(&anchor.rating, &anchor.owner, "rating"),
        })
        .collect::<Known<Vec<_>>>()?;
    let mut held = Held {
        weight: placed.item.weight,
        cg: HoldSpot { ahead: -at.station, left: at.left, height },
        footing: footing(load, one, &placed, against == Against::Bare)?,
        friction,
        pulls: Vec::new(),
        presses: Vec::new(),
        blocks: Vec::new(),
        anchors,
    };
    for tied in &ties {
        pull(load, one, &placed, tied, against, &mut held)?;
    }
    if against != Against::Bare {
        held.blocks = blocks(load, one, &placed)?;
    }
    Ok(held)
}

/// How high above what an item stands on its centre of gravity is.
pub(super) fn cg_height(load: &Load<'_>, one: &OnDeck<'_>) -> Known<Length> {
    let reads = &load.outlines;
    match &one.item.kind {
        ItemKind::Machine(_) => {
            let machine = machine(load, one)?;
            reads.need(&machine.cg_height, &machine.owner, "cg-height")
        }
        ItemKind::Cargo(cargo) => match reads.given(&cargo.cg_height, &one.item.owner, "cg-height")? {
            Some(height) => Ok(height),
            None => Ok(one.height.clone()? / 2.0),
        },
        ItemKind::Bulk(_) => Err(gone(load, "tie")),
    }
}

/// The least friction under an item. A range enters as its ends, never as a spread, so that no slopes go along.
fn friction(load: &Load<'_>, item: usize) -> Known<Share> {
    let (_, figure) = figure("item.deck_friction_low", Each::Item).ok_or_else(|| gone(load, "friction"))?;
    match figure.of(load, Subject::Item(item))?.value {
        Value::Number(low) => Ok(Share::new(low)),
        Value::Text(_) | Value::Flag(_) => Err(gone(load, "friction")),
    }
}

/// Adds what a tie does.
fn pull(
    load: &Load<'_>,
    one: &OnDeck<'_>,
    placed: &Placed,
    tied: &Tied<'_>,
    against: Against,
    held: &mut Held,
) -> Known<()> {
    let limit = tied.limit(load, against, held.weight)?;
    if tied.over {
        let [first, second] = tied.anchors.as_slice() else { return Err(tied.tie.owner.lacks("from").into()) };
        let mut force = load.outlines.given(&tied.tiedown.tension_force, &tied.tiedown.owner, "tension-force")?;
        // Beside direct ties it may count for nothing. Where it is all there is, nobody knows what it holds.
        if force.is_none() && against != Against::Bare && !directly(load, one)? {
            force = Some(load.outlines.need(&tied.tiedown.tension_force, &tied.tiedown.owner, "tension-force")?);
        }
        for (at, anchor) in [first, second] {
            let to = anchored(load, anchor)?;
            let from = edge(one, placed, to)?;
            held.pulls.push(Pull { from, to, limit, anchor: Some(*at), over: true });
            if let Some(force) = force.filter(|_| against != Against::Bare) {
                let way = [to.ahead - from.ahead, to.left - from.left, to.height - from.height].map(Length::dual);
                let long = (way[0] * way[0] + way[1] * way[1] + way[2] * way[2]).sqrt();
                let down = force.as_mass() * (-(way[2] / long)) * f64::from(tied.count);
                held.presses.push(Press { at: from, force: down });
            }
        }
        return Ok(());
    }
    let (from, to, anchor) = ends(load, one, placed, tied)?;
    held.pulls.push(Pull { from, to, limit, anchor: Some(anchor), over: false });
    Ok(())
}

/// Whether any tie of an item is known to go from an anchor to a point on it.
pub(super) fn directly<'y>(load: &Load<'y>, one: &OnDeck<'y>) -> Known<bool> {
    Ok(Tied::of(load, one)?.iter().any(|tied| tied.lash.is_some() && !tied.anchors.is_empty()))
}

/// Whether all that holds an item goes over it, from anchors that are known and with a tension that is. What stands on
/// another item is gripped by that, which nothing published tells.
pub(super) fn pressed_only<'y>(load: &Load<'y>, one: &OnDeck<'y>) -> Known<bool> {
    let ties = Tied::of(load, one)?;
    let known = |tied: &Tied<'_>| tied.over && tied.anchors.len() == 2 && !tied.tiedown.tension_force.is_absent();
    Ok(one.item.on.is_none() && !ties.is_empty() && ties.iter().all(known))
}

/// From which lash point to which anchor a direct tie goes, and which of the trailer's anchors that is.
pub(super) fn ends(
    load: &Load<'_>,
    one: &OnDeck<'_>,
    placed: &Placed,
    tied: &Tied<'_>,
) -> Known<(HoldSpot, HoldSpot, usize)> {
    let (Some((at, anchor)), Some(lash)) = (tied.anchors.first(), tied.lash) else {
        let why =
            "its tie-downs do not say from which anchor to which lash point they go, so their forces are not known";
        let owner = &tied.tie.owner;
        return Err(Lack::NotKnown { at: owner.at, owner: Arc::clone(&one.item.owner.path), why: why.into() });
    };
    let reads = &load.outlines;
    let from = HoldSpot {
        ahead: -placed.station(reads.need(&lash.arm, &lash.owner, "arm")?),
        left: placed.across(reads.need(&lash.left, &lash.owner, "left")?),
        height: reads.need(&lash.height, &lash.owner, "height")?,
    };
    Ok((from, anchored(load, anchor)?, *at))
}

/// Where a tie over the top goes down to an anchor: over the top edge on that side, as far along as the anchor, or as the cargo
/// reaches.
pub(super) fn edge(one: &OnDeck<'_>, placed: &Placed, to: HoldSpot) -> Known<HoldSpot> {
    let (half, height, middle) = (one.width.clone()? / 2.0, one.height.clone()?, one.left.clone()?);
    let left = to.left.si() >= middle.si();
    Ok(HoldSpot {
        ahead: to.ahead.max(-placed.rear()).min(-placed.front()),
        left: if left { middle + half } else { middle - half },
        height,
    })
}

/// Where an anchor is.
pub(super) fn anchored(load: &Load<'_>, anchor: &Anchor) -> Known<HoldSpot> {
    let deck = load.deck()?;
    let reads = &load.outlines;
    let from = reads.need(&deck.from, &deck.owner, "from")?;
    Ok(HoldSpot {
        ahead: -(from + reads.need(&anchor.from_front, &anchor.owner, "from-front")?),
        left: reads.need(&anchor.left, &anchor.owner, "left")?,
        height: reads.or(&anchor.height, Length::ZERO, &anchor.owner, "height")?,
    })
}
