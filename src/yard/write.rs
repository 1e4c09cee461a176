//! Files written whole or not at all: the new text goes to a file beside the old one, which then takes its name.

use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::PathError;
use super::file::read_bytes;
use crate::text::all_of;

/// Why files were not written, or not all of them.
#[derive(Debug)]
pub enum WriteError {
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

impl std::fmt::Display for WriteError {
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

impl std::error::Error for WriteError {}

/// A file to be written.
pub(super) struct Change {
    pub(super) path: PathBuf,
    pub(super) name: Arc<str>,
    pub(super) old: Arc<str>,
    pub(super) new: String,
}

/// Writes all files, once it is known of every one that it is as it was read and may be written.
pub(super) fn written(changes: Vec<Change>, done: &mut Vec<Arc<str>>) -> Result<(), WriteError> {
    let unwritten = |name: &Arc<str>, why, written: &[Arc<str>]| WriteError::Unwritten {
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
        return Err(WriteError::Changed(stale));
    }
    for one in changes {
        // A fault may have been mended back and forth to what stood there.
        if *one.old == *one.new {
            continue;
        }
        replace(&one.path, &one.new).map_err(|why| unwritten(&one.name, why, done))?;
        done.push(one.name);
    }
    Ok(())
}

/// Whether a file still holds what it held when it was read.
fn is_as_read(path: &Path, text: &str) -> std::io::Result<bool> {
    // A link may have been put in its place since.
    let plain = std::fs::symlink_metadata(path)?.is_file();
    Ok(plain && read_bytes(path)? == text.as_bytes())
}

/// Whether a file may be written: one that is marked as only to be read is not replaced, though its folder would let it.
fn may_be_written(path: &Path) -> std::io::Result<()> {
    if std::fs::symlink_metadata(path)?.permissions().readonly() {
        return Err(std::io::Error::new(std::io::ErrorKind::PermissionDenied, "it is marked as read-only"));
    }
    Ok(())
}

/// Puts a new text in a file's place, with the rights that the file has.
fn replace(path: &Path, text: &str) -> std::io::Result<()> {
    let folder = path.parent().unwrap_or_else(|| Path::new("."));
    let mut beside = tempfile::Builder::new().prefix(".draylint-").tempfile_in(folder)?;
    beside.write_all(text.as_bytes())?;
    beside.as_file().sync_all()?;
    beside.as_file().set_permissions(std::fs::metadata(path)?.permissions())?;
    beside.persist(path).map_err(|failed| failed.error)?;
    Ok(())
}

/// Puts a new file where there is none, its folders with it.
pub(super) fn put_new(path: &Path, text: &str) -> std::io::Result<()> {
    let folder = path.parent().unwrap_or_else(|| Path::new("."));
    std::fs::create_dir_all(folder)?;
    let mut beside = tempfile::Builder::new().prefix(".draylint-").tempfile_in(folder)?;
    beside.write_all(text.as_bytes())?;
    beside.as_file().sync_all()?;
    readable(beside.as_file())?;
    beside.persist_noclobber(path).map_err(|failed| failed.error)?;
    Ok(())
}

/// A new file can be read by others, as one that an editor makes; what is made on trial cannot.
#[cfg(unix)]
fn readable(file: &std::fs::File) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt as _;
    file.set_permissions(std::fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn readable(_: &std::fs::File) -> std::io::Result<()> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use std::fs;
    use std::path::Path;

    use tempfile::TempDir;

    use super::{Change, WriteError, written};

    /// Two files as they were read, each with a text to be written.
    fn two() -> (TempDir, [&'static str; 2]) {
        let folder = TempDir::new().unwrap();
        for name in ["a.kdl", "b.kdl"] {
            fs::write(folder.path().join(name), format!("{name} as read")).unwrap();
        }
        (folder, ["a.kdl", "b.kdl"])
    }

    fn write(folder: &Path, names: [&str; 2]) -> (Result<(), WriteError>, Vec<String>) {
        let change = |name: &str| Change {
            path: folder.join(name),
            name: name.into(),
            old: format!("{name} as read").into(),
            new: format!("{name} anew"),
        };
        let mut all = Vec::new();
        let outcome = written(names.map(change).into(), &mut all);
        (outcome, all.iter().map(ToString::to_string).collect())
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
        assert_eq!(names.map(|name| text(folder.path(), name)), ["a.kdl anew", "b.kdl anew"]);
        assert_eq!(files(folder.path()), 2, "nothing is left beside them");
    }

    #[test]
    fn a_file_that_changed_since_keeps_all_from_being_written() {
        for new in ["b.kdl as somebody else has it", "", "b.kdl as read\n"] {
            let (folder, names) = two();
            fs::write(folder.path().join("b.kdl"), new).unwrap();
            let (outcome, done) = write(folder.path(), names);
            assert!(matches!(&outcome, Err(WriteError::Changed(names)) if **names == ["b.kdl".into()]), "{outcome:?}");
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
        assert!(matches!(&outcome, Err(WriteError::Unwritten { written, .. }) if written.is_empty()), "{outcome:?}");
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
        assert!(matches!(outcome, Err(WriteError::Changed(_))), "{outcome:?}");
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
        let mut all = Vec::new();
        assert!(written(vec![one], &mut all).is_ok());
        assert!(all.is_empty());
        assert_eq!(fs::metadata(&path).unwrap().modified().unwrap(), before);
    }
}
