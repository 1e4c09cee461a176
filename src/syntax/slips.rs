//! Frequent slips, recognised by their tokens, so that the message can say what to write instead.

use std::ops::Range;

use super::explain::not_kdl;
use super::lex::{Kind, Lexer, Token};
use super::valid::{SHOWN, colon, shown, split_colon, with_unit};
use crate::finding::Finding;
use crate::text::{FileId, Span, is_hidden};

/// The most digits a number can have: what fits 128 bits.
const MAX_DIGITS: usize = 38;
/// Slips in a header that the parser does not take, each at its own place.
pub(super) fn in_broken_header(file: FileId, text: &str, header: Range<usize>) -> Vec<Finding> {
    let tokens: Vec<Token> = Lexer::new(text, header).filter(|token| !outside(*token)).collect();
    let slips = Slips { file, text, tokens: &tokens };
    if let Some(finding) = slips.equals_after_name() {
        return vec![finding];
    }
    let mut findings = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        let taken = slips.at(at, &mut findings);
        at += taken.max(1);
    }
    findings
}

/// Whether a token is no part of what the header says.
const fn outside(token: Token) -> bool {
    token.is_blank() || matches!(token.kind, Kind::Newline | Kind::LineComment)
}

struct Slips<'a> {
    file: FileId,
    text: &'a str,
    tokens: &'a [Token],
}

impl<'a> Slips<'a> {
    fn get(&self, at: usize) -> Option<Token> {
        self.tokens.get(at).copied()
    }

