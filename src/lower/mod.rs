//! Tree to model: what the files of a yard say, and every fault of an entry. Total: a broken node costs that node, and
//! never the sheet.
//!
//! Three steps. [`lower_file`] checks each node of one file against the vocabulary ([`words`]) and fills the model from
//! what could be read; files do not know one another, so this may run in parallel. [`link`] then joins the files of a
//! yard: ids, references and contradictions.

mod add;
mod agree;
mod around;
mod behind;
mod check;
mod file;
mod first;
mod instead;
mod link;
mod frictions;
mod materials;
mod missing;
mod number;
mod read_gear;
mod read_item;
mod read_machine;
mod read_sheet;
mod read_trailer;
mod read_truck;
mod read_yard;
mod report;
mod seen;
mod unknown;
mod lashing;
mod unmarked;
mod value;
pub mod words;
mod write;

pub use add::to_add;
pub use file::{FileDefs, lower_file};
pub use frictions::{BUILTIN_FRICTIONS, FRICTION_FILE, builtin_frictions};
pub use lashing::{EN_12195_1, lashing_criteria};
pub use link::link;
pub use materials::{BUILTIN_MATERIALS, builtin_materials};
pub use number::{ReadError, read_number};
pub use unmarked::{UNMARKED_TIES, unmarked_tiedowns, unmarked_wll};
pub use words::WORDS;
pub use write::renamed;

#[cfg(test)]
mod tests;
