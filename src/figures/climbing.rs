//! A machine of a load driven onto its trailer: what the sheet says of it, as the physics takes it, and what was found once and
//! is kept.

use std::cell::RefCell;
use std::sync::{Arc, Mutex, PoisonError};

use super::of_part::gone;
use super::remembered::Remembered;
use super::{Known, Lack, Load, OnDeck};
use crate::model::{Attachment, End, ItemKind, Machine, Owner, Underside, UndersidePart};
use crate::physics::{self, Bearer, Climb, ClimbError, Climber, Found, Gear, Low, Way};
use crate::units::{Angle, Length, Mass};

thread_local! {
    /// What was found of climbs in any load.
    static FOUND: RefCell<Remembered<Result<Found, ClimbError>>> = RefCell::default();
}

/// What was found of a climb: by item and by which way it faces. The search goes in plain numbers, which are the same in a load
/// whose entries are only varied or whose items are only moved.
#[derive(Debug, Default)]
pub(super) struct Climbs(Mutex<Vec<(usize, physics::Facing, Kept)>>);

/// What was found, or what is wrong.
type Kept = Arc<Result<Found, ClimbError>>;

impl Climbs {
    fn of(&self, item: usize, climb: &Climb) -> Kept {
        let facing = climb.machine.facing;
        let kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let known = kept.iter().find(|(at, way, _)| (*at, *way) == (item, facing)).map(|(.., found)| Arc::clone(found));
        drop(kept);
        if let Some(found) = known {
            return found;
        }
        let found = FOUND.with_borrow_mut(|found| found.of(climb.numbers(), || climb.found(true)));
        self.0.lock().unwrap_or_else(PoisonError::into_inner).push((item, facing, Arc::clone(&found)));
        found
    }
}

/// A machine's climb with what was found of it.
pub(super) struct Climbing<'l, 'y> {
    load: &'l Load<'y>,
    item: usize,
    pub(super) one: &'l OnDeck<'y>,
    pub(super) machine: &'y Machine,
    pub(super) climb: Climb,
}

impl<'l, 'y> Climbing<'l, 'y> {
    /// The climb of an item that is a machine.
    pub(super) fn of(load: &'l Load<'y>, item: usize) -> Known<Self> {
        let one = load.items.get(item).ok_or_else(|| gone(load, "item"))?;
        let machine = machine(load, one)?;
        let placed = one.placed.clone()?;
        let still = load.still.as_ref().map_err(Clone::clone)?;
        let deck = load.deck()?;
        let way = way(load)?;
        let rear_edge = load.outlines.need(&deck.from, &deck.owner, "from")? + way.deck_length;
        let reads = &load.outlines;
        let gear = gear(load, machine)?;
        let free_on =
            way.tilt.map(|(hinge, _)| hinge).filter(|_| way.ramp.is_none() && deck.tilt_hinge.entry().is_some());
        let trailer = Bearer {
            rear_edge,
            axles: still.trailer.mean_station(),
            stands: Some(stands(load, rear_edge)?.map_or(rear_edge, |stands| stands.station)),
            free_on,
        };
        let machine_height = reads.given(&machine.cg_height, &machine.owner, "cg-height")?;
        if machine.tracks.is_some() && machine_height.is_none() {
            return Err(machine.owner.lacks("cg-height").into());
        }
        let climb = Climb {
            way,
            machine: Climber {
                gear,
                weight: placed.item.weight,
                arm: placed.item.arm,
                height: machine_height,
                facing: placed.facing,
                undersides: undersides(load, one, machine)?,
            },
            ahead: rear_edge - placed.datum,
            trailer,
        };
        Ok(Self { load, item, one, machine, climb })
    }

    /// What is told of the climb once it has been searched.
    pub(super) fn ask<T>(&self, tell: impl Fn(&Climb, &Found) -> Result<T, ClimbError>) -> Known<T> {
        let kept = self.load.climbs.of(self.item, &self.climb);
        let wrong = |error: ClimbError| self.wrong(error);
        match kept.as_ref() {
            Ok(found) if self.climb.is_told_by(found) => tell(&self.climb, found).map_err(wrong),
            Ok(_) => {
                let found = self.climb.found(false).map_err(wrong)?;
                tell(&self.climb, &found).map_err(wrong)
            }
            Err(error) => Err(wrong(*error)),
        }
    }

