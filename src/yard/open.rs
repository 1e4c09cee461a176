//! A yard read whole: its files parsed once, side by side, its definitions linked, its rules put together.

use std::io::Read as _;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use rayon::prelude::*;

use super::find::{PathError, Wanted, YARD_FILE};
use super::walk::{Walked, walk};
use crate::check::foreign;
use crate::finding::{Finding, Level};
use crate::lower::{BUILTIN_MATERIALS, FileDefs, builtin_materials, link, lower_file};
use crate::model::{Settings, Yard};
use crate::rules::{Rule, RuleSet, read_rules};
use crate::syntax::{Document, MAX_BYTES, parse};
use crate::text::{FileId, Source, Sources, Span};

/// A yard ready to be checked.
#[derive(Debug)]
pub struct Opened {
    /// Its files.
    pub sources: Sources,
    /// What they say.
    pub yard: Yard,
    /// The rules that hold in it.
    pub rules: RuleSet,
    /// The company's rules before the yard set anything of them.
    pub rules_as_written: Vec<Rule>,
    /// What reading found.
    pub findings: Vec<Finding>,
    /// Whether a rule file could not be read: the run then counts as failed.
    pub rules_broken: bool,
    /// The files that were asked for; none means all.
    pub asked: Option<Vec<FileId>>,
    /// How many files hold something of ours.
    pub ours: usize,
    /// Yards inside what was asked for, to be opened too.
    pub inner: Vec<PathBuf>,
}

/// One file read.
struct FileRead {
    source: Source,
    defs: FileDefs,
    /// Kept only where rules stand in it.
    rules: Option<Document>,
}

/// Opens a yard.
///
/// # Errors
/// When a named path holds nothing of ours.
pub fn open(wanted: &Wanted) -> Result<Opened, PathError> {
    let here = std::env::current_dir().and_then(|folder| folder.canonicalize()).unwrap_or_default();
    let Walked { files, yards, links, unread } = walk(&wanted.root);
    let read: Vec<FileRead> = files
        .par_iter()
        .enumerate()
        .map(|(at, path)| read_file(path, &here, FileId(u32::try_from(at).unwrap_or(u32::MAX)), &wanted.root))
        .collect();
    let mut sources = Sources::default();
    let mut defs = Vec::with_capacity(read.len());
    let mut rule_files = Vec::new();
    for (path, one) in files.iter().zip(read) {
        let file = sources.add(one.source);
        if let Some(document) = one.rules {
            rule_files.push((path.clone(), file, document));
        }
        defs.push(one.defs);
    }
    let ours: Vec<bool> = defs.iter().map(|defs| defs.ours).collect();
    let may_hold_sheets = |defs: &FileDefs| !defs.sheets.is_empty() || defs.uses_unsure;
    let with_sheets: Vec<&Path> =
        files.iter().zip(&defs).filter(|(_, defs)| may_hold_sheets(defs)).map(|(path, _)| path.as_path()).collect();
    let mut findings = Vec::new();
    for (file, is_ours) in (0u32..).map(FileId).zip(&ours) {
        // Where it could not be read at all, that has been said.
        if !is_ours && defs.get(file.0 as usize).is_some_and(|defs| defs.findings.is_empty()) {
            findings.push(foreign(file));
        }
    }
    let materials = sources.add(Source::new("rules/materials.kdl", BUILTIN_MATERIALS));
    let (yard, linked) = link(defs, builtin_materials(materials));
    findings.extend(linked);
    for (path, why) in unread {
        findings.push(not_readable(&mut sources, &path, &here, &why));
    }
    for path in links.iter().filter(|path| leads_out(path, &wanted.root)) {
        let file = sources.add(Source::new(shown(path, &here), ""));
        let message = "this link leads out of the yard and is not followed";
        findings.push(Finding::new("not-ours", Level::Note, Span::new(file, 0..0), message));
    }
    let mut rules = RuleSet::builtin();
    let faults = company_rules(&mut rules, &rule_files, &sources, &yard.settings, &wanted.root);
    let rules_broken = faults.iter().any(|fault| fault.rule == "rule-broken");
    findings.extend(faults);
    findings.extend(idle_seals(&yard.settings, &with_sheets, &wanted.root));
    let rules_as_written = rules.rules().iter().filter(|rule| !rule.builtin).cloned().collect();
    findings.extend(rules.apply(&yard.settings));
    let whole = wanted.asked.is_empty() || wanted.asked.iter().any(|asked| asked.path == wanted.root);
    let within = |path: &Path| whole || wanted.asked.iter().any(|asked| path.starts_with(&asked.path));
    let asked = (!whole).then(|| {
        let ids = (0u32..).map(FileId).zip(&files);
        ids.filter(|(_, path)| within(path)).map(|(id, _)| id).collect::<Vec<_>>()
    });
    let inner: Vec<PathBuf> = yards.into_iter().filter(|yard| within(yard)).collect();
    let opened = Opened {
        sources,
        yard,
        rules,
        rules_as_written,
        findings,
        rules_broken,
        asked,
        ours: ours.iter().filter(|is_ours| **is_ours).count(),
        inner,
    };
    holds_ours(wanted, &files, &ours, &opened)?;
    Ok(opened)
}

