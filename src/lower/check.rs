//! A node of the tree against its word: every fault of one node that can be told without knowing the others.

use std::sync::Arc;

use super::around::Around;
use super::behind::{Behind, unit_after, unit_first};
use super::first::First;
use super::instead::own_entry;
use super::missing::missing;
use super::seen::{Leaf, Seen};
use super::unknown::{Form, unknown};
use super::value::{Got, read};
use super::words::{Child, ORIGIN, PLUS_MINUS, Takes, Value as Arg, Word};
use super::write::{number, without_annotation, without_entry};
use crate::finding::{Edit, Finding, Fix, Level};
use crate::model::{Choice, Origin};
use crate::syntax::{Entry, Node, Value};
use crate::text::{Span, is_hidden, nearest};
use crate::units::{Kind, annotation};

/// Checks a node and everything in it.
pub(super) fn check<'t>(
    node: &'t Node,
    word: &'static Word,
    around: &Around<'_>,
    findings: &mut Vec<Finding>,
) -> Seen<'t> {
    let mut seen = Seen {
        word,
        node,
        leaves: Vec::with_capacity(node.entries.len()),
        params: Vec::new(),
        children: Vec::new(),
        broken: Vec::new(),
        lost: !node.lost.is_empty(),
        origin: None,
        spread: None,
    };
    let mut pass = Pass { seen: &mut seen, around, findings, unit_before: false, unknown_words: 0, unsure: false };
    pass.annotation();
    pass.entries();
    pass.spread();
    pass.children();
    let unsure = pass.unsure;
    // It has been said, so what rests on it need not say it again.
    let missed = missing(&seen, around, findings);
    seen.broken.extend(missed);
    seen.lost |= unsure;
    seen
}

struct Pass<'p, 't> {
    seen: &'p mut Seen<'t>,
    around: &'p Around<'p>,
    findings: &'p mut Vec<Finding>,
    /// The unit stands before the node's name, so its value has none.
    unit_before: bool,
    unknown_words: usize,
    /// One of several nodes alike could not be read, so that what the others say is not all.
    unsure: bool,
}

/// How many unknown words of one node are listed: more than that is a file of another sort.
const LISTED: usize = 20;

/// After so many findings in one file no help is sought for further unknown words: it is a file of another sort.
const HELPED: usize = 400;

