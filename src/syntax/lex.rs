//! The text as tokens: just enough of KDL 2 (sections 3.7 to 3.19) to know what is text, what is comment and where
//! nodes begin and end. Every byte belongs to exactly one token, and every step moves on, so a pass is linear.

use std::ops::Range;

/// What a token is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// Blanks.
    Blank,
    /// A line break.
    Newline,
    /// `//` to the end of the line.
    LineComment,
    /// `/* … */`, how deep it nests and how many line breaks are in it.
    BlockComment { depth: usize, lines: usize, closed: bool },
    /// A backslash that continues the line, with everything through the line break.
    Continuation,
    /// `/-`.
    Slashdash,
    /// `{`.
    Open,
    /// `}`.
    Close,
    /// `(`.
    ParenOpen,
    /// `)`.
    ParenClose,
    /// `=`.
    Equals,
    /// `;`.
    Semicolon,
    /// `"…"`, on one line save for escaped line breaks.
    Quoted { closed: bool },
    /// `"""…"""` or the same with `#`: `opened` when a line break follows the opening quotes, as it must.
    Lines { closed: bool, opened: bool },
    /// `#"…"#`.
    Raw { closed: bool },
    /// An identifier, a number, or `#true` and its like.
    Word,
    /// A character that KDL allows nowhere outside of text.
    Stray,
}

/// A token and its bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Token {
    pub(super) kind: Kind,
    pub(super) start: usize,
    pub(super) end: usize,
}

impl Token {
    /// Its bytes.
    pub(super) const fn range(self) -> Range<usize> {
        self.start..self.end
    }

    /// Whether it only separates other tokens within a line.
    pub(super) const fn is_blank(self) -> bool {
        matches!(self.kind, Kind::Blank | Kind::BlockComment { .. } | Kind::Continuation)
    }

    /// Whether it is any form of text in quotes.
    pub(super) const fn is_text(self) -> bool {
        matches!(self.kind, Kind::Quoted { .. } | Kind::Lines { .. } | Kind::Raw { .. })
    }
}

/// The line breaks of KDL 2 (section 3.17).
pub(super) const fn is_newline(c: char) -> bool {
    matches!(c, '\n' | '\r' | '\u{85}' | '\u{b}' | '\u{c}' | '\u{2028}' | '\u{2029}')
}

/// The blanks of KDL 2 (section 3.16).
pub(super) const fn is_blank(c: char) -> bool {
    matches!(c, '\t' | ' ' | '\u{a0}' | '\u{1680}' | '\u{2000}'..='\u{200a}' | '\u{202f}' | '\u{205f}' | '\u{3000}')
}

/// What cannot stand in a bare word (KDL 2, section 3.10).
const fn ends_word(c: char) -> bool {
    is_newline(c) || is_blank(c) || matches!(c, '\\' | '/' | '(' | ')' | '{' | '}' | ';' | '[' | ']' | '"' | '#' | '=')
}

/// Gives the tokens of a text one after another.
#[derive(Clone, Debug)]
pub(super) struct Lexer<'a> {
    text: &'a str,
    at: usize,
    end: usize,
}

impl<'a> Lexer<'a> {
    /// Over a part of a text, whose bounds must be character boundaries; nothing otherwise.
    pub(super) fn new(text: &'a str, part: Range<usize>) -> Self {
        let good = text.get(part.clone()).is_some();
        Self { text, at: if good { part.start } else { 0 }, end: if good { part.end } else { 0 } }
    }

