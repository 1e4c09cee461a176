//! Slips that are valid KDL and yet mean something else than was meant.

use std::ops::Range;

use super::tree::{Node, Value};
use crate::finding::{Edit, Finding, Fix, Level};
use crate::text::{FileId, Span};
use crate::units::{annotation, meant, without_commas};

/// The longest piece of the user's text that help repeats.
pub(super) const SHOWN: usize = 60;

/// Slips that are valid KDL and yet mean something else: `weight: 4200` is a node named `weight:`. Adds a finding for
/// each and says whether there was one.
pub(super) fn slips(text: &str, node: &Node, findings: &mut Vec<Finding>) -> bool {
    let before = findings.len();
    let bare = |span: Span| text.get(span.range()).unwrap_or("");
    let file = node.span.file;
    let following = |nth: usize| node.entries.get(nth).map(|next| next.typed_span.range());
    let name = node.name.span.range();
    let values = [following(0), following(1)];
    findings.extend(Colon { file, text, word: name, values, ends: node.head.end as usize }.finding(" "));
    for (at, entry) in node.entries.iter().enumerate() {
        let written = bare(entry.value_span);
        if !matches!(entry.value, Value::Text(_)) || entry.key.is_some() {
            continue;
        }
        let values = [following(at + 1), following(at + 2)];
        if let Some(finding) = (Colon { file, text, word: entry.value_span.range(), values, ends: 0 }).finding("=") {
            findings.push(finding);
        } else if written.starts_with('\'') {
            let finding = Finding::new("not-kdl", Level::Error, entry.value_span, "text stands in double quotes");
            let inner = written.trim_matches('\'');
            let title = format!("write \"{}\"", shown(inner));
            let whole = written.ends_with('\'') && written.len() == inner.len() + 2;
            findings.push(if whole {
                let edit = Edit::replace(entry.value_span, format!("\"{inner}\""));
                finding.fix(Fix::notation(title, vec![edit]))
            } else {
                finding.help(title)
            });
        }
    }
    findings.len() > before
}

/// A bare word with a colon at its end or in it, in two.
fn split_colon(word: &str) -> Option<(&str, &str)> {
    if word.starts_with(['"', '#']) {
        return None;
    }
    word.split_once(':').filter(|(before, _)| !before.is_empty())
}

/// A word with a colon at its end or in it, and what follows it on its line.
pub(super) struct Colon<'t> {
    pub(super) file: FileId,
    pub(super) text: &'t str,
    /// The word, without what is glued to it by other signs.
    pub(super) word: Range<usize>,
    /// The next two values after it.
    pub(super) values: [Option<Range<usize>>; 2],
    /// How far what is to be written is shown, if that is farther than the value.
    pub(super) ends: usize,
}

impl Colon<'_> {
    fn text(&self, range: Range<usize>) -> &str {
        self.text.get(range).unwrap_or("")
    }

    /// The finding, when there is a colon, with what stands in its place: a blank after a node's name, `=` after a key.
    pub(super) fn finding(&self, separator: &str) -> Option<Finding> {
        let word = self.text(self.word.clone());
        let (before, inline) = split_colon(word)?;
        let colon = self.word.start + before.len();
        let [first, second] = self.values.clone();
        let (value, unit) = if inline.is_empty() { (first, second) } else { (Some(colon + 1..self.word.end), first) };
        let mut edits = self.parted(colon, value.clone(), separator);
        let mut ends = self.ends.max(self.word.end);
        let mut count = false;
        if let Some(value) = value {
            let unit = unit.filter(|unit| self.text(value.end..unit.start).trim().is_empty());
            let (range, mended, bare) = self.unit_first(value, unit);
            ends = ends.max(range.end);
            count = bare;
            if mended != self.text(range.clone()) && !edits.is_empty() {
                edits.push(Edit::replace(Span::new(self.file, range), mended));
            }
        }
        let message = format!("{} is written with a colon, which makes it another word", shown(word));
        let finding = Finding::new("unknown-word", Level::Error, Span::new(self.file, self.word.clone()), message);
        if edits.is_empty() {
            return Some(finding.help("write it without the colon"));
        }
        let instead = applied(self.text, self.word.start..ends, &edits);
        let title = if instead.len() <= 2 * SHOWN && !instead.contains(['\n', '\r']) {
            format!("write {}", instead.trim_end())
        } else {
            "write it without the colon".to_owned()
        };
        let more = if count { "; unless it is a count, its unit goes before it, as in (lb)" } else { "" };
        Some(finding.help(format!("{title}{more}")).fix(Fix::notation(title, edits)))
    }

    /// What parts word and value in the place of the colon.
    fn parted(&self, colon: usize, value: Option<Range<usize>>, separator: &str) -> Vec<Edit> {
        let replaced = |range: Range<usize>, text: &str| vec![Edit::replace(Span::new(self.file, range), text)];
        match value {
            Some(value) if value.start == colon + 1 => replaced(colon..colon + 1, separator),
            _ if separator == " " => replaced(colon..colon + 1, ""),
            Some(value) if self.text(colon + 1..value.start).trim_matches([' ', '\t']).is_empty() => {
                replaced(colon..value.start, separator)
            }
            _ => Vec::new(),
        }
    }

    /// `11000 lb`, `58in` or `4200`, each as a sheet writes it; anything else as it stands. What takes a unit and what
    /// is a count is not known here, so of a number alone it is said.
    fn unit_first(&self, value: Range<usize>, next: Option<Range<usize>>) -> (Range<usize>, String, bool) {
        let written = self.text(value.clone());
        let end = written.find(|c: char| !(c.is_ascii_digit() || "+-._,".contains(c))).unwrap_or(written.len());
        let (digits, glued) = written.split_at_checked(end).unwrap_or((written, ""));
        let number = without_commas(digits).filter(|number| number.parse::<f64>().is_ok());
        let Some(number) = number else { return (value, written.to_owned(), false) };
        let behind = next.filter(|next| glued.is_empty() && meant(self.text(next.clone())).is_some());
        let unit = behind.clone().map_or(glued, |next| self.text(next));
        match meant(unit) {
            Some(unit) => {
                let end = behind.map_or(value.end, |next| next.end);
                (value.start..end, format!("{}{number}", annotation(unit.symbol)), false)
            }
            None if glued.is_empty() => (value, number, true),
            None => (value, written.to_owned(), false),
        }
    }
}

/// A piece of the text with edits in it.
fn applied(text: &str, range: Range<usize>, edits: &[Edit]) -> String {
    let mut out = String::new();
    let mut at = range.start;
    for edit in edits {
        let place = edit.span.range();
        out.push_str(text.get(at..place.start).unwrap_or(""));
        out.push_str(&edit.text);
        at = place.end;
    }
    out.push_str(text.get(at..range.end).unwrap_or(""));
    out
}

/// As much of a word as a message repeats.
pub(super) fn shown(word: &str) -> &str {
    let end = word.char_indices().nth(SHOWN).map_or(word.len(), |(at, _)| at);
    word.get(..end).unwrap_or("")
}
