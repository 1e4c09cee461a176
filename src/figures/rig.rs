//! Truck and trailer of a load as the statics see them, solved once for all figures.

use super::{Known, Lack, Load};
use crate::model::{End, HitchKind, Missing, Suspension};
use crate::physics::{self, Distribution, PointLoad, RigLoads, SideLoads, TrailerLoads, TruckLoad};
use crate::units::Mass;

/// The trailer on its own, its bars loose.
#[derive(Clone, Debug)]
pub struct TrailerState {
    /// The trailer for statics.
    pub trailer: physics::Trailer,
    /// What stands on it.
    pub aboard: Vec<PointLoad>,
    /// Its loads.
    pub loads: TrailerLoads,
    /// What is missing to know how several axles share: they are then taken to act at their middle.
    pub sharing_lacks: Option<Lack>,
}

/// Truck and trailer coupled.
#[derive(Clone, Debug)]
pub struct RigState {
    /// All loads.
    pub loads: RigLoads,
    /// The sides of the trailer's axles.
    pub sides: Known<Vec<SideLoads>>,
    /// The truck's front axle without a trailer, with what is in the truck.
    pub front_alone: Mass,
    /// The truck's rear axle without a trailer, with what is in the truck.
    pub rear_alone: Mass,
}

impl TrailerState {
    /// Solves the trailer of a load.
    pub(super) fn of(load: &Load<'_>) -> Known<Self> {
        let trailer = load.trailer.clone()?;
        let owner = &trailer.owner;
        if owner.lost || trailer.axles.is_empty() {
            // A lost line may have been an axle.
            return Err(owner.lacks("axle").into());
        }
        let empty = trailer.empty.as_ref().ok_or_else(|| owner.lacks("empty"))?;
        let axles = trailer.axles.iter().map(|axle| {
            Ok(physics::TrailerAxle {
                station: load.reads.need(&axle.at, &axle.owner, "at")?,
                rate: load.reads.given(&axle.rate, &axle.owner, "rate")?,
                empty: load.reads.given(&axle.empty, &axle.owner, "empty")?,
                track: load.reads.given(&axle.track_width, &axle.owner, "track-width")?,
            })
        });
        let sharing_lacks = trailer.suspension.need(owner, "suspension").err().filter(|_| trailer.axles.len() > 1);
        let suspension = match trailer.suspension.or(Suspension::Equalized, owner, "suspension")? {
            Suspension::Equalized => physics::Suspension::Equalized,
            Suspension::Independent => {
                let held_at = match load.hitch() {
                    Ok(hitch) => load.reads.given(&hitch.height, &hitch.owner, "height")?,
                    Err(lack) => return Err(lack),
                };
                physics::Suspension::Independent {
                    level_at: load.reads.given(&trailer.level_at, owner, "level-at")?,
                    held_at,
                }
            }
        };
        let trailer = physics::Trailer {
            empty: physics::EmptyTrailer {
                tongue: load.reads.need(&trailer.empty_tongue, empty, "tongue")?,
                axles: load.reads.need(&trailer.empty_axles, empty, "axles")?,
            },
            axles: axles.collect::<Known<_>>()?,
            suspension,
        };
        let aboard = load
            .items
            .iter()
            .map(|item| item.placed.as_ref().map(physics::Placed::load).map_err(Clone::clone))
            .collect::<Known<Vec<_>>>()?;
        let loads = trailer.loads(&aboard).map_err(|error| Lack::contradiction(load.owner(), error))?;
        Ok(Self { trailer, aboard, loads, sharing_lacks: sharing_lacks.map(Lack::Entry) })
    }
}

impl RigState {
    /// Solves truck and trailer of a load.
    pub(super) fn of(load: &Load<'_>, still: &TrailerState) -> Known<Self> {
        let truck = load.truck.clone()?;
        let hitch = load.hitch()?;
        let (front, rear) = (load.truck_axle(End::Front)?, load.truck_axle(End::Rear)?);
        if truck.owner.lost {
            return Err(truck.owner.lacks("axle").into());
        }
        let statics = physics::Truck {
            front: load.reads.need(&front.weighed, &front.owner, "weighed")?,
            rear: load.reads.need(&rear.weighed, &rear.owner, "weighed")?,
            wheelbase: load.reads.need(&truck.wheelbase, &truck.owner, "wheelbase")?,
            overhang: load.reads.need(&hitch.behind_rear_axle, &hitch.owner, "behind-rear-axle")?,
        };
        let kind = hitch.kind.need(&hitch.owner, "kind")?;
        let distribution = match kind {
            HitchKind::WeightDistributing => {
                Distribution::Restores(load.reads.need(&hitch.restores, &hitch.owner, "restores")?)
            }
            HitchKind::Ball | HitchKind::Gooseneck | HitchKind::FifthWheel | HitchKind::Pintle => Distribution::None,
        };
        let in_truck = load
            .in_truck
            .iter()
            .map(|cargo| {
                Ok(TruckLoad {
                    weight: load.reads.need(&cargo.weight, &cargo.owner, "weight")?,
                    ahead: load.reads.need(&cargo.ahead_of_rear_axle, &cargo.owner, "ahead-of-rear-axle")?,
                })
            })
            .collect::<Known<Vec<_>>>()?;
        let wrong = |error| Lack::contradiction(load.owner(), error);
        let loads =
            physics::rig_loads(&still.trailer, &still.aboard, &statics, &in_truck, distribution).map_err(wrong)?;
        let alone = statics.loads(Mass::ZERO, crate::units::MassMoment::ZERO, &in_truck).map_err(wrong)?;
        let sides = sides(load, still, &loads.trailer, kind);
        Ok(Self { loads, sides, front_alone: alone.front, rear_alone: alone.rear })
    }
}

/// The sides of the trailer's axles. A fifth wheel takes part of the turning moment, so behind one they are only known of a load in the
/// middle.
fn sides(load: &Load<'_>, still: &TrailerState, loads: &TrailerLoads, kind: HitchKind) -> Known<Vec<SideLoads>> {
    let centred = still.aboard.iter().all(|one| one.left.si().abs() <= 0.0);
    if kind == HitchKind::FifthWheel && !centred {
        return Err(Lack::NotKnown {
            at: load.owner().at,
            owner: load.owner().path.clone(),
            why:
                "a fifth wheel takes part of the turning moment of a load off the middle: left and right are not known"
                    .into(),
        });
    }
    let sides = still.trailer.sides(loads, &still.aboard).map_err(|error| Lack::contradiction(load.owner(), error))?;
    sides.ok_or_else(|| {
        let lacking = load.trailer_axles().iter().find(|axle| axle.track_width.is_absent());
        match lacking {
            Some(axle) => axle.owner.lacks("track-width").into(),
            None => Lack::Entry(Missing { broken: true, ..load.owner().lacks("track-width") }),
        }
    })
}
