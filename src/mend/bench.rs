//! A yard whose texts are changed on trial: edits applied, the changed file lowered, the yard joined and its loads judged
//! again, as if the change had been made on disk.

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use crate::check::{Options, gather, judge, rests_on};
use crate::finding::{Edit, Finding, LoadFigures, applied};
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
    /// The same as the yard sets them, once they are wanted.
    set: OnceLock<Arc<RuleSet>>,
    options: Options,
    /// The yard's own file.
    settings: Option<FileId>,
    /// Files that hold more than sheets: a name may be defined in any of them.
    base: BTreeSet<FileId>,
    /// Each file as it is, lowered when it is first wanted.
    lowered: Vec<OnceLock<(FileDefs, Vec<Finding>)>>,
    /// The built-in materials, once they are wanted, and where their text is numbered.
    materials: OnceLock<Vec<Material>>,
    materials_file: FileId,
    /// What was tried.
    known: Mutex<HashMap<(FileId, Option<usize>), OnText>>,
}

/// How many rules are asked at most for all changes that are tried of one sheet, and of one file of which all loads must
/// be judged again: a company with thousands of rules must not wait for minutes.
const MOST_IN_SHEET: usize = 12_000;
const MOST_IN_FILE: usize = 4_000;

/// How far edits can reach: a leg, a sheet, or all that rests on a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
struct Scope {
    file: FileId,
    sheet: Option<usize>,
    leg: Option<usize>,
}

/// A change on trial: how far it can reach, what is written where, and whether figures are wanted.
type Trial = (Scope, Vec<(Span, String)>, bool);

