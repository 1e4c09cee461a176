//! Yards trimmed: what cures their findings, shown, or written into their files.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;

use super::open::{Texts, open_with};
use super::progress::Progress;
use super::run::{bench, each_yard, found};
use super::write::{Change, WriteError, written};
use super::{Narrowed, Opened, PathError, Wanted};
use crate::check::Options;
use crate::finding::{Finding, Grade, Level};
use crate::mend::{Trim, made, trims};
use crate::text::{FileId, Sources};

/// Rounds of changes and checks before a yard is left as it then is. Each round leaves fewer findings, so that this is
/// only met by a yard with more faults in one sheet.
const ROUNDS: usize = 64;

/// What is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Write {
    /// Nothing: changes are shown.
    Nothing,
    /// Changes of notation.
    Notation,
    /// Those, and changes of the load to which a person agrees.
    Agreed,
}

/// What cures the findings of one or several yards.
#[derive(Debug, Default)]
pub struct Trimmed {
    /// Their files, as they were read.
    pub sources: Sources,
    /// The fixes, yard by yard: each on its own, or one after another when they were written.
    pub trims: Vec<Trim>,
    /// The files that were written.
    pub written: Vec<Arc<str>>,
    /// Findings that stay, when changes were written: errors, warnings and notes.
    pub left: [usize; 3],
    /// How many loads were looked at.
    pub loads: usize,
    /// When it was narrowed to a name that is not there: the name that may have been meant, as a message writes it.
    pub near: Option<String>,
    /// What is wrong with rule files: with any of these not every rule was asked.
    pub rule_faults: Vec<Finding>,
}

/// Finds what cures the findings of the yards that these paths belong to or hold, and writes what is to be written.
///
/// # Errors
/// When a path does not exist or holds nothing of ours, a file changed since it was read, or cannot be written.
pub fn trim(
    paths: &[PathBuf],
    narrowed: &Narrowed,
    options: &Options,
    write: Write,
    progress: &Progress,
) -> Result<Trimmed, WriteError> {
    let run = Run { narrowed, options: Options { mend: true, ..options.clone() }, write, progress };
    let mut all = Trimmed::default();
    let mut changes = Vec::new();
    let mut failed = None;
    let visited = each_yard(paths, progress, |wanted, opened| {
        if failed.is_none()
            && let Err(why) = trim_one(wanted, opened, &run, &mut all, &mut changes)
        {
            failed = Some(why);
        }
    });
    visited.map_err(WriteError::Path)?;
    if let Some(why) = failed {
        return Err(WriteError::Path(why));
    }
    written(changes, &mut all.written)?;
    Ok(all)
}

/// What holds for every yard of a run.
struct Run<'r> {
    narrowed: &'r Narrowed,
    options: Options,
    write: Write,
    progress: &'r Progress,
}

fn trim_one(
    wanted: &Wanted,
    mut opened: Opened,
    run: &Run<'_>,
    all: &mut Trimmed,
    changes: &mut Vec<Change>,
) -> Result<(), PathError> {
    let Run { narrowed, options, write, progress } = run;
    let by = u32::try_from(all.sources.len()).unwrap_or(u32::MAX);
    let first = opened.sources.clone();
    let mut texts = Texts::new();
    let mut changed: BTreeMap<FileId, String> = BTreeMap::new();
    let mut mine: Vec<Trim> = Vec::new();
    for round in 0..ROUNDS {
        let checked = found(&opened, narrowed, options, progress);
        if round == 0 {
            all.loads += checked.loads.len();
            all.near = all.near.take().or(checked.near);
        }
        let bench = bench(&opened, options);
        let mut trims = trims(&bench, &checked.findings);
        if *write == Write::Nothing {
            mine = trims;
            break;
        }
        trims.retain(|trim| trim.fix.grade == Grade::Notation || *write == Write::Agreed);
        let (new, done) = made(&bench, &trims);
        if new.is_empty() {
            for (left, level) in all.left.iter_mut().zip(Level::ALL) {
                let stays = |finding: &&Finding| finding.level == level && finding.waived.is_none();
                *left += checked.findings.iter().filter(stays).count();
            }
            break;
        }
        mine.extend(done.into_iter().cloned());
        for (file, text) in new {
            if let Some(path) = opened.paths.get(file.0 as usize) {
                texts.insert(path.clone(), text.clone());
                changed.insert(file, text);
            }
        }
        progress.anew();
        opened = open_with(wanted, &texts, progress)?;
    }
    for (file, new) in changed {
        if let (Some(path), Some(source)) = (opened.paths.get(file.0 as usize), first.get(file)) {
            let (name, old) = (Arc::clone(&source.name), Arc::clone(&source.text));
            changes.push(Change { path: path.clone(), name, old, new });
        }
    }
    for trim in &mut mine {
        trim.file = FileId(trim.file.0.saturating_add(by));
        for edit in &mut trim.fix.edits {
            edit.span.file = FileId(edit.span.file.0.saturating_add(by));
        }
    }
    for finding in &mut opened.rule_faults {
        finding.shift_files(by);
    }
    all.trims.append(&mut mine);
    all.rule_faults.append(&mut opened.rule_faults);
    all.sources.append(first);
    Ok(())
}
