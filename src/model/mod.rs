//! What the sheets of a yard say, with every leaf's place in its file. No KDL here: `lower` fills it.
//!
//! Nothing in the model is a guess. A leaf that the sheet does not give is [`Slot::Absent`]; one that could not be read
//! (and was reported where it stands) is [`Slot::Broken`]. Neither is ever taken as zero.

mod choice;
mod entry;
mod gear;
mod machine;
mod sheet;
mod trailer;
mod truck;
mod yard;

pub use choice::{
    Brakes, CargoBase, Choice, Contact, CouplerKind, DeckCondition, End, Facing, FrictionStatus, HitchKind, Moisture,
    Origin, Stands, Surface, Suspension, TieKind, TireKind, Touching,
};
pub use entry::{Entry, Missing, Owner, Ref, Slot};
pub use gear::{Density, Friction, Material, Tiedown};
pub use machine::{Arm, Attachment, LashPoint, Machine, MachineAxle, Outline, Tracks, Underside, UndersidePart};
pub use sheet::{
    Bulk, Cargo, Carrier, Conditions, Fit, Gap, Item, ItemKind, Leg, LoadRef, Loading, MachineAboard, Part,
    ReadingEntry, Sheet, StandsEntry, Tie, TruckCargo, Waiver,
};
pub use trailer::{Anchor, Chains, Coupler, Deck, Ramp, Trailer, TrailerAxle, Walls};
pub use truck::{Ball, Hitch, LoadIndex, Tires, Truck, TruckAxle};
pub use yard::{RuleSetting, SealDuty, Settings, Yard};
