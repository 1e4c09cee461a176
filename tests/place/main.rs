//! Where the items of a load may stand, against a search that knows nothing of how it is found: every place is written into
//! the sheet's text, read and judged like any other sheet.

mod collision;
mod hostile;
mod jobs;
mod maker;
mod pipeline;
mod ranges;
mod together;
