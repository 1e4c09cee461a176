//! Yards trimmed: what cures their findings, shown, or written into their files.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;

use super::open::{Texts, open_with};
use super::run::{bench, each_yard, found};
use super::write::{is_as_read, may_be_written, replace};
use super::{Narrowed, Opened, PathError, Wanted};
use crate::check::Options;
use crate::finding::{Finding, Grade, Level};
use crate::mend::{Trim, made, trims};
use crate::text::{FileId, Sources, all_of};

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

/// Why a yard could not be trimmed.
#[derive(Debug)]
pub enum TrimError {
    /// A path does not exist or holds nothing of ours.
    Path(PathError),
    /// These files changed since they were read; nothing was written.
    Changed(Vec<Arc<str>>),
    /// A file could not be written; those before it were.
    Unwritten {
        /// The file.
        name: Arc<str>,
        /// Why.
        why: std::io::Error,
        /// The files that were written before it.
        written: Vec<Arc<str>>,
    },
}

impl std::fmt::Display for TrimError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Path(why) => why.fmt(f),
            Self::Changed(names) => {
                write!(f, "{} changed after being read: nothing was written; run it again", all_of(names))
            }
            Self::Unwritten { name, why, written } if written.is_empty() => {
                write!(f, "{name} cannot be written: {why}; nothing was")
            }
            Self::Unwritten { name, why, written } => {
                write!(f, "{name} cannot be written: {why}; {} was", all_of(written))
            }
        }
    }
}

impl std::error::Error for TrimError {}

/// A file to be written.
struct Change {
    path: PathBuf,
    name: Arc<str>,
    old: Arc<str>,
    new: String,
}

/// Finds what cures the findings of the yards that these paths belong to or hold, and writes what is to be written.
///
/// # Errors
/// When a path does not exist or holds nothing of ours, a file changed since it was read, or cannot be written.
pub fn trim(paths: &[PathBuf], narrowed: &Narrowed, options: &Options, write: Write) -> Result<Trimmed, TrimError> {
    let options = Options { mend: true, ..options.clone() };
    let mut all = Trimmed::default();
    let mut changes = Vec::new();
    let mut failed = None;
    let visited = each_yard(paths, |wanted, opened| {
        if failed.is_none()
            && let Err(why) = trim_one(wanted, opened, narrowed, &options, write, &mut all, &mut changes)
        {
            failed = Some(why);
        }
    });
    visited.map_err(TrimError::Path)?;
    if let Some(why) = failed {
        return Err(TrimError::Path(why));
    }
    written(changes, &mut all)?;
    Ok(all)
}

