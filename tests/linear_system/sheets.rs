//! Random jobs written as sheets, every number in a unit of its own, with the same numbers in SI beside them.

use std::fmt::Write as _;

use draylint::physics::{
    Distribution, EmptyTrailer, PointLoad, Suspension, Trailer, TrailerAxle, Truck, TruckLoad,
};
use draylint::units::{Length, Mass, Share, Stiffness};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;

use crate::rig_samples::Rig;

/// A job: its sheet, and what the generator knows of it.
#[derive(Clone, Debug)]
pub(crate) struct Job {
    pub(crate) text: String,
    pub(crate) rig: Rig,
    pub(crate) items: Vec<Standing>,
    pub(crate) tires_a_side: u32,
}

/// An item in its place, in SI.
#[derive(Clone, Debug)]
pub(crate) struct Standing {
    pub(crate) name: String,
    pub(crate) weight: f64,
    /// Behind the deck's front edge.
    pub(crate) cg: f64,
    pub(crate) left: f64,
    pub(crate) front_gap: f64,
    pub(crate) rear_gap: f64,
}

/// A number as it is written, and in SI.
#[derive(Clone, Debug)]
struct Num {
    text: String,
    si: f64,
}

/// Units with their factors, written here a second time from the definitions: international yard and pound (1959),
/// standard gravity (CGPM 1901).
const MASSES: [(&str, f64); 4] = [("lb", 0.453_592_37), ("kg", 1.0), ("t", 1000.0), ("ton", 907.184_74)];
const LENGTHS: [(&str, f64); 6] =
    [("in", 0.0254), ("ft", 0.3048), ("mm", 0.001), ("cm", 0.01), ("m", 1.0), ("yd", 0.9144)];
const RATES: [(&str, f64); 4] = [
    ("\"lbf/in\"", 0.453_592_37 * 9.806_65 / 0.0254),
    ("\"N/mm\"", 1000.0),
    ("\"kN/m\"", 1000.0),
    ("\"kgf/mm\"", 9806.65),
];

/// A number between two SI values, rounded in a unit of its own.
fn num(units: &'static [(&'static str, f64)], low: f64, high: f64) -> impl Strategy<Value = Num> {
    (low..high, 0..units.len()).prop_map(move |(si, at)| written(units[at], si))
}

fn written((symbol, factor): (&str, f64), si: f64) -> Num {
    let steps = if factor > 10.0 { 1e5 } else { 1e3 };
    let value = (si / factor * steps).round() / steps;
    Num { text: format!("({symbol}){value}"), si: value * factor }
}

fn mass(low: f64, high: f64) -> impl Strategy<Value = Num> {
    num(&MASSES, low, high)
}

fn length(low: f64, high: f64) -> impl Strategy<Value = Num> {
    num(&LENGTHS, low, high)
}

/// Where the tape was held: the deck's front edge, or its rear edge.
#[derive(Clone, Debug)]
struct Tape {
    front: bool,
    gap: Num,
    left: Option<Num>,
}

impl Tape {
    fn text(&self) -> String {
        let word = if self.front { "front-gap" } else { "rear-gap" };
        let left = self.left.as_ref().map_or_else(String::new, |left| format!(" left={}", left.text));
        format!("{word}={}{left}", self.gap.text)
    }

    /// Station behind the deck's front edge of the foremost point of something so long.
    fn foremost(&self, deck: f64, long: f64) -> f64 {
        if self.front { self.gap.si } else { deck - self.gap.si - long }
    }

    fn left(&self) -> f64 {
        self.left.as_ref().map_or(0.0, |left| left.si)
    }
}

fn tape() -> impl Strategy<Value = Tape> {
    (any::<bool>(), length(-0.4, 3.5), option::of(length(-0.4, 0.4)))
        .prop_map(|(front, gap, left)| Tape { front, gap, left })
}

/// An attachment; every machine may carry it, some with an arm of their own for it.
#[derive(Clone, Debug)]
struct Tool {
    weight: Num,
    arm: Num,
    arm_on_first: Option<Num>,
    front: Option<Num>,
    rear: Option<Num>,
}

