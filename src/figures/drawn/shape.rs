//! A machine's outlines in its own frame: ahead of its datum, above the ground it stands on.

use super::assumed;
use crate::figures::deck::known;
use crate::figures::{Known, Lack, Load, OnDeck};
use crate::model::{Attachment, ItemKind, Machine, Outline, Slot, Underside};
use crate::units::Length;

/// A machine's outlines.
#[derive(Debug, Default)]
pub(super) struct Body {
    /// Those of the machine and of its attachments, each with whether its sizes are given.
    pub(super) shapes: Vec<(Vec<(f64, f64)>, bool)>,
    /// The lines under them.
    pub(super) undersides: Vec<Vec<(f64, f64)>>,
    /// Arm and radius of its wheels, and whether the radius is given.
    pub(super) wheels: Vec<(f64, f64, bool)>,
    /// The ends of its tracks.
    pub(super) tracks: Option<(f64, f64)>,
    /// From where to where it and each attachment reaches, and how wide it is where that is given.
    pub(super) plan: Vec<(f64, f64, Option<f64>)>,
    /// What is not given.
    pub(super) lacks: Vec<Lack>,
}

impl Body {
    /// A machine as it rides, attachments that ride lowered down on the deck, or as it climbs.
    pub(super) fn of(load: &Load<'_>, one: &OnDeck<'_>, machine: &Machine, rides: bool) -> Known<Self> {
        let outline = machine.outline.as_ref().ok_or_else(|| machine.owner.lacks("outline"))?;
        let front = outline.front.need(&outline.owner, "front")?.si();
        let rear = outline.rear.need(&outline.owner, "rear")?.si();
        let mut body = Self::default();
        let height = body.ask(&outline.height, outline, "height");
        let own = machine.underside.as_ref().and_then(|under| line(under, Some(rear), Some(front)));
        if own.is_none() {
            body.lacks.push(machine.owner.lacks("underside").into());
        }
        let given = height.is_some() && own.is_some();
        let top = height.unwrap_or(assumed::MACHINE_HEIGHT);
        let below = own.clone().unwrap_or_else(|| vec![(rear, assumed::UNDERSIDE), (front, assumed::UNDERSIDE)]);
        body.shapes.push((closed(&below, top), given));
        body.undersides.extend(own);
        let width = body.ask(&outline.width, outline, "width");
        body.plan.push((rear, front, width));
        body.stand(machine);
        for fit in one.fits() {
            let attachment = known(&fit.attachment, &load.yard.attachments, &fit.owner, "attachment")?;
            body.fit(attachment, (rear, front), top, rides);
        }
        Ok(body)
    }

    /// A length, or that it is not given.
    fn ask(&mut self, slot: &Slot<Length>, outline: &Outline, word: &'static str) -> Option<f64> {
        let given = slot.need(&outline.owner, word).map(Length::si);
        given.map_err(|missing| self.lacks.push(missing.into())).ok()
    }

    fn stand(&mut self, machine: &Machine) {
        if let Some(tracks) = &machine.tracks {
            self.tracks = tracks.contact_length.value().map(|length| (0.0, length.si()));
            return;
        }
        let axles = [(&machine.rear, Some(Length::ZERO)), (&machine.front, machine.wheelbase.value())];
        for (axle, arm) in axles {
            let (Some(axle), Some(arm)) = (axle, arm) else { continue };
            let radius = axle.wheel_radius.need(&axle.owner, "wheel-radius").map(Length::si);
            let radius = radius.map_err(|missing| self.lacks.push(missing.into())).ok();
            self.wheels.push((arm.si(), radius.unwrap_or(assumed::WHEEL_RADIUS), radius.is_some()));
        }
    }

    /// An attachment, as far as it reaches beyond the machine; one that does not is within its outline.
    fn fit(&mut self, attachment: &Attachment, (rear, front): (f64, f64), top: f64, rides: bool) {
        let Some(outline) = &attachment.outline else { return };
        let (ahead, behind) = (outline.front.value().map(Length::si), outline.rear.value().map(Length::si));
        let (from, to) = match (behind, ahead) {
            (Some(behind), Some(ahead)) => (behind, ahead),
            (None, Some(ahead)) if ahead > front => (front, ahead),
            (Some(behind), None) if behind < rear => (behind, rear),
            _ => return,
        };
        let height = self.ask(&outline.height, outline, "height");
        let width = outline.width.value().map(Length::si);
        if width.is_none() {
            self.lacks.push(outline.owner.lacks("width").into());
        }
        self.plan.push((from, to, width));
        let lowered = rides && attachment.lowers.value() == Some(true);
        let under = attachment.underside.as_ref().and_then(|under| line(under, behind, ahead));
        let below = match &under {
            Some(under) if !lowered => {
                // The part of it that lies beyond the machine.
                let within: Vec<(f64, f64)> =
                    under.iter().copied().filter(|(arm, _)| (from..=to).contains(arm)).collect();
                let level = within.first().map_or(assumed::UNDERSIDE, |(_, level)| *level);
                let last = within.last().map_or(level, |(_, level)| *level);
                std::iter::once((from, level)).chain(within).chain([(to, last)]).collect()
            }
            _ => {
                let level = if lowered { 0.0 } else { assumed::UNDERSIDE };
                vec![(from, level), (to, level)]
            }
        };
        let highest = below.iter().map(|(_, level)| *level).fold(0.0, f64::max);
        let tall = height.unwrap_or_else(|| (top * 0.4).max(highest + 0.2));
        self.shapes.push((closed(&below, tall.max(highest)), height.is_some()));
        self.undersides.extend(under);
    }
}

/// The closed outline over a line below.
fn closed(below: &[(f64, f64)], top: f64) -> Vec<(f64, f64)> {
    let (Some((rear, _)), Some((front, _))) = (below.first(), below.last()) else { return Vec::new() };
    below.iter().copied().chain([(*front, top), (*rear, top)]).collect()
}

/// An underside as a line from rear to front, carried out level to the ends; none where a part of it is not known.
fn line(under: &Underside, rear: Option<f64>, front: Option<f64>) -> Option<Vec<(f64, f64)>> {
    let mut points: Vec<(f64, f64)> = Vec::new();
    for part in &under.parts {
        let clearance = part.clearance.value()?.si();
        points.extend([(part.from.value()?.si(), clearance), (part.to.value()?.si(), clearance)]);
    }
    points.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (first, last) = (*points.first()?, *points.last()?);
    if let Some(rear) = rear.filter(|rear| *rear < first.0) {
        points.insert(0, (rear, first.1));
    }
    if let Some(front) = front.filter(|front| *front > last.0) {
        points.push((front, last.1));
    }
    points.dedup();
    Some(points)
}

/// The machine that an item is, if it is one.
pub(super) fn machine<'y>(load: &Load<'y>, one: &OnDeck<'y>) -> Option<&'y Machine> {
    match &one.item.kind {
        ItemKind::Machine(aboard) => load.yard.machines.get(aboard.machine.target?),
        ItemKind::Cargo(_) | ItemKind::Bulk(_) => None,
    }
}
