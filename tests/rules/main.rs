//! The rules as a user meets them: their examples, their fixtures, their bounds, what they say.

mod examples;
mod fixtures;
mod mutants;
mod texts;
mod units;
mod verdicts;
