//! How a random job is made: near enough to every limit that each comes into play.

use std::fmt::Write as _;

use crate::jobs::{Chance, Item, Job, Kind, Written};

/// How a job is made.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Wanted {
    /// How many items at the least and at the most.
    pub(crate) items: (usize, usize),
    /// Whether ratings and widths may be missing.
    pub(crate) gaps: bool,
    /// How likely an item is a machine.
    pub(crate) machines: f64,
    /// How much more or less of the trailer's weight rides on the hitch than is usual.
    pub(crate) off: (f64, f64),
    /// Whether one item may be loose material, or stand on another.
    pub(crate) bulk: bool,
    pub(crate) stacked: bool,
}

/// The job of a seed.
pub(crate) fn job(seed: u64, wanted: Wanted) -> Job {
    let mut chance = Chance(seed);
    let mut maker = Maker { chance: &mut chance, gaps: wanted.gaps, names: Vec::new() };
    let deck = maker.chance.between(4.2, 7.4);
    let (items, machines, weight) = maker.items(deck, wanted);
    let mut fleet = maker.rig(deck, weight, wanted.off);
    fleet.push_str(&machines);
    Job { fleet, settings: maker.settings(), items, deck }
}

struct Maker<'c> {
    chance: &'c mut Chance,
    gaps: bool,
    /// The items so far.
    names: Vec<String>,
}

