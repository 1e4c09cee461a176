//! Statics and figures against a second formulation: one linear system of all balances, solved by nalgebra.

mod figures;
mod oracle;
mod rig;
#[path = "../rig_samples/mod.rs"]
mod rig_samples;
mod sheets;
mod standing;