/// A named path that holds nothing of ours is most likely a slip. An empty folder is told apart: it holds nothing at all.
fn holds_ours(wanted: &Wanted, files: &[PathBuf], ours: &[bool], opened: &Opened) -> Result<(), PathError> {
    for asked in &wanted.asked {
        let mut inside = files.iter().zip(ours).filter(|(path, _)| path.starts_with(&asked.path)).peekable();
        let empty = inside.peek().is_none() && asked.path.is_dir();
        let speaks = opened.findings.iter().any(|finding| finding.level == Level::Error);
        let has_inner = opened.inner.iter().any(|yard| yard.starts_with(&asked.path));
        if !empty && !has_inner && !speaks && !inside.any(|(_, is_ours)| *is_ours) {
            return Err(PathError::Foreign { path: asked.written.clone() });
        }
    }
    Ok(())
}

fn read_file(path: &Path, here: &Path, file: FileId, root: &Path) -> FileRead {
    let name = shown(path, here);
    let bytes = match read_bytes(path) {
        Ok(bytes) => bytes,
        Err(why) => {
            let message = format!("this file cannot be read: {why}");
            return unreadable(Source::new(name, ""), Span::new(file, 0..0), message);
        }
    };
    // A text over the limit is refused whole, so that it was cut short does not matter.
    let oversize = bytes.len() > MAX_BYTES;
    let text = match String::from_utf8(bytes) {
        Ok(text) => text,
        Err(error) if oversize => String::from_utf8_lossy(error.as_bytes()).into_owned(),
        Err(error) => {
            let at = error.utf8_error().valid_up_to();
            let text = String::from_utf8_lossy(error.as_bytes()).into_owned();
            let message = "this file is not UTF-8 text from here on".to_owned();
            let end = text.get(at..).and_then(|rest| rest.chars().next()).map_or(at, |c| at + c.len_utf8());
            let mut read = unreadable(Source::new(name, text), Span::new(file, at..end), message);
            if let Some(finding) = read.defs.findings.first_mut() {
                finding.help = Some("save it as UTF-8".to_owned());
            }
            return read;
        }
    };
    let source = Source::new(name, text);
    let parsed = parse(file, &source.text);
    let is_yard_file = path.file_name().is_some_and(|name| name == YARD_FILE) && path.parent() == Some(root);
    let mut defs = match &parsed.document {
        Some(document) => lower_file(document, is_yard_file),
        None => FileDefs::unreadable(),
    };
    defs.findings.splice(0..0, parsed.findings);
    let has_rules = |document: &Document| document.nodes.iter().any(|node| &*node.name.text == "rule");
    FileRead { source, defs, rules: parsed.document.filter(has_rules) }
}

fn unreadable(source: Source, span: Span, message: String) -> FileRead {
    let mut defs = FileDefs::unreadable();
    defs.findings.push(Finding::new("not-readable", Level::Error, span, message));
    FileRead { source, defs, rules: None }
}

/// Reads a file, one byte past the limit at most.
fn read_bytes(path: &Path) -> std::io::Result<Vec<u8>> {
    let limit = u64::try_from(MAX_BYTES).unwrap_or(u64::MAX).saturating_add(1);
    let mut bytes = Vec::new();
    std::fs::File::open(path)?.take(limit).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// A path as output shows it: from where the user stands, with `/` between folders.
fn shown(path: &Path, here: &Path) -> Arc<str> {
    let near = path.strip_prefix(here).unwrap_or(path);
    near.to_string_lossy().replace('\\', "/").into()
}

fn not_readable(sources: &mut Sources, path: &Path, here: &Path, why: &str) -> Finding {
    let file = sources.add(Source::new(shown(path, here), ""));
    Finding::new("not-readable", Level::Error, Span::new(file, 0..0), format!("this cannot be read: {why}"))
}

fn leads_out(link: &Path, root: &Path) -> bool {
    link.canonicalize().map_or(true, |target| !target.starts_with(root))
}

/// The duties to seal that no sheet falls under.
fn idle_seals(settings: &Settings, with_sheets: &[&Path], root: &Path) -> Vec<Finding> {
    let idle = settings.require_seal.iter().filter(|duty| {
        let folder = root.join(&*duty.under.value);
        !with_sheets.iter().any(|path| path.starts_with(&folder))
    });
    let message = |folder: &str| format!("no sheet stands under \"{folder}\", so no seal is asked for");
    idle.map(|duty| Finding::new("setting-idle", Level::Warning, duty.under.at, message(&duty.under.value))).collect()
}

/// Reads the company's rule files, each in the folders that the yard names.
fn company_rules(
    rules: &mut RuleSet,
    files: &[(PathBuf, FileId, Document)],
    sources: &Sources,
    settings: &Settings,
    root: &Path,
) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut folders = Vec::new();
    for named in &settings.rules_from {
        let folder = root.join(&*named.value);
        let inside = Path::new(&*named.value).components().all(|part| matches!(part, std::path::Component::Normal(_)));
        if !inside {
            let message = format!("\"{}\" does not name a folder inside the yard", named.value);
            findings.push(Finding::new("not-possible", Level::Error, named.at, message));
        } else if !files.iter().any(|(path, ..)| path.starts_with(&folder)) {
            let message = format!("no rule stands in \"{}\", so this does nothing", named.value);
            findings.push(Finding::new("setting-idle", Level::Warning, named.at, message));
        } else {
            folders.push(folder);
        }
    }
    for (path, file, document) in files {
        if folders.iter().any(|folder| path.starts_with(folder)) {
            let text = sources.get(*file).map_or("", |source| &source.text);
            findings.extend(rules.extend(read_rules(document, text, "company", false)));
        } else if let Some(node) = document.nodes.iter().find(|node| &*node.name.text == "rule") {
            let message = "this rule is not asked: no `rules-from` in yard.kdl names its folder";
            findings.push(Finding::new("never-used", Level::Note, node.head, message));
        }
    }
    findings.extend(rules.loose_ends());
    findings
}
