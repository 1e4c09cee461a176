//! A word that is not known where it stands: what was meant.

use super::add::sketch;
use super::around::Around;
use super::instead::{instead, nothing_further};
use super::seen::Seen;
use super::words::{ORIGIN, PLUS_MINUS, WORDS, Word};
use super::write::{as_written, renamed, typed, without_entry};
use crate::finding::{Edit, Finding, Level};
use crate::syntax::{Entry, Node, Value};
use crate::text::{Span, closest, either, only_near, quoted};

/// How a word stands in a node.
#[derive(Clone, Copy)]
pub(super) enum Form<'t> {
    /// `key=value` on its line.
    Property(&'t Entry),
    /// A node in its braces.
    Child(&'t Node),
}

impl<'t> Form<'t> {
    /// The value that it has.
    pub(super) fn value(self) -> Option<&'t Entry> {
        match self {
            Self::Property(entry) => Some(entry),
            Self::Child(node) => node.entries.first(),
        }
    }

    /// Whether anything would be lost with it.
    pub(super) fn carries(self) -> bool {
        match self {
            Self::Property(_) => true,
            Self::Child(node) => !node.entries.is_empty() || node.children().next().is_some(),
        }
    }
}

/// The finding for an unknown word, and the known one that was meant, when it is not there otherwise.
pub(super) fn unknown(
    seen: &Seen<'_>,
    around: &Around<'_>,
    written: &str,
    span: Span,
    form: Form<'_>,
) -> (Finding, Option<&'static str>) {
    let here = seen.label();
    let finding = |message: String| Finding::new("unknown-word", Level::Error, span, message);
    let no_such = || finding(format!("`{}` is no word of {here}", short(written)));
    if let Some(known) = known_here(seen.word, written) {
        // Known, but in the other form.
        let (message, help) = match form {
            Form::Property(_) => (
                format!("`{known}` stands in the braces of {here}, not on its line"),
                format!("write it as a child: {}", rewritten(seen.word, around, known, form)),
            ),
            Form::Child(_) => (
                format!("`{known}` stands on the line of {here}, not in its braces"),
                format!("write it on that line: {}", rewritten(seen.word, around, known, form)),
            ),
        };
        let edits = into_braces(seen, known, form).unwrap_or_default();
        return (finding(message).notation(help, edits), (!in_right_form(seen, known, form)).then_some(known));
    }
    if written == ORIGIN.name || written == PLUS_MINUS.name {
        let message = format!("`{written}` says how well numbers are known, and {here} has none on its line");
        return (finding(message).help("write it on the line of the numbers that it is about"), None);
    }
    if let Some((help, edits)) = instead(seen.word, written, span, form) {
        let free = written.strip_suffix("right").is_some_and(|side| free_side(seen, side));
        return (no_such().notation(help, if free { edits } else { Vec::new() }), None);
    }
    let near = closest(written, names(seen.word));
    let belongs = owners(written);
    if let Some((known, far)) = near
        && (far <= 1 || belongs.is_empty())
        && let Some(known) = known_here(seen.word, known)
    {
        let help = format!("write `{}`", rewritten(seen.word, around, known, form));
        let meant = free(seen, known);
        let same_form = match form {
            Form::Property(_) => seen.word.child(known).is_none(),
            Form::Child(_) => seen.word.child(known).is_some(),
        };
        // Once more where it stands already would be no mend, unless it may stand several times.
        let fits = meant.is_some() || seen.word.child(known).is_some_and(|child| child.occurs.repeats());
        let certain = same_form && fits && belongs.is_empty() && only_near(written, names(seen.word)) == Some(known);
        let edit = certain.then(|| renamed(written, span, known));
        return (no_such().notation(help, edit.into_iter().collect()), meant);
    }
    if !belongs.is_empty() {
        let help = if belongs.contains(&"") {
            format!("write `{written}` at the top level of a file")
        } else {
            format!("move it to {}, where it belongs", either(&belongs))
        };
        return (no_such().help(help), None);
    }
    let known: Vec<&str> = names(seen.word).filter(|name| ![ORIGIN.name, PLUS_MINUS.name].contains(name)).collect();
    let help = match known.as_slice() {
        [] => nothing_further(seen.word, form),
        known => format!("write one of its words: {}", either(known)),
    };
    (no_such().help(help), None)
}

