//! From the paths of a command line to yards.

use std::collections::{BTreeMap, BTreeSet};
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

impl Wanted {
    /// Whether a path in the yard is among what was asked for.
    #[must_use]
    pub fn holds(&self, path: &Path) -> bool {
        self.asked.is_empty() || self.asked.iter().any(|asked| path.starts_with(&asked.path))
    }
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
    /// It is a link, and what it leads to is not there.
    Broken {
        /// As the user wrote it.
        path: PathBuf,
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
            Self::Broken { path } => write!(f, "{} is a link that leads to nothing", path.display()),
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
    let mut asked = Vec::with_capacity(paths.len());
    for written in paths {
        let path = written.canonicalize().map_err(|why| {
            let link = why.kind() == std::io::ErrorKind::NotFound && written.is_symlink();
            let path = written.clone();
            if link { PathError::Broken { path } } else { PathError::Gone { path, why } }
        })?;
        asked.push(Asked { written: written.clone(), path });
    }
    let folders: BTreeSet<PathBuf> = asked.iter().map(|one| one.path.clone()).filter(|path| path.is_dir()).collect();
    let mut yards: BTreeMap<PathBuf, Vec<Asked>> = BTreeMap::new();
    for one in asked {
        let start = if folders.contains(&one.path) { Some(one.path.as_path()) } else { one.path.parent() };
        // Without a yard file above, the outermost of the paths asked for is the yard, and holds the others.
        let outermost = || one.path.ancestors().filter(|folder| folders.contains(*folder)).last();
        let root = start.and_then(root_above).or_else(outermost).unwrap_or(&one.path).to_path_buf();
        yards.entry(root).or_default().push(one);
    }
    Ok(yards.into_iter().map(|(root, asked)| Wanted { root, asked }).collect())
}

/// The nearest folder, this one or above, that holds a yard file.
fn root_above(start: &Path) -> Option<&Path> {
    start.ancestors().find(|folder| folder.join(YARD_FILE).is_file())
}
