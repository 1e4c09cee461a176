//! What stands on the deck: an item's weight and place from its definition, its attachments and one tape measurement.

use std::sync::Arc;

use super::load::{Heap, OnDeck};
use super::reads::Reads;
use super::{Known, Lack};
use crate::model::{
    Attachment, Bulk, Cargo, Facing, Gap, Item, ItemKind, Machine, MachineAboard, Material, Missing, Moisture, Outline,
    Owner, Ref, Slot, Trailer, Yard,
};
use crate::physics::{self, MachineWeight, Placed};
use crate::units::{self, Length};

/// The two sides of something across the deck, left of the centre line positive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corner {
    /// Its left extremity.
    pub left: Length,
    /// Its right extremity.
    pub right: Length,
}

/// The item of a load that is worked out, and how its entries are read.
pub(super) struct Placing<'y, 'r> {
    pub(super) yard: &'y Yard,
    pub(super) trailer: Option<&'y Trailer>,
    pub(super) heap: Heap,
    /// For what weights and places rest on.
    pub(super) statics: &'r Reads,
    /// For what only outlines rest on.
    pub(super) outlines: &'r Reads,
}

impl<'y> Placing<'y, '_> {
    /// An item with everything computed that its figures read.
    pub(super) fn item(&self, item: &'y Item, label: Arc<str>) -> OnDeck<'y> {
        // Noted apart from the other items', so that it is known what this one rests on.
        let own = if self.statics.notes() { Some(Reads::noting()) } else { None };
        let statics = own.as_ref().unwrap_or(self.statics);
        let weighing = self.aboard(item, statics);
        let placed = weighing.placed();
        let rests_on = own.map(|own| own.noted()).unwrap_or_default();
        self.statics.take(&rests_on);
        let outlined = self.aboard(item, self.outlines);
        OnDeck {
            item,
            label,
            under: None,
            placed,
            width: outlined.width(),
            height: outlined.height(),
            footing: outlined.footing(),
            stands: outlined.stands(),
            left: self.outlines.or(&item.left, Length::ZERO, &item.owner, "left"),
            rests_on: rests_on.into_iter().map(|rest| rest.at).collect(),
        }
    }

    /// The same item once more with another entry varied or changed, for weights and places only: its outlines stay as
    /// they are.
    pub(super) fn again(&self, before: &OnDeck<'y>) -> OnDeck<'y> {
        let item = before.item;
        OnDeck {
            placed: self.aboard(item, self.statics).placed(),
            left: self.statics.or(&item.left, Length::ZERO, &item.owner, "left"),
            ..before.clone()
        }
    }

    const fn aboard<'r>(&self, item: &'y Item, reads: &'r Reads) -> Aboard<'y, 'r> {
        Aboard { yard: self.yard, trailer: self.trailer, item, heap: self.heap, reads }
    }
}

struct Aboard<'y, 'r> {
    yard: &'y Yard,
    trailer: Option<&'y Trailer>,
    item: &'y Item,
    heap: Heap,
    reads: &'r Reads,
}

