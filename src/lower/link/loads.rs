//! The references of one sheet: what it names, where its ties attach, and what stands on what.

use std::sync::Arc;

use super::index::{Places, Unsure};
use super::{Indexes, aboard, with_near};
use crate::finding::{Finding, Level};
use crate::lower::words::Named;
use crate::model::{Entry, Item, ItemKind, LashPoint, Owner, Part, Sheet, Slot, Tie, Trailer, Yard};
use crate::text::{CANDIDATES, either, nearest_and_only, quoted};

/// Links a sheet; `unsure_here` when some of what its file's sheets say could not be read.
pub(super) fn link_sheet(
    sheet: &mut Sheet,
    yard: &Yard,
    all: &mut Indexes,
    places: &Places,
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
    let mut link = Link { yard, all, places, unsure, trailer, findings };
    link.part(&mut sheet.base);
    for leg in &mut sheet.legs {
        let from = link.findings.len();
        link.part(&mut leg.part);
        for finding in link.findings.iter_mut().skip(from) {
            finding.leg = Some(Arc::clone(&leg.name.value));
        }
    }
    if !unsure_here {
        aboard::check(sheet, findings);
    }
    for finding in findings.iter_mut().skip(before) {
        finding.sheet = Some(Arc::clone(&sheet.name.value));
    }
}

struct Link<'y, 'a> {
    yard: &'y Yard,
    all: &'a mut Indexes,
    places: &'a Places,
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
                    if !self.places.has(owner, &to.value) {
                        let known = all.iter().map(|point| &point.id);
                        self.findings.push(unknown_place(to, "lash point", owner, known));
                    }
                }
                Ends::Unknown => {}
            }
        }
    }

    fn anchor(&mut self, name: &Entry<Arc<str>>) {
        let Some(trailer) = self.trailer else {
            return;
        };
        let unsure = self.unsure.may_have_place(Named::Trailer, &trailer.id.value);
        if !unsure && !self.places.has(&trailer.owner, &name.value) {
            let known = trailer.anchors.iter().map(|anchor| &anchor.id);
            self.findings.push(unknown_place(name, "anchor", &trailer.owner, known));
        }
    }
}

/// No anchor or lash point of its owner is called so.
fn unknown_place<'y>(
    name: &Entry<Arc<str>>,
    noun: &str,
    owner: &Owner,
    known: impl Iterator<Item = &'y Entry<Arc<str>>>,
) -> Finding {
    // Help must not cost the square of a large yard.
    let known: Vec<&Entry<Arc<str>>> = known.take(CANDIDATES).collect();
    let path = &owner.path;
    let message = format!("{path} has no {noun} {}", quoted(&name.value));
    let finding = Finding::new("name-unknown", Level::Error, name.at, message);
    let define = format!("add {} {} to {path}", noun.replace(' ', "-"), quoted(&name.value));
    match nearest_and_only(&name.value, known.iter().map(|id| &*id.value)) {
        Some((near, only)) => {
            let place = known.iter().find(|id| &*id.value == near).map_or(owner.at, |id| id.at);
            let finding = finding.label(place, "the nearest one");
            with_near(finding, name, near, only, Some(&define))
        }
        None if known.is_empty() => finding.help(format!("{define}, or leave the name out and give count= alone")),
        None => {
            let few: Vec<String> = known.iter().take(6).map(|id| quoted(&id.value)).collect();
            finding.help(format!("write one of {}, or {define}", either(&few)))
        }
    }
}
