//! One file to what it defines.

use std::sync::Arc;

use super::around::{Around, Whole};
use super::check::check;
use super::read_gear::{friction, material, tiedown};
use super::read_machine::{attachment, machine};
use super::read_sheet::sheet;
use super::read_trailer::trailer;
use super::read_truck::truck;
use super::read_yard::settings;
use super::report::Report;
use super::seen::Seen;
use super::unknown::unknown_top;
use super::words::{Named, Takes, WORDS, Word};
use crate::finding::{Finding, Level};
use crate::model::{Attachment, Friction, Machine, Material, Settings, Sheet, Tiedown, Trailer, Truck};
use crate::syntax::{Document, Node, Value};
use crate::text::is_hidden;

/// Everything one file defines.
#[derive(Clone, Debug, Default)]
pub struct FileDefs {
    /// The yard's settings; only from its `yard.kdl`.
    pub settings: Option<Settings>,
    /// Trucks.
    pub trucks: Vec<Truck>,
    /// Trailers.
    pub trailers: Vec<Trailer>,
    /// Machines.
    pub machines: Vec<Machine>,
    /// Attachments.
    pub attachments: Vec<Attachment>,
    /// Materials.
    pub materials: Vec<Material>,
    /// How well one thing grips another.
    pub frictions: Vec<Friction>,
    /// Tie-downs.
    pub tiedowns: Vec<Tiedown>,
    /// Sheets.
    pub sheets: Vec<Sheet>,
    /// What is wrong with its entries, in the order of the text.
    pub findings: Vec<Finding>,
    /// It has at least one known top-level word, or one so near to it that it must be meant.
    pub ours: bool,
    /// Definitions that could not be read: of which sort, and under which id, as far as that can be told.
    pub unread: Vec<Unread>,
    /// Trailers, machines and attachments not all of whose anchors or lash points could be read.
    pub unsure_places: Vec<(Named, Arc<str>)>,
    /// Some sheet of this file could not be read whole, so not all that it says is known.
    pub uses_unsure: bool,
    /// Some sheet of this file is not even known node by node, so what it uses is not known.
    pub uses_lost: bool,
    /// Every text in sheets with a fault: each may name what the sheet was meant to use.
    pub mentions: Vec<Arc<str>>,
}

/// A definition that could not be read. It has been reported; a name that may be its own does not count as unknown.
#[derive(Clone, Debug, PartialEq)]
pub struct Unread {
    /// What it defines; none when that cannot be told.
    pub what: Option<Named>,
    /// Its id; none when that cannot be told.
    pub id: Option<Arc<str>>,
}

impl FileDefs {
    /// What is known of a file that could not be read at all.
    #[must_use]
    pub fn unreadable() -> Self {
        let unread = vec![Unread { what: None, id: None }];
        Self { unread, uses_unsure: true, uses_lost: true, ..Self::default() }
    }

    /// The same definitions without those whose id another file defines too, and without settings where that file has
    /// some: that file's stand in their place.
    #[must_use]
    pub fn without(&self, other: &Self) -> Self {
        let mut left = self.clone();
        if other.settings.is_some() {
            left.settings = None;
        }
        left.trucks.retain(|one| other.trucks.iter().all(|its| its.id.value != one.id.value));
        left.trailers.retain(|one| other.trailers.iter().all(|its| its.id.value != one.id.value));
        left.machines.retain(|one| other.machines.iter().all(|its| its.id.value != one.id.value));
        left.attachments.retain(|one| other.attachments.iter().all(|its| its.id.value != one.id.value));
        left.materials.retain(|one| other.materials.iter().all(|its| its.id.value != one.id.value));
        left.frictions.retain(|one| other.frictions.iter().all(|its| its.pair() != one.pair()));
        left.tiedowns.retain(|one| other.tiedowns.iter().all(|its| its.id.value != one.id.value));
        left
    }
}

/// Reads a file's tree. `is_yard_file` is set for the `yard.kdl` at the yard's root, the only one with settings. A
/// `rule` node counts as ours and is left alone. Files do not know one another: this may run in parallel.
#[must_use]
pub fn lower_file(doc: &Document, is_yard_file: bool) -> FileDefs {
    let mut file = FileDefs::default();
    let mut strangers: Vec<&Node> = Vec::new();
    let whole = Whole::new(&doc.nodes);
    for node in &doc.nodes {
        match WORDS.into_iter().find(|word| word.name == &*node.name.text) {
            Some(word) => file.define(&whole, node, word, is_yard_file),
            None => strangers.push(node),
        }
    }
    for lost in &doc.lost {
        // `truck:` was meant as `truck`; the syntax has said so.
        let name = lost.name.as_deref().map(|name| name.trim_end_matches(':'));
        let what = name.and_then(|name| WORDS.into_iter().find(|word| word.name == name));
        file.ours |= what.is_some();
        let maybe_sheet = what.is_none_or(|word| word.name == "sheet");
        file.uses_unsure |= maybe_sheet;
        file.uses_lost |= maybe_sheet;
        // The id of a `rule` or `yard` is no one's reference.
        file.unread.push(Unread { what: what.and_then(named), id: lost.id.clone() });
    }
    file.strangers(&strangers);
    file.findings.sort_by_key(|finding| finding.primary.span);
    file
}

/// What a top-level word defines.
fn named(word: &Word) -> Option<Named> {
    match word.args.first()?.takes {
        Takes::Id(named) => Some(named),
        _ => None,
    }
}

