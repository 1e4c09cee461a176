//! Frequent slips, recognised by their tokens, so that the message can say what to write instead.

use std::ops::Range;

use super::digits::{misshapen, numeric};
use super::explain::not_kdl;
use super::lex::{Kind, Lexer, Token};
use super::valid::{Colon, SHOWN, shown};
use crate::finding::{Edit, Finding, Fix};
use crate::text::{FileId, Span, is_hidden};

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

    /// The same, where it is certain which bytes mend it.
    fn mended(
        &self,
        range: Range<usize>,
        message: impl Into<String>,
        title: impl Into<String>,
        edits: Vec<Edit>,
    ) -> Finding {
        not_kdl(self.file, range, message).fix(Fix::notation(title, edits))
    }

    fn edit(&self, range: Range<usize>, text: impl Into<String>) -> Edit {
        Edit::replace(Span::new(self.file, range), text)
    }

    /// A comma after this token's last byte but one, or all of it: a blank where something stands right behind it.
    fn comma(&self, at: usize, token: Token) -> Finding {
        let comma = token.end - 1..token.end;
        let blank = if self.joined(at).is_some() { " " } else { "" };
        let edit = self.edit(comma.clone(), blank);
        self.mended(comma, "values are separated by blanks, without commas", "delete the comma", vec![edit])
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
        let message = "a line begins with a name, and its own value follows without =";
        if value.is_empty() {
            return Some(self.found(equals.range(), message, help));
        }
        let glued = name.end == equals.start && self.joined(1).is_some();
        let edit = self.edit(equals.range(), if glued { " " } else { "" });
        Some(self.mended(equals.range(), message, help, vec![edit]))
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
                } else if let Some(second) = self.get(at + 1).filter(|next| next.kind == Kind::Equals) {
                    let message = "one = stands between a key and its value";
                    let edit = self.edit(second.range(), "");
                    findings.push(self.mended(token.range(), message, "write it once", vec![edit]));
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
            let title = format!("write {keyword}");
            // A name or a key cannot be one.
            let value = at > 0 && self.get(at + 1).is_none_or(|next| next.kind != Kind::Equals);
            findings.push(if value {
                self.mended(token.range(), message, title, vec![self.edit(token.range(), keyword)])
            } else {
                self.found(token.range(), message, title)
            });
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
            let mut edits = vec![self.edit(token.range(), "")];
            if !written.starts_with('#') {
                edits = vec![self.edit(token.range(), "#"), self.edit(raw.end..raw.end, "#")];
            }
            let message = "raw text is written without r in KDL 2";
            findings.push(self.mended(token.start..raw.end, message, help, edits));
            return 2;
        }
        let following = |nth: usize| self.get(at + nth).map(Token::range);
        // `rating:(lb)7000`: the value begins in another token.
        let glued = word.ends_with(':') && self.joined(at).is_some();
        let values = if glued { [Some(token.end..self.glued_end(at)), None] } else { [following(1), following(2)] };
        let colon = Colon { file: self.file, text: self.text, word: token.range(), values, ends: 0 };
        if let Some(finding) = colon.finding(if at == 0 { " " } else { "=" }) {
            findings.push(finding);
            return 1;
        }
        if numeric(word) {
            return self.number(at, token, findings);
        }
        if word.len() > 1 && word.ends_with(',') || word == "," {
            findings.push(self.comma(at, token));
        }
        1
    }

    fn number(&self, at: usize, token: Token, findings: &mut Vec<Finding>) -> usize {
        let word = self.word(token);
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
            let blank = self.edit(token.end..token.end, " ");
            let message = "a blank is missing between number and text";
            findings.push(self.mended(token.range(), message, "write a blank between them", vec![blank]));
            return 2;
        }
        let unit = at.checked_sub(2).and_then(|unit| self.get(unit)).map(|unit| self.word(unit));
        let annotated = unit.filter(|_| self.follows(at, Kind::ParenClose));
        if let Some((message, help, instead)) = misshapen(word, annotated, next.is_some()) {
            findings.push(match instead {
                Some(instead) => self.mended(token.range(), message, help, vec![self.edit(token.range(), instead)]),
                None => self.found(token.range(), message, help),
            });
        }
        1
    }

    /// `4200(lb)`: the annotation stands before the value.
    fn unit_behind(&self, at: usize, token: Token, findings: &mut Vec<Finding>) -> usize {
        let unit = self.get(at + 2).map_or("", |unit| self.word(unit));
        let closing = self.get(at + 3).filter(|close| close.kind == Kind::ParenClose);
        let end = closing.or_else(|| self.get(at + 1)).map_or(token.end, |last| last.end);
        let message = "a unit stands before its number, in parentheses";
        findings.push(if unit.is_empty() || closing.is_none() || unit.len() > SHOWN {
            self.found(token.start..end, message, "write the unit before the number, as (lb)4200")
        } else {
            let instead = format!("({unit}){}", self.word(token));
            let title = format!("write {instead}");
            if self.follows(at, Kind::ParenClose) || self.joined(at + 3).is_some() {
                self.found(token.start..end, message, title)
            } else {
                let edit = self.edit(token.start..end, instead);
                self.mended(token.start..end, message, title, vec![edit])
            }
        });
        if closing.is_some() { 4 } else { 2 }
    }

    fn quoted(&self, at: usize, token: Token, findings: &mut Vec<Finding>) -> usize {
        if let Some(bad) = bad_escape(self.word(token)).filter(|_| matches!(token.kind, Kind::Quoted { .. })) {
            let range = token.start + bad.start..token.start + bad.end;
            let message = "a backslash before this character means nothing";
            let edit = self.edit(range.start..range.start, "\\");
            findings.push(self.mended(range, message, "write \\\\ for a backslash", vec![edit]));
            return 1;
        }
        let Some(next) = self.joined(at) else { return 1 };
        if next.kind == Kind::Word && self.word(next) == "," {
            findings.push(self.comma(at + 1, next));
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
        let message = "what stands in these parentheses is not one word";
        findings.push(if written.contains('/') && !written.contains(['"', '\\']) && written.len() <= SHOWN {
            let title = format!("write (\"{written}\"): a unit with a slash stands in quotes");
            let edit = self.edit(token.end..end - 1, format!("\"{written}\""));
            self.mended(token.start..end, message, title, vec![edit])
        } else {
            let help = "write the unit alone in parentheses before its number, as (lb)4200";
            self.found(token.start..end, message, help)
        });
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
