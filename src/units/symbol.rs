//! The unit symbols a sheet may write, each with its exact factor, in one table.

use super::Kind;

/// Standard gravity in m/s2 (CGPM 1901).
pub const STANDARD_GRAVITY: f64 = 9.806_65;

const LB: f64 = 0.453_592_37;
const INCH: f64 = 0.0254;
const FOOT: f64 = 12.0 * INCH;
const YARD: f64 = 36.0 * INCH;
const LBF: f64 = LB * STANDARD_GRAVITY;
const MILE: f64 = 5280.0 * FOOT;

/// A unit symbol: what it measures and how many SI units it is.
#[derive(Debug, PartialEq)]
pub struct Unit {
    /// As written in a type annotation.
    pub symbol: &'static str,
    /// As shown to a person.
    pub shown: &'static str,
    /// What it measures.
    pub kind: Kind,
    /// How many of the kind's SI unit one of it is.
    pub factor: f64,
    /// Whether it belongs to the US customary system.
    pub us: bool,
}

const fn si(symbol: &'static str, kind: Kind, factor: f64) -> Unit {
    Unit { symbol, shown: symbol, kind, factor, us: false }
}

const fn us(symbol: &'static str, kind: Kind, factor: f64) -> Unit {
    Unit { symbol, shown: symbol, kind, factor, us: true }
}

/// Every unit a sheet may write. Within a kind the first is the one that help proposes.
pub static UNITS: [Unit; 36] = [
    us("lb", Kind::Mass, LB),
    si("kg", Kind::Mass, 1.0),
    si("t", Kind::Mass, 1000.0),
    us("ton", Kind::Mass, 2000.0 * LB),
    us("lbf", Kind::Force, LBF),
    si("N", Kind::Force, 1.0),
    si("kN", Kind::Force, 1000.0),
    si("daN", Kind::Force, 10.0),
    si("kgf", Kind::Force, STANDARD_GRAVITY),
    us("in", Kind::Length, INCH),
    us("ft", Kind::Length, FOOT),
    si("mm", Kind::Length, 0.001),
    si("cm", Kind::Length, 0.01),
    si("m", Kind::Length, 1.0),
    us("yd", Kind::Length, YARD),
    si("deg", Kind::Angle, 1.0),
    Unit { symbol: "pct", shown: "%", kind: Kind::Share, factor: 0.01, us: false },
    us("mph", Kind::Speed, MILE / 3600.0),
    Unit { symbol: "kmh", shown: "km/h", kind: Kind::Speed, factor: 1000.0 / 3600.0, us: false },
    us("psi", Kind::Pressure, LBF / (INCH * INCH)),
    si("kPa", Kind::Pressure, 1000.0),
    si("bar", Kind::Pressure, 100_000.0),
    us("yd3", Kind::Volume, YARD * YARD * YARD),
    us("ft3", Kind::Volume, FOOT * FOOT * FOOT),
    si("m3", Kind::Volume, 1.0),
    si("L", Kind::Volume, 0.001),
    us("lb/yd3", Kind::Density, LB / (YARD * YARD * YARD)),
    us("lb/ft3", Kind::Density, LB / (FOOT * FOOT * FOOT)),
    si("kg/m3", Kind::Density, 1.0),
    si("t/m3", Kind::Density, 1000.0),
    us("lbf/in", Kind::Stiffness, LBF / INCH),
    us("lb/in", Kind::Stiffness, LBF / INCH),
    si("N/mm", Kind::Stiffness, 1000.0),
    si("kN/m", Kind::Stiffness, 1000.0),
    si("N/m", Kind::Stiffness, 1.0),
    si("kgf/mm", Kind::Stiffness, STANDARD_GRAVITY * 1000.0),
];

/// The unit with this symbol.
#[must_use]
pub fn unit(symbol: &str) -> Option<&'static Unit> {
    UNITS.iter().find(|unit| unit.symbol == symbol)
}

/// A unit before its number, as a sheet writes it; what holds a slash stands in quotes.
#[must_use]
pub fn annotation(symbol: &str) -> String {
    if symbol.contains('/') { format!("(\"{symbol}\")") } else { format!("({symbol})") }
}

/// The symbols that measure this kind.
pub fn units_of(kind: Kind) -> impl Iterator<Item = &'static Unit> {
    UNITS.iter().filter(move |unit| unit.kind == kind)
}

/// Reads `16 ft 4 in`, `16 ft`, `4.5 in`: metres, or nothing when the text is not of that form. Inches beside feet
/// must be less than 12, and neither part may be negative beside the other; one leading `-` turns the whole round.
///
/// ```
/// # use draylint::units::feet_and_inches;
/// assert_eq!(feet_and_inches("16 ft 4 in"), Some(196.0 * 0.0254));
/// assert_eq!(feet_and_inches("16 ft 14 in"), None);
/// ```
#[must_use]
pub fn feet_and_inches(text: &str) -> Option<f64> {
    let (sign, text) = match text.strip_prefix('-') {
        Some(rest) => (-1.0, rest),
        None => (1.0, text),
    };
    let words: Vec<&str> = text.split_whitespace().collect();
    let number = |word: &str| {
        let plain = word.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
        if plain { word.parse::<f64>().ok().filter(|value| value.is_finite()) } else { None }
    };
    let inches = match words.as_slice() {
        [feet, "ft"] => number(feet)? * 12.0,
        [inches, "in"] => number(inches)?,
        [feet, "ft", inches, "in"] => {
            let inches = number(inches)?;
            if inches >= 12.0 {
                return None;
            }
            number(feet)? * 12.0 + inches
        }
        _ => return None,
    };
    Some(sign * inches * INCH)
}

#[cfg(test)]
mod tests {
    use super::{UNITS, feet_and_inches, unit};

    #[test]
    fn every_symbol_is_there_once() {
        for one in &UNITS {
            assert_eq!(UNITS.iter().filter(|other| other.symbol == one.symbol).count(), 1, "{}", one.symbol);
            assert_eq!(unit(one.symbol), Some(one));
        }
    }

    #[test]
    fn feet_and_inches_in_words() {
        assert_eq!(feet_and_inches("20 ft"), Some(20.0 * 12.0 * 0.0254));
        assert_eq!(feet_and_inches("-1 ft 6 in"), Some(-18.0 * 0.0254));
        for wrong in ["", "ft", "4", "4 m", "1 ft -2 in", "1 ft 2", "inf ft", "1e3 ft", "2 in 1 ft", "5 ft 12 in"] {
            assert_eq!(feet_and_inches(wrong), None, "{wrong}");
        }
    }
}
