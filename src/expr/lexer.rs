//! A condition's text as tokens, one at a time.

use std::ops::Range;
use std::sync::Arc;

use super::{ExprError, slips};

/// A token of a condition.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Token<'t> {
    /// A number literal, always finite.
    Number(f64),
    /// A text literal with its escapes resolved.
    Text(Arc<str>),
    /// A name with its dots, or a word such as `in` or `true`.
    Name(&'t str),
    /// An operator or bracket.
    Sign(&'static str),
    /// The end of the text.
    End,
}

/// The signs of the language, longer ones before those they begin with.
const SIGNS: [&str; 20] =
    ["&&", "||", "<=", ">=", "==", "!=", "<", ">", "!", "+", "-", "*", "/", "(", ")", "[", "]", ",", "?", ":"];

/// Reads tokens from a text.
#[derive(Debug)]
pub(super) struct Lexer<'t> {
    text: &'t str,
    at: usize,
}

impl<'t> Lexer<'t> {
    pub(super) fn new(text: &'t str) -> Self {
        Self { text, at: 0 }
    }

    /// The next token and its place.
    pub(super) fn next(&mut self) -> Result<(Token<'t>, Range<usize>), ExprError> {
        // White space as in the CEL specification, "Syntax": tab, line feed, form feed, carriage return, space.
        self.skip(|c| matches!(c, '\t' | '\n' | '\u{c}' | '\r' | ' '));
        let start = self.at;
        let Some(first) = self.rest().chars().next() else {
            return Ok((Token::End, start..start));
        };
        let second = self.rest().chars().nth(1);
        let token = if is_name_start(first) {
            Token::Name(self.name()?)
        } else if first.is_ascii_digit() || (first == '.' && second.is_some_and(|c| c.is_ascii_digit())) {
            Token::Number(self.number()?)
        } else if matches!(first, '\'' | '"') {
            Token::Text(self.quoted(first)?)
        } else {
            if let Some(error) = slips::sign(self.rest(), start) {
                return Err(error);
            }
            let Some(sign) = SIGNS.into_iter().find(|sign| self.rest().starts_with(sign)) else {
                return Err(slips::character(first, start));
            };
            self.at += sign.len();
            Token::Sign(sign)
        };
        Ok((token, start..self.at))
    }

    fn rest(&self) -> &'t str {
        self.text.get(self.at..).unwrap_or("")
    }

    fn since(&self, start: usize) -> &'t str {
        self.text.get(start..self.at).unwrap_or("")
    }

    fn skip(&mut self, belongs: impl Fn(char) -> bool) {
        let rest = self.rest();
        self.at += rest.len() - rest.trim_start_matches(belongs).len();
    }

    fn eat(&mut self, wanted: char) -> bool {
        let there = self.rest().starts_with(wanted);
        if there {
            self.at += wanted.len_utf8();
        }
        there
    }

    /// A name: identifiers joined by dots, without space between.
    fn name(&mut self) -> Result<&'t str, ExprError> {
        let start = self.at;
        loop {
            self.skip(is_name_part);
            let mut ahead = self.rest().chars();
            match (ahead.next(), ahead.next()) {
                (Some('.'), Some(next)) if is_name_start(next) => self.at += 1,
                (Some('.'), _) => {
                    let end = self.at + 1;
                    return Err(ExprError::new(start..end, "a name cannot end in a dot")
                        .help("write the name without space, as in `axle.load`"));
                }
                (Some('\'' | '"'), _) => {
                    return Err(ExprError::new(start..self.at, "a text literal takes no letter before its quote")
                        .help("write the text between quotes only, as in 'ball'"));
                }
                _ => return Ok(self.since(start)),
            }
        }
    }

    /// A number: `2`, `1.5`, `.5`, `1e3`.
    fn number(&mut self) -> Result<f64, ExprError> {
        let start = self.at;
        let digit = |c: char| c.is_ascii_digit();
        self.skip(digit);
        let mut whole = true;
        if self.eat('.') {
            let before = self.at;
            self.skip(digit);
            whole = self.at > before;
        }
        if self.rest().starts_with(['e', 'E']) {
            let mark = self.at;
            self.at += 1;
            let _ = self.eat('+') || self.eat('-');
            let before = self.at;
            self.skip(digit);
            if self.at == before {
                self.at = mark;
            }
        }
        let end = self.at;
        self.skip(|c| is_name_part(c) || c == '.');
        let written = self.since(start);
        if !whole || self.at > end {
            return Err(slips::number(written, end - start, start));
        }
        match written.parse::<f64>() {
            Ok(value) if value.is_finite() => Ok(value),
            _ => Err(ExprError::new(start..self.at, format!("`{written}` is too large for a number"))),
        }
    }

    /// A text literal with the simple escapes of the CEL specification, "String and Bytes Values".
    fn quoted(&mut self, quote: char) -> Result<Arc<str>, ExprError> {
        let start = self.at;
        self.at += 1;
        if self.rest().starts_with(quote) && self.rest().chars().nth(1) == Some(quote) {
            return Err(ExprError::new(start..start + 3, "a text literal has one quote on either side")
                .help("write the text on one line, as in 'ball'"));
        }
        let mut out = String::new();
        let mut inside = self.rest().char_indices();
        while let Some((offset, c)) = inside.next() {
            match c {
                '\n' | '\r' => return Err(self.unclosed(start, self.at + offset, quote)),
                '\\' => match inside.next() {
                    None | Some((_, '\n' | '\r')) => return Err(self.unclosed(start, self.at + offset + 1, quote)),
                    Some((next, escaped)) => {
                        let Some(meant) = unescaped(escaped) else {
                            let end = self.at + next + escaped.len_utf8();
                            return Err(ExprError::new(self.at + offset..end, "this escape is not known")
                                .help("write the character itself, or `\\\\` for a backslash"));
                        };
                        out.push(meant);
                    }
                },
                _ if c == quote => {
                    self.at += offset + 1;
                    return Ok(out.into());
                }
                _ => out.push(c),
            }
        }
        Err(self.unclosed(start, self.text.len(), quote))
    }

    /// The fault of a text that goes on to the end of its line.
    fn unclosed(&self, start: usize, end: usize, quote: char) -> ExprError {
        let written = self.text.get(start..end).unwrap_or("").trim_end();
        ExprError::new(start..start + written.len(), "this text is not closed")
            .help(format!("write {quote} at its end"))
    }
}

fn unescaped(escaped: char) -> Option<char> {
    Some(match escaped {
        '\\' | '?' | '"' | '\'' | '`' => escaped,
        'a' => '\u{7}',
        'b' => '\u{8}',
        'f' => '\u{c}',
        'n' => '\n',
        'r' => '\r',
        't' => '\t',
        'v' => '\u{b}',
        _ => return None,
    })
}

fn is_name_start(c: char) -> bool {
    c.is_ascii_alphabetic() || c == '_'
}

fn is_name_part(c: char) -> bool {
    c.is_ascii_alphanumeric() || c == '_'
}