impl<'t> Pass<'_, 't> {
    fn error(&mut self, rule: &'static str, span: Span, message: String, help: impl Into<String>) {
        self.findings.push(Finding::new(rule, Level::Error, span, message).help(help));
    }

    /// An annotation before the node's name.
    fn annotation(&mut self) {
        let Some(ty) = &self.seen.node.ty else {
            return;
        };
        let word = self.seen.word;
        let takes_unit = word.args.first().is_some_and(|arg| arg.takes.kind().is_some());
        let value = self.seen.node.arguments().next().filter(|value| takes_unit && value.ty.is_none());
        let gone = without_annotation(ty.span, self.seen.node.span, self.seen.node.name.span);
        let (help, moved) = match value {
            Some(value) => {
                self.unit_before = true;
                let unit = annotation(&ty.text);
                let help = format!("write {} {unit}{}", word.name, number(&value.value));
                (help, Some(Edit::before(value.value_span, unit)))
            }
            None => (format!("write {} without it", word.name), None),
        };
        let message = format!("a unit stands before its number, and ({}) stands before a word", ty.text);
        let finding = Finding::new("unit-wrong", Level::Error, ty.span, message);
        let edits = gone.map(|gone| std::iter::once(gone).chain(moved).collect());
        self.findings.push(finding.notation(help, edits.unwrap_or_default()));
    }

    fn entries(&mut self) {
        let node = self.seen.node;
        let word = self.seen.word;
        let mut arguments = 0;
        let mut surplus = false;
        let mut keys = Keys::new();
        let mut entries = node.entries.iter().peekable();
        while let Some(entry) = entries.next() {
            // `weighed=4360 lb`: the unit stands after its number.
            let after = entries.peek().copied().and_then(|next| unit_after(entry, next));
            let swallowed = if entry.key.is_some() {
                self.property(entry, &mut keys, after)
            } else {
                let arg = word.args.get(arguments).or(word.args.last().filter(|last| last.occurs.repeats()));
                arguments += 1;
                if let Some(arg) = arg {
                    let at = if word.is_entry() { node.head } else { entry.span };
                    self.argument(entry, arg, at, after)
                } else {
                    if !surplus {
                        self.surplus(entry);
                    }
                    surplus = true;
                    false
                }
            };
            if swallowed {
                entries.next();
            }
        }
    }

    /// A value that nothing here takes. It may be any of the entries whose key was left out.
    fn surplus(&mut self, entry: &Entry) {
        let word = self.seen.word;
        let written = super::write::typed(entry);
        let (message, help) = if word.args.is_empty() {
            (format!("`{}` takes no value without a key", word.name), props(word))
        } else {
            (format!("`{}` has no place for {written}", word.name), props(word))
        };
        self.seen.lost = true;
        self.error("unknown-word", entry.span, message, help.unwrap_or_else(|| format!("delete {written}")));
    }

    fn argument(&mut self, entry: &Entry, arg: &'static Arg, at: Span, after: Option<Behind>) -> bool {
        let word = self.seen.word;
        // An entry written as a node goes by the name of the node.
        let name = if word.is_entry() { word.name } else { arg.name };
        let calm = self.unit_before && arg.takes.kind().is_some();
        if calm {
            self.seen.broken.push(arg.name);
            return false;
        }
        self.value(entry, arg, name, at, after)
    }

    /// Reads a value; whether the entry after it was its unit.
    fn value(&mut self, entry: &Entry, arg: &'static Arg, name: &str, at: Span, after: Option<Behind>) -> bool {
        let limit = matches!(arg.takes, Takes::Quantity { limit: true, .. });
        match read(entry, name, arg.takes) {
            Ok((got, unit)) => {
                self.seen.leaves.push((arg.name, Leaf { got, at, written: entry.typed_span, unit, limit }));
                false
            }
            Err(mut error) => {
                self.seen.broken.push(arg.name);
                if let Some(fix) = own_entry(self.seen.word, entry) {
                    error = error.fix(fix);
                }
                let missing = error.rule == "unit-missing";
                let swallow = after.filter(|_| missing);
                if let (true, None, Some(kind)) = (missing, swallow, arg.takes.kind())
                    && let Some(unit) = self.around.only_unit(self.seen.word, name, kind)
                {
                    error = error.with_unit_of_all(entry, kind, unit);
                }
                if !told(entry) {
                    self.findings.push(unit_first(error, entry, swallow, arg.takes.kind()).finding());
                }
                swallow.is_some()
            }
        }
    }

    fn property(&mut self, entry: &'t Entry, keys: &mut Keys<'t>, after: Option<Behind>) -> bool {
        let word = self.seen.word;
        let Some((key, span)) = entry.key.as_ref().map(|key| (&*key.text, key.span)) else {
            return false;
        };
        let first = keys.place(key, entry.span);
        if first != entry.span {
            self.twice(entry.span, first, format!("`{key}` is written twice on this line"));
            let node = self.seen.node;
            let alike = |other: &Entry| {
                let unit = |one: &Entry| one.ty.as_ref().map(|ty| ty.text.clone());
                other.span == first && other.value == entry.value && unit(other) == unit(entry)
            };
            // Where both say the same it does not matter which goes. A line without end is not looked through for each.
            if node.entries.len() <= LISTED
                && node.entries.iter().any(alike)
                && let Some(finding) = self.findings.last_mut()
            {
                let title = finding.help.clone().unwrap_or_default();
                finding.fixes.push(Fix::notation(title, vec![without_entry(node, entry)]));
            }
        }
        if let Some(prop) = word.prop(key) {
            return self.value(entry, prop, prop.name, entry.span, after);
        }
        if word.has_quantity() {
            if key == ORIGIN.name {
                match read(entry, key, ORIGIN.takes) {
                    Ok((Got::Choice(at), _)) => self.seen.origin = Origin::ALL.get(at).copied(),
                    Ok(_) => {}
                    Err(error) => self.findings.push(error.finding()),
                }
                return false;
            }
            if key == PLUS_MINUS.name {
                return self.plus_minus(entry, after);
            }
        }
        if word.open {
            self.parameter(entry, key, span);
            return false;
        }
        self.unknown(key, span, Form::Property(entry));
        // A unit after a number whose key is unknown is no further fault.
        after.is_some()
    }

    fn plus_minus(&mut self, entry: &Entry, after: Option<Behind>) -> bool {
        match read(entry, PLUS_MINUS.name, PLUS_MINUS.takes) {
            Ok((Got::Number(half, Some(kind)), _)) => {
                self.seen.spread = Some((half, kind));
                false
            }
            Ok(_) => false,
            Err(error) => {
                let swallow = after.filter(|_| error.rule == "unit-missing");
                self.findings.push(unit_first(error, entry, swallow, None).finding());
                swallow.is_some()
            }
        }
    }

    /// A parameter of a rule, whose name the rule knows. No parameter is a word or a yes or no: those are slips of the
    /// node's own keys.
    fn parameter(&mut self, entry: &'t Entry, key: &'t str, span: Span) {
        let own = self.seen.word.props.iter().map(|prop| prop.name);
        if matches!(entry.value, Value::Text(_) | Value::Bool(_)) && nearest(key, own).is_some() {
            self.unknown(key, span, Form::Property(entry));
            return;
        }
        match read(entry, key, Takes::Number) {
            Ok((got, unit)) => {
                let leaf = Leaf { got, at: entry.span, written: span, unit, limit: true };
                self.seen.params.push((std::sync::Arc::from(key), leaf));
            }
            Err(error) => self.findings.push(error.finding()),
        }
    }

    /// Whether what the numbers can be off has the kind of one of them.
    fn spread(&mut self) {
        let Some((_, kind)) = self.seen.spread else {
            return;
        };
        let word = self.seen.word;
        let fits = |takes: Takes| takes.kind().is_some_and(|own| own == kind);
        if kind == Kind::Share || word.args.iter().chain(word.props).any(|value| fits(value.takes)) {
            return;
        }
        self.seen.spread = None;
        let entry = self.seen.node.properties().find(|(key, _)| *key.text == *PLUS_MINUS.name);
        if let Some((_, entry)) = entry {
            let span = entry.ty.as_ref().map_or(entry.typed_span, |ty| ty.span);
            let message = format!("no number on this line is {}", super::number::a(kind));
            self.error("unit-wrong", span, message, "write it in the unit of the numbers, or as a share in pct");
        }
    }

    fn children(&mut self) {
        let word = self.seen.word;
        let Some(nodes) = &self.seen.node.children else {
            return;
        };
        self.seen.children.reserve(nodes.len());
        let mut firsts = Firsts::new();
        for node in nodes {
            let Some(child) = word.child(&node.name.text) else {
                self.unknown_child(node);
                continue;
            };
            let first = firsts.place((child.word.name, Which::Any), node.head);
            if !child.occurs.repeats() && first != node.head {
                self.twice(node.head, first, format!("`{}` is written twice", child.word.name));
                if let Some(finding) = self.findings.last_mut().filter(|_| child.word.name == "hitch") {
                    let help = "a truck here has one hitch: write a second truck for the other";
                    finding.help = Some(help.to_owned());
                }
                continue;
            }
            let seen = check(node, child.word, self.around, self.findings);
            self.distinct(&seen, child, &mut firsts);
            // Without its name it cannot be kept.
            let named =
                child.word.args.first().is_none_or(|arg| !arg.occurs.required() || seen.leaf(arg.name).is_some());
            self.unsure |= child.occurs.repeats() && !named;
            self.seen.children.push(seen);
        }
    }

    fn twice(&mut self, span: Span, first: Span, message: String) {
        let finding = Finding::new("name-twice", Level::Error, span, message)
            .label(first, "first written here")
            .help("delete one of them");
        self.findings.push(finding);
    }

    /// Whether another node of the same word says by its first argument that it is the same.
    fn distinct(&mut self, seen: &Seen<'t>, child: &'static Child, firsts: &mut Firsts) {
        let Some(leaf) = seen.first().filter(|_| child.word.distinct) else {
            return;
        };
        let which = match &leaf.got {
            Got::Text(text) => Which::Name(Arc::clone(text)),
            Got::Choice(at) => Which::Choice(*at),
            _ => return,
        };
        let first = firsts.place((child.word.name, which), leaf.at);
        if first != leaf.at {
            self.twice(leaf.at, first, format!("{} is written twice", seen.label()));
        }
    }

    fn unknown(&mut self, written: &str, span: Span, form: Form<'t>) {
        self.unknown_words += 1;
        if self.unknown_words > LISTED {
            return;
        }
        if self.findings.len() > HELPED {
            let message = format!("{} is not known here", crate::text::quoted(written));
            self.findings.push(Finding::new("unknown-word", Level::Error, span, message));
            return;
        }
        let (finding, meant) = unknown(self.seen, self.around, written, span, form);
        if !written.contains(is_hidden) {
            self.findings.push(finding);
        }
        self.seen.broken.extend(meant);
    }

    fn unknown_child(&mut self, node: &'t Node) {
        let before = self.seen.broken.len();
        self.unknown(&node.name.text, node.name.span, Form::Child(node));
        // It may be any node of this word; when a single one was meant, that one is broken and the rest stands.
        let meant = self.seen.broken.get(before).and_then(|meant| self.seen.word.child(meant));
        let single = self.seen.broken.len() > before && meant.is_none_or(|child| !child.occurs.repeats());
        self.unsure |= !single;
    }
}

/// Whether a text holds a character that cannot be seen: the syntax has told it, and it is what is wrong with the text.
fn told(entry: &Entry) -> bool {
    matches!(&entry.value, Value::Text(text) if text.contains(is_hidden))
        || entry.ty.as_ref().is_some_and(|ty| ty.text.contains(is_hidden))
}

/// Where each key of a line stands first.
type Keys<'t> = First<&'t str>;

/// Where each word of a node stands first, by what tells it from its like.
type Firsts = First<(&'static str, Which)>;

#[derive(PartialEq, Eq, Hash)]
enum Which {
    Any,
    Name(Arc<str>),
    Choice(usize),
}

/// What a word takes on its line, when that is not too much to list.
fn props(word: &Word) -> Option<String> {
    let names: Vec<&str> = word.props.iter().map(|prop| prop.name).collect();
    (1..=8).contains(&names.len()).then(|| format!("write its key before it: {}", crate::text::either(&names)))
}
