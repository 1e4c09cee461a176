//! What moving several items at once can do for a load: the smallest total move that keeps every limit, or why none does.

use std::sync::Arc;

use super::bench::Bench;
use super::cure::Moves;
use super::movable::Movable;
use super::nowhere::{binds, no_place};
use super::place::{facing, other};
use crate::model::Facing;
use crate::rules::RuleSet;
use crate::units::System;

/// What moving all items of a load can do, where a limit is broken as they stand.
#[derive(Clone, Debug, PartialEq)]
pub enum Joint {
    /// Where each item that is moved would stand: together the smallest move along the deck that keeps every limit.
    Moves(Vec<ItemMove>),
    /// No place keeps every limit: why, and what resolves it.
    Nowhere {
        /// Which limits exclude one another, and by how much.
        why: String,
        /// What would resolve it, as tried.
        help: String,
    },
}

/// An item moved.
#[derive(Clone, Debug, PartialEq)]
pub struct ItemMove {
    /// Its name in results.
    pub item: Arc<str>,
    /// The entry: `front-gap` or `rear-gap`.
    pub measured: &'static str,
    /// Its value, in m.
    pub to: f64,
    /// How it stands then; none for what has no front.
    pub facing: Option<Facing>,
}

/// What moving the items of a load can do. None where every limit that depends on it is kept already, where one item's
/// ranges tell as much, and where the search was ended before it could tell.
pub(super) fn joint(bench: &Bench<'_>, rules: &RuleSet, moves: &Moves<'_, '_>, system: System) -> Option<Joint> {
    let load = moves.ends.first()?;
    let items = Movable::along(load);
    let broken = moves.limits.iter().any(|limit| !limit.aboard && moves.broken(limit) && moves.depends(&limit.rule.id));
    if !broken {
        return None;
    }
    let held = |at: usize| moves.limits.get(at).is_some_and(|limit| binds(limit, &[]));
    if items.len() > 1
        && let Some((way, _)) = moves.standings(&items, true, &held).into_iter().next()
    {
        let to = moves.rounded(&items, &way, &held)?;
        let moved = items.iter().zip(&to).zip(&way.turned);
        let moved = moved.filter(|((item, to), turned)| **turned || (*to - item.now).abs() > 1e-6);
        let moved = moved.filter_map(|((item, to), turned)| {
            let one = load.items.get(item.item)?;
            let now = facing(one.item);
            let facing = if *turned { now.map(other) } else { now };
            Some(ItemMove { item: Arc::clone(&one.label), measured: item.what.word(), to: *to, facing })
        });
        return Some(Joint::Moves(moved.collect()));
    }
    let finding = no_place(bench, rules, moves, &[], system)?;
    Some(Joint::Nowhere { why: finding.message, help: finding.help.unwrap_or_default() })
}
