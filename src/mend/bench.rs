//! A yard whose texts are changed on trial: edits applied, the changed file lowered, the yard joined and its loads judged
//! again, as if the change had been made on disk.

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use super::edit::applied;
use crate::check::{Options, gather, judge, rests_on};
use crate::finding::{Edit, Finding, LoadFigures};
use crate::lower::{FileDefs, builtin_materials, link, lower_file};
use crate::model::{LoadRef, Material, Yard};
use crate::rules::RuleSet;
use crate::syntax::{Document, parse};
use crate::text::{FileId, Sources, Span};

/// A load by name: its sheet, and its leg where the sheet has legs.
pub(super) type Named = (Arc<str>, Option<Arc<str>>);

/// A yard that changes can be tried on.
pub struct Bench<'a> {
    sources: &'a Sources,
    yard: &'a Yard,
    /// The rules before the yard set anything of them.
    rules: &'a RuleSet,
    options: Options,
    /// The yard's own file.
    settings: Option<FileId>,
    /// Files that hold more than sheets: a name may be defined in any of them.
    base: BTreeSet<FileId>,
    /// Each file as it is, lowered when it is first wanted.
    lowered: Vec<OnceLock<(FileDefs, Vec<Finding>)>>,
    materials: Vec<Material>,
    /// What a check says of the loads that rest on a file, as it is.
    before: Mutex<HashMap<FileId, Arc<Outcome>>>,
}

/// What a check of some loads says.
#[derive(Debug, Default)]
pub(super) struct Outcome {
    /// The findings.
    pub(super) findings: Vec<Finding>,
    /// The loads, each with the rules that could not be judged of it; none where it could not be computed at all.
    pub(super) loads: BTreeMap<Named, Option<BTreeSet<Arc<str>>>>,
    /// Their figures, when they were wanted.
    pub(super) figures: Vec<LoadFigures>,
    /// Files of which nothing could be read.
    pub(super) unread: BTreeSet<FileId>,
}

/// A yard as it would be, to be looked at further.
pub(super) struct Tried {
    pub(super) yard: Yard,
    pub(super) rules: RuleSet,
    read: Vec<Finding>,
    unread: BTreeSet<FileId>,
}

impl<'a> Bench<'a> {
    /// A bench for a yard that was read from these files. The file numbered `materials`, and what comes after it, is not
    /// of the yard: it holds the built-in materials. `rules` are those of the yard before its settings were applied.
    #[must_use]
    pub fn new(sources: &'a Sources, materials: FileId, yard: &'a Yard, rules: &'a RuleSet, options: Options) -> Self {
        let defined = |spans: &mut dyn Iterator<Item = Span>| spans.map(|span| span.file).collect::<BTreeSet<_>>();
        let mut base = defined(&mut yard.trucks.iter().map(|one| one.owner.at));
        base.append(&mut defined(&mut yard.trailers.iter().map(|one| one.owner.at)));
        base.append(&mut defined(&mut yard.machines.iter().map(|one| one.owner.at)));
        base.append(&mut defined(&mut yard.attachments.iter().map(|one| one.owner.at)));
        base.append(&mut defined(&mut yard.materials.iter().map(|one| one.owner.at)));
        base.append(&mut defined(&mut yard.tiedowns.iter().map(|one| one.owner.at)));
        // A file without sheets may hold definitions that could not be read.
        let sheets = defined(&mut yard.sheets.iter().map(|one| one.owner.at));
        base.extend(sources.iter().map(|(file, _)| file).filter(|file| !sheets.contains(file)));
        base.retain(|file| *file < materials);
        let settings = yard.settings.owner.as_ref().map(|owner| owner.at.file);
        Self {
            sources,
            yard,
            rules,
            options,
            settings,
            base,
            lowered: (0..sources.len()).map(|_| OnceLock::new()).collect(),
            materials: builtin_materials(materials),
            before: Mutex::default(),
        }
    }

    /// Whether this is the yard's own file, which holds for every load.
    pub(super) fn is_settings(&self, file: FileId) -> bool {
        self.settings == Some(file)
    }