/// What was tried on one text: a sheet, or a file as a whole. Sheets are gone through side by side, each by one thread, so
/// that what is kept and counted for each by itself does not depend on how fast the others are.
#[derive(Default)]
struct OnText {
    /// Findings of one load are often cured by the same change.
    outcomes: HashMap<Trial, Arc<Outcome>>,
    tries: usize,
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
    pub(super) rules: Arc<RuleSet>,
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
        base.append(&mut defined(&mut yard.frictions.iter().map(|one| one.owner.at)));
        base.append(&mut defined(&mut yard.tiedowns.iter().map(|one| one.owner.at)));
        // A file without sheets may hold definitions that could not be read.
        let sheets = defined(&mut yard.sheets.iter().map(|one| one.owner.at));
        base.extend(sources.iter().map(|(file, _)| file).filter(|file| !sheets.contains(file)));
        base.retain(|file| *file < materials);
        let settings = yard.settings.owner.as_ref().map(|owner| owner.at.file);
        base.extend(settings);
        Self {
            sources,
            yard,
            rules,
            set: OnceLock::new(),
            options,
            settings,
            base,
            lowered: (0..sources.len()).map(|_| OnceLock::new()).collect(),
            materials: OnceLock::new(),
            materials_file: materials,
            known: Mutex::default(),
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

    /// What a check says of the loads that edits can touch, as they are.
    pub(super) fn before(&self, edits: &[Edit]) -> Option<Arc<Outcome>> {
        self.outcome(self.scope(edits)?, &[], false)
    }

    /// What it says of them with the edits made, which all stand in one file. None when they cannot be made, touch what
    /// cannot be tried, or too many have been tried on the same text.
    pub(super) fn after(&self, edits: &[Edit]) -> Option<Arc<Outcome>> {
        self.outcome(self.scope(edits)?, edits, false)
    }

    /// The figures of the loads that edits can touch, before and after.
    pub(super) fn figures(&self, edits: &[Edit]) -> Option<(Arc<Outcome>, Arc<Outcome>)> {
        let scope = self.scope(edits)?;
        Some((self.outcome(scope, &[], true)?, self.outcome(scope, edits, true)?))
    }

    /// How far edits of one file can reach.
    fn scope(&self, edits: &[Edit]) -> Option<Scope> {
        let file = edits.first()?.span.file;
        if edits.iter().any(|edit| edit.span.file != file) {
            return None;
        }
        let within = |span: Span| edits.iter().all(|edit| span.holds(edit.span));
        let sheet = self.yard.sheets.iter().position(|sheet| within(sheet.span));
        let leg = sheet.and_then(|at| self.yard.sheets.get(at)?.legs.iter().position(|leg| within(leg.span)));
        Some(Scope { file, sheet, leg })
    }

    fn outcome(&self, scope: Scope, edits: &[Edit], weigh: bool) -> Option<Arc<Outcome>> {
        let written = edits.iter().map(|edit| (edit.span, edit.text.clone())).collect();
        let key: Trial = (scope, written, weigh);
        let text = (scope.file, scope.sheet);
        {
            let mut known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
            let known = known.entry(text).or_default();
            if let Some(outcome) = known.outcomes.get(&key) {
                return Some(Arc::clone(outcome));
            }
            known.tries += 1;
            let most = if scope.sheet.is_some() { MOST_IN_SHEET } else { MOST_IN_FILE };
            if known.tries * self.rules.rules().len() > most {
                return None;
            }
        }
        let tried = self.tried_in(scope, edits)?;
        let outcome = Arc::new(self.judged(&tried, scope, weigh));
        let mut known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        known.entry(text).or_default().outcomes.insert(key, Arc::clone(&outcome));
        Some(outcome)
    }

    /// Lets go of the outcomes of a text that is done with; how much was tried on it stays known.
    pub(super) fn let_go(&self, file: FileId, sheet: Option<usize>) {
        let mut known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = known.get_mut(&(file, sheet)) {
            known.outcomes = HashMap::new();
        }
    }

    /// The part of the yard that the loads which edits can touch need, with the edits made.
    pub(super) fn tried(&self, edits: &[Edit]) -> Option<Tried> {
        self.tried_in(self.scope(edits)?, edits)
    }

    fn tried_in(&self, scope: Scope, edits: &[Edit]) -> Option<Tried> {
        let file = scope.file;
        let text = &self.sources.get(file)?.text;
        let changed = match (scope.sheet, edits) {
            (None, []) => None,
            (None, edits) => Some(self.lower(file, &applied(text, edits)?)),
            // Other sheets, and other legs, have nothing to do with it: they are blanked out, so that a long file is not
            // read whole each time.
            (Some(_), edits) => Some(self.lower(file, &applied(&self.alone(scope, text)?, edits)?)),
        };
        let mut files = self.base.clone();
        files.insert(file);
        if scope.sheet.is_none() {
            for which in self.yard.loads() {
                let rests = rests_on(self.yard, which);
                if self.is_settings(file) || rests.contains(&file) {
                    files.extend(rests);
                }
            }
        }
        let mut defs = Vec::with_capacity(files.len());
        let mut unread = BTreeSet::new();
        let mut read = Vec::new();
        for one in files {
            let (its, found) = match &changed {
                Some(changed) if one == file => changed,
                _ => self.as_it_is(one)?,
            };
            if its.uses_lost {
                unread.insert(one);
            }
            read.extend(found.iter().cloned());
            defs.push(its.clone());
        }
        let (yard, linked) = link(defs, self.materials.get_or_init(|| builtin_materials(self.materials_file)).clone());
        // Only a part of the yard's sheets is read here, and what a change leaves behind may well be used by no other one.
        read.extend(linked.into_iter().filter(|finding| finding.rule != "never-used"));
        let apply = |yard: &Yard| {
            let mut rules = self.rules.clone();
            let found = rules.apply(&yard.settings);
            (Arc::new(rules), found)
        };
        let rules = if self.is_settings(file) {
            let folders = |yard: &Yard| -> Vec<Arc<str>> {
                yard.settings.rules_from.iter().map(|one| Arc::clone(&one.value)).collect()
            };
            // Which rules there are is not tried anew.
            if folders(&yard) != folders(self.yard) {
                return None;
            }
            let (rules, found) = apply(&yard);
            read.extend(found);
            rules
        } else {
            Arc::clone(self.set.get_or_init(|| apply(self.yard).0))
        };
        Some(Tried { yard, rules, read, unread })
    }

    /// A file's text with nothing in it but one sheet, or one leg of it, and what is no sheet. Every byte keeps its place.
    fn alone(&self, scope: Scope, text: &str) -> Option<String> {
        let mut bytes = text.as_bytes().to_vec();
        let mut blank = |span: Span| {
            for byte in bytes.get_mut(span.range()).into_iter().flatten() {
                if !matches!(byte, b'\n' | b'\r') {
                    *byte = b' ';
                }
            }
        };
        for (at, sheet) in self.yard.sheets.iter().enumerate().filter(|(_, sheet)| sheet.span.file == scope.file) {
            if Some(at) != scope.sheet {
                blank(sheet.span);
            } else if let Some(own) = scope.leg {
                sheet.legs.iter().enumerate().filter(|(at, _)| *at != own).for_each(|(_, leg)| blank(leg.span));
            }
        }
        String::from_utf8(bytes).ok()
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

    /// Judges the loads that edits can touch.
    fn judged(&self, tried: &Tried, scope: Scope, weigh: bool) -> Outcome {
        let Tried { yard, rules, read, unread } = tried;
        let options = Options { weigh, ..self.options.clone() };
        let touched = |which: &LoadRef| match scope.sheet {
            // The only sheet that is left of its file.
            Some(_) => yard.sheets.get(which.sheet).is_some_and(|sheet| sheet.span.file == scope.file),
            None => self.is_settings(scope.file) || rests_on(yard, *which).contains(&scope.file),
        };
        let judged: Vec<_> =
            yard.loads().filter(touched).filter_map(|which| judge(yard, rules, which, &options)).collect();
        let mut loads = BTreeMap::new();
        for one in &judged {
            let lacks = one.lacks.iter().map(|(_, rule)| Arc::clone(rule)).collect();
            let name = (Arc::clone(&one.figures.sheet), one.figures.leg.clone());
            loads.insert(name, one.not_computed.is_none().then_some(lacks));
        }
        let mut gathered = gather(yard, rules, read.clone(), judged);
        // A change that cures what a waiver accepted leaves the waiver idle. That is no harm, and no fix touches a waiver.
        gathered.findings.retain(|finding| finding.rule != "waiver-unused");
        Outcome { findings: gathered.findings, loads, figures: gathered.loads, unread: unread.clone() }
    }
}
