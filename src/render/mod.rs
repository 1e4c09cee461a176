//! Output: each form is a function of plain data to a text. No input or output happens here, and no terminal is asked;
//! the rim decides colour, width and characters and passes them as a [`Style`].
//!
//! Each form has wire types of its own, so that a change of one never moves another.

mod arrange;
mod bar;
pub mod book;
pub mod catalogue;
mod closing;
mod comment;
mod cut;
mod document;
mod excerpt;
mod fingerprint;
mod grouped;
pub mod json;
mod junit;
mod markdown;
mod meaning;
mod place;
pub mod range;
pub mod report;
mod ruler;
mod readings;
mod sarif;
mod short;
mod style;
pub mod svg;
mod table;
pub mod text;
pub mod trim;
mod verdict;
pub mod walkaround;
pub mod weigh;
pub mod words;
mod wrap;
mod xml;

pub use closing::{CAUTION, caution, summary};
pub use comment::comment;
pub use fingerprint::fingerprints;
pub use junit::junit;
pub use meaning::{TriedExample, examples};
pub use sarif::sarif;
pub use short::short;
pub use style::Style;
pub use text::TextRenderer;
pub use wrap::wrap;
