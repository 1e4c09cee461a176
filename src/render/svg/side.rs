//! The side view: truck, trailer and load to scale, what every axle carries, the tongue, and the centres of gravity.

use super::canvas::{Anchor, Canvas, Dash, Fill, MARGIN, Pen, apart};
use super::figures::{bounds, figure, length, value};
use super::places::{explained, may_stand, strips};
use super::texts::named;
use super::{letter, notes};
use crate::figures::drawn::{AxleSeen, Scene, TruckSeen};
use crate::mend::Picture;
use crate::render::bar::Shown;
use crate::units::Kind;

/// Radius of the wheels of truck and trailer, in m: no sheet gives it.
const WHEEL: f64 = 0.38;
/// What a truck reaches ahead of its front axle, in m: no sheet gives it.
const NOSE: f64 = 0.9;
/// The most that a metre is drawn with, in px.
const LARGEST: f64 = 90.0;
/// How long the longest bar under an axle is, in px.
const BAR: f64 = 56.0;

/// Where a place of the scene is on paper.
#[derive(Clone, Copy)]
pub(super) struct Scale {
    pub(super) left: f64,
    pub(super) from: f64,
    pub(super) ground: f64,
    pub(super) per_metre: f64,
}

impl Scale {
    pub(super) fn x(self, station: f64) -> f64 {
        self.left + (station - self.from) * self.per_metre
    }

    fn at(self, (station, up): (f64, f64)) -> (f64, f64) {
        (self.x(station), self.ground - up * self.per_metre)
    }

    fn all(self, points: &[(f64, f64)]) -> Vec<(f64, f64)> {
        points.iter().map(|point| self.at(*point)).collect()
    }
}

/// Draws it.
pub(super) fn draw(canvas: &mut Canvas, picture: &Picture) {
    canvas.heading("Side view");
    let scene = &picture.scene;
    let (scale, top) = scaled(canvas, scene);
    let scale = Scale { ground: canvas.y + top * scale.per_metre + 34.0, ..scale };
    ground(canvas, scale);
    truck(canvas, scene, scale);
    trailer(canvas, scene, scale);
    items(canvas, scene, scale);
    centres(canvas, scene, scale);
    let ball = scale.at((0.0, scene.trailer.ball.0));
    canvas.circle(ball, 3.0, Fill::Ink, Pen::THIN);
    // The way the coupler presses: up where the tongue lifts.
    let lifts = figure(picture, "trailer.tongue").and_then(|line| line.value).is_some_and(|tongue| tongue < 0.0);
    let (tail, head) = if lifts { (4.0, 30.0) } else { (30.0, 4.0) };
    canvas.arrow((ball.0, ball.1 - tail), (ball.0, ball.1 - head), 1.4);
    canvas.tag((ball.0, ball.1 - 36.0), "T");
    canvas.y = scale.ground + 10.0;
    bars(canvas, picture, scale);
    strips(canvas, picture, scale);
    canvas.y += 6.0;
    key(canvas, picture);
    let bars = "The bars under the axles hang down to what each is rated for; hatched is what it carries.";
    canvas.print(bars, false);
    explained(canvas, picture);
    let always = "the truck's body, the drawbar, and the wheels of truck and trailer, which no sheet gives";
    notes(canvas, always, &scene.side_notes);
}

/// The scale, and how high the picture reaches, in m.
fn scaled(canvas: &Canvas, scene: &Scene) -> (Scale, f64) {
    let mut from = scene.truck.front - NOSE;
    let (mut to, mut top) = (scene.trailer.deck.to, 1.9_f64);
    for axle in &scene.axles {
        to = to.max(axle.station + WHEEL);
    }
    for (station, up) in scene.items.iter().flat_map(|one| &one.side).flat_map(|shape| &shape.corners) {
        (from, to, top) = (from.min(*station), to.max(*station), top.max(*up));
    }
    for (station, up) in &scene.trailer.top {
        (to, top) = (to.max(*station), top.max(up + scene.trailer.walls.unwrap_or(0.0)));
    }
    let (from, to) = (from - 0.15, to + 0.15);
    let room = canvas.width - 2.0 * MARGIN;
    let per_metre = (room / (to - from).max(0.1)).min(LARGEST);
    let left = MARGIN + (room - per_metre * (to - from)) / 2.0;
    (Scale { left, from, ground: 0.0, per_metre }, top)
}

