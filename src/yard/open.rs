//! A yard read whole: its files parsed once, side by side, its definitions linked, its rules put together.

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;

use rayon::prelude::*;

use super::company::{RuleFile, company_rules, in_force};
use super::file::{FileRead, read_file, shown};
use super::find::{PathError, Wanted};
use super::progress::{Progress, Step};
use super::walk::{Found, Walked, walk};
use crate::check::foreign;
use crate::finding::Finding;
use crate::lower::{BUILTIN_MATERIALS, builtin_frictions, builtin_materials, link};
use crate::model::Yard;
use crate::rules::RuleSet;
use crate::text::{FileId, Source, Sources};

/// Texts of files that are not yet on disk as they are here, by path.
pub(super) type Texts = BTreeMap<PathBuf, String>;

/// A yard ready to be checked.
#[derive(Debug)]
pub struct Opened {
    /// Its files.
    pub sources: Sources,
    /// What they say.
    pub yard: Yard,
    /// The rules that hold in it.
    pub rules: RuleSet,
    /// The rules before the yard set anything of them.
    pub rules_unset: RuleSet,
    /// What reading found, but for the rule files.
    pub findings: Vec<Finding>,
    /// What is wrong with the company's rule files: with any of these the run counts as failed.
    pub rule_faults: Vec<Finding>,
    /// The files that were asked for; none means all.
    pub asked: Option<BTreeSet<FileId>>,
    /// The files that hold something of ours.
    pub ours: BTreeSet<FileId>,
    /// The source that holds the built-in materials.
    pub materials: FileId,
    /// The paths of the files, in their order.
    pub paths: Vec<PathBuf>,
    /// Yards inside what was asked for, to be opened too.
    pub inner: Vec<PathBuf>,
}

/// Opens a yard, its built-in rules with all that they tell.
///
/// # Errors
/// When a named path holds nothing of ours.
pub fn open(wanted: &Wanted) -> Result<Opened, PathError> {
    open_under(wanted, RuleSet::builtin, &BTreeMap::new(), &Progress::default())
}

/// Opens a yard of whose built-in rules the one with this id has all that it tells, the others what a check asks.
///
/// # Errors
/// When a named path holds nothing of ours.
pub fn open_telling(wanted: &Wanted, id: &str) -> Result<Opened, PathError> {
    open_under(wanted, || RuleSet::telling(id), &BTreeMap::new(), &Progress::default())
}

/// Opens a yard for a check, which asks rules and does not explain them.
pub(super) fn open_for_check(wanted: &Wanted, progress: &Progress) -> Result<Opened, PathError> {
    open_with(wanted, &BTreeMap::new(), progress)
}

/// The same with some files as they are going to be written.
pub(super) fn open_with(wanted: &Wanted, texts: &Texts, progress: &Progress) -> Result<Opened, PathError> {
    open_under(wanted, RuleSet::working, texts, progress)
}

