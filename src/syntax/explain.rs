//! Structural faults, exceeded limits and the parser's errors in plain words.

use std::ops::Range;

use kdl::{KdlDiagnostic, KdlError};

use super::lex::{Lexer, Token};
use super::outline::{
    Fault, Limit, MAX_COMMENT_LINES, MAX_COMMENT_NESTING, MAX_NESTING, MAX_SLASHDASH_NESTING, MAX_SLASHDASHES, Outline,
    Refusal, What,
};
use super::parse::MAX_BYTES;
use crate::finding::{Edit, Finding, Fix, Level};
use crate::text::{FileId, Span};
use crate::units::meant;

/// A fault that is not KDL.
pub(super) fn not_kdl(file: FileId, at: Range<usize>, message: impl Into<String>) -> Finding {
    Finding::new("not-kdl", Level::Error, Span::new(file, at), message)
}

/// A text over [`MAX_BYTES`], marked where reading would have ended.
pub(super) fn too_large(file: FileId, text: &str) -> Finding {
    let mut at = MAX_BYTES.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    let end = at + text.get(at..).and_then(|rest| rest.chars().next()).map_or(0, char::len_utf8);
    let message =
        format!("the file has more than {},{:03} bytes, so it is not read", MAX_BYTES / 1000, MAX_BYTES % 1000);
    Finding::new("too-large", Level::Error, Span::new(file, at..end), message).help("split it into several files")
}

/// A limit that the text exceeds.
pub(super) fn refusal(file: FileId, refusal: &Refusal) -> Finding {
    let (rule, message, help) = match refusal.limit {
        Limit::Nesting => (
            "too-deep",
            format!("braces nest more than {MAX_NESTING} deep here, so the file is not read"),
            "close the braces before this one",
        ),
        Limit::Slashdash => (
            "too-deep",
            format!("/- stands in more than {MAX_SLASHDASH_NESTING} others here, so the file is not read"),
            "delete what is switched off, or use // in front of its lines",
        ),
        Limit::CommentNesting => (
            "too-deep",
            format!("comments nest more than {MAX_COMMENT_NESTING} deep here, so the file is not read"),
            "close the comments, or use // in front of each line",
        ),
        Limit::CommentLines => (
            "too-large",
            format!("this comment has more than {MAX_COMMENT_LINES} lines, so the file is not read"),
            "use // in front of each line, or delete it",
        ),
    };
    Finding::new(rule, Level::Error, Span::new(file, refusal.at.clone()), message).help(help)
}

/// More `/-` on a node's own line than the parser is given.
pub(super) fn slashdashes(file: FileId, at: usize) -> Finding {
    let message = format!("more than {MAX_SLASHDASHES} /- stand in this node, so it is not read");
    Finding::new("too-deep", Level::Error, Span::new(file, at..at + 2), message).help("delete what is switched off")
}

/// A structural fault.
pub(super) fn fault(file: FileId, text: &str, outline: &Outline, fault: &Fault) -> Finding {
    let (message, help) = match fault.what {
        What::OpenText => return open_text(file, text, fault),
        What::OpenLines => ("this text of several lines is never closed", "close it with \"\"\" on a line of its own"),
        What::LinesOnOneLine => (
            "three quotes open a text of several lines, so a line break must follow them",
            "use one quote on each side, or put the text on lines of its own",
        ),
        What::OpenComment => ("this comment is never closed", "close it with */"),
        What::OpenBrace => {
            let finding = not_kdl(
                file,
                fault.at.clone(),
                format!("the brace of {} is never closed", owner(text, outline, fault.at.start)),
            );
            return finding.help("write } where it ends");
        }
        What::StrayBrace => return stray_brace(file, outline, fault),
        What::NoNode => {
            ("braces must open on the line of the node they belong to", "move { up to the end of that line")
        }
        What::AfterBlock => {
            ("after } the line must end", "put this before the {, or on a line of its own if it is a node")
        }
        What::DoubleSlashdash => ("/- switches off what follows it, and cannot stand twice in a row", "write it once"),
        What::GluedSlashdash => ("a blank must stand before /-", "write a blank before it"),
        What::LooseSemicolon => ("a semicolon ends a node, and there is none before it", "delete it"),
        What::LooseSlashdash => ("/- switches off what follows it, and nothing does", "delete it"),
    };
    let finding = not_kdl(file, fault.at.clone(), message);
    finding.notation(help, certain(file, outline, fault))
}