fn tool() -> impl Strategy<Value = Tool> {
    let reach = (option::of(length(1.2, 3.4)), option::of(length(-2.5, -1.0)));
    (mass(30.0, 200.0), length(-1.5, 2.5), option::of(length(-1.5, 2.5)), reach)
        .prop_map(|(weight, arm, arm_on_first, (front, rear))| Tool { weight, arm, arm_on_first, front, rear })
}

impl Tool {
    fn text(&self, at: usize, machines: usize) -> String {
        let mut text = format!("attachment \"tool-{at}\" {{\n    weight {}\n", self.weight.text);
        if let Some(arm) = self.arm_on_first.as_ref().filter(|_| machines > 0) {
            let _ = writeln!(text, "    arm {} for=\"unit-0\"", arm.text);
        }
        let _ = writeln!(text, "    arm {}", self.arm.text);
        if self.front.is_some() || self.rear.is_some() {
            text.push_str("    outline");
            for (word, value) in [("front", &self.front), ("rear", &self.rear)] {
                if let Some(value) = value {
                    let _ = write!(text, " {word}={}", value.text);
                }
            }
            text.push('\n');
        }
        text.push_str("}\n");
        text
    }

    fn arm(&self, machine: usize) -> f64 {
        self.arm_on_first.as_ref().filter(|_| machine == 0).unwrap_or(&self.arm).si
    }
}

#[derive(Clone, Debug)]
enum Weighed {
    Axles { front: Num, rear: Num, wheelbase: Num },
    Tracks { weight: Num, arm: Num },
}

/// A machine on the deck.
#[derive(Clone, Debug)]
struct Unit {
    weighed: Weighed,
    cg_left: Option<Num>,
    front: Num,
    rear: Num,
    weighed_with: Vec<usize>,
    fits: Vec<usize>,
    backward: bool,
    tape: Tape,
}

const TOOLS: usize = 3;

fn unit() -> impl Strategy<Value = Unit> {
    let weighed = prop_oneof![
        (mass(500.0, 2500.0), mass(500.0, 2500.0), length(0.9, 1.45))
            .prop_map(|(front, rear, wheelbase)| Weighed::Axles { front, rear, wheelbase }),
        (mass(900.0, 4000.0), length(0.3, 1.4)).prop_map(|(weight, arm)| Weighed::Tracks { weight, arm }),
    ];
    let outline = (length(1.5, 2.8), length(-1.6, -0.2));
    let tools = || proptest::sample::subsequence((0..TOOLS).collect::<Vec<_>>(), 0..=2);
    (weighed, option::of(length(-0.2, 0.2)), outline, tools(), tools(), any::<bool>(), tape()).prop_map(
        |(weighed, cg_left, (front, rear), weighed_with, fits, backward, tape)| Unit {
            weighed,
            cg_left,
            front,
            rear,
            weighed_with,
            fits,
            backward,
            tape,
        },
    )
}

impl Unit {
    fn text(&self, at: usize) -> String {
        let mut text = format!("machine \"unit-{at}\" {{\n");
        match &self.weighed {
            Weighed::Axles { front, rear, wheelbase } => {
                let _ = writeln!(text, "    axle \"front\" weighed={}", front.text);
                let _ = writeln!(text, "    axle \"rear\" weighed={}", rear.text);
                let _ = writeln!(text, "    wheelbase {}", wheelbase.text);
            }
            Weighed::Tracks { weight, arm } => {
                let _ = writeln!(text, "    weight {}\n    cg arm={}", weight.text, arm.text);
                text.push_str("    tracks contact-length=(m)1.5 gauge=(m)1.2\n");
            }
        }
        if let Some(left) = &self.cg_left {
            let _ = writeln!(text, "    cg-left {}", left.text);
        }
        for tool in &self.weighed_with {
            let _ = writeln!(text, "    weighed-with \"tool-{tool}\"");
        }
        let _ = writeln!(text, "    outline front={} rear={}\n}}", self.front.text, self.rear.text);
        text
    }

    fn aboard(&self, at: usize) -> String {
        let facing = if self.backward { "backward" } else { "forward" };
        let fits: Vec<String> = self.fits.iter().map(|tool| format!("fit \"tool-{tool}\"")).collect();
        let fits = if fits.is_empty() { String::new() } else { format!(" {{ {}; }}", fits.join("; ")) };
        format!("    machine \"unit-{at}\" facing=\"{facing}\" {}{fits}\n", self.tape.text())
    }

