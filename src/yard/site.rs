//! A folder of pages, put in place whole or not at all: pages are written into a folder beside it, which then takes its name.
//!
//! A folder that is there already is replaced only where it is empty, or where it holds a report and nothing else: what else a
//! person keeps there is never lost.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use tempfile::TempDir;

/// The file that lists what a report wrote.
const LIST: &str = "pages.txt";

/// Its first line, by which it is known again.
const HEAD: &str = "Written by draylint report, which replaces this folder while it holds these files and no others:";

/// Why no report was put in place; what was there before still is.
#[derive(Debug)]
pub enum SiteError {
    /// The name belongs to something that is no folder.
    NoFolder(PathBuf),
    /// The folder holds something that no report wrote: its name.
    Foreign(PathBuf, String),
    /// Something could not be read or written.
    Failed(PathBuf, io::Error),
}

impl fmt::Display for SiteError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoFolder(path) => write!(f, "{} is no folder: nothing was written", path.display()),
            Self::Foreign(path, name) => write!(
                f,
                "{} holds \"{name}\", which no report wrote: name a folder that is empty or not there yet; nothing was written",
                path.display()
            ),
            Self::Failed(path, why) => {
                write!(f, "{}: {why}; no report was put in place", path.display())
            }
        }
    }
}

impl std::error::Error for SiteError {}

/// A folder of pages in the making.
#[derive(Debug)]
pub struct Site {
    /// Where it goes.
    out: PathBuf,
    /// Where it is made; removed again with all that is in it unless it is finished.
    beside: TempDir,
    names: Mutex<BTreeSet<String>>,
}

impl Site {
    /// Makes ready for a report in this folder, which need not be there yet.
    ///
    /// # Errors
    /// When something stands there that is not a report's to replace, or when nothing can be written beside it.
    pub fn begin(out: &Path) -> Result<Self, SiteError> {
        let failed = |why| SiteError::Failed(out.to_path_buf(), why);
        // A link leads to the folder that is meant.
        let out = if out.exists() { out.canonicalize().map_err(failed)? } else { out.to_path_buf() };
        may_be_replaced(&out)?;
        fs::create_dir_all(parent(&out)).map_err(failed)?;
        let beside = made_beside(&out).map_err(failed)?;
        Ok(Self { out, beside, names: Mutex::default() })
    }

    /// Writes a page.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn put(&self, name: &str, text: &str) -> Result<(), SiteError> {
        fs::write(self.beside.path().join(name), text).map_err(|why| SiteError::Failed(self.out.join(name), why))?;
        self.names.lock().unwrap_or_else(PoisonError::into_inner).insert(name.to_owned());
        Ok(())
    }

    /// Puts the pages in place.
    ///
    /// # Errors
    /// When something was put there meanwhile that is not a report's to replace, or when the folders cannot be renamed.
    pub fn finish(self) -> Result<(), SiteError> {
        let names: Vec<String> =
            std::mem::take(&mut *self.names.lock().unwrap_or_else(PoisonError::into_inner)).into_iter().collect();
        self.put(LIST, &format!("{HEAD}\n{}\n", names.join("\n")))?;
        let Self { out, beside, .. } = self;
        let failed = |why| SiteError::Failed(out.clone(), why);
        may_be_replaced(&out)?;
        open_to_readers(beside.path()).map_err(failed)?;
        if !out.exists() {
            fs::rename(beside.path(), &out).map_err(failed)?;
            // It is no longer where it would be removed from.
            let _ = beside.keep();
            return Ok(());
        }
        let old = made_beside(&out).map_err(failed)?;
        let aside = old.path().join("old");
        fs::rename(&out, &aside).map_err(failed)?;
        if let Err(why) = fs::rename(beside.path(), &out) {
            // Back as it was; where even that fails, the older pages are kept, and it is told where.
            if fs::rename(&aside, &out).is_err() {
                let _ = old.keep();
                return Err(SiteError::Failed(aside, why));
            }
            return Err(failed(why));
        }
        let _ = beside.keep();
        Ok(())
    }
}

/// The folder that a folder stands in.
fn parent(out: &Path) -> &Path {
    out.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or_else(|| Path::new("."))
}

/// A new folder beside another one, so that it can take its place by a new name alone.
fn made_beside(out: &Path) -> io::Result<TempDir> {
    tempfile::Builder::new().prefix(".draylint-report-").tempdir_in(parent(out))
}

/// Whether nothing would be lost if a folder were replaced.
fn may_be_replaced(out: &Path) -> Result<(), SiteError> {
    let failed = |why| SiteError::Failed(out.to_path_buf(), why);
    let folder = match fs::read_dir(out) {
        Ok(folder) => folder,
        Err(why) if why.kind() == io::ErrorKind::NotFound => return Ok(()),
        Err(why) if why.kind() == io::ErrorKind::NotADirectory => return Err(SiteError::NoFolder(out.to_path_buf())),
        Err(why) => return Err(failed(why)),
    };
    // A folder without a list holds no report.
    let list = fs::read_to_string(out.join(LIST)).unwrap_or_default();
    let mut lines = list.lines();
    let own: BTreeSet<&str> = if lines.next() == Some(HEAD) { lines.chain([LIST]).collect() } else { BTreeSet::new() };
    let mut foreign = BTreeSet::new();
    for entry in folder {
        let entry = entry.map_err(failed)?;
        let name = entry.file_name().to_string_lossy().into_owned();
        let plain = entry.file_type().map_err(failed)?.is_file();
        if !plain || !own.contains(&*name) {
            foreign.insert(name);
        }
    }
    foreign.pop_first().map_or(Ok(()), |name| Err(SiteError::Foreign(out.to_path_buf(), name)))
}

