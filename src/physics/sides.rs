//! Left and right: what the wheels of each side of a trailer carry.

use crate::units::{Dual, Length, Mass, MassMoment};

use super::error::{StaticsError, finite, positive};
use super::trailer::{PointLoad, Sharing, Trailer, TrailerAxle, TrailerLoads};

/// The two sides of one axle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SideLoads {
    /// On the left wheels. Below zero: the trailer cannot stand so, it tips to the right.
    pub left: Mass,
    /// On the right wheels. Below zero: the trailer cannot stand so, it tips to the left.
    pub right: Mass,
}

impl Trailer {
    /// Each axle's sides, in the order of the axles; `None` when a track is missing and the load is not exactly in the
    /// middle.
    ///
    /// The group's sides carry `A/2 ± Σ Wi yi / track`, each axle its n-th part: with an equalizer on each side every wheel
    /// of that side carries the same, and where tracks differ their mean counts. Axles on springs of known rate share the
    /// turning moment as `kj tj`, which is the n-th part again when they are alike; a lifted axle takes none.
    ///
    /// Holds for a ball, pintle or gooseneck, which lets the trailer roll freely. A fifth wheel takes part of the
    /// moment, so do not ask for one. The empty trailer is taken as symmetric.
    ///
    /// # Errors
    /// A track not above zero, non-finite entries or results.
    pub fn sides(&self, loads: &TrailerLoads, aboard: &[PointLoad]) -> Result<Option<Vec<SideLoads>>, StaticsError> {
        let roll: MassMoment = aboard.iter().map(|load| load.weight * load.left).sum();
        if !roll.kg_m().is_finite() {
            return Err(StaticsError::NotFinite("the load's distance from the centre line"));
        }
        let Some(tracks) = self.axles.iter().map(|axle| axle.track).collect::<Option<Vec<_>>>() else {
            if roll.kg_m().abs() > 0.0 {
                return Ok(None);
            }
            let halves = loads.axles.iter().map(|load| SideLoads { left: *load / 2.0, right: *load / 2.0 });
            return Ok(Some(halves.collect()));
        };
        for track in &tracks {
            positive(*track, "the track width")?;
        }
        let mut sides = Vec::with_capacity(loads.axles.len());
        let by_springs = matches!(loads.sharing, Sharing::BySprings { .. });
        let mean = tracks.iter().copied().sum::<Length>() / self.count();
        let turned: Vec<Dual> =
            self.axles.iter().zip(&loads.axles).map(|(axle, load)| roll_rate(axle, *load)).collect();
        let answers: Dual = turned.iter().zip(&tracks).map(|(rate, track)| *rate * track.dual()).sum();
        for (load, rate) in loads.axles.iter().zip(&turned) {
            let more = if by_springs { Mass::of(roll.dual() * *rate / answers) } else { roll / mean / self.count() };
            finite(more, "the side load")?;
            sides.push(SideLoads { left: *load / 2.0 + more, right: *load / 2.0 - more });
        }
        Ok(Some(sides))
    }
}

/// How strongly an axle's wheels answer a roll of the frame: rate times track, nothing when lifted.
fn roll_rate(axle: &TrailerAxle, load: Mass) -> Dual {
    match (axle.rate, axle.track) {
        (Some(rate), Some(track)) if load > Mass::ZERO => rate.dual() * track.dual(),
        _ => Dual::default(),
    }
}
