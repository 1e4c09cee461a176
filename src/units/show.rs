//! How a quantity is printed for a person: in one system of units, rounded, with thousands grouped.

use super::{Kind, Unit, unit};

/// Which system of units figures are shown in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum System {
    /// US customary: lb, in, psi, yd3.
    #[default]
    Us,
    /// SI as the trade uses it: kg, m, kPa, m3.
    Si,
}

impl System {
    /// The unit of this system in which a kind is shown, and the decimals that are worth printing when no spread says
    /// better.
    fn unit(self, kind: Kind) -> (&'static Unit, usize) {
        let (symbol, decimals) = match (self, kind) {
            (Self::Us, Kind::Mass) => ("lb", 0),
            (Self::Si, Kind::Mass) => ("kg", 0),
            (Self::Us, Kind::Force) => ("lbf", 0),
            (Self::Si, Kind::Force) => ("kN", 2),
            (Self::Us, Kind::Length) => ("in", 1),
            (Self::Si, Kind::Length) => ("m", 3),
            (_, Kind::Angle) => ("deg", 1),
            (_, Kind::Share) => ("pct", 1),
            (Self::Us, Kind::Speed) => ("mph", 0),
            (Self::Si, Kind::Speed) => ("kmh", 0),
            (Self::Us, Kind::Pressure) => ("psi", 0),
            (Self::Si, Kind::Pressure) => ("kPa", 0),
            (Self::Us, Kind::Volume) => ("yd3", 2),
            (Self::Si, Kind::Volume) => ("m3", 2),
            (Self::Us, Kind::Density) => ("lb/yd3", 0),
            (Self::Si, Kind::Density) => ("kg/m3", 0),
            (Self::Us, Kind::Stiffness) => ("lbf/in", 0),
            (Self::Si, Kind::Stiffness) => ("N/mm", 0),
        };
        // Every symbol above stands in the table; a test walks all of them.
        (unit(symbol).unwrap_or(&super::UNITS[0]), decimals)
    }
}

/// A value in the kind's SI unit, as a person reads it: `13,200 lb`, `9.8 %`, `43 in`.
///
/// ```
/// # use draylint::units::{show, Kind, System};
/// assert_eq!(show(5987.4, Kind::Mass, System::Us), "13,200 lb");
/// assert_eq!(show(0.0979, Kind::Share, System::Si), "9.8 %");
/// ```
#[must_use]
pub fn show(si: f64, kind: Kind, system: System) -> String {
    let (unit, decimals) = system.unit(kind);
    format!("{} {}", grouped(si / unit.factor, decimals), unit.shown)
}

/// The same with as many decimals more as it takes to tell it from another value that is shown beside it: a figure and
/// the bound it breaks must not read alike.
#[must_use]
pub fn show_apart(si: f64, other: f64, kind: Kind, system: System) -> String {
    let (unit, decimals) = system.unit(kind);
    let shown = |value: f64, decimals: usize| grouped(value / unit.factor, decimals);
    let enough = (decimals..=9).find(|more| shown(si, *more) != shown(other, *more)).unwrap_or(decimals);
    format!("{} {}", shown(si, enough), unit.shown)
}

/// The same with the decimals that its spread supports (the spread to two significant digits, as JCGM 100, 7.2.6, has
/// it), never more than the system's own.
#[must_use]
pub fn show_with_spread(si: f64, spread: f64, kind: Kind, system: System) -> String {
    let (unit, most) = system.unit(kind);
    let spread = (spread / unit.factor).abs();
    let decimals = if spread > 0.0 && spread.is_finite() {
        // Two significant digits of the spread: its decade decides.
        (1.0 - spread.log10().floor()).clamp(0.0, 9.0)
    } else {
        9.0
    };
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 0..=9 above")]
    let decimals = (decimals as usize).min(most);
    format!("{} {}", grouped(si / unit.factor, decimals), unit.shown)
}

/// A value shown in the very unit in which an entry was written.
#[must_use]
pub fn show_in(si: f64, unit: &Unit) -> String {
    format!("{} {}", grouped(si / unit.factor, 4), unit.shown)
}

/// A value in a unit, rounded to no finer than what its spread supports: to the decade below half of it, so that what is
/// written is off by a quarter of the spread at the most. With no spread to go by, as it is.
///
/// ```
/// # use draylint::units::{show_rounded, unit};
/// let lb = unit("lb").unwrap();
/// assert_eq!(show_rounded(3263.4 * lb.factor, 90.0 * lb.factor, lb), "3,260 lb");
/// ```
#[must_use]
pub fn show_rounded(si: f64, spread: f64, unit: &Unit) -> String {
    let (value, decimals) = rounded(si, spread, unit);
    format!("{} {}", grouped(value, decimals), unit.shown)
}

