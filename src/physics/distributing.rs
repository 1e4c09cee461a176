//! The whole rig, and the weight-distributing hitch that ties its two halves together.

use crate::units::{Dual, Length, Mass, MassMoment, Share};

use super::error::{StaticsError, finite, not_negative};
use super::trailer::{PointLoad, Trailer, TrailerLoads};
use super::truck::{Truck, TruckLoad, TruckLoads};

/// What a weight-distributing hitch does.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Distribution {
    /// No such hitch, or its bars hang loose.
    #[default]
    None,
    /// The bars give the front axle this part of its loss back: 1 puts it back to its load without the trailer.
    Restores(Share),
    /// The bars turn truck and trailer against each other with this couple: the load on the bars' ends times their
    /// length.
    Couple(MassMoment),
}

/// Truck and trailer as they stand coupled.
#[derive(Clone, Debug, PartialEq)]
pub struct RigLoads {
    /// The static tongue weight, which the ratings of receiver and coupler see.
    pub tongue: Mass,
    /// The force on the ball, which the ball's rating sees: less than the tongue where bars share it out.
    pub ball: Mass,
    /// The couple of the bars; zero without them.
    pub couple: MassMoment,
    /// The trailer with the bars as they are (`trailer.tongue` is the ball force).
    pub trailer: TrailerLoads,
    /// The truck with the bars as they are.
    pub truck: TruckLoads,
}

impl RigLoads {
    /// Everything on the road: truck and trailer axles together.
    #[must_use]
    pub fn gross(&self) -> Mass {
        self.truck.gross() + self.trailer.group
    }
}

/// All loads of the coupled rig on level ground.
///
/// The bars' couple `M` leaves `T − M/sa` on the ball and puts `M/sa` on the trailer's axles; the front axle gains `M/wb` and
/// `(M/sa)·oh/wb`. A restored part `r` of the front's loss needs `M = r·T·oh·sa/(oh + sa)`; with a tongue at or below
/// zero the front loses nothing, and `M` is zero. For axles on springs `sa` is [`TrailerLoads::reaction_station`].
/// `truck.front + truck.rear + trailer.group` is everything that was put in, to rounding.
///
/// # Errors
/// Those of [`Trailer::loads`] and [`Truck::loads`]; a restored part below zero;
/// [`StaticsError::NothingToRestore`] when a part is to be restored though the coupling is not behind the rear axle.
///
/// Source: `../shared/reference/towing-and-statics.md` 4.4 (derived; the restored part is the front axle load
/// restoration of SAE J2807: secondary).
pub fn rig_loads(
    trailer: &Trailer,
    on_trailer: &[PointLoad],
    truck: &Truck,
    on_truck: &[TruckLoad],
    distribution: Distribution,
) -> Result<RigLoads, StaticsError> {
    let plain = trailer.loads(on_trailer)?;
    let tongue = plain.tongue;
    let (couple, loaded) = match distribution {
        Distribution::None => (MassMoment::ZERO, plain),
        Distribution::Couple(couple) => (couple, trailer.loads_with_couple(on_trailer, couple)?),
        Distribution::Restores(part) => restore(trailer, on_trailer, plain, truck.overhang, part)?,
    };
    let ball = loaded.tongue;
    let truck = truck.loads(ball, couple, on_truck)?;
    Ok(RigLoads { tongue, ball, couple, trailer: loaded, truck })
}

/// The couple that restores this part of the front axle's loss, and the trailer under it.
///
/// The front is restored when `M − oh·B(M) = −(1 − r)·T·oh`. The ball force `B` falls along a straight line with `M` as
/// long as the same wheels stand on the ground, so the first step, which is the formula above, is exact; only a wheel that
/// lifts or touches under the couple asks for another, and each is at most one more.
fn restore(
    trailer: &Trailer,
    on_trailer: &[PointLoad],
    plain: TrailerLoads,
    overhang: Length,
    part: Share,
) -> Result<(MassMoment, TrailerLoads), StaticsError> {
    if finite(overhang, "the distance from rear axle to ball")? <= Length::ZERO {
        return Err(StaticsError::NothingToRestore);
    }
    not_negative(part, "the restored part")?;
    if plain.tongue <= Mass::ZERO {
        return Ok((MassMoment::ZERO, plain));
    }
    let static_loss = plain.tongue * overhang;
    let wanted = static_loss * (part.dual() - Dual::new(1.0));
    let scale = static_loss.kg_m() * (1.0 + part.si());
    let mut couple = MassMoment::ZERO;
    let mut loaded = plain;
    for _ in 0..=2 * trailer.axles.len() + 2 {
        let missing = wanted - (couple - loaded.tongue * overhang);
        if missing.kg_m().abs() <= 1e-12 * scale {
            break;
        }
        couple += missing / (Dual::new(1.0) + overhang / loaded.reaction_station);
        loaded = trailer.loads_with_couple(on_trailer, couple)?;
    }
    Ok((couple, loaded))
}
