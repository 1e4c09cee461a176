//! The built-in frictions.

use std::sync::LazyLock;

use super::file::lower_file;
use crate::model::Friction;
use crate::syntax::{parse, with_stack};
use crate::text::FileId;

/// The built-in frictions as text, in the language of the sheets, each with its source.
pub const BUILTIN_FRICTIONS: &str = include_str!("../../rules/friction.kdl");

/// The number under which their text is read. No finding points into it, so it is none of those that are shown.
pub const FRICTION_FILE: FileId = FileId(u32::MAX);

static ALL: LazyLock<Vec<Friction>> = LazyLock::new(|| {
    with_stack(|| {
        parse(FRICTION_FILE, BUILTIN_FRICTIONS)
            .document
            .map(|doc| lower_file(&doc, false).frictions)
            .unwrap_or_default()
    })
});

/// The built-in frictions, read once a process.
#[must_use]
pub fn builtin_frictions() -> &'static [Friction] {
    &ALL
}
