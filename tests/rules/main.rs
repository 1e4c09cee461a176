//! The rules as a user meets them: their examples, their fixtures, their bounds, what they say.

mod bounds;
mod deletions;
mod examples;
mod fixtures;
mod mutants;
mod proposed;
mod style;
mod texts;
mod units;
mod verdicts;
