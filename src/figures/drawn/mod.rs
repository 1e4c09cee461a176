//! What a picture of a load shows, as plain data: outlines, axles, anchors, tie-downs, the way up. All lengths are in m,
//! weights in kg; stations run rearward from the ball, heights are above level ground, left is positive.
//!
//! Nothing is guessed in silence. What the sheets do not give is taken from `assumed`, marked as not given where it is
//! drawn, and named in the scene's notes.

mod climb;
mod items;
mod rig;
mod scene;
mod shape;
mod ties;

pub use scene::{
    Anchored, AxleSeen, Centre, ClimbSeen, ClimbStanding, Held, ItemSeen, Notes, Patch, Round, Scene, Shape, Strip,
    Tieing, TrailerSeen, TruckSeen,
};

/// Sizes that stand in for what no sheet gives or what this one does not, in m. They are drawn dashed.
mod assumed {
    pub(super) const DECK_HEIGHT: f64 = 0.7;
    pub(super) const DECK_WIDTH: f64 = 2.0;
    pub(super) const HITCH_HEIGHT: f64 = 0.5;
    pub(super) const MACHINE_HEIGHT: f64 = 1.8;
    pub(super) const ITEM_HEIGHT: f64 = 0.8;
    pub(super) const ITEM_WIDTH: f64 = 1.2;
    pub(super) const UNDERSIDE: f64 = 0.25;
    pub(super) const WHEEL_RADIUS: f64 = 0.35;
}
