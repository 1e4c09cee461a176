//! Load sheets: one truck, one trailer, and what is aboard, leg by leg.

use std::sync::Arc;

use super::{CargoBase, DeckCondition, End, Entry, Facing, Moisture, Owner, Ref, Slot, Stands};
use crate::text::Span;
use crate::units::{Angle, Length, Mass, Share, Speed, System, Volume};

/// A sheet.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// Its name.
    pub name: Entry<Arc<str>>,
    /// Its node.
    pub owner: Owner,
    /// All of it, from its word to its closing brace.
    pub span: Span,
    /// The system in which most of its quantities are written.
    pub mostly: System,
    /// The truck; none when it is missing.
    pub truck: Option<Ref>,
    /// The trailer; none when it is missing.
    pub trailer: Option<Ref>,
    /// Who carries it.
    pub carrier: Option<Carrier>,
    /// What holds for every leg.
    pub base: Part,
    /// The legs; a sheet without legs is one load.
    pub legs: Vec<Leg>,
}

/// A leg.
#[derive(Clone, Debug)]
pub struct Leg {
    /// Its name.
    pub name: Entry<Arc<str>>,
    /// Its node.
    pub owner: Owner,
    /// All of it, from its word to its closing brace.
    pub span: Span,
    /// What holds on this leg.
    pub part: Part,
}

/// Which load: a sheet, and a leg where the sheet has legs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct LoadRef {
    /// The sheet's place in [`Yard::sheets`](super::Yard::sheets).
    pub sheet: usize,
    /// The leg's place in the sheet.
    pub leg: Option<usize>,
}

/// What a sheet or a leg says of the load.
#[derive(Clone, Debug, Default)]
pub struct Part {
    /// Road and deck.
    pub conditions: Conditions,
    /// How it is loaded.
    pub loading: Loading,
    /// Loads in the truck.
    pub aboard_truck: Vec<TruckCargo>,
    /// Items on the deck, as written.
    pub items: Vec<Item>,
    /// What gauges showed.
    pub readings: Vec<ReadingEntry>,
    /// Accepted findings.
    pub waivers: Vec<Waiver>,
}

/// Facts about the carrier.
#[derive(Clone, Debug)]
pub struct Carrier {
    /// Its node.
    pub owner: Owner,
    /// Across state lines.
    pub interstate: Slot<bool>,
    /// For business.
    pub business: Slot<bool>,
    /// Whether the truck shows the carrier's number.
    pub number: Slot<bool>,
    /// Whether the driver holds the commercial licence that the combination asks for.
    pub cdl: Slot<bool>,
    /// Whether a stop for checking the load again is planned.
    pub recheck: Slot<bool>,
}

impl Carrier {
    /// The same with what it does not say taken from another.
    #[must_use]
    pub fn or_else(&self, other: &Self) -> Self {
        Self {
            owner: self.owner.clone(),
            interstate: self.interstate.or_else(&other.interstate),
            business: self.business.or_else(&other.business),
            number: self.number.or_else(&other.number),
            cdl: self.cdl.or_else(&other.cdl),
            recheck: self.recheck.or_else(&other.recheck),
        }
    }
}

/// Road and deck.
#[derive(Clone, Debug, Default)]
pub struct Conditions {
    /// The node, when there is one.
    pub owner: Option<Owner>,
    /// State of the deck.
    pub deck: Slot<DeckCondition>,
    /// Highest speed.
    pub speed: Slot<Speed>,
    /// Steepest grade.
    pub grade: Slot<Share>,
}

/// How the load is put aboard.
#[derive(Clone, Debug, Default)]
pub struct Loading {
    /// The node, when there is one.
    pub owner: Option<Owner>,
    /// Wheels chocked.
    pub chocks: Slot<bool>,
    /// Stands under the trailer.
    pub stands: Vec<StandsEntry>,
    /// Tilt of a tipping bed or tilting deck.
    pub bed_tilt: Slot<Angle>,
    /// How much higher the ramp's foot stands than the ground under the trailer's wheels.
    pub foot_rise: Slot<Length>,
    /// Slope of the ground, positive when the truck points downhill.
    pub slope: Slot<Share>,
    /// The truck's parking brake.
    pub parking_brake: Slot<bool>,
}

/// Stands under the trailer while loading.
#[derive(Clone, Debug)]
pub struct StandsEntry {
    /// Their node.
    pub owner: Owner,
    /// At which end.
    pub end: Slot<End>,
    /// Rating of each.
    pub rating: Slot<Mass>,
    /// How many.
    pub count: Slot<u32>,
    /// Station behind the ball.
    pub at: Slot<Length>,
}

/// A load in the truck.
#[derive(Clone, Debug)]
pub struct TruckCargo {
    /// What it is.
    pub name: Entry<Arc<str>>,
    /// Its node.
    pub owner: Owner,
    /// Weight.
    pub weight: Slot<Mass>,
    /// Ahead of the rear axle.
    pub ahead_of_rear_axle: Slot<Length>,
}

