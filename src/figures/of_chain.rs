//! Figures of the hitch chain as a whole: receiver, ball, coupler and safety chains are as strong as the weakest.

use super::figure::{computed, value};
use super::{Each, Figure, Known, Load, Measures};
use crate::expr::Value;
use crate::model::HitchKind;
use crate::physics::{HitchChain, Weakest};
use crate::units::{Kind, LANES};

const ALL: &[Each] = &[];
const WEIGHT: Measures = Measures::Quantity(Kind::Mass);
const WEAKEST: &str = "the lowest-rated part governs";

pub(super) static FIGURES: &[Figure] = &[
    computed(
        "hitch.chain_rating",
        "weakest part holds",
        ALL,
        WEIGHT,
        "what the weakest of receiver, ball, coupler and chains is rated for",
        WEAKEST,
        |load, _| value(weakest(load)?.rating),
    ),
    Figure {
        weighed: false,
        ..computed(
            "hitch.chain_weakest",
            "weakest part",
            ALL,
            Measures::Text,
            "which of receiver, ball, coupler and safety chains is rated for the least",
            WEAKEST,
            |load, _| {
                let part = weakest(load)?.part.noun();
                Ok(super::Reading {
                    value: Value::Text(part.into()),
                    slopes: [0.0; LANES],
                    at: None,
                    unit: None,
                    open: None,
                })
            },
        )
    },
];

/// The weakest part for the trailer's weight. Every part that this coupling has must say its rating: one that does not
/// may be the weakest.
fn weakest(load: &Load<'_>) -> Known<Weakest> {
    let hitch = load.hitch()?;
    let kind = hitch.kind.need(&hitch.owner, "kind")?;
    let receiver = load.outlines.need(&hitch.trailer_rating, &hitch.owner, "rating trailer")?;
    let mut chain = HitchChain { receiver: Some(receiver), ..HitchChain::default() };
    if matches!(kind, HitchKind::Ball | HitchKind::WeightDistributing | HitchKind::Gooseneck) {
        let ball = hitch.ball.as_ref().ok_or_else(|| hitch.owner.lacks("ball"))?;
        chain.ball = Some(load.outlines.need(&ball.rating, &ball.owner, "rating")?);
    }
    let coupler = load.coupler()?;
    chain.coupler = Some(load.outlines.need(&coupler.rating, &coupler.owner, "rating")?);
    // A fifth wheel needs no chains.
    if kind != HitchKind::FifthWheel {
        chain.chains = Some(load.chains_strength()?);
    }
    chain.weakest_for_trailer().ok_or_else(|| hitch.owner.lacks("rating trailer").into())
}
