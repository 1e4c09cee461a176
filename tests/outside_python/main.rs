//! Against general-purpose packages of another language: statics by virtual work, spreads by an uncertainty package, least
//! squares by a linear-algebra package, climbs by a geometry package, grip by virtual work, heaps by integration; and what readers of results read.

mod climb;
mod formats;
mod holding;
mod grip;
mod heap;
mod python;
mod readings;
mod report;
#[path = "../rig_samples/mod.rs"]
mod rig_samples;
mod spreads;
mod virtual_work;
mod weighed;
