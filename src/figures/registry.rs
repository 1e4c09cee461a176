//! All figures and all places by name: the one list from which conditions, `weigh`, help and the book are made.

use std::sync::LazyLock;

use super::{
    Each, Figure, Load, Subject, of_axle, of_bulk, of_chain, of_coupling, of_grip, of_group, of_item, of_lashings,
    of_load, of_loading, of_part, of_plan, of_road, of_tie, of_ties, places,
};
use crate::text::Span;

static ALL: LazyLock<Vec<&'static Figure>> = LazyLock::new(|| {
    [
        of_load::FIGURES,
        of_chain::FIGURES,
        of_road::FIGURES,
        of_coupling::FIGURES,
        of_axle::FIGURES,
        of_group::FIGURES,
        of_item::FIGURES,
        of_bulk::FIGURES,
        of_part::FIGURES,
        of_loading::FIGURES,
        of_plan::FIGURES,
        of_grip::FIGURES,
        of_ties::FIGURES,
        of_tie::FIGURES,
        of_lashings::FIGURES,
    ]
    .into_iter()
    .flatten()
    .collect()
});

/// Every figure, in the order in which results list them. A figure's place in the list is its slot in conditions.
#[must_use]
pub fn figures() -> &'static [&'static Figure] {
    &ALL
}

/// The slot and the figure of this name, as a rule about such a subject sees it.
#[must_use]
pub fn figure(name: &str, each: Each) -> Option<(usize, &'static Figure)> {
    let there = |figure: &Figure| figure.of.is_empty() || figure.of.contains(&each);
    ALL.iter()
        .enumerate()
        .find(|(_, figure)| figure.name == name && there(figure))
        .map(|(slot, figure)| (slot, *figure))
}

/// Whether a rule about such a subject may point at a place of this name.
#[must_use]
pub fn is_place(name: &str, each: Each) -> bool {
    figure(name, each).is_some() || places::place(name, each).is_some()
}

/// The names of all places that a rule about such a subject may point at.
pub fn place_names(each: Each) -> impl Iterator<Item = &'static str> {
    let there = move |of: &[Each]| of.is_empty() || of.contains(&each);
    let figures = ALL.iter().filter(move |figure| there(figure.of)).map(|figure| figure.name);
    figures.chain(places::PLACES.iter().filter(move |place| there(place.of)).map(|place| place.name))
}

/// The places that a name points at for a subject, best first, each with what is written beside it: the entry, or else
/// the node that lacks it.
#[must_use]
pub fn marks(name: &str, each: Each, load: &Load<'_>, subject: Subject) -> Vec<(Span, &'static str)> {
    if let Some(place) = places::place(name, each) {
        let volumes = || load.items.iter().filter_map(|one| places::volume(one.item));
        let label = |span: Span| match place.name {
            "item.place" if volumes().any(|volume| volume == span) => "how much of it",
            "item.place" => "where it stands",
            _ => place.label,
        };
        return (place.spans)(load, subject).into_iter().map(|span| (span, label(span))).collect();
    }
    let Some((_, figure)) = figure(name, each) else { return Vec::new() };
    match figure.of(load, subject) {
        Ok(reading) => reading.at.into_iter().map(|span| (span, figure.doc)).collect(),
        Err(lack) => vec![(lack.at(), figure.doc)],
    }
}

#[cfg(test)]
mod tests {
    use super::figures;

    #[test]
    fn every_figure_has_a_noun_of_its_own() {
        for figure in figures() {
            assert!(!figure.noun.is_empty() && !figure.noun.contains(['_', '[']), "{}: {}", figure.name, figure.noun);
            let head = figure.name.split('.').next();
            let same = |other: &&&super::Figure| other.name.split('.').next() == head && other.noun == figure.noun;
            assert_eq!(figures().iter().filter(same).count(), 1, "{}: {}", figure.name, figure.noun);
        }
    }
}
