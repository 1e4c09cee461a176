//! A crew's list for a load on paper, in Markdown or on a page: the same lines in each form.

mod html;
mod markdown;
mod text;

pub use html::html;
pub use markdown::markdown;
pub use text::text;

use super::CAUTION;
use super::place::shown;
use crate::finding::{Gauge, Level, Walk};
use crate::text::Sources;
use crate::units::{System, show, show_with_spread, unit_for};

/// What is told at the end of every list, whoever reads it: it keeps people from harm.
const CAUTIONS: [&str; 2] = [
    "Nobody stands behind, below or beside a machine that goes up or down, or in line with a tie-down under tension.",
    "Where this list and the maker's manual of truck, trailer, machine or tie-down differ, the manual holds.",
];

/// What stands at the end of a list; with `quiet` without the caution that all outputs have.
fn cautions(quiet: bool) -> impl Iterator<Item = &'static str> {
    CAUTIONS.into_iter().chain(Some(CAUTION).filter(|_| !quiet))
}

/// What is said before a finding that is open: with an error the load is not to leave, a warning is to be settled first.
const fn word(level: Level) -> &'static str {
    match level {
        Level::Error => "not ready",
        Level::Warning | Level::Note => "settle first",
    }
}

/// What stands in place of a list.
const NO_LIST: &str =
    "This load cannot be computed, so there is no list: every number on it would be a guess. Missing:";

/// What is said of a load at which nothing is open.
const READY: &str = "by the rules that its yard follows nothing is open at the level of a warning or an error";

/// What is said where there is no load.
const NO_LOADS: &str = "no loads here: there is nothing to walk around";

/// `sheet barn-lane, leg tractor and pipe`.
fn name(walk: &Walk) -> String {
    let leg = walk.leg.as_ref().map_or_else(String::new, |leg| format!(", leg {}", shown(leg)));
    format!("sheet {}{leg}", shown(&walk.sheet))
}

/// `truck rook, trailer sled-20; sheets/barn-lane.kdl; as of 2026-11-25`.
fn about(sources: &Sources, walk: &Walk) -> String {
    let file = sources.get(walk.file).map_or("", |source| &source.name);
    format!("{}; {}; as of {}", shown(&walk.rig), shown(file), shown(&walk.day))
}

/// A gauge's numbers as a person reads them.
struct Told {
    /// What is expected.
    expected: String,
    /// How far that can be off.
    spread: Option<String>,
    /// Its limits.
    limits: Option<String>,
    /// The unit in which it is read.
    unit: &'static str,
}

impl Told {
    fn of(gauge: &Gauge, system: System) -> Self {
        let number = |value: f64| show(value, gauge.kind, system);
        let least = gauge.at_least.map(|value| format!("at least {}", number(value)));
        let most = gauge.at_most.map(|value| format!("at most {}", number(value)));
        let limits: Vec<String> = least.into_iter().chain(most).collect();
        Self {
            expected: match gauge.plus_minus {
                Some(spread) => show_with_spread(gauge.value, spread, gauge.kind, system),
                None => number(gauge.value),
            },
            spread: gauge.plus_minus.map(number),
            limits: (!limits.is_empty()).then(|| limits.join(", ")),
            unit: unit_for(gauge.kind, system).shown,
        }
    }
}

/// A part's heading: `3 secure`, with its first letter as a capital.
fn heading(title: &str) -> String {
    super::markdown::capital(title)
}
