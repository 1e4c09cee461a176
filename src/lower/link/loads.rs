//! The references of one sheet: what it names, where its ties attach, and what stands on what.

use std::sync::Arc;

use super::Indexes;
use super::index::Unsure;
use crate::finding::{Finding, Level};
use crate::lower::near::{either, nearest, quoted};
use crate::lower::words::Named;
use crate::model::{Entry, Item, ItemKind, LashPoint, Owner, Part, Sheet, Slot, Tie, Trailer, Yard};

/// Links a sheet; `unsure_here` when some of what its file's sheets say could not be read.
pub(super) fn link_sheet(
    sheet: &mut Sheet,
    yard: &Yard,
    all: &mut Indexes,
    unsure: &Unsure,
    unsure_here: bool,
    findings: &mut Vec<Finding>,
) {
    let before = findings.len();
    if let Some(truck) = &mut sheet.truck {
        truck.target = all.find(&all.trucks, &truck.name, unsure, findings);
        all.trucks.mark(truck.target);
    }
    if let Some(trailer) = &mut sheet.trailer {
        trailer.target = all.find(&all.trailers, &trailer.name, unsure, findings);
        all.trailers.mark(trailer.target);
    }
    let trailer = sheet.trailer.as_ref().and_then(|trailer| trailer.target).and_then(|at| yard.trailers.get(at));
    let mut link = Link { yard, all, unsure, trailer, findings };
    link.part(&mut sheet.base);
    for leg in &mut sheet.legs {
        let from = link.findings.len();
        link.part(&mut leg.part);
        for finding in link.findings.iter_mut().skip(from) {
            finding.leg = Some(Arc::clone(&leg.name.value));
        }
    }
    if !unsure_here {
        names_within(sheet, findings);
    }
    for finding in findings.iter_mut().skip(before) {
        finding.sheet = Some(Arc::clone(&sheet.name.value));
    }
}

struct Link<'y, 'a> {
    yard: &'y Yard,
    all: &'a mut Indexes,
    unsure: &'a Unsure,
    trailer: Option<&'y Trailer>,
    findings: &'a mut Vec<Finding>,
}

/// Where a tie that does not go over the top may end.
enum Ends<'y> {
    /// At a lash point of this machine or attachment.
    Points(&'y Owner, &'y [LashPoint]),
    /// At an anchor: cargo has no lash points.
    Anchors,
    /// Not known; what it hangs on has a finding.
    Unknown,
}

impl<'y> Link<'y, '_> {
    fn part(&mut self, part: &mut Part) {
        for item in &mut part.items {
            self.item(item);
        }
    }

    fn item(&mut self, item: &mut Item) {
        let yard = self.yard;
        let ends = match &mut item.kind {
            ItemKind::Machine(aboard) => {
                let at = self.all.find(&self.all.machines, &aboard.machine.name, self.unsure, self.findings);
                self.all.machines.mark(at);
                aboard.machine.target = at;
                for fit in &mut aboard.fits {
                    let at = self.all.find(&self.all.attachments, &fit.attachment.name, self.unsure, self.findings);
                    self.all.attachments.mark(at);
                    fit.attachment.target = at;
                    let ends = at.and_then(|at| yard.attachments.get(at)).map_or(Ends::Unknown, |one| {
                        self.points(Named::Attachment, &one.id, &one.owner, &one.lash_points)
                    });
                    self.ties(&mut fit.ties, &ends);
                }
                at.and_then(|at| yard.machines.get(at))
                    .map_or(Ends::Unknown, |one| self.points(Named::Machine, &one.id, &one.owner, &one.lash_points))
            }
            ItemKind::Bulk(bulk) => {
                let at = self.all.find(&self.all.materials, &bulk.material.name, self.unsure, self.findings);
                self.all.materials.mark(at);
                bulk.material.target = at;
                Ends::Unknown
            }
            ItemKind::Cargo(_) => Ends::Anchors,
        };
        self.ties(&mut item.ties, &ends);
    }

    fn points(&self, what: Named, id: &Entry<Arc<str>>, owner: &'y Owner, all: &'y [LashPoint]) -> Ends<'y> {
        if self.unsure.may_have_place(what, &id.value) { Ends::Unknown } else { Ends::Points(owner, all) }
    }

    fn ties(&mut self, ties: &mut [Tie], ends: &Ends<'_>) {
        for tie in ties {
            let at = self.all.find(&self.all.tiedowns, &tie.tiedown.name, self.unsure, self.findings);
            self.all.tiedowns.mark(at);
            tie.tiedown.target = at;
            if let Some(from) = tie.from.entry() {
                self.anchor(from);
            }
            let Some(to) = tie.to.entry() else {
                continue;
            };
            match ends {
                // What it is meant to be cannot be told.
                _ if matches!(tie.over, Slot::Broken) => {}
                _ if tie.over.value() == Some(true) => self.anchor(to),
                Ends::Anchors => self.anchor(to),
                Ends::Points(owner, all) => {
                    let known = all.iter().map(|point| &point.id);
                    place_unknown(to, "lash point", owner, known, self.findings);
                }
                Ends::Unknown => {}
            }
        }
    }

    fn anchor(&mut self, name: &Entry<Arc<str>>) {
        let Some(trailer) = self.trailer else {
            return;
        };
        if self.unsure.may_have_place(Named::Trailer, &trailer.id.value) {
            return;
        }
        let known = trailer.anchors.iter().map(|anchor| &anchor.id);
        place_unknown(name, "anchor", &trailer.owner, known, self.findings);
    }
}

