//! A report: an index of all loads, and a page for each sheet with its findings, drawings, figures and sources. Each page
//! stands on its own, on a screen, a phone or paper.

mod figures;
mod findings;
mod index;
mod sheet;
mod thinnest;
mod verdict;

pub use index::{Index, index};
pub use sheet::{SheetPage, sheet};
pub use thinnest::Thinnest;
pub use verdict::{Row, tally};

pub use super::verdict::Verdict;

/// What is told at the end of every page, the caution of all outputs last.
const CAUTIONS: [&str; 2] = [
    "A load that passes was found to keep the rules that its yard follows, as far as its sheet says how it is. Where this \
     report and the maker's manual of truck, trailer, machine or tie-down differ, the manual holds.",
    super::CAUTION,
];
