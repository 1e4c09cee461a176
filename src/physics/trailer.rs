//! The loaded trailer on level ground: tongue, gross, and what each axle carries.

use crate::units::{Dual, Length, Mass, MassMoment, Share, Stiffness};

use super::error::{StaticsError, finite, not_negative, positive};
use super::springs::{Spring, Springs};

/// A weight that stands at a point of the trailer.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PointLoad {
    /// What it weighs.
    pub weight: Mass,
    /// Station of its centre of gravity, rearward from the coupling.
    pub station: Length,
    /// How far left of the trailer's centre line its centre of gravity stands.
    pub left: Length,
}

/// The empty trailer as a scale showed it, standing level.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EmptyTrailer {
    /// On the coupling.
    pub tongue: Mass,
    /// On all axles together.
    pub axles: Mass,
}

/// One axle of a trailer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TrailerAxle {
    /// Station of its wheel centres, rearward from the coupling; above zero.
    pub station: Length,
    /// Rate of the whole axle (both wheels together); only independent axles use it.
    pub rate: Option<Stiffness>,
    /// What this axle carries of the empty trailer; only independent axles use it. The axles' entries share out
    /// [`EmptyTrailer::axles`] in proportion, so tickets that add up to a little more or less do no harm.
    pub empty: Option<Mass>,
    /// Distance between its wheel centres (dual wheels: between the pairs' middles).
    pub track: Option<Length>,
}

impl TrailerAxle {
    /// An axle of which only its station is known.
    #[must_use]
    pub const fn at(station: Length) -> Self {
        Self { station, rate: None, empty: None, track: None }
    }
}

/// How the axles share their load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Suspension {
    /// Joined by equalizers: every axle carries the same, whatever the trailer's attitude.
    Equalized,
    /// Each axle on springs of its own (torsion axles). The heights are above level ground.
    Independent {
        /// Height of the coupling at which the empty trailer's frame is level.
        level_at: Option<Length>,
        /// Height at which the loaded truck holds the coupling.
        held_at: Option<Length>,
    },
}

/// A trailer for statics.
#[derive(Clone, Debug, PartialEq)]
pub struct Trailer {
    /// As weighed empty.
    pub empty: EmptyTrailer,
    /// Its axles, in any order.
    pub axles: Vec<TrailerAxle>,
    /// How they share.
    pub suspension: Suspension,
}

/// On what the share of each axle rests.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sharing {
    /// Equalizers, or a single axle: equal by construction.
    SharedEqually,
    /// Independent axles without rates or coupler heights: taken as equal, because nothing better is known.
    SharedEquallyNotKnown,
    /// Independent axles by their spring rates and the trailer's pitch.
    BySprings {
        /// Whether each axle's empty weight was given; if not, the empty weight is shared in proportion to the rates,
        /// as level axles with springs of one free height share it.
        empty_weighed: bool,
    },
}

/// What a loaded trailer puts on its coupling and axles.
#[derive(Clone, Debug, PartialEq)]
pub struct TrailerLoads {
    /// On the coupling, downward; below zero the trailer pulls it up.
    pub tongue: Mass,
    /// The whole trailer: `tongue + group`.
    pub gross: Mass,
    /// On all axles together.
    pub group: Mass,
    /// On each axle, in the order of [`Trailer::axles`]. Zero under springs: this axle's wheels are off the ground.
    pub axles: Vec<Mass>,
    /// On what the shares rest.
    pub sharing: Sharing,
    /// Slope of the frame, nose up positive; known only by springs.
    pub pitch: Option<Share>,
    /// Where the axles answer a further moment: a couple `M` more puts `M / reaction_station` more on them. The mean
    /// station where axles share equally.
    pub reaction_station: Length,
}

impl TrailerLoads {
    /// The tongue's part of the trailer's whole weight; `None` for a trailer of no weight. Ask the static loads: under a
    /// couple this is the ball's part.
    #[must_use]
    pub fn share(&self) -> Option<Share> {
        let share = self.tongue / self.gross;
        share.is_finite().then_some(Share::of(share))
    }

    /// The axles whose wheels are off the ground (index from 0): springs hold the frame, but cannot pull it down.
    pub fn lifted(&self) -> impl Iterator<Item = usize> {
        let by_springs = matches!(self.sharing, Sharing::BySprings { .. });
        self.axles.iter().enumerate().filter(move |(_, load)| by_springs && load.si() <= 0.0).map(|(axle, _)| axle)
    }
}

