//! Rules as data: rule files read, checked and put together with what the yard sets.
//!
//! A built-in rule and a company's rule go the same way. What a rule may name comes from the registry of figures; what
//! it says, bounds and cites stands in its file.

mod builtin;
mod follow;
mod half_widths;
mod names;
mod read;
mod reader;
mod rule;
mod set;
mod template;

pub use builtin::{EXAMPLE_YARD, builtin_sources};
pub use half_widths::HalfWidths;
pub use names::{RuleNames, Slot};
pub use read::{CURES, ReadRules, WORDS, read_rules};
pub use rule::{Ask, Citation, Example, ExampleBody, FoundBy, Param, Rule, SourceKind, StateFigure, Status};
pub use set::RuleSet;
pub use template::{Piece, Template};
