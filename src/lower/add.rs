//! How an entry that is missing would be written.

use std::fmt::Write as _;

use super::words::{Value, WORDS, Word};
use super::write::placeholder;
use crate::units::System;

/// A node with what it cannot do without. One that needs nothing shows what it takes first, one that takes nothing itself
/// what stands in its braces first.
pub(super) fn sketch(word: &Word, system: System) -> String {
    let needed = |value: &&Value| value.occurs.required();
    let (mut args, mut props): (Vec<&Value>, Vec<&Value>) =
        (word.args.iter().filter(needed).collect(), word.props.iter().filter(needed).collect());
    if args.is_empty() && props.is_empty() {
        args.extend(word.args.first());
        props.extend(word.props.first().filter(|_| word.args.is_empty()));
    }
    let bare = args.is_empty() && props.is_empty();
    let mut out = word.name.to_owned();
    // Writing to a String cannot fail.
    for arg in args {
        let _ = write!(out, " {}", placeholder(arg.takes, system));
    }
    for prop in props {
        let _ = write!(out, " {}", property(prop, system));
    }
    if let Some(first) = word.inner().next().filter(|_| bare) {
        let _ = write!(out, " {{ {} }}", sketch(first.word, system));
    }
    out
}

/// `rating=(lb)…`.
pub(super) fn property(prop: &Value, system: System) -> String {
    format!("{}={}", prop.name, placeholder(prop.takes, system))
}

/// What to do about an entry that is missing: `add rating=(lb)… to axle "rear"`. The owner and the entry are called as
/// [`Missing`](crate::model::Missing) calls them: `truck "rook" axle "rear"` and `rating`, `cg arm` or `axle "front"`.
#[must_use]
pub fn to_add(owner: &str, entry: &str, system: System) -> String {
    let nearest = nearest_of(owner);
    let form = word_of(owner).and_then(|word| form(word, entry, system));
    match form {
        Some(form) => format!("add {form} to {nearest}"),
        None => format!("add {entry} to {nearest}"),
    }
}

/// The entry as it would stand on the line or in the braces of its owner.
fn form(word: &'static Word, entry: &str, system: System) -> Option<String> {
    // Of its own outline a machine lacks the `outline width`.
    let entry = entry.strip_prefix(word.name).and_then(|own| own.strip_prefix(' ')).unwrap_or(entry);
    let (name, rest) = entry.split_once(' ').map_or((entry, None), |(name, rest)| (name, Some(rest)));
    if let Some(prop) = word.prop(name) {
        return Some(property(prop, system));
    }
    if let Some(arg) = word.args.iter().find(|arg| arg.name == name) {
        return Some(placeholder(arg.takes, system));
    }
    let child = word.child(name)?.word;
    let Some(rest) = rest else {
        return Some(sketch(child, system));
    };
    if rest.starts_with('"') {
        // Which one of its like: its first argument.
        let mut out = format!("{name} {rest}");
        for prop in child.props.iter().filter(|prop| prop.occurs.required()) {
            let _ = write!(out, " {}", property(prop, system));
        }
        return Some(out);
    }
    let inner = || child.child(rest).map(|inner| format!("{name} {{ {} }}", sketch(inner.word, system)));
    child.prop(rest).map(|prop| format!("{name} {}", property(prop, system))).or_else(inner)
}

/// The words of a path without what stands in quotes.
fn steps(path: &str) -> impl Iterator<Item = (usize, &str)> {
    let mut at = 0;
    let parts = path.split('"').enumerate().map(move |(nth, part)| {
        let start = at;
        at += part.len() + 1;
        (nth, start, part)
    });
    parts.filter(|(nth, ..)| nth % 2 == 0).flat_map(|(_, start, part)| {
        part.split(' ').scan(start, |at, word| {
            let here = *at;
            *at += word.len() + 1;
            Some((here, word))
        })
    })
}

/// The word of the node that a path leads to.
fn word_of(path: &str) -> Option<&'static Word> {
    walk(path).last().map(|(_, word)| *word)
}

/// The end of a path from the last node that has a name or number of its own: the message names the whole.
fn nearest_of(path: &str) -> &str {
    let own = |path: &str, name: &str| {
        let after = path.get(name.len()..).unwrap_or("").trim_start();
        after.starts_with(|c: char| c == '"' || c.is_ascii_digit())
    };
    let nodes = walk(path);
    let ends = nodes.iter().rev().filter_map(|(at, word)| Some((path.get(*at..)?, word)));
    ends.filter(|(end, word)| own(end, word.name)).map(|(end, _)| end).next().unwrap_or(path)
}

/// Every node of a path, with where its name begins.
fn walk(path: &str) -> Vec<(usize, &'static Word)> {
    let mut found: Vec<(usize, &'static Word)> = Vec::new();
    for (at, name) in steps(path) {
        let next = match found.last() {
            None => WORDS.into_iter().find(|word| word.name == name),
            Some((_, word)) => word.child(name).map(|child| child.word),
        };
        found.extend(next.map(|word| (at, word)));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::to_add;
    use crate::units::System;

    #[test]
    fn an_entry_that_is_missing_is_shown_as_it_would_be_written() {
        for (owner, entry, us) in [
            ("truck \"rook\" axle \"rear\"", "rating", "add rating=(lb)… to axle \"rear\""),
            ("trailer \"sled\" axle 2", "rating", "add rating=(lb)… to axle 2"),
            ("trailer \"sled\" axle 2 tires", "rating", "add rating=(lb)… to axle 2 tires"),
            ("trailer \"sled\" coupler", "height", "add height=(in)… to trailer \"sled\" coupler"),
            ("trailer \"sled\"", "gvwr", "add gvwr (lb)… to trailer \"sled\""),
            ("trailer \"sled\"", "suspension", "add suspension \"equalized\" or \"independent\" to trailer \"sled\""),
            ("trailer \"sled\"", "safety-chains", "add safety-chains count=… to trailer \"sled\""),
            ("truck \"rook\" hitch \"ball\"", "rating tongue", "add rating tongue=(lb)… to hitch \"ball\""),
            ("machine \"digger\"", "cg arm", "add cg arm=(in)… to machine \"digger\""),
            ("machine \"digger\" outline", "outline width", "add width=(in)… to machine \"digger\" outline"),
            ("machine \"digger\"", "axle \"front\"", "add axle \"front\" weighed=(lb)… to machine \"digger\""),
            ("sheet \"a move\" leg \"out\" cargo \"pipe trailer\"", "base", BASE),
            ("sheet \"a move\"", "loading bed-tilt", "add loading { bed-tilt (deg)… } to sheet \"a move\""),
            ("machine \"digger\"", "underside", "add underside { point \"…\" } to machine \"digger\""),
            ("sheet \"a move\"", "truck", "add truck \"…\" to sheet \"a move\""),
        ] {
            assert_eq!(to_add(owner, entry, System::Us), us, "{owner} {entry}");
        }
        assert_eq!(to_add("trailer \"s\" axle 1", "at", System::Si), "add at=(mm)… to axle 1");
        assert_eq!(to_add("somebody", "something", System::Si), "add something to somebody");
    }

    const BASE: &str = "add base=\"wood\", \"steel\", \"plastic\" or \"rubber\" to cargo \"pipe trailer\"";
}