/// A report may be read by others, as a folder that a person makes; what is made on trial may not.
#[cfg(unix)]
fn open_to_readers(folder: &Path) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt as _;
    fs::set_permissions(folder, fs::Permissions::from_mode(0o755))
}

#[cfg(not(unix))]
fn open_to_readers(_: &Path) -> io::Result<()> {
    Ok(())
}

/// Names for pages that differ from one another also where a disk does not tell capitals from small letters.
#[derive(Debug, Default)]
pub(super) struct PageNames {
    taken: BTreeSet<String>,
    /// For each stem the first number that may be free.
    next: BTreeMap<String, usize>,
}

impl PageNames {
    /// A name for the page of something called so: `sheet-` and its letters and digits, as far as they are ASCII.
    pub(super) fn free(&mut self, called: &str) -> String {
        let mut stem = String::from("sheet");
        let mut words = called.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty());
        while let Some(word) = words.next().filter(|_| stem.len() < LONGEST) {
            stem.push('-');
            stem.extend(word.chars().take(LONGEST).map(|c| c.to_ascii_lowercase()));
        }
        stem.truncate(LONGEST);
        if self.taken.insert(stem.clone()) {
            return stem;
        }
        let number = self.next.entry(stem.clone()).or_insert(2);
        loop {
            let name = format!("{stem}-{number}");
            *number += 1;
            if self.taken.insert(name.clone()) {
                return name;
            }
        }
    }
}

/// Letters of a page's name before its number.
const LONGEST: usize = 60;

#[cfg(test)]
mod tests {
    use std::fs;

    use tempfile::TempDir;

    use super::{LIST, PageNames, Site, SiteError};

    fn made(out: &std::path::Path, pages: &[&str]) -> Result<(), SiteError> {
        let site = Site::begin(out)?;
        for page in pages {
            site.put(page, page)?;
        }
        site.finish()
    }

    fn names(folder: &std::path::Path) -> Vec<String> {
        let mut names: Vec<String> =
            fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        names
    }

    #[test]
    fn a_report_replaces_an_empty_folder_and_an_older_report() {
        let home = TempDir::new().unwrap();
        let out = home.path().join("deep/report");
        fs::create_dir_all(&out).unwrap();
        made(&out, &["a.html", "b.html"]).unwrap();
        assert_eq!(names(&out), ["a.html", "b.html", LIST]);
        made(&out, &["c.html"]).unwrap();
        assert_eq!(names(&out), ["c.html", LIST]);
        assert_eq!(names(&home.path().join("deep")), ["report"], "nothing is left beside it");
    }

    #[test]
    fn what_no_report_wrote_is_never_replaced() {
        let home = TempDir::new().unwrap();
        let out = home.path().join("report");
        made(&out, &["a.html"]).unwrap();
        fs::write(out.join("my notes"), "dear").unwrap();
        assert!(matches!(made(&out, &["b.html"]), Err(SiteError::Foreign(_, name)) if name == "my notes"));
        assert_eq!(names(&out), ["a.html", "my notes", LIST]);
        fs::remove_file(out.join("my notes")).unwrap();
        fs::create_dir(out.join("b.html")).unwrap();
        assert!(matches!(made(&out, &["b.html"]), Err(SiteError::Foreign(..))), "a folder is no page");
        assert!(matches!(made(&out.join("a.html"), &["b.html"]), Err(SiteError::NoFolder(_))));
        assert_eq!(names(home.path()), ["report"]);
    }

    #[test]
    fn what_is_put_there_meanwhile_is_kept() {
        let home = TempDir::new().unwrap();
        let out = home.path().join("report");
        let site = Site::begin(&out).unwrap();
        site.put("a.html", "a").unwrap();
        fs::create_dir(&out).unwrap();
        fs::write(out.join("notes"), "dear").unwrap();
        assert!(matches!(site.finish(), Err(SiteError::Foreign(..))));
        assert_eq!(names(&out), ["notes"]);
        assert_eq!(names(home.path()), ["report"]);
    }

    #[test]
    fn names_of_pages_are_plain_and_differ() {
        let mut names = PageNames::default();
        let told: Vec<String> = ["barn lane", "Barn-Lane", "../../etc", "barn lane 2", "Straße", ""]
            .iter()
            .map(|one| names.free(one))
            .collect();
        assert_eq!(
            told,
            ["sheet-barn-lane", "sheet-barn-lane-2", "sheet-etc", "sheet-barn-lane-2-2", "sheet-stra-e", "sheet"]
        );
        assert!(names.free(&"x".repeat(9000)).len() <= super::LONGEST + 4);
    }
}