impl FileDefs {
    fn define<'t>(&mut self, whole: &'t Whole<'t>, node: &'t Node, word: &'static Word, is_yard_file: bool) {
        self.ours = true;
        match word.name {
            "rule" => return,
            "yard" if !is_yard_file => {
                let message = "`yard` stands only in the yard.kdl at the yard's root";
                let help = "move it to yard.kdl, or delete it";
                self.findings.push(Finding::new("unknown-word", Level::Error, node.name.span, message).help(help));
                return;
            }
            "yard" if self.settings.is_some() => {
                let first = self.settings.as_ref().and_then(|settings| settings.owner.as_ref()).map(|owner| owner.at);
                let finding = Finding::new("name-twice", Level::Error, node.head, "`yard` is written twice");
                let finding = match first {
                    Some(first) => finding.label(first, "first written here"),
                    None => finding,
                };
                self.findings.push(finding.help("keep one of them, with the settings of both"));
                return;
            }
            _ => {}
        }
        let before = self.findings.len();
        let around = whole.around(node, word);
        let seen = check(node, word, &around, &mut self.findings);
        if !self.read(&seen, &around) {
            let id = None;
            self.unread.push(Unread { what: named(word), id });
        }
        self.places(&seen, word);
        if word.name == "sheet" {
            self.belongs_to(&seen, before);
        }
        if word.name == "sheet" && (self.findings.len() > before || !node.is_whole()) {
            self.uses_unsure = true;
            // Where there are only these faults, every name still stands in the text.
            let readable = |finding: &Finding| ["unknown-word", "unit-missing", "unit-wrong"].contains(&&*finding.rule);
            let hides_none = self.findings.iter().skip(before).all(readable);
            self.uses_lost |= !node.is_whole() || !hides_none;
            mentions(node, &mut self.mentions);
        }
    }

    /// Says of the newest findings which sheet and leg they belong to.
    fn belongs_to(&mut self, seen: &Seen<'_>, before: usize) {
        let name = |seen: &Seen<'_>| seen.name().map(|name| name.value);
        let sheet = name(seen);
        for finding in self.findings.iter_mut().skip(before) {
            let leg = seen.children("leg").find(|leg| leg.node.span.holds(finding.primary.span));
            finding.sheet.clone_from(&sheet);
            finding.leg = leg.and_then(name);
        }
    }

    /// Whether some anchor or lash point of a definition could not be read.
    fn places(&mut self, seen: &Seen<'_>, word: &'static Word) {
        let hidden = |place: &str| {
            word.child(place).is_some()
                && (seen.lost || seen.is_broken(place) || seen.children(place).any(|one| one.name().is_none()))
        };
        if let (true, Some(what), Some(id)) = (hidden("anchor") || hidden("lash-point"), named(word), seen.name()) {
            self.unsure_places.push((what, id.value));
        }
    }

    /// Whether the node could be read under an id.
    fn read(&mut self, seen: &Seen<'_>, around: &Around<'_>) -> bool {
        let mut report = Report { findings: &mut self.findings, around };
        match seen.word.name {
            "truck" => keep(&mut self.trucks, truck(seen, &mut report)),
            "trailer" => keep(&mut self.trailers, trailer(seen)),
            "machine" => keep(&mut self.machines, machine(seen, &mut report)),
            "attachment" => keep(&mut self.attachments, attachment(seen)),
            "material" => keep(&mut self.materials, material(seen)),
            "friction" => keep(&mut self.frictions, Some(friction(seen))),
            "tiedown" => keep(&mut self.tiedowns, tiedown(seen)),
            "sheet" => keep(&mut self.sheets, sheet(seen, &mut report)),
            _ => {
                self.settings = Some(settings(seen));
                true
            }
        }
    }

    /// Top-level nodes that no word names: slips when they are near to one, or stand in a file of ours.
    fn strangers(&mut self, nodes: &[&Node]) {
        let mut listed = 0;
        for node in nodes {
            let (finding, meant) = match unknown_top(node) {
                Some((finding, meant)) if meant.is_some() || self.ours => (finding, meant),
                _ if self.ours => {
                    let message = format!("{} is no word of a load sheet", crate::text::quoted(&node.name.text));
                    let finding = Finding::new("unknown-word", Level::Error, node.name.span, message);
                    let words: Vec<&str> = WORDS.iter().map(|word| word.name).collect();
                    (finding.help(format!("write {}", crate::text::either(&words))), None)
                }
                _ => continue,
            };
            self.ours |= meant.is_some();
            if let Some(word) = meant {
                let id = node.entries.first().and_then(|entry| match (&entry.key, &entry.value) {
                    (None, Value::Text(text)) => Some(Arc::clone(text)),
                    _ => None,
                });
                if word.name == "sheet" {
                    self.uses_unsure = true;
                    self.uses_lost |= !node.is_whole();
                    mentions(node, &mut self.mentions);
                }
                self.unread.push(Unread { what: named(word), id });
            }
            // A character that cannot be seen has been told.
            if listed < 20 && !node.name.text.contains(is_hidden) {
                self.findings.push(finding);
            }
            listed += 1;
        }
    }
}

/// All texts of a node and of what is in its braces.
fn mentions(node: &Node, all: &mut Vec<Arc<str>>) {
    // Nesting is bounded where the text is read.
    all.extend(node.entries.iter().filter_map(|entry| match &entry.value {
        Value::Text(text) => Some(Arc::clone(text)),
        _ => None,
    }));
    for child in node.children() {
        mentions(child, all);
    }
}

fn keep<T>(all: &mut Vec<T>, one: Option<T>) -> bool {
    let there = one.is_some();
    all.extend(one);
    there
}
