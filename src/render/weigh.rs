//! The figures of each load as a table for a person: what it is, how far it can be off, its limit, and the room left.

use super::grouped::assumed;
use super::place::{load_head, shown};
use super::style::Style;
use super::wrap::paragraph;
use super::{caution, readings, table};
use crate::finding::LoadFigures;
use crate::text::Sources;

/// How to read the table.
const LEGEND: &str = "The bar shows the part that is left to the limit: empty at the limit, crosses beyond it.";

/// The figures of all loads; with `quiet` without the caution at the end.
#[must_use]
pub fn text(sources: &Sources, loads: &[LoadFigures], style: Style, quiet: bool) -> String {
    let mut out = String::new();
    for load in loads {
        one(sources, load, style, &mut out);
        out.push('\n');
    }
    if loads.is_empty() {
        out.push_str("no loads here: nothing was weighed\n");
    }
    if !quiet {
        if loads.iter().any(|load| load.figures.is_some()) {
            let spread = format!("{LEGEND} After {}: how far a figure can be off.", style.plus_minus());
            paragraph(&mut out, "", &spread, 0, style.columns());
        }
        out.push_str(&caution(style));
    }
    out
}

fn one(sources: &Sources, load: &LoadFigures, style: Style, out: &mut String) {
    load_head(sources, (&load.sheet, load.leg.as_deref(), load.file), style, out);
    let Some(figures) = &load.figures else {
        paragraph(out, "  ", "cannot be computed: run `draylint check`, which says why", 2, style.columns());
        return;
    };
    table::draw(figures, load.system, style, out);
    readings::draw(&load.readings, load.system, style, out);
    for (text, whose) in assumed(figures) {
        let text = format!("assumed for {}: {text}", whose.join(", "));
        paragraph(out, "  ", &shown(&text), 4, style.columns());
    }
    for undecided in &load.undecided {
        let text = format!("not judged: {}, for want of {}", undecided.rule, undecided.missing);
        paragraph(out, "  ", &shown(&text), 4, style.columns());
    }
}
