//! Entries that contradict one another within one definition or sheet: arithmetic that cannot be, not judgement. What a
//! law, a plate or a practice forbids is for the rules.
//!
//! How far two statements of the same weight may lie apart before they contradict each other is 3 %, or the spread that
//! the sheet gives them, because scales and brochures differ by that much (common practice).

mod gear;
mod machine;
mod sheet;
mod tires;
mod trailer;
mod truck;

use crate::finding::{Finding, Level};
use crate::model::{Entry, Slot, Yard};
use crate::text::Span;
use crate::units::{Quantity, System, show, show_in};

/// Every contradiction in a yard, definition by definition.
pub(super) fn yard(yard: &Yard, findings: &mut Vec<Finding>) {
    let mut out = Out { findings };
    yard.trucks.iter().for_each(|one| truck::check(one, &mut out));
    yard.trailers.iter().for_each(|one| trailer::check(one, &mut out));
    yard.machines.iter().for_each(|one| machine::check(one, &mut out));
    yard.attachments.iter().for_each(|one| machine::check_attachment(one, &mut out));
    yard.materials.iter().for_each(|one| gear::check_material(one, &mut out));
    yard.frictions.iter().for_each(|one| gear::check_friction(one, &mut out));
    yard.tiedowns.iter().for_each(|one| gear::check_tiedown(one, &mut out));
    for one in &yard.sheets {
        let from = out.findings.len();
        sheet::check(one, yard, &mut out);
        for finding in out.findings.iter_mut().skip(from) {
            finding.sheet = Some(one.name.value.clone());
        }
    }
}

/// Takes the contradictions.
struct Out<'f> {
    findings: &'f mut Vec<Finding>,
}

impl Out<'_> {
    /// Something contradicts what stands at `other`.
    fn clash(&mut self, at: Span, message: String, other: (Span, String), help: &str) {
        self.alone(at, message, help);
        if let Some(finding) = self.findings.last_mut() {
            let (span, text) = other;
            finding.labels.push(crate::finding::Label { span, text });
        }
    }

    /// Something cannot be by itself.
    fn alone(&mut self, at: Span, message: String, help: &str) {
        self.findings.push(Finding::new("does-not-add-up", Level::Error, at, message).help(help));
    }

    /// `small` must not be more than `large`.
    fn at_most<Q: Quantity>(&mut self, small: &Slot<Q>, large: &Slot<Q>, names: (&str, &str), help: &str) {
        if let (Some(small), Some(large)) = (small.entry(), large.entry())
            && small.value.si() > large.value.si() + 1e-9
        {
            let message = format!("{} is {}, and {} is {}", names.0, shown(small), names.1, shown(large));
            self.clash(small.at, message, (large.at, names.1.to_owned()), help);
        }
    }
}

/// A value as it was written.
fn shown<Q: Quantity>(entry: &Entry<Q>) -> String {
    shown_like(entry.value.si(), entry)
}

/// A value in the unit of an entry.
fn shown_like<Q: Quantity>(si: f64, entry: &Entry<Q>) -> String {
    entry.unit.map_or_else(
        || show(si, Q::KIND, System::Us),
        |unit| {
            // A computed value does not need the decimals of a written one.
            let scaled = si / unit.factor;
            let rounded = if scaled.abs() >= 100.0 { scaled.round() * unit.factor } else { si };
            show_in(rounded, unit)
        },
    )
}

/// Whether two statements of the same thing lie too far apart: by 3 % or this much, or by what they can be off.
fn apart(one: f64, other: f64, least: f64, spreads: &[Option<f64>]) -> bool {
    let off: f64 = spreads.iter().flatten().sum();
    let allowed = (0.03 * one.abs().max(other.abs())).max(least).max(off);
    (one - other).abs() > allowed
}
