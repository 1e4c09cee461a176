//! Figures that every load has: truck, trailer, coupling, deck and road.

use super::figure::{computed, entry, finite, leaf, number, value};
use super::of_bulk::lying;
use super::{Each, Figure, Known, Lack, Load, Measures};
use crate::model::{End, ItemKind};
use crate::units::{Kind, Length, Mass, Share};

const ALL: &[Each] = &[];
const WEIGHT: Measures = Measures::Quantity(Kind::Mass);
const LENGTH: Measures = Measures::Quantity(Kind::Length);
const SHARE: Measures = Measures::Quantity(Kind::Share);

const LEVERS: &str = "levers on level ground: statics of weight and balance";
const SUMS: &str = "sum of weights";
const BARS: &str = "levers with the couple of the bars: front axle load restoration as in SAE J2807";

pub(super) static FIGURES: &[Figure] = &[
    computed(
        "truck.gross",
        "gross",
        ALL,
        WEIGHT,
        "what truck and load weigh on the truck's own wheels",
        BARS,
        |load, _| value(load.rig.as_ref().map_err(Clone::clone)?.loads.truck.gross()),
    ),
    computed("combination.gross", "gross", ALL, WEIGHT, "truck and trailer together", SUMS, |load, _| {
        value(load.everything()?)
    }),
    computed(
        "truck.ball_load",
        "ball force",
        ALL,
        WEIGHT,
        "what presses on the ball, once a weight-distributing hitch has moved load",
        BARS,
        |load, _| value(load.rig.as_ref().map_err(Clone::clone)?.loads.ball),
    ),
    computed(
        "truck.front_share",
        "front axle's share",
        ALL,
        SHARE,
        "the front axle's part of the truck's axle loads",
        BARS,
        |load, _| {
            let truck = load.rig.as_ref().map_err(Clone::clone)?.loads.truck;
            finite(Share::of(truck.front / truck.gross()), || no_number(load))
        },
    ),
    computed(
        "truck.front_kept",
        "front axle keeps",
        ALL,
        SHARE,
        "the front axle's load as a part of what it carries without the trailer",
        BARS,
        |load, _| {
            let rig = load.rig.as_ref().map_err(Clone::clone)?;
            finite(Share::of(rig.loads.truck.front / rig.front_alone), || no_number(load))
        },
    ),
    computed("trailer.gross", "gross", ALL, WEIGHT, "tongue and axles of the trailer together", SUMS, |load, _| {
        value(load.still.as_ref().map_err(Clone::clone)?.loads.gross)
    }),
    computed(
        "trailer.tongue",
        "tongue weight",
        ALL,
        WEIGHT,
        "static tongue weight, as a tongue scale shows it, before any weight-distributing hitch moves load",
        LEVERS,
        |load, _| value(load.still.as_ref().map_err(Clone::clone)?.loads.tongue),
    ),
    computed(
        "trailer.tongue_share",
        "tongue share",
        ALL,
        SHARE,
        "tongue weight as a part of the trailer's gross",
        LEVERS,
        |load, _| {
            let share = load.still.as_ref().map_err(Clone::clone)?.loads.share();
            value(share.ok_or_else(|| no_number(load))?)
        },
    ),
    computed("trailer.axles.load", "all axles", ALL, WEIGHT, "what all axles of the trailer carry", BARS, |load, _| {
        value(load.rig.as_ref().map_err(Clone::clone)?.loads.trailer.group)
    }),
    computed(
        "trailer.heavier_side_share",
        "heavier side's share",
        ALL,
        SHARE,
        "the heavier side's part of what the trailer's wheels carry",
        "moments about the trailer's centre line",
        |load, _| {
            let rig = load.rig.as_ref().map_err(Clone::clone)?;
            let sides = rig.sides.as_ref().map_err(Clone::clone)?;
            let (left, right): (Mass, Mass) =
                (sides.iter().map(|side| side.left).sum(), sides.iter().map(|side| side.right).sum());
            finite(Share::of(left.max(right) / (left + right)), || no_number(load))
        },
    ),
    computed(
        "load.width",
        "width",
        ALL,
        LENGTH,
        "trailer and load at their widest",
        "outlines across the deck",
        |load, _| {
            let trailer = load.trailer.clone()?;
            let half = load.outlines.need(&trailer.width, &trailer.owner, "width")? / 2.0;
            let (mut left, mut right) = (half, -half);
            for item in &load.items {
                let sides = item.sides()?;
                left = left.max(sides.left);
                right = right.min(sides.right);
            }
            value(left - right)
        },
    ),
    computed(
        "load.height",
        "height",
        ALL,
        LENGTH,
        "highest point of the load above ground",
        "heights on the deck",
        |load, _| {
            let deck = load.deck()?;
            let deck_height = load.outlines.need(&deck.height, &deck.owner, "height")?;
            let mut top = match &load.trailer.clone()?.walls {
                Some(walls) => load.outlines.need(&walls.height, &walls.owner, "height")?,
                None => Length::ZERO,
            };
            for at in 0..load.items.len() {
                top = top.max(load.top_of(at)?);
            }
            value(deck_height + top)
        },
    ),
    entry("truck.gvwr", "GVWR", ALL, WEIGHT, "the maker's limit for the truck's gross weight", |load, _| {
        let truck = load.truck.clone()?;
        number(load, &truck.gvwr, &truck.owner, "gvwr")
    }),
    entry("truck.gcwr", "GCWR", ALL, WEIGHT, "the maker's limit for truck and trailer together", |load, _| {
        let truck = load.truck.clone()?;
        number(load, &truck.gcwr, &truck.owner, "gcwr")
    }),
    entry("truck.wheelbase", "wheelbase", ALL, LENGTH, "between the truck's axles", |load, _| {
        let truck = load.truck.clone()?;
        number(load, &truck.wheelbase, &truck.owner, "wheelbase")
    }),
    entry("trailer.gvwr", "GVWR", ALL, WEIGHT, "the maker's limit for the trailer's gross weight", |load, _| {
        let trailer = load.trailer.clone()?;
        number(load, &trailer.gvwr, &trailer.owner, "gvwr")
    }),
    entry("trailer.width", "width", ALL, LENGTH, "overall width of the trailer", |load, _| {
        let trailer = load.trailer.clone()?;
        number(load, &trailer.width, &trailer.owner, "width")
    }),
    entry("trailer.suspension", "suspension", ALL, Measures::Text, "equalized or independent axles", |load, _| {
        let trailer = load.trailer.clone()?;
        leaf(&trailer.suspension, &trailer.owner, "suspension")
    }),
    entry(
        "trailer.breakaway",
        "breakaway device",
        ALL,
        Measures::Flag,
        "whether a breakaway device is fitted",
        |load, _| {
            let trailer = load.trailer.clone()?;
            leaf(&trailer.breakaway, &trailer.owner, "breakaway")
        },
    ),
    entry(
        "trailer.rear_doors",
        "rear doors",
        ALL,
        Measures::Flag,
        "whether the trailer has doors at the rear",
        |load, _| structure(load, |trailer| trailer.rear_doors.is_some(), "rear-doors"),
    ),
    entry("trailer.walled", "walls", ALL, Measures::Flag, "whether walls stand round the deck", |load, _| {
        structure(load, |trailer| trailer.walls.is_some(), "walls")
    }),
    entry("hitch.kind", "kind", ALL, Measures::Text, "the truck's side of the coupling", |load, _| {
        let hitch = load.hitch()?;
        leaf(&hitch.kind, &hitch.owner, "kind")
    }),
    entry(
        "hitch.behind_rear_axle",
        "distance behind the rear axle",
        ALL,
        LENGTH,
        "from the rear axle back to the ball",
        |load, _| {
            let hitch = load.hitch()?;
            number(load, &hitch.behind_rear_axle, &hitch.owner, "behind-rear-axle")
        },
    ),
    entry("hitch.height", "height", ALL, LENGTH, "height of the ball with the truck loaded", |load, _| {
        let hitch = load.hitch()?;
        number(load, &hitch.height, &hitch.owner, "height")
    }),
    entry("hitch.tongue_rating", "tongue rating", ALL, WEIGHT, "the receiver's limit for the tongue", |load, _| {
        let hitch = load.hitch()?;
        number(load, &hitch.tongue_rating, &hitch.owner, "rating tongue")
    }),
    entry("hitch.trailer_rating", "trailer rating", ALL, WEIGHT, "the receiver's limit for the trailer", |load, _| {
        let hitch = load.hitch()?;
        number(load, &hitch.trailer_rating, &hitch.owner, "rating trailer")
    }),
    entry("hitch.ball_size", "ball size", ALL, LENGTH, "diameter of the ball", |load, _| {
        let hitch = load.hitch()?;
        let ball = hitch.ball.as_ref().ok_or_else(|| hitch.owner.lacks("ball"))?;
        number(load, &ball.size, &ball.owner, "size")
    }),
    entry("hitch.ball_rating", "ball rating", ALL, WEIGHT, "the ball's limit for the trailer", |load, _| {
        let hitch = load.hitch()?;
        let ball = hitch.ball.as_ref().ok_or_else(|| hitch.owner.lacks("ball"))?;
        number(load, &ball.rating, &ball.owner, "rating")
    }),
    entry(
        "hitch.brake_controller",
        "brake controller",
        ALL,
        Measures::Flag,
        "whether a brake controller is fitted",
        |load, _| {
            let hitch = load.hitch()?;
            leaf(&hitch.brake_controller, &hitch.owner, "brake-controller")
        },
    ),
    entry("coupler.kind", "kind", ALL, Measures::Text, "the trailer's side of the coupling", |load, _| {
        let coupler = load.coupler()?;
        leaf(&coupler.kind, &coupler.owner, "kind")
    }),
    entry("coupler.size", "ball size", ALL, LENGTH, "the ball that the coupler takes", |load, _| {
        let coupler = load.coupler()?;
        number(load, &coupler.size, &coupler.owner, "size")
    }),
    entry("coupler.rating", "rating", ALL, WEIGHT, "the coupler's limit for the trailer", |load, _| {
        let coupler = load.coupler()?;
        number(load, &coupler.rating, &coupler.owner, "rating")
    }),
    entry("coupler.tongue_rating", "tongue rating", ALL, WEIGHT, "the coupler's limit for the tongue", |load, _| {
        let coupler = load.coupler()?;
        number(load, &coupler.tongue_rating, &coupler.owner, "tongue")
    }),
    entry(
        "coupler.tongue_marked",
        "mark for the tongue",
        ALL,
        Measures::Flag,
        "whether the coupler is marked for the tongue",
        |load, _| {
            let coupler = load.coupler()?;
            value(load.outlines.given(&coupler.tongue_rating, &coupler.owner, "tongue")?.is_some())
        },
    ),
    entry(
        "coupler.height",
        "height",
        ALL,
        LENGTH,
        "height of the coupler as the trailer is meant to ride",
        |load, _| {
            let coupler = load.coupler()?;
            number(load, &coupler.height, &coupler.owner, "height")
        },
    ),
    entry(
        "chains.strength",
        "strength",
        ALL,
        WEIGHT,
        "all safety chains together: breaking strength, or else marked rating",
        |load, _| value(load.chains_strength()?),
    ),
    entry("deck.length", "length", ALL, LENGTH, "length of the deck", |load, _| {
        let deck = load.deck()?;
        number(load, &deck.length, &deck.owner, "length")
    }),
    entry("deck.width", "width", ALL, LENGTH, "width of the deck that can be stood on", |load, _| {
        let deck = load.deck()?;
        number(load, &deck.width, &deck.owner, "width")
    }),
    entry("deck.height", "height", ALL, LENGTH, "height of the deck above ground", |load, _| {
        let deck = load.deck()?;
        number(load, &deck.height, &deck.owner, "height")
    }),
    entry("deck.surface", "surface", ALL, Measures::Text, "what the deck is made of", |load, _| {
        let deck = load.deck()?;
        leaf(&deck.surface, &deck.owner, "surface")
    }),
    entry("conditions.speed", "speed", ALL, Measures::Quantity(Kind::Speed), "highest speed on the way", |load, _| {
        number(load, &load.conditions.speed, &load.sheet.owner, "conditions speed")
    }),
    entry("conditions.grade", "grade", ALL, SHARE, "steepest grade on the way", |load, _| {
        number(load, &load.conditions.grade, &load.sheet.owner, "conditions grade")
    }),
    entry("conditions.deck", "state of the deck", ALL, Measures::Text, "state of the deck", |load, _| {
        leaf(&load.conditions.deck, &load.sheet.owner, "conditions deck")
    }),
];

