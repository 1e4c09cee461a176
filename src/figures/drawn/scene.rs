//! The data of a picture.

use std::sync::Arc;

/// A load as it is drawn from the side and from above.
#[derive(Clone, Debug)]
pub struct Scene {
    /// The truck.
    pub truck: TruckSeen,
    /// The trailer.
    pub trailer: TrailerSeen,
    /// All axles, front to rear.
    pub axles: Vec<AxleSeen>,
    /// What stands on the deck, in the order of the sheet.
    pub items: Vec<ItemSeen>,
    /// The centre of gravity of all that stands on the deck; none where nothing does.
    pub load_centre: Option<Centre>,
    /// The centre of gravity of trailer and load together: how high that of a trailer lies no sheet gives.
    pub whole_centre: Centre,
    /// Machines on their way up.
    pub climbs: Vec<ClimbSeen>,
    /// What is to be said of the side view.
    pub side_notes: Notes,
    /// What is to be said of the top view.
    pub top_notes: Notes,
}

/// What a drawing lacks, each as a message names it.
#[derive(Clone, Debug, Default)]
pub struct Notes {
    /// What is drawn without its size being given.
    pub assumed: Vec<String>,
    /// Why something is not drawn.
    pub undrawn: Vec<String>,
}

/// A truck from the side: its body is given by no sheet.
#[derive(Clone, Debug)]
pub struct TruckSeen {
    /// Its id.
    pub name: Arc<str>,
    /// Station of its front axle.
    pub front: f64,
    /// Station of its rear axle.
    pub rear: f64,
    /// What is in it: name and station.
    pub aboard: Vec<(Arc<str>, f64)>,
}

/// A trailer.
#[derive(Clone, Debug)]
pub struct TrailerSeen {
    /// Its id.
    pub name: Arc<str>,
    /// Height of the ball, and whether that is given.
    pub ball: (f64, bool),
    /// Whether the drawbar goes up over the truck's bed.
    pub gooseneck: bool,
    /// Stations of the deck's front and rear edge.
    pub deck: Strip,
    /// The deck's top from front to rear: station and height.
    pub top: Vec<(f64, f64)>,
    /// Whether the deck's height is given.
    pub height_given: bool,
    /// The deck's width, and whether that is given.
    pub width: (f64, bool),
    /// Height of the walls above the deck, where there are any and it is given.
    pub walls: Option<f64>,
    /// Its anchors.
    pub anchors: Vec<Anchored>,
}

/// From one place to another, the first the smaller.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strip {
    /// Where it begins.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
}

/// A place on the deck where a tie-down attaches.
#[derive(Clone, Debug)]
pub struct Anchored {
    /// Its id.
    pub name: Arc<str>,
    /// Station and distance left of the centre line.
    pub at: (f64, f64),
}

/// An axle.
#[derive(Clone, Debug)]
pub struct AxleSeen {
    /// Which: `front axle` of the truck, `axle 1` of the trailer.
    pub name: String,
    /// Whether it is the truck's.
    pub of_truck: bool,
    /// The name of its load in results.
    pub load: String,
    /// Its station.
    pub station: f64,
    /// Its rating.
    pub rating: Option<f64>,
}

/// A centre of gravity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Centre {
    /// Its station.
    pub station: f64,
    /// Left of the centre line.
    pub left: f64,
    /// Its height, where that is known.
    pub height: Option<f64>,
}

/// Something on the deck.
#[derive(Clone, Debug)]
pub struct ItemSeen {
    /// Its name in results.
    pub name: Arc<str>,
    /// `machine`, `cargo` or `bulk`.
    pub kind: &'static str,
    /// Which way its nose points, where it has one: whether toward the truck.
    pub nose_ahead: Option<bool>,
    /// Stations of its foremost and rearmost point.
    pub along: Strip,
    /// Whether something stands on it.
    pub carries: bool,
    /// Its outlines from the side: station and height.
    pub side: Vec<Shape>,
    /// Its wheels from the side.
    pub wheels: Vec<Round>,
    /// What its tracks stand on, from the side.
    pub tracks: Option<[(f64, f64); 2]>,
    /// Its outlines from above.
    pub plan: Vec<Patch>,
    /// Its centre of gravity.
    pub centre: Centre,
    /// What holds it.
    pub held: Held,
}

