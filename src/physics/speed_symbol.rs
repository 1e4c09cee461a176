//! The speed symbol of a tire and what it stands for.

use crate::units::Speed;

/// A speed symbol and its speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpeedSymbol {
    /// As marked on the tire.
    pub symbol: &'static str,
    /// The highest speed at which the tire carries the load of its index.
    pub speed: Speed,
}

const fn kmh(symbol: &'static str, kmh: f64) -> SpeedSymbol {
    SpeedSymbol { symbol, speed: Speed::new(kmh * 1000.0 / 3600.0) }
}

/// The speed symbols, slowest first, in km/h (`../shared/reference/towing-and-statics.md` 8.1). H stands between U and
/// V for historical reasons.
pub static SPEED_SYMBOLS: [SpeedSymbol; 22] = [
    kmh("A8", 40.0), // secondary
    kmh("B", 50.0),  // secondary
    kmh("C", 60.0),  // memory
    kmh("D", 65.0),  // memory
    kmh("E", 70.0),  // memory
    kmh("F", 80.0),  // memory
    kmh("G", 90.0),  // memory
    kmh("J", 100.0), // memory
    kmh("K", 110.0), // memory
    kmh("L", 120.0), // memory
    kmh("M", 130.0), // memory
    kmh("N", 140.0), // memory
    kmh("P", 150.0), // memory
    kmh("Q", 160.0), // secondary
    kmh("R", 170.0), // memory
    kmh("S", 180.0), // secondary
    kmh("T", 190.0), // secondary
    kmh("U", 200.0), // secondary
    kmh("H", 210.0), // secondary
    kmh("V", 240.0), // secondary
    kmh("W", 270.0), // secondary
    kmh("Y", 300.0), // secondary
];

/// The speed of this symbol; `None` when it is not in the table. Capital letters, as marked.
///
/// ```
/// # use draylint::physics::speed_symbol;
/// let q = speed_symbol("Q").unwrap();
/// assert!((q.si() * 3.6 - 160.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn speed_symbol(symbol: &str) -> Option<Speed> {
    SPEED_SYMBOLS.iter().find(|one| one.symbol == symbol).map(|one| one.speed)
}