    fn word(&self, token: Token) -> &'a str {
        self.text.get(token.range()).unwrap_or("")
    }

    /// The token after this one, when no blank stands between them.
    fn joined(&self, at: usize) -> Option<Token> {
        let (this, next) = (self.get(at)?, self.get(at + 1)?);
        (this.end == next.start).then_some(next)
    }

    /// The end of the run of tokens without blanks that begins here; of a few, since more are not shown.
    fn glued_end(&self, at: usize) -> usize {
        let mut last = at;
        while last < at + 8 && self.joined(last).is_some() {
            last += 1;
        }
        self.get(last).map_or(0, |token| token.end)
    }

    /// Whether the token before this one touches it and is of this kind.
    fn follows(&self, at: usize, kind: Kind) -> bool {
        at.checked_sub(1)
            .and_then(|before| Some((self.get(before)?, self.get(at)?)))
            .is_some_and(|(before, this)| before.kind == kind && before.end == this.start)
    }

    fn found(&self, range: Range<usize>, message: impl Into<String>, help: impl Into<String>) -> Finding {
        not_kdl(self.file, range, message).help(help)
    }

    /// `weight=4200`: a node's own value takes no `=`.
    fn equals_after_name(&self) -> Option<Finding> {
        let (name, equals) = (self.get(0)?, self.get(1)?);
        if equals.kind != Kind::Equals || !(name.kind == Kind::Word || name.is_text()) {
            return None;
        }
        let last = self.tokens.last()?;
        let value = self.text.get(equals.end..last.end)?.trim();
        let word = self.word(name);
        let help = if value.is_empty() || value.len() + word.len() > SHOWN || value.contains(['\n', '\r']) {
            "write the value after a blank, without =".to_owned()
        } else {
            format!("write {word} {value}")
        };
        Some(self.found(equals.range(), "a line begins with a name, and its own value follows without =", help))
    }

    /// Looks for a slip at a token; returns how many tokens it took.
    fn at(&self, at: usize, findings: &mut Vec<Finding>) -> usize {
        let Some(token) = self.get(at) else { return 1 };
        match token.kind {
            Kind::Word => self.bare(at, token, findings),
            Kind::Quoted { .. } | Kind::Raw { .. } => self.quoted(at, token, findings),
            Kind::ParenOpen => self.annotation(at, token, findings),
            Kind::Equals => {
                if self.get(at + 1).is_none_or(|next| matches!(next.kind, Kind::Slashdash | Kind::Open)) {
                    findings.push(self.found(token.range(), "no value follows this =", "write the value after it"));
                } else if self.get(at + 1).is_some_and(|next| next.kind == Kind::Equals) {
                    let message = "one = stands between a key and its value";
                    findings.push(self.found(token.range(), message, "write it once"));
                    return 2;
                }
                1
            }
            Kind::Stray => {
                let (message, help) = match self.word(token) {
                    "\\" => ("a backslash continues a line, and must be the last on it", "delete it"),
                    "/" => {
                        ("a slash cannot stand outside of quotes", "put the text in quotes, or write a decimal number")
                    }
                    _ => ("brackets have no meaning here", "write values one after another, with blanks between them"),
                };
                findings.push(self.found(token.range(), message, help));
                1
            }
            _ => 1,
        }
    }

    fn bare(&self, at: usize, token: Token, findings: &mut Vec<Finding>) -> usize {
        let word = self.word(token);
        if word.contains(is_hidden) {
            return 1;
        }
        if let Some(keyword) = keyword(word) {
            let message = format!("{word} is written with # in KDL 2");
            findings.push(self.found(token.range(), message, format!("write {keyword}")));
            return 1;
        }
        if word.starts_with('#') && !matches!(word, "#true" | "#false" | "#null" | "#inf" | "#-inf" | "#nan") {
            let message = format!("there is no {}", shown(word));
            findings.push(self.found(token.range(), message, "write #true, #false or #null, or put text in quotes"));
            return 1;
        }
        if word == "r" && self.joined(at).is_some_and(Token::is_text) {
            let Some(raw) = self.joined(at) else { return 1 };
            let written = self.word(raw);
            let instead = if written.starts_with('#') { written.to_owned() } else { format!("#{written}#") };
            let help = if instead.len() <= SHOWN { format!("write {instead}") } else { "write #\"…\"#".to_owned() };
            findings.push(self.found(token.start..raw.end, "raw text is written without r in KDL 2", help));
            return 2;
        }
        if let Some((before, after)) = split_colon(word) {
            let end = self.glued_end(at);
            let value = self.text.get(token.start + before.len() + 1..end).unwrap_or(after);
            let separator = if at == 0 { " " } else { "=" };
            let following = |nth: usize| self.get(at + nth).map_or("", |next| self.word(next));
            let (value, next) = if value.is_empty() { (following(1), following(2)) } else { (value, following(1)) };
            let span = Span::new(self.file, token.range());
            findings.push(colon(span, word, &format!("{before}{separator}{}", with_unit(value, next))));
            return 1;
        }
        if numeric(word) {
            return self.number(at, token, findings);
        }
        if word.len() > 1 && word.ends_with(',') || word == "," {
            let comma = token.end - 1..token.end;
            findings.push(self.found(comma, "values are separated by blanks, without commas", "delete the comma"));
        }
        1
    }

    fn number(&self, at: usize, token: Token, findings: &mut Vec<Finding>) -> usize {
        let word = self.word(token);
        let annotated = self.follows(at, Kind::ParenClose);
        let next = self.joined(at);
        if next.is_some_and(|next| next.kind == Kind::ParenOpen) {
            return self.unit_behind(at, token, findings);
        }
        if next.is_some_and(|next| next.kind == Kind::Stray && self.word(next) == "/") {
            let end = self.get(at + 2).filter(|_| self.joined(at + 1).is_some()).map_or(token.end, |last| last.end);
            let message = "fractions are written as decimal numbers";
            findings.push(self.found(token.start..end, message, "write 0.5 for a half, 0.375 for three eighths"));
            return 3;
        }
        if next.is_some_and(Token::is_text) {
            findings.push(self.found(
                token.range(),
                "a blank is missing between number and text",
                "write a blank between them",
            ));
            return 2;
        }
        let digits = word.chars().filter(char::is_ascii_digit).count();
        let (number, unit) = split_unit(word);
        let shape = if let Some(body) = word.strip_suffix(',').filter(|body| plain(body)) {
            Some(("values are separated by blanks, without commas", format!("write {body}")))
        } else if word.contains(',') && plain(&word.replace(',', "")) {
            Some(("numbers are written without commas", format!("write {}", word.replace(',', ""))))
        } else if !unit.is_empty() && plain(number) && unit.starts_with(['\'', '"', '’', '″', '′']) {
            let help = match (crate::units::meant(unit), crate::units::as_feet_and_inches(word)) {
                (Some(unit), _) => format!("write ({}){number}", unit.symbol),
                (None, Some(text)) => format!("write \"{text}\""),
                (None, None) => {
                    format!("write (ft){number} or (in){number}, or feet and inches as text, as \"16 ft 4 in\"")
                }
            };
            Some(("marks for feet and inches are not read", help))
        } else if !unit.is_empty() && plain(number) && !word.starts_with("0x") && annotated {
            Some(("the unit stands before the number only", format!("write {number}")))
        } else if !unit.is_empty() && plain(number) && !word.starts_with("0x") {
            let unit = crate::units::meant(unit).map_or(unit, |unit| unit.symbol);
            Some(("a unit stands before its number, in parentheses", format!("write ({unit}){number}")))
        } else if plain(&word.replacen('.', "0.", 1)) && word.trim_start_matches(['+', '-']).starts_with('.') {
            Some(("a number begins with a digit", format!("write {}", word.replacen('.', "0.", 1))))
        } else if word.strip_suffix('.').is_some_and(plain) {
            Some(("a number ends with a digit", format!("write {}", word.trim_end_matches('.'))))
        } else if digits > MAX_DIGITS && plain(word) {
            Some(("this number has more digits than can be read", "write it shorter".to_owned()))
        } else {
            None
        };
        if let Some((message, help)) = shape {
            findings.push(self.found(token.range(), message, help));
        }
        1
    }

    /// `4200(lb)`: the annotation stands before the value.
    fn unit_behind(&self, at: usize, token: Token, findings: &mut Vec<Finding>) -> usize {
        let unit = self.get(at + 2).map_or("", |unit| self.word(unit));
        let closing = self.get(at + 3).filter(|close| close.kind == Kind::ParenClose);
        let end = closing.or_else(|| self.get(at + 1)).map_or(token.end, |last| last.end);
        let help = if unit.is_empty() || closing.is_none() {
            "write the unit before the number, as (lb)4200".to_owned()
        } else {
            format!("write ({}){}", shown(unit), self.word(token))
        };
        findings.push(self.found(token.start..end, "a unit stands before its number, in parentheses", help));
        if closing.is_some() { 4 } else { 2 }
    }

    fn quoted(&self, at: usize, token: Token, findings: &mut Vec<Finding>) -> usize {
        if let Some(bad) = bad_escape(self.word(token)).filter(|_| matches!(token.kind, Kind::Quoted { .. })) {
            let range = token.start + bad.start..token.start + bad.end;
            let message = "a backslash before this character means nothing";
            findings.push(self.found(range, message, "write \\\\ for a backslash"));
            return 1;
        }
        let Some(next) = self.joined(at) else { return 1 };
        if next.kind == Kind::Word && self.word(next) == "," {
            findings.push(self.found(
                next.range(),
                "values are separated by blanks, without commas",
                "delete the comma",
            ));
            return 2;
        }
        if next.kind == Kind::Word || next.is_text() {
            let message = "a blank is missing after this closing quote";
            let help = "write a blank between the two, or \\\" for a quote within a text";
            findings.push(self.found(token.end - 1..token.end, message, help));
            return 2;
        }
        1
    }

    fn annotation(&self, at: usize, token: Token, findings: &mut Vec<Finding>) -> usize {
        let inner = self.get(at + 1);
        if inner.is_some_and(|inner| inner.kind == Kind::ParenClose) {
            let range = token.start..inner.map_or(token.end, |inner| inner.end);
            findings.push(self.found(
                range,
                "there is no unit in these parentheses",
                "write the unit in them, as (lb)4200",
            ));
            return 2;
        }
        let Some(close) = self.get(at + 2).filter(|close| close.kind == Kind::ParenClose) else {
            return self.odd_annotation(at, token, findings);
        };
        if self.get(at + 3).is_none_or(|next| matches!(next.kind, Kind::Slashdash | Kind::Equals)) {
            let message = "no value follows this unit";
            findings.push(self.found(token.start..close.end, message, "write the number after it"));
        }
        3
    }

    /// Parentheses that do not hold one word and close.
    fn odd_annotation(&self, at: usize, token: Token, findings: &mut Vec<Finding>) -> usize {
        let rest = self.tokens.get(at + 1..).unwrap_or(&[]);
        let inner = rest.iter().position(|token| token.kind == Kind::ParenClose);
        let Some(inner) = inner else {
            let message = "this parenthesis is never closed";
            findings.push(self.found(token.range(), message, "write ) after the unit, as (lb)4200"));
            return self.tokens.len();
        };
        let end = rest.get(inner).map_or(token.end, |close| close.end);
        let written = self.text.get(token.end..end - 1).unwrap_or("").trim();
        let help = if written.contains('/') && !written.contains('"') && written.len() <= SHOWN {
            format!("write (\"{written}\"): a unit with a slash stands in quotes")
        } else {
            "write the unit alone in parentheses before its number, as (lb)4200".to_owned()
        };
        findings.push(self.found(token.start..end, "what stands in these parentheses is not one word", help));
        inner + 2
    }
}

/// The KDL 2 form of a word that KDL 1 or other languages write bare.
fn keyword(word: &str) -> Option<&'static str> {
    Some(match word {
        "true" | "True" | "TRUE" => "#true",
        "false" | "False" | "FALSE" => "#false",
        "null" => "#null",
        "inf" => "#inf",
        "-inf" => "#-inf",
        "nan" => "#nan",
        _ => return None,
    })
}

/// Whether a word begins as a number does.
fn numeric(word: &str) -> bool {
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

/// The first escape in a quoted text that KDL 2 does not know (section 3.11.1).
fn bad_escape(written: &str) -> Option<Range<usize>> {
    let mut rest = written.char_indices();
    while let Some((at, c)) = rest.next() {
        if c != '\\' {
            continue;
        }
        let (_, escaped) = rest.next()?;
        let known = matches!(escaped, 'n' | 'r' | 't' | '\\' | '"' | 'b' | 'f' | 's' | 'u');
        if !known && !super::lex::is_blank(escaped) && !super::lex::is_newline(escaped) {
            return Some(at..at + 1 + escaped.len_utf8());
        }
    }
    None
}