fn ground(canvas: &mut Canvas, scale: Scale) {
    let (from, to) = (MARGIN, canvas.width - MARGIN);
    canvas.line((from, scale.ground), (to, scale.ground), Pen { width: 1.4, dash: Dash::Solid });
    hatched(canvas, (from, scale.ground), to);
}

/// The strokes under a line of ground.
pub(super) fn hatched(canvas: &mut Canvas, (from, y): (f64, f64), to: f64) {
    canvas.rect((from, y), (to.max(from), y + 5.0), Fill::Rising, Pen { width: 0.0, dash: Dash::Solid });
}

fn truck(canvas: &mut Canvas, scene: &Scene, scale: Scale) {
    let TruckSeen { front, rear, aboard, .. } = &scene.truck;
    let (front, rear) = (*front, *rear);
    let tail = if scene.trailer.gooseneck { rear + 1.15 } else { (rear + 1.15).min(-0.12).max(rear + 0.45) };
    let cab = (rear - 1.0).max(front + 1.5);
    let body = [
        (front - NOSE, 0.45),
        (front - NOSE, 0.95),
        (front - NOSE + 0.15, 1.08),
        (front + 0.6, 1.18),
        (front + 1.15, 1.82),
        (cab - 0.1, 1.85),
        (cab, 1.25),
        (tail, 1.25),
        (tail, 0.5),
    ];
    canvas.polygon(&scale.all(&body), Fill::Paper, Pen::ASSUMED);
    for station in [front, rear] {
        wheel(canvas, scale, station);
    }
    for (_, station) in aboard {
        let at = scale.at((*station, 1.25));
        canvas.polygon(&[at, (at.0 - 4.0, at.1 - 8.0), (at.0 + 4.0, at.1 - 8.0)], Fill::Paper, Pen::PLAIN);
    }
}

fn wheel(canvas: &mut Canvas, scale: Scale, station: f64) {
    let centre = scale.at((station, WHEEL));
    canvas.circle(centre, WHEEL * scale.per_metre, Fill::Paper, Pen::ASSUMED);
    canvas.circle(centre, 1.5, Fill::Ink, Pen::THIN);
}

fn trailer(canvas: &mut Canvas, scene: &Scene, scale: Scale) {
    let trailer = &scene.trailer;
    let (from, ball) = (trailer.deck.from, trailer.ball.0);
    let height = trailer.top.first().map_or(ball, |(_, height)| *height);
    let neck = [(0.0, ball), (0.0, ball + 0.5), (from - 0.2, ball + 0.5), (from, height)];
    let straight = [(0.0, ball), (from, (height - 0.1).max(0.1))];
    let drawbar: &[(f64, f64)] = if trailer.gooseneck && from > 0.3 { &neck } else { &straight };
    canvas.polyline(&scale.all(drawbar), Pen { width: 1.6, dash: Dash::Short });
    for axle in scene.axles.iter().filter(|axle| !axle.of_truck) {
        wheel(canvas, scale, axle.station);
    }
    let pen = if trailer.height_given { Pen::THICK } else { Pen { width: 2.0, dash: Dash::Short } };
    canvas.polyline(&scale.all(&trailer.top), pen);
    if let (Some(walls), Some(front), Some(rear)) = (trailer.walls, trailer.top.first(), trailer.top.last()) {
        let corners = [*front, (front.0, front.1 + walls), (rear.0, rear.1 + walls), *rear];
        canvas.polygon(&scale.all(&corners), Fill::None, Pen::PLAIN);
    }
}

