//! Source texts, byte spans in them, and places as a person counts them.

mod source;
mod span;
mod visible;

pub use source::{Place, Source, Sources};
pub use span::{FileId, Span};
pub use visible::{Visible, is_hidden, visible};
