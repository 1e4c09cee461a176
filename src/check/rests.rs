//! Which files a load rests on.

use std::collections::BTreeSet;

use crate::model::{Item, ItemKind, LoadRef, Ref, Yard};
use crate::text::{FileId, Span};

/// The files that hold the sheet and the definitions of a load.
#[must_use]
pub fn rests_on(yard: &Yard, which: LoadRef) -> BTreeSet<FileId> {
    let sheet = yard.sheets.get(which.sheet).map(|sheet| sheet.owner.at);
    sheet.into_iter().chain(definitions(yard, which)).map(|span| span.file).collect()
}

/// Whether what was found at a place while the yard was read concerns a load: it lies in its sheet and not in another leg, in
/// a definition that it names, or in the yard's own settings.
#[must_use]
pub fn concerns(yard: &Yard, which: LoadRef, span: Span) -> bool {
    if let Some(at) = yard.sheet_at(span) {
        let legs = yard.sheets.get(at).map_or(&[][..], |sheet| &sheet.legs);
        let leg = legs.iter().position(|leg| leg.span.holds(span));
        return at == which.sheet && (leg.is_none() || leg == which.leg);
    }
    let settings = yard.settings.owner.as_ref().map(|owner| owner.at);
    let mut own = definitions(yard, which);
    own.extend(settings);
    // Definitions do not nest: a place belongs to the last one that begins before it.
    let owners = all_definitions(yard).chain(settings);
    let before = owners.filter(|at| at.file == span.file && at.start <= span.start).max_by_key(|at| at.start);
    match before {
        Some(at) => own.contains(&at),
        None => own.iter().any(|one| one.file == span.file),
    }
}

/// Where the definitions of a yard begin.
fn all_definitions(yard: &Yard) -> impl Iterator<Item = Span> {
    let trucks = yard.trucks.iter().map(|one| one.owner.at);
    let trailers = yard.trailers.iter().map(|one| one.owner.at);
    let machines = yard.machines.iter().map(|one| one.owner.at);
    let attachments = yard.attachments.iter().map(|one| one.owner.at);
    let materials = yard.materials.iter().map(|one| one.owner.at);
    let frictions = yard.frictions.iter().map(|one| one.owner.at);
    let tiedowns = yard.tiedowns.iter().map(|one| one.owner.at);
    let sheets = yard.sheets.iter().map(|one| one.span);
    trucks
        .chain(trailers)
        .chain(machines)
        .chain(attachments)
        .chain(materials)
        .chain(frictions)
        .chain(tiedowns)
        .chain(sheets)
}

/// The definitions that a load names.
fn definitions(yard: &Yard, which: LoadRef) -> Vec<Span> {
    let Some(sheet) = yard.sheets.get(which.sheet) else { return Vec::new() };
    let mut spans = Vec::new();
    spans.extend(at(sheet.truck.as_ref(), &yard.trucks, |truck| truck.owner.at));
    spans.extend(at(sheet.trailer.as_ref(), &yard.trailers, |trailer| trailer.owner.at));
    let leg = which.leg.and_then(|leg| sheet.legs.get(leg));
    let parts = std::iter::once(&sheet.base).chain(leg.map(|leg| &leg.part));
    spans.extend(parts.flat_map(|part| &part.items).flat_map(|item| item_spans(yard, item)));
    spans
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
