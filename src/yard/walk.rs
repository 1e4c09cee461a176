//! The files of a yard.

use std::path::{Path, PathBuf};

use walkdir::{DirEntry, WalkDir};

use super::find::YARD_FILE;
use super::ignored::Ignored;

/// What a walk finds.
#[derive(Debug, Default)]
pub(super) struct Walked {
    /// Files, and what stands in the way of reading one, sorted by path.
    pub(super) found: Vec<(PathBuf, Found)>,
    /// Folders inside that are yards of their own, sorted.
    pub(super) yards: Vec<PathBuf>,
}

/// What stands at a path.
#[derive(Debug)]
pub(super) enum Found {
    /// A `.kdl` file.
    File,
    /// A link to a `.kdl` file or to a folder, which is not followed.
    Link,
    /// It could not be read; the system's words.
    Unread(String),
}

/// Walks a yard: hidden files and folders, what `.gitignore` keeps out, links and yards inside are left aside.
pub(super) fn walk(root: &Path) -> Walked {
    let mut walked = Walked::default();
    if !root.is_dir() {
        // A file that was asked for by name and is a yard by itself.
        if root.is_file() && sheet_like(root) {
            walked.found.push((root.to_path_buf(), Found::File));
        }
        return walked;
    }
    let mut ignored = Ignored::at(root);
    let mut yards = Vec::new();
    let entries = WalkDir::new(root).follow_links(false).into_iter().filter_entry(|entry| {
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
            Ok(entry) if entry.file_type().is_symlink() => {
                // Asking what a link leads to reads nothing of it.
                if sheet_like(entry.path()) || entry.path().is_dir() {
                    walked.found.push((entry.into_path(), Found::Link));
                }
            }
            Ok(entry) if entry.file_type().is_file() && sheet_like(entry.path()) => {
                walked.found.push((entry.into_path(), Found::File));
            }
            Ok(_) => {}
            Err(error) => {
                let path = error.path().unwrap_or(root).to_path_buf();
                let why = error.io_error().map_or_else(|| error.to_string(), ToString::to_string);
                walked.found.push((path, Found::Unread(why)));
            }
        }
    }
    yards.sort();
    walked.yards = yards;
    walked.found.sort_by(|a, b| a.0.cmp(&b.0));
    walked
}

fn hidden(entry: &DirEntry) -> bool {
    entry.file_name().to_string_lossy().starts_with('.')
}

fn sheet_like(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending == "kdl")
}
