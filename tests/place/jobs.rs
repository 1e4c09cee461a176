//! Random jobs whose limits come into play: a truck and a trailer with every rating not far from what the load makes of
//! it, and a sheet whose items are named so that each can be written elsewhere.

use std::fmt::Write as _;

/// A job: the definitions and settings that stay, and a sheet that can be written with its items elsewhere.
#[derive(Clone, Debug)]
pub(crate) struct Job {
    pub(crate) fleet: String,
    pub(crate) settings: String,
    pub(crate) items: Vec<Item>,
    /// The deck's length in m.
    pub(crate) deck: f64,
}

/// What an item is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    Machine { backward: bool },
    Cargo,
    Bulk,
}

/// An item of a sheet.
#[derive(Clone, Debug)]
pub(crate) struct Item {
    /// Its name in results.
    pub(crate) name: String,
    pub(crate) kind: Kind,
    /// The words before its gap and facing, and behind them.
    pub(crate) head: String,
    pub(crate) tail: String,
    /// Measured from the deck's front edge; else from its rear edge. None fills the deck.
    pub(crate) front: Option<bool>,
    pub(crate) gap: Written,
    pub(crate) volume: Option<Written>,
    /// The item it stands on, by its place.
    pub(crate) on: Option<usize>,
    /// Its length along the deck in m; none where it fills what its gap leaves.
    pub(crate) long: Option<f64>,
}

/// A number as it is written, and in SI.
#[derive(Clone, Debug)]
pub(crate) struct Written {
    pub(crate) text: String,
    pub(crate) si: f64,
}

/// An item otherwise than the job has it.
#[derive(Clone, Debug)]
pub(crate) struct Otherwise {
    pub(crate) item: usize,
    /// By how much its gap grows, in m; what stands on it goes along.
    pub(crate) gap_by: f64,
    pub(crate) turned: bool,
    pub(crate) volume: Option<f64>,
}

impl Job {
    /// The sheet with items elsewhere.
    pub(crate) fn sheet(&self, otherwise: &[Otherwise]) -> String {
        let mut text = "sheet \"job\" {\n    truck \"rook\"\n    trailer \"sled\"\n".to_owned();
        text.push_str("    aboard-truck \"chest\" weight=(kg)120 ahead-of-rear-axle=(m)0.3\n");
        for (at, item) in self.items.iter().enumerate() {
            let own = otherwise.iter().find(|one| one.item == at);
            let rearward: f64 = otherwise
                .iter()
                .filter(|one| self.goes_along(at, one.item))
                .map(|one| one.gap_by * self.sign(one.item))
                .sum();
            text.push_str(&item.written(rearward * self.sign(at), own));
        }
        text.push_str("}\n");
        text
    }

    /// Which way an item goes as its gap grows.
    pub(crate) fn sign(&self, at: usize) -> f64 {
        if self.items[at].front == Some(false) { -1.0 } else { 1.0 }
    }

    fn goes_along(&self, at: usize, with: usize) -> bool {
        at == with || self.items[at].on.is_some_and(|on| self.goes_along(on, with))
    }
}

impl Item {
    fn written(&self, gap_by: f64, own: Option<&Otherwise>) -> String {
        let mut text = format!("    {}", self.head);
        if let Kind::Machine { backward } = self.kind {
            let backward = backward != own.is_some_and(|own| own.turned);
            let _ = write!(text, " facing=\"{}\"", if backward { "backward" } else { "forward" });
        }
        if let Some(volume) = &self.volume {
            match own.and_then(|own| own.volume) {
                Some(volume) => write!(text, " volume=(m3){volume}").unwrap(),
                None => write!(text, " volume={}", volume.text).unwrap(),
            }
        }
        if let Some(front) = self.front {
            let word = if front { "front-gap" } else { "rear-gap" };
            if gap_by == 0.0 {
                let _ = write!(text, " {word}={}", self.gap.text);
            } else {
                let _ = write!(text, " {word}=(m){}", self.gap.si + gap_by);
            }
        }
        text.push_str(&self.tail);
        text.push('\n');
        text
    }
}

/// Numbers that follow from a seed alone: the splitmix64 sequence.
pub(crate) struct Chance(pub(crate) u64);

impl Chance {
    /// Between nothing and one.
    #[expect(clippy::cast_precision_loss, reason = "fifty-three bits of it")]
    pub(crate) fn part(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.part()
    }

    pub(crate) fn happens(&mut self, likely: f64) -> bool {
        self.part() < likely
    }

    pub(crate) fn below(&mut self, end: usize) -> usize {
        (0..end).rev().find(|at| self.part() * f64::from(u32::try_from(*at + 1).unwrap()) < 1.0).unwrap_or(0)
    }

    /// A length in inches, millimetres or feet and inches, to what a tape shows.
    pub(crate) fn tape(&mut self, low: f64, high: f64) -> Written {
        let si = self.between(low, high);
        match self.below(3) {
            0 => {
                let inches = (si / 0.0254 * 8.0).round() / 8.0;
                Written { text: format!("(in){inches}"), si: inches * 0.0254 }
            }
            1 => {
                let mm = (si * 1000.0).round();
                Written { text: format!("(mm){mm}"), si: mm / 1000.0 }
            }
            _ => {
                let inches = (si / 0.0254 * 2.0).round() / 2.0;
                let (sign, size) = if inches < 0.0 { ("-", -inches) } else { ("", inches) };
                let feet = (size / 12.0).floor();
                Written { text: format!("\"{sign}{feet} ft {} in\"", size - 12.0 * feet), si: inches * 0.0254 }
            }
        }
    }
}
