//! Source texts, byte spans in them, places as a person counts them, and how messages name and quote words.

mod near;
mod said;
mod source;
mod span;
mod visible;

pub use near::{CANDIDATES, closest, nearest, nearest_and_only, only_near};
pub use said::{all_of, either, quoted};
pub use source::{Place, Source, Sources};
pub use span::{FileId, Span};
pub use visible::{Visible, is_hidden, visible};
