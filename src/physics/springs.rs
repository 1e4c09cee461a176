//! Independent axles: the pitch at which their springs balance the weight.

use crate::units::{Dual, Force, Length, Mass, MassMoment, Share, Stiffness};

use super::error::{StaticsError, finite};

/// One axle as a spring under the frame.
pub(super) struct Spring {
    /// Rearward from the coupling; above zero.
    pub(super) station: Length,
    /// Of the whole axle; above zero.
    pub(super) rate: Stiffness,
    /// What it carries while the frame is empty and level.
    pub(super) empty: Mass,
}

/// All axles, and how far the coupling is held below the height at which the empty frame is level.
pub(super) struct Springs {
    pub(super) springs: Vec<Spring>,
    pub(super) lowered: Length,
}

/// The state in which the springs hold the frame.
pub(super) struct Balance {
    pub(super) axles: Vec<Mass>,
    /// Nose up positive.
    pub(super) pitch: Share,
    /// Where a further moment is answered.
    pub(super) reaction_station: Length,
}

/// A spring in plain numbers: kg, m, rad (small angles).
struct Plain {
    station: Dual,
    /// Force at pitch zero with the coupling as held; below zero when the wheel hangs free there.
    at_level: Dual,
    /// More force per rad of pitch.
    per_pitch: Dual,
}

impl Plain {
    fn force(&self, pitch: Dual) -> Dual {
        (self.at_level + self.per_pitch * pitch).max(Dual::default())
    }

    /// The pitch at which the wheel touches the ground without load.
    fn touches_at(&self) -> f64 {
        (-self.at_level / self.per_pitch).value()
    }
}

impl Springs {
    /// The balance under this moment about the coupling of everything that is added to the empty trailer; an error when
    /// the wheels would have to pull, or when numbers overflow.
    ///
    /// The frame turns about the coupling, which is held: at pitch `φ` the axle at `s` is pressed in by `lowered + φ s`
    /// more than when empty and level, so it carries `Fj = max(0, A0j + kj (lowered + φ sj))`; the pitch follows from
    /// `Σ Fj sj = Σ A0j sj + moment`. The left side never falls with `φ` and is straight between the pitches at which
    /// a wheel touches, so the piece is found first and the pitch on it exactly.
    pub(super) fn balance(&self, moment: MassMoment) -> Result<Balance, StaticsError> {
        let plain: Vec<Plain> = self
            .springs
            .iter()
            .map(|spring| {
                let per_metre = Force::of(spring.rate.dual()).as_mass().dual();
                Plain {
                    station: spring.station.dual(),
                    at_level: spring.empty.dual() + per_metre * self.lowered.dual(),
                    per_pitch: per_metre * spring.station.dual(),
                }
            })
            .collect();
        let empty: Dual = self.springs.iter().map(|spring| (spring.empty * spring.station).dual()).sum();
        let wanted = empty + moment.dual();
        // Every axle stands behind the coupling, so together they can answer any moment above zero and none below.
        if wanted.value() < 0.0 {
            return Err(StaticsError::WheelsLift);
        }
        let holds =
            |pitch: f64| plain.iter().map(|spring| spring.force(Dual::new(pitch)) * spring.station).sum::<Dual>();
        let mut touches: Vec<f64> = plain.iter().map(Plain::touches_at).collect();
        touches.sort_by(f64::total_cmp);
        let first = touches.first().copied().ok_or(StaticsError::NoAxles)?;
        // On the ground: every wheel that touches before the pitch that is looked for; at least the first one.
        let reached = touches.iter().copied().filter(|pitch| holds(*pitch) < wanted).fold(first, f64::max);
        let grounded = || plain.iter().filter(|spring| spring.touches_at() <= reached);
        let fixed: Dual = grounded().map(|spring| spring.at_level * spring.station).sum();
        let per_pitch: Dual = grounded().map(|spring| spring.per_pitch * spring.station).sum();
        let rates: Dual = grounded().map(|spring| spring.per_pitch).sum();
        let pitch = finite(Share::of((wanted - fixed) / per_pitch), "the trailer's pitch")?;
        let axles = plain.iter().map(|spring| {
            let grounded = spring.touches_at() <= reached;
            if grounded { Mass::of(spring.force(pitch.dual())) } else { Mass::ZERO }
        });
        Ok(Balance { axles: axles.collect(), pitch, reaction_station: Length::of(per_pitch / rates) })
    }
}
