//! Text to a small tree of our own, with the exact bytes of everything in it.
//!
//! This is the only room that knows the `kdl` crate. A linear scan of our own goes first: it refuses what the parser
//! could choke on, finds the strings and braces that are not closed, and knows where each node begins and ends, so that
//! a broken node costs that node and not the file. The parser then judges and decodes.

mod digits;
mod explain;
mod hidden;
mod lex;
mod outline;
mod parse;
mod read;
mod recover;
mod scan;
mod slips;
mod stack;
mod tidy;
mod tree;
mod valid;

pub use outline::{MAX_COMMENT_LINES, MAX_COMMENT_NESTING, MAX_NESTING, MAX_SLASHDASH_NESTING, MAX_SLASHDASHES};
pub use parse::{MAX_BYTES, MAX_FINDINGS, Parsed, parse};
pub use stack::{STACK, pool, with_stack};
pub use tidy::tidy;
pub use tree::{Document, Entry, Lost, Node, Value, Word};
