//! Where each item may stand, drawn under the deck and told in words.

use super::canvas::{Anchor, Canvas, Fill, MARGIN, Pen, SMALL};
use super::letter;
use super::side::Scale;
use super::texts::{named, wide};
use crate::mend::{FacingPlaces, ItemPlaces, Picture};
use crate::model::Choice as _;
use crate::units::{Kind, show, show_range};

/// Strips under the deck: where an item stands, and where its foremost point may be.
pub(super) fn strips(canvas: &mut Canvas, picture: &Picture, scale: Scale) {
    let deck = picture.scene.trailer.deck;
    let (left, right) = (MARGIN, canvas.width - MARGIN);
    let x = |gap: f64| scale.x(deck.from + gap).clamp(left, right);
    let items = picture.places.items.iter().filter(|item| item.kind == Kind::Length);
    for item in items {
        let at = picture.scene.items.iter().position(|one| one.name == item.item);
        let sign = at.map_or_else(String::new, letter);
        let fronts = |gap: f64| if item.measured == "rear-gap" { deck.to - deck.from - gap - item.length } else { gap };
        let now = (fronts(item.now), fronts(item.now) + item.length);
        row(canvas, &format!("{sign} now"), (x(0.0), x(deck.to - deck.from)), |canvas, y| {
            canvas.rect((x(now.0), y - 4.0), (x(now.1), y + 4.0), Fill::Paper, Pen::PLAIN);
        });
        for way in &item.facings {
            let lead = way.facing.map_or("may be", |facing| facing.word());
            row(canvas, &format!("{sign} {lead}"), (x(0.0), x(deck.to - deck.from)), |canvas, y| {
                if way.ranges.is_empty() {
                    canvas.mark((x((deck.to - deck.from) / 2.0), y + 4.0), Anchor::Middle, "nowhere");
                }
                for range in &way.ranges {
                    let ends = (x(fronts(range.from.at)), x(fronts(range.to.at)));
                    canvas.rect((ends.0, y - 4.0), (ends.1, y + 4.0), Fill::Falling, Pen::THIN);
                    for end in [ends.0, ends.1] {
                        canvas.line((end, y - 6.0), (end, y + 6.0), Pen { width: 1.6, ..Pen::PLAIN });
                    }
                }
            });
        }
        canvas.y += 4.0;
    }
}

/// A strip: its name to the left where there is room, else above, and a line as long as the deck.
fn row(canvas: &mut Canvas, name: &str, (from, to): (f64, f64), draw: impl FnOnce(&mut Canvas, f64)) {
    let beside = from - MARGIN > wide(name, SMALL) + 8.0;
    if !beside {
        canvas.y += 12.0;
        canvas.mark((MARGIN, canvas.y), Anchor::Start, name);
    }
    canvas.y += 14.0;
    let y = canvas.y - 5.0;
    if beside {
        canvas.mark((from - 8.0, y + 4.0), Anchor::End, name);
    }
    canvas.line((from, y), (to, y), Pen::THIN);
    for end in [from, to] {
        canvas.line((end, y - 5.0), (end, y + 5.0), Pen::THIN);
    }
    draw(canvas, y);
}

/// Where an item may stand, or how much of it there may be, in words. None where it was not searched.
pub(super) fn may_stand(picture: &Picture, name: &str) -> Option<String> {
    let item = picture.places.items.iter().find(|item| *item.item == *name)?;
    let ways: Vec<String> = item.facings.iter().map(|way| told(picture, item, way)).collect();
    let ways = ways.join("; ");
    if item.kind == Kind::Volume {
        return Some(format!("Its volume may be {ways}"));
    }
    let with: Vec<String> = item.with.iter().take(4).map(|one| named(one)).collect();
    let with = if with.is_empty() { String::new() } else { format!(", {} going along", with.join(", ")) };
    Some(format!("It may stand {ways}{with}"))
}

/// How to read the strips, and what no place of an item cures.
pub(super) fn explained(canvas: &mut Canvas, picture: &Picture) {
    let places = &picture.places;
    if places.items.iter().any(|item| item.kind == Kind::Length) {
        canvas.print(
            "The strips under the deck show where an item stands now and, hatched, where its foremost point may be, the others staying where they are.",
            false,
        );
    }
    if !places.unsearched.is_empty() {
        canvas.print(&format!("Too much stands on this deck to search: {} left out.", places.unsearched.len()), true);
    }
    let broken = [
        ("no place of one item cures", &places.elsewhere),
        ("on the way up, wherever they stand then", &places.on_the_way_up),
    ];
    for (where_, rules) in broken.into_iter().filter(|(_, rules)| !rules.is_empty()) {
        let rules: Vec<String> = rules.iter().map(|rule| named(rule)).collect();
        canvas.print(&format!("Not kept, {where_}: {}.", rules.join(", ")), true);
    }
}

fn told(picture: &Picture, item: &ItemPlaces, way: &FacingPlaces) -> String {
    let facing = way.facing.map(|facing| format!("facing {} ", facing.word())).unwrap_or_default();
    if way.ranges.is_empty() {
        let why = way.collision.as_ref().map(|one| one.said(item.measured, item.kind, picture.system));
        return format!("{facing}nowhere: {}", why.unwrap_or_default());
    }
    let limit = |limit: &Option<std::sync::Arc<str>>| {
        limit.as_ref().map_or_else(|| "nothing on the deck".to_owned(), |rule| named(rule))
    };
    let ranges = way.ranges.iter().map(|range| {
        let at = if range.from.at >= range.to.at - 1e-6 {
            format!("{} exactly", show(range.from.at, item.kind, picture.system))
        } else {
            let (from, to) = show_range(range.from.at, range.to.at, item.kind, picture.system);
            format!("{from} to {to}")
        };
        format!("{at} (below it {}, above it {})", limit(&range.from.limit), limit(&range.to.limit))
    });
    let ranges: Vec<String> = ranges.collect();
    if item.kind == Kind::Volume {
        return ranges.join(" or ");
    }
    format!("{facing}with its {} at {}", item.measured, ranges.join(" or "))
}
