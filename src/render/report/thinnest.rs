//! Where a load has the least room to a limit.

use crate::finding::{FigureLine, LoadFigures};
use crate::render::bar::Shown;
use crate::render::grouped::limits;
use crate::rules::RuleSet;

/// The figure that is nearest to its limit, or furthest beyond it.
#[derive(Clone, Debug, PartialEq)]
pub struct Thinnest {
    /// The room as a part of the larger of figure and limit, from -1 to 1, negative beyond the limit.
    pub part: f64,
    /// Whether that part says anything: of a limit at zero it is always the whole.
    pub part_told: bool,
    /// What it is a figure of, and which.
    pub figure: String,
    /// What is left, short or over: `1,290 lb left`.
    pub room: String,
    /// The rule that sets the limit.
    pub rule: String,
}

impl Thinnest {
    /// That of a load; none where no figure is known that has a limit. Limits at which things are meant to stand are left out
    /// while they are kept: that no room is left there says nothing.
    pub(super) fn of(figures: &LoadFigures, rules: &RuleSet) -> Option<Self> {
        let all = figures.figures.iter().flatten().flat_map(|line| limits(line).map(move |limit| (line, limit)));
        let parts = all.filter_map(|(line, (limit, id))| {
            let part = limit.part(line.value?)?;
            let rule = rules.get(id);
            let meant = rule.is_some_and(|rule| !rule.thin);
            let level = rule.map(|rule| rule.level).filter(|_| part < 0.0);
            (part < 0.0 || !meant).then_some((level, part, line, limit, id))
        });
        // A limit that is broken before one that is kept, the gravest first; then the least room, and the first of equals in the
        // order in which figures are shown.
        let (_, part, line, limit, rule) = parts.min_by(|a, b| b.0.cmp(&a.0).then(a.1.total_cmp(&b.1)))?;
        // Of a limit at zero there is no part.
        let part_told = limit.value() != 0.0;
        let form = Shown { kind: line.kind, system: figures.system, spread: line.plus_minus };
        Some(Self { part, part_told, figure: name(line), room: limit.room(line.value?, form), rule: rule.to_string() })
    }

    /// The part in percent, `-12 %`; never `0 %` for what is beyond.
    pub(super) fn percent(&self) -> String {
        if !self.part_told {
            return "beyond".to_owned();
        }
        let percent = self.part * 100.0;
        let rounded = percent.round();
        if rounded == 0.0 && percent < 0.0 {
            "just beyond".to_owned()
        } else {
            format!("{:.0} %", rounded + 0.0).replace('-', "\u{2212}")
        }
    }
}

fn name(line: &FigureLine) -> String {
    if line.of.is_empty() { line.noun.to_owned() } else { format!("{}, {}", line.of, line.noun) }
}
