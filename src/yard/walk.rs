//! The files of a yard.

use std::path::{Path, PathBuf};

use walkdir::{DirEntry, WalkDir};

use super::find::YARD_FILE;
use super::ignored::Ignored;

/// What a walk finds.
#[derive(Debug, Default)]
pub(super) struct Walked {
    /// The `.kdl` files, sorted by path.
    pub(super) files: Vec<PathBuf>,
    /// Folders inside that are yards of their own, sorted.
    pub(super) yards: Vec<PathBuf>,
    /// Links to a `.kdl` file or to a folder that were not followed.
    pub(super) links: Vec<PathBuf>,
    /// What could not be read, with the system's words.
    pub(super) unread: Vec<(PathBuf, String)>,
}

/// Walks a yard: hidden files and folders, what `.gitignore` keeps out, links and yards inside are left aside.
pub(super) fn walk(root: &Path) -> Walked {
    let mut walked = Walked::default();
    if root.is_file() {
        walked.files.push(root.to_path_buf());
        return walked;
    }
    let mut ignored = Ignored::at(root);
    let mut yards = Vec::new();
    let entries = WalkDir::new(root).follow_links(false).sort_by_file_name().into_iter().filter_entry(|entry| {
        if entry.depth() == 0 {
            return true;
        }
        let folder = entry.file_type().is_dir();
        if hidden(entry) || ignored.keeps_out(entry.depth(), entry.path(), folder) {
            return false;
        }
        if folder {
            if entry.path().join(YARD_FILE).is_file() {
                yards.push(entry.path().to_path_buf());
                return false;
            }
            ignored.enter(entry.depth(), entry.path());
        }
        true
    });
    for entry in entries {
        match entry {
            Ok(entry) if entry.file_type().is_symlink() => walked.links.push(entry.into_path()),
            Ok(entry) if entry.file_type().is_file() && sheet_like(entry.path()) => {
                walked.files.push(entry.into_path());
            }
            Ok(_) => {}
            Err(error) => {
                let path = error.path().unwrap_or(root).to_path_buf();
                let why = error.io_error().map_or_else(|| error.to_string(), ToString::to_string);
                walked.unread.push((path, why));
            }
        }
    }
    walked.yards = yards;
    walked.links.retain(|link| sheet_like(link) || link.is_dir());
    walked.files.sort();
    walked
}

fn hidden(entry: &DirEntry) -> bool {
    entry.file_name().to_string_lossy().starts_with('.')
}

fn sheet_like(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending == "kdl")
}
