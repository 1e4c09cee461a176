//! Where the items of a load may stand, and the changes to a sheet that cure what a check finds.
//!
//! Pure: loads, rules and texts in, ranges and edits out. [`places`] finds, for each item, where every limit is kept.

mod aboard;
mod bench;
mod cure;
mod entry;
mod example;
mod fixes;
mod joint;
mod limit;
mod movable;
mod nowhere;
mod picture;
mod place;
mod plan;
mod prove;
mod reported;
mod resolve;
mod scan;
mod several;
mod ties;
mod together;
mod too_much;
mod trim;
mod ways;

pub use bench::Bench;
pub use example::{Amiss, Trial, Tried};
pub use fixes::fix;
pub use joint::{ItemMove, Joint};
pub use picture::{Picture, picture};
pub use place::{Collision, End, FacingPlaces, ItemPlaces, LoadPlaces, Range, places, places_together};
pub use reported::{LoadReport, SheetReport};
pub use trim::{Cured, Moved, Trim, diff, made, trims};