impl<'y> Aboard<'y, '_> {
    fn placed(&self) -> Known<Placed> {
        let owner = &self.item.owner;
        let (body, facing) = match &self.item.kind {
            ItemKind::Machine(machine) => {
                let facing = machine.facing.need(owner, "facing")?;
                let facing = match facing {
                    Facing::Forward => physics::Facing::Forward,
                    Facing::Backward => physics::Facing::Backward,
                };
                let turned = self.reads.what_changed().turned.contains(&owner.at);
                let facing = if turned { facing.turned() } else { facing };
                (self.machine_body(machine)?, facing)
            }
            ItemKind::Cargo(cargo) => (cargo_body(self.reads, cargo, owner)?, physics::Facing::Forward),
            ItemKind::Bulk(bulk) => (self.bulk_body(bulk)?, physics::Facing::Forward),
        };
        let gap = match &self.item.gap {
            Gap::Front(gap) => physics::Gap::Front(self.reads.read(gap, owner, "front-gap")),
            Gap::Rear(gap) => physics::Gap::Rear(self.reads.read(gap, owner, "rear-gap")),
            Gap::Fills => physics::Gap::Front(Length::ZERO),
            Gap::Broken => return Err(Missing { broken: true, ..owner.lacks("front-gap") }.into()),
        };
        let left = self.reads.or(&self.item.left, Length::ZERO, owner, "left")?;
        body.place(self.deck()?, gap, facing, left).map_err(|error| Lack::contradiction(owner, error))
    }

    fn deck(&self) -> Known<physics::Deck> {
        let trailer = self.trailer.ok_or_else(|| Missing { broken: true, ..self.item.owner.lacks("trailer") })?;
        let deck = trailer.deck.as_ref().ok_or_else(|| trailer.owner.lacks("deck"))?;
        Ok(physics::Deck {
            from: self.reads.need(&deck.from, &deck.owner, "from")?,
            length: self.reads.need(&deck.length, &deck.owner, "length")?,
        })
    }

    fn machine(&self, aboard: &MachineAboard) -> Known<&'y Machine> {
        known(&aboard.machine, &self.yard.machines, &self.item.owner, "machine")
    }

    fn attachments(&self, aboard: &'y MachineAboard) -> impl Iterator<Item = Known<&'y Attachment>> {
        aboard.fits.iter().map(|fit| known(&fit.attachment, &self.yard.attachments, &fit.owner, "attachment"))
    }

    fn machine_body(&self, aboard: &'y MachineAboard) -> Known<physics::Item> {
        let machine = self.machine(aboard)?;
        let body_outline = outline(self.reads, machine.outline.as_ref(), &machine.owner)?;
        let body = physics::Machine {
            weight: machine_weight(self.reads, machine)?,
            left: self.reads.or(&machine.cg_left, Length::ZERO, &machine.owner, "cg-left")?,
            weighed_with: machine
                .weighed_with
                .iter()
                .map(|named| known(named, &self.yard.attachments, &machine.owner, "weighed-with"))
                .map(|attachment| attachment_body(self.reads, attachment?, machine))
                .collect::<Known<_>>()?,
            outline: body_outline,
        };
        let fitted = self
            .attachments(aboard)
            .map(|one| {
                let attachment = one?;
                let body = attachment_body(self.reads, attachment, machine)?;
                reaches(attachment, &body, body_outline)?;
                Ok(body)
            })
            .collect::<Known<Vec<_>>>()?;
        body.with(&fitted).map_err(|error| Lack::contradiction(&machine.owner, error))
    }

    fn bulk_body(&self, bulk: &Bulk) -> Known<physics::Item> {
        let owner = &self.item.owner;
        let material = known(&bulk.material, &self.yard.materials, owner, "material")?;
        let density = self.density(bulk, material)?;
        let weight = density * self.reads.need(&bulk.volume, owner, "volume")?;
        let length = match self.reads.given(&bulk.length, owner, "length")? {
            Some(length) => length,
            None => self.rest_of_deck()?,
        };
        let body = physics::Cargo { weight, length, cg_from_front: None, cg_left: None };
        body.item().map_err(|error| Lack::contradiction(owner, error))
    }

    /// How heavy loose material is at this end of its range. Where the sheet does not say whether it is dry or wet, the
    /// range is that of both.
    fn density(&self, bulk: &Bulk, material: &Material) -> Known<units::Density> {
        let owner = &self.item.owner;
        let said = match bulk.moisture {
            Slot::Absent if !owner.lost => None,
            ref slot => Some(slot.need(owner, "moisture")?),
        };
        let states = || {
            let meant = |state: &&crate::model::Density| said.is_none() || state.moisture.value() == said;
            material.densities.iter().filter(meant)
        };
        let mut end: Option<(units::Density, &Slot<units::Density>, &Owner, &'static str)> = None;
        for state in states() {
            let (slot, word) = match self.heap {
                Heap::Heaviest => (&state.high, "high"),
                Heap::Lightest => (&state.low, "low"),
            };
            let value = slot.need(&state.owner, word)?;
            let further = match (end, self.heap) {
                (None, _) => true,
                (Some((so_far, ..)), Heap::Heaviest) => value > so_far,
                (Some((so_far, ..)), Heap::Lightest) => value < so_far,
            };
            if further {
                end = Some((value, slot, &state.owner, word));
            }
        }
        let lacking = match said {
            None => "density",
            Some(Moisture::Dry) => "density \"dry\"",
            Some(Moisture::Wet) => "density \"wet\"",
        };
        let (_, slot, state, word) = end.ok_or_else(|| material.owner.lacks(lacking))?;
        self.reads.need(slot, state, word)
    }

    /// What is left of the deck from where loose material begins.
    fn rest_of_deck(&self) -> Known<Length> {
        let deck = self.deck()?.length;
        let owner = &self.item.owner;
        let rest = match &self.item.gap {
            Gap::Front(gap) => deck - self.reads.read(gap, owner, "front-gap"),
            Gap::Rear(gap) => deck - self.reads.read(gap, owner, "rear-gap"),
            Gap::Fills | Gap::Broken => deck,
        };
        if rest <= Length::ZERO {
            return Err(Lack::Contradiction {
                at: owner.at,
                owner: Arc::clone(&owner.path),
                why: "its gap is as long as the deck, so nothing is left for it".into(),
            });
        }
        Ok(rest)
    }

    /// A machine's own measure and the largest that its attachments say: one that says none keeps within the machine.
    fn over_outlines(
        &self,
        aboard: &'y MachineAboard,
        word: &'static str,
        of: fn(&Outline) -> &Slot<Length>,
    ) -> Known<Length> {
        let machine = self.machine(aboard)?;
        let outline = machine.outline.as_ref().ok_or_else(|| machine.owner.lacks("outline"))?;
        let mut most = self.reads.need(of(outline), &outline.owner, word)?;
        for attachment in self.attachments(aboard) {
            if let Some(outline) = &attachment?.outline {
                most = most.max(self.reads.or(of(outline), Length::ZERO, &outline.owner, word)?);
            }
        }
        Ok(most)
    }

    fn width(&self) -> Known<Length> {
        match &self.item.kind {
            ItemKind::Machine(machine) => self.over_outlines(machine, "outline width", |outline| &outline.width),
            ItemKind::Cargo(cargo) => self.reads.need(&cargo.width, &self.item.owner, "width"),
            ItemKind::Bulk(_) => self.deck_width(),
        }
    }

    fn height(&self) -> Known<Length> {
        match &self.item.kind {
            ItemKind::Machine(machine) => self.over_outlines(machine, "outline height", |outline| &outline.height),
            ItemKind::Cargo(cargo) => self.reads.need(&cargo.height, &self.item.owner, "height"),
            ItemKind::Bulk(_) => Err(self.not_known("how high loose material lies is not known")),
        }
    }

    fn not_known(&self, why: &str) -> Lack {
        let owner = &self.item.owner;
        Lack::NotKnown { at: owner.at, owner: Arc::clone(&owner.path), why: why.into() }
    }

    fn footing(&self) -> Known<Length> {
        match &self.item.kind {
            ItemKind::Machine(aboard) => {
                let machine = self.machine(aboard)?;
                if let Some(tracks) = &machine.tracks {
                    return self.reads.need(&tracks.gauge, &tracks.owner, "gauge");
                }
                let axles = [&machine.front, &machine.rear].into_iter().flatten();
                // The widest of all that are given: a broken one may be the widest, so nothing is known without it.
                let own = axles
                    .map(|axle| self.reads.given(&axle.track_width, &axle.owner, "track-width"))
                    .collect::<Known<Vec<_>>>()?
                    .into_iter()
                    .flatten()
                    .reduce(Length::max);
                match own {
                    Some(width) => {
                        let both = self.reads.given(&machine.track_width, &machine.owner, "track-width")?;
                        Ok(both.map_or(width, |both| both.max(width)))
                    }
                    None => self.reads.need(&machine.track_width, &machine.owner, "track-width"),
                }
            }
            ItemKind::Cargo(_) => self.width(),
            ItemKind::Bulk(_) => self.deck_width(),
        }
    }

    /// The arms of the ends of what a machine stands on.
    fn stands(&self) -> Known<(Length, Length)> {
        let ItemKind::Machine(aboard) = &self.item.kind else {
            return Err(Missing { broken: true, ..self.item.owner.lacks("machine") }.into());
        };
        let machine = self.machine(aboard)?;
        let end = match &machine.tracks {
            Some(tracks) => self.reads.need(&tracks.contact_length, &tracks.owner, "contact-length")?,
            None => self.reads.need(&machine.wheelbase, &machine.owner, "wheelbase")?,
        };
        Ok((Length::ZERO, end))
    }

    fn deck_width(&self) -> Known<Length> {
        let trailer = self.trailer.ok_or_else(|| Missing { broken: true, ..self.item.owner.lacks("trailer") })?;
        let deck = trailer.deck.as_ref().ok_or_else(|| trailer.owner.lacks("deck"))?;
        self.reads.need(&deck.width, &deck.owner, "width")
    }
}

/// The definition a name stands for; a name without one has been reported.
pub(super) fn known<'y, T>(named: &Ref, all: &'y [T], owner: &Owner, word: &'static str) -> Known<&'y T> {
    let found = named.target.and_then(|at| all.get(at));
    found.ok_or_else(|| Missing { broken: true, ..owner.lacks(word) }.into())
}

fn machine_weight(reads: &Reads, machine: &Machine) -> Known<MachineWeight> {
    let owner = &machine.owner;
    let tracked = machine.tracks.is_some() || (machine.front.is_none() && machine.rear.is_none());
    if tracked {
        let arm = reads.need(&machine.cg_arm, owner, "cg arm")?;
        return Ok(MachineWeight::Whole { weight: reads.need(&machine.weight, owner, "weight")?, arm });
    }
    let front = machine.front.as_ref().ok_or_else(|| owner.lacks("axle \"front\""))?;
    let rear = machine.rear.as_ref().ok_or_else(|| owner.lacks("axle \"rear\""))?;
    Ok(MachineWeight::Axles {
        front: reads.need(&front.weighed, &front.owner, "weighed")?,
        rear: reads.need(&rear.weighed, &rear.owner, "weighed")?,
        wheelbase: reads.need(&machine.wheelbase, owner, "wheelbase")?,
    })
}

fn outline(reads: &Reads, outline: Option<&Outline>, owner: &Owner) -> Known<physics::Outline> {
    let outline = outline.ok_or_else(|| owner.lacks("outline"))?;
    Ok(physics::Outline {
        front: reads.need(&outline.front, &outline.owner, "front")?,
        rear: reads.need(&outline.rear, &outline.owner, "rear")?,
    })
}

/// An attachment in this machine's frame: its arm for this machine, or else its general one.
fn attachment_body(reads: &Reads, attachment: &Attachment, machine: &Machine) -> Known<physics::Attachment> {
    let owner = &attachment.owner;
    let for_this =
        |arm: &&crate::model::Arm| arm.machine.as_ref().is_some_and(|named| named.name.value == machine.id.value);
    let arm = attachment.arms.iter().find(for_this);
    let arm = arm.or_else(|| attachment.arms.iter().find(|arm| arm.machine.is_none()));
    let arm = arm.ok_or_else(|| owner.lacks("arm"))?;
    let mut extent = physics::Extent::default();
    if let Some(outline) = &attachment.outline {
        extent = physics::Extent {
            front: reads.given(&outline.front, &outline.owner, "front")?,
            rear: reads.given(&outline.rear, &outline.owner, "rear")?,
        };
    }
    Ok(physics::Attachment {
        weight: reads.need(&attachment.weight, owner, "weight")?,
        arm: reads.need(&arm.arm, owner, "arm")?,
        left: Length::ZERO,
        extent,
    })
}

/// An attachment whose centre of gravity lies ahead of its machine or behind it reaches out there: how far must be said.
fn reaches(attachment: &Attachment, body: &physics::Attachment, machine: physics::Outline) -> Known<()> {
    let ahead = (body.arm > machine.front && body.extent.front.is_none()).then_some("outline front");
    let behind = (body.arm < machine.rear && body.extent.rear.is_none()).then_some("outline rear");
    ahead.or(behind).map_or(Ok(()), |word| Err(attachment.owner.lacks(word).into()))
}

fn cargo_body(reads: &Reads, cargo: &Cargo, owner: &Owner) -> Known<physics::Item> {
    let body = physics::Cargo {
        weight: reads.need(&cargo.weight, owner, "weight")?,
        length: reads.need(&cargo.length, owner, "length")?,
        cg_from_front: reads.given(&cargo.cg_from_front, owner, "cg-from-front")?,
        cg_left: reads.given(&cargo.cg_left, owner, "cg-left")?,
    };
    body.item().map_err(|error| Lack::contradiction(owner, error))
}