/// A quotient by nothing: the trailer or truck weighs nothing, which its entries rule out on their own.
fn no_number(load: &Load<'_>) -> Lack {
    let owner = load.owner();
    Lack::Contradiction { at: owner.at, owner: owner.path.clone(), why: "the weights add up to nothing".into() }
}

/// Whether the trailer has a part; not known where a line of the trailer was lost.
fn structure(load: &Load<'_>, has: fn(&crate::model::Trailer) -> bool, word: &'static str) -> Known<super::Reading> {
    let trailer = load.trailer.clone()?;
    let there = has(trailer);
    if !there && trailer.owner.lost {
        return Err(trailer.owner.lacks(word).into());
    }
    value(there)
}

impl<'y> Load<'y> {
    /// All safety chains together: their breaking strength, or else what they are marked with.
    pub(super) fn chains_strength(&self) -> Known<Mass> {
        let trailer = self.trailer.clone()?;
        let chains = trailer.chains.as_ref().ok_or_else(|| trailer.owner.lacks("safety-chains"))?;
        let each = if chains.breaking.is_absent() {
            self.outlines.need(&chains.rating, &chains.owner, "rating")?
        } else {
            self.outlines.need(&chains.breaking, &chains.owner, "breaking")?
        };
        Ok(each * f64::from(chains.count.need(&chains.owner, "count")?))
    }

