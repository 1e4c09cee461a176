//! Lashing against the accelerations of the road, by the formulas of EN 12195-1:2010, which the CTU Code 2014 shares.
//!
//! The formulas are from memory (high confidence; those that are less sure say so), and the published worked examples agree
//! with them. No coefficient stands here: accelerations, safety factors and the part of friction that counts come in as
//! [`Criteria`], which are read from the rules folder with the source and status of each.

use crate::units::{Angle, Dual, Force, Length, Mass, MassMoment, Share};

/// Gravity in m/s2 as EN 12195-1 takes it. Many German texts take 10, which makes answers 2 % larger; standard gravity,
/// which the rest of this program takes, 0.03 % smaller.
const GRAVITY: f64 = 9.81;

/// What may be off in a count by the rounding of numbers.
const ROUNDING: f64 = 1e-9;

/// Which way a cargo is driven.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Toward the truck.
    Forward,
    /// Away from it.
    Rearward,
    /// To the left.
    Left,
    /// To the right.
    Right,
}

impl Way {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Forward, Self::Rearward, Self::Left, Self::Right];
}

/// What is asked in one direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Criterion {
    /// Acceleration against sliding, in parts of gravity (`c`).
    pub slide: Share,
    /// Acceleration against tilting.
    pub tilt: Share,
    /// Safety factor of lashings over the top (`f_s`).
    pub safety: Share,
}

/// The coefficients of an edition.
#[derive(Clone, Debug, PartialEq)]
pub struct Criteria {
    /// Forward.
    pub forward: Criterion,
    /// Rearward.
    pub rearward: Criterion,
    /// To either side.
    pub sideways: Criterion,
    /// The part of friction that counts beside direct lashings (`f_mu`).
    pub direct_friction: Share,
    /// The part of the lashing capacity that counts as tension in the second reading of tilting sideways.
    pub tilt_capacity: Share,
    /// The least number of lashings over the top.
    pub least: u32,
    /// Flatter than this, a lashing over the top does not count.
    pub flat: Angle,
}

impl Criteria {
    /// Those of one direction.
    #[must_use]
    pub const fn of(&self, way: Way) -> Criterion {
        match way {
            Way::Forward => self.forward,
            Way::Rearward => self.rearward,
            Way::Left | Way::Right => self.sideways,
        }
    }
}

/// The force of a mass under `GRAVITY`.
#[must_use]
pub fn weight_force(mass: Mass) -> Force {
    Force::of(mass.dual() * GRAVITY)
}

/// A number of lashings as a formula gives it, before it is rounded up.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Lashings(Dual);

impl Lashings {
    /// None.
    pub const NONE: Self = Self(Dual::new(0.0));

    /// As the formula gives it.
    #[must_use]
    pub const fn exact(self) -> Dual {
        self.0
    }

    /// No fewer than the least number.
    #[must_use]
    pub fn or(self, least: u32) -> Self {
        Self(self.0.max(Dual::new(f64::from(least))))
    }

    /// Rounded up to whole ones, and no fewer than the least number.
    #[must_use]
    pub fn whole(self, least: u32) -> u32 {
        let up = (self.0.value() * (1.0 - ROUNDING)).ceil();
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded on either side")]
        let up = up.clamp(0.0, f64::from(u32::MAX)) as u32;
        up.max(least)
    }
}

/// What one side of a lashing over the top presses down: `F_T sin(alpha)`. A lashing has two.
#[must_use]
pub fn press(tension: Force, angle: Angle) -> Force {
    tension * angle.radians().sin()
}

/// A cargo that would slide.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sliding {
    /// What it weighs.
    pub weight: Mass,
    /// Friction factor under it (`mu`).
    pub friction: Share,
    /// What blocks it in this direction (`F_B`).
    pub blocked: Force,
}

impl Sliding {
    /// What friction and blocking leave to be held: `(c - part mu) m g - F_B`, nothing where they hold it alone. With nothing
    /// blocked and all of the friction it is what blocking alone must hold.
    #[must_use]
    pub fn left(&self, acceleration: Share, part: Share) -> Force {
        let counted = acceleration.dual() - self.friction.dual() * part.dual();
        let left = weight_force(self.weight) * counted - self.blocked;
        if left > Force::ZERO { left } else { Force::ZERO }
    }

