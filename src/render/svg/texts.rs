//! Texts of sheets in a picture: cut, made visible and escaped, so that nothing in them acts.

use crate::render::place::shown;
use crate::render::wrap::columns;

/// What a column of text takes of its size at the most, for the widest of the common faces.
pub(super) const COLUMN: f64 = 0.62;
/// How long a name may be before its middle is left out.
const NAME: usize = 40;

/// How wide a text can be.
pub(super) fn wide(text: &str, size: f64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a line has some hundred columns")]
    let filled = columns(text) as f64;
    filled * size * COLUMN
}

/// A text of a sheet without characters that act, and without those that XML does not know.
pub(super) fn visible(text: &str) -> String {
    shown(text).chars().map(|c| if matches!(c, '\u{fffe}' | '\u{ffff}') { '\u{fffd}' } else { c }).collect()
}

/// The same with every number and its unit on one line.
pub(super) fn kept(text: &str) -> String {
    const UNITS: [&str; 9] = ["%", "lb", "in", "kg", "m", "deg", "yd3", "m3", "x"];
    let mut out = String::with_capacity(text.len());
    for word in text.split(' ') {
        let unit = UNITS.contains(&word.trim_end_matches([';', ',', ':', ')', '.']));
        let after = unit && out.ends_with(|c: char| c.is_ascii_digit());
        if !out.is_empty() {
            out.push(if after { '\u{a0}' } else { ' ' });
        }
        out.push_str(word);
    }
    out
}

/// A name, its middle left out where it is long.
pub(super) fn named(name: &str) -> String {
    shortened(name, NAME)
}

/// A text, its middle left out where it is long.
pub(super) fn shortened(text: &str, most: usize) -> String {
    let text = visible(text);
    let count = text.chars().count();
    if count <= most {
        return text;
    }
    let half = most / 2;
    let (head, tail): (String, String) =
        (text.chars().take(half).collect(), text.chars().skip(count - half + 1).collect());
    format!("{head}…{tail}")
}

pub(super) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::named;

    #[test]
    fn a_long_name_keeps_both_ends() {
        let name = named(&format!("start{}end", "x".repeat(5000)));
        assert!(name.starts_with("start") && name.ends_with("end") && name.chars().count() == 40, "{name}");
        assert_eq!(named("<\u{202e}\u{ffff}>"), "<<U+202E>\u{fffd}>");
    }
}