fn open_under(
    wanted: &Wanted,
    builtin: impl FnOnce() -> RuleSet + Send,
    texts: &Texts,
    progress: &Progress,
) -> Result<Opened, PathError> {
    let here = std::env::current_dir().and_then(|folder| folder.canonicalize()).unwrap_or_default();
    let Walked { found, yards } = walk(&wanted.root);
    let ids = || (0u32..).map(FileId);
    let last = FileId(u32::try_from(found.len()).unwrap_or(u32::MAX));
    progress.begin(Step::Reading, found.len());
    let files = found.par_iter().enumerate().map(|(at, (path, found))| {
        let file = FileId(u32::try_from(at).unwrap_or(u32::MAX));
        let name = shown(path, &here);
        let read = match found {
            Found::File => read_file(path, name, file, &wanted.root, texts.get(path).map(String::as_str)),
            Found::Link => FileRead::link(path, name, file, &wanted.root),
            Found::Unread(why) => FileRead::unread(name, file, why),
        };
        progress.done(Step::Reading, 1);
        read
    });
    // In a small yard what is built in takes longer to read than all of its files.
    let (read, (mut rules, materials)) = rayon::join(
        || files.collect::<Vec<FileRead>>(),
        || {
            // Read here, beside the files, so that linking finds them ready.
            let _ = builtin_frictions();
            (builtin(), builtin_materials(last))
        },
    );
    let rules_from = read.iter().find_map(|one| one.defs.settings.as_ref()).map(|settings| settings.rules_from.clone());
    let rules_from = rules_from.unwrap_or_default();
    let mut sources = Sources::default();
    let mut defs = Vec::with_capacity(read.len());
    let (mut rule_files, mut rule_faults) = (Vec::new(), Vec::new());
    let (mut ours, mut speaks, mut findings) = (BTreeSet::new(), BTreeSet::new(), Vec::new());
    for ((path, what), mut one) in found.iter().zip(read) {
        let file = sources.add(one.source);
        if one.defs.ours {
            ours.insert(file);
        }
        if !one.syntax.is_empty() || !one.defs.findings.is_empty() || !matches!(what, Found::File) {
            speaks.insert(file);
        } else if !one.defs.ours {
            findings.push(foreign(file));
        }
        if one.rules_lost && in_force(&rules_from, path, &wanted.root) {
            rule_faults.append(&mut one.syntax);
        }
        one.defs.findings.splice(0..0, one.syntax);
        if one.rules_lost || one.document.is_some() {
            rule_files.push(RuleFile { path: path.clone(), file, document: one.document });
        }
        defs.push(one.defs);
    }
    // As numbered above: every file found is a source by now.
    sources.add(Source::new("rules/materials.kdl", BUILTIN_MATERIALS));
    let (yard, linked) = link(defs, materials);
    let alone = !found.iter().any(|(path, _)| *path == wanted.root.join("yard.kdl"));
    findings.extend(linked.into_iter().map(|finding| if alone { joined(finding) } else { finding }));
    let (faults, idle) = company_rules(&mut rules, &rule_files, &sources, &rules_from, &wanted.root);
    rule_faults.extend(faults);
    findings.extend(idle);
    let rules_unset = rules.clone();
    findings.extend(rules.apply(&yard.settings));

    let paths = found.iter().map(|(path, _)| path.clone()).collect();
    let inner: Vec<PathBuf> = yards.into_iter().filter(|yard| wanted.holds(yard)).collect();
    let asked: BTreeSet<FileId> =
        ids().zip(&found).filter(|(_, (path, _))| wanted.holds(path)).map(|(file, _)| file).collect();
    for one in &wanted.asked {
        let inside = || ids().zip(&found).filter(|(_, (path, _))| path.starts_with(&one.path)).map(|(file, _)| file);
        let empty = one.path.is_dir() && inside().next().is_none();
        let yard_inside = inner.iter().any(|yard| yard.starts_with(&one.path));
        // A named path that holds nothing of ours is most likely a slip; an empty folder is told apart.
        if !empty && !yard_inside && !inside().any(|file| ours.contains(&file) || speaks.contains(&file)) {
            return Err(PathError::Foreign { path: one.written.clone() });
        }
    }
    // The settings and the company's rules hold for every load: who asks for their files asks for all.
    let settings = yard.settings.owner.as_ref().map(|owner| owner.at.file);
    let in_every_load = rule_files.iter().filter(|one| in_force(&rules_from, &one.path, &wanted.root));
    let whole = in_every_load.map(|one| one.file).chain(settings).any(|file| asked.contains(&file));
    let asked = (!whole && asked.len() < found.len()).then_some(asked);
    Ok(Opened { sources, yard, rules, rules_unset, findings, rule_faults, asked, ours, materials: last, paths, inner })
}

/// Without a yard.kdl the yard is no more than what was asked for, and a name that is not known may well be defined
/// beside it.
fn joined(mut finding: Finding) -> Finding {
    if let Some(help) = finding.help.as_mut().filter(|help| help.ends_with("in a file of this yard")) {
        help.push_str("; a yard.kdl at the root of your folders joins their files to one yard");
    }
    finding
}