    /// How many lashings over the top hold it, each pressing with `press` on both sides together:
    /// `((c - mu) m g - F_B) f_s / (mu press)`, where `press` is `2 F_T sin(alpha)`. None where no number does, because
    /// nothing grips or nothing presses. The form with blocking is of medium confidence.
    #[must_use]
    pub fn over_the_top(&self, criterion: Criterion, press: Force) -> Option<Lashings> {
        let left = self.left(criterion.slide, Share::new(1.0));
        if left == Force::ZERO {
            return Some(Lashings::NONE);
        }
        let each = press * self.friction.dual();
        (each.si() > 0.0).then(|| Lashings(left * criterion.safety.dual() / each))
    }

    /// The force in each of these direct lashings, all of which hold against the direction:
    /// `((c - mu f_mu) m g - F_B) / sum(cos(alpha) cos(beta) + mu f_mu sin(alpha))`. With two alike it is the formula of the
    /// standard; any number of unlike ones share the force equally. Nothing where friction alone holds; none where no lashing
    /// does.
    #[must_use]
    pub fn direct(&self, acceleration: Share, part: Share, lashings: &[Direct]) -> Option<Force> {
        let left = self.left(acceleration, part);
        if left == Force::ZERO {
            return Some(Force::ZERO);
        }
        let counted = self.friction.dual() * part.dual();
        let against =
            lashings.iter().fold(Dual::new(0.0), |sum, one| sum + one.against.dual() + one.down.dual() * counted);
        (against.value() > ROUNDING).then(|| left / against)
    }
}

/// The direction of a direct lashing as parts of its force.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Direct {
    /// Against the direction in which the cargo would go: `cos(alpha) cos(beta)`.
    pub against: Share,
    /// Down: `sin(alpha)`.
    pub down: Share,
}

impl Direct {
    /// From the angle to the deck and the angle on the deck to the direction; the latter is nothing for a slope lashing.
    #[must_use]
    pub fn at(alpha: Angle, beta: Angle) -> Self {
        let (alpha, beta) = (alpha.radians(), beta.radians());
        Self { against: Share::of(alpha.cos() * beta.cos()), down: Share::of(alpha.sin()) }
    }
}

/// A cargo that would tilt over an edge of what it stands on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tilting {
    /// What it weighs.
    pub weight: Mass,
    /// From its centre of gravity to the edge, level (`b`).
    pub before: Length,
    /// Height of its centre of gravity (`d`).
    pub height: Length,
}

impl Tilting {
    /// The acceleration at which it tilts with this moment to help it, in parts of gravity: `(b + M / (m g)) / d`. Unaided it
    /// is `b / d`. None for a centre of gravity that has no height.
    #[must_use]
    pub fn held(&self, moment: MassMoment) -> Option<Share> {
        let against = (self.weight * self.height).dual();
        (against.value() > 0.0).then(|| Share::of((self.weight * self.before + moment).dual() / against))
    }

    /// How many lashings over the top keep it from tilting sideways, over a width: `(c d - b) m g f_s / (w F_T sin(alpha))`,
    /// with `press` as `F_T sin(alpha)` of the side away from the edge. None where no number does. Of medium confidence.
    #[must_use]
    pub fn over_the_top(&self, acceleration: Share, safety: Share, width: Length, press: Force) -> Option<Lashings> {
        let beyond = self.height * acceleration.dual() - self.before;
        if beyond <= Length::ZERO {
            return Some(Lashings::NONE);
        }
        let each = press.dual() * width.dual();
        (each.value() > 0.0).then(|| Lashings(weight_force(self.weight).dual() * beyond.dual() * safety.dual() / each))
    }
}

/// A force on a lever, as the moment of a mass that weighs as much.
#[must_use]
pub fn moment(force: Force, lever: Length) -> MassMoment {
    Mass::of(force.dual() / GRAVITY) * lever
}
