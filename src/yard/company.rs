//! The company's own rules: which files hold them, and what is wrong with those.

use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

use crate::finding::{Finding, Level};
use crate::model::Entry;
use crate::rules::{RuleSet, read_rules};
use crate::syntax::Document;
use crate::text::{FileId, Sources, nearest};

/// A file in which rules stand or may have stood.
pub(super) struct RuleFile {
    pub(super) path: PathBuf,
    pub(super) file: FileId,
    /// None where nothing of it could be read.
    pub(super) document: Option<Document>,
}

/// The folder that a `rules-from` names; none when it leads out of the yard.
fn folder(named: &Entry<Arc<str>>, root: &Path) -> Option<PathBuf> {
    let written = Path::new(&*named.value);
    let inside = written.components().all(|part| matches!(part, Component::Normal(_) | Component::CurDir));
    (inside && !named.value.is_empty()).then(|| root.join(written))
}

/// Whether the yard takes rules from this path.
pub(super) fn in_force(rules_from: &[Entry<Arc<str>>], path: &Path, root: &Path) -> bool {
    rules_from.iter().filter_map(|named| folder(named, root)).any(|folder| path.starts_with(folder))
}

/// Adds the rules of the files that the yard takes rules from. Returns what is wrong with them, and which settings and
/// rules do nothing.
pub(super) fn company_rules(
    rules: &mut RuleSet,
    files: &[RuleFile],
    sources: &Sources,
    rules_from: &[Entry<Arc<str>>],
    root: &Path,
) -> (Vec<Finding>, Vec<Finding>) {
    let mut idle = Vec::new();
    for named in rules_from {
        let Some(folder) = folder(named, root) else {
            let message = format!("\"{}\" does not name a folder inside the yard", named.value);
            idle.push(Finding::new("not-possible", Level::Error, named.at, message));
            continue;
        };
        if !folder.is_dir() {
            // Every rule that the company thought it had would go unasked, so no check of this yard may pass.
            let folders = files.iter().filter_map(|one| one.path.parent()?.strip_prefix(root).ok()?.to_str());
            let message = format!("there is no folder \"{}\" in the yard", named.value);
            let finding = Finding::new("not-possible", Level::Error, named.at, message);
            idle.push(match nearest(&named.value, folders) {
                Some(near) => finding.help(format!("rules stand in \"{near}\"")),
                None => finding,
            });
            continue;
        }
        if !files.iter().any(|one| one.path.starts_with(&folder)) {
            let message = format!("no rule stands in \"{}\", so this does nothing", named.value);
            idle.push(Finding::new("setting-idle", Level::Warning, named.at, message));
        }
    }
    let mut faults = Vec::new();
    for RuleFile { path, file, document } in files {
        let Some(document) = document else { continue };
        if in_force(rules_from, path, root) {
            let text = sources.get(*file).map_or("", |source| &source.text);
            faults.extend(rules.extend(read_rules(document, text, "company", false)));
        } else if let Some(node) = document.nodes.iter().find(|node| &*node.name.text == "rule") {
            let message = "this rule is not asked: no `rules-from` in yard.kdl names its folder";
            idle.push(Finding::new("never-used", Level::Note, node.head, message));
        }
    }
    faults.extend(rules.loose_ends());
    (faults, idle)
}