/// What mends a structural fault of which it is certain what was meant.
fn certain(file: FileId, outline: &Outline, fault: &Fault) -> Vec<Edit> {
    let span = |range: Range<usize>| Span::new(file, range);
    let at = fault.at.clone();
    match fault.what {
        What::NoNode => {
            let block = outline.blocks.iter().position(|block| block.open == at.start);
            let owner = outline.pieces.iter().find(|piece| block.is_some() && piece.block == block);
            owner.map_or_else(Vec::new, |owner| {
                vec![Edit::after(span(owner.start..owner.head_end), " {"), Edit::delete(span(at))]
            })
        }
        What::DoubleSlashdash => vec![Edit::delete(span(at.end.saturating_sub(2)..at.end))],
        What::GluedSlashdash => vec![Edit::before(span(at), " ")],
        What::LooseSemicolon | What::LooseSlashdash => vec![Edit::delete(span(at))],
        _ => Vec::new(),
    }
}

fn stray_brace(file: FileId, outline: &Outline, fault: &Fault) -> Finding {
    let finding = not_kdl(file, fault.at.clone(), "this brace closes nothing");
    let owner = outline.pieces.iter().find(|piece| piece.block.is_none() && piece.lost.contains(&fault.at));
    match owner {
        Some(piece) => finding
            .label(Span::new(file, piece.start..piece.head_end), "a { may be missing at the end of this line")
            .help("write { where it should open, or delete this brace"),
        None => finding.help("delete it, or find the { that is missing before it"),
    }
}

fn open_text(file: FileId, text: &str, fault: &Fault) -> Finding {
    let before = text.get(..fault.at.start).unwrap_or("");
    if before.ends_with(|c: char| c.is_ascii_digit()) {
        let finding = not_kdl(file, fault.at.clone(), "a quote after a number does not mean inches");
        let number = before.trim_end_matches(|c: char| c.is_ascii_digit() || c == '.').len();
        // `43"` alone is in inches; `5'6"` and `"5' 6"` are more than that.
        if before.get(..number).is_some_and(begins_value) {
            let digits = before.get(number..).unwrap_or("");
            let quote = fault.at.start..fault.at.start + 1;
            let unit = Edit::before(Span::new(file, number..before.len()), "(in)");
            let edits = vec![unit, Edit::delete(Span::new(file, quote))];
            return finding.fix(Fix::notation(format!("write (in){digits}"), edits));
        }
        return finding
            .help("write the unit before the number, as (in)4, or feet and inches as text, as \"16 ft 4 in\"");
    }
    not_kdl(file, fault.at.clone(), "the text that this quote opens is not closed on its line")
        .help("write the closing quote after the text")
}

/// Whether a text ends where a first value begins: after `=`, or after a word and a blank.
fn begins_value(text: &str) -> bool {
    let word = text.trim_end_matches([' ', '\t']);
    let last = word.rsplit([' ', '\t', '\n', ';', '{']).next().unwrap_or("");
    text.ends_with('=') || text != word && last.ends_with(char::is_alphabetic) && meant(last).is_none()
}

/// The node whose brace opens at a place, as a message names it.
fn owner(text: &str, outline: &Outline, open: usize) -> String {
    let at = outline.blocks.iter().position(|block| block.open == open);
    let piece = outline.pieces.iter().find(|piece| at.is_some() && piece.block == at);
    let head = piece.and_then(|piece| text.get(piece.start..piece.head_end)).unwrap_or("");
    let mut words = head.split_whitespace();
    match (words.next(), words.next()) {
        (Some(name), Some(id)) if id.starts_with('"') && short(name) && short(id) => format!("{name} {id}"),
        (Some(name), _) if short(name) => name.to_owned(),
        _ => "this block".to_owned(),
    }
}

