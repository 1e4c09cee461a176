//! `draylint place` for a person: the ranges in which each item may stand, and a ruler drawn to the deck's scale.

use super::caution;
use super::place::{load_head, shown};
use super::ruler::Ruler;
use super::style::{Ink, Style};
use super::wrap::paragraph;
use crate::mend::{FacingPlaces, ItemPlaces, Joint, LoadPlaces};
use crate::model::Choice as _;
use crate::text::{Sources, all_of};
use crate::units::{Kind, System, show, show_range};

/// How to read the ruler.
const LEGEND: &str = "On each ruler the front of the deck is at the left: # is where the item stands now, = where its \
                      foremost point may be.";

/// Where the items of all loads may stand; with `quiet` without the caution at the end.
#[must_use]
pub fn text(sources: &Sources, loads: &[LoadPlaces], style: Style, quiet: bool) -> String {
    let mut out = String::new();
    for load in loads {
        one(sources, load, style, &mut out);
        out.push('\n');
    }
    if loads.is_empty() {
        out.push_str("no loads here: there is nothing to place\n");
    }
    if !quiet {
        if loads.iter().any(|load| load.items.iter().any(|item| item.kind == Kind::Length)) {
            paragraph(&mut out, "", LEGEND, 0, style.columns());
        }
        out.push_str(&caution(style));
    }
    out
}

fn one(sources: &Sources, load: &LoadPlaces, style: Style, out: &mut String) {
    load_head(sources, (&load.sheet, load.leg.as_deref(), load.file), style, out);
    let width = style.columns();
    if let Some(missing) = &load.missing {
        let text = format!("cannot be computed for want of {missing}, so no place is offered");
        paragraph(out, "  ", &shown(&text), 4, width);
        return;
    }
    if !load.unsearched.is_empty() {
        let text = format!("too much stands on this deck to search: {} left out", load.unsearched.len());
        paragraph(out, "  ", &text, 4, width);
    } else if load.items.is_empty() {
        paragraph(out, "  ", "nothing on its deck is placed by a gap or a volume", 4, width);
    }
    for item in &load.items {
        places(load, item, style, out);
    }
    if let Some(joint) = &load.joint {
        together(load, joint, width, out);
    }
    if !load.elsewhere.is_empty() {
        let ids: Vec<&str> = load.elsewhere.iter().map(|id| &**id).collect();
        let text = format!("broken wherever one of these stands: {}", all_of(&ids));
        paragraph(out, "  ", &shown(&text), 4, width);
    }
    if !load.on_the_way_up.is_empty() {
        let ids: Vec<&str> = load.on_the_way_up.iter().map(|id| &**id).collect();
        let text = format!("broken on the way up, wherever they stand then: {}", all_of(&ids));
        paragraph(out, "  ", &shown(&text), 4, width);
    }
    for (rule, missing) in &load.unjudged {
        let text = format!("not judged: {rule}, for want of {missing}");
        paragraph(out, "  ", &shown(&text), 4, width);
    }
}

/// What moving all items at once can do.
fn together(load: &LoadPlaces, joint: &Joint, width: usize, out: &mut String) {
    match joint {
        Joint::Moves(moves) => {
            let moved = moves.iter().map(|one| {
                let facing = one.facing.map(|facing| format!(" {}", facing.word())).unwrap_or_default();
                format!("{}{facing} at {} {}", one.item, one.measured, show(one.to, Kind::Length, load.system))
            });
            let text = format!("moved together, the least: {}", all_of(&moved.collect::<Vec<_>>()));
            paragraph(out, "  ", &shown(&text), 4, width);
        }
        Joint::Nowhere { why, help } => {
            paragraph(out, "  ", &shown(why), 4, width);
            paragraph(out, "  help: ", &shown(help), 8, width);
        }
    }
}

fn places(load: &LoadPlaces, item: &ItemPlaces, style: Style, out: &mut String) {
    let show_it = |si: f64| show(si, item.kind, load.system);
    let width = style.columns();
    let facing = item.facing.map(|facing| format!(" {}", facing.word())).unwrap_or_default();
    let mut head = format!("{}{facing} at {} {}", item.item, item.measured, show_it(item.now));
    if !item.with.is_empty() {
        let with: Vec<&str> = item.with.iter().map(|one| &**one).collect();
        head = format!("{head}, {} going along", all_of(&with));
    }
    paragraph(out, "  ", &style.paint(Ink::Lead, &shown(&head)), 4, width);
    for way in &item.facings {
        let lead = way.facing.map_or("", |facing| facing.word());
        let lead = if way.facing.is_none() { "range" } else { lead };
        let lead = format!("    {lead:<10}");
        for (at, range) in way.ranges.iter().enumerate() {
            let lead = if at == 0 { lead.clone() } else { " ".repeat(14) };
            let text = if range.from.at >= range.to.at - 1e-6 {
                format!("{} exactly", show_it(range.from.at))
            } else {
                let (from, to) = show_range(range.from.at, range.to.at, item.kind, load.system);
                format!("{from} to {to}")
            };
            let limit = |limit: &Option<std::sync::Arc<str>>| {
                limit.as_ref().map_or("nothing on the deck".to_owned(), ToString::to_string)
            };
            let text = format!("{text}: below it {}, above it {}", limit(&range.from.limit), limit(&range.to.limit));
            paragraph(out, &lead, &shown(&text), 14, width);
        }
        if way.ranges.is_empty() {
            let why = way.collision.as_ref().map(|one| one.said(item.measured, item.kind, load.system));
            let text = format!("none: {}", why.unwrap_or_default());
            paragraph(out, &lead, &shown(&text), 14, width);
        }
    }
    if let Some(deck) = load.deck.filter(|_| item.kind == Kind::Length) {
        draw(item, deck, load.system, style, out);
    }
}

fn draw(item: &ItemPlaces, deck: f64, system: System, style: Style, out: &mut String) {
    // Where the item's foremost point is when its gap is this.
    let front = |gap: f64| if item.measured == "rear-gap" { deck - gap - item.length } else { gap };
    let fronts = |way: &FacingPlaces| -> Vec<(f64, f64)> {
        let ends = way.ranges.iter().map(|range| (front(range.from.at), front(range.to.at)));
        ends.map(|(one, other)| (one.min(other), one.max(other))).collect()
    };
    let now = (front(item.now), front(item.now) + item.length);
    let mut all: Vec<(f64, f64)> = item.facings.iter().flat_map(fronts).collect();
    all.push(now);
    let ruler = Ruler::new(deck, &all, style);
    ruler.scale(system, out);
    ruler.stretches("now", &[now], '#', out);
    for way in &item.facings {
        ruler.stretches(way.facing.map_or("may be", |facing| facing.word()), &fronts(way), '=', out);
    }
}
