//! Feet and inches as tradesmen write them, put into the form that a sheet takes.

use super::symbol::{feet_and_inches, unit};
use super::synonym::meant;

/// `5' 6"`, `5ft 6in`, `5 ft 6`, `5 ft 1/2 in` or `3 ft 14 in` as a sheet writes it; nothing when the text does not give
/// feet and then inches.
///
/// ```
/// # use draylint::units::as_feet_and_inches;
/// assert_eq!(as_feet_and_inches("5' 6 1/2\"").as_deref(), Some("5 ft 6.5 in"));
/// assert_eq!(as_feet_and_inches("40 in"), None);
/// ```
#[must_use]
pub fn as_feet_and_inches(text: &str) -> Option<String> {
    // Longer than any tape measurement.
    if text.len() > 48 {
        return None;
    }
    let text = text.trim();
    let (sign, text) = text.strip_prefix('-').map_or(("", text), |rest| ("-", rest));
    let (feet, rest) = measured(text)?;
    let (mark, rest) = rest.split_at_checked(rest.find(is_figure)?)?;
    // `5'-6"` and `5 ft, 6 in`; in `5 ft -6 in` the sign may be meant.
    let mark = mark
        .trim_end()
        .strip_suffix(',')
        .or_else(|| mark.strip_suffix('-').filter(|mark| !mark.ends_with(' ')))
        .unwrap_or(mark);
    let (inches, last) = measured(rest)?;
    let last = last.trim();
    if meant(mark.trim()) != unit("ft") || !last.is_empty() && meant(last) != unit("in") {
        return None;
    }
    let total = feet * 12.0 + inches;
    let whole = (total / 12.0).floor();
    // To a ten-thousandth, far finer than any tape.
    let left = ((total - whole * 12.0) * 1e4).round() / 1e4;
    let written = if left > 0.0 { format!("{sign}{whole} ft {left} in") } else { format!("{sign}{whole} ft") };
    feet_and_inches(&written).is_some().then_some(written)
}

const fn is_figure(c: char) -> bool {
    c.is_ascii_digit() || c == '.'
}

/// The number at the beginning of a text, and what follows it.
fn measured(text: &str) -> Option<(f64, &str)> {
    let inside = |c: char| is_figure(c) || matches!(c, '/' | ' ');
    let end = text.find(|c| !inside(c)).unwrap_or(text.len());
    let (number, rest) = text.split_at_checked(end)?;
    Some((mixed(number)?, rest))
}

/// Reads a decimal number, a fraction, or a whole number and a fraction: `2.5`, `5/16`, `2 5/16`.
#[must_use]
pub fn mixed(text: &str) -> Option<f64> {
    let number = |word: &str| word.parse::<f64>().ok().filter(|value| value.is_finite());
    let fraction = |word: &str| {
        let (over, under) = word.split_once('/')?;
        Some(number(over)? / number(under)?).filter(|value| value.is_finite())
    };
    let mut words = text.split_whitespace();
    match (words.next(), words.next(), words.next()) {
        (Some(whole), Some(part), None) => Some(number(whole)? + fraction(part)?),
        (Some(word), None, None) => number(word).or_else(|| fraction(word)),
        _ => None,
    }
}

/// A number without the commas between its thousands; none where a comma stands otherwise, as one for the decimal point.
///
/// ```
/// # use draylint::units::without_commas;
/// assert_eq!(without_commas("1,250,000 lb").as_deref(), Some("1250000 lb"));
/// assert_eq!(without_commas("2,5"), None);
/// ```
#[must_use]
pub fn without_commas(text: &str) -> Option<String> {
    let mut parts = text.split(',');
    let first = parts.next()?;
    let grouped = |part: &str| part.len() - part.trim_start_matches(|c: char| c.is_ascii_digit()).len() == 3;
    let rest: Vec<&str> = parts.collect();
    let inner = rest.iter().rev().skip(1).all(|part| part.len() == 3);
    let begins = rest.is_empty()
        || first.trim_start_matches(['+', '-']).len() <= 3 && first.ends_with(|c: char| c.is_ascii_digit());
    (begins && inner && rest.iter().all(|part| grouped(part))).then(|| text.replace(',', ""))
}

#[cfg(test)]
mod tests {
    use super::as_feet_and_inches;

    #[test]
    fn feet_and_inches_of_the_trade_are_put_right() {
        for (written, right) in [
            ("5' 6\"", "5 ft 6 in"),
            ("5'6\"", "5 ft 6 in"),
            ("5'-6\"", "5 ft 6 in"),
            ("5ft 6in", "5 ft 6 in"),
            ("5 ft, 6 in", "5 ft 6 in"),
            ("5 foot 6 inches", "5 ft 6 in"),
            ("5 ft 6", "5 ft 6 in"),
            ("5 ft 1/2 in", "5 ft 0.5 in"),
            ("5 ft 6 1/2 in", "5 ft 6.5 in"),
            ("3 ft 14 in", "4 ft 2 in"),
            ("-3 ft 14 in", "-4 ft 2 in"),
            ("3 ft 12 in", "4 ft"),
        ] {
            assert_eq!(as_feet_and_inches(written).as_deref(), Some(right), "{written}");
        }
        for wrong in [
            "",
            "5",
            "5 ft",
            "6 in 5 ft",
            "5 m 6 in",
            "5 ft 6 lb",
            "5 ft -6 in",
            "5 6 ft",
            "a 5 ft 6 in",
            "5 ft 1/0 in",
        ] {
            assert_eq!(as_feet_and_inches(wrong), None, "{wrong}");
        }
    }
}