    fn rest(&self, at: usize) -> &'a str {
        self.text.get(at..self.end).unwrap_or("")
    }

    /// The byte at a place, 0 past the end.
    fn byte(&self, at: usize) -> u8 {
        if at < self.end { self.text.as_bytes().get(at).copied().unwrap_or(0) } else { 0 }
    }

    /// The first place from here on at which the character is of this sort, or the end.
    fn find(&self, at: usize, sort: impl Fn(char) -> bool) -> usize {
        let rest = self.rest(at);
        at + rest.find(sort).unwrap_or(rest.len())
    }

    /// The first place from here on whose byte is not of this sort: a quick way past the usual ASCII.
    fn past(&self, at: usize, sort: impl Fn(u8) -> bool) -> usize {
        let rest = self.rest(at).as_bytes();
        at + rest.iter().position(|byte| !sort(*byte)).unwrap_or(rest.len())
    }

    /// The end of the line.
    fn line_end(&self, at: usize) -> usize {
        self.find(self.past(at, |byte| matches!(byte, b' '..=b'~')), is_newline)
    }

    /// The length of a line break here, 0 for none.
    fn newline(&self, at: usize) -> usize {
        let rest = self.rest(at);
        if rest.starts_with("\r\n") {
            return 2;
        }
        rest.chars().next().filter(|c| is_newline(*c)).map_or(0, char::len_utf8)
    }

    fn step(&self) -> (Kind, usize) {
        let at = self.at;
        let one = |kind| (kind, at + 1);
        match self.byte(at) {
            b'{' => one(Kind::Open),
            b'}' => one(Kind::Close),
            b'(' => one(Kind::ParenOpen),
            b')' => one(Kind::ParenClose),
            b'=' => one(Kind::Equals),
            b';' => one(Kind::Semicolon),
            b'[' | b']' => one(Kind::Stray),
            b'"' => self.quoted(),
            b'#' => self.hashed(),
            // A byte-order mark may begin the text, and stands nowhere else (KDL 2, section 3.1).
            _ if at == 0 && self.rest(at).starts_with('\u{feff}') => (Kind::Blank, '\u{feff}'.len_utf8()),
            b'\\' => self.continuation(),
            b'/' => match self.byte(at + 1) {
                b'/' => (Kind::LineComment, self.line_end(at)),
                b'*' => self.block_comment(),
                b'-' => (Kind::Slashdash, at + 2),
                _ => one(Kind::Stray),
            },
            b' ' | b'\t' => (Kind::Blank, self.find(self.past(at, |byte| byte == b' '), |c| !is_blank(c))),
            byte if byte.is_ascii_alphanumeric() => {
                let plain = |byte: u8| byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'.' | b'_');
                (Kind::Word, self.find(self.past(at, plain), ends_word))
            }
            b'\n' => one(Kind::Newline),
            _ => match self.newline(at) {
                0 => {
                    let blanks = self.find(at, |c| !is_blank(c));
                    if blanks > at { (Kind::Blank, blanks) } else { (Kind::Word, self.find(at, ends_word)) }
                }
                length => (Kind::Newline, at + length),
            },
        }
    }

    /// A backslash, blanks, perhaps a line comment, and a line break or the end (KDL 2, section 3.3).
    fn continuation(&self) -> (Kind, usize) {
        let mut at = self.find(self.at + 1, |c| !is_blank(c));
        if self.rest(at).starts_with("//") {
            at = self.find(at, is_newline);
        }
        match self.newline(at) {
            0 if at < self.end => (Kind::Stray, self.at + 1),
            length => (Kind::Continuation, at + length),
        }
    }

    fn block_comment(&self) -> (Kind, usize) {
        let (mut depth, mut deepest, mut lines) = (1, 1, 0);
        let mut at = self.at + 2;
        while depth > 0 && at < self.end {
            match (self.byte(at), self.byte(at + 1)) {
                (b'/', b'*') => {
                    depth += 1;
                    deepest = deepest.max(depth);
                    at += 2;
                }
                (b'*', b'/') => {
                    depth -= 1;
                    at += 2;
                }
                _ => {
                    let length = self.newline(at);
                    lines += usize::from(length > 0);
                    at += length.max(self.rest(at).chars().next().map_or(1, char::len_utf8));
                }
            }
        }
        (Kind::BlockComment { depth: deepest, lines, closed: depth == 0 }, at.min(self.end))
    }

    fn quoted(&self) -> (Kind, usize) {
        let rest = self.rest(self.at);
        if rest.starts_with("\"\"\"") {
            return self.lines(self.at + 3, 0);
        }
        let mut at = self.at + 1;
        loop {
            at = self.past(at, |byte| matches!(byte, b' '..=b'~') && !matches!(byte, b'"' | b'\\'));
            at = self.find(at, |c| matches!(c, '"' | '\\') || is_newline(c));
            match self.byte(at) {
                b'"' => return (Kind::Quoted { closed: true }, at + 1),
                b'\\' => {
                    // An escaped stretch of blanks may hold line breaks (KDL 2, section 3.11.1.1).
                    let after = self.find(at + 1, |c| !is_blank(c) && !is_newline(c));
                    at = if after > at + 1 { after } else { self.past_character(at + 1) };
                }
                _ => return (Kind::Quoted { closed: false }, self.unclosed(self.at + 1, at)),
            }
        }
    }

    fn past_character(&self, at: usize) -> usize {
        at + self.rest(at).chars().next().map_or(0, char::len_utf8)
    }

    /// Where an unclosed text on one line is taken to end: before the braces at the end of its line when they do not
    /// pair up within it, so that a forgotten quote does not take the braces of its node with it.
    fn unclosed(&self, start: usize, end: usize) -> usize {
        let inner = self.text.get(start..end).unwrap_or("");
        let count = |brace: char| inner.chars().filter(|c| *c == brace).count();
        let (opening, closing) = (count('{'), count('}'));
        let body = inner.trim_end_matches(|c| is_blank(c) || c == ';');
        let cut = match opening.cmp(&closing) {
            std::cmp::Ordering::Greater => body.strip_suffix('{'),
            std::cmp::Ordering::Less => body.strip_suffix('}'),
            std::cmp::Ordering::Equal => None,
        };
        cut.map_or(end, |cut| start + cut.len())
    }

    /// A text of several lines, from after its opening quotes on.
    fn lines(&self, body: usize, hashes: usize) -> (Kind, usize) {
        let opened = self.newline(body) > 0;
        let mut at = body;
        loop {
            at = self.find(at, |c| c == '"' || (c == '\\' && hashes == 0) || (!opened && is_newline(c)));
            if self.byte(at) == b'\\' {
                at = self.past_character(at + 1);
            } else if self.byte(at) != b'"' {
                return (Kind::Lines { closed: false, opened }, at);
            } else if self.rest(at).starts_with("\"\"\"") && self.hashes(at + 3, hashes) {
                return (Kind::Lines { closed: true, opened }, at + 3 + hashes);
            } else {
                at += 1;
            }
        }
    }

    /// Whether at least so many `#` stand here.
    fn hashes(&self, at: usize, count: usize) -> bool {
        (0..count).all(|more| self.byte(at + more) == b'#')
    }

    /// A raw text, or a word such as `#true`.
    fn hashed(&self) -> (Kind, usize) {
        let quote = self.find(self.at, |c| c != '#');
        let hashes = quote - self.at;
        if self.byte(quote) != b'"' {
            return (Kind::Word, self.find(quote, ends_word));
        }
        if self.rest(quote).starts_with("\"\"\"") && self.newline(quote + 3) > 0 {
            return self.lines(quote + 3, hashes);
        }
        let mut at = quote + 1;
        loop {
            // Only up to what matters: a search to the end of the line for each text on it would be quadratic.
            at = self.find(at, |c| c == '"' || is_newline(c));
            if self.byte(at) != b'"' {
                return (Kind::Raw { closed: false }, self.unclosed(quote + 1, at));
            }
            if self.hashes(at + 1, hashes) {
                return (Kind::Raw { closed: true }, at + 1 + hashes);
            }
            at += 1;
        }
    }
}

