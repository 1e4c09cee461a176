//! From the paths of a command line to yards.

use std::collections::BTreeMap;
use std::fmt;
use std::path::{Path, PathBuf};

/// The file that makes a folder a yard.
pub(super) const YARD_FILE: &str = "yard.kdl";

/// A yard, and what of it was asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct Wanted {
    /// The folder that is the yard, or the only file of a yard without a folder.
    pub root: PathBuf,
    /// The files and folders that were asked for; none means all.
    pub asked: Vec<Asked>,
}

/// A path that was asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// As the user wrote it.
    pub written: PathBuf,
    /// Where it is.
    pub path: PathBuf,
}

/// A path that cannot be checked: the run fails.
#[derive(Debug)]
pub enum PathError {
    /// There is no such path, or it cannot be reached.
    Gone {
        /// As the user wrote it.
        path: PathBuf,
        /// What the system said.
        why: std::io::Error,
    },
    /// It holds nothing of ours.
    Foreign {
        /// As the user wrote it.
        path: PathBuf,
    },
}

impl fmt::Display for PathError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Gone { path, why } if why.kind() == std::io::ErrorKind::NotFound => {
                write!(f, "there is no file or folder {}", path.display())
            }
            Self::Gone { path, why } => write!(f, "{} cannot be read: {why}", path.display()),
            Self::Foreign { path } => write!(f, "{} holds no load sheet and no definition", path.display()),
        }
    }
}

impl std::error::Error for PathError {}

/// The yards that the paths belong to or hold, in order of path, each once. Yards inside a named folder are found while
/// that folder is walked, not here.
///
/// # Errors
/// When a path does not exist.
pub fn find(paths: &[PathBuf]) -> Result<Vec<Wanted>, PathError> {
    let mut yards: BTreeMap<PathBuf, Vec<Asked>> = BTreeMap::new();
    for written in paths {
        let gone = |why| PathError::Gone { path: written.clone(), why };
        let path = written.canonicalize().map_err(gone)?;
        let folder = path.is_dir();
        let start = if folder { Some(path.as_path()) } else { path.parent() };
        let root = start.and_then(root_above).map_or_else(|| path.clone(), Path::to_path_buf);
        yards.entry(root).or_default().push(Asked { written: written.clone(), path });
    }
    let all = yards.into_iter().map(|(root, mut asked)| {
        if asked.iter().any(|one| one.path == root) {
            asked.retain(|one| one.path == root);
        }
        Wanted { root, asked }
    });
    Ok(all.collect())
}

/// The nearest folder, this one or above, that holds a yard file.
fn root_above(start: &Path) -> Option<&Path> {
    start.ancestors().find(|folder| folder.join(YARD_FILE).is_file())
}
