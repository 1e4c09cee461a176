//! The hitch chain: receiver, ball, coupler, safety chains. It is as strong as its weakest part.

use crate::units::Mass;

/// A part of the chain between truck and trailer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum HitchPart {
    /// The receiver or other frame-mounted hitch on the truck.
    Receiver,
    /// The ball and its mount (or pintle, or fifth wheel).
    Ball,
    /// The trailer's coupler.
    Coupler,
    /// The safety chains together; they carry no tongue weight.
    Chains,
}

impl HitchPart {
    /// All parts, from truck to trailer.
    pub const ALL: [Self; 4] = [Self::Receiver, Self::Ball, Self::Coupler, Self::Chains];

    /// What this part is called.
    #[must_use]
    pub const fn noun(self) -> &'static str {
        match self {
            Self::Receiver => "receiver",
            Self::Ball => "ball",
            Self::Coupler => "coupler",
            Self::Chains => "safety chains",
        }
    }
}

/// The ratings for the trailer's whole weight along the chain.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct HitchChain {
    /// Of the receiver.
    pub receiver: Option<Mass>,
    /// Of the ball and its mount.
    pub ball: Option<Mass>,
    /// Of the coupler.
    pub coupler: Option<Mass>,
    /// Of the safety chains together.
    pub chains: Option<Mass>,
}

/// The part that governs, and its rating.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weakest {
    /// The part.
    pub part: HitchPart,
    /// What it is rated for.
    pub rating: Mass,
}

impl HitchChain {
    /// The rating of one part.
    #[must_use]
    pub const fn of(&self, part: HitchPart) -> Option<Mass> {
        match part {
            HitchPart::Receiver => self.receiver,
            HitchPart::Ball => self.ball,
            HitchPart::Coupler => self.coupler,
            HitchPart::Chains => self.chains,
        }
    }

    /// The part with the least rating for the trailer's weight; of equals the one nearest the truck. `None` when no part
    /// has such a rating: a missing rating is never taken for strong enough.
    ///
    /// The lowest-rated part governs (secondary: `../shared/reference/towing-and-statics.md` 2.1).
    #[must_use]
    pub fn weakest_for_trailer(&self) -> Option<Weakest> {
        weakest(HitchPart::ALL.map(|part| (part, self.of(part))))
    }
}

fn weakest(ratings: [(HitchPart, Option<Mass>); 4]) -> Option<Weakest> {
    let known = ratings.into_iter().filter_map(|(part, rating)| Some(Weakest { part, rating: rating? }));
    known.reduce(|least, next| if next.rating < least.rating { next } else { least })
}

#[cfg(test)]
mod tests {
    use super::{HitchChain, HitchPart, Weakest};
    use crate::units::Mass;

    #[test]
    fn the_lowest_rated_part_governs() {
        let chain = HitchChain {
            receiver: Some(Mass::new(8000.0)),
            ball: None,
            coupler: Some(Mass::new(6300.0)),
            chains: Some(Mass::new(6300.0)),
        };
        let trailer = Weakest { part: HitchPart::Coupler, rating: Mass::new(6300.0) };
        assert_eq!(chain.weakest_for_trailer(), Some(trailer));
        assert_eq!(HitchChain::default().weakest_for_trailer(), None);
    }
}
