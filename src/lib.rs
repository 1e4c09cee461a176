//! `draylint` checks load sheets: which machine stands where on which trailer, whether it rides safely there, and what
//! is at fault on which line.
//!
//! The rooms stand in the order in which they may use one another: each imports only from rooms above it
//! (`tests/layering.rs` reads the `use crate::` lines). `DEVELOPERS.md` says what each is for.

pub mod units;
pub mod text;
pub mod finding;
pub mod model;
pub mod physics;
pub mod syntax;
pub mod lower;
pub mod expr;
pub mod figures;
pub mod rules;
pub mod check;
pub mod mend;
pub mod render;
pub mod yard;
pub mod cli;
