//! Characters that act on a terminal or hide text, and visible stand-ins for them: a sheet in a pull request must not
//! be able to rewrite the reviewer's screen.

use std::borrow::Cow;
use std::fmt::Write as _;

/// Whether a character acts instead of showing: control characters, the bidirectional controls of Unicode UAX 9, and
/// zero-width characters. Line breaks and tabs are not counted.
#[must_use]
pub fn is_hidden(character: char) -> bool {
    match character {
        '\n' | '\r' | '\t' => false,
        '\u{200b}'..='\u{200f}'
        | '\u{202a}'..='\u{202e}'
        | '\u{2060}'..='\u{2069}'
        | '\u{61c}'
        | '\u{feff}'
        | '\u{2028}'
        | '\u{2029}'
        | '\u{00ad}'
        | '\u{180e}'
        | '\u{e0000}'..='\u{e007f}' => true,
        other => other.is_control(),
    }
}

/// The same text with every hidden character replaced by its code point, as `<U+202E>`, and line breaks too when `one_line` is set.
#[must_use]
pub fn visible(text: &str, one_line: bool) -> Cow<'_, str> {
    let acts = |c: char| is_hidden(c) || (one_line && matches!(c, '\n' | '\r' | '\t'));
    if !text.contains(acts) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() + 16);
    for c in text.chars() {
        if acts(c) {
            push_stand_in(&mut out, c);
        } else {
            out.push(c);
        }
    }
    Cow::Owned(out)
}

fn push_stand_in(out: &mut String, character: char) {
    // Writing to a String cannot fail.
    let _ = write!(out, "<U+{:04X}>", u32::from(character));
}

/// A text made visible that still knows where each byte of the original went.
#[derive(Debug)]
pub struct Visible<'a> {
    /// The visible text.
    pub text: Cow<'a, str>,
    /// For every replaced character: the byte after it in the original, and after its stand-in.
    moved: Vec<(usize, usize)>,
}

impl<'a> Visible<'a> {
    /// Makes a text of several lines visible; line breaks and tabs stay.
    #[must_use]
    pub fn new(text: &'a str) -> Self {
        if !text.contains(is_hidden) {
            return Self { text: Cow::Borrowed(text), moved: Vec::new() };
        }
        let mut out = String::with_capacity(text.len() + 16);
        let mut moved = Vec::new();
        for (at, c) in text.char_indices() {
            if is_hidden(c) {
                push_stand_in(&mut out, c);
                moved.push((at + c.len_utf8(), out.len()));
            } else {
                out.push(c);
            }
        }
        Self { text: Cow::Owned(out), moved }
    }

    /// Where a byte of the original stands in the visible text.
    #[must_use]
    pub fn at(&self, offset: usize) -> usize {
        let before = self.moved.partition_point(|(from, _)| *from <= offset);
        match before.checked_sub(1).and_then(|last| self.moved.get(last)) {
            Some((from, to)) => to + (offset - from),
            None => offset,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Visible, visible};

    #[test]
    fn what_acts_is_shown_and_the_rest_is_left() {
        assert_eq!(visible("a\u{1b}[2Jb\u{202e}c\n", false), "a<U+001B>[2Jb<U+202E>c\n");
        assert_eq!(visible("a\nb", true), "a<U+000A>b");
        let seen = Visible::new("x\u{1b}yz");
        assert_eq!(seen.text, "x<U+001B>yz");
        assert_eq!((seen.at(0), seen.at(1), seen.at(2), seen.at(3)), (0, 1, 9, 10));
    }
}
