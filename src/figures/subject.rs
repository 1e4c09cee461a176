//! What a rule can be about, and which subjects of a kind a load has.

use super::Load;
use crate::model::{End, ItemKind};

/// What a rule is asked of, as `each` names it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Each {
    /// The sheet.
    Sheet,
    /// The load: a leg, or a sheet without legs.
    Load,
    /// The truck.
    Truck,
    /// Each axle of the truck.
    TruckAxle,
    /// The hitch.
    Hitch,
    /// The trailer.
    Trailer,
    /// Each axle of the trailer.
    TrailerAxle,
    /// The heavier side of each axle of truck and trailer.
    Wheel,
    /// Each group of axles that follow one another, of truck and trailer; a single axle is one too.
    AxleGroup,
    /// Each item on the deck.
    Item,
    /// Each machine on the deck.
    Machine,
    /// Each attachment on a machine on the deck.
    Attachment,
    /// Each tie-down entry.
    Tie,
    /// Each anchor of the trailer.
    Anchor,
    /// Each heap of loose material.
    Bulk,
    /// Each reading.
    Reading,
    /// Each waiver.
    Waiver,
}

impl Each {
    /// All of them, in the order in which help lists them.
    pub const ALL: [Self; 17] = [
        Self::Sheet,
        Self::Load,
        Self::Truck,
        Self::TruckAxle,
        Self::Hitch,
        Self::Trailer,
        Self::TrailerAxle,
        Self::Wheel,
        Self::AxleGroup,
        Self::Item,
        Self::Machine,
        Self::Attachment,
        Self::Tie,
        Self::Anchor,
        Self::Bulk,
        Self::Reading,
        Self::Waiver,
    ];

    /// As a rule file writes it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Sheet => "sheet",
            Self::Load => "load",
            Self::Truck => "truck",
            Self::TruckAxle => "truck-axle",
            Self::Hitch => "hitch",
            Self::Trailer => "trailer",
            Self::TrailerAxle => "trailer-axle",
            Self::Wheel => "wheel",
            Self::AxleGroup => "axle-group",
            Self::Item => "item",
            Self::Machine => "machine",
            Self::Attachment => "attachment",
            Self::Tie => "tie",
            Self::Anchor => "anchor",
            Self::Bulk => "bulk",
            Self::Reading => "reading",
            Self::Waiver => "waiver",
        }
    }

    /// The subject with this word.
    #[must_use]
    pub fn of(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|each| each.word() == word)
    }

    /// The first part of names that are only there for this subject: `axle` of `axle.load`. What is there for every
    /// load has none.
    #[must_use]
    pub const fn binds(self) -> Option<&'static str> {
        match self {
            Self::Sheet | Self::Load | Self::Truck | Self::Hitch | Self::Trailer => None,
            Self::TruckAxle | Self::TrailerAxle => Some("axle"),
            Self::AxleGroup => Some("axles"),
            other => Some(other.word()),
        }
    }

    /// The subjects of this kind in a load, in the order of the sheet.
    #[must_use]
    pub fn subjects(self, load: &Load<'_>) -> Vec<Subject> {
        let items = |wanted: fn(&ItemKind) -> bool| -> Vec<usize> {
            load.items.iter().enumerate().filter(|(_, one)| wanted(&one.item.kind)).map(|(at, _)| at).collect()
        };
        let truck_axles =
            || [End::Front, End::Rear].into_iter().filter(|end| load.truck_axle(*end).is_ok()).map(AxleRef::Truck);
        let trailer_axles = || (0..load.trailer_axles().len()).map(AxleRef::Trailer);
        match self {
            Self::Sheet | Self::Load => vec![Subject::Whole],
            Self::Truck => load.truck.iter().map(|_| Subject::Whole).collect(),
            Self::Hitch => load.hitch().iter().map(|_| Subject::Whole).collect(),
            Self::Trailer => load.trailer.iter().map(|_| Subject::Whole).collect(),
            Self::TruckAxle => truck_axles().map(Subject::Axle).collect(),
            Self::TrailerAxle => trailer_axles().map(Subject::Axle).collect(),
            Self::Wheel => truck_axles().chain(trailer_axles()).map(Subject::Axle).collect(),
            Self::AxleGroup => {
                let all: Vec<AxleRef> = truck_axles().chain(trailer_axles()).collect();
                let from = |first: usize| all.iter().skip(first).copied();
                let groups = |(at, first): (usize, &AxleRef)| {
                    let first = *first;
                    from(at).map(move |last| Subject::Axles { first, last }).collect::<Vec<_>>()
                };
                all.iter().enumerate().flat_map(groups).collect()
            }
            Self::Item => items(|_| true).into_iter().map(Subject::Item).collect(),
            Self::Machine => {
                items(|kind| matches!(kind, ItemKind::Machine(_))).into_iter().map(Subject::Item).collect()
            }
            Self::Bulk => items(|kind| matches!(kind, ItemKind::Bulk(_))).into_iter().map(Subject::Item).collect(),
            Self::Attachment => load
                .items
                .iter()
                .enumerate()
                .flat_map(|(item, one)| (0..one.fits().len()).map(move |fit| Subject::Fit { item, fit }))
                .collect(),
            Self::Tie => load
                .items
                .iter()
                .enumerate()
                .flat_map(|(item, one)| (0..one.ties().count()).map(move |tie| Subject::Tie { item, tie }))
                .collect(),
            Self::Anchor => {
                let anchors = load.trailer.as_ref().map_or(0, |trailer| trailer.anchors.len());
                (0..anchors).map(Subject::Anchor).collect()
            }
            Self::Reading => (0..load.readings.len()).map(Subject::Reading).collect(),
            Self::Waiver => (0..load.waivers.len()).map(Subject::Waiver).collect(),
        }
    }
}