fn short(word: &str) -> bool {
    word.len() <= 40
}

/// A header of which the scan and the parser think differently.
pub(super) fn unreadable(file: FileId, text: &str, header: Range<usize>) -> Finding {
    let at = narrowed(text, &header, header.clone());
    not_kdl(file, at, "this cannot be read").help("write the line anew: a name, then its values, then its properties")
}

/// The first error that the parser gives for a part of the text, as near to its place as can be told.
pub(super) fn parser(file: FileId, text: &str, part: Range<usize>, error: &KdlError) -> Finding {
    // The error that says the most about a place is the one with the shortest span.
    let Some(first) = error.diagnostics.iter().min_by_key(|diagnostic| diagnostic.span.len().max(1)) else {
        return unreadable(file, text, part);
    };
    let start = (part.start + first.span.offset()).min(part.end);
    let end = (start + first.span.len()).clamp(start, part.end);
    let at = narrowed(text, &part, start..end);
    let (message, help) = words(first);
    not_kdl(file, at, message).help(help)
}

/// A span within a part, cut to the run of tokens at its end when it reaches back to the part's beginning: the parser
/// then only says how far it came.
fn narrowed(text: &str, part: &Range<usize>, span: Range<usize>) -> Range<usize> {
    let tokens: Vec<Token> = Lexer::new(text, part.clone()).collect();
    let last = span.end.saturating_sub(1).max(span.start);
    let at = tokens.iter().position(|token| token.start <= last && last < token.end);
    let Some(at) = at.or_else(|| tokens.len().checked_sub(1)) else {
        return part.clone();
    };
    let separates = |token: &Token| token.is_blank() || matches!(token.kind, super::lex::Kind::Newline);
    let run_start = tokens.get(..=at).unwrap_or(&[]).iter().rev().take_while(|token| !separates(token)).last();
    let run_end = tokens.get(at..).unwrap_or(&[]).iter().take_while(|token| !separates(token)).last();
    let place = match (run_start, run_end) {
        (Some(first), Some(last)) if span.start <= part.start => first.start..last.end,
        (Some(first), Some(last)) => {
            span.start.max(first.start)..last.end.min(span.end.max(last.start + 1)).max(span.start)
        }
        _ => tokens.get(at).map_or_else(|| part.clone(), |token| token.range()),
    };
    whole_characters(text, place)
}

/// A range widened to whole characters.
fn whole_characters(text: &str, range: Range<usize>) -> Range<usize> {
    let (mut start, mut end) = (range.start.min(text.len()), range.end.min(text.len()));
    while !text.is_char_boundary(start) {
        start -= 1;
    }
    while !text.is_char_boundary(end) {
        end += 1;
    }
    start..end.max(start)
}

/// The parser's error in our words, by what it expected.
fn words(error: &KdlDiagnostic) -> (&'static str, &'static str) {
    let said = error.message.as_deref().unwrap_or("");
    let has = |part: &str| said.contains(part);
    if has("property value") {
        (
            "the value of this property cannot be read",
            "write key=value, with text in quotes and a unit before its number",
        )
    } else if has("integer") || has("float") || has("number") || has("digit") {
        (
            "this is not a number",
            "write digits with a decimal point, and the unit in parentheses before them, as (lb)4200",
        )
    } else if has("Multi-line") || has("multi-line") {
        (
            "this text of several lines is not indented as KDL asks",
            "begin each of its lines with the same blanks as the closing quotes",
        )
    } else if has("quoted string") || has("raw string") {
        ("this text cannot be read", "put it in quotes, with \\\\ for a backslash and \\\" for a quote")
    } else if has("annotation") || has("type") {
        ("what stands in these parentheses is no unit", "write the unit alone in the parentheses, as (lb)4200")
    } else if has("keyword") {
        ("there is no such word with #", "write #true, #false or #null")
    } else if has("identifier") {
        ("this cannot stand as a bare word", "put it in quotes")
    } else if has("node name") {
        ("a node must begin with its name", "begin the line with a word, as weight (lb)4200")
    } else {
        ("this cannot be read here", "write the line as a name, then its values, then its properties")
    }
}
