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

    /// The tongue weight this part sees: the ball what presses on it, receiver and coupler the static tongue, which
    /// their ratings are for; chains none.
    #[must_use]
    pub const fn tongue_seen(self, tongue: Mass, ball: Mass) -> Option<Mass> {
        match self {
            Self::Receiver | Self::Coupler => Some(tongue),
            Self::Ball => Some(ball),
            Self::Chains => None,
        }
    }
}

/// What one part is rated for.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PartRating {
    /// Tongue weight.
    pub tongue: Option<Mass>,
    /// Trailer's whole weight (chains: all of them together).
    pub trailer: Option<Mass>,
}

/// The ratings along the chain.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct HitchChain {
    /// Of the receiver.
    pub receiver: PartRating,
    /// Of the ball and its mount.
    pub ball: PartRating,
    /// Of the coupler.
    pub coupler: PartRating,
    /// Of the safety chains together.
    pub chains: PartRating,
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
    /// The ratings of one part.
    #[must_use]
    pub const fn of(&self, part: HitchPart) -> PartRating {
        match part {
            HitchPart::Receiver => self.receiver,
            HitchPart::Ball => self.ball,
            HitchPart::Coupler => self.coupler,
            HitchPart::Chains => self.chains,
        }
    }

    /// The part with the least rating for the trailer's weight; of equals the one nearest the truck. `None` when no part
    /// has such a rating: a missing rating is never taken for strong enough, see [`HitchChain::unrated_for_trailer`].
    ///
    /// The lowest-rated part governs (secondary: `../shared/reference/towing-and-statics.md` 2.1).
    #[must_use]
    pub fn weakest_for_trailer(&self) -> Option<Weakest> {
        weakest(HitchPart::ALL.map(|part| (part, self.of(part).trailer)))
    }

    /// The part with the least rating for tongue weight; of equals the one nearest the truck.
    #[must_use]
    pub fn weakest_for_tongue(&self) -> Option<Weakest> {
        weakest(HitchPart::ALL.map(|part| (part, self.of(part).tongue)))
    }

    /// The parts without a rating for the trailer's weight.
    pub fn unrated_for_trailer(&self) -> impl Iterator<Item = HitchPart> {
        HitchPart::ALL.into_iter().filter(|part| self.of(*part).trailer.is_none())
    }

    /// The parts without a rating for tongue weight; chains need none.
    pub fn unrated_for_tongue(&self) -> impl Iterator<Item = HitchPart> {
        let carries = |part: &HitchPart| *part != HitchPart::Chains;
        HitchPart::ALL.into_iter().filter(carries).filter(|part| self.of(*part).tongue.is_none())
    }
}

fn weakest(ratings: [(HitchPart, Option<Mass>); 4]) -> Option<Weakest> {
    let known = ratings.into_iter().filter_map(|(part, rating)| Some(Weakest { part, rating: rating? }));
    known.reduce(|least, next| if next.rating < least.rating { next } else { least })
}

#[cfg(test)]
mod tests {
    use super::{HitchChain, HitchPart, PartRating, Weakest};
    use crate::units::Mass;

    fn rated(tongue: f64, trailer: f64) -> PartRating {
        PartRating { tongue: Some(Mass::new(tongue)), trailer: Some(Mass::new(trailer)) }
    }

    #[test]
    fn the_lowest_rated_part_governs() {
        let chain = HitchChain {
            receiver: rated(900.0, 8000.0),
            ball: rated(700.0, 8000.0),
            coupler: PartRating { tongue: None, trailer: Some(Mass::new(6300.0)) },
            chains: PartRating { tongue: None, trailer: Some(Mass::new(6300.0)) },
        };
        let trailer = Weakest { part: HitchPart::Coupler, rating: Mass::new(6300.0) };
        assert_eq!(chain.weakest_for_trailer(), Some(trailer));
        assert_eq!(chain.weakest_for_tongue(), Some(Weakest { part: HitchPart::Ball, rating: Mass::new(700.0) }));
        assert_eq!(chain.unrated_for_tongue().collect::<Vec<_>>(), [HitchPart::Coupler]);
        assert_eq!(chain.unrated_for_trailer().count(), 0);
        assert_eq!(HitchChain::default().weakest_for_trailer(), None);
    }

    #[test]
    fn each_part_sees_its_own_tongue_weight() {
        let seen = HitchPart::ALL.map(|part| part.tongue_seen(Mass::new(500.0), Mass::new(400.0)));
        let [tongue, ball] = [500.0, 400.0].map(|kg| Some(Mass::new(kg)));
        assert_eq!(seen, [tongue, ball, tongue, None]);
    }
}
