//! Commands that make or lay out files.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use super::args::Common;
use super::run::{Outcome, paths};
use super::terminal;
use crate::render::caution;
use crate::text::visible;
use crate::yard::{self, Tidied};

/// Lays out files, or tells which look otherwise than they should.
pub(super) fn tidy(given: &[PathBuf], check: bool, common: &Common) -> Result<Outcome, String> {
    let Tidied { files, untidy, left, .. } = yard::tidied(&paths(given), !check).map_err(|why| why.to_string())?;
    let mut text = String::new();
    let (done, nothing) = if check { ("would be laid out anew", "all are laid out") } else { ("laid out", "all were") };
    for name in &untidy {
        let _ = writeln!(text, "{}: {done}", visible(name, true));
    }
    for name in &left {
        let _ = writeln!(
            text,
            "{}: cannot be read whole, so it is left alone; draylint check says why",
            visible(name, true)
        );
    }
    if !common.quiet && untidy.is_empty() {
        let _ = writeln!(text, "{files} {}: {nothing}", if files == 1 { "file" } else { "files" });
    }
    let status = u8::from(check && (!untidy.is_empty() || !left.is_empty()));
    Ok(Outcome { text, status, ..Outcome::default() })
}

/// Makes a new yard.
pub(super) fn start(folder: &Path, common: &Common) -> Result<Outcome, String> {
    let made = yard::start(folder).map_err(|why| why.to_string())?;
    let mut text = String::new();
    for path in &made {
        let _ = writeln!(text, "made {}", visible(&path.display().to_string(), true));
    }
    if !common.quiet {
        let folder = folder.display().to_string();
        let _ = write!(
            text,
            "\nEvery number in these files is made up: put in your own, from plates, scales\nand a tape. Then\n  draylint check \
             {}\n\n{}",
            visible(&folder, true),
            caution(terminal::style(common.color))
        );
    }
    Ok(Outcome { text, ..Outcome::default() })
}
