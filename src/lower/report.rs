//! What is missing or doubled in a way that its word alone does not tell.

use super::add::{property, sketch};
use super::around::Around;
use super::missing::lower_first;
use super::seen::Seen;
use crate::finding::{Finding, Fix, Level};
use crate::model::Slot;
use crate::text::Span;
use crate::units::Length;

/// Takes the findings of the readers.
pub(super) struct Report<'f> {
    pub(super) findings: &'f mut Vec<Finding>,
    pub(super) around: &'f Around<'f>,
}

impl Report<'_> {
    /// An axle of two is missing.
    pub(super) fn lacks_axle(&mut self, seen: &Seen<'_>, end: &str) {
        let message = format!("{} lacks its {end} axle", seen.label());
        let weighed = seen.word.child("axle").and_then(|axle| axle.word.prop("weighed"));
        let weighed = weighed.map_or_else(String::new, |prop| property(prop, self.around.system()));
        let help = format!("add axle \"{end}\" {weighed} in its braces");
        self.push("missing-entry", seen.place(), message, help);
    }

    /// A node is missing.
    pub(super) fn lacks(&mut self, seen: &Seen<'_>, name: &str) {
        let Some(child) = seen.word.child(name) else {
            return;
        };
        let message = format!("{} lacks `{name}`: {}", seen.label(), lower_first(child.word.doc));
        self.push(
            "missing-entry",
            seen.place(),
            message,
            format!("add {} in its braces", sketch(child.word, self.around.system())),
        );
    }

    /// A machine with neither wheels nor tracks.
    pub(super) fn stands_on_nothing(&mut self, seen: &Seen<'_>) {
        let message = format!("{} has neither axles nor tracks, so its weight is not known", seen.label());
        let help = "add both axles as weighed and the wheelbase, or weight, cg and tracks";
        self.push("missing-entry", seen.place(), message, help.to_owned());
    }

    /// Neither gap.
    pub(super) fn not_placed(&mut self, seen: &Seen<'_>) {
        let message = format!("nothing says where {} stands along the deck", seen.label());
        let gap = |name| {
            let prop = seen.word.prop(name);
            prop.map_or_else(String::new, |prop| property(prop, self.around.system()))
        };
        let (front, rear) = (gap("front-gap"), gap("rear-gap"));
        let help = format!("add {front} from the deck's front edge, or {rear} from its rear edge");
        self.push("not-placed", seen.place(), message, help);
    }

    /// Both gaps.
    pub(super) fn placed_twice(&mut self, seen: &Seen<'_>, front: Span, rear: Span) {
        let (first, second) = if front < rear { (front, rear) } else { (rear, front) };
        let message = format!("{} is placed twice, from the deck's front and from its rear", seen.label());
        let finding = Finding::new("placed-twice", Level::Error, second, message)
            .label(first, "placed here already")
            .help("keep the one that was measured and delete the other");
        self.findings.push(finding);
    }

    /// Two forms of the same entry that differ.
    pub(super) fn same(&mut self, inner: &Slot<Length>, outer: &Slot<Length>, name: &str, word: &str) {
        if let (Some(inner), Some(outer)) = (inner.entry(), outer.entry())
            && (inner.value.si() - outer.value.si()).abs() > 1e-6
        {
            let message = format!("`{word}` and `cg {name}=` say the same thing and differ");
            let finding = Finding::new("does-not-add-up", Level::Error, outer.at, message)
                .label(inner.at, "the other one")
                .help(format!("delete `{word}` or `{name}=`"));
            self.findings.push(finding);
        }
    }

    fn push(&mut self, rule: &'static str, span: Span, message: String, help: String) {
        self.findings.push(Finding::new(rule, Level::Error, span, message).fix(Fix::advice(help)));
    }
}
