//! Files written whole or not at all: the new text goes to a file beside the old one, which then takes its name.

use std::io::Write as _;
use std::path::Path;

use super::file::read_bytes;

/// Whether a file still holds what it held when it was read.
pub(super) fn is_as_read(path: &Path, text: &str) -> std::io::Result<bool> {
    // A link may have been put in its place since.
    let plain = std::fs::symlink_metadata(path)?.is_file();
    Ok(plain && read_bytes(path)? == text.as_bytes())
}

/// Whether a file may be written: one that is marked as only to be read is not replaced, though its folder would let it.
pub(super) fn may_be_written(path: &Path) -> std::io::Result<()> {
    if std::fs::symlink_metadata(path)?.permissions().readonly() {
        return Err(std::io::Error::new(std::io::ErrorKind::PermissionDenied, "it is marked as read-only"));
    }
    Ok(())
}

/// Puts a new text in a file's place, with the rights that the file has.
pub(super) fn replace(path: &Path, text: &str) -> std::io::Result<()> {
    let folder = path.parent().unwrap_or_else(|| Path::new("."));
    let mut beside = tempfile::Builder::new().prefix(".draylint-").tempfile_in(folder)?;
    beside.write_all(text.as_bytes())?;
    beside.as_file().sync_all()?;
    beside.as_file().set_permissions(std::fs::metadata(path)?.permissions())?;
    beside.persist(path).map_err(|failed| failed.error)?;
    Ok(())
}