fn items(canvas: &mut Canvas, scene: &Scene, scale: Scale) {
    for item in &scene.items {
        let fill = match item.kind {
            "machine" => Fill::Rising,
            "bulk" => Fill::Stipple,
            _ => Fill::Level,
        };
        for shape in &item.side {
            canvas.polygon(&scale.all(&shape.corners), fill, Pen::of(shape.given));
        }
        for round in &item.wheels {
            canvas.circle(scale.at(round.at), round.radius * scale.per_metre, Fill::Paper, Pen::of(round.given));
        }
        if let Some([rear, front]) = item.tracks {
            canvas.line(scale.at(rear), scale.at(front), Pen { width: 4.0, dash: Dash::Solid });
        }
    }
    // Letters last, so that nothing covers them.
    for (at, item) in scene.items.iter().enumerate() {
        let points = || item.side.iter().flat_map(|shape| &shape.corners);
        let top = points().map(|point| point.1).fold(f64::NEG_INFINITY, f64::max);
        if !top.is_finite() {
            continue;
        }
        if item.carries {
            // Over it stands another: within it, near its front.
            let (low, high) =
                points().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), (_, up)| (low.min(*up), high.max(*up)));
            let (x, y) = scale.at((item.along.from, f64::midpoint(low, high)));
            canvas.tag((x + 12.0, y), &letter(at));
            continue;
        }
        // Not on the rim of a wall.
        let walls = scene.trailer.walls.zip(scene.trailer.top.first()).map(|(walls, (_, deck))| deck + walls);
        let above = walls.filter(|walls| top - 0.3 < *walls).map_or(top, |walls| walls.max(top));
        let middle = f64::midpoint(item.along.from, item.along.to);
        let high = points().filter(|point| point.1 >= top - 1e-6).map(|point| point.0);
        let (low, high) = high.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| (low.min(x), high.max(x)));
        let over = scale.at((middle.clamp(low, high.max(low)), above));
        canvas.tag((over.0, over.1 - 12.0), &letter(at));
    }
}

fn centres(canvas: &mut Canvas, scene: &Scene, scale: Scale) {
    let deck = scene.trailer.top.first().map_or(0.0, |(_, height)| *height);
    let whole = scale.at((scene.whole_centre.station, deck + 0.25));
    canvas.line(whole, (whole.0, scale.ground), Pen::AXIS);
    whole_sign(canvas, (whole.0, scale.ground));
    if let Some(centre) = scene.load_centre {
        let at = scale.at((centre.station, centre.height.unwrap_or(deck)));
        canvas.line(at, (at.0, scale.ground), Pen::AXIS);
        load_sign(canvas, at);
    }
}

/// The centre of gravity of the load: a quartered disc.
fn load_sign(canvas: &mut Canvas, (x, y): (f64, f64)) {
    let r = 6.0;
    canvas.circle((x, y), r, Fill::Paper, Pen::PLAIN);
    for (dx, dy) in [(-1.0, -1.0), (1.0, 1.0)] {
        // A quarter, its arc in short straight lines.
        let arc = (0..=6).map(|step| {
            let (sin, cos) = (f64::from(step) * std::f64::consts::FRAC_PI_2 / 6.0).sin_cos();
            (x + dx * r * cos, y + dy * r * sin)
        });
        let corners: Vec<(f64, f64)> = std::iter::once((x, y)).chain(arc).collect();
        canvas.polygon(&corners, Fill::Ink, Pen::THIN);
    }
}

/// The centre of gravity of trailer and load: a wedge under the ground that holds them in balance.
fn whole_sign(canvas: &mut Canvas, (x, y): (f64, f64)) {
    canvas.polygon(&[(x, y), (x - 6.0, y + 10.0), (x + 6.0, y + 10.0)], Fill::Paper, Pen::PLAIN);
}

