//! What is supposed of the way onto the deck, otherwise than the sheet says.

use std::sync::Arc;

use super::Load;
use super::climbing::Climbs;
use super::reads::Reads;
use crate::units::{Angle, Length};

/// A way onto the deck otherwise than the sheet says.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Supposed {
    /// How much higher the ground at the ramp's foot is.
    pub foot_rise: Option<Length>,
    /// The tilt of the bed.
    pub bed_tilt: Option<Angle>,
    /// The ramp's length.
    pub ramp: Option<Length>,
}

impl Load<'_> {
    /// This load as it would be put aboard otherwise. Only of a load that notes what it rests on.
    #[must_use]
    pub fn supposing(&self, supposed: Supposed) -> Self {
        let reads = Reads::default().changed(self.reads.what_changed().clone());
        Self { supposed, ..self.again(reads, &[], Arc::<Climbs>::default()) }
    }
}