impl Iterator for Lexer<'_> {
    type Item = Token;

    fn next(&mut self) -> Option<Token> {
        if self.at >= self.end {
            return None;
        }
        let start = self.at;
        let (kind, end) = self.step();
        // A step that did not move would never end; one character is always a step.
        self.at = if end > start { end.min(self.end) } else { self.past_character(start).max(start + 1) };
        Some(Token { kind, start, end: self.at })
    }
}

#[cfg(test)]
mod tests {
    use super::{Kind, Lexer};

    fn kinds(text: &str) -> Vec<(Kind, &str)> {
        Lexer::new(text, 0..text.len())
            .map(|token| (token.kind, &text[token.range()]))
            .filter(|t| t.0 != Kind::Blank)
            .collect()
    }

    #[test]
    fn texts_and_comments_are_told_apart() {
        let closed = true;
        assert_eq!(
            kinds(r##"a "b\"}" #"c"d"# /*x/*y*/*/ // "z"##),
            [
                (Kind::Word, "a"),
                (Kind::Quoted { closed }, r#""b\"}""#),
                (Kind::Raw { closed }, r##"#"c"d"#"##),
                (Kind::BlockComment { depth: 2, lines: 0, closed }, "/*x/*y*/*/"),
                (Kind::LineComment, "// \"z"),
            ]
        );
        assert_eq!(kinds("\"\"\"\n a\"\n \"\"\"k")[0], (Kind::Lines { closed, opened: true }, "\"\"\"\n a\"\n \"\"\""));
        assert_eq!(
            kinds("#true\\\n/-"),
            [(Kind::Word, "#true"), (Kind::Continuation, "\\\n"), (Kind::Slashdash, "/-")]
        );
    }

    #[test]
    fn an_unclosed_text_ends_with_its_line_and_leaves_the_brace_of_its_node() {
        let closed = false;
        assert_eq!(kinds("a \"b {\nc")[1], (Kind::Quoted { closed }, "\"b "));
        assert_eq!(kinds("a { b \"c }\nc")[3], (Kind::Quoted { closed }, "\"c "));
        assert_eq!(kinds("a \"{c}\nc")[1], (Kind::Quoted { closed }, "\"{c}"));
        assert_eq!(kinds("a #\"b\nc")[1], (Kind::Raw { closed }, "#\"b"));
    }
}
