//! What would resolve a load that has no place: another trailer of the yard, an attachment left off, something left
//! behind. Each is written into the sheet, things are moved to where they may stand, and the sheet is checked again.

use std::sync::Arc;

use super::bench::Bench;
use super::cure::Moves;
use super::entry::written;
use super::movable::Movable;
use super::nowhere::binds;
use super::plan::{find, taken_out};
use crate::figures::Load;
use crate::finding::{Edit, Finding, Level};
use crate::model::{ItemKind, LoadRef, Yard};
use crate::rules::RuleSet;
use crate::syntax::parse;
use crate::text::{FileId, Span, all_of, quoted};

/// How many ways are told, and how many are tried.
const MOST_TOLD: usize = 3;
const MOST_TRIED: usize = 12;

/// What is changed, as a sentence begins.
struct Way {
    said: String,
    edits: Vec<Edit>,
    /// Ties are set anew on another trailer, so that their anchors need not be there.
    anew: bool,
    /// An attachment comes off, so that gaps are to other points than before.
    off: bool,
}

/// The ways that resolve it, as sentences with the gaps at which things then stand.
pub(super) fn resolutions(
    bench: &Bench<'_>,
    rules: &RuleSet,
    moves: &Moves<'_, '_>,
    waived: &[Arc<str>],
) -> Vec<String> {
    let Some(load) = moves.ends.first() else { return Vec::new() };
    let file = load.sheet.owner.at.file;
    let Some(source) = bench.sources().get(file) else { return Vec::new() };
    let ways = ways(bench, load, file, &source.text);
    let tried = ways.into_iter().take(MOST_TRIED).filter_map(|way| resolved(bench, rules, moves, &way, waived));
    tried.take(MOST_TOLD).collect()
}

fn ways(bench: &Bench<'_>, load: &Load<'_>, file: FileId, text: &str) -> Vec<Way> {
    let mut ways = Vec::new();
    let tree = parse(file, text).document;
    let nodes = tree.as_ref().map(|tree| tree.nodes.as_slice()).unwrap_or_default();
    let delete = |head: Span| {
        let node = find(nodes, head)?;
        Some(vec![taken_out(text, node)])
    };
    for one in &load.items {
        for fit in one.fits() {
            let name = &fit.attachment.name.value;
            let said = format!("leave {} off {}", called(name), called(&one.label));
            ways.extend(delete(fit.owner.at).map(|edits| Way { said, edits, anew: false, off: true }));
        }
    }
    let own = load.trailer.as_ref().ok().map(|trailer| Arc::clone(&trailer.id.value));
    if let Some(named) = load.sheet.trailer.as_ref().filter(|_| load.sheet.legs.is_empty()) {
        for trailer in bench.yard().trailers.iter().filter(|one| Some(&one.id.value) != own.as_ref()) {
            let id = &trailer.id.value;
            let edits = vec![Edit::replace(named.name.written, quoted(id))];
            ways.push(Way { said: format!("take trailer {}", quoted(id)), edits, anew: true, off: false });
        }
    }
    let own = load.truck.as_ref().ok().map(|truck| Arc::clone(&truck.id.value));
    if let Some(named) = load.sheet.truck.as_ref().filter(|_| load.sheet.legs.is_empty()) {
        for truck in bench.yard().trucks.iter().filter(|one| Some(&one.id.value) != own.as_ref()) {
            let id = &truck.id.value;
            let edits = vec![Edit::replace(named.name.written, quoted(id))];
            ways.push(Way { said: format!("take truck {}", quoted(id)), edits, anew: false, off: false });
        }
    }
    for cargo in &load.in_truck {
        let said = format!("leave {} out of the truck", called(&cargo.name.value));
        ways.extend(delete(cargo.owner.at).map(|edits| Way { said, edits, anew: false, off: false }));
    }
    if load.items.len() > 1 {
        for one in load.items.iter().filter(|one| !matches!(one.item.kind, ItemKind::Bulk(_))) {
            let said = format!("leave {} behind", called(&one.label));
            ways.extend(delete(one.item.owner.at).map(|edits| Way { said, edits, anew: false, off: false }));
        }
    }
    ways
}

