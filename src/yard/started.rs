//! A new yard: a few files that show the form, with one sheet that passes.

use std::fmt;
use std::path::{Path, PathBuf};

use super::write::put_new;

/// The files of a new yard.
const FILES: [(&str, &str); 6] = [
    ("yard.kdl", include_str!("start/yard.kdl")),
    ("fleet/trucks.kdl", include_str!("start/fleet/trucks.kdl")),
    ("fleet/trailers.kdl", include_str!("start/fleet/trailers.kdl")),
    ("fleet/machines.kdl", include_str!("start/fleet/machines.kdl")),
    ("fleet/gear.kdl", include_str!("start/fleet/gear.kdl")),
    ("sheets/first.kdl", include_str!("start/sheets/first.kdl")),
];

/// Why no yard was made.
#[derive(Debug)]
pub enum StartError {
    /// Something of this name is there already; nothing was written.
    There(PathBuf),
    /// Something could not be written; what stands before it was.
    Unwritten(PathBuf, std::io::Error),
}

impl fmt::Display for StartError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::There(path) => write!(f, "{} is there already: nothing was written", path.display()),
            Self::Unwritten(path, why) => write!(f, "{} cannot be written: {why}", path.display()),
        }
    }
}

impl std::error::Error for StartError {}

/// Makes a yard in a folder, which may be there already as long as none of its files is.
///
/// # Errors
/// When one of its files is there, or cannot be written.
pub fn start(folder: &Path) -> Result<Vec<PathBuf>, StartError> {
    let paths: Vec<PathBuf> = FILES.iter().map(|(name, _)| folder.join(name)).collect();
    if let Some(there) = paths.iter().find(|path| path.symlink_metadata().is_ok()) {
        return Err(StartError::There(there.clone()));
    }
    for (path, (_, text)) in paths.iter().zip(FILES) {
        put_new(path, text).map_err(|why| StartError::Unwritten(path.clone(), why))?;
    }
    Ok(paths)
}
