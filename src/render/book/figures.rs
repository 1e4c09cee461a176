//! The registry of figures and places.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use crate::figures::{Each, figure, place_names};
use crate::render::catalogue::groups;
use crate::render::markdown::{capital, code, plain};

/// All figures by the subjects at which they are there.
pub(super) fn figures() -> String {
    let mut out = String::new();
    for (of, all) in groups() {
        let _ = write!(out, "\n## {}\n\n", plain(&capital(&of)));
        for figure in all {
            let source = if figure.source.is_empty() {
                String::new()
            } else {
                format!(" *{}.*", plain(&capital(figure.source)))
            };
            let (name, measures) = (code(figure.name), plain(figure.measures.noun()));
            let _ = writeln!(out, "- {name} ({measures}): {}.{source}", plain(figure.doc));
        }
    }
    out.trim_start().to_owned()
}

/// What a rule may point at besides figures.
pub(super) fn places() -> String {
    let places_of =
        |each| -> BTreeSet<&str> { place_names(each).filter(|name| figure(name, each).is_none()).collect() };
    // What every subject has is told once.
    let shared = Each::ALL.into_iter().map(places_of).reduce(|all, own| &all & &own).unwrap_or_default();
    let mut groups: Vec<(Vec<String>, BTreeSet<&str>)> = vec![(vec!["any subject".to_owned()], shared.clone())];
    for each in Each::ALL {
        let own = &places_of(each) - &shared;
        match groups.iter_mut().skip(1).find(|(_, same)| *same == own) {
            Some((all, _)) => all.push(code(each.word())),
            None => groups.push((vec![code(each.word())], own)),
        }
    }
    groups.retain(|(_, names)| !names.is_empty());
    let mut out = "| of | places |\n|---|---|\n".to_owned();
    for (each, names) in groups {
        let names: Vec<String> = names.into_iter().map(code).collect();
        let _ = writeln!(out, "| {} | {} |", each.join(", "), names.join(", "));
    }
    out
}
