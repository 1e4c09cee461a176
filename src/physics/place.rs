//! An item on the deck: from one tape measurement to stations.

use crate::units::Length;

use super::compose::Item;
use super::error::{StaticsError, finite};
use super::trailer::PointLoad;

/// Which way an item stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Facing {
    /// Nose toward the truck.
    Forward,
    /// Nose away from the truck.
    Backward,
}

impl Facing {
    /// The other way.
    #[must_use]
    pub const fn turned(self) -> Self {
        match self {
            Self::Forward => Self::Backward,
            Self::Backward => Self::Forward,
        }
    }
}

/// The tape measurement that places an item; below zero where it overhangs the deck.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Gap {
    /// From the deck's front edge back to the item's foremost point.
    Front(Length),
    /// From the item's rearmost point back to the deck's rear edge.
    Rear(Length),
}

/// A deck along the trailer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Deck {
    /// Station of its front edge.
    pub from: Length,
    /// Its length.
    pub length: Length,
}

impl Deck {
    /// Station of its rear edge.
    #[must_use]
    pub fn rear(&self) -> Length {
        self.from + self.length
    }
}

/// An item in its place on the trailer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// The item in its own frame.
    pub item: Item,
    /// Which way it stands.
    pub facing: Facing,
    /// Station of its datum.
    pub datum: Length,
    /// How far its centre line stands left of the trailer's.
    pub left: Length,
}

impl Item {
    /// The item on this deck by one gap, its centre line this far left of the trailer's.
    ///
    /// # Errors
    /// A non-finite entry or result. An overhang is no error.
    pub fn place(&self, deck: Deck, gap: Gap, facing: Facing, left: Length) -> Result<Placed, StaticsError> {
        let (ahead, behind) = match facing {
            Facing::Forward => (self.outline.front, -self.outline.rear),
            Facing::Backward => (-self.outline.rear, self.outline.front),
        };
        let datum = match gap {
            Gap::Front(gap) => deck.from + gap + ahead,
            Gap::Rear(gap) => deck.rear() - gap - behind,
        };
        let placed = Placed { item: *self, facing, datum, left };
        for station in [placed.front(), placed.rear(), placed.load().station] {
            finite(station, "the item's place")?;
        }
        finite(placed.load().left, "the item's distance from the centre line")?;
        Ok(placed)
    }
}

impl Placed {
    /// Station of the item's point at this arm: its datum's station minus the arm when it faces forward, plus the arm
    /// when it faces backward.
    #[must_use]
    pub fn station(&self, arm: Length) -> Length {
        match self.facing {
            Facing::Forward => self.datum - arm,
            Facing::Backward => self.datum + arm,
        }
    }

    /// How far left of the trailer's centre line the item's point at this distance left of its own stands.
    #[must_use]
    pub fn across(&self, left: Length) -> Length {
        match self.facing {
            Facing::Forward => self.left + left,
            Facing::Backward => self.left - left,
        }
    }

    /// Station of its foremost point.
    #[must_use]
    pub fn front(&self) -> Length {
        self.station(self.item.outline.front).min(self.station(self.item.outline.rear))
    }

    /// Station of its rearmost point.
    #[must_use]
    pub fn rear(&self) -> Length {
        self.station(self.item.outline.front).max(self.station(self.item.outline.rear))
    }

    /// What is left between the deck's front edge and the item; below zero it overhangs.
    #[must_use]
    pub fn front_gap(&self, deck: Deck) -> Length {
        self.front() - deck.from
    }

    /// What is left between the item and the deck's rear edge; below zero it overhangs.
    #[must_use]
    pub fn rear_gap(&self, deck: Deck) -> Length {
        deck.rear() - self.rear()
    }

    /// Its weight at its centre of gravity, as the trailer sees it.
    #[must_use]
    pub fn load(&self) -> PointLoad {
        PointLoad { weight: self.item.weight, station: self.station(self.item.arm), left: self.across(self.item.left) }
    }
}
