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

/// What a place of a yard belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Home {
    /// A sheet, or one of its legs.
    Sheet(usize, Option<usize>),
    /// A definition, or the yard's own settings, by where it begins.
    Definition(Span),
    /// A file, before its first definition.
    File(FileId),
}

/// Which loads what was found at a place concerns, told for any number of places without going through the yard each time.
#[derive(Debug)]
pub struct Homes<'y> {
    yard: &'y Yard,
    /// Where the definitions begin, in order.
    definitions: Vec<Span>,
}

impl<'y> Homes<'y> {
    /// Those of a yard.
    #[must_use]
    pub fn of(yard: &'y Yard) -> Self {
        let settings = yard.settings.owner.as_ref().map(|owner| owner.at);
        let mut definitions: Vec<Span> = all_definitions(yard).chain(settings).collect();
        definitions.sort_unstable_by_key(|at| (at.file, at.start));
        Self { yard, definitions }
    }

    /// What a place belongs to.
    #[must_use]
    pub fn home(&self, span: Span) -> Home {
        if let Some(at) = self.yard.sheet_at(span) {
            let legs = self.yard.sheets.get(at).map_or(&[][..], |sheet| &sheet.legs);
            return Home::Sheet(at, legs.iter().position(|leg| leg.span.holds(span)));
        }
        // Definitions do not nest: a place belongs to the last one that begins before it.
        let after = self.definitions.partition_point(|at| (at.file, at.start) <= (span.file, span.start));
        let before = after.checked_sub(1).and_then(|last| self.definitions.get(last));
        match before.filter(|at| at.file == span.file) {
            Some(at) => Home::Definition(*at),
            None => Home::File(span.file),
        }
    }

    /// What a load rests on: its sheet and leg, the definitions that it names and their files, and the yard's own settings.
    #[must_use]
    pub fn of_load(&self, which: LoadRef) -> BTreeSet<Home> {
        let settings = self.yard.settings.owner.as_ref().map(|owner| owner.at);
        let own = definitions(self.yard, which).into_iter().chain(settings);
        let own = own.flat_map(|at| [Home::Definition(at), Home::File(at.file)]);
        let sheet = [Home::Sheet(which.sheet, None), Home::Sheet(which.sheet, which.leg)];
        own.chain(sheet).collect()
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
