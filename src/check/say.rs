//! A rule's words filled in with the numbers of a load.

use super::judge::slot_figure;
use crate::expr::{Bound, Value, Verdict};
use crate::figures::{Each, Lack, Load, Measures, Subject, figures};
use crate::rules::{Piece, Rule, Slot, Template};
use crate::units::{Kind, System, Unit, show, show_apart, show_in};

/// Fills in templates for one broken rule.
pub(super) struct Speaker<'a> {
    pub(super) rule: &'a Rule,
    pub(super) load: &'a Load<'a>,
    pub(super) subject: Subject,
    pub(super) system: System,
    pub(super) verdict: &'a Verdict<Lack>,
}

impl Speaker<'_> {
    /// The template with its names replaced.
    pub(super) fn say(&self, template: &Template) -> String {
        template.pieces.iter().map(|piece| self.piece(piece)).collect()
    }

    fn piece(&self, piece: &Piece) -> String {
        let name = |id: Option<&str>| id.unwrap_or("?").to_owned();
        match piece {
            Piece::Text(text) => text.clone(),
            Piece::Value(slot) => self.slot(*slot),
            Piece::What => {
                let figure = self.bound().and_then(|bound| bound.figure.name).and_then(slot_figure);
                figure.map_or_else(String::new, |figure| figure.noun.to_owned())
            }
            Piece::Figure => self.bound().map_or_else(String::new, |bound| self.figure_text(&bound)),
            Piece::Limit => self.bound().map_or_else(String::new, |bound| self.limit_text(&bound)),
            Piece::Over => {
                let over = |bound: Bound<'_>| {
                    let by = (bound.value - bound.at).abs();
                    // However little it is, it is not nothing.
                    bound.figure.dim.kind().map_or_else(|| plain(by), |kind| show_apart(by, 0.0, kind, self.system))
                };
                self.bound().map_or_else(String::new, over)
            }
            Piece::Subject => self.subject.spoken(self.load),
            Piece::Truck => name(self.load.truck.as_ref().ok().map(|truck| &*truck.id.value)),
            Piece::Trailer => name(self.load.trailer.as_ref().ok().map(|trailer| &*trailer.id.value)),
        }
    }

    fn bound(&self) -> Option<Bound<'_>> {
        self.verdict.decisive()?.bound(super::judge::is_param)
    }

    /// A figure or parameter by name. The one that broke its bound is shown with enough digits to be told from it.
    fn slot(&self, slot: Slot) -> String {
        let same = |side: &crate::expr::Side| side.name.map(Slot::of) == Some(slot);
        if let Some(bound) = self.bound() {
            if same(bound.figure) {
                return self.figure_text(&bound);
            }
            if same(bound.bound) {
                return self.limit_text(&bound);
            }
        }
        match slot {
            Slot::Param(at) => match self.rule.params.get(at) {
                Some(param) => self.number(param.value, param.kind, param.unit),
                None => String::new(),
            },
            Slot::Figure(at) => {
                let Some(figure) = figures().get(at) else { return String::new() };
                match figure.of(self.load, self.subject) {
                    Err(_) => "an unknown value".to_owned(),
                    Ok(reading) => match reading.value {
                        Value::Number(si) => self.number(si, figure.measures.kind(), reading.unit),
                        Value::Text(text) => text.to_string(),
                        Value::Flag(flag) => if flag { "yes" } else { "no" }.to_owned(),
                    },
                }
            }
        }
    }

    fn figure_text(&self, bound: &Bound<'_>) -> String {
        let Some(kind) = bound.figure.dim.kind().filter(|_| !counts(bound)) else { return plain(bound.value) };
        if bound.figure.name.is_some_and(|slot| self.is_open(Slot::of(slot))) {
            return format!("at least {}", show_apart(bound.value, bound.at, kind, self.system));
        }
        let written = bound.figure.name.and_then(|slot| self.written(Slot::of(slot)));
        match written {
            Some(unit) => self.number(bound.value, Some(kind), Some(unit)),
            None => show_apart(bound.value, bound.at, kind, self.system),
        }
    }

    fn limit_text(&self, bound: &Bound<'_>) -> String {
        if counts(bound) {
            return plain(bound.limit.whole(bound.at));
        }
        let Some(kind) = bound.bound.dim.kind() else { return plain(bound.at) };
        let written = bound.bound.name.and_then(|slot| self.written(Slot::of(slot)));
        match written {
            Some(unit) => self.number(bound.at, Some(kind), Some(unit)),
            None => show_apart(bound.at, bound.value, kind, self.system),
        }
    }

    /// Whether a figure is only the least that is known: of a wheel where left and right are not.
    fn is_open(&self, slot: Slot) -> bool {
        let Slot::Figure(at) = slot else { return false };
        let figure = figures().get(at).filter(|figure| figure.of.contains(&Each::Wheel));
        let reading = figure.and_then(|figure| figure.of(self.load, self.subject).ok());
        reading.is_some_and(|reading| reading.open.is_some())
            && self.load.rig.as_ref().is_ok_and(|rig| rig.sides.is_err())
    }

    /// The unit in which a name's entry is written.
    fn written(&self, slot: Slot) -> Option<&'static Unit> {
        match slot {
            Slot::Param(at) => self.rule.params.get(at)?.unit,
            Slot::Figure(at) => figures().get(at)?.of(self.load, self.subject).ok()?.unit,
        }
    }

    /// A number; an entry as it was written, and converted beside it when the reader thinks in the other system.
    fn number(&self, si: f64, kind: Option<Kind>, unit: Option<&'static Unit>) -> String {
        let Some(kind) = kind else { return plain(si) };
        match unit {
            None => show(si, kind, self.system),
            Some(unit) if unit.us == (self.system == System::Us) || matches!(kind, Kind::Share | Kind::Angle) => {
                show_in(si, unit)
            }
            Some(unit) => format!("{} ({})", show_in(si, unit), show(si, kind, self.system)),
        }
    }
}

/// Whether a bound is one of a figure that counts something.
fn counts(bound: &Bound<'_>) -> bool {
    bound.figure.name.and_then(slot_figure).is_some_and(|figure| figure.measures == Measures::Count)
}

fn plain(number: f64) -> String {
    let text = format!("{number:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
