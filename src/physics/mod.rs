//! The statics of a loaded trailer behind its truck: numbers in, numbers out.
//!
//! Frames: stations run rearward from the coupling (ball, kingpin); a machine's arm runs forward from its datum; `left`
//! is positive to the left of whoever drives it. Weights are masses: a load of 1 kg presses with the weight of 1 kg.
//! Everything stands on level ground, and pitch is small. Nothing here knows a sheet, a rule or a limit; where a result
//! rests on an assumption, its type says so.

mod balance;
mod bridge;
mod climb;
mod compose;
mod coupling;
mod distributing;
pub mod en12195;
mod error;
mod grip;
mod heap;
mod hitch;
mod holding;
mod load_index;
mod place;
mod readings;
mod sides;
mod speed_symbol;
mod springs;
mod tires;
mod trailer;
mod truck;

pub use bridge::{AxleGroup, RoadAxle, axle_groups, bridge_limit, bridge_limit_of};
pub use climb::{
    At as ClimbAt, Bearer, Clearance, Climb, ClimbError, Climber, Corners, Course, Found, Gear, Low, Spot, Standing,
    Underside, Way,
};
pub use compose::{Attachment, Cargo, Extent, Item, Machine, MachineWeight, Outline};
pub use coupling::{RearSuspension, d_c_value, d_value, d_value_semi, heaviest_for_d, v_value};
pub use distributing::{Distribution, RigLoads, rig_loads};
pub use error::StaticsError;
pub use grip::{Acting, Stance, grip_needed, grip_on};
pub use heap::{Bed, Heap, Lying, cone};
pub use hitch::{HitchChain, HitchPart, Weakest};
pub use holding::{Block, Footing, Held, HoldError, Holding, Press, Pull, Spot as HoldSpot, Toward};
pub use load_index::{LoadIndexes, load_index};
pub use place::{Deck, Facing, Gap, Placed};
pub use readings::{Explanation, Unexplained, explain, within_ranges};
pub use sides::SideLoads;
pub use speed_symbol::{SPEED_SYMBOLS, SpeedSymbol, speed_symbol};
pub use tires::{AtPressure, CapacityUnknown, PASSENGER_TIRE_DIVISOR, TireCapacity, TireKind, TireRating, WheelTires};
pub use trailer::{EmptyTrailer, PointLoad, Sharing, Suspension, Trailer, TrailerAxle, TrailerLoads};
pub use truck::{Truck, TruckAxle, TruckLoad, TruckLoads};
