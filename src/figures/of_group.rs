//! Figures of groups of axles: what a road or a bridge under them carries.

use super::figure::{computed, value};
use super::of_axle::{axle_load, shared_for_want};
use super::of_part::gone;
use super::{AxleRef, Each, Figure, Known, Lack, Load, Measures, Reading, Subject};
use crate::model::End;
use crate::physics::{RoadAxle, axle_groups, bridge_limit_of};
use crate::units::{Kind, Length, Mass, Share};

const GROUP: &[Each] = &[Each::AxleGroup];
const WEIGHT: Measures = Measures::Quantity(Kind::Mass);

const SUMS: &str = "sum of axle loads";
const BRIDGE: &str = "the federal bridge formula, 23 CFR 658.17, ties down";

pub(super) static FIGURES: &[Figure] = &[
    computed(
        "combination.bridge_used",
        "fullest group, of the bridge formula",
        &[],
        Measures::Quantity(Kind::Share),
        "what the fullest group of axles carries as a part of what the bridge formula allows it",
        BRIDGE,
        |load, _| {
            let all = Each::AxleGroup.subjects(load).into_iter().filter(|one| one.axles().is_some_and(|(a, b)| a != b));
            let mut most: Option<Share> = None;
            for subject in all {
                let group = Group::of(load, subject)?;
                if let Some(lack) = group.open {
                    return Err(lack);
                }
                let used = Share::of(group.load / group.allowed(load)?);
                most = Some(most.map_or(used, |most| most.max(used)));
            }
            value(most.ok_or_else(|| gone(load, "axle"))?)
        },
    ),
    Figure {
        weighed: false,
        ..computed("axles.load", "load", GROUP, WEIGHT, "what the group carries together", SUMS, |load, subject| {
            let group = Group::of(load, subject)?;
            Ok(Reading { open: group.open, ..value(group.load)? })
        })
    },
    Figure {
        weighed: false,
        ..computed(
            "axles.length",
            "length",
            GROUP,
            Measures::Quantity(Kind::Length),
            "between the centres of the first and the last axle of the group; nothing for one axle",
            "wheelbase, distance of the ball and stations of the trailer's axles",
            |load, subject| value(Group::of(load, subject)?.length),
        )
    },
    Figure {
        weighed: false,
        ..computed(
            "axles.bridge_allowed",
            "bridge formula",
            GROUP,
            WEIGHT,
            "what the bridge formula allows the group; nothing is said of a single axle",
            BRIDGE,
            |load, subject| value(Group::of(load, subject)?.allowed(load)?),
        )
    },
];

/// A group of axles of a load.
struct Group {
    axles: Vec<RoadAxle>,
    length: Length,
    load: Mass,
    /// Why it can carry more.
    open: Option<Lack>,
}

impl Group {
    fn of(load: &Load<'_>, subject: Subject) -> Known<Self> {
        let (first, last) = subject.axles().ok_or_else(|| gone(load, "axle"))?;
        let all = [AxleRef::Truck(End::Front), AxleRef::Truck(End::Rear)].into_iter();
        let all = all.chain((0..load.trailer_axles().len()).map(AxleRef::Trailer));
        let own: Vec<AxleRef> = all.filter(|axle| (first.number()..=last.number()).contains(&axle.number())).collect();
        let trailer = own.iter().filter(|axle| matches!(axle, AxleRef::Trailer(_))).count();
        // All axles of the trailer together carry what they carry, however they share it.
        let whole = trailer == load.trailer_axles().len();
        let mut axles = Vec::with_capacity(own.len());
        let group = load.rig.as_ref().map_err(Clone::clone)?.loads.trailer.group;
        for axle in &own {
            let carries = match axle {
                AxleRef::Trailer(_) if whole => group / f64::from(u32::try_from(trailer).unwrap_or(1)),
                _ => axle_load(load, *axle)?,
            };
            axles.push(RoadAxle { station: station(load, *axle)?, load: carries });
        }
        let together = axle_groups(&axles).into_iter().find(|group| group.axles() == axles.len());
        let together = together.ok_or_else(|| gone(load, "axle"))?;
        let open = if whole { None } else { own.iter().find_map(|axle| shared_for_want(load, *axle)) };
        Ok(Self { length: together.length, load: together.load, axles, open })
    }

    fn allowed(&self, load: &Load<'_>) -> Known<Mass> {
        bridge_limit_of(&self.axles).ok_or_else(|| gone(load, "axle"))
    }
}

/// The station of an axle, behind the ball.
fn station(load: &Load<'_>, axle: AxleRef) -> Known<Length> {
    if let AxleRef::Trailer(at) = axle {
        let axle = load.trailer_axles().get(at).ok_or_else(|| gone(load, "axle"))?;
        return load.reads.need(&axle.at, &axle.owner, "at");
    }
    let (truck, hitch) = (load.truck.clone()?, load.hitch()?);
    let behind = load.reads.need(&hitch.behind_rear_axle, &hitch.owner, "behind-rear-axle")?;
    if axle == AxleRef::Truck(End::Rear) {
        return Ok(-behind);
    }
    Ok(-behind - load.reads.need(&truck.wheelbase, &truck.owner, "wheelbase")?)
}