fn trim_one(
    wanted: &Wanted,
    mut opened: Opened,
    narrowed: &Narrowed,
    options: &Options,
    write: Write,
    all: &mut Trimmed,
    changes: &mut Vec<Change>,
) -> Result<(), PathError> {
    let by = u32::try_from(all.sources.len()).unwrap_or(u32::MAX);
    let first = opened.sources.clone();
    let mut texts = Texts::new();
    let mut changed: BTreeMap<FileId, String> = BTreeMap::new();
    let mut mine: Vec<Trim> = Vec::new();
    for round in 0..ROUNDS {
        let checked = found(&opened, narrowed, options);
        if round == 0 {
            all.loads += checked.loads.len();
            all.near = all.near.take().or(checked.near);
        }
        let bench = bench(&opened, options);
        let mut trims = trims(&bench, &checked.findings);
        if write == Write::Nothing {
            mine = trims;
            break;
        }
        trims.retain(|trim| trim.fix.grade == Grade::Notation || write == Write::Agreed);
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
        opened = open_with(wanted, &texts)?;
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

/// Writes all files, once it is known of every one that it is as it was read and may be written.
fn written(changes: Vec<Change>, all: &mut Trimmed) -> Result<(), TrimError> {
    let unwritten = |name: &Arc<str>, why, written: &[Arc<str>]| TrimError::Unwritten {
        name: Arc::clone(name),
        why,
        written: written.to_vec(),
    };
    let mut stale = Vec::new();
    for one in &changes {
        may_be_written(&one.path).map_err(|why| unwritten(&one.name, why, &[]))?;
        if !is_as_read(&one.path, &one.old).map_err(|why| unwritten(&one.name, why, &[]))? {
            stale.push(Arc::clone(&one.name));
        }
    }
    if !stale.is_empty() {
        return Err(TrimError::Changed(stale));
    }
    for one in changes {
        // A fault may have been mended back and forth to what stood there.
        if *one.old == *one.new {
            continue;
        }
        replace(&one.path, &one.new).map_err(|why| unwritten(&one.name, why, &all.written))?;
        all.written.push(one.name);
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use std::fs;
    use std::path::Path;

    use tempfile::TempDir;

    use super::{Change, TrimError, Trimmed, written};

    /// Two files as they were read, each with a text to be written.
    fn two() -> (TempDir, [&'static str; 2]) {
        let folder = TempDir::new().unwrap();
        for name in ["a.kdl", "b.kdl"] {
            fs::write(folder.path().join(name), format!("{name} as read")).unwrap();
        }
        (folder, ["a.kdl", "b.kdl"])
    }

    fn write(folder: &Path, names: [&str; 2]) -> (Result<(), TrimError>, Vec<String>) {
        let change = |name: &str| Change {
            path: folder.join(name),
            name: name.into(),
            old: format!("{name} as read").into(),
            new: format!("{name} trimmed"),
        };
        let mut all = Trimmed::default();
        let outcome = written(names.map(change).into(), &mut all);
        (outcome, all.written.iter().map(ToString::to_string).collect())
    }

    fn text(folder: &Path, name: &str) -> String {
        fs::read_to_string(folder.join(name)).unwrap()
    }

    fn files(folder: &Path) -> usize {
        fs::read_dir(folder).unwrap().count()
    }

    #[test]
    fn what_is_as_it_was_read_is_written() {
        let (folder, names) = two();
        let (outcome, done) = write(folder.path(), names);
        assert!(outcome.is_ok());
        assert_eq!(done, names);
        assert_eq!(names.map(|name| text(folder.path(), name)), ["a.kdl trimmed", "b.kdl trimmed"]);
        assert_eq!(files(folder.path()), 2, "nothing is left beside them");
    }

    #[test]
    fn a_file_that_changed_since_keeps_all_from_being_written() {
        for new in ["b.kdl as somebody else has it", "", "b.kdl as read\n"] {
            let (folder, names) = two();
            fs::write(folder.path().join("b.kdl"), new).unwrap();
            let (outcome, done) = write(folder.path(), names);
            assert!(matches!(&outcome, Err(TrimError::Changed(names)) if **names == ["b.kdl".into()]), "{outcome:?}");
            assert!(done.is_empty());
            assert_eq!(text(folder.path(), "a.kdl"), "a.kdl as read");
            assert_eq!(text(folder.path(), "b.kdl"), new);
            assert_eq!(files(folder.path()), 2);
        }
    }

    #[test]
    fn a_file_that_is_gone_keeps_all_from_being_written() {
        let (folder, names) = two();
        fs::remove_file(folder.path().join("b.kdl")).unwrap();
        let (outcome, done) = write(folder.path(), names);
        assert!(matches!(&outcome, Err(TrimError::Unwritten { written, .. }) if written.is_empty()), "{outcome:?}");
        assert!(done.is_empty());
        assert_eq!(text(folder.path(), "a.kdl"), "a.kdl as read");
        assert_eq!(files(folder.path()), 1, "it is not made anew");
    }

    #[cfg(unix)]
    #[test]
    fn a_link_in_its_place_is_not_followed_though_it_reads_the_same() {
        let (folder, names) = two();
        let outside = TempDir::new().unwrap();
        fs::write(outside.path().join("b.kdl"), "b.kdl as read").unwrap();
        fs::remove_file(folder.path().join("b.kdl")).unwrap();
        std::os::unix::fs::symlink(outside.path().join("b.kdl"), folder.path().join("b.kdl")).unwrap();
        let (outcome, done) = write(folder.path(), names);
        assert!(matches!(outcome, Err(TrimError::Changed(_))), "{outcome:?}");
        assert!(done.is_empty());
        assert_eq!(text(outside.path(), "b.kdl"), "b.kdl as read");
        assert_eq!(text(folder.path(), "a.kdl"), "a.kdl as read");
    }

    #[test]
    fn a_text_mended_back_to_what_it_was_is_not_written() {
        let (folder, names) = two();
        let path = folder.path().join("a.kdl");
        let before = fs::metadata(&path).unwrap().modified().unwrap();
        let old = "a.kdl as read";
        let one = Change { path: path.clone(), name: names[0].into(), old: old.into(), new: old.into() };
        let mut all = Trimmed::default();
        assert!(written(vec![one], &mut all).is_ok());
        assert!(all.written.is_empty());
        assert_eq!(fs::metadata(&path).unwrap().modified().unwrap(), before);
    }
}