impl Trailer {
    /// Loads of the trailer with these weights aboard, on level ground.
    ///
    /// Equalized: the group acts at its mean station `sa`, so `A = A0 + Σ Wi si/sa`, `T = G − A`, and each axle carries
    /// `A/n`. Independent axles with rates: the frame turns about the coupling, which the truck holds at its height, until
    /// the springs balance the moment of all weight; a high coupler so loads the rear axle. The springs act on the
    /// change from the empty, level trailer. An axle that would have to pull is lifted instead and carries zero.
    ///
    /// # Errors
    /// No axles; an axle not behind the coupling; a non-finite entry or result; an empty axle weight below zero; a rate
    /// not above zero; [`StaticsError::WheelsLift`] when the weight's centre lies ahead of the coupling. A negative
    /// tongue is a result, no error.
    ///
    /// Source: levers, `../shared/reference/towing-and-statics.md` 4.1 and 4.5 (derived).
    ///
    /// ```
    /// # use draylint::physics::{EmptyTrailer, PointLoad, Suspension, Trailer, TrailerAxle};
    /// # use draylint::units::{Length, Mass};
    /// let trailer = Trailer {
    ///     empty: EmptyTrailer { tongue: Mass::new(200.0), axles: Mass::new(1400.0) },
    ///     axles: vec![TrailerAxle::at(Length::new(4.8)), TrailerAxle::at(Length::new(5.2))],
    ///     suspension: Suspension::Equalized,
    /// };
    /// let machine = PointLoad { weight: Mass::new(3000.0), station: Length::new(4.5), left: Length::ZERO };
    /// let loads = trailer.loads(&[machine])?;
    /// assert!((loads.tongue.si() - 500.0).abs() < 1e-9); // 200 + 3000 x (5.0 - 4.5)/5.0
    /// assert!((loads.axles[0].si() - 2050.0).abs() < 1e-9);
    /// # Ok::<(), draylint::physics::StaticsError>(())
    /// ```
    pub fn loads(&self, aboard: &[PointLoad]) -> Result<TrailerLoads, StaticsError> {
        self.loads_with_couple(aboard, MassMoment::ZERO)
    }

    /// The same while a weight-distributing hitch turns the trailer with this couple (above zero: its axles are pressed
    /// down). `tongue` is then the force on the ball, which is less than the static tongue.
    ///
    /// # Errors
    /// As [`Trailer::loads`].
    pub fn loads_with_couple(&self, aboard: &[PointLoad], couple: MassMoment) -> Result<TrailerLoads, StaticsError> {
        self.check(aboard)?;
        let weight: Mass = aboard.iter().map(|load| load.weight).sum();
        let moment = aboard.iter().map(|load| load.weight * load.station).sum::<MassMoment>() + couple;
        let gross = self.empty.tongue + self.empty.axles + weight;
        let (axles, sharing, pitch, reaction_station) = if let Some((springs, empty_weighed)) = self.springs()? {
            let balance = springs.balance(moment)?;
            (balance.axles, Sharing::BySprings { empty_weighed }, Some(balance.pitch), balance.reaction_station)
        } else {
            let station = self.mean_station();
            let group = self.empty.axles + moment / station;
            if group < Mass::ZERO {
                return Err(StaticsError::WheelsLift);
            }
            let each = group / self.count();
            (vec![each; self.axles.len()], self.equal_sharing(), None, station)
        };
        let group: Mass = axles.iter().copied().sum();
        finite(group, "the axle load")?;
        let tongue = finite(gross - group, "the tongue weight")?;
        Ok(TrailerLoads { tongue, gross, group, axles, sharing, pitch, reaction_station })
    }

    /// The axles' mean station, where an equalized group acts. Not a number without axles.
    #[must_use]
    pub fn mean_station(&self) -> Length {
        self.axles.iter().map(|axle| axle.station).sum::<Length>() / self.count()
    }

    /// The number of axles, for dividing by.
    pub(super) fn count(&self) -> f64 {
        self.axles.iter().map(|_| 1.0).sum()
    }

    fn equal_sharing(&self) -> Sharing {
        match self.suspension {
            Suspension::Independent { .. } if self.axles.len() > 1 => Sharing::SharedEquallyNotKnown,
            _ => Sharing::SharedEqually,
        }
    }

    fn check(&self, aboard: &[PointLoad]) -> Result<(), StaticsError> {
        if self.axles.is_empty() {
            return Err(StaticsError::NoAxles);
        }
        for (index, axle) in self.axles.iter().enumerate() {
            if finite(axle.station, "the axle's station")? <= Length::ZERO {
                return Err(StaticsError::AxleNotBehindCoupling(index));
            }
        }
        finite(self.empty.tongue, "the empty tongue weight")?;
        not_negative(self.empty.axles, "the empty axle weight")?;
        for load in aboard {
            finite(load.weight, "the load's weight")?;
            finite(load.station, "the load's station")?;
            finite(load.left, "the load's distance from the centre line")?;
        }
        Ok(())
    }

    /// The springs, and whether each axle's empty weight is given; `None` when axles share equally or not all is known.
    fn springs(&self) -> Result<Option<(Springs, bool)>, StaticsError> {
        let Suspension::Independent { level_at: Some(level_at), held_at: Some(held_at) } = self.suspension else {
            return Ok(None);
        };
        let Some(rates) = self.axles.iter().map(|axle| axle.rate).collect::<Option<Vec<_>>>() else {
            return Ok(None);
        };
        for rate in &rates {
            positive(*rate, "the spring rate")?;
        }
        let lowered = finite(level_at, "the level coupler height")? - finite(held_at, "the hitch height")?;
        let (split, empty_weighed) = match self.axles.iter().map(|axle| axle.empty).collect::<Option<Vec<_>>>() {
            Some(empty) => {
                for weight in &empty {
                    not_negative(*weight, "the axle's empty weight")?;
                }
                let all: Mass = empty.iter().copied().sum();
                (empty.iter().map(|weight| *weight / all).collect::<Vec<Dual>>(), all > Mass::ZERO)
            }
            None => (Vec::new(), false),
        };
        let all: Stiffness = rates.iter().copied().sum();
        let split = if empty_weighed { split } else { rates.iter().map(|rate| *rate / all).collect() };
        let springs = self.axles.iter().zip(rates).zip(split).map(|((axle, rate), part)| Spring {
            station: axle.station,
            rate,
            empty: self.empty.axles * part,
        });
        Ok(Some((Springs { springs: springs.collect(), lowered }, empty_weighed)))
    }
}