/// An item on the deck.
#[derive(Clone, Debug)]
pub struct Item {
    /// As the sheet calls it: a machine's or material's id, or the cargo's name.
    pub id: Entry<Arc<str>>,
    /// Its node.
    pub owner: Owner,
    /// What it is.
    pub kind: ItemKind,
    /// Where it stands along the deck.
    pub gap: Gap,
    /// Its centre line left of the deck's.
    pub left: Slot<Length>,
    /// The item it stands on, by the name it has in this load.
    pub on: Option<Entry<Arc<str>>>,
    /// Tie-downs on it.
    pub ties: Vec<Tie>,
    /// The ends at which it bears against a wall or is chocked.
    pub blocked: Vec<Entry<End>>,
    /// Its own parking brake.
    pub parking_brake: Slot<bool>,
}

/// What an item is.
#[derive(Clone, Debug)]
pub enum ItemKind {
    /// A machine.
    Machine(MachineAboard),
    /// A piece of cargo.
    Cargo(Box<Cargo>),
    /// Loose material.
    Bulk(Box<Bulk>),
}

/// Where an item stands along the deck, by the one tape measurement the sheet gives.
#[derive(Clone, Debug, PartialEq)]
pub enum Gap {
    /// From the deck's front edge to the item's foremost point.
    Front(Entry<Length>),
    /// From the item's rearmost point to the deck's rear edge.
    Rear(Entry<Length>),
    /// Fills the deck (bulk).
    Fills,
    /// Not known: reported where it stands.
    Broken,
}

/// A machine on the deck.
#[derive(Clone, Debug)]
pub struct MachineAboard {
    /// Which machine.
    pub machine: Ref,
    /// Which way round.
    pub facing: Slot<Facing>,
    /// Attachments on it.
    pub fits: Vec<Fit>,
}

/// An attachment on a machine.
#[derive(Clone, Debug)]
pub struct Fit {
    /// Which attachment.
    pub attachment: Ref,
    /// Its node.
    pub owner: Owner,
    /// Tie-downs that secure it.
    pub ties: Vec<Tie>,
}

/// A piece of cargo.
#[derive(Clone, Debug)]
pub struct Cargo {
    /// Weight.
    pub weight: Slot<Mass>,
    /// Length along the deck.
    pub length: Slot<Length>,
    /// Width.
    pub width: Slot<Length>,
    /// Height.
    pub height: Slot<Length>,
    /// Centre of gravity behind its foremost point; its middle otherwise.
    pub cg_from_front: Slot<Length>,
    /// Centre of gravity left of its centre line.
    pub cg_left: Slot<Length>,
    /// Height of its centre of gravity; half its height otherwise.
    pub cg_height: Slot<Length>,
    /// What it stands on.
    pub base: Slot<CargoBase>,
}

/// Loose material on the deck.
#[derive(Clone, Debug)]
pub struct Bulk {
    /// Which material.
    pub material: Ref,
    /// How much.
    pub volume: Slot<Volume>,
    /// Whether it is covered.
    pub covered: Slot<bool>,
    /// Whether it is heaped.
    pub heaped: Slot<bool>,
    /// Dry or wet.
    pub moisture: Slot<Moisture>,
    /// Length along the deck when it does not fill it.
    pub length: Slot<Length>,
}

/// A tie-down, or several alike.
#[derive(Clone, Debug)]
pub struct Tie {
    /// Which tie-down.
    pub tiedown: Ref,
    /// Its node.
    pub owner: Owner,
    /// From which anchor.
    pub from: Slot<Arc<str>>,
    /// To which lash point, or anchor when it goes over the top.
    pub to: Slot<Arc<str>>,
    /// Whether it goes over the top.
    pub over: Slot<bool>,
    /// How many.
    pub count: Slot<u32>,
}

/// What a gauge or scale showed.
#[derive(Clone, Debug)]
pub struct ReadingEntry {
    /// Which gauge.
    pub name: Entry<Arc<str>>,
    /// Its node.
    pub owner: Owner,
    /// Tongue weight.
    pub tongue: Slot<Mass>,
    /// Weight on the trailer's axles.
    pub axles: Slot<Mass>,
    /// The trailer's gross weight.
    pub gross: Slot<Mass>,
    /// Whether the rear stands bore.
    pub stands: Slot<Stands>,
}

/// An accepted finding.
#[derive(Clone, Debug)]
pub struct Waiver {
    /// The rule.
    pub rule: Entry<Arc<str>>,
    /// Its node.
    pub owner: Owner,
    /// Why.
    pub reason: Slot<Arc<str>>,
    /// By whom.
    pub by: Slot<Arc<str>>,
    /// Through which day, as `YYYY-MM-DD`, checked to be a day of the calendar.
    pub until: Slot<Arc<str>>,
    /// Only for this item.
    pub item: Slot<Arc<str>>,
}