impl Maker<'_> {
    /// An entry that may be missing.
    fn maybe(&mut self, entry: String) -> String {
        if self.gaps && self.chance.happens(0.06) { String::new() } else { entry }
    }

    fn rating(&mut self, kg: f64, low: f64, high: f64) -> f64 {
        (kg * self.chance.between(low, high)).round()
    }

    /// Truck and trailer for a load of this weight and moment about the deck's front edge.
    fn rig(&mut self, deck: f64, (load, moment): (f64, f64), off: (f64, f64)) -> String {
        let hitch = self.chance.below(4);
        let (kind, coupler, share) = [
            ("ball", "ball", 0.12),
            ("weight-distributing", "ball", 0.12),
            ("gooseneck", "gooseneck", 0.2),
            ("pintle", "pintle", 0.12),
        ][hitch];
        let neck = kind == "gooseneck";
        let axles = 1 + self.chance.below(3);
        let from = self.chance.between(0.9, 1.9) + if neck { 0.8 } else { 0.0 };
        let (empty_tongue, empty_axles) =
            (self.chance.between(60.0, 320.0).round(), self.chance.between(600.0, 1900.0).round());
        let gross = load + empty_tongue + empty_axles;
        // Where the axles must stand for the hitch to carry about its share: from the balance of moments about the coupling.
        let wanted = share * self.chance.between(off.0, off.1);
        let middle = (load * from + moment) / (empty_tongue + load - wanted * gross);
        let on_axles = gross * (1.0 - share);
        let independent = axles > 1 && self.chance.happens(0.4);
        let spacing = self.chance.between(0.75, 0.95);
        let mut text = format!("trailer \"sled\" {{\n    empty tongue=(kg){empty_tongue} axles=(kg){empty_axles}\n");
        let number = |at: usize| f64::from(u32::try_from(at).unwrap());
        let each = on_axles / number(axles);
        let gvwr = self.rating(gross, 0.98, 1.6);
        text += &self.maybe(format!("    gvwr (kg){gvwr}\n"));
        let size = if kind == "pintle" { "" } else { " size=(mm)58" };
        let (coupler_rating, coupler_tongue) = (self.rating(gross, 0.98, 2.0), self.rating(gross * share, 0.95, 3.0));
        let marked = self.chance.happens(0.5);
        let tongue = if marked { format!(" tongue=(kg){coupler_tongue}") } else { String::new() };
        let _ = writeln!(text, "    coupler \"{coupler}\"{size} rating=(kg){coupler_rating}{tongue} height=(mm)520");
        for axle in 0..axles {
            let station = middle + spacing * (number(axle) - (number(axles) - 1.0) / 2.0);
            let rating = self.rating(each, 1.0, 1.8);
            let tire = self.rating(each / 2.0, 1.05, 2.0);
            let track = self.chance.between(1.6, 2.1);
            let rate = if independent { " rate=(\"kN/m\")160" } else { "" };
            let empty = if independent { format!(" empty=(kg){}", empty_axles / number(axles)) } else { String::new() };
            let rating = self.maybe(format!(" rating=(kg){rating}"));
            let tire = self.maybe(format!(" rating=(kg){tire}"));
            let track = self.maybe(format!(" track-width=(m){track}"));
            let _ = writeln!(
                text,
                "    axle at=(m){station}{rating}{track}{rate}{empty} {{ tires count=2{tire} pressure=(psi)80 max-pressure=(psi)80 speed=(mph)75 kind=\"ST\"; }}"
            );
        }
        if independent {
            let level = self.chance.between(0.48, 0.56);
            let _ = writeln!(text, "    suspension \"independent\" level-at=(m){level}");
        } else {
            text += "    suspension \"equalized\"\n";
        }
        text += "    safety-chains count=2 rating=(t)20\n";
        let width = self.chance.between(1.9, 2.4);
        let width = self.maybe(format!(" width=(m){width}"));
        let _ = writeln!(text, "    deck from=(m){from} length=(m){deck}{width} height=(m)0.6 surface=\"wood\"");
        if self.chance.happens(0.35) {
            text += "    walls height=(m)1\n";
        }
        if self.chance.happens(0.35) {
            text += "    rear-doors\n";
        }
        text += "    width (m)2.5\n    length (m)9\n}\n";
        let (front, rear) = (self.chance.between(1500.0, 2400.0).round(), self.chance.between(1100.0, 1900.0).round());
        let tongue = gross * share;
        let wheelbase = self.chance.between(3.2, 4.6);
        let overhang = if neck { self.chance.between(-0.3, -0.05) } else { self.chance.between(1.1, 1.5) };
        let rear_loaded = rear + 120.0 + tongue * (1.0 + overhang / wheelbase);
        let (front_rating, rear_rating) = (self.rating(front, 1.02, 1.4), self.rating(rear_loaded, 0.98, 1.6));
        let (front_tire, rear_tire) = (self.rating(front / 2.0, 1.02, 1.5), self.rating(rear_loaded / 4.0, 1.0, 1.6));
        let gvwr = self.rating(front + rear + 120.0 + tongue, 0.98, 1.5);
        let gcwr = self.rating(front + rear + 120.0 + gross, 0.99, 1.5).max(gvwr);
        let restores = if kind == "weight-distributing" {
            format!(" restores=(pct){}", self.chance.between(0.0, 100.0).round())
        } else {
            String::new()
        };
        let (hitch_tongue, hitch_trailer) = (self.rating(tongue, 0.95, 3.0), self.rating(gross, 0.99, 2.0));
        let ball = if kind == "pintle" {
            String::new()
        } else {
            format!(" ball size=(mm)58 rating=(kg){};", self.rating(gross, 0.99, 2.0))
        };
        let rating = self.maybe(format!(" rating tongue=(kg){hitch_tongue} trailer=(kg){hitch_trailer};"));
        let tires = "pressure=(psi)80 max-pressure=(psi)80 speed=\"R\" kind=\"LT\"";
        let rear_tire = self.maybe(format!(" rating=(kg){rear_tire}"));
        let _ = write!(
            text,
            "truck \"rook\" {{\n    axle \"front\" weighed=(kg){front} rating=(kg){front_rating} {{ tires count=2 rating=(kg){front_tire} {tires}; }}\n    \
             axle \"rear\" weighed=(kg){rear} rating=(kg){rear_rating} {{ tires count=4{rear_tire} {tires}; }}\n    \
             wheelbase (m){wheelbase}\n    gvwr (kg){gvwr}\n    gcwr (kg){gcwr}\n    \
             hitch \"{kind}\" behind-rear-axle=(m){overhang} height=(mm)500{restores} {{{rating}{ball} brake-controller #true; }}\n}}\n"
        );
        text
    }

    /// What is aboard, the definitions of its machines, what it weighs, and its moment about the deck's front edge.
    fn items(&mut self, deck: f64, wanted: Wanted) -> (Vec<Item>, String, (f64, f64)) {
        let (least, most) = wanted.items;
        let count = least + self.chance.below(most - least + 1);
        let mut fleet = String::new();
        let mut items: Vec<Item> = Vec::new();
        let (mut weight, mut moment) = (0.0, 0.0);
        let stretch = deck / f64::from(u32::try_from(count).unwrap());
        let heap = (wanted.bulk && self.chance.happens(0.3)).then(|| self.chance.below(count));
        for at in 0..count {
            let from = stretch * f64::from(u32::try_from(at).unwrap());
            let long = stretch * self.chance.between(0.45, 0.95);
            let kind = if heap == Some(at) {
                Kind::Bulk
            } else if self.chance.happens(wanted.machines) {
                Kind::Machine { backward: self.chance.happens(0.5) }
            } else {
                Kind::Cargo
            };
            let front = self.chance.happens(0.6);
            let slack = stretch - long;
            let ahead = from + self.chance.between(-0.1, 1.0) * slack;
            let gap = if front { ahead } else { deck - ahead - long };
            let under = (at > 0 && wanted.stacked && kind == Kind::Cargo && self.chance.happens(0.35))
                .then(|| self.chance.below(at))
                .filter(|under| items[*under].kind != Kind::Bulk);
            let gap = match under {
                // Somewhere over it, measured from the same end of the deck or from the other.
                Some(under) => {
                    let lower: &Item = &items[under];
                    let (its, its_long) = (lower.gap.si, lower.long.unwrap());
                    let its = if lower.front == Some(true) { its } else { deck - its - its_long };
                    if front { its + 0.1 } else { deck - its - 0.1 - long }
                }
                None => gap,
            };
            let gap = self.chance.tape(gap - 0.01, gap + 0.01);
            let (item, kg, definition) = self.item(at, kind, (front, gap, long), under);
            weight += kg;
            fleet += &definition;
            moment += kg * (ahead + long / 2.0);
            self.names.push(item.name.clone());
            items.push(item);
        }
        (items, fleet, (weight, moment))
    }

    fn item(
        &mut self,
        at: usize,
        kind: Kind,
        (front, gap, long): (bool, Written, f64),
        on: Option<usize>,
    ) -> (Item, f64, String) {
        let long = (long * 1000.0).round() / 1000.0;
        let left = (self.chance.between(-0.12, 0.12) * 100.0).round() / 100.0;
        let left = if self.chance.happens(0.5) { format!(" left=(m){left}") } else { String::new() };
        let base = Item {
            name: String::new(),
            kind,
            head: String::new(),
            tail: String::new(),
            front: Some(front),
            gap,
            volume: None,
            on,
            long: Some(long),
        };
        let left = on.map_or_else(String::new, |under| format!(" on=\"{}\"", self.names[under])) + &left;
        match kind {
            Kind::Machine { .. } => {
                let (name, kg) = (format!("unit-{at}"), self.chance.between(800.0, 3600.0).round());
                let nose = (long * self.chance.between(0.55, 0.8) * 1000.0).round().max(550.0) / 1000.0;
                let long = long.max(nose + 0.05);
                let tail = ((nose - long) * 1000.0).round() / 1000.0;
                let mut text = format!("machine \"{name}\" {{\n");
                let arm = nose * self.chance.between(0.15, 0.6);
                if self.chance.happens(0.5) {
                    let base = (nose * self.chance.between(0.5, 0.75)).max(0.4);
                    let ahead = kg * self.chance.between(0.25, 0.7);
                    let _ = writeln!(
                        text,
                        "    axle \"front\" weighed=(kg){ahead}\n    axle \"rear\" weighed=(kg){}\n    wheelbase (m){base}",
                        kg - ahead
                    );
                    text += &self.maybe("    track-width (m)1.3\n".to_owned());
                } else {
                    let _ = writeln!(text, "    weight (kg){kg}\n    cg arm=(m){arm}");
                    let gauge = self.maybe(" gauge=(m)1.2".to_owned());
                    let _ = writeln!(text, "    tracks contact-length=(m){}{gauge}", nose * 0.7);
                }
                let wide = self.maybe(" width=(m)1.5".to_owned());
                let fitted = self.chance.happens(0.3);
                let _ = writeln!(text, "    outline front=(m){nose} rear=(m){tail}{wide} height=(m)2\n}}");
                let mut end = left;
                let mut long = long;
                let mut all = kg;
                if fitted {
                    let reach = nose + 0.3;
                    let _ = writeln!(
                        text,
                        "attachment \"tool-{at}\" {{\n    weight (kg)180\n    arm (m){}\n    outline front=(m){reach} width=(m)1.4\n}}",
                        nose + 0.1
                    );
                    let _ = write!(end, " {{ fit \"tool-{at}\"; }}");
                    long += 0.3;
                    all += 180.0;
                }
                (
                    Item {
                        name: name.clone(),
                        head: format!("machine \"{name}\""),
                        tail: end,
                        long: Some(long),
                        ..base
                    },
                    all,
                    text,
                )
            }
            Kind::Cargo => {
                let (name, kg) = (format!("crate-{at}"), self.chance.between(200.0, 2400.0).round());
                let centre = if self.chance.happens(0.5) {
                    format!(" cg-from-front=(m){}", long * self.chance.between(0.2, 0.8))
                } else {
                    String::new()
                };
                let width = self.maybe(" width=(m)1.1".to_owned());
                let head = format!("cargo \"{name}\" weight=(kg){kg} length=(m){long}{centre}{width} height=(m)0.8");
                (Item { name, head, tail: left, ..base }, kg, String::new())
            }
            Kind::Bulk => {
                let (item, kg) = self.heap(base, long);
                (item, kg, String::new())
            }
        }
    }

    /// Loose material: of a length, or what its gap leaves, or the whole deck.
    fn heap(&mut self, base: Item, long: f64) -> (Item, f64) {
        let kg = self.chance.between(300.0, 2500.0);
        let volume = (kg / 1400.0 * 100.0).round() / 100.0;
        let volume = if self.chance.happens(0.5) {
            Written { text: format!("(m3){volume}"), si: volume }
        } else {
            let yards = (volume / 0.764_554_857_984 * 100.0).round() / 100.0;
            Written { text: format!("(yd3){yards}"), si: yards * 0.764_554_857_984 }
        };
        let rest = self.chance.happens(0.25);
        let length = if rest { String::new() } else { format!(" length=(m){long}") };
        let wet = ["", " moisture=\"dry\"", " moisture=\"wet\""][self.chance.below(3)];
        let fills = rest && self.chance.happens(0.4);
        let item = Item {
            name: "gravel".to_owned(),
            head: format!("bulk \"gravel\"{length}{wet}"),
            volume: Some(volume),
            front: if fills { None } else { base.front },
            long: (!rest).then_some(long),
            ..base
        };
        (item, kg)
    }

    /// A yard that moves bounds, or leaves them.
    fn settings(&mut self) -> String {
        let mut text = "yard \"Heron Fork Groundworks\" {\n    follow \"none\"\n    conditions deck=\"dry\" speed=(mph)55\n    set \"margin-thin\" off=#true\n    set \"reading-disagrees\" off=#true\n".to_owned();
        for set in [
            "\"tongue-light\" low=(pct)9",
            "\"tongue-heavy\" high=(pct)18",
            "\"pin-light\" low=(pct)12",
            "\"pin-heavy\" high=(pct)30",
            "\"front-axle-light\" kept=(pct)65",
            "\"front-axle-light\" off=#true",
            "\"leans\" most=(pct)60",
            "\"rear-overhang\" most=(in)20",
            "\"over-the-wall\" least=(in)4",
            "\"doors-blocked\" clear=(mm)150",
            "\"side-overhang\" level=\"warning\"",
        ] {
            if self.chance.happens(0.3) && !(set.contains("front-axle-light") && text.contains("front-axle-light")) {
                let _ = writeln!(text, "    set {set}");
            }
        }
        text.push_str("}\n");
        text
    }
}
