//! The nearest known word.

/// The word of these that is nearest to what was written, when one is near enough to have been meant: the same but for
/// capital letters, hyphens and underscores, or a letter or two away, by its length. The first of several that are as near.
#[must_use]
pub fn nearest<'w>(written: &str, known: impl IntoIterator<Item = &'w str>) -> Option<&'w str> {
    closest(written, known).map(|(word, _)| word)
}

/// The same with its distance.
#[must_use]
pub fn closest<'w>(written: &str, known: impl IntoIterator<Item = &'w str>) -> Option<(&'w str, usize)> {
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

/// The word that must have been meant: the nearest, where no other is as near and the digits are the same. A digit more
/// or less is another thing and no slip of the hand.
#[must_use]
pub fn only_near<'w>(written: &str, known: impl IntoIterator<Item = &'w str>) -> Option<&'w str> {
    let mut known = known.into_iter();
    let few: Vec<&str> = known.by_ref().take(CANDIDATES).collect();
    if known.next().is_some() {
        return None;
    }
    let (word, far) = closest(written, few.iter().copied())?;
    let as_near = |other: &str| other != word && closest(written, [other]).is_some_and(|(_, its)| its <= far);
    let digits = |text: &str| text.chars().filter(char::is_ascii_digit).collect::<String>();
    (!few.into_iter().any(as_near) && digits(written) == digits(word)).then_some(word)
}

/// How many known words are looked at: help must not cost the square of a large yard.
pub const CANDIDATES: usize = 256;

fn plain(word: &str) -> String {
    word.chars().map(|c| if c == '_' || c == ' ' { '-' } else { c.to_ascii_lowercase() }).collect()
}

#[cfg(test)]
mod tests {
    use super::{CANDIDATES, nearest, only_near};

    #[test]
    fn what_must_have_been_meant_is_one_word_with_the_same_digits() {
        assert_eq!(only_near("trenchr-30", ["trencher-30", "digger-26"]), Some("trencher-30"));
        assert_eq!(only_near("trencher-31", ["trencher-30"]), None);
        assert_eq!(only_near("trencher-3", ["trencher-30"]), None);
        assert_eq!(only_near("sled-a", ["sled-b", "sled-c"]), None);
        assert_eq!(only_near("sled", ["slet", "sled-b", "slet"]), Some("slet"));
        let many: Vec<String> = (0..=CANDIDATES).map(|at| format!("id{at}")).collect();
        assert_eq!(only_near("i-d1", many.iter().map(String::as_str)), None);
        assert_eq!(only_near("i-d1", many.iter().take(9).map(String::as_str)), Some("id1"));
    }

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
}
