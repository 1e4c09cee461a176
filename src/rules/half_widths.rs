//! How far numbers can be off by how they became known, read from the rules folder.

use std::sync::LazyLock;

use super::builtin;
use crate::figures::Rest;
use crate::lower::read_number;
use crate::model::{Choice, Origin};
use crate::syntax::{Node, Value, parse, with_stack};
use crate::text::FileId;
use crate::units::Kind;

/// The file that holds them.
const FILE: &str = "rules/half-widths.kdl";

static SHIPPED: LazyLock<HalfWidths> = LazyLock::new(|| {
    let text = builtin::text(FILE).unwrap_or("");
    let document = with_stack(|| parse(FileId(0), text).document);
    document.map(|document| HalfWidths::read(&document.nodes)).unwrap_or_default()
});

/// Default half-widths, at one coverage.
#[derive(Clone, Debug, Default)]
pub struct HalfWidths {
    /// Origin and kind, the part of the value, the least amount in SI.
    lines: Vec<(Origin, Kind, f64, f64)>,
    /// Words without a spread.
    exact: Vec<String>,
    /// What words are taken as whatever their node says.
    always: Vec<(String, Origin)>,
    /// What words and kinds are taken as where the sheet does not say.
    words: Vec<(String, Origin)>,
    kinds: Vec<(Kind, Origin)>,
}

impl HalfWidths {
    /// Those that are shipped; a test asserts that every line of the file is understood.
    #[must_use]
    pub fn shipped() -> &'static Self {
        &SHIPPED
    }

    /// The half-width of a number: what the sheet says outright, or else by its origin, or by what is usual for such a
    /// number. In the SI unit of its kind.
    #[must_use]
    pub fn of(&self, rest: &Rest) -> f64 {
        if let Some(said) = rest.plus_minus {
            return said.abs();
        }
        if self.exact.iter().any(|word| word == rest.word) {
            return 0.0;
        }
        let always = self.always.iter().find(|(word, _)| word == rest.word).map(|(_, origin)| *origin);
        let Some(origin) = always.or(rest.origin).or_else(|| self.unsaid(rest)) else { return 0.0 };
        let line = self.lines.iter().find(|(of, kind, ..)| *of == origin && *kind == rest.kind);
        line.map_or(0.0, |(_, _, share, least)| (share * rest.value.abs()).max(*least))
    }

    /// Every default: origin, kind, the part of the value, and the least amount in the SI unit of the kind. The larger of
    /// the two holds.
    pub fn lines(&self) -> impl Iterator<Item = (Origin, Kind, f64, f64)> {
        self.lines.iter().copied()
    }

    /// What is taken where a sheet names no origin: for the entries of these names, and then for all of a kind.
    pub fn where_unsaid(&self) -> (impl Iterator<Item = (&str, Origin)>, impl Iterator<Item = (Kind, Origin)>) {
        (self.words.iter().map(|(word, origin)| (&**word, *origin)), self.kinds.iter().copied())
    }

    /// The entries that have one origin whatever their line says.
    pub fn always(&self) -> impl Iterator<Item = (&str, Origin)> {
        self.always.iter().map(|(word, origin)| (&**word, *origin))
    }

    /// The entries that have no spread unless `plus-minus=` gives them one.
    pub fn exact(&self) -> impl Iterator<Item = &str> {
        self.exact.iter().map(String::as_str)
    }

    fn unsaid(&self, rest: &Rest) -> Option<Origin> {
        let word = self.words.iter().find(|(word, _)| word == rest.word).map(|(_, origin)| *origin);
        word.or_else(|| self.kinds.iter().find(|(kind, _)| *kind == rest.kind).map(|(_, origin)| *origin))
    }

    fn read(nodes: &[Node]) -> Self {
        let mut all = Self::default();
        for node in nodes {
            // A line that is not understood is left out here and found by the test.
            let _ = all.line(node);
        }
        all
    }

    fn line(&mut self, node: &Node) -> Option<()> {
        let texts: Vec<&str> = node.arguments().filter_map(|entry| text(&entry.value)).collect();
        let property = |key: &str| node.properties().find(|(word, _)| &*word.text == key).map(|(_, entry)| entry);
        let amount = |key: &str| property(key).map_or(Some(0.0), |entry| read_number(entry).ok().map(|read| read.0));
        let origin = || property("origin").and_then(|entry| text(&entry.value)).and_then(Origin::of);
        match &*node.name.text {
            "half-width" => {
                let (origin, kind) = (Origin::of(texts.first()?)?, kind(texts.get(1)?)?);
                self.lines.push((origin, kind, amount("share")?, amount("least")?));
            }
            "exact" => self.exact.extend(texts.into_iter().map(str::to_owned)),
            "always" => {
                let origin = origin()?;
                self.always.extend(texts.into_iter().map(|word| (word.to_owned(), origin)));
            }
            "unsaid" => {
                let origin = origin()?;
                if let Some(named) = property("kind") {
                    self.kinds.push((kind(text(&named.value)?)?, origin));
                }
                self.words.extend(texts.into_iter().map(|word| (word.to_owned(), origin)));
            }
            _ => return None,
        }
        Some(())
    }
}

fn text(value: &Value) -> Option<&str> {
    match value {
        Value::Text(text) => Some(text),
        _ => None,
    }
}

fn kind(noun: &str) -> Option<Kind> {
    Kind::ALL.into_iter().find(|kind| kind.noun() == noun)
}

#[cfg(test)]
mod tests {
    use super::{FILE, HalfWidths};
    use crate::syntax::{parse, with_stack};
    use crate::text::FileId;

    #[test]
    fn every_line_of_the_file_is_understood() {
        let text = super::builtin::text(FILE).expect("the file is embedded");
        let parsed = with_stack(|| parse(FileId(0), text));
        assert!(parsed.findings.is_empty());
        let mut all = HalfWidths::default();
        for node in parsed.document.expect("a document").nodes {
            assert!(all.line(&node).is_some(), "{}", &text[node.span.range()]);
        }
        assert!(all.lines.len() > 10 && !all.exact.is_empty());
    }
}
