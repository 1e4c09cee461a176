//! The top view: the deck, what stands on it, anchors, and tie-downs by what each counts.

use super::canvas::{Anchor, Canvas, Dash, Fill, MARGIN, Pen};
use super::figures::{figure, share, value};
use super::texts::{named, shortened};
use super::{letter, notes};
use crate::figures::drawn::{ItemSeen, Strip, Tieing};
use crate::mend::Picture;

/// The most that a metre is drawn with, in px.
const LARGEST: f64 = 140.0;

/// Where a place of the deck is on paper: the front at the left, so that the left side is below.
#[derive(Clone, Copy)]
struct Scale {
    left: f64,
    from: f64,
    middle: f64,
    per_metre: f64,
}

impl Scale {
    fn at(self, (station, left): (f64, f64)) -> (f64, f64) {
        (self.left + (station - self.from) * self.per_metre, self.middle + left * self.per_metre)
    }
}

/// Draws it.
pub(super) fn draw(canvas: &mut Canvas, picture: &Picture) {
    canvas.heading("Top view");
    let scene = &picture.scene;
    let (deck, (width, given)) = (scene.trailer.deck, scene.trailer.width);
    let patches = || scene.items.iter().flat_map(|item| &item.plan);
    let lines = || scene.items.iter().flat_map(|item| &item.held.ties).flat_map(|tie| &tie.line);
    let anchors = scene.trailer.anchors.iter().map(|anchor| &anchor.at);
    let mut along = Strip { from: deck.from - 0.5, to: deck.to };
    let mut across = Strip { from: -width / 2.0, to: width / 2.0 };
    for patch in patches() {
        along = Strip { from: along.from.min(patch.along.from), to: along.to.max(patch.along.to) };
        across = Strip { from: across.from.min(patch.across.from), to: across.to.max(patch.across.to) };
    }
    for (station, left) in anchors.chain(lines()) {
        along = Strip { from: along.from.min(*station), to: along.to.max(*station) };
        across = Strip { from: across.from.min(*left), to: across.to.max(*left) };
    }
    let room = canvas.width - 2.0 * MARGIN;
    let long = (along.to - along.from + 0.2).max(0.1);
    let per_metre = (room / long).min(LARGEST);
    let top = canvas.y + 18.0;
    let scale = Scale {
        left: MARGIN + (room - long * per_metre) / 2.0,
        from: along.from - 0.1,
        middle: top - across.from * per_metre,
        per_metre,
    };
    canvas.mark((scale.at((deck.from, 0.0)).0, top - 6.0), Anchor::Start, "right side");
    let neck = scale.at((deck.from, 0.0));
    canvas.arrow(neck, (scale.at((along.from, 0.0)).0, neck.1), 1.2);
    let corners = [(deck.from, -width / 2.0), (deck.to, width / 2.0)].map(|at| scale.at(at));
    canvas.rect(
        corners[0],
        corners[1],
        Fill::Paper,
        if given { Pen { width: 1.8, ..Pen::PLAIN } } else { Pen::ASSUMED },
    );
    for item in &scene.items {
        outline(canvas, item, scale);
    }
    for anchor in &scene.trailer.anchors {
        let (x, y) = scale.at(anchor.at);
        canvas.rect((x - 3.0, y - 3.0), (x + 3.0, y + 3.0), Fill::Paper, Pen::PLAIN);
    }
    for item in &scene.items {
        for tie in &item.held.ties {
            let points: Vec<(f64, f64)> = tie.line.iter().map(|at| scale.at(*at)).collect();
            if points.len() > 1 {
                canvas.polyline(&points, pen(tie));
            }
        }
    }
    for (at, item) in scene.items.iter().enumerate() {
        centre(canvas, picture, (at, item), scale);
    }
    canvas.y = scale.middle + across.to * per_metre + 16.0;
    canvas.mark((scale.at((deck.from, 0.0)).0, canvas.y), Anchor::Start, "left side");
    canvas.y += 6.0;
    key(canvas, picture);
}

fn outline(canvas: &mut Canvas, item: &ItemSeen, scale: Scale) {
    let fill = match item.kind {
        "machine" => Fill::Rising,
        "bulk" => Fill::Stipple,
        _ => Fill::Level,
    };
    for patch in &item.plan {
        let (from, to) = (scale.at((patch.along.from, patch.across.from)), scale.at((patch.along.to, patch.across.to)));
        canvas.polygon(&[from, (to.0, from.1), to, (from.0, to.1)], fill, Pen::of(patch.given));
    }
    // Which way its nose points: a wedge within its foremost end.
    if let (Some(ahead), Some(body)) = (item.nose_ahead, item.plan.first()) {
        let (tip, way) = if ahead { (body.along.from, 1.0) } else { (body.along.to, -1.0) };
        let (x, y) = scale.at((tip, f64::midpoint(body.across.from, body.across.to)));
        canvas.polygon(
            &[(x + way * 2.0, y), (x + way * 12.0, y - 6.0), (x + way * 12.0, y + 6.0)],
            Fill::Paper,
            Pen::PLAIN,
        );
    }
}

