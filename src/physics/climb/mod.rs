//! A machine driven up onto a trailer's deck: what is under it, what it does to the trailer, how steep it stands.
//!
//! Everything happens in the plane of the way, slowly, on wheels and tracks that do not yield. The search goes in plain
//! numbers; what is told is computed once more where the search ended, with slopes along the entries.

mod bar;
mod body;
mod climber;
mod course;
mod crawl;
mod crossing;
mod extreme;
mod motion;
mod number;
mod path;
mod profile;
mod standing;
mod sweep;
mod touch;
mod travel;
mod way;

pub use body::{Low, Underside};
pub use climber::{Bearer, Clearance, Climb, Climber, Found, Gear, Spot};
pub use course::Course;
pub use standing::{At, Corners, Standing};
pub use way::{ClimbError, Way};