/// A name as a list can hold it.
fn called(name: &str) -> String {
    if name.contains([' ', ',']) { quoted(name) } else { name.to_owned() }
}

/// The sentence of a way, when it resolves the load: with things moved to where they may then stand, the load has no
/// error or warning that it did not have before.
fn resolved(bench: &Bench<'_>, rules: &RuleSet, all: &Moves<'_, '_>, way: &Way, waived: &[Arc<str>]) -> Option<String> {
    let own = all.ends.first()?;
    let before = Movable::along(own);
    let tried = bench.tried(&way.edits)?;
    let which = same_load(own, &tried.yard)?;
    let moves = Moves::of_yard(&tried.yard, &tried.rules, which)?;
    let load = moves.ends.first()?;
    let mut items = Movable::along(load);
    for item in &mut items {
        let datum = |load: &Load<'_>| load.items.get(item.item)?.placed.as_ref().ok().map(|placed| placed.datum.si());
        // A machine stays where it stood when an attachment comes off; the gap to its foremost point is another then.
        if way.off
            && let (Some(old), Some(new)) = (datum(own), datum(load))
        {
            item.now += item.what.rearward() * (old - new);
        }
    }
    let items = items;
    let held = |at: usize| moves.limits.get(at).is_some_and(|limit| binds(limit, waived));
    let (standing, _) = moves.standings(&items, true, &held).into_iter().next()?;
    let to = moves.rounded(&items, &standing, &held)?;
    // The last word is the checker's.
    let mut edits = way.edits.clone();
    let mut said = Vec::new();
    for ((item, to), turned) in items.iter().zip(&to).zip(&standing.turned) {
        let label = load.items.get(item.item).map(|one| &one.label)?;
        let as_written = before
            .iter()
            .find(|one| one.what == item.what && own.items.get(one.item).is_some_and(|one| one.label == *label))?;
        edits.extend(all.edits(as_written, *to, *turned)?);
        if *turned || (to - as_written.now).abs() > 1e-6 {
            let round = if *turned { " turned round" } else { "" };
            said.push(format!("{}{round} at {}={}", called(label), item.what.word(), written(*to, item.unit)));
        }
    }
    if !holds(bench, rules, own, &edits, way.anew) {
        return None;
    }
    let gaps = if said.is_empty() { String::new() } else { format!(" and set {}", all_of(&said)) };
    Some(format!("{}{gaps}", way.said))
}

/// Whether the load, so changed, has no error or warning that it did not have before.
fn holds(bench: &Bench<'_>, rules: &RuleSet, load: &Load<'_>, edits: &[Edit], anew: bool) -> bool {
    let (Some(after), Some(before)) = (bench.after(edits), bench.before(edits)) else { return false };
    let leg = load.leg.map(|leg| &leg.name.value);
    let own = |finding: &&Finding| {
        finding.sheet.as_deref() == Some(&*load.sheet.name.value)
            && (finding.leg.is_none() || finding.leg.as_ref() == leg)
            && finding.level != Level::Note
            && finding.waived.is_none()
    };
    // What has nothing to do with where things stand may be at fault as before; a limit may not.
    let known = |finding: &Finding| {
        let limit = rules.get(&finding.rule).is_some_and(|rule| !rule.asks().is_empty());
        let old = before.findings.iter().filter(own).any(|old| old.rule == finding.rule);
        old && !limit
    };
    let tie = |finding: &Finding| anew && finding.rule == "name-unknown";
    after.findings.iter().filter(own).all(|finding| known(finding) || tie(finding))
}

/// The load of the same names in a yard of which some sheets and legs were left out.
pub(super) fn same_load(load: &Load<'_>, yard: &Yard) -> Option<LoadRef> {
    let (sheet, leg) = (&load.sheet.name.value, load.leg.map(|leg| &*leg.name.value));
    yard.loads().find(|which| {
        let one = yard.sheets.get(which.sheet);
        let its = which.leg.and_then(|leg| one?.legs.get(leg)).map(|leg| &*leg.name.value);
        one.is_some_and(|one| one.name.value == *sheet) && its == leg
    })
}
