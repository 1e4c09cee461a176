//! The files of a yard joined: ids, references, contradictions, and what no sheet uses.

mod aboard;
mod index;
mod loads;

use std::cell::RefCell;
use std::collections::{BTreeSet, HashMap, HashSet};
use std::sync::Arc;

use index::{Index, Places, Unsure};
use loads::link_sheet;

use super::agree;
use super::file::FileDefs;
use super::frictions::builtin_frictions;
use super::words::Named;
use super::write::renamed;
use crate::finding::{Finding, Fix, Level};
use crate::model::{Entry, Material, Yard};
use crate::text::{Span, is_hidden, quoted};

/// Every definition of a yard by its id, and what was used.
struct Indexes {
    trucks: Index,
    trailers: Index,
    machines: Index,
    attachments: Index,
    materials: Index,
    tiedowns: Index,
    guesses: RefCell<Vec<Guess>>,
}

/// A name that nothing has, taken for the nearest one: its finding by number, and both names.
struct Guess {
    finding: usize,
    what: Named,
    name: Arc<str>,
    near: Arc<str>,
}

/// Joins the files of a yard, in their order. Gives the yard and all findings: those of the files first, as they were,
/// and then its own, in order of file and place.
///
/// A material of the yard stands in the place of the built-in one of the same id. Where two definitions have the same
/// id, references mean the first.
#[must_use]
pub fn link(files: Vec<FileDefs>, builtin: Vec<Material>) -> (Yard, Vec<Finding>) {
    let mut yard = Yard::default();
    let mut findings = Vec::new();
    let mut unsure = Unsure::default();
    let mut sheets_unsure = Vec::new();
    let mut mentions = BTreeSet::new();
    for file in files {
        findings.extend(file.findings);
        unsure.take(file.unread, file.unsure_places);
        sheets_unsure.extend(file.sheets.iter().map(|_| file.uses_unsure));
        unsure.uses |= file.uses_lost;
        mentions.extend(file.mentions);
        if yard.settings.owner.is_none()
            && let Some(settings) = file.settings
        {
            yard.settings = settings;
        }
        yard.trucks.extend(file.trucks);
        yard.trailers.extend(file.trailers);
        yard.machines.extend(file.machines);
        yard.attachments.extend(file.attachments);
        yard.materials.extend(file.materials);
        yard.frictions.extend(file.frictions);
        yard.tiedowns.extend(file.tiedowns);
        yard.sheets.extend(file.sheets);
    }
    let own_materials = yard.materials.len();
    let overridden: HashSet<Arc<str>> = yard.materials.iter().map(|one| Arc::clone(&one.id.value)).collect();
    yard.materials.extend(builtin.into_iter().filter(|one| !overridden.contains(&one.id.value)));

    let mut own = Vec::new();
    frictions(&mut yard, &mut own);
    let mut all = Indexes {
        trucks: Index::new(Named::Truck, yard.trucks.iter().map(|one| &one.id), &mut own),
        trailers: Index::new(Named::Trailer, yard.trailers.iter().map(|one| &one.id), &mut own),
        machines: Index::new(Named::Machine, yard.machines.iter().map(|one| &one.id), &mut own),
        attachments: Index::new(Named::Attachment, yard.attachments.iter().map(|one| &one.id), &mut own),
        materials: Index::new(Named::Material, yard.materials.iter().map(|one| &one.id), &mut own),
        tiedowns: Index::new(Named::Tiedown, yard.tiedowns.iter().map(|one| &one.id), &mut own),
        guesses: RefCell::default(),
    };
    Index::new(Named::Sheet, yard.sheets.iter().map(|one| &one.name), &mut own);

    // No name that is built in is misspelt.
    (own_materials..yard.materials.len()).for_each(|at| all.materials.name(at));
    all.link_definitions(&mut yard, &unsure, &mut own);
    let places = Places::new(&yard);
    let mut sheets = std::mem::take(&mut yard.sheets);
    for (sheet, unsure_here) in sheets.iter_mut().zip(sheets_unsure) {
        link_sheet(sheet, &yard, &mut all, &places, &unsure, unsure_here, &mut own);
    }
    yard.sheets = sheets;
    all.withdraw(&mut own);
    agree::yard(&yard, &mut own);
    if !yard.sheets.is_empty() && !unsure.uses {
        for name in &mentions {
            all.use_what_is_mentioned(name);
        }
        all.use_what_was_weighed_on(&yard);
        all.never_used(&yard, own_materials, &mut own);
    }
    own.sort_by_key(|finding| finding.primary.span);
    findings.extend(own);
    (yard, findings)
}

/// Adds the built-in frictions that the yard does not replace, and says where the yard has two for one pair.
fn frictions(yard: &mut Yard, findings: &mut Vec<Finding>) {
    let mut first: HashMap<_, Span> = HashMap::new();
    for one in &yard.frictions {
        let Some(pair) = one.pair() else { continue };
        if let Some(earlier) = first.get(&pair) {
            let finding =
                Finding::new("name-twice", Level::Error, one.owner.at, "this yard has two frictions for one pair");
            findings.push(finding.label(*earlier, "the first one").help("keep one of them"));
        } else {
            first.insert(pair, one.owner.at);
        }
    }
    let more = builtin_frictions().iter().filter(|one| one.pair().is_none_or(|pair| !first.contains_key(&pair)));
    yard.frictions.extend(more.cloned());
}

