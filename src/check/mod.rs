//! A yard and its rules to findings: pure, total, without any input or output.
//!
//! Each load is judged on its own ([`judge`]), so that loads can be judged side by side; [`gather`] then puts the
//! results of a yard together: what several loads show is said once, and what could not be judged is asked for once.

mod disagree;
mod explain;
mod gather;
mod judge;
mod known;
mod readings;
mod rests;
mod say;
mod thin;
mod waive;
mod walk;
mod weigh;

pub use gather::{Gathered, foreign, gather, in_order};
pub use judge::{Judged, Options, judge, value};
pub use rests::{Home, Homes, rests_on};
pub use waive::{Did, WaiverUse, unused_waivers};
pub use walk::walk;