    /// Where it stands: weights at points, those that were only on the scale with it below zero.
    fn standing(&self, at: usize, tools: &[Tool], deck: f64) -> Standing {
        let mut points = match &self.weighed {
            Weighed::Axles { front, rear, wheelbase } => vec![(front.si, wheelbase.si), (rear.si, 0.0)],
            Weighed::Tracks { weight, arm } => vec![(weight.si, arm.si)],
        };
        let ticket: f64 = points.iter().map(|point| point.0).sum();
        points.extend(self.weighed_with.iter().map(|tool| (-tools[*tool].weight.si, tools[*tool].arm(at))));
        points.extend(self.fits.iter().map(|tool| (tools[*tool].weight.si, tools[*tool].arm(at))));
        let weight: f64 = points.iter().map(|point| point.0).sum();
        let arm = points.iter().map(|(weight, arm)| weight * arm).sum::<f64>() / weight;
        let left = ticket * self.cg_left.as_ref().map_or(0.0, |left| left.si) / weight;
        let ends = |own: f64, end: fn(&Tool) -> Option<&Num>, pick: fn(f64, f64) -> f64| {
            self.fits.iter().filter_map(|tool| end(&tools[*tool])).map(|end| end.si).fold(own, pick)
        };
        let front = ends(self.front.si, |tool| tool.front.as_ref(), f64::max);
        let rear = ends(self.rear.si, |tool| tool.rear.as_ref(), f64::min);
        let foremost = self.tape.foremost(deck, front - rear);
        let cg = if self.backward { foremost + arm - rear } else { foremost + front - arm };
        let across = if self.backward { -left } else { left };
        Standing {
            name: format!("unit-{at}"),
            weight,
            cg,
            left: self.tape.left() + across,
            front_gap: foremost,
            rear_gap: deck - foremost - (front - rear),
        }
    }
}

/// Cargo on the deck.
#[derive(Clone, Debug)]
struct Crate {
    weight: Num,
    length: Num,
    cg_from_front: Option<Num>,
    cg_left: Option<Num>,
    tape: Tape,
}

fn crate_() -> impl Strategy<Value = Crate> {
    (mass(50.0, 2500.0), length(1.0, 4.0), option::of(length(0.1, 0.9)), option::of(length(-0.3, 0.3)), tape()).prop_map(
        |(weight, length, cg_from_front, cg_left, tape)| Crate { weight, length, cg_from_front, cg_left, tape },
    )
}

impl Crate {
    fn aboard(&self, at: usize) -> String {
        let mut text = format!("    cargo \"crate-{at}\" weight={} length={}", self.weight.text, self.length.text);
        for (word, value) in [("cg-from-front", &self.cg_from_front), ("cg-left", &self.cg_left)] {
            if let Some(value) = value {
                let _ = write!(text, " {word}={}", value.text);
            }
        }
        let _ = writeln!(text, " {}", self.tape.text());
        text
    }

    fn standing(&self, at: usize, deck: f64) -> Standing {
        let long = self.length.si;
        let foremost = self.tape.foremost(deck, long);
        Standing {
            name: format!("crate-{at}"),
            weight: self.weight.si,
            cg: foremost + self.cg_from_front.as_ref().map_or(long / 2.0, |cg| cg.si),
            left: self.tape.left() + self.cg_left.as_ref().map_or(0.0, |left| left.si),
            front_gap: foremost,
            rear_gap: deck - foremost - long,
        }
    }
}

/// An axle of the trailer behind the one before it.
#[derive(Clone, Debug)]
struct Wheels {
    behind: f64,
    track: Num,
    rate: Num,
    empty: Num,
}

#[derive(Clone, Debug)]
struct Towed {
    tongue: Num,
    axles: Num,
    first: f64,
    wheels: Vec<Wheels>,
    independent: Option<(Option<Num>, bool, bool)>,
    deck_from: Num,
    deck_length: Num,
    tires_a_side: u32,
    units: [usize; 4],
}

