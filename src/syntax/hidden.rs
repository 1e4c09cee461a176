//! Characters that act instead of showing: KDL 2 forbids some of them, the parser lets some pass in comments, and a
//! hidden change of direction can make a reviewer read something else than the tool does.

use crate::finding::{Edit, Finding, Fix, Level};
use crate::text::{FileId, Span, is_hidden, visible};

/// How many lines with hidden characters are listed before the rest is only counted.
const LISTED: usize = 5;

/// One finding for each line that holds such characters, the first few listed and the rest counted. A byte-order mark
/// at the very start is allowed (KDL 2, section 3.1).
pub(super) fn find(file: FileId, text: &str) -> Vec<Finding> {
    // Nearly every text is plain, and this is told four times as fast byte by byte.
    if text.bytes().all(|byte| matches!(byte, b' '..=b'~' | b'\n' | b'\r' | b'\t')) {
        return Vec::new();
    }
    let mut places: Vec<(usize, char, usize)> = Vec::new();
    let mut fresh = true;
    for (at, c) in text.char_indices() {
        if c == '\n' {
            fresh = true;
        } else if is_hidden(c) && !(at == 0 && c == '\u{feff}') {
            match places.last_mut() {
                Some(last) if !fresh => last.2 += 1,
                _ => places.push((at, c, 1)),
            }
            fresh = false;
        }
    }
    let more = places.len().saturating_sub(LISTED);
    let mut findings: Vec<Finding> = places.iter().take(LISTED).map(|place| finding(file, *place)).collect();
    if more > 0
        && let Some(last) = findings.last_mut()
    {
        let lines = if more == 1 { "line has" } else { "lines have" };
        last.message = format!("{}; {more} further {lines} hidden characters", last.message);
    }
    findings
}

fn finding(file: FileId, (at, c, count): (usize, char, usize)) -> Finding {
    let name = visible(c.encode_utf8(&mut [0; 4]), true).into_owned();
    let what = match c {
        '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200e}' | '\u{200f}' | '\u{61c}' => {
            "changes the direction of the text around it"
        }
        '\u{2028}' | '\u{2029}' | '\u{85}' | '\u{b}' | '\u{c}' => "breaks the line where few editors show it",
        c if c.is_control() => "is a control character",
        _ => "has no width",
    };
    let message = match count {
        1 => format!("the character {name} {what} and cannot be seen here"),
        _ => format!("the character {name} {what} and cannot be seen here, with {} more on this line", count - 1),
    };
    let span = Span::new(file, at..at + c.len_utf8());
    let finding =
        Finding::new("hidden-character", Level::Error, span, message).help("delete it, or type the line anew");
    // A line break that few editors show may be a break that was meant.
    if count == 1 && !matches!(c, '\u{2028}' | '\u{2029}' | '\u{85}' | '\u{b}' | '\u{c}') {
        return finding.fix(Fix::notation("delete it", vec![Edit::delete(span)]));
    }
    finding
}
