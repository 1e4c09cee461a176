//! The parts of the book that are made: a page for each rule, the words of the language, the figures, the half-widths.
//! They come from the same data as the program's own output; `tests/book.rs` holds them against `book/src`.

mod figures;
mod known;
mod rules;
mod words;

use crate::mend::Trial;
use crate::rules::RuleSet;

/// A page that is made whole.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Page {
    /// Its path below `book/src`.
    pub path: String,
    /// Its text, in Markdown.
    pub text: String,
}

/// Every page that is made whole, for these rules, whose examples are tried in `trial`.
pub fn pages(rules: &RuleSet, trial: &mut Trial) -> Vec<Page> {
    let mut all = words::pages();
    all.extend(rules::pages(rules, trial));
    all
}

/// The made part of a page that is otherwise written by hand, by the name that its marker gives it.
#[must_use]
pub fn part(name: &str, rules: &RuleSet) -> Option<String> {
    match name {
        "contents of the rules" => Some(rules::contents(rules)),
        "rules by pack" => Some(rules::by_pack(rules)),
        "statuses" => Some(rules::statuses()),
        "kinds of source" => Some(rules::kinds()),
        "units" => Some(words::units()),
        "half-widths" => Some(known::half_widths()),
        "origins where none is said" => Some(known::unsaid()),
        "figures" => Some(figures::figures()),
        "places" => Some(figures::places()),
        _ => None,
    }
}
