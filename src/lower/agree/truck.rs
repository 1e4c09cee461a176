//! Contradictions in a truck.

use super::{Out, tires};
use crate::model::Truck;

pub(super) fn check(truck: &Truck, out: &mut Out<'_>) {
    for axle in [&truck.front, &truck.rear].into_iter().flatten() {
        if let Some(own) = &axle.tires {
            tires::check(own, out);
        }
    }
    let help = "read both limits off the plate again";
    out.at_most(&truck.gvwr, &truck.gcwr, ("the truck's own limit", "the limit for truck and trailer together"), help);
}
