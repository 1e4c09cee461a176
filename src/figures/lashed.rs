//! An item with its lashings as EN 12195-1 takes them: what those over the top press, which way direct ones pull, and over
//! which edges it would tilt.

use std::sync::Arc;

use super::borne::blocks;
use super::held::{Tied, anchored, cg_height, edge, ends};
use super::of_part::{gone, item};
use super::touching::deck_friction;
use super::{Known, Lack, Load, OnDeck, Subject};
use crate::lower::lashing_criteria;
use crate::model::ItemKind;
use crate::physics::en12195::{Criteria, Direct, Lashings, Sliding, Tilting, Way, moment, press};
use crate::physics::{HoldSpot, Placed};
use crate::units::{Angle, Dual, Force, Length, Mass, MassMoment, Share};

/// An item with its lashings.
pub(super) struct Lashed {
    pub(super) criteria: &'static Criteria,
    pub(super) weight: Mass,
    /// Friction under it, the least it can be.
    pub(super) friction: Share,
    /// What the front wall holds of it, and up to which height.
    wall: (Force, Length),
    pub(super) over: Vec<Over>,
    pub(super) direct: Vec<Pulling>,
}

/// Lashings alike that go over the top.
pub(super) struct Over {
    pub(super) count: u32,
    /// Tension that is left in it, where its label says so.
    pub(super) tension: Option<Force>,
    capacity: Option<Force>,
    /// Angle to the deck on the left and on the right.
    sides: [Angle; 2],
}

/// Direct lashings alike.
pub(super) struct Pulling {
    pub(super) count: u32,
    /// What each of its kind holds: the least of lashing, anchor and lash point.
    capacity: Force,
    /// Where it holds the cargo.
    at: HoldSpot,
    /// Its direction there, toward the anchor.
    toward: HoldSpot,
}

/// What direct lashings must hold in one direction.
pub(super) struct Held {
    /// The force in each; none where no lashing holds that way.
    pub(super) force: Option<Force>,
    /// What the weakest of those holds.
    pub(super) capacity: Force,
    pub(super) count: u32,
    /// The part of the force in each that holds, friction of its pull down included, all of them together.
    pub(super) counted: Share,
}

/// How far a cargo is from tilting in one direction.
pub(super) struct Tilts {
    pub(super) way: Way,
    /// Acceleration at which it tilts by itself.
    pub(super) alone: Share,
    /// The same with what holds it.
    pub(super) held: Share,
    /// What it is held against.
    pub(super) needed: Share,
}

impl Over {
    /// The flatter of its two sides.
    pub(super) fn angle(&self) -> Angle {
        self.sides[0].min(self.sides[1])
    }

    fn press(&self, tension: Force) -> Force {
        press(tension, self.sides[0]) + press(tension, self.sides[1])
    }
}

impl Lashed {
    /// An item of a load with its lashings.
    pub(super) fn of(load: &Load<'_>, subject: Subject) -> Known<Self> {
        let one = item(load, subject)?;
        if matches!(one.item.kind, ItemKind::Bulk(_)) {
            return Err(gone(load, "tie"));
        }
        let criteria = lashing_criteria().ok_or_else(|| gone(load, "tie"))?;
        let placed = one.placed.clone()?;
        let wall = blocks(load, one, &placed)?.into_iter().next();
        let wall = wall.map_or((Force::ZERO, Length::ZERO), |wall| (wall.holds.weight(), wall.at.1.height));
        let mut lashed = Self {
            criteria,
            weight: placed.item.weight,
            friction: deck_friction(load, subject)?.0,
            wall,
            over: Vec::new(),
            direct: Vec::new(),
        };
        for tied in &Tied::of(load, one)? {
            if tied.over {
                lashed.over.push(over(load, one, &placed, tied)?);
            } else {
                lashed.direct.push(pulling(load, one, &placed, tied)?);
            }
        }
        Ok(lashed)
    }

    /// The lashings over the top that count: tensioned by a known force, and steep enough.
    pub(super) fn counted(&self) -> impl Iterator<Item = (&Over, Force)> {
        let flat = self.criteria.flat;
        self.over.iter().filter(move |over| over.angle() >= flat).filter_map(|over| Some((over, over.tension?)))
    }

    /// How many of them there are; none where nothing grips.
    pub(super) fn count(&self) -> u32 {
        if self.friction > Share::ZERO { self.counted().map(|(over, _)| over.count).sum() } else { 0 }
    }

    /// What one of them presses, on both sides together; the mean where they differ.
    pub(super) fn press(&self) -> Option<Force> {
        let count: u32 = self.counted().map(|(over, _)| over.count).sum();
        let all: Force = self.counted().map(|(over, tension)| over.press(tension) * f64::from(over.count)).sum();
        (count > 0).then(|| all / f64::from(count))
    }

