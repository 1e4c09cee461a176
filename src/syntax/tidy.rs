//! A text laid out uniformly: four blanks for each level of braces, no blanks at a line's end, one empty line at the most,
//! a line break at the end. Only what lies between tokens changes: comments, texts, numbers as they were written and columns
//! that were lined up stay.

use super::lex::{Kind, Lexer, Token};
use super::parse;
use crate::text::FileId;

/// Blanks for each level.
const INDENT: &str = "    ";

/// The text as it should be laid out; none where it cannot be read whole, for nobody knows what is meant then.
///
/// ```
/// let tidy = draylint::syntax::tidy("truck \"rook\"{\n  gvwr (lb)14000   \n\n\n}").expect("KDL");
/// assert_eq!(tidy, "truck \"rook\" {\n    gvwr (lb)14000\n}\n");
/// ```
#[must_use]
pub fn tidy(text: &str) -> Option<String> {
    let whole = |text: &str| {
        let parsed = parse(FileId(0), text);
        parsed.findings.iter().all(|finding| finding.rule != "not-kdl") && parsed.document.is_some()
    };
    if !whole(text) {
        return None;
    }
    let laid = Layout::of(text);
    // A layout that could not be read would be worse than none.
    whole(&laid).then_some(laid)
}

struct Layout<'t> {
    text: &'t str,
    out: String,
    /// The line break of this text.
    newline: &'t str,
    depth: usize,
    /// Whether nothing has stood on this line yet.
    fresh: bool,
    /// Whether this line continues the one before.
    continued: bool,
    /// Blanks since the last token of this line.
    blanks: &'t str,
    /// Empty lines since the last line with something on it.
    empty: usize,
    /// The token before, blanks and line breaks left out.
    before: Option<Kind>,
}

impl<'t> Layout<'t> {
    fn of(text: &'t str) -> String {
        let start = usize::from(text.starts_with('\u{feff}')) * '\u{feff}'.len_utf8();
        let (mark, body) = text.split_at(start);
        let newline = if body.contains("\r\n") { "\r\n" } else { "\n" };
        let mut layout = Self {
            text,
            out: mark.to_owned(),
            newline,
            depth: 0,
            fresh: true,
            continued: false,
            blanks: "",
            empty: 0,
            before: None,
        };
        for token in Lexer::new(text, start..text.len()) {
            layout.token(token);
        }
        if !layout.fresh {
            layout.out.push_str(newline);
        }
        layout.out
    }

    fn token(&mut self, token: Token) {
        let text = self.text.get(token.range()).unwrap_or_default();
        match token.kind {
            Kind::Blank => self.blanks = text,
            Kind::Newline => {
                if self.fresh {
                    self.empty += 1;
                } else {
                    self.out.push_str(self.newline);
                }
                (self.fresh, self.continued, self.blanks) = (true, false, "");
            }
            kind => {
                if kind == Kind::Close {
                    self.depth = self.depth.saturating_sub(1);
                }
                self.lead(kind);
                self.put(kind, text);
                self.depth += usize::from(kind == Kind::Open);
                // After a brace and a comment beside it the block has not begun either.
                let beside = kind == Kind::LineComment && !self.fresh && self.before == Some(Kind::Open);
                self.before = if beside { self.before } else { Some(kind) };
                (self.fresh, self.blanks, self.empty) = (false, "", 0);
                if kind == Kind::Continuation {
                    (self.fresh, self.continued) = (true, true);
                }
            }
        }
    }

    /// What comes before a token: its line's indentation, or blanks.
    fn lead(&mut self, kind: Kind) {
        if self.fresh {
            let opened = matches!(self.before, None | Some(Kind::Open));
            if self.empty > 0 && !opened && kind != Kind::Close && !self.continued {
                self.out.push_str(self.newline);
            }
            for _ in 0..self.depth + usize::from(self.continued) {
                self.out.push_str(INDENT);
            }
            return;
        }
        match kind {
            Kind::Semicolon => {}
            // `{}` stays as it is.
            Kind::Close if self.before == Some(Kind::Open) => {}
            Kind::Open | Kind::Close => self.out.push(' '),
            Kind::LineComment if self.blanks.is_empty() => self.out.push(' '),
            Kind::LineComment => self.out.push_str(self.blanks),
            _ if matches!(self.before, Some(Kind::Open | Kind::Semicolon)) => self.out.push(' '),
            _ => self.out.push_str(self.blanks),
        }
    }

    fn put(&mut self, kind: Kind, text: &str) {
        match kind {
            // Blanks at a comment's end are no part of what it says.
            Kind::LineComment => self.out.push_str(text.trim_end()),
            Kind::Continuation => {
                self.out.push('\\');
                if let Some((_, comment)) = text.split_once("//") {
                    self.out.push_str(" //");
                    self.out.push_str(comment.trim_end());
                }
                self.out.push_str(self.newline);
            }
            _ => self.out.push_str(text),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::tidy;

    fn laid(text: &str) -> String {
        let once = tidy(text).expect("KDL");
        assert_eq!(tidy(&once).as_deref(), Some(&*once), "a second time changes nothing");
        once
    }

    #[test]
    fn comments_and_columns_stay() {
        let text = "\n\n// head  \na{\n\tb 1   x=2 // why\n\n\n   /* two\n  lines */ c\n\n}\n\n\n\nd;e\n";
        assert_eq!(laid(text), "// head\na {\n    b 1   x=2 // why\n\n    /* two\n  lines */ c\n}\n\nd; e\n");
    }

    #[test]
    fn braces_on_one_line() {
        assert_eq!(laid("a {b 1;c}\n"), "a { b 1; c }\n");
        assert_eq!(laid("a {}"), "a {}\n");
        assert_eq!(laid("a { // why\n\n\n b\n}"), "a { // why\n    b\n}\n");
        assert_eq!(laid("a {  b ; }"), "a { b; }\n");
    }

    #[test]
    fn texts_of_several_lines_keep_every_byte() {
        let text = "a {\n  b \"\"\"\n      one  \n      two\n      \"\"\"\n}\n";
        assert_eq!(laid(text), "a {\n    b \"\"\"\n      one  \n      two\n      \"\"\"\n}\n");
    }

    #[test]
    fn line_breaks_and_marks_stay() {
        assert_eq!(laid("\u{feff}a {\r\nb \\\r\n 1\r\n}\r\n"), "\u{feff}a {\r\n    b \\\r\n        1\r\n}\r\n");
    }

    #[test]
    fn what_cannot_be_read_is_left_alone() {
        assert_eq!(tidy("a {\n"), None);
        assert_eq!(tidy("a \"b\n"), None);
    }
}