/// A finding when none of these is called so.
fn place_unknown<'y>(
    name: &Entry<Arc<str>>,
    noun: &str,
    owner: &Owner,
    known: impl Iterator<Item = &'y Entry<Arc<str>>> + Clone,
    findings: &mut Vec<Finding>,
) {
    if known.clone().any(|id| id.value == name.value) {
        return;
    }
    let Owner { path, at: owner_at, .. } = owner;
    let message = format!("{path} has no {noun} {}", quoted(&name.value));
    let finding = Finding::new("name-unknown", Level::Error, name.at, message);
    let word = noun.replace(' ', "-");
    let define = format!("add {word} {} to {path}", quoted(&name.value));
    let near = nearest(&name.value, known.clone().map(|id| &*id.value));
    let few: Vec<String> = known.clone().take(6).map(|id| quoted(&id.value)).collect();
    findings.push(match near {
        Some(near) => {
            let place = known.clone().find(|id| &*id.value == near).map_or(*owner_at, |id| id.at);
            finding.label(place, "the nearest one").help(format!("write {}, or {define}", quoted(near)))
        }
        None if few.is_empty() => finding.help(format!("{define}, or leave the name out and give count= alone")),
        None => finding.help(format!("write one of {}, or {define}", either(&few))),
    });
}

/// `on=` and `item=` name things of the same load.
fn names_within(sheet: &Sheet, findings: &mut Vec<Finding>) {
    let ids = |part: &Part| -> Vec<Arc<str>> { part.items.iter().map(|item| Arc::clone(&item.id.value)).collect() };
    let base = ids(&sheet.base);
    let mut everywhere = base.clone();
    let mut cargo = |part: &Part, known: &[Arc<str>], leg: Option<&Arc<str>>| {
        for item in &part.items {
            let Some(on) = &item.on else {
                continue;
            };
            if *on.value == *item.id.value {
                let message = format!("{} cannot stand on itself", quoted(&on.value));
                let finding = Finding::new("does-not-add-up", Level::Error, on.at, message);
                findings.push(Finding { leg: leg.cloned(), ..finding.help("name the item below it") });
            } else if !known.contains(&on.value) {
                let finding = nothing_aboard(on, known);
                findings.push(Finding { leg: leg.cloned(), ..finding });
            }
        }
        for waiver in &part.waivers {
            if let Some(item) = waiver.item.entry()
                && leg.is_some()
                && !known.contains(&item.value)
            {
                findings.push(Finding { leg: leg.cloned(), ..nothing_aboard(item, known) });
            }
        }
    };
    cargo(&sheet.base, &base, None);
    for leg in &sheet.legs {
        let own = ids(&leg.part);
        everywhere.extend(own.iter().cloned());
        let known: Vec<Arc<str>> = base.iter().cloned().chain(own).collect();
        cargo(&leg.part, &known, Some(&leg.name.value));
    }
    for waiver in &sheet.base.waivers {
        if let Some(item) = waiver.item.entry()
            && !everywhere.contains(&item.value)
        {
            findings.push(nothing_aboard(item, &everywhere));
        }
    }
}

fn nothing_aboard(name: &Entry<Arc<str>>, known: &[Arc<str>]) -> Finding {
    let message = format!("nothing aboard is called {}", quoted(&name.value));
    let finding = Finding::new("name-unknown", Level::Error, name.at, message);
    let near = nearest(&name.value, known.iter().map(|id| &**id));
    let few: Vec<String> = known.iter().take(6).map(|id| quoted(id)).collect();
    match near {
        Some(near) => finding.help(format!("write {}", quoted(near))),
        None if few.is_empty() => finding.help("delete it, because nothing is aboard"),
        None => finding.help(format!("write one of {}", either(&few))),
    }
}
