//! The loading view: each machine on its way up, where its underside comes nearest to ramp, deck or ground.

use super::canvas::{Anchor, Canvas, Dash, Fill, MARGIN, Pen, SMALL, apart};
use super::figures::{figure, length, value};
use super::notes;
use super::side::hatched;
use super::texts::{named, shortened, wide};
use crate::figures::drawn::{ClimbSeen, ClimbStanding};
use crate::mend::Picture;

/// The most that a metre is drawn with, in px.
const LARGEST: f64 = 120.0;
/// How much of the deck is shown ahead of the machine, in m.
const AHEAD: f64 = 0.6;

/// The corners of the way up.
#[derive(Clone, Copy)]
struct Way {
    foot: (f64, f64),
    edge: (f64, f64),
    top: Option<(f64, f64)>,
    front: (f64, f64),
}

/// Where a place of the climb is on paper: the truck is at the left, as in the other views.
#[derive(Clone, Copy)]
struct Scale {
    left: f64,
    most: f64,
    ground: f64,
    per_metre: f64,
}

impl Scale {
    fn at(self, (ahead, up): (f64, f64)) -> (f64, f64) {
        (self.left + (self.most - ahead) * self.per_metre, self.ground - up * self.per_metre)
    }

    fn all(self, points: &[(f64, f64)]) -> Vec<(f64, f64)> {
        points.iter().map(|point| self.at(*point)).collect()
    }
}

/// Draws it, machine by machine.
pub(super) fn draw(canvas: &mut Canvas, picture: &Picture) {
    if picture.scene.climbs.is_empty() {
        canvas.heading("Loading view");
        canvas.print("No machine is driven onto this deck.", true);
        return;
    }
    for climb in &picture.scene.climbs {
        canvas.heading(&format!("Loading view, {}", named(&climb.item)));
        let mut labels = Labels::default();
        if let Some([Some(foot), Some(edge), top, Some(front)]) = climb.way {
            let scale = way(canvas, climb, Way { foot, edge, top, front });
            if climb.ramp || foot != edge {
                labels.add(scale.at(foot), "foot".to_owned());
            }
            labels.add(scale.at(edge), "crest".to_owned());
            if let Some(top) = top {
                labels.add(scale.at(top), "dovetail top".to_owned());
            }
            if let Some(standing) = &climb.standing {
                machine(canvas, standing, scale);
                let least = length(standing.clearance, picture.system);
                labels.add(scale.at(standing.gap[0]), format!("gap {least}"));
            }
            canvas.y = scale.at((0.0, climb.ground.min(0.0))).1 + 8.0;
            labels.draw(canvas);
        }
        key(canvas, picture, climb);
    }
}

/// The ground, the ramp and the deck.
fn way(canvas: &mut Canvas, climb: &ClimbSeen, Way { foot, edge, top, front }: Way) -> Scale {
    let mut most = top.map_or(edge.0, |top| top.0);
    let (mut least, mut high) = (foot.0 - 0.8, edge.1);
    if let Some(standing) = &climb.standing {
        let wheels = standing.wheels.iter().flat_map(|wheel| {
            let (x, z) = wheel.at;
            [(x - wheel.radius, z), (x + wheel.radius, z)]
        });
        let points = standing.shapes.iter().flat_map(|shape| shape.corners.iter().copied());
        for (x, z) in points.chain(standing.undersides.iter().flatten().copied()).chain(wheels) {
            (most, least, high) = (most.max(x), least.min(x), high.max(z));
        }
    }
    let most = (most + AHEAD).min(front.0.max(most + 0.1));
    let least = least - 0.2;
    // The deck as far as it is shown.
    let mut line = vec![edge];
    line.extend(top);
    let last = line.last().copied().unwrap_or(edge);
    let run = front.0 - last.0;
    let part = if run > 1e-9 { ((most - last.0) / run).clamp(0.0, 1.0) } else { 0.0 };
    let end = (last.0 + run * part, last.1 + (front.1 - last.1) * part);
    line.push(end);
    high = high.max(end.1);
    let room = canvas.width - 2.0 * MARGIN;
    let per_metre = (room / (most - least).max(0.1)).min(LARGEST);
    let scale = Scale {
        left: MARGIN + (room - (most - least) * per_metre) / 2.0,
        most,
        ground: canvas.y + 10.0 + high * per_metre,
        per_metre,
    };
    let (left, right) = (scale.at((most, 0.0)).0, scale.at((least, 0.0)).0);
    let at_foot = scale.at((foot.0, climb.ground));
    let under = scale.at((foot.0, 0.0));
    let pen = Pen { width: 1.4, dash: Dash::Solid };
    canvas.line((left, under.1), under, pen);
    hatched(canvas, (left, under.1), under.0);
    canvas.line(under, at_foot, pen);
    canvas.line(at_foot, (right, at_foot.1), pen);
    hatched(canvas, at_foot, right);
    canvas.polyline(&scale.all(&line), Pen { width: 3.2, dash: Dash::Solid });
    if climb.ramp {
        canvas.line(scale.at(foot), scale.at(edge), Pen { width: 2.2, dash: Dash::Solid });
    }
    scale
}