/// The same as a sheet writes it: the number alone, without groups.
#[must_use]
pub fn written_rounded(si: f64, spread: f64, unit: &Unit) -> String {
    let (value, decimals) = rounded(si, spread, unit);
    grouped(value, decimals).replace(',', "")
}

/// The two ends of a range, each rounded into the range, so that what is shown keeps what the range keeps; with as many
/// decimals more as that takes.
///
/// ```
/// # use draylint::units::{show_range, Kind, System};
/// let (from, to) = show_range(0.0254 * 21.73, 0.0254 * 32.78, Kind::Length, System::Us);
/// assert_eq!((from.as_str(), to.as_str()), ("21.8 in", "32.7 in"));
/// ```
#[must_use]
pub fn show_range(from: f64, to: f64, kind: Kind, system: System) -> (String, String) {
    let (unit, decimals) = system.unit(kind);
    let rounded = |decimals: usize| {
        let scale = 10_f64.powi(i32::try_from(decimals).unwrap_or(9));
        let (from, to) = (from / unit.factor * scale, to / unit.factor * scale);
        // What is a multiple but for rounding stays it.
        ((from - 1e-6).ceil() / scale, (to + 1e-6).floor() / scale)
    };
    let fits = |decimals: &usize| {
        let (from, to) = rounded(*decimals);
        from <= to
    };
    let decimals = (decimals..=9).find(fits).unwrap_or(9);
    let (from, to) = rounded(decimals);
    let shown = |value: f64| format!("{} {}", grouped(value, decimals), unit.shown);
    (shown(from), shown(to))
}

/// The unit of a system in which a kind is shown.
#[must_use]
pub fn unit_for(kind: Kind, system: System) -> &'static Unit {
    system.unit(kind).0
}

fn rounded(si: f64, spread: f64, unit: &Unit) -> (f64, usize) {
    let (value, spread) = (si / unit.factor, (spread / unit.factor / 2.0).abs());
    if !(spread > 0.0 && spread.is_finite() && value.is_finite()) {
        return (value, 4);
    }
    let decade = spread.log10().floor().clamp(-9.0, 9.0);
    if decade < 0.0 {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 1 and 9")]
        return (value, -decade as usize);
    }
    let step = 10_f64.powf(decade);
    ((value / step).round() * step, 0)
}

/// A number with at most so many decimals, without trailing zeros, thousands grouped by commas.
fn grouped(value: f64, decimals: usize) -> String {
    // What no scale shows is told by its power of ten.
    if value.abs() >= 1e15 {
        return format!("{value:e}");
    }
    let text = format!("{value:.decimals$}");
    let (whole, fraction) = text.split_once('.').unwrap_or((&text, ""));
    let (sign, digits) = whole.strip_prefix('-').map_or(("", whole), |rest| ("-", rest));
    let fraction = fraction.trim_end_matches('0');
    let mut out = String::with_capacity(text.len() + 4);
    if digits.bytes().any(|digit| digit != b'0') || !fraction.is_empty() {
        out.push_str(sign);
    }
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    if !fraction.is_empty() {
        out.push('.');
        out.push_str(fraction);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::{System, show, show_with_spread};
    use crate::units::Kind;

    #[test]
    fn each_kind_is_shown_in_its_own_unit_of_either_system() {
        for kind in Kind::ALL {
            for system in [System::Us, System::Si] {
                assert_eq!(system.unit(kind).0.kind, kind);
            }
        }
    }

    #[test]
    fn numbers_are_grouped_and_trimmed() {
        assert_eq!(show(0.453_592_37 * 1_234_567.0, Kind::Mass, System::Us), "1,234,567 lb");
        assert_eq!(show(-0.0254 * 7.0, Kind::Length, System::Us), "-7 in");
        assert_eq!(show(-0.000_001, Kind::Length, System::Us), "0 in");
        assert_eq!(show(0.11, Kind::Share, System::Us), "11 %");
        assert_eq!(show(1.09, Kind::Length, System::Si), "1.09 m");
    }

    #[test]
    fn a_wide_spread_takes_decimals_away() {
        assert_eq!(show_with_spread(0.0979, 0.004, Kind::Share, System::Us), "9.8 %");
        assert_eq!(show_with_spread(0.0979, 0.2, Kind::Share, System::Us), "10 %");
    }
}
