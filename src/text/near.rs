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
    best(written, known).map(|best| (best.word, best.far))
}

/// The nearest, and whether it must have been meant: no other is as near, and the digits are the same. A digit more or
/// less is another thing and no slip of the hand.
#[must_use]
pub fn nearest_and_only<'w>(written: &str, known: impl IntoIterator<Item = &'w str>) -> Option<(&'w str, bool)> {
    let mut known = known.into_iter();
    let best = best(written, known.by_ref())?;
    let digits = |text: &str| text.chars().filter(char::is_ascii_digit).collect::<String>();
    let only = !best.tied && known.next().is_none() && digits(written) == digits(best.word);
    Some((best.word, only))
}

/// The word that must have been meant.
#[must_use]
pub fn only_near<'w>(written: &str, known: impl IntoIterator<Item = &'w str>) -> Option<&'w str> {
    nearest_and_only(written, known).and_then(|(word, only)| only.then_some(word))
}

struct Best<'w> {
    word: &'w str,
    far: usize,
    /// Another is as near.
    tied: bool,
}

fn best<'w>(written: &str, known: impl IntoIterator<Item = &'w str>) -> Option<Best<'w>> {
    // Longer than any name a person types: not worth the square of its length.
    if written.len() > 64 {
        return None;
    }
    let plain = plain(written);
    let mut best: Option<Best<'w>> = None;
    for word in known.into_iter().take(CANDIDATES) {
        let other = self::plain(word);
        let reach = if plain.chars().count() < 3 { 0 } else { (plain.len().max(other.len()) / 4).clamp(1, 3) };
        if other.len().abs_diff(plain.len()) > 3 * (reach + 1) {
            continue;
        }
        let far = strsim::osa_distance(&plain, &other);
        if far > reach {
            continue;
        }
        match &mut best {
            Some(best) if far > best.far => {}
            Some(best) if far == best.far => best.tied |= word != best.word,
            _ => best = Some(Best { word, far, tied: false }),
        }
    }
    best
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