    /// What is wrong, at the entry where one would mend it.
    fn wrong(&self, error: ClimbError) -> Lack {
        let load = self.load;
        if error == ClimbError::TipsBack && self.climb.way.ramp.is_some() {
            // That is told by the margin that it has to tipping back.
            return gone(load, "machine");
        }
        if error == ClimbError::BendsUp {
            let owner = &self.one.item.owner;
            return Lack::NotKnown { at: owner.at, owner: Arc::clone(&owner.path), why: error.to_string().into() };
        }
        let trailer = load.trailer.as_ref().ok();
        let ramp = trailer.and_then(|trailer| trailer.ramp.as_ref());
        let ramp_at = || ramp.map(|ramp| ramp.length.at().unwrap_or(ramp.owner.at));
        let tilt = load.loading.bed_tilt.at();
        let item = &self.one.item.owner;
        let below = || {
            self.machine.underside.iter().flat_map(|one| &one.parts).find_map(|part| {
                part.clearance.entry().filter(|entry| entry.value < Length::ZERO).map(|entry| entry.at)
            })
        };
        let (at, owner) = match error {
            ClimbError::RampTooShort | ClimbError::RampTooSteep => {
                (ramp_at(), ramp.map_or(&item.path, |ramp| &ramp.owner.path))
            }
            ClimbError::EdgeBelowGround | ClimbError::StepTooHigh => (tilt, &item.path),
            ClimbError::UndersideBelowGround => (below(), &self.machine.owner.path),
            ClimbError::NoWheelbase | ClimbError::NotOnTracks => {
                (Some(self.machine.owner.at), &self.machine.owner.path)
            }
            ClimbError::WheelLargerThanRamp | ClimbError::BendsUp | ClimbError::TipsBack | ClimbError::NotFinite => {
                (None, &item.path)
            }
        };
        Lack::Contradiction { at: at.unwrap_or(item.at), owner: Arc::clone(owner), why: error.to_string().into() }
    }

    /// The entry without which what is under the machine is not told at all.
    pub(super) fn unseen(&self) -> Option<Lack> {
        let parts = self.machine.underside.as_ref().map_or(0, |underside| underside.parts.len());
        (parts == 0).then(|| self.machine.owner.lacks("underside").into())
    }

    /// An attachment of which no underside is given: what is told is then only the gap under the rest.
    pub(super) fn open(&self) -> Option<Lack> {
        self.attachments()
            .find(|one| one.underside.as_ref().is_none_or(|under| under.parts.is_empty()))
            .map(|one| one.owner.lacks("underside").into())
    }

    /// The height of the centre of gravity where it is not given: the axles' parts are then taken as on level ground, and on the
    /// slope the lower one carries more.
    pub(super) fn levelled(&self) -> Option<Lack> {
        self.climb.machine.height.is_none().then(|| self.machine.owner.lacks("cg-height").into())
    }

    fn attachments(&self) -> impl Iterator<Item = &'y Attachment> {
        attachments(self.load, self.one)
    }

    /// A part of an underside.
    pub(super) fn part(&self, (chain, part): (usize, usize)) -> Option<&'y UndersidePart> {
        let own = self.machine.underside.iter();
        let all: Vec<&Underside> = own.chain(self.attachments().filter_map(|one| one.underside.as_ref())).collect();
        all.get(chain)?.parts.get(part)
    }

    /// What trailer and cargo put on the tongue and on the axles before this machine comes: the empty trailer, and what stands
    /// ahead of its place. What stands behind it, or on it, comes after.
    pub(super) fn before(&self) -> Known<(Mass, Mass)> {
        let load = self.load;
        let still = load.still.as_ref().map_err(Clone::clone)?;
        let own = self.one.placed.clone()?;
        let middle = still.trailer.mean_station();
        let (mut tongue, mut axles) = (still.trailer.empty.tongue, still.trailer.empty.axles);
        for (at, other) in load.items.iter().enumerate() {
            let placed = other.placed.clone()?;
            if at == self.item || load.stands_on(at, self.item) || placed.front() >= own.front() {
                continue;
            }
            let station = self.tilted(placed.load().station, other)?;
            let on_tongue = placed.item.weight * ((middle - station) / middle);
            tongue += on_tongue;
            axles += placed.item.weight - on_tongue;
        }
        Ok((tongue, axles))
    }

    /// Where something on the deck is once the bed is tilted.
    fn tilted(&self, station: Length, other: &OnDeck<'_>) -> Known<Length> {
        let Some((hinge, angle)) = self.climb.way.tilt else { return Ok(station) };
        let height = match &other.item.kind {
            ItemKind::Machine(_) => {
                let machine = machine(self.load, other)?;
                self.load.outlines.given(&machine.cg_height, &machine.owner, "cg-height")?
            }
            ItemKind::Cargo(cargo) => self.load.outlines.given(&cargo.cg_height, &other.item.owner, "cg-height")?,
            ItemKind::Bulk(_) => None,
        };
        let rear = self.climb.trailer.rear_edge;
        let radians = angle.dual() * (std::f64::consts::PI / 180.0);
        let ahead = rear - station - hinge;
        // How high its centre of gravity lies above the deck moves it a little; where that is not given it is left out.
        Ok(rear - (hinge + ahead * radians.cos() - height.unwrap_or(Length::ZERO) * radians.sin()))
    }
}