    pub(super) fn sliding(&self, way: Way) -> Sliding {
        let blocked = if way == Way::Forward { self.wall.0 } else { Force::ZERO };
        Sliding { weight: self.weight, friction: self.friction, blocked }
    }

    /// How many lashings over the top it takes, in the direction that takes most. None where no number does.
    pub(super) fn needed(&self) -> Option<(Way, Lashings)> {
        let each = self.press().unwrap_or(Force::ZERO);
        let mut most = (Way::Forward, Lashings::NONE);
        for way in Way::ALL {
            let count = self.sliding(way).over_the_top(self.criteria.of(way), each)?;
            if count > most.1 {
                most = (way, count);
            }
        }
        Some(most)
    }

    /// What the direct lashings must hold in a direction.
    pub(super) fn direct(&self, way: Way) -> Held {
        let along = |spot: HoldSpot| along(spot, way);
        let holding: Vec<&Pulling> = self.direct.iter().filter(|one| along(one.toward).si() < -1e-9).collect();
        let lashings: Vec<Direct> = holding
            .iter()
            .flat_map(|one| {
                let against = Share::of(-along(one.toward).dual());
                let down = Share::of(-one.toward.height.dual());
                std::iter::repeat_n(Direct { against, down }, one.count.min(MANY) as usize)
            })
            .collect();
        let part = self.criteria.direct_friction;
        let friction = self.friction.dual() * part.dual();
        Held {
            force: self.sliding(way).direct(self.criteria.of(way).slide, part, &lashings),
            capacity: holding.iter().map(|one| one.capacity).reduce(Force::min).unwrap_or(Force::ZERO),
            count: holding.iter().map(|one| one.count).sum(),
            counted: lashings.iter().map(|one| one.against + Share::of(one.down.dual() * friction)).sum(),
        }
    }

    /// How far it is from tilting, in the direction in which it is nearest to it.
    pub(super) fn tilts(&self, load: &Load<'_>, subject: Subject) -> Known<Tilts> {
        let one = item(load, subject)?;
        let edges = edges(load, one)?;
        let height = cg_height(load, one)?;
        let width = one.footing.clone()?;
        let at = one.placed.clone()?.load();
        let cg = HoldSpot { ahead: -at.station, left: at.left, height };
        let mut worst: Option<Tilts> = None;
        for (way, edge) in edges {
            let cargo = Tilting { weight: self.weight, before: edge - along(cg, way), height };
            let criterion = self.criteria.of(way);
            let direct = self.direct_moment(way, edge);
            let wall = if way == Way::Forward { moment(self.wall.0, self.wall.1) } else { MassMoment::ZERO };
            // Sideways it is read twice: as against sliding with the tension, as against tilting with a part of the capacity.
            let readings = match way {
                Way::Forward | Way::Rearward => [Some((criterion.tilt, MassMoment::ZERO)), None],
                Way::Left | Way::Right => [
                    Some((criterion.slide, self.over_moment(way, width, false))),
                    Some((criterion.tilt, self.over_moment(way, width, true))),
                ],
            };
            let lack = || gone(load, "cg-height");
            let alone = cargo.held(MassMoment::ZERO).ok_or_else(lack)?;
            for (needed, over) in readings.into_iter().flatten() {
                let held = cargo.held(if over > direct { over } else { direct } + wall).ok_or_else(lack)?;
                let tilts = Tilts { way, alone, held, needed };
                let nearer = |before: &Tilts| held.dual() / needed.dual() < before.held.dual() / before.needed.dual();
                if worst.as_ref().is_none_or(nearer) {
                    worst = Some(tilts);
                }
            }
        }
        worst.ok_or_else(|| gone(load, "tie"))
    }

    /// What lashings over the top hold against tilting over the edge on a side, by the formula with its safety factor.
    fn over_moment(&self, way: Way, width: Length, by_capacity: bool) -> MassMoment {
        let far = usize::from(way == Way::Left);
        let all = self.counted().map(|(over, tension)| {
            let tension = match over.capacity.filter(|_| by_capacity) {
                Some(capacity) => capacity * self.criteria.tilt_capacity.dual(),
                None => tension,
            };
            press(tension, over.sides[far]) * f64::from(over.count)
        });
        moment(all.sum::<Force>() / self.criteria.of(way).safety.dual(), width)
    }

