//! Yards laid out: each of their files as it should look, shown, or written back.

use std::path::PathBuf;
use std::sync::Arc;

use super::progress::Progress;
use super::run::each_yard;
use super::write::{Change, WriteError, written};
use crate::syntax::tidy;

/// What laying out found.
#[derive(Debug, Default)]
pub struct Tidied {
    /// How many files of ours were looked at.
    pub files: usize,
    /// The files that look otherwise than they should, in order of path.
    pub untidy: Vec<Arc<str>>,
    /// The files that cannot be read whole, which are left alone.
    pub left: Vec<Arc<str>>,
    /// The files that were written.
    pub written: Vec<Arc<str>>,
}

/// Lays out the files that these paths name or hold. Files that hold nothing of ours, and rule files, are left alone.
///
/// # Errors
/// When a path does not exist or holds nothing of ours, a file changed since it was read, or cannot be written.
pub fn tidied(paths: &[PathBuf], write: bool) -> Result<Tidied, WriteError> {
    let mut all = Tidied::default();
    let mut changes = Vec::new();
    let visited = each_yard(paths, &Progress::default(), |_, opened| {
        let asked = |file| opened.asked.as_ref().is_none_or(|asked| asked.contains(&file));
        for file in opened.ours.iter().copied().filter(|file| asked(*file)) {
            let (Some(source), Some(path)) = (opened.sources.get(file), opened.paths.get(file.0 as usize)) else {
                continue;
            };
            all.files += 1;
            let name = Arc::clone(&source.name);
            match tidy(&source.text) {
                None => all.left.push(name),
                Some(new) if *new == *source.text => {}
                Some(new) => {
                    all.untidy.push(Arc::clone(&name));
                    changes.push(Change { path: path.clone(), name, old: Arc::clone(&source.text), new });
                }
            }
        }
    });
    visited.map_err(WriteError::Path)?;
    if write {
        written(changes, &mut all.written)?;
    }
    Ok(all)
}
