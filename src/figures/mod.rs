//! The registry of named figures: what can be measured on a load, each figure with what it measures, its doc line, its
//! source and a pure function on the model.

mod climbing;
mod deck;
mod ends;
mod figure;
mod gauged;
mod held;
mod kept;
mod lack;
mod lashed;
mod load;
mod merged;
mod of_axle;
mod of_bulk;
mod of_chain;
mod of_coupling;
mod of_grip;
mod of_group;
mod of_item;
mod of_lashings;
mod of_load;
mod of_loading;
mod of_part;
mod of_plan;
mod of_road;
mod of_tie;
mod of_ties;
mod places;
mod reads;
mod registry;
mod rig;
mod spread;
mod subject;
mod suppose;
mod touching;

pub use deck::Corner;
pub use figure::{Figure, Measures, Reading};
pub use gauged::{Gauged, assumed_middle};
pub use lack::{Known, Lack};
pub use load::{Heap, Load, OnDeck};
pub use reads::{Changed, Rest};
pub use registry::{figure, figures, is_place, marks, place_names};
pub use rig::{RigState, TrailerState};
pub use spread::{Part, Spreads, root_sum_of_squares, statics_spreads};
pub use subject::{AxleRef, Each, Subject};
pub use suppose::Supposed;
