//! Breaking prose into lines of a given width, counted in columns of a terminal.

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

/// How many columns a text fills.
pub(super) fn columns(text: &str) -> usize {
    text.width()
}

/// How many columns a character fills.
pub(super) fn char_columns(character: char) -> usize {
    character.width().unwrap_or(0)
}

/// The words of a text in lines of at most `width` columns; a word longer than a line is broken. Never empty.
#[must_use]
pub fn wrap(text: &str, width: usize) -> Vec<String> {
    let width = width.max(1);
    let mut lines = vec![];
    let mut line = String::new();
    let mut filled = 0;
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let wide = columns(word);
        if filled > 0 && filled + 1 + wide > width {
            lines.push(std::mem::take(&mut line));
            filled = 0;
        }
        if filled > 0 {
            line.push(' ');
            filled += 1;
        }
        if filled + wide <= width {
            line.push_str(word);
            filled += wide;
            continue;
        }
        for c in word.chars() {
            let wide = char_columns(c);
            if filled > 0 && filled + wide > width {
                lines.push(std::mem::take(&mut line));
                filled = 0;
            }
            line.push(c);
            filled += wide;
        }
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}

/// Writes a text in lines of at most `width` columns, the first after `first`, the others after as many blanks as
/// `indent` says.
pub(super) fn paragraph(out: &mut String, first: &str, text: &str, indent: usize, width: usize) {
    for (at, line) in wrap(text, width.saturating_sub(indent)).iter().enumerate() {
        if at == 0 {
            out.push_str(first);
        } else {
            out.extend(std::iter::repeat_n(' ', indent));
        }
        out.push_str(line);
        // A text of nothing leaves the blanks before it behind.
        out.truncate(out.trim_end_matches(' ').len());
        out.push('\n');
    }
}

#[cfg(test)]
mod tests {
    use super::wrap;

    #[test]
    fn lines_hold_whole_words_where_they_can() {
        assert_eq!(wrap("one two  three", 7), ["one two", "three"]);
        assert_eq!(wrap("abcdefghij kl", 4), ["abcd", "efgh", "ij", "kl"]);
        assert_eq!(wrap("", 4), [""]);
    }

    #[test]
    fn wide_characters_count_twice() {
        assert_eq!(wrap("日本 日本", 4), ["日本", "日本"]);
    }
}
