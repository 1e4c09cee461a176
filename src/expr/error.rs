//! What is wrong with a condition, and where in its text.

use std::fmt;
use std::ops::Range;

/// Why a condition was refused. One at a time: the first in reading order, mistakes of form before mistakes of meaning.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ExprError {
    /// The bytes of the condition's text that are at fault; empty only where something is missing.
    pub range: Range<usize>,
    /// The fault, without a full stop.
    pub message: String,
    /// One imperative sentence, when there is one to give.
    pub help: Option<String>,
}

impl ExprError {
    pub(super) fn new(range: Range<usize>, message: impl Into<String>) -> Self {
        Self { range, message: message.into(), help: None }
    }

    pub(super) fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }
}

impl fmt::Display for ExprError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for ExprError {}