/// An outline as a closed line.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// Its corners.
    pub corners: Vec<(f64, f64)>,
    /// Whether its sizes are given.
    pub given: bool,
}

/// A wheel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Round {
    /// Its centre.
    pub at: (f64, f64),
    /// Its radius.
    pub radius: f64,
    /// Whether the radius is given.
    pub given: bool,
}

/// An outline from above.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Patch {
    /// Stations of its ends.
    pub along: Strip,
    /// Its right and its left side.
    pub across: Strip,
    /// Whether its sizes are given.
    pub given: bool,
}

/// What holds an item.
#[derive(Clone, Debug, Default)]
pub struct Held {
    /// Its tie-downs, those of its attachments too.
    pub ties: Vec<Tieing>,
    /// The direction in which least is held, and how much in parts of gravity.
    pub weakest: Option<(Arc<str>, f64)>,
    /// What is held forward, rearward and to the worse side, in parts of gravity.
    pub holds: [Option<f64>; 3],
    /// The tie-down whose limit governs there.
    pub governs: Option<Arc<str>>,
    /// Why nothing is told of how well it is held.
    pub unknown: Option<String>,
}

/// A tie-down entry.
#[derive(Clone, Debug)]
pub struct Tieing {
    /// The tie-down's id.
    pub name: Arc<str>,
    /// How many it stands for.
    pub count: u32,
    /// The anchor it begins at, where the sheet says.
    pub from: Option<Arc<str>>,
    /// The attachment it secures, where it secures one.
    pub fit: Option<Arc<str>>,
    /// Its counted part of the working load limits that count toward the sum; none for one of an attachment, or where one of
    /// them is not known.
    pub share: Option<f64>,
    /// Station and distance left of the centre line of what it goes through; empty where that is not known.
    pub line: Vec<(f64, f64)>,
}

/// A machine on its way up. Here lengths run toward the truck from the deck's rear edge as it stands level.
#[derive(Clone, Debug)]
pub struct ClimbSeen {
    /// The item's name in results.
    pub item: Arc<str>,
    /// The ramp's foot, the deck's rear edge, the top of a dovetail, the deck's front edge; none where the way is not known.
    pub way: Option<[Option<(f64, f64)>; 4]>,
    /// Whether there is a ramp.
    pub ramp: bool,
    /// How high the ground behind the foot lies.
    pub ground: f64,
    /// The machine where it is tightest.
    pub standing: Option<ClimbStanding>,
    /// Why something is not drawn.
    pub missing: Option<String>,
    /// What is to be said of it.
    pub notes: Notes,
}

/// A machine where its underside comes nearest to the way.
#[derive(Clone, Debug)]
pub struct ClimbStanding {
    /// Its outlines.
    pub shapes: Vec<Shape>,
    /// Its undersides.
    pub undersides: Vec<Vec<(f64, f64)>>,
    /// Its wheels.
    pub wheels: Vec<Round>,
    /// What its tracks stand on.
    pub tracks: Option<[(f64, f64); 2]>,
    /// The ends of the least gap: on the way, and on the underside.
    pub gap: [(f64, f64); 2],
    /// How wide it is.
    pub clearance: f64,
    /// The part of the underside.
    pub part: Arc<str>,
    /// Where, as a message says it.
    pub spot: Arc<str>,
    /// How far the leading end is past the deck's rear edge; short of it below zero.
    pub lead: f64,
    /// Why the gap can be less than that.
    pub open: Option<String>,
}