fn towed() -> impl Strategy<Value = Towed> {
    let wheels = (0.6..1.3, length(1.4, 2.3), num(&RATES, 80e3, 500e3), mass(150.0, 900.0))
        .prop_map(|(behind, track, rate, empty)| Wheels { behind, track, rate, empty });
    // The height at which the frame is level, whether the axles give their rates, and whether each was weighed.
    let independent = option::of((option::weighted(0.85, length(0.40, 0.70)), prop::bool::weighted(0.85), any::<bool>()));
    let deck = (length(0.8, 2.0), length(4.5, 8.0), 1..=2_u32);
    ((mass(20.0, 500.0), mass(500.0, 3000.0)), 3.0..6.5, vec(wheels, 1..=3), independent, deck, [0..6_usize, 0..6, 0..6, 0..6])
        .prop_map(|((tongue, axles), first, wheels, independent, (deck_from, deck_length, tires_a_side), units)| Towed {
            tongue,
            axles,
            first,
            wheels,
            independent,
            deck_from,
            deck_length,
            tires_a_side,
            units,
        })
}

impl Towed {
    fn written(&self, coupler: &str) -> (String, Trailer) {
        let mut station = self.first;
        let mut axles = Vec::new();
        let mut lines = String::new();
        let (rated, weighed) = self.independent.as_ref().map_or((false, false), |(_, rated, weighed)| (*rated, *weighed));
        for (at, wheels) in self.wheels.iter().enumerate() {
            let here = written(LENGTHS[self.units[at]], station);
            let _ = write!(lines, "    axle at={} track-width={}", here.text, wheels.track.text);
            if rated {
                let _ = write!(lines, " rate={}", wheels.rate.text);
            }
            if weighed {
                let _ = write!(lines, " empty={}", wheels.empty.text);
            }
            let _ = writeln!(lines, " {{ tires count={}; }}", 2 * self.tires_a_side);
            axles.push(TrailerAxle {
                station: Length::new(here.si),
                rate: rated.then(|| Stiffness::new(wheels.rate.si)),
                empty: weighed.then(|| Mass::new(wheels.empty.si)),
                track: Some(Length::new(wheels.track.si)),
            });
            station += wheels.behind;
        }
        // Where each axle was weighed, the whole is their sum.
        let together = if weighed {
            let sum: f64 = self.wheels.iter().map(|wheels| wheels.empty.si).sum();
            Num { text: format!("(kg){sum}"), si: sum }
        } else {
            self.axles.clone()
        };
        let mut text = format!("trailer \"sled\" {{\n    empty tongue={} axles={}\n", self.tongue.text, together.text);
        let _ = writeln!(text, "    coupler \"{coupler}\"");
        text.push_str(&lines);
        let suspension = match &self.independent {
            None => {
                text.push_str("    suspension \"equalized\"\n");
                Suspension::Equalized
            }
            Some((level_at, ..)) => {
                let level = level_at.as_ref().map_or_else(String::new, |level| format!(" level-at={}", level.text));
                let _ = writeln!(text, "    suspension \"independent\"{level}");
                let level_at = level_at.as_ref().map(|level| Length::new(level.si));
                Suspension::Independent { level_at, held_at: None }
            }
        };
        let _ = writeln!(text, "    deck from={} length={}\n}}", self.deck_from.text, self.deck_length.text);
        let empty = EmptyTrailer { tongue: Mass::new(self.tongue.si), axles: Mass::new(together.si) };
        (text, Trailer { empty, axles, suspension })
    }
}

#[derive(Clone, Debug)]
struct Towing {
    front: Num,
    rear: Num,
    wheelbase: Num,
    kind: usize,
    overhang: Num,
    ahead: Num,
    height: Option<Num>,
    restores: f64,
    aboard: Vec<(Num, Num)>,
}

/// Kinds of hitch with the coupler that goes with each.
const KINDS: [(&str, &str); 5] = [
    ("ball", "ball"),
    ("weight-distributing", "ball"),
    ("pintle", "pintle"),
    ("gooseneck", "gooseneck"),
    ("weight-distributing", "ball"),
];

