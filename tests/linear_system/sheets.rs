//! Random jobs written as sheets, every number in a unit of its own, with the same numbers in SI beside them.

use std::fmt::Write as _;

use draylint::physics::{Distribution, EmptyTrailer, PointLoad, Suspension, Trailer, TrailerAxle, Truck, TruckLoad};
use draylint::units::{Length, Mass, Share, Stiffness};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;

use crate::rig_samples::Rig;
use crate::standing::{LENGTHS, Num, RATES, Standing, TOOLS, crate_, length, mass, num, tool, unit, written};

/// A job: its sheet, and what the generator knows of it.
#[derive(Clone, Debug)]
pub(crate) struct Job {
    pub(crate) text: String,
    pub(crate) rig: Rig,
    pub(crate) items: Vec<Standing>,
    pub(crate) tires_a_side: u32,
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
    let independent =
        option::of((option::weighted(0.85, length(0.40, 0.70)), prop::bool::weighted(0.85), any::<bool>()));
    let deck = (length(0.8, 2.0), length(4.5, 8.0), 1..=2_u32);
    (
        (mass(20.0, 500.0), mass(500.0, 3000.0)),
        3.0..6.5,
        vec(wheels, 1..=3),
        independent,
        deck,
        [0..6_usize, 0..6, 0..6, 0..6],
    )
        .prop_map(
            |((tongue, axles), first, wheels, independent, (deck_from, deck_length, tires_a_side), units)| Towed {
                tongue,
                axles,
                first,
                wheels,
                independent,
                deck_from,
                deck_length,
                tires_a_side,
                units,
            },
        )
}

impl Towed {
    fn written(&self, coupler: &str) -> (String, Trailer) {
        let mut station = self.first;
        let mut axles = Vec::new();
        let mut lines = String::new();
        let (rated, weighed) =
            self.independent.as_ref().map_or((false, false), |(_, rated, weighed)| (*rated, *weighed));
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
        let rig = Rig { trailer, on_trailer: on_trailer.collect(), truck, on_truck: on_truck.collect(), distribution };
        Job { text, rig, items, tires_a_side: towed.tires_a_side }
    })
}