/// What a machine stands on. Where a wheel touches the ramp hangs on its radius, and with it every load on the way up.
fn gear(load: &Load<'_>, machine: &Machine) -> Known<Gear> {
    let reads = &load.outlines;
    if let Some(tracks) = &machine.tracks {
        return Ok(Gear::Tracks { contact: reads.need(&tracks.contact_length, &tracks.owner, "contact-length")? });
    }
    let radius = |axle: &Option<crate::model::MachineAxle>| match axle {
        Some(axle) => reads.need(&axle.wheel_radius, &axle.owner, "wheel-radius"),
        None => Err(machine.owner.lacks("axle").into()),
    };
    Ok(Gear::Wheels {
        wheelbase: reads.need(&machine.wheelbase, &machine.owner, "wheelbase")?,
        front_radius: radius(&machine.front)?,
        rear_radius: radius(&machine.rear)?,
    })
}

/// Stands under the trailer's rear.
pub(super) struct RearStands {
    /// Their station.
    pub(super) station: Length,
    /// What they bear together.
    pub(super) rating: Known<Mass>,
}

/// The stands under the rear, when the sheet says there are any.
pub(super) fn stands(load: &Load<'_>, rear_edge: Length) -> Known<Option<RearStands>> {
    let mut found: Option<RearStands> = None;
    for stands in &load.loading.stands {
        if stands.end.need(&stands.owner, "end")? != End::Rear {
            continue;
        }
        let count = stands.count.or(1, &stands.owner, "count")?;
        if count == 0 {
            continue;
        }
        let station = load.outlines.given(&stands.at, &stands.owner, "at")?.unwrap_or(rear_edge);
        let middle = load.still.as_ref().map_err(Clone::clone)?.trailer.mean_station();
        if station <= middle {
            let why = "stands under the rear stand behind the axles; where these stand they hold nothing";
            let at = stands.at.at().unwrap_or(stands.owner.at);
            return Err(Lack::Contradiction { at, owner: Arc::clone(&stands.owner.path), why: why.into() });
        }
        let rating = load.outlines.need(&stands.rating, &stands.owner, "rating");
        let rating = rating.map(|rating| rating * f64::from(count));
        found = Some(match found {
            None => RearStands { station, rating },
            Some(other) => RearStands {
                station: other.station.min(station),
                rating: other.rating.and_then(|one| rating.map(|two| one + two)),
            },
        });
    }
    Ok(found)
}

