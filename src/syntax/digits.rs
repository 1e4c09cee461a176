//! The form of numbers: what people write for them and KDL does not take.

use crate::units::{annotation, as_feet_and_inches, meant, without_commas};

/// The most digits a number can have: what fits 128 bits.
const MAX_DIGITS: usize = 38;

/// What is wrong, what help says, and what to write in its place where that is certain.
pub(super) type Misshapen = (&'static str, String, Option<String>);

/// What is wrong with the form of a number, if anything.
/// `annotated` is the unit in the parentheses before it, `followed` that something stands right behind it.
pub(super) fn misshapen(word: &str, annotated: Option<&str>, followed: bool) -> Option<Misshapen> {
    let write = |message, instead: String| Some((message, format!("write {instead}"), Some(instead)));
    let digits = word.chars().filter(char::is_ascii_digit).count();
    let (number, unit) = split_unit(word);
    let glued = !unit.is_empty() && plain(number) && !word.starts_with("0x");
    if let Some(body) = word.strip_suffix(',').filter(|body| plain(body)) {
        let blank = if followed { " " } else { "" };
        let instead = Some(format!("{body}{blank}"));
        return Some(("values are separated by blanks, without commas", format!("write {body}"), instead));
    }
    if word.contains(',') && plain(&word.replace(',', "")) {
        let message = "numbers are written without commas";
        return match without_commas(word) {
            Some(instead) => write(message, instead),
            None => Some((message, "write a decimal point, or the digits alone".to_owned(), None)),
        };
    }
    if glued && unit.starts_with(['\'', '"', '’', '″', '′']) {
        let instead = match (meant(unit), as_feet_and_inches(word)) {
            (Some(unit), _) => Some(format!("({}){number}", unit.symbol)),
            (None, text) => text.map(|text| format!("\"{text}\"")),
        };
        let message = "marks for feet and inches are not read";
        let help = instead.as_ref().map_or_else(
            || format!("write (ft){number} or (in){number}, or feet and inches as text, as \"16 ft 4 in\""),
            |instead| format!("write {instead}"),
        );
        return Some((message, help, instead.filter(|_| annotated.is_none())));
    }
    if let Some(before) = annotated.filter(|_| glued) {
        // Only where both say the same is one of them to spare.
        let same = meant(unit).is_some_and(|unit| unit.symbol == before.trim_matches('"'));
        let instead = same.then(|| number.to_owned());
        return Some(("the unit stands before the number only", format!("write {number}"), instead));
    }
    if glued {
        let one = meant(unit).map(|unit| format!("{}{number}", annotation(unit.symbol)));
        let known = one.or_else(|| as_feet_and_inches(word).map(|text| format!("\"{text}\"")));
        let help = known.clone().unwrap_or_else(|| format!("({unit}){number}"));
        return Some(("a unit stands before its number, in parentheses", format!("write {help}"), known));
    }
    if plain(&word.replacen('.', "0.", 1)) && word.trim_start_matches(['+', '-']).starts_with('.') {
        return write("a number begins with a digit", word.replacen('.', "0.", 1));
    }
    if word.strip_suffix('.').is_some_and(plain) {
        return write("a number ends with a digit", word.trim_end_matches('.').to_owned());
    }
    let long = digits > MAX_DIGITS && plain(word);
    long.then(|| ("this number has more digits than can be read", "write it shorter".to_owned(), None))
}

/// Whether a word begins as a number does.
pub(super) fn numeric(word: &str) -> bool {
    let body = word.trim_start_matches(['+', '-']);
    let body = body.strip_prefix('.').unwrap_or(body);
    body.starts_with(|c: char| c.is_ascii_digit())
}

/// Whether a word is a plain decimal number.
fn plain(word: &str) -> bool {
    let body = word.strip_prefix(['+', '-']).unwrap_or(word);
    let (whole, part) = body.split_once('.').unwrap_or((body, "0"));
    let digits = |text: &str| !text.is_empty() && text.chars().all(|c| c.is_ascii_digit() || c == '_');
    digits(whole) && digits(part) && !whole.starts_with('_') && !part.starts_with('_')
}

/// A number and what is glued to its end.
fn split_unit(word: &str) -> (&str, &str) {
    let end =
        word.find(|c: char| !(c.is_ascii_digit() || matches!(c, '+' | '-' | '.' | '_' | ','))).unwrap_or(word.len());
    word.split_at(end)
}
