//! `draylint place --format json`.

use serde::Serialize;

use super::{SCHEMA, finite, written};
use crate::mend::{Collision, FacingPlaces, ItemMove, ItemPlaces, Joint, LoadPlaces, Range};
use crate::model::Choice as _;
use crate::text::Sources;

#[derive(Serialize)]
struct Document<'a> {
    schema: u32,
    places: Vec<OfItem<'a>>,
    loads: Vec<Load<'a>>,
}

#[derive(Serialize)]
struct OfItem<'a> {
    sheet: &'a str,
    leg: Option<&'a str>,
    item: &'a str,
    with: Vec<&'a str>,
    measured: &'static str,
    unit: &'static str,
    now: Now,
    facings: Vec<Way<'a>>,
}

#[derive(Serialize)]
struct Now {
    facing: Option<&'static str>,
    gap: Option<f64>,
}

#[derive(Serialize)]
struct Way<'a> {
    facing: Option<&'static str>,
    ranges: Vec<Stretch<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    collision: Option<Colliding<'a>>,
}

#[derive(Serialize)]
struct Stretch<'a> {
    from: Option<f64>,
    to: Option<f64>,
    from_limit: Option<&'a str>,
    to_limit: Option<&'a str>,
}

/// The limits that exclude one another, and by how much.
#[derive(Serialize)]
struct Colliding<'a> {
    limits: Vec<&'a str>,
    apart: Option<f64>,
}

/// What holds for a load as a whole.
#[derive(Serialize)]
struct Load<'a> {
    sheet: &'a str,
    leg: Option<&'a str>,
    file: &'a str,
    missing: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    together: Option<Vec<Moved<'a>>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    no_place: Option<NoPlace<'a>>,
    unsearched: Vec<&'a str>,
    broken_anywhere: Vec<&'a str>,
    broken_on_the_way_up: Vec<&'a str>,
    undecided: Vec<Undecided<'a>>,
}

/// Where an item would stand.
#[derive(Serialize)]
struct Moved<'a> {
    item: &'a str,
    measured: &'static str,
    facing: Option<&'static str>,
    gap: Option<f64>,
}

#[derive(Serialize)]
struct NoPlace<'a> {
    message: &'a str,
    help: &'a str,
}

#[derive(Serialize)]
struct Undecided<'a> {
    rule: &'a str,
    missing: &'a str,
}

/// The places of all loads as one JSON object with a line break at its end.
#[must_use]
pub fn place(sources: &Sources, loads: &[LoadPlaces]) -> String {
    written(&Document {
        schema: SCHEMA,
        places: loads.iter().flat_map(|load| load.items.iter().map(move |item| one(load, item))).collect(),
        loads: loads
            .iter()
            .map(|load| Load {
                sheet: &load.sheet,
                leg: load.leg.as_deref(),
                file: sources.get(load.file).map_or("", |source| &source.name),
                missing: load.missing.as_deref(),
                together: match &load.joint {
                    Some(Joint::Moves(moves)) => Some(moves.iter().map(moved).collect()),
                    _ => None,
                },
                no_place: match &load.joint {
                    Some(Joint::Nowhere { why, help }) => Some(NoPlace { message: why, help }),
                    _ => None,
                },
                unsearched: load.unsearched.iter().map(|item| &**item).collect(),
                broken_anywhere: load.elsewhere.iter().map(|id| &**id).collect(),
                broken_on_the_way_up: load.on_the_way_up.iter().map(|id| &**id).collect(),
                undecided: load.unjudged.iter().map(|(rule, missing)| Undecided { rule, missing }).collect(),
            })
            .collect(),
    })
}

fn one<'a>(load: &'a LoadPlaces, item: &'a ItemPlaces) -> OfItem<'a> {
    OfItem {
        sheet: &load.sheet,
        leg: load.leg.as_deref(),
        item: &item.item,
        with: item.with.iter().map(|one| &**one).collect(),
        measured: item.measured,
        unit: item.kind.si_symbol(),
        now: Now { facing: item.facing.map(crate::model::Facing::word), gap: finite(Some(item.now)) },
        facings: item.facings.iter().map(facing).collect(),
    }
}

fn moved(one: &ItemMove) -> Moved<'_> {
    Moved {
        item: &one.item,
        measured: one.measured,
        facing: one.facing.map(crate::model::Facing::word),
        gap: finite(Some(one.to)),
    }
}

fn facing(way: &FacingPlaces) -> Way<'_> {
    Way {
        facing: way.facing.map(crate::model::Facing::word),
        ranges: way.ranges.iter().map(range).collect(),
        collision: way.collision.as_ref().map(colliding),
    }
}

fn range(range: &Range) -> Stretch<'_> {
    Stretch {
        from: finite(Some(range.from.at)),
        to: finite(Some(range.to.at)),
        from_limit: range.from.limit.as_deref(),
        to_limit: range.to.limit.as_deref(),
    }
}

fn colliding(collision: &Collision) -> Colliding<'_> {
    Colliding {
        limits: collision.limits.iter().map(|id| &**id).collect(),
        apart: collision.apart().and_then(|apart| finite(Some(apart))),
    }
}