/// The bars under the axles: the box is the rating, what fills it the load.
fn bars(canvas: &mut Canvas, picture: &Picture, scale: Scale) {
    let axles = &picture.scene.axles;
    let load = |axle: &AxleSeen| figure(picture, &axle.load).and_then(|line| line.value);
    let most = axles.iter().flat_map(|axle| axle.rating.into_iter().chain(load(axle))).fold(0.0, f64::max);
    let top = canvas.y + 4.0;
    let px = |weight: f64| if most > 0.0 { top + BAR * (weight / most).clamp(0.0, 1.0) } else { top };
    let widths = vec![19.0; axles.len()];
    let wanted: Vec<f64> = axles.iter().map(|axle| scale.x(axle.station)).collect();
    let tags = apart(&wanted, &widths, (MARGIN, canvas.width - MARGIN));
    for ((axle, x), (at, tag)) in axles.iter().zip(&wanted).zip(tags.iter().enumerate()) {
        let half = 5.0;
        let load = load(axle);
        if let Some(rating) = axle.rating {
            canvas.rect((x - half, top), (x + half, px(rating)), Fill::Paper, Pen::THIN);
        }
        if let Some(load) = load.filter(|load| *load > 0.0) {
            let within = axle.rating.map_or(load, |rating| load.min(rating));
            canvas.rect((x - half, top), (x + half, px(within)), Fill::Falling, Pen::THIN);
            if within < load {
                canvas.rect((x - half, px(within)), (x + half, px(load)), Fill::Crossed, Pen::PLAIN);
            }
        }
        if let Some(rating) = axle.rating {
            canvas.line(
                (x - half - 4.0, px(rating)),
                (x + half + 4.0, px(rating)),
                Pen { width: 1.8, dash: Dash::Solid },
            );
        }
        canvas.tag((*tag, top + BAR + 14.0), &(at + 1).to_string());
    }
    canvas.y = top + BAR + 26.0;
}

fn key(canvas: &mut Canvas, picture: &Picture) {
    let (scene, system) = (&picture.scene, picture.system);
    for (at, axle) in scene.axles.iter().enumerate() {
        let whose = named(if axle.of_truck { &scene.truck.name } else { &scene.trailer.name });
        let line = figure(picture, &axle.load);
        let mut said = format!("{whose}'s {} carries {}", axle.name, value(line, system));
        let shown = Shown { kind: Some(Kind::Mass), system, spread: None };
        match axle.rating {
            Some(rating) => {
                said = format!("{said} of its rating of {}", shown.text(rating));
                if let Some(over) =
                    line.and_then(|line| line.value).map(|load| load - rating).filter(|over| *over > 0.0)
                {
                    said = format!("{said}: {} over", shown.text(over));
                }
            }
            None => said.push_str("; its rating is not given"),
        }
        let bound = line.and_then(|line| line.at_most.as_ref());
        if let Some((most, rule)) = bound.filter(|(most, _)| axle.rating.is_none_or(|own| (own - most).abs() > 0.5)) {
            said = format!("{said}; {} allows {}", named(rule), shown.text(*most));
        }
        canvas.key(|canvas, spot| canvas.tag(spot, &(at + 1).to_string()), &said);
    }
    tongue(canvas, picture);
    let load_centre = scene.load_centre.map(|centre| {
        let behind = length(centre.station - scene.trailer.deck.from, system);
        let up = centre
            .height
            .map_or_else(|| "its height is not known".to_owned(), |up| format!("{} above ground", length(up, system)));
        format!("centre of gravity of the load: {behind} behind the deck's front edge, {up}")
    });
    if let Some(said) = load_centre {
        canvas.key(load_sign, &said);
    }
    let behind = length(scene.whole_centre.station, system);
    let said = format!("centre of gravity of trailer and load: {behind} behind the ball; how high is not known");
    canvas.key(|canvas, (x, y)| whole_sign(canvas, (x, y - 5.0)), &said);
    for (at, item) in scene.items.iter().enumerate() {
        let told = |what: &str| value(figure(picture, &format!("item[{}].{what}", item.name)), system);
        let (front, rear) = (told("front_gap"), told("rear_gap"));
        let mut said = format!("{}: {}; front gap {front}, rear gap {rear}", named(&item.name), told("weight"));
        if let Some(assumes) = figure(picture, &format!("item[{}].weight", item.name)).and_then(|line| line.assumes) {
            said = format!("{said}; {assumes}");
        }
        if let Some(may) = may_stand(picture, &item.name) {
            said = format!("{said}. {may}");
        }
        canvas.key(|canvas, spot| canvas.tag(spot, &letter(at)), &said);
    }
    if !scene.truck.aboard.is_empty() {
        let names: Vec<String> = scene.truck.aboard.iter().take(6).map(|(name, _)| named(name)).collect();
        let more = scene.truck.aboard.len().saturating_sub(names.len());
        let more = if more > 0 { format!(", and {more} more") } else { String::new() };
        let sign = |canvas: &mut Canvas, (x, y): (f64, f64)| {
            canvas.polygon(&[(x, y + 4.0), (x - 4.0, y - 4.0), (x + 4.0, y - 4.0)], Fill::Paper, Pen::PLAIN);
        };
        canvas.key(sign, &format!("in the truck: {}{more}", names.join(", ")));
    }
}

