//! Random things on a deck, written as sheets write them: machines with what is fitted to them, and cargo.

use std::fmt::Write as _;

use proptest::option;
use proptest::prelude::*;

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
pub(crate) struct Num {
    pub(crate) text: String,
    pub(crate) si: f64,
}

/// Units with their factors, written here a second time from the definitions: international yard and pound (1959),
/// standard gravity (CGPM 1901).
const MASSES: [(&str, f64); 4] = [("lb", 0.453_592_37), ("kg", 1.0), ("t", 1000.0), ("ton", 907.184_74)];
pub(crate) const LENGTHS: [(&str, f64); 6] =
    [("in", 0.0254), ("ft", 0.3048), ("mm", 0.001), ("cm", 0.01), ("m", 1.0), ("yd", 0.9144)];
pub(crate) const RATES: [(&str, f64); 4] = [
    ("\"lbf/in\"", 0.453_592_37 * 9.806_65 / 0.0254),
    ("\"N/mm\"", 1000.0),
    ("\"kN/m\"", 1000.0),
    ("\"kgf/mm\"", 9806.65),
];

/// A number between two SI values, rounded in a unit of its own.
pub(crate) fn num(units: &'static [(&'static str, f64)], low: f64, high: f64) -> impl Strategy<Value = Num> {
    (low..high, 0..units.len()).prop_map(move |(si, at)| written(units[at], si))
}

pub(crate) fn written((symbol, factor): (&str, f64), si: f64) -> Num {
    let steps = if factor > 10.0 { 1e5 } else { 1e3 };
    let value = (si / factor * steps).round() / steps;
    Num { text: format!("({symbol}){value}"), si: value * factor }
}

pub(crate) fn mass(low: f64, high: f64) -> impl Strategy<Value = Num> {
    num(&MASSES, low, high)
}

pub(crate) fn length(low: f64, high: f64) -> impl Strategy<Value = Num> {
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
    (any::<bool>(), length(-0.4, 3.5), option::of(length(-0.4, 0.4))).prop_map(|(front, gap, left)| Tape {
        front,
        gap,
        left,
    })
}

/// An attachment; every machine may carry it, some with an arm of their own for it.
#[derive(Clone, Debug)]
pub(crate) struct Tool {
    weight: Num,
    arm: Num,
    arm_on_first: Option<Num>,
    front: Option<Num>,
    rear: Option<Num>,
}

pub(crate) fn tool() -> impl Strategy<Value = Tool> {
    let reach = (length(1.2, 3.4), any::<bool>(), length(-2.5, -1.0), any::<bool>());
    (mass(30.0, 200.0), length(-1.5, 2.5), option::of(length(-1.5, 2.5)), reach).prop_map(
        |(weight, arm, arm_on_first, (front, says_front, rear, says_rear))| {
            let arms = || arm_on_first.iter().chain([&arm]).map(|arm| arm.si);
            // Where it hangs out of some machine that a unit can be (the shortest: 1.5 m ahead, 0.2 m behind), its end is
            // given: without it the place would not be known.
            let front = (says_front || arms().any(|arm| arm > 1.49)).then_some(front);
            let rear = (says_rear || arms().any(|arm| arm < -0.19)).then_some(rear);
            Tool { weight, arm, arm_on_first, front, rear }
        },
    )
}

impl Tool {
    pub(crate) fn text(&self, at: usize, machines: usize) -> String {
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
pub(crate) struct Unit {
    weighed: Weighed,
    cg_left: Option<Num>,
    front: Num,
    rear: Num,
    weighed_with: Vec<usize>,
    fits: Vec<usize>,
    backward: bool,
    tape: Tape,
}

pub(crate) const TOOLS: usize = 3;

pub(crate) fn unit() -> impl Strategy<Value = Unit> {
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
    pub(crate) fn text(&self, at: usize) -> String {
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

    pub(crate) fn aboard(&self, at: usize) -> String {
        let facing = if self.backward { "backward" } else { "forward" };
        let fits: Vec<String> = self.fits.iter().map(|tool| format!("fit \"tool-{tool}\"")).collect();
        let fits = if fits.is_empty() { String::new() } else { format!(" {{ {}; }}", fits.join("; ")) };
        format!("    machine \"unit-{at}\" facing=\"{facing}\" {}{fits}\n", self.tape.text())
    }

    /// Where it stands: weights at points, those that were only on the scale with it below zero.
    pub(crate) fn standing(&self, at: usize, tools: &[Tool], deck: f64) -> Standing {
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
pub(crate) struct Crate {
    weight: Num,
    length: Num,
    cg_from_front: Option<Num>,
    cg_left: Option<Num>,
    tape: Tape,
}

pub(crate) fn crate_() -> impl Strategy<Value = Crate> {
    (mass(50.0, 2500.0), length(1.0, 4.0), option::of(length(0.1, 0.9)), option::of(length(-0.3, 0.3)), tape())
        .prop_map(|(weight, length, cg_from_front, cg_left, tape)| Crate {
            weight,
            length,
            cg_from_front,
            cg_left,
            tape,
        })
}

impl Crate {
    pub(crate) fn aboard(&self, at: usize) -> String {
        let mut text = format!("    cargo \"crate-{at}\" weight={} length={}", self.weight.text, self.length.text);
        for (word, value) in [("cg-from-front", &self.cg_from_front), ("cg-left", &self.cg_left)] {
            if let Some(value) = value {
                let _ = write!(text, " {word}={}", value.text);
            }
        }
        let _ = writeln!(text, " {}", self.tape.text());
        text
    }

    pub(crate) fn standing(&self, at: usize, deck: f64) -> Standing {
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
