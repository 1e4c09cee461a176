//! Contradictions in the tires of an axle.

use super::{Out, apart, shown, shown_like};
use crate::model::Tires;
use crate::physics::load_index;
use crate::units::Mass;

pub(super) fn check(tires: &Tires, out: &mut Out<'_>) {
    if let Some(count) = tires.count.entry() {
        if count.value % 2 == 1 {
            let message = format!("an axle has as many tires on the left as on the right, and {} is odd", count.value);
            out.alone(count.at, message, "write how many tires the whole axle has");
        } else if let Some(dual) = tires.dual.entry().filter(|dual| dual.value && count.value < 4) {
            let message = "tires in pairs are at least four to an axle, and this axle has two".to_owned();
            let help = "write how many tires the whole axle has, or delete dual=";
            out.clash(count.at, message, (dual.at, "in pairs".to_owned()), help);
        }
    }
    rating_and_index(tires, out);
}

/// Marked load and load index say the same thing twice, for single or for dual fitment.
fn rating_and_index(tires: &Tires, out: &mut Out<'_>) {
    let (Some(rating), Some(index)) = (tires.rating.entry(), tires.load_index.entry()) else {
        return;
    };
    let loads: Vec<Mass> =
        [Some(index.value.single), index.value.dual].into_iter().flatten().filter_map(load_index).collect();
    let Some(first) = loads.first() else {
        return;
    };
    if loads.iter().all(|load| apart(load.si(), rating.value.si(), 0.0, &[])) {
        let stands_for = shown_like(first.si(), rating);
        let message = format!(
            "load index {} stands for {stands_for} a tire, and the rating says {}",
            index.value.single,
            shown(rating)
        );
        out.clash(index.at, message, (rating.at, "the rating".to_owned()), "read both off the tire again");
    }
}
