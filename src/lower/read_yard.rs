//! The checked yard node to settings.

use super::read_sheet::{carrier, conditions, loading};
use super::seen::{Leaf, Seen};
use super::value::Got;
use crate::finding::Level;
use crate::model::{Entry, RuleSetting, SealDuty, Settings, Slot};
use crate::units::System;
use std::sync::Arc;

/// The settings of a yard.
pub(super) fn settings(seen: &Seen<'_>) -> Settings {
    let texts = |node: &str, arg: &str| -> Vec<Entry<Arc<str>>> {
        seen.child(node).into_iter().flat_map(|node| node.all(arg)).filter_map(text).collect()
    };
    let owner = seen.owner_called("", "yard");
    let follow = seen.child("follow").into_iter().flat_map(|follow| follow.all("set"));
    let follow = follow.filter_map(|leaf| match leaf.got {
        Got::Choice(at) => Some(Entry::plain(Arc::from(["us", "eu", "none"].get(at).copied()?), leaf.at, leaf.written)),
        _ => None,
    });
    let units = match seen.choice_number("units") {
        Slot::Given(entry) => {
            Slot::Given(Entry::plain(if entry.value == 0 { System::Us } else { System::Si }, entry.at, entry.written))
        }
        Slot::Absent => Slot::Absent,
        Slot::Broken => Slot::Broken,
    };
    let seals = seen
        .children("require-seal")
        .filter_map(|seal| Some(SealDuty { under: seal.leaf("under").and_then(text)?, at: seal.node.head }));
    Settings {
        name: seen.name(),
        follow: follow.collect(),
        units,
        rules_from: texts("rules-from", "folder"),
        set: seen.children("set").filter_map(|set| rule_setting(set, &owner.path)).collect(),
        require_seal: seals.collect(),
        state: seen.text("state"),
        carrier: carrier(seen, &owner.path),
        conditions: conditions(seen, &owner.path),
        loading: loading(seen, &owner.path),
        owner: Some(owner),
    }
}

fn text(leaf: &Leaf) -> Option<Entry<Arc<str>>> {
    match &leaf.got {
        Got::Text(text) => Some(Entry::plain(Arc::clone(text), leaf.at, leaf.written)),
        _ => None,
    }
}

fn rule_setting(seen: &Seen<'_>, parent: &str) -> Option<RuleSetting> {
    let params = seen.params.iter().filter_map(|(name, leaf)| match leaf.got {
        Got::Number(si, kind) => {
            Some((Entry { unit: leaf.unit, ..Entry::plain(Arc::clone(name), leaf.at, leaf.written) }, si, kind))
        }
        _ => None,
    });
    let level = seen
        .choice_number("level")
        .entry()
        .and_then(|level| Level::ALL.get(level.value).map(|given| Entry::plain(*given, level.at, level.written)));
    let params: Vec<_> = params.collect();
    let off = seen.flag("off").entry().cloned();
    // What is broken has been told; that nothing else is set is no fault on top.
    let nothing = params.is_empty() && level.is_none() && off.is_none();
    let told = seen.lost || !seen.params.is_empty() || seen.is_broken("level") || seen.is_broken("off");
    if nothing && told {
        return None;
    }
    Some(RuleSetting { rule: seen.name()?, owner: seen.owner(parent), params, level, off })
}