/// An axle of truck or trailer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum AxleRef {
    /// Of the truck.
    Truck(End),
    /// Of the trailer, from the front, counted from 0.
    Trailer(usize),
}

impl AxleRef {
    /// Its number among all axles of truck and trailer, the truck's front axle being 1.
    #[must_use]
    pub const fn number(self) -> usize {
        match self {
            Self::Truck(End::Front) => 1,
            Self::Truck(End::Rear) => 2,
            Self::Trailer(at) => at + 3,
        }
    }
}

/// One subject in a load.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Subject {
    /// The load as a whole, its truck, hitch or trailer.
    Whole,
    /// An axle.
    Axle(AxleRef),
    /// Axles that follow one another.
    Axles {
        /// The foremost.
        first: AxleRef,
        /// The rearmost; the same for a single axle.
        last: AxleRef,
    },
    /// An item, by its place in [`Load::items`].
    Item(usize),
    /// An attachment on an item.
    Fit {
        /// The item.
        item: usize,
        /// The attachment's place in the item.
        fit: usize,
    },
    /// A tie-down entry on an item or on one of its attachments.
    Tie {
        /// The item.
        item: usize,
        /// Its place among the item's ties, those of attachments last.
        tie: usize,
    },
    /// An anchor of the trailer.
    Anchor(usize),
    /// A reading.
    Reading(usize),
    /// A waiver.
    Waiver(usize),
}

impl Subject {
    /// The first and the last axle of a group.
    #[must_use]
    pub const fn axles(self) -> Option<(AxleRef, AxleRef)> {
        match self {
            Self::Axles { first, last } => Some((first, last)),
            _ => None,
        }
    }

    /// How results name it before the figure: `truck.axle[front]`, `item[trencher-30]`; nothing for the load as a
    /// whole.
    #[must_use]
    pub fn path(self, load: &Load<'_>) -> Option<String> {
        let item = |at: usize| load.items.get(at).map_or("?", |one| &*one.label);
        Some(match self {
            Self::Whole => return None,
            Self::Axle(AxleRef::Truck(End::Front)) => "truck.axle[front]".to_owned(),
            Self::Axle(AxleRef::Truck(End::Rear)) => "truck.axle[rear]".to_owned(),
            Self::Axle(AxleRef::Trailer(at)) => format!("trailer.axle[{}]", at + 1),
            Self::Axles { first, last } => format!("axles[{}-{}]", first.number(), last.number()),
            Self::Item(at) => format!("item[{}]", item(at)),
            Self::Fit { item: at, fit } => {
                let name = load.items.get(at).and_then(|one| one.fits().get(fit));
                format!("item[{}].attachment[{}]", item(at), name.map_or("?", |fit| &*fit.attachment.name.value))
            }
            Self::Tie { item: at, tie } => format!("item[{}].tie[{}]", item(at), tie + 1),
            Self::Anchor(at) => {
                let anchor = load.trailer.as_ref().ok().and_then(|trailer| trailer.anchors.get(at));
                format!("anchor[{}]", anchor.map_or("?", |anchor| &*anchor.id.value))
            }
            Self::Reading(at) => format!("reading[{}]", load.readings.get(at).map_or("?", |one| &*one.name.value)),
            Self::Waiver(at) => format!("waiver[{}]", load.waivers.get(at).map_or("?", |one| &*one.rule.value)),
        })
    }

    /// How a message names it.
    #[must_use]
    pub fn spoken(self, load: &Load<'_>) -> String {
        let id = |name: Result<&str, ()>| name.unwrap_or("?").to_owned();
        let truck = || id(load.truck.as_ref().map(|truck| &*truck.id.value).map_err(|_| ()));
        let trailer = || id(load.trailer.as_ref().map(|trailer| &*trailer.id.value).map_err(|_| ()));
        match self {
            Self::Whole => "the load".to_owned(),
            Self::Axle(AxleRef::Truck(End::Front)) => format!("{}'s front axle", truck()),
            Self::Axle(AxleRef::Truck(End::Rear)) => format!("{}'s rear axle", truck()),
            Self::Axle(AxleRef::Trailer(at)) if load.trailer_axles().len() > 1 => {
                format!("{}'s axle {}", trailer(), at + 1)
            }
            Self::Axle(AxleRef::Trailer(_)) => format!("{}'s axle", trailer()),
            Self::Axles { first, last } if first == last => Self::Axle(first).spoken(load),
            Self::Axles { first, last } => {
                format!("the axles from {} to {}", Self::Axle(first).spoken(load), Self::Axle(last).spoken(load))
            }
            Self::Item(at) => load.items.get(at).map_or_else(|| "?".to_owned(), |one| one.label.to_string()),
            Self::Fit { item, fit } => {
                let fit = load.items.get(item).and_then(|one| one.fits().get(fit));
                fit.map_or_else(|| "?".to_owned(), |fit| fit.attachment.name.value.to_string())
            }
            Self::Tie { item, tie } => {
                let tie = load.items.get(item).and_then(|one| one.ties().nth(tie));
                tie.map_or_else(|| "?".to_owned(), |tie| tie.tiedown.name.value.to_string())
            }
            Self::Anchor(at) => {
                let anchor = load.trailer.as_ref().ok().and_then(|trailer| trailer.anchors.get(at));
                anchor.map_or_else(|| "?".to_owned(), |anchor| anchor.id.value.to_string())
            }
            Self::Reading(at) => load.readings.get(at).map_or_else(|| "?".to_owned(), |one| one.name.value.to_string()),
            Self::Waiver(at) => load.waivers.get(at).map_or_else(|| "?".to_owned(), |one| one.rule.value.to_string()),
        }
    }
}