    /// The files of the yard.
    pub(super) const fn sources(&self) -> &'a Sources {
        self.sources
    }

    /// The yard as it is.
    pub(super) const fn yard(&self) -> &'a Yard {
        self.yard
    }

    /// What a check says of the loads that rest on this file, as it is.
    pub(super) fn before(&self, file: FileId) -> Arc<Outcome> {
        let known = |before: &HashMap<FileId, Arc<Outcome>>| before.get(&file).cloned();
        if let Some(known) = known(&self.before.lock().unwrap_or_else(PoisonError::into_inner)) {
            return known;
        }
        let outcome = self.tried(file, &[]).map(|tried| self.outcome(&tried, file, false)).unwrap_or_default();
        let outcome = Arc::new(outcome);
        self.before.lock().unwrap_or_else(PoisonError::into_inner).insert(file, Arc::clone(&outcome));
        outcome
    }

    /// What a check says of them with edits made, which all stand in this file. None when the edits cannot be made, or
    /// touch what cannot be tried.
    pub(super) fn after(&self, file: FileId, edits: &[Edit], weigh: bool) -> Option<Outcome> {
        let tried = self.tried(file, edits)?;
        Some(self.outcome(&tried, file, weigh))
    }

    /// The part of the yard that loads resting on a file need, with edits made in that file.
    pub(super) fn tried(&self, file: FileId, edits: &[Edit]) -> Option<Tried> {
        let text = &self.sources.get(file)?.text;
        let changed = if edits.is_empty() { None } else { Some(self.lower(file, &applied(text, edits)?)) };
        let mut files = self.base.clone();
        files.insert(file);
        for which in self.yard.loads() {
            let rests = rests_on(self.yard, which);
            if Some(file) == self.settings || rests.contains(&file) {
                files.extend(rests);
            }
        }
        let mut defs = Vec::with_capacity(files.len());
        let mut unread = BTreeSet::new();
        let mut syntax = Vec::new();
        for one in files {
            let (its, found) = match &changed {
                Some(changed) if one == file => changed,
                _ => self.as_it_is(one)?,
            };
            if its.uses_lost {
                unread.insert(one);
            }
            syntax.extend(found.iter().cloned());
            defs.push(its.clone());
        }
        let (yard, mut read) = link(defs, self.materials.clone());
        read.extend(syntax);
        let mut rules = self.rules.clone();
        let set = rules.apply(&yard.settings);
        if Some(file) == self.settings {
            let folders =
                |yard: &Yard| yard.settings.rules_from.iter().map(|one| Arc::clone(&one.value)).collect::<Vec<_>>();
            // Which rules there are is not tried anew.
            if folders(&yard) != folders(self.yard) {
                return None;
            }
            read.extend(set);
        }
        Some(Tried { yard, rules, read, unread })
    }

    fn as_it_is(&self, file: FileId) -> Option<&(FileDefs, Vec<Finding>)> {
        let text = &self.sources.get(file)?.text;
        Some(self.lowered.get(file.0 as usize)?.get_or_init(|| self.lower(file, text)))
    }

    fn lower(&self, file: FileId, text: &str) -> (FileDefs, Vec<Finding>) {
        let parsed = parse(file, text);
        let lower = |tree: &Document| lower_file(tree, Some(file) == self.settings);
        (parsed.document.as_ref().map_or_else(FileDefs::unreadable, lower), parsed.findings)
    }

    /// Judges the loads that rest on a file.
    fn outcome(&self, tried: &Tried, file: FileId, weigh: bool) -> Outcome {
        let Tried { yard, rules, read, unread } = tried;
        let options = Options { weigh, ..self.options.clone() };
        let whole = Some(file) == self.settings;
        let rests = |which: &LoadRef| whole || rests_on(yard, *which).contains(&file);
        let judged: Vec<_> =
            yard.loads().filter(rests).filter_map(|which| judge(yard, rules, which, &options)).collect();
        let mut loads = BTreeMap::new();
        for one in &judged {
            let lacks = one.lacks.iter().map(|(_, rule)| Arc::clone(rule)).collect();
            let name = (Arc::clone(&one.figures.sheet), one.figures.leg.clone());
            loads.insert(name, one.not_computed.is_none().then_some(lacks));
        }
        let gathered = gather(yard, rules, read.clone(), judged);
        Outcome { findings: gathered.findings, loads, figures: gathered.loads, unread: unread.clone() }
    }
}