fn towing() -> impl Strategy<Value = Towing> {
    let axles = (mass(900.0, 3000.0), mass(900.0, 3000.0), length(2.8, 5.0));
    let hitch = (0..KINDS.len(), length(0.9, 1.8), length(-0.4, -0.02), option::weighted(0.85, length(0.40, 0.70)));
    let aboard = vec((mass(20.0, 700.0), length(-1.2, 1.8)), 0..3);
    (axles, hitch, 0..=110_u32, aboard).prop_map(
        |((front, rear, wheelbase), (kind, overhang, ahead, height), restores, aboard)| Towing {
            front,
            rear,
            wheelbase,
            kind,
            overhang,
            ahead,
            height,
            restores: f64::from(restores),
            aboard,
        },
    )
}

impl Towing {
    fn written(&self) -> (String, Truck, Distribution) {
        let (kind, _) = KINDS[self.kind];
        let overhang = if kind == "gooseneck" { &self.ahead } else { &self.overhang };
        let bars = kind == "weight-distributing";
        let mut text = format!(
            "truck \"rook\" {{\n    axle \"front\" weighed={} {{ tires count=2; }}\n    axle \"rear\" weighed={} {{ tires \
             count=4; }}\n    wheelbase {}\n    hitch \"{kind}\" behind-rear-axle={}",
            self.front.text, self.rear.text, self.wheelbase.text, overhang.text
        );
        if let Some(height) = &self.height {
            let _ = write!(text, " height={}", height.text);
        }
        if bars {
            let _ = write!(text, " restores=(pct){}", self.restores);
        }
        text.push_str("\n}\n");
        let truck = Truck {
            front: Mass::new(self.front.si),
            rear: Mass::new(self.rear.si),
            wheelbase: Length::new(self.wheelbase.si),
            overhang: Length::new(overhang.si),
        };
        let distribution =
            if bars { Distribution::Restores(Share::new(self.restores / 100.0)) } else { Distribution::None };
        (text, truck, distribution)
    }
}

/// A whole job.
pub(crate) fn job() -> impl Strategy<Value = Job> {
    let aboard = (vec(unit(), 0..3), vec(crate_(), 0..3), vec(tool(), TOOLS));
    (towing(), towed(), aboard).prop_map(|(towing, towed, (units, crates, tools))| {
        let (truck_text, truck, distribution) = towing.written();
        let (trailer_text, mut trailer) = towed.written(KINDS[towing.kind].1);
        if let Suspension::Independent { held_at, .. } = &mut trailer.suspension {
            *held_at = towing.height.as_ref().map(|height| Length::new(height.si));
        }
        let mut text = truck_text + &trailer_text;
        for (at, tool) in tools.iter().enumerate() {
            text.push_str(&tool.text(at, units.len()));
        }
        for (at, unit) in units.iter().enumerate() {
            text.push_str(&unit.text(at));
        }
        text.push_str("sheet \"job\" {\n    truck \"rook\"\n    trailer \"sled\"\n");
        let deck = towed.deck_length.si;
        let mut items = Vec::new();
        for (at, unit) in units.iter().enumerate() {
            text.push_str(&unit.aboard(at));
            items.push(unit.standing(at, &tools, deck));
        }
        for (at, one) in crates.iter().enumerate() {
            text.push_str(&one.aboard(at));
            items.push(one.standing(at, deck));
        }
        for (at, (weight, ahead)) in towing.aboard.iter().enumerate() {
            let _ = writeln!(
                text,
                "    aboard-truck \"chest-{at}\" weight={} ahead-of-rear-axle={}",
                weight.text, ahead.text
            );
        }
        text.push_str("}\n");
        let on_trailer = items.iter().map(|item| PointLoad {
            weight: Mass::new(item.weight),
            station: Length::new(towed.deck_from.si + item.cg),
            left: Length::new(item.left),
        });
        let on_truck = towing
            .aboard
            .iter()
            .map(|(weight, ahead)| TruckLoad { weight: Mass::new(weight.si), ahead: Length::new(ahead.si) });
        let rig =
            Rig { trailer, on_trailer: on_trailer.collect(), truck, on_truck: on_truck.collect(), distribution };
        Job { text, rig, items, tires_a_side: towed.tires_a_side }
    })
}