/// With the nearest name, which mends it where it must have been meant; `define` says what else could.
fn with_near(finding: Finding, name: &Entry<Arc<str>>, near: &str, only: bool, define: Option<&str>) -> Finding {
    let title = format!("write {}", quoted(near));
    let help = define.map_or_else(|| title.clone(), |define| format!("{title}, or {define}"));
    let finding = finding.help(help);
    if only { finding.fix(Fix::notation(title, vec![renamed(&name.value, name.written, near)])) } else { finding }
}

impl Indexes {
    /// References of definitions to one another; they use nothing.
    fn link_definitions(&self, yard: &mut Yard, unsure: &Unsure, findings: &mut Vec<Finding>) {
        for machine in &mut yard.machines {
            for reference in &mut machine.weighed_with {
                reference.target = self.find(&self.attachments, &reference.name, unsure, findings);
            }
        }
        for arm in yard.attachments.iter_mut().flat_map(|attachment| &mut attachment.arms) {
            if let Some(reference) = &mut arm.machine {
                reference.target = self.find(&self.machines, &reference.name, unsure, findings);
            }
        }
    }

    /// The definition that a name means; a finding when there is none, unless it may be one that could not be read.
    fn find(
        &self,
        index: &Index,
        name: &Entry<Arc<str>>,
        unsure: &Unsure,
        findings: &mut Vec<Finding>,
    ) -> Option<usize> {
        let found = index.get(&name.value);
        match found {
            Some(at) => index.name(at),
            None => index.miss(&name.value),
        }
        // A character that cannot be seen has been told.
        if found.is_none() && !name.value.contains(is_hidden) && !unsure.may_define(index.what, &name.value) {
            findings.push(self.unknown(index, name, findings.len()));
        }
        found
    }

    /// The finding of this number, for a name that no definition has.
    fn unknown(&self, index: &Index, name: &Entry<Arc<str>>, number: usize) -> Finding {
        let noun = index.what.noun();
        let message = format!("no {noun} of this yard is called {}", quoted(&name.value));
        let finding = Finding::new("name-unknown", Level::Error, name.at, message);
        let word = if index.what == Named::Tiedown { "tiedown" } else { noun };
        let define = format!("define {word} {} in a file of this yard", quoted(&name.value));
        if let Some((near, at, only)) = index.nearest(&name.value) {
            if only {
                let (name, near) = (Arc::clone(&name.value), Arc::from(near));
                self.guesses.borrow_mut().push(Guess { finding: number, what: index.what, name, near });
            }
            let finding = with_near(finding, name, near, only, Some(&define));
            return if index.what == Named::Material { finding } else { finding.label(at, "the nearest one") };
        }
        let others = [&self.trucks, &self.trailers, &self.machines, &self.attachments, &self.tiedowns];
        if let Some((other, at)) = others.iter().find_map(|other| other.place(&name.value).map(|at| (other, at))) {
            let message = format!("{} is the id of a {}", quoted(&name.value), other.what.noun());
            return finding.label(at, message).help(define);
        }
        match index.some() {
            Some(known) => finding.help(format!("write one of {known}, or {define}")),
            None => finding.help(define),
        }
    }

    /// Where nothing calls the nearest definition by its id and several call it otherwise alike, the definition may be
    /// what is misspelt: then no name is put in the place of theirs.
    fn withdraw(&self, findings: &mut [Finding]) {
        let guesses = self.guesses.borrow();
        let mut alike: HashMap<(Named, &str), usize> = HashMap::new();
        for guess in guesses.iter() {
            *alike.entry((guess.what, &guess.name)).or_default() += 1;
        }
        for guess in guesses.iter().filter(|guess| alike.get(&(guess.what, &*guess.name)).is_some_and(|many| *many > 1))
        {
            let named =
                [&self.trucks, &self.trailers, &self.machines, &self.attachments, &self.materials, &self.tiedowns]
                    .into_iter()
                    .any(|index| index.what == guess.what && index.is_named(&guess.near));
            if let Some(finding) = findings.get_mut(guess.finding).filter(|_| !named) {
                finding.fixes.clear();
            }
        }
    }

    /// What a faulty sheet names, or most likely meant to name, counts as used.
    fn use_what_is_mentioned(&self, name: &str) {
        let all = [&self.trucks, &self.trailers, &self.machines, &self.attachments, &self.materials, &self.tiedowns];
        let mut known = false;
        for index in all {
            let target = index.get(name);
            known |= target.is_some();
            index.mark(target);
        }
        if !known {
            for index in all {
                index.mark_nearest(name);
            }
        }
    }

    /// An attachment that was on when a used machine was weighed is used.
    fn use_what_was_weighed_on(&self, yard: &Yard) {
        for (at, machine) in yard.machines.iter().enumerate() {
            if self.machines.is_used(at) {
                for reference in &machine.weighed_with {
                    self.attachments.mark(reference.target);
                }
            }
        }
    }

    fn never_used(&self, yard: &Yard, own_materials: usize, findings: &mut Vec<Finding>) {
        self.trucks.never_used(yard.trucks.iter().map(|one| &one.id), findings);
        self.trailers.never_used(yard.trailers.iter().map(|one| &one.id), findings);
        self.machines.never_used(yard.machines.iter().map(|one| &one.id), findings);
        self.attachments.never_used(yard.attachments.iter().map(|one| &one.id), findings);
        self.materials.never_used(yard.materials.iter().take(own_materials).map(|one| &one.id), findings);
        self.tiedowns.never_used(yard.tiedowns.iter().map(|one| &one.id), findings);
    }
}
