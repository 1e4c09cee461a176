//! The command line: what may be asked, and how the answer leaves the program.

mod args;
mod arguments;
mod catalogue;
mod draw;
mod files;
mod guides;
mod progress;
mod report;
mod run;
mod terminal;

pub use run::main;
