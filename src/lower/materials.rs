//! The built-in bulk materials.

use super::file::lower_file;
use crate::model::Material;
use crate::syntax::parse;
use crate::text::FileId;

/// The built-in materials as text, in the language of the sheets, with the source of every figure.
pub const BUILTIN_MATERIALS: &str = include_str!("../../rules/materials.kdl");

/// The built-in materials. Their places lie in a file of their own, numbered `file` by the caller, whose text is
/// [`BUILTIN_MATERIALS`].
#[must_use]
pub fn builtin_materials(file: FileId) -> Vec<Material> {
    parse(file, BUILTIN_MATERIALS).document.map(|doc| lower_file(&doc, false).materials).unwrap_or_default()
}
