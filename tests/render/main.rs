//! What a person and a program are told, from plain data.

mod hostile;
mod json;
mod samples;
mod text;
mod traps;
mod weigh;