/// The finding for a top-level word, and the known one that was meant; nothing when it is near to none.
pub(super) fn unknown_top(node: &Node) -> Option<(Finding, Option<&'static Word>)> {
    let written = &node.name.text;
    let finding = Finding::new(
        "unknown-word",
        Level::Error,
        node.name.span,
        format!("`{}` is no word of a load sheet's top level", short(written)),
    );
    let near = closest(written, WORDS.iter().map(|word| word.name));
    let belongs = owners(written);
    match near {
        Some((known, far)) if far <= 1 || belongs.is_empty() => {
            let word = WORDS.into_iter().find(|word| word.name == known);
            let help = format!("write `{known}`");
            let certain = belongs.is_empty() && only_near(written, WORDS.iter().map(|word| word.name)) == Some(known);
            let edit = certain.then(|| renamed(written, node.name.span, known));
            Some((finding.notation(help, edit.into_iter().collect()), word))
        }
        _ if !belongs.is_empty() => {
            Some((finding.help(format!("move it to {}, where it belongs", either(&belongs))), None))
        }
        _ => None,
    }
}

fn short(written: &str) -> String {
    let quoted = quoted(written);
    quoted.trim_matches('"').to_owned()
}

/// Every name that a node takes, on its line and in its braces.
fn names(word: &'static Word) -> impl Iterator<Item = &'static str> {
    let own = word.props.iter().map(|prop| prop.name).chain(word.inner().map(|child| child.word.name));
    own.chain([ORIGIN.name, PLUS_MINUS.name].into_iter().filter(|_| word.has_quantity()))
}

fn known_here(word: &'static Word, name: &str) -> Option<&'static str> {
    names(word).find(|known| *known == name)
}

/// The word, unless it stands there in its right form too.
fn free(seen: &Seen<'_>, known: &'static str) -> Option<&'static str> {
    let there = seen.leaf(known).is_some()
        || seen.child(known).is_some()
        || seen.node.properties().any(|(key, _)| *key.text == *known);
    (!there).then_some(known)
}

/// Whether a word that stands here in the wrong form stands in the right one too.
fn in_right_form(seen: &Seen<'_>, known: &str, form: Form<'_>) -> bool {
    match form {
        Form::Property(_) => seen.node.children().any(|child| *child.name.text == *known),
        Form::Child(_) => seen.node.properties().any(|(key, _)| *key.text == *known),
    }
}

/// `truck "rook" gvwr=(lb)14000 {`: the entry before the first node in the braces, where there is one.
fn into_braces(seen: &Seen<'_>, known: &'static str, form: Form<'_>) -> Option<Vec<Edit>> {
    let Form::Property(entry) = form else { return None };
    let (child, first) = (seen.word.child(known)?, seen.node.children().next()?);
    let exact = match &entry.value {
        Value::Text(text) => text.len() < 40 && text.chars().all(|c| c.is_ascii_alphanumeric() || " -_.,/".contains(c)),
        _ => as_written(entry).is_some(),
    };
    let once = seen.node.properties().filter(|(key, _)| *key.text == *known).count() == 1;
    if !exact || !once || !child.word.is_entry() || in_right_form(seen, known, form) || !seen.node.is_whole() {
        return None;
    }
    let node = format!("{known} {}; ", typed(entry));
    Some(vec![without_entry(seen.node, entry), Edit::before(first.span, node)])
}

/// Whether nothing says yet how far left it stands.
fn free_side(seen: &Seen<'_>, side: &str) -> bool {
    known_here(seen.word, &format!("{side}left")).is_some_and(|known| free(seen, known).is_some())
}

/// How the entry should be written: as a property or as a node, with the value that it has.
fn rewritten(word: &'static Word, around: &Around<'_>, known: &'static str, form: Form<'_>) -> String {
    let value = form.value().map(typed);
    match (word.child(known), value) {
        (Some(child), Some(value)) if !child.word.args.is_empty() => format!("{known} {value}"),
        (Some(_), _) if matches!(form, Form::Child(_)) => known.to_owned(),
        (Some(child), _) => sketch(child.word, around.system()),
        (None, Some(value)) => format!("{known}={value}"),
        (None, None) => format!("{known}=…"),
    }
}

/// The words in which this one stands, each once; an empty name for the top level.
fn owners(name: &str) -> Vec<&'static str> {
    fn walk(word: &'static Word, name: &str, out: &mut Vec<&'static str>) {
        if known_here(word, name).is_some() && !out.contains(&word.name) {
            out.push(word.name);
        }
        for child in word.inner() {
            walk(child.word, name, out);
        }
    }
    let mut out = Vec::new();
    for word in WORDS {
        walk(word, name, &mut out);
    }
    if WORDS.iter().any(|word| word.name == name) && out.is_empty() {
        out.push("");
    }
    out
}
