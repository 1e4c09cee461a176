//! Which files a load rests on.

use std::collections::BTreeSet;

use crate::model::{Item, ItemKind, LoadRef, Ref, Yard};
use crate::text::{FileId, Span};

/// The files that hold the sheet and the definitions of a load.
#[must_use]
pub fn rests_on(yard: &Yard, which: LoadRef) -> BTreeSet<FileId> {
    let mut files = BTreeSet::new();
    let Some(sheet) = yard.sheets.get(which.sheet) else { return files };
    files.insert(sheet.owner.at.file);
    let mut add = |span: Option<Span>| files.extend(span.map(|span| span.file));
    add(at(sheet.truck.as_ref(), &yard.trucks, |truck| truck.owner.at));
    add(at(sheet.trailer.as_ref(), &yard.trailers, |trailer| trailer.owner.at));
    let leg = which.leg.and_then(|leg| sheet.legs.get(leg));
    let parts = std::iter::once(&sheet.base).chain(leg.map(|leg| &leg.part));
    for item in parts.flat_map(|part| &part.items) {
        for span in item_spans(yard, item) {
            add(Some(span));
        }
    }
    files
}

fn item_spans(yard: &Yard, item: &Item) -> Vec<Span> {
    let mut spans = Vec::new();
    let mut ties: Vec<&Ref> = item.ties.iter().map(|tie| &tie.tiedown).collect();
    match &item.kind {
        ItemKind::Machine(aboard) => {
            let machine = aboard.machine.target.and_then(|at| yard.machines.get(at));
            let with = machine.into_iter().flat_map(|machine| &machine.weighed_with);
            let fitted = aboard.fits.iter().map(|fit| &fit.attachment);
            for named in fitted.chain(with) {
                spans.extend(at(Some(named), &yard.attachments, |one| one.owner.at));
            }
            let contact = machine.and_then(|machine| machine.contact.value());
            let grips =
                yard.frictions.iter().filter(|one| contact.is_some() && one.what.value() == contact.map(Into::into));
            spans.extend(grips.map(|one| one.owner.at));
            spans.extend(machine.map(|machine| machine.owner.at));
            ties.extend(aboard.fits.iter().flat_map(|fit| &fit.ties).map(|tie| &tie.tiedown));
        }
        ItemKind::Bulk(bulk) => spans.extend(at(Some(&bulk.material), &yard.materials, |one| one.owner.at)),
        ItemKind::Cargo(_) => {}
    }
    spans.extend(ties.into_iter().filter_map(|tie| at(Some(tie), &yard.tiedowns, |one| one.owner.at)));
    spans
}

fn at<T>(named: Option<&Ref>, all: &[T], place: impl Fn(&T) -> Span) -> Option<Span> {
    named?.target.and_then(|at| all.get(at)).map(place)
}
