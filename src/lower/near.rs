//! The nearest known word.

/// The word of these that is nearest to what was written, when one is near enough to have been meant: the same but for
/// capital letters, hyphens and underscores, or a letter or two away, by its length. The first of several that are as near.
#[must_use]
pub fn nearest<'w>(written: &str, known: impl IntoIterator<Item = &'w str>) -> Option<&'w str> {
    closest(written, known).map(|(word, _)| word)
}

/// The same with its distance.
pub(super) fn closest<'w>(written: &str, known: impl IntoIterator<Item = &'w str>) -> Option<(&'w str, usize)> {
    // Longer than any name a person types: not worth the square of its length.
    if written.len() > 64 {
        return None;
    }
    let plain = plain(written);
    let mut best: Option<(&str, usize)> = None;
    for word in known.into_iter().take(CANDIDATES) {
        let other = self::plain(word);
        let reach = if plain.chars().count() < 3 { 0 } else { (plain.len().max(other.len()) / 4).clamp(1, 3) };
        if other.len().abs_diff(plain.len()) > 3 * (reach + 1) {
            continue;
        }
        let far = strsim::osa_distance(&plain, &other);
        if far <= reach && best.is_none_or(|(_, least)| far < least) {
            best = Some((word, far));
        }
    }
    best
}

/// How many known words are looked at: help must not cost the square of a large yard.
pub(super) const CANDIDATES: usize = 256;

fn plain(word: &str) -> String {
    word.chars().map(|c| if c == '_' || c == ' ' { '-' } else { c.to_ascii_lowercase() }).collect()
}

/// `a`, `a or b`, `a, b or c`.
pub(super) fn either<T: AsRef<str>>(words: &[T]) -> String {
    listed(words, " or ")
}

/// `a`, `a and b`, `a, b and c`.
pub(super) fn all_of<T: AsRef<str>>(words: &[T]) -> String {
    listed(words, " and ")
}

fn listed<T: AsRef<str>>(words: &[T], last: &str) -> String {
    let mut out = String::new();
    for (at, word) in words.iter().enumerate() {
        if at > 0 {
            out.push_str(if at + 1 == words.len() { last } else { ", " });
        }
        out.push_str(word.as_ref());
    }
    out
}

/// A text of the sheet as messages quote it: in quotes, cut when it is long.
pub(super) fn quoted(text: &str) -> String {
    const MOST: usize = 48;
    if text.chars().count() <= MOST {
        return format!("\"{text}\"");
    }
    let start: String = text.chars().take(MOST).collect();
    format!("\"{start}…\"")
}

#[cfg(test)]
mod tests {
    use super::{either, nearest};

    #[test]
    fn slips_are_near_and_other_words_are_not() {
        let known = ["wheelbase", "weight", "axle", "at", "rating"];
        assert_eq!(nearest("whelbase", known), Some("wheelbase"));
        assert_eq!(nearest("Weight", known), Some("weight"));
        assert_eq!(nearest("wieght", known), Some("weight"));
        assert_eq!(nearest("axel", known), Some("axle"));
        assert_eq!(nearest("an", known), None);
        assert_eq!(nearest("AT", known), Some("at"));
        assert_eq!(nearest("rope", known), None);
        assert_eq!(nearest(&"w".repeat(100_000), known), None);
    }

    #[test]
    fn lists_read_as_a_person_says_them() {
        assert_eq!(either(&["a"]), "a");
        assert_eq!(either(&["a", "b", "c"]), "a, b or c");
    }
}