fn machine(canvas: &mut Canvas, standing: &ClimbStanding, scale: Scale) {
    for shape in &standing.shapes {
        // No white under it: where it drags, the way must show through.
        canvas.polyline(&closed(&scale.all(&shape.corners)), Pen::of(shape.given));
    }
    for under in &standing.undersides {
        canvas.polyline(&scale.all(under), Pen { width: 2.0, dash: Dash::Solid });
    }
    for wheel in &standing.wheels {
        canvas.circle(scale.at(wheel.at), wheel.radius * scale.per_metre, Fill::None, Pen::of(wheel.given));
        canvas.circle(scale.at(wheel.at), 1.5, Fill::Ink, Pen::THIN);
    }
    if let Some([rear, front]) = standing.tracks {
        canvas.line(scale.at(rear), scale.at(front), Pen { width: 5.0, dash: Dash::Dots });
    }
    let [low, high] = standing.gap.map(|at| scale.at(at));
    canvas.line(low, high, Pen::PLAIN);
    // Two arrows that meet the gap's ends from outside: it may be a hair wide.
    let up = high.1.min(low.1);
    canvas.arrow((low.0, up - 26.0), (low.0, up), 1.2);
    canvas.circle(low, 4.5, Fill::None, Pen { width: 1.6, dash: Dash::Solid });
}

fn closed(points: &[(f64, f64)]) -> Vec<(f64, f64)> {
    points.iter().chain(points.first()).copied().collect()
}

/// Words under the drawing with lines that lead to what they name.
#[derive(Default)]
struct Labels(Vec<((f64, f64), String)>);

impl Labels {
    fn add(&mut self, at: (f64, f64), text: String) {
        self.0.push((at, text));
    }

    fn draw(&self, canvas: &mut Canvas) {
        let wanted: Vec<f64> = self.0.iter().map(|(at, _)| at.0).collect();
        let widths: Vec<f64> = self.0.iter().map(|(_, text)| wide(text, SMALL) + 10.0).collect();
        let places = apart(&wanted, &widths, (MARGIN, canvas.width - MARGIN));
        let y = canvas.y + 24.0;
        for ((at, text), x) in self.0.iter().zip(places) {
            canvas.polyline(&[(at.0, at.1 + 3.0), (at.0, y - 22.0), (x, y - 12.0)], Pen::THIN);
            canvas.mark((x, y), Anchor::Middle, text);
        }
        canvas.y = y + 6.0;
    }
}

fn key(canvas: &mut Canvas, picture: &Picture, climb: &ClimbSeen) {
    let system = picture.system;
    if let Some(standing) = &climb.standing {
        let lead = length(standing.lead.abs(), system);
        let side = if standing.lead >= 0.0 { "past" } else { "short of" };
        let drags = if standing.clearance < 0.0 { ": it drags" } else { "" };
        let line = figure(picture, &format!("loading[{}].clearance", climb.item));
        let wanted = line.and_then(|line| line.at_least.as_ref());
        let wanted = wanted.map(|(at, rule)| format!("; {} asks for {} at least", named(rule), length(*at, system)));
        let said = format!(
            "least gap on the way up {}{drags}, under its {} at {}, its leading end {lead} {side} the deck's rear edge{}",
            length(standing.clearance, system),
            named(&standing.part),
            standing.spot,
            wanted.unwrap_or_default()
        );
        let sign = |canvas: &mut Canvas, (x, y): (f64, f64)| {
            canvas.circle((x, y), 4.5, Fill::None, Pen { width: 1.6, dash: Dash::Solid });
        };
        canvas.key(sign, &said);
        if let Some(open) = &standing.open {
            canvas.print(&format!("It can be less: {} is not given.", shortened(open, 120)), true);
        }
    }
    if let Some(line) =
        figure(picture, &format!("loading[{}].ramp_angle", climb.item)).filter(|line| line.value.is_some())
    {
        let what = if climb.ramp { "the ramp" } else { "the tilted deck" };
        let said = format!("{what} stands at {}", value(Some(line), system));
        let sign = |canvas: &mut Canvas, (x, y): (f64, f64)| {
            canvas.line((x + 9.0, y + 4.0), (x - 9.0, y - 4.0), Pen { width: 2.2, dash: Dash::Solid });
        };
        canvas.key(sign, &said);
    }
    if let Some(missing) = &climb.missing {
        let what = if climb.way.is_some() { "The machine is" } else { "The way up is" };
        canvas.print(&format!("{what} not drawn for want of {}.", shortened(missing, 160)), true);
    }
    notes(canvas, "", &climb.notes);
}