    /// What direct lashings hold against tilting over an edge: all that pull back, with the force that the weakest of them
    /// holds.
    fn direct_moment(&self, way: Way, edge: Length) -> MassMoment {
        let levers: Vec<(&Pulling, Length)> = self
            .direct
            .iter()
            .map(|one| {
                let (ahead, up) = (along(one.toward, way).dual(), one.toward.height.dual());
                (one, (along(one.at, way) - edge) * up - one.at.height * ahead)
            })
            .filter(|(_, lever)| *lever > Length::ZERO)
            .collect();
        let weakest = levers.iter().map(|(one, _)| one.capacity).reduce(Force::min).unwrap_or(Force::ZERO);
        moment(weakest, levers.iter().map(|(one, lever)| *lever * f64::from(one.count)).sum())
    }
}

/// More ties than that in one entry change nothing that a sheet could mean.
const MANY: u32 = 1000;

/// How far a place lies in a direction.
fn along(spot: HoldSpot, way: Way) -> Length {
    match way {
        Way::Forward => spot.ahead,
        Way::Rearward => -spot.ahead,
        Way::Left => spot.left,
        Way::Right => -spot.left,
    }
}

/// The edges of what an item stands on, each as far as it lies in its direction.
fn edges(load: &Load<'_>, one: &OnDeck<'_>) -> Known<[(Way, Length); 4]> {
    let placed = one.placed.clone()?;
    let (first, last) = match &one.item.kind {
        ItemKind::Machine(_) => one.stands.clone()?,
        ItemKind::Cargo(_) => (placed.item.outline.front, placed.item.outline.rear),
        ItemKind::Bulk(_) => return Err(gone(load, "tie")),
    };
    let (first, last) = (placed.station(first), placed.station(last));
    let (half, middle) = (one.footing.clone()? / 2.0, one.left.clone()?);
    Ok([
        (Way::Forward, -first.min(last)),
        (Way::Rearward, first.max(last)),
        (Way::Left, middle + half),
        (Way::Right, half - middle),
    ])
}

fn over(load: &Load<'_>, one: &OnDeck<'_>, placed: &Placed, tied: &Tied<'_>) -> Known<Over> {
    let [(_, first), (_, second)] = tied.anchors.as_slice() else { return Err(tied.tie.owner.lacks("from").into()) };
    let side = |anchor| -> Known<(Length, Angle)> {
        let to = anchored(load, anchor)?;
        let from = edge(one, placed, to)?;
        Ok((from.left, Angle::of_radians((-direction(tied, from, to)?.height.dual()).asin())))
    };
    let (first, second) = (side(first)?, side(second)?);
    let sides = if first.0 >= second.0 { [first.1, second.1] } else { [second.1, first.1] };
    let given = |slot, word| load.outlines.given(slot, &tied.tiedown.owner, word);
    Ok(Over {
        count: tied.count,
        tension: given(&tied.tiedown.tension_force, "tension-force")?,
        capacity: given(&tied.tiedown.lashing_capacity, "lashing-capacity")?,
        sides,
    })
}

fn pulling(load: &Load<'_>, one: &OnDeck<'_>, placed: &Placed, tied: &Tied<'_>) -> Known<Pulling> {
    let (at, to, _) = ends(load, one, placed, tied)?;
    let reads = &load.outlines;
    let mut capacity = reads.need(&tied.tiedown.lashing_capacity, &tied.tiedown.owner, "lashing-capacity")?;
    for (_, anchor) in &tied.anchors {
        if let Some(rating) = reads.given(&anchor.rating, &anchor.owner, "rating")? {
            // One anchor holds all that the entry hangs on it.
            capacity = capacity.min(rating.weight() / f64::from(tied.count.max(1)));
        }
    }
    if let Some(rating) = tied.lash_rating(load)? {
        capacity = capacity.min(rating.weight() / f64::from(tied.count.max(1)));
    }
    Ok(Pulling { count: tied.count, capacity, at, toward: direction(tied, at, to)? })
}

/// The direction from one place of a tie to another, of length 1.
fn direction(tied: &Tied<'_>, from: HoldSpot, to: HoldSpot) -> Known<HoldSpot> {
    let parts = [to.ahead - from.ahead, to.left - from.left, to.height - from.height].map(Length::dual);
    let long = parts.iter().fold(Dual::new(0.0), |sum, part| sum + *part * *part).sqrt();
    if long.value() <= 1e-6 || !long.is_finite() {
        let owner = &tied.tie.owner;
        let why = "it begins where it ends".into();
        return Err(Lack::Contradiction { at: owner.at, owner: Arc::clone(&owner.path), why });
    }
    let [ahead, left, height] = parts.map(|part| Length::of(part / long));
    Ok(HoldSpot { ahead, left, height })
}
