//! Slips that authors make who think in another language, each with the way to write it here.

use super::ExprError;
use super::lexer::Token;
use crate::text::visible;
use crate::units;

/// Operators of other languages: as written, and as written here.
const OPERATORS: [(&str, Option<&str>); 11] = [
    ("===", Some("==")),
    ("!==", Some("!=")),
    ("=<", Some("<=")),
    ("=>", Some(">=")),
    ("<>", Some("!=")),
    ("**", None),
    ("//", None),
    ("==", Some("")),
    ("=", Some("==")),
    ("%", None),
    ("^", None),
];

/// Characters that a word processor writes in place of the language's own.
const LOOKALIKES: [(char, &str); 15] = [
    ('≤', "<="),
    ('≥', ">="),
    ('≠', "!="),
    ('−', "-"),
    ('–', "-"),
    ('—', "-"),
    ('×', "*"),
    ('·', "*"),
    ('÷', "/"),
    ('∧', "&&"),
    ('∨', "||"),
    ('‘', "'"),
    ('’', "'"),
    ('“', "\""),
    ('”', "\""),
];

/// Words that stand for operators elsewhere.
const WORDS: [(&str, &str); 6] =
    [("and", "&&"), ("or", "||"), ("not", "!"), ("is", "=="), ("equals", "=="), ("xor", "!=")];

/// Words that CEL keeps for itself (specification, "Syntax": RESERVED).
const RESERVED: [&str; 17] = [
    "as",
    "break",
    "const",
    "continue",
    "else",
    "for",
    "function",
    "if",
    "import",
    "let",
    "loop",
    "package",
    "namespace",
    "return",
    "var",
    "void",
    "while",
];

/// The fault when the text begins with an operator of another language.
pub(super) fn sign(rest: &str, start: usize) -> Option<ExprError> {
    let (written, meant) = OPERATORS.into_iter().find(|(written, _)| rest.starts_with(written))?;
    let fault = ExprError::new(start..start + written.len(), format!("`{written}` is not an operator here"));
    match meant {
        Some("") => None,
        Some(meant) => Some(fault.help(format!("write `{meant}`"))),
        None if written == "//" => {
            Some(ExprError::new(start..start + 2, "a condition holds no comment").help("write it above the condition"))
        }
        None if written == "%" => Some(
            fault.help("give a share as a parameter with its unit: param \"limit\" (pct)10, or write it as in `0.1`"),
        ),
        None => Some(fault.help("write it with `+ - * /`")),
    }
}

/// The fault of a character that begins no token.
pub(super) fn character(found: char, start: usize) -> ExprError {
    let range = start..start + found.len_utf8();
    if matches!(found, '&' | '|') {
        return ExprError::new(range, format!("a single `{found}` is not an operator here"))
            .help(format!("write `{found}{found}`"));
    }
    let text = found.to_string();
    let fault = ExprError::new(range, format!("`{}` has no meaning in a condition", visible(&text, true)));
    match LOOKALIKES.into_iter().find(|(character, _)| *character == found) {
        Some((_, meant)) => fault.help(format!("write `{meant}`")),
        None if found.is_alphabetic() => fault.help("write names in the letters a to z, and any other text in quotes"),
        None => fault,
    }
}

/// The fault of a number with something attached to it; `digits` is where the number itself ends.
pub(super) fn number(written: &str, digits: usize, start: usize) -> ExprError {
    let fault = ExprError::new(start..start + written.len(), format!("`{written}` is not a number"));
    let (number, rest) = written.split_at_checked(digits).unwrap_or((written, ""));
    if units::unit(rest).is_some() {
        let number = number.trim_end_matches('.');
        return fault.help(format!("give it as a parameter with its unit: param \"limit\" ({rest}){number}"));
    }
    if rest.is_empty() {
        return fault.help(format!("write `{number}0`"));
    }
    fault.help("write it in decimal digits, as in `2`, `0.5` or `1e3`")
}

/// The fault of a word that stands for an operator elsewhere.
pub(super) fn word(name: &str, range: std::ops::Range<usize>) -> Option<ExprError> {
    let (_, meant) = WORDS.into_iter().find(|(word, _)| word.eq_ignore_ascii_case(name))?;
    Some(ExprError::new(range, format!("`{name}` is not an operator here")).help(format!("write `{meant}`")))
}

/// Whether CEL keeps this name for itself: its first word anywhere in the grammar, its other words as keywords.
pub(super) fn is_reserved(name: &str) -> bool {
    let keyword = |word: &str| matches!(word, "true" | "false" | "null" | "in");
    let first = name.split('.').next().unwrap_or(name);
    RESERVED.contains(&first) || name.split('.').any(keyword)
}

/// The fault of a token that does not continue the condition.
pub(super) fn stray(token: &Token<'_>, range: std::ops::Range<usize>, text: &str) -> ExprError {
    let written = text.get(range.clone()).unwrap_or("");
    match token {
        Token::End => ExprError::new(range, "the condition ends too early"),
        Token::Sign("?") => {
            ExprError::new(range, "a choice must stand in parentheses").help("write `(test ? one : other)`")
        }
        Token::Name(name) => word(name, range.clone())
            .unwrap_or_else(|| ExprError::new(range, format!("an operator is missing before `{name}`"))),
        Token::Number(_) => ExprError::new(range, format!("an operator is missing before `{written}`")),
        Token::Text(_) => ExprError::new(range, "an operator is missing before this text"),
        Token::Sign(sign) => ExprError::new(range, format!("`{sign}` does not fit here")),
    }
}
