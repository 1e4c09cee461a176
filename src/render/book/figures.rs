//! The registry of figures and places.

use std::fmt::Write as _;

use super::markdown::{capital, code, plain};
use crate::figures::{Each, figure, place_names};
use crate::render::catalogue::groups;

/// All figures by the subjects at which they are there.
pub(super) fn figures() -> String {
    let mut out = String::new();
    for (of, all) in groups() {
        let _ = write!(out, "\n## {}\n\n| figure | what it is |\n|---|---|\n", plain(&capital(&of)));
        for figure in all {
            let source = if figure.source.is_empty() { String::new() } else { format!(" *{}*", plain(figure.source)) };
            let measures = plain(figure.measures.noun());
            let _ = writeln!(out, "| {}<br>{measures} | {}.{source} |", code(figure.name), plain(&capital(figure.doc)));
        }
    }
    out.trim_start().to_owned()
}

/// What a rule may point at besides figures.
pub(super) fn places() -> String {
    let mut out = "| of each | places |\n|---|---|\n".to_owned();
    for each in Each::ALL {
        let mut names: Vec<&str> = place_names(each).filter(|name| figure(name, each).is_none()).collect();
        names.sort_unstable();
        names.dedup();
        let names: Vec<String> = names.into_iter().map(code).collect();
        let _ = writeln!(out, "| {} | {} |", code(each.word()), names.join(", "));
    }
    out
}
