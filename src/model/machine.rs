//! Machines and attachments, in the machine's own frame.

use std::sync::Arc;

use super::{Contact, Entry, Owner, Ref, Slot};
use crate::units::{Length, Mass};

/// A machine. Arms run forward from its datum: the rear axle, or the rear end of the tracks' ground contact.
#[derive(Clone, Debug)]
pub struct Machine {
    /// Its id.
    pub id: Entry<Arc<str>>,
    /// Its node.
    pub owner: Owner,
    /// Front axle of a wheeled machine.
    pub front: Option<MachineAxle>,
    /// Rear axle of a wheeled machine.
    pub rear: Option<MachineAxle>,
    /// Between the axles.
    pub wheelbase: Slot<Length>,
    /// Weight of a tracked machine.
    pub weight: Slot<Mass>,
    /// Arm of its centre of gravity, given outright.
    pub cg_arm: Slot<Length>,
    /// Height of its centre of gravity.
    pub cg_height: Slot<Length>,
    /// Its centre of gravity left of its centre line.
    pub cg_left: Slot<Length>,
    /// The tracks of a tracked machine.
    pub tracks: Option<Tracks>,
    /// Between the wheel centres.
    pub track_width: Slot<Length>,
    /// What it stands on.
    pub contact: Slot<Contact>,
    /// Its extremities without attachments.
    pub outline: Option<Outline>,
    /// Its underside.
    pub underside: Option<Underside>,
    /// Where tie-downs attach.
    pub lash_points: Vec<LashPoint>,
    /// Attachments that were on when it was weighed.
    pub weighed_with: Vec<Ref>,
}

/// An axle of a machine.
#[derive(Clone, Debug)]
pub struct MachineAxle {
    /// Its node.
    pub owner: Owner,
    /// What it carries, as weighed.
    pub weighed: Slot<Mass>,
    /// Wheel radius.
    pub wheel_radius: Slot<Length>,
    /// Whether it drives.
    pub driven: Slot<bool>,
    /// Whether the parking brake acts on it.
    pub braked: Slot<bool>,
    /// Between the wheel centres.
    pub track_width: Slot<Length>,
}

/// Tracks.
#[derive(Clone, Debug)]
pub struct Tracks {
    /// Their node.
    pub owner: Owner,
    /// Length of the ground contact.
    pub contact_length: Slot<Length>,
    /// Between the track centres.
    pub gauge: Slot<Length>,
}

/// Extremities.
#[derive(Clone, Debug)]
pub struct Outline {
    /// Its node.
    pub owner: Owner,
    /// Foremost point ahead of the datum.
    pub front: Slot<Length>,
    /// Rearmost point ahead of the datum (so mostly negative).
    pub rear: Slot<Length>,
    /// Width.
    pub width: Slot<Length>,
    /// Height above the ground it stands on.
    pub height: Slot<Length>,
}

/// The underside.
#[derive(Clone, Debug)]
pub struct Underside {
    /// Its node.
    pub owner: Owner,
    /// Its parts, as written.
    pub parts: Vec<UndersidePart>,
}

/// A point or a flat span of an underside.
#[derive(Clone, Debug)]
pub struct UndersidePart {
    /// Its name.
    pub name: Entry<Arc<str>>,
    /// Its node.
    pub owner: Owner,
    /// Whether it is a flat span; else a point.
    pub flat: bool,
    /// Rear end ahead of the datum; a point's arm.
    pub from: Slot<Length>,
    /// Front end ahead of the datum; a point's arm.
    pub to: Slot<Length>,
    /// Above level ground.
    pub clearance: Slot<Length>,
}

/// A place on a machine or attachment where a tie-down attaches.
#[derive(Clone, Debug)]
pub struct LashPoint {
    /// Its id, of its machine or attachment.
    pub id: Entry<Arc<str>>,
    /// Its node.
    pub owner: Owner,
    /// Ahead of the datum.
    pub arm: Slot<Length>,
    /// Left of the centre line.
    pub left: Slot<Length>,
    /// Above the ground it stands on.
    pub height: Slot<Length>,
    /// Its rating.
    pub rating: Slot<Mass>,
}

/// An attachment.
#[derive(Clone, Debug)]
pub struct Attachment {
    /// Its id.
    pub id: Entry<Arc<str>>,
    /// Its node.
    pub owner: Owner,
    /// Weight.
    pub weight: Slot<Mass>,
    /// Where its centre of gravity sits, for any machine or for one.
    pub arms: Vec<Arm>,
    /// Its extremities in the machine's frame.
    pub outline: Option<Outline>,
    /// Its underside.
    pub underside: Option<Underside>,
    /// Whether it rides lowered.
    pub lowers: Slot<bool>,
    /// Where tie-downs attach.
    pub lash_points: Vec<LashPoint>,
}

/// An attachment's arm in a machine's frame.
#[derive(Clone, Debug)]
pub struct Arm {
    /// The only machine it holds for; none means any.
    pub machine: Option<Ref>,
    /// Ahead of the machine's datum.
    pub arm: Slot<Length>,
}