/// An item's letter, and the arrow of the direction in which least is held.
fn centre(canvas: &mut Canvas, picture: &Picture, (at, item): (usize, &ItemSeen), scale: Scale) {
    let mut spot = scale.at((item.centre.station, item.centre.left));
    if let Some(patch) = item.plan.first().filter(|_| item.carries) {
        // Over its middle stands another: near its front corner.
        let corner = scale.at((patch.along.from, patch.across.to));
        spot = (corner.0 + 11.0, corner.1 - 11.0);
    }
    if let Some((toward, least)) = &item.held.weakest {
        let (dx, dy) = match &**toward {
            "forward" => (-1.0, 0.0),
            "rearward" => (1.0, 0.0),
            "to the left" => (0.0, 1.0),
            _ => (0.0, -1.0),
        };
        let tip = (spot.0 + dx * 34.0, spot.1 + dy * 34.0);
        canvas.arrow(spot, tip, 2.4);
        let (place, anchor) = match (dx < 0.0, dx > 0.0) {
            (true, _) => ((tip.0 - 3.0, tip.1 - 6.0), Anchor::Middle),
            (_, true) => ((tip.0 + 3.0, tip.1 - 6.0), Anchor::Middle),
            _ => ((tip.0 + 8.0, tip.1 + if dy > 0.0 { 0.0 } else { 8.0 }), Anchor::Start),
        };
        canvas.mark(place, anchor, &share(*least, picture.system));
    }
    canvas.tag(spot, &letter(at));
}

/// The line of a tie: the more it counts for, the thicker and the longer its dashes.
fn pen(tie: &Tieing) -> Pen {
    match tie.share {
        Some(share) => weight(share),
        None => Pen { width: 1.2, dash: Dash::Axis },
    }
}

fn weight(share: f64) -> Pen {
    let dash = if share >= 0.4 {
        Dash::Solid
    } else if share >= 0.2 {
        Dash::Long
    } else {
        Dash::Dots
    };
    Pen { width: 1.4 + 4.0 * share.clamp(0.0, 1.0), dash }
}

fn key(canvas: &mut Canvas, picture: &Picture) {
    let scene = &picture.scene;
    for (at, item) in scene.items.iter().enumerate() {
        canvas.key(|canvas, spot| canvas.tag(spot, &letter(at)), &held(picture, item));
    }
    let ties = || scene.items.iter().flat_map(|item| &item.held.ties);
    let sample =
        |pen: Pen| move |canvas: &mut Canvas, (x, y): (f64, f64)| canvas.line((x - 10.0, y), (x + 14.0, y), pen);
    for (low, high, text) in [
        (0.4, f64::INFINITY, "counts for 40 % or more"),
        (0.2, 0.4, "counts for 20 % to 40 %"),
        (0.0, 0.2, "counts for less than 20 %"),
    ] {
        if ties().any(|tie| tie.share.is_some_and(|share| (low..high).contains(&share))) {
            canvas.key(
                sample(weight(low + 0.1)),
                &format!("a tie-down entry that {text} of its item's working load limits"),
            );
        }
    }
    if ties().any(|tie| tie.share.is_none() && !tie.line.is_empty()) {
        canvas.key(
            sample(Pen { width: 1.2, dash: Dash::Axis }),
            "a tie-down entry that secures an attachment, or whose working load limit is not known: it does not count toward the sum",
        );
    }
    if scene.items.iter().any(|item| item.held.weakest.is_some()) {
        let sign = |canvas: &mut Canvas, (x, y): (f64, f64)| canvas.arrow((x - 10.0, y), (x + 12.0, y), 2.4);
        canvas.key(sign, "the direction in which least is held, in parts of the item's weight, at working load limits");
    }
    if !scene.trailer.anchors.is_empty() {
        let sign = |canvas: &mut Canvas, (x, y): (f64, f64)| {
            canvas.rect((x - 3.0, y - 3.0), (x + 3.0, y + 3.0), Fill::Paper, Pen::PLAIN);
        };
        canvas.key(sign, "an anchor of the deck");
    }
    canvas.print("The truck is to the left, where the arrow points.", false);
    notes(canvas, "", &scene.top_notes);
}

/// How an item is held, in words.
fn held(picture: &Picture, item: &ItemSeen) -> String {
    let system = picture.system;
    let (name, held) = (named(&item.name), &item.held);
    if held.ties.is_empty() {
        return format!("{name}: no tie-downs");
    }
    let mut said = match (&held.weakest, &held.unknown) {
        (Some((toward, least)), _) => {
            let [forward, rearward, sideways] =
                held.holds.map(|one| one.map_or_else(String::new, |one| share(one, system)));
            let governs =
                held.governs.as_deref().map(|tie| format!(", where {} governs", named(tie))).unwrap_or_default();
            format!(
                "{name}: held least {toward}, {} of its weight{governs} (forward {forward}, rearward {rearward}, sideways {sideways})",
                share(*least, system)
            )
        }
        (None, Some(why)) => {
            format!("{name}: in which direction least is held is not known ({})", shortened(why, 160))
        }
        (None, None) => name,
    };
    let sum = figure(picture, &format!("tie[{}].wll_total", item.name));
    if sum.is_some_and(|sum| sum.value.is_some()) {
        said = format!("{said}; its tie-downs count {} together", value(sum, system));
    }
    let one = |tie: &Tieing| {
        let count = if tie.count == 1 { String::new() } else { format!("{} x ", tie.count) };
        let from = tie.from.as_deref().map(|from| format!(" at {}", named(from))).unwrap_or_default();
        let part = match (&tie.fit, tie.share) {
            (Some(fit), _) => format!(" on its {}", named(fit)),
            (None, Some(part)) => format!(" {}", share(part, system)),
            (None, None) => String::new(),
        };
        format!("{count}{}{from}{part}", named(&tie.name))
    };
    let ties: Vec<String> = held.ties.iter().take(12).map(one).collect();
    let more = held.ties.len().saturating_sub(ties.len());
    let more = if more > 0 { format!(", and {more} more") } else { String::new() };
    format!("{said}: {}{more}", ties.join(", "))
}
