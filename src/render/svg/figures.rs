//! Figures in words, as `weigh` writes them.

use crate::finding::FigureLine;
use crate::mend::Picture;
use crate::render::bar::Shown;
use crate::units::{Kind, System, show};

/// A figure of a load by its name in results.
pub(super) fn figure<'p>(picture: &'p Picture, name: &str) -> Option<&'p FigureLine> {
    picture.figures.iter().find(|line| line.name == name)
}

/// Its value with its unit, rounded as `weigh` rounds it; `not known` where it has none.
pub(super) fn value(line: Option<&FigureLine>, system: System) -> String {
    let Some(line) = line else { return "not known".to_owned() };
    let shown = Shown { kind: line.kind, system, spread: line.plus_minus };
    line.value.map_or_else(|| "not known".to_owned(), |value| shown.text(value))
}

/// What rules allow it to be: `at least 11 % and at most 15 %`; nothing where no rule in force bounds it.
pub(super) fn bounds(line: &FigureLine, system: System) -> Option<String> {
    let shown = Shown { kind: line.kind, system, spread: None };
    let least = line.at_least.as_ref().map(|(at, _)| format!("at least {}", shown.text(*at)));
    let most = line.at_most.as_ref().map(|(at, _)| format!("at most {}", shown.text(*at)));
    let all: Vec<String> = least.into_iter().chain(most).collect();
    (!all.is_empty()).then(|| all.join(" and "))
}

/// A length of a drawing.
pub(super) fn length(metres: f64, system: System) -> String {
    show(metres, Kind::Length, system)
}

/// A part of something.
pub(super) fn share(part: f64, system: System) -> String {
    show(part, Kind::Share, system)
}
