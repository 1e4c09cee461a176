//! What the tires on one side of an axle may carry.

use crate::units::{Mass, Pressure};

use super::error::{StaticsError, finite, not_negative, positive};
use super::load_index::LoadIndexes;

/// A passenger-car tire on a trailer, truck or multipurpose vehicle counts for its rating divided by this.
///
/// 49 CFR 571.110 S4.2.2.2 and 571.120 S5.1.2 (seen for 571.120: `../shared/reference/us-rules.md` 5; memory for
/// 571.110). It holds for P-metric tires, not for LT or ST (memory).
pub const PASSENGER_TIRE_DIVISOR: f64 = 1.10;

/// How LT load grows with pressure: `L = Lmax (P/Pmax)^0.7` (memory, confirmed by a fit to a published table within
/// 0.8 %: `../shared/reference/towing-and-statics.md` 8.2, T2). ST tables rise more slowly, with 0.58 to 0.60, so for
/// ST the same formula understates: three published tables lie 1.4 to 10.5 % above it, least near full pressure (T3, secondary).
const LT_EXPONENT: f64 = 0.7;

/// The kind of tire, as its marking begins or ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum TireKind {
    /// `P`: passenger car.
    Passenger,
    /// `LT`: light truck.
    LightTruck,
    /// `ST`: special trailer service.
    Trailer,
    /// Any other, or not said.
    #[default]
    Other,
}

/// How the sheet says what one tire carries at its rated pressure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TireRating {
    /// As marked on the sidewall, for the fitment it is in.
    Each(Mass),
    /// By load index.
    Index(LoadIndexes),
}

/// The tires on one side of an axle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WheelTires {
    /// How many on this side: 1, or 2 for duals.
    pub count: u32,
    /// What each carries.
    pub rating: TireRating,
    /// Whether they are fitted as duals; picks the second load index.
    pub dual: bool,
    /// Their kind.
    pub kind: TireKind,
    /// What they are inflated to, when said.
    pub pressure: Option<Pressure>,
    /// The pressure their rating is for, when said.
    pub max_pressure: Option<Pressure>,
}

/// Why the load at a stated pressure is not known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CapacityUnknown {
    /// The pressure is said, but not the one the rating is for.
    NoMaxPressure,
    /// Below rated pressure, and for this kind of tire no formula is sure enough.
    NoFormula,
}

/// What the tires carry at the pressure they have.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum AtPressure {
    /// The rating itself: at rated pressure or above (which adds nothing), or no pressure said.
    Exact(Mass),
    /// Below rated pressure, by the LT formula: an estimate to within about 1 %.
    Estimate(Mass),
    /// Below rated pressure, by the LT formula on an ST tire: it carries this much and some more.
    AtLeast(Mass),
    /// Below what the full rating says by an unknown amount.
    CannotTell(CapacityUnknown),
}

/// What the tires on one side of an axle may carry.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TireCapacity {
    /// At rated pressure, all tires of the side together: a load above this is too much at any pressure.
    pub full: Mass,
    /// At the pressure they have.
    pub at_pressure: AtPressure,
}

impl WheelTires {
    /// What these tires may carry: `count × rating`, a passenger tire's rating ÷ 1.10, below rated pressure scaled by
    /// `(p/pmax)^0.7`. `None` when the load index is not in the table.
    ///
    /// # Errors
    /// A count of zero; a rating or rated pressure not above zero; a pressure below zero; anything non-finite.
    ///
    /// ```
    /// # use draylint::physics::{AtPressure, TireKind, TireRating, WheelTires};
    /// # use draylint::units::Mass;
    /// let tires = WheelTires {
    ///     count: 2,
    ///     rating: TireRating::Each(Mass::new(880.0)),
    ///     dual: false,
    ///     kind: TireKind::Passenger,
    ///     pressure: None,
    ///     max_pressure: None,
    /// };
    /// let capacity = tires.capacity()?.unwrap();
    /// assert!((capacity.full.si() - 1600.0).abs() < 1e-9);
    /// assert_eq!(capacity.at_pressure, AtPressure::Exact(capacity.full));
    /// # Ok::<(), draylint::physics::StaticsError>(())
    /// ```
    pub fn capacity(&self) -> Result<Option<TireCapacity>, StaticsError> {
        if self.count == 0 {
            return Err(StaticsError::NotPositive("the number of tires"));
        }
        let each = match self.rating {
            TireRating::Each(mass) => mass,
            TireRating::Index(indexes) => match indexes.each(self.dual) {
                Some(mass) => mass,
                None => return Ok(None),
            },
        };
        let each = positive(each, "the tire's rating")?;
        let divisor = if self.kind == TireKind::Passenger { PASSENGER_TIRE_DIVISOR } else { 1.0 };
        let full = finite(each * f64::from(self.count) / divisor, "the tires' capacity")?;
        Ok(Some(TireCapacity { full, at_pressure: self.at_pressure(full)? }))
    }

    fn at_pressure(&self, full: Mass) -> Result<AtPressure, StaticsError> {
        let rated = self.max_pressure.map(|rated| positive(rated, "the tire's rated pressure")).transpose()?;
        let Some(pressure) = self.pressure else {
            return Ok(AtPressure::Exact(full));
        };
        not_negative(pressure, "the tire's pressure")?;
        let Some(rated) = rated else {
            return Ok(AtPressure::CannotTell(CapacityUnknown::NoMaxPressure));
        };
        if pressure >= rated {
            return Ok(AtPressure::Exact(full));
        }
        let scaled = full * (pressure / rated).powf(LT_EXPONENT);
        Ok(match self.kind {
            TireKind::LightTruck => AtPressure::Estimate(scaled),
            TireKind::Trailer => AtPressure::AtLeast(scaled),
            TireKind::Passenger | TireKind::Other => AtPressure::CannotTell(CapacityUnknown::NoFormula),
        })
    }
}