    /// The trailer's coupler.
    pub(super) fn coupler(&self) -> Known<&'y crate::model::Coupler> {
        let trailer = self.trailer.clone()?;
        trailer.coupler.as_ref().ok_or_else(|| trailer.owner.lacks("coupler").into())
    }

    /// What truck and trailer weigh together: a sum that asks nothing of bars or levers.
    fn everything(&self) -> Known<Mass> {
        let truck = self.truck.clone()?;
        if truck.owner.lost {
            return Err(truck.owner.lacks("axle").into());
        }
        let mut sum = self.still.as_ref().map_err(Clone::clone)?.loads.gross;
        for end in [End::Front, End::Rear] {
            let axle = self.truck_axle(end)?;
            sum += self.reads.need(&axle.weighed, &axle.owner, "weighed")?;
        }
        for cargo in &self.in_truck {
            sum += self.reads.need(&cargo.weight, &cargo.owner, "weight")?;
        }
        Ok(sum)
    }

    /// The top of an item above the deck, what it stands on included.
    pub(super) fn top_of(&self, at: usize) -> Known<Length> {
        let mut top = Length::ZERO;
        let mut next = Some(at);
        // As many steps as there are items: a ring of items standing on one another ends there.
        for _ in 0..=self.items.len() {
            let Some(item) = next.and_then(|at| self.items.get(at)) else { break };
            top += match &item.item.kind {
                // How high it lies changes with how much of it there is.
                ItemKind::Bulk(_) => lying(self, item)?.top,
                ItemKind::Machine(_) | ItemKind::Cargo(_) => item.height.clone()?,
            };
            next = item.under;
        }
        Ok(top)
    }
}