/// The way onto the deck of a load.
pub(super) fn way(load: &Load<'_>) -> Known<Way> {
    let trailer = load.trailer.clone()?;
    let deck = load.deck()?;
    let reads = &load.outlines;
    let (owner, bed_tilt) = planned(load, "bed-tilt", "loading bed-tilt");
    let length = |slot, word| reads.given(slot, &deck.owner, word);
    let hinge = match length(&deck.tilt_hinge, "tilt-deck hinge-from-rear")? {
        Some(hinge) => Some(hinge),
        None => reads.given(&trailer.tip_hinge, &trailer.owner, "tip-bed hinge-from-rear")?,
    };
    let angle = match (load.supposed.bed_tilt, &load.loading.bed_tilt) {
        (Some(angle), _) => Some(angle),
        (None, crate::model::Slot::Absent) => None,
        (None, slot) => Some(reads.need(slot, owner, bed_tilt)?),
    };
    let tilt = match (hinge, angle) {
        (Some(hinge), Some(angle)) => Some((hinge, angle)),
        (None, Some(angle)) if angle > Angle::ZERO => {
            let at = load.loading.bed_tilt.at().unwrap_or(owner.at);
            let why = "its bed does not tilt: it gives no hinge of a tip-bed or tilt-deck";
            return Err(Lack::Contradiction { at, owner: Arc::clone(&trailer.owner.path), why: why.into() });
        }
        _ => None,
    };
    let ramp = match &trailer.ramp {
        Some(_) if load.supposed.ramp.is_some() => load.supposed.ramp,
        Some(ramp) => Some(reads.need(&ramp.length, &ramp.owner, "length")?),
        None if tilt.is_some_and(|(_, angle)| angle > Angle::ZERO) => None,
        // A deck that tilts is loaded tilted; any other needs a ramp.
        None if deck.tilt_hinge.entry().is_some() => return Err(owner.lacks(bed_tilt).into()),
        None => return Err(trailer.owner.lacks("ramp").into()),
    };
    let dovetail = match length(&deck.dovetail_length, "dovetail length")? {
        Some(run) => Some((run, reads.need(&deck.dovetail_drop, &deck.owner, "dovetail drop")?)),
        None => None,
    };
    let foot_rise = match (load.supposed.foot_rise, &load.loading.foot_rise) {
        (Some(rise), _) => rise,
        (None, crate::model::Slot::Absent) => Length::ZERO,
        (None, slot) => reads.need(slot, owner, "foot-rise")?,
    };
    Ok(Way {
        foot_rise,
        ramp,
        deck_length: reads.need(&deck.length, &deck.owner, "length")?,
        deck_height: reads.need(&deck.height, &deck.owner, "height")?,
        dovetail,
        tilt,
    })
}

/// Where a load would say how it is put aboard, and by which word: in its own `loading`, or else in one that is not there yet.
/// That of the yard holds for every load, and is no place for what one of them lacks.
pub(super) fn planned<'l>(load: &'l Load<'_>, word: &'static str, whole: &'static str) -> (&'l Owner, &'static str) {
    let own = load.leg.and_then(|leg| leg.part.loading.owner.as_ref()).or(load.sheet.base.loading.owner.as_ref());
    own.map_or_else(|| (load.owner(), whole), |owner| (owner, word))
}

/// The machine that an item is.
pub(super) fn machine<'y>(load: &Load<'y>, one: &OnDeck<'y>) -> Known<&'y Machine> {
    let ItemKind::Machine(aboard) = &one.item.kind else { return Err(gone(load, "machine")) };
    aboard.machine.target.and_then(|at| load.yard.machines.get(at)).ok_or_else(|| gone(load, "machine"))
}

fn attachments<'y>(load: &Load<'y>, one: &OnDeck<'y>) -> impl Iterator<Item = &'y Attachment> + use<'y> {
    let yard = load.yard;
    one.fits().iter().filter_map(|fit| fit.attachment.target.and_then(|at| yard.attachments.get(at)))
}

/// The undersides that are given, the machine's own first.
fn undersides(load: &Load<'_>, one: &OnDeck<'_>, machine: &Machine) -> Known<Vec<physics::Underside>> {
    let reads = &load.outlines;
    let ends = |outline: Option<&crate::model::Outline>| -> Known<(Option<Length>, Option<Length>)> {
        let Some(outline) = outline else { return Ok((None, None)) };
        let rear = reads.given(&outline.rear, &outline.owner, "rear")?;
        Ok((rear, reads.given(&outline.front, &outline.owner, "front")?))
    };
    let read = |underside: &Underside, outline: Option<&crate::model::Outline>| -> Known<physics::Underside> {
        let parts = underside.parts.iter().map(|part| {
            let (rear, front) = if part.flat { ("from", "to") } else { ("arm", "arm") };
            let from = reads.need(&part.from, &part.owner, rear)?;
            let to = reads.need(&part.to, &part.owner, front)?;
            Ok(Low { from, to, clearance: reads.need(&part.clearance, &part.owner, "clearance")? })
        });
        Ok(physics::Underside { parts: parts.collect::<Known<_>>()?, ends: ends(outline)? })
    };
    let mut all = Vec::new();
    if let Some(underside) = &machine.underside {
        all.push(read(underside, machine.outline.as_ref())?);
    }
    for attachment in attachments(load, one) {
        if let Some(underside) = &attachment.underside {
            all.push(read(underside, attachment.outline.as_ref())?);
        }
    }
    Ok(all)
}
