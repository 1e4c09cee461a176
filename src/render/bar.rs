//! How much room a figure has to its limit, as a bar and in words.

use super::Style;
use super::style::Ink;
use crate::expr::TOLERANCE;
use crate::units::{Kind, System, show, show_with_spread};

/// A bound a figure must keep.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Limit {
    Least(f64),
    Most(f64),
}

/// A quantity of a kind, or a plain number, as a person reads it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Shown {
    pub(super) kind: Option<Kind>,
    pub(super) system: System,
    pub(super) spread: Option<f64>,
}

impl Limit {
    pub(super) const fn value(self) -> f64 {
        match self {
            Self::Least(value) | Self::Most(value) => value,
        }
    }

    /// How far a value is on the right side of the limit; negative beyond it.
    fn margin(self, value: f64) -> f64 {
        let margin = match self {
            Self::Least(least) => value - least,
            Self::Most(most) => most - value,
        };
        // What is judged as equal is shown as equal.
        if margin.abs() <= TOLERANCE * self.value().abs().max(1.0) { 0.0 } else { margin }
    }

    /// The room that a value has left as a part of the larger of value and limit, from -1 to 1, negative beyond the limit.
    /// None of a limit at zero that is kept: there is no part to tell.
    pub(super) fn part(self, value: f64) -> Option<f64> {
        let margin = self.margin(value);
        if !margin.is_finite() || (margin >= 0.0 && self.value() == 0.0) {
            return None;
        }
        let scale = value.abs().max(self.value().abs());
        Some(if scale > 0.0 { (margin / scale).clamp(-1.0, 1.0) } else { 0.0 })
    }

    /// `min 11 %`, `max 9,900 lb`.
    pub(super) fn text(self, shown: Shown) -> String {
        let word = if matches!(self, Self::Least(_)) { "min" } else { "max" };
        format!("{word} {}", Shown { spread: None, ..shown }.text(self.value()))
    }

    /// The bar of the room that a value has left, in so many cells: full when nothing of the limit is used, empty at
    /// the limit, and crosses for how far it is beyond. None where a limit is zero and kept.
    pub(super) fn bar(self, value: f64, cells: u32, style: Style) -> String {
        let (room, beyond, empty) = if style.unicode { ('■', '×', '·') } else { ('#', 'x', '.') };
        let Some(part) = self.part(value) else { return String::new() };
        let mut filled = 0;
        while filled < cells && f64::from(filled) + 0.5 <= part.abs() * f64::from(cells) {
            filled += 1;
        }
        // What is beyond its limit never looks as if it stood at it.
        if part < 0.0 {
            filled = filled.max(1);
        }
        let (mark, ink) = if part < 0.0 { (beyond, Ink::Bad) } else { (room, Ink::Good) };
        let full: String = std::iter::repeat_n(mark, filled as usize).collect();
        let rest: String = std::iter::repeat_n(empty, (cells - filled) as usize).collect();
        format!("{}{rest}", style.paint(ink, &full))
    }

    /// The room in words: `1,290 lb left`, `1.2 % short`, `310 lb over`, `at the limit`.
    pub(super) fn room(self, value: f64, shown: Shown) -> String {
        let margin = self.margin(value);
        if !margin.is_finite() {
            return String::new();
        }
        let number = shown.text(margin.abs());
        let rounds_away = number.bytes().filter(u8::is_ascii_digit).all(|digit| digit == b'0');
        match (margin < 0.0, rounds_away, self) {
            (true, true, Self::Least(_)) => "just short".to_owned(),
            (true, true, Self::Most(_)) => "just over".to_owned(),
            (true, false, Self::Least(_)) => format!("{number} short"),
            (true, false, Self::Most(_)) => format!("{number} over"),
            (false, true, _) => "at the limit".to_owned(),
            (false, false, _) => format!("{number} left"),
        }
    }
}

impl Shown {
    /// The value with its unit, rounded to what the spread supports.
    pub(super) fn text(self, value: f64) -> String {
        if !value.is_finite() {
            return "not a number".to_owned();
        }
        match (self.kind, self.spread) {
            (Some(kind), Some(spread)) => show_with_spread(value, spread, kind, self.system),
            (Some(kind), None) => show(value, kind, self.system),
            (None, _) => plain(value),
        }
    }

    /// The spread as `± 40`, without the unit that stands beside the value.
    pub(super) fn spread(self, style: Style) -> String {
        let Some(spread) = self.spread.filter(|spread| spread.is_finite() && *spread > 0.0) else {
            return String::new();
        };
        let text = self.text(spread);
        let number = if self.kind.is_some() { text.split(' ').next().unwrap_or("") } else { &text };
        if number == "0" { String::new() } else { format!("{} {number}", style.plus_minus()) }
    }
}

/// A plain number with two decimals at most.
fn plain(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::{Limit, Shown};
    use crate::render::Style;
    use crate::units::{Kind, System};

    #[test]
    fn a_bar_shows_the_room_and_what_is_beyond() {
        let style = Style { unicode: false, ..Style::PLAIN };
        assert_eq!(Limit::Most(100.0).bar(70.0, 10, style), "###.......");
        assert_eq!(Limit::Most(100.0).bar(100.0, 10, style), "..........");
        assert_eq!(Limit::Most(100.0).bar(100.1, 10, style), "x.........");
        assert_eq!(Limit::Least(1.0).bar(2.0, 10, style), "#####.....");
        assert_eq!(Limit::Least(1.0).bar(-1.0, 10, style), "xxxxxxxxxx");
        assert_eq!(Limit::Least(0.0).bar(0.5, 10, style), "");
        assert_eq!(Limit::Least(0.0).bar(-0.5, 10, style), "xxxxxxxxxx");
        assert_eq!(Limit::Least(f64::NAN).bar(0.0, 10, style), "");
    }

    #[test]
    fn a_fault_that_rounds_away_is_still_told() {
        let shown = Shown { kind: Some(Kind::Share), system: System::Us, spread: None };
        assert_eq!(Limit::Least(0.11).room(0.109_99, shown), "just short");
        assert_eq!(Limit::Most(0.11).room(0.110_01, shown), "just over");
        assert_eq!(Limit::Most(0.11).room(0.11, shown), "at the limit");
        assert_eq!(Limit::Least(0.11).room(0.098, shown), "1.2 % short");
    }
}
