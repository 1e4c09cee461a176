//! Lists and quotations as messages say them.

/// `a`, `a or b`, `a, b or c`.
#[must_use]
pub fn either<T: AsRef<str>>(words: &[T]) -> String {
    listed(words, " or ")
}

/// `a`, `a and b`, `a, b and c`.
#[must_use]
pub fn all_of<T: AsRef<str>>(words: &[T]) -> String {
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
#[must_use]
pub fn quoted(text: &str) -> String {
    const MOST: usize = 48;
    if text.chars().count() <= MOST {
        return format!("\"{text}\"");
    }
    let start: String = text.chars().take(MOST).collect();
    format!("\"{start}…\"")
}

#[cfg(test)]
mod tests {
    use super::either;

    #[test]
    fn lists_read_as_a_person_says_them() {
        assert_eq!(either(&["a"]), "a");
        assert_eq!(either(&["a", "b", "c"]), "a, b or c");
    }
}