/// The tongue weight, its share, and the band that rules allow.
fn tongue(canvas: &mut Canvas, picture: &Picture) {
    let system = picture.system;
    let weight = value(figure(picture, "trailer.tongue"), system);
    let line = figure(picture, "trailer.tongue_share");
    let gross = value(figure(picture, "trailer.gross"), system);
    let mut said = format!("tongue weight {weight}, {} of the trailer's gross of {gross}", value(line, system));
    match line.and_then(|line| bounds(line, system)) {
        Some(bounds) => said = format!("{said}; the rules in force ask for {bounds}"),
        None => said.push_str("; no rule in force bounds its share"),
    }
    canvas.key(|canvas, spot| canvas.tag(spot, "T"), &said);
    let Some(line) = line else { return };
    let Some(now) = line.value.filter(|now| now.is_finite()) else { return };
    let bound = |at: &Option<(f64, std::sync::Arc<str>)>| at.as_ref().map(|(at, _)| *at);
    let (least, most) = (bound(&line.at_least), bound(&line.at_most));
    let end = [Some(now), least, most].into_iter().flatten().fold(0.05, f64::max) * 1.2;
    // A round number of percent.
    let end = (end * 20.0).ceil() / 20.0;
    let begin = (now.min(0.0) * 1.2 * 20.0).floor() / 20.0;
    let (from, to) = (MARGIN + 44.0, canvas.width - MARGIN - 44.0);
    let x = |share: f64| from + (to - from) * (share - begin) / (end - begin);
    let y = canvas.y + 18.0;
    let shown = Shown { kind: line.kind, system, spread: None };
    if least.is_some() || most.is_some() {
        let band = (x(least.unwrap_or(begin)), x(most.unwrap_or(end)));
        canvas.rect((band.0, y - 5.0), (band.1.max(band.0), y + 5.0), Fill::Falling, Pen::THIN);
        if let Some(least) = least {
            canvas.mark((band.0 - 4.0, y + 17.0), Anchor::End, &shown.text(least));
        }
        if let Some(most) = most {
            canvas.mark((band.1 + 4.0, y + 17.0), Anchor::Start, &shown.text(most));
        }
    }
    canvas.line((from, y), (to, y), Pen::THIN);
    for tick in [from, to] {
        canvas.line((tick, y - 4.0), (tick, y + 4.0), Pen::THIN);
    }
    let here = x(now);
    canvas.polygon(&[(here, y), (here - 4.0, y - 10.0), (here + 4.0, y - 10.0)], Fill::Ink, Pen::THIN);
    canvas.mark((from - 6.0, y + 4.0), Anchor::End, &shown.text(begin));
    canvas.mark((to + 6.0, y + 4.0), Anchor::Start, &shown.text(end));
    canvas.y = y + 22.0;
}
