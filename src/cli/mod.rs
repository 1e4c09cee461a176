//! The command line: what may be asked, and how the answer leaves the program.

mod args;
mod catalogue;
mod draw;
mod files;
mod progress;
mod run;
mod terminal;

pub use run::main;
