//! The language's words for a reader, from the vocabulary itself: what each says, what it takes, what stands in it.

use std::fmt::Write as _;

use super::style::{Ink, Style};
use super::wrap::{columns, paragraph};
use crate::lower::words::{Child, Named, Occurs, Takes, Value, Word};
use crate::lower::{WORDS, builtin_frictions, builtin_materials};
use crate::model::{Choice, Origin};
use crate::text::{FileId, nearest};
use crate::units::{Kind, units_of};

/// May stand in every definition and sheet: told once.
const EVERYWHERE: &str = "describe";

/// All words, after what holds for every line.
#[must_use]
pub fn all(style: Style) -> String {
    let mut out = String::new();
    preface(style, &mut out);
    let mut list = List { out, style, path: vec![], shown: vec![] };
    for word in WORDS {
        list.out.push('\n');
        list.entry(word, Occurs::Many, None);
    }
    list.out
}

/// Every place where a word stands, with what stands in it.
///
/// # Errors
/// The nearest word there is, when there is none of this name.
pub fn one(name: &str, style: Style) -> Result<String, Option<&'static str>> {
    let mut found: Vec<Found> = Vec::new();
    for word in WORDS {
        if word.name == name {
            found.push((vec![], word, Occurs::Many));
        }
        within(name, word, &mut vec![word.name], &mut found);
    }
    if found.is_empty() {
        let mut names: Vec<&str> = Vec::new();
        for word in WORDS {
            collect(word, &mut names);
        }
        return Err(nearest(name, names));
    }
    let mut out = String::new();
    for (at, (places, word, occurs)) in found.into_iter().enumerate() {
        if at > 0 {
            out.push('\n');
        }
        if !places.is_empty() {
            let _ = writeln!(out, "{}", style.paint(Ink::Lead, &format!("in {}", places.join(", in "))));
        }
        let mut list = List { out, style, path: vec![], shown: vec![] };
        list.entry(word, occurs, None);
        out = list.out;
    }
    out.push('\n');
    marks(style, &mut out);
    Ok(out)
}

/// The words in which a word stands, outermost first; the word; how often it stands there.
type Found = (Vec<String>, &'static Word, Occurs);

fn within(name: &str, word: &'static Word, path: &mut Vec<&'static str>, found: &mut Vec<Found>) {
    for child in word.inner() {
        let place = path.join(" ");
        match found.iter_mut().find(|(_, other, _)| std::ptr::eq(*other, child.word)) {
            // What stands in a sheet stands in its legs; the list of words says so.
            _ if child.word.name != name || path.len() > 1 && path.contains(&"leg") => {}
            Some((places, ..)) => places.push(place),
            None => found.push((vec![place], child.word, child.occurs)),
        }
        path.push(child.word.name);
        within(name, child.word, path, found);
        path.pop();
    }
}

fn collect(word: &'static Word, names: &mut Vec<&'static str>) {
    if !names.contains(&word.name) {
        names.push(word.name);
    }
    word.inner().for_each(|child| collect(child.word, names));
}

fn preface(style: Style, out: &mut String) {
    marks(style, out);
    let told = |out: &mut String, lead: &str, text: &str| row(lead, "", text, style, out);
    out.push('\n');
    for kind in Kind::ALL {
        let symbols: Vec<String> = units_of(kind).map(|unit| annotated(unit.symbol)).collect();
        let also = match kind {
            Kind::Force => "; a weight stands for the force it has under standard gravity",
            Kind::Length => "; or feet and inches as text: \"16 ft 4 in\"",
            Kind::Mass => "; t is the tonne, ton the short ton of 2,000 lb",
            _ => "",
        };
        told(out, kind.noun(), &format!("{}{also}", symbols.join(" ")));
    }
    out.push('\n');
    let origins: Vec<&str> = Origin::ALL.iter().map(|origin| origin.word()).collect();
    let text = format!(
        "On any line with quantities: how they became known, and so how far they can be off. One of: {}.",
        origins.join(", ")
    );
    told(out, "origin=\"…\"", &text);
    told(
        out,
        "plus-minus=…",
        "On any line with quantities: how far they can be off, in their unit or as a share, (pct)2. Where both stand, \
         this holds.",
    );
    told(out, "describe \"text\"", "Free text, in every definition, sheet, leg and item.");
    let materials = builtin_materials(FileId(0));
    let names: Vec<&str> = materials.iter().map(|material| &*material.id.value).collect();
    told(out, "built-in materials", &format!("{}.", names.join(", ")));
    let what = |one: &crate::model::Friction| one.what.value().map(Choice::word);
    let mut pairs: Vec<&str> = builtin_frictions().iter().filter_map(what).collect();
    pairs.dedup();
    told(out, "built-in friction", &format!("{}, on decks and ramps as far as it is published.", pairs.join(", ")));
}

fn marks(style: Style, out: &mut String) {
    let mut text =
        "* must be there; + may stand several times; [ ] may be left out. A word stands in the braces of the one it is \
         indented under. A text in quotes is a name or one of the words listed; … is a number."
            .to_owned();
    if !style.unicode {
        text = text.replace('…', style.ellipsis());
    }
    paragraph(out, "", &text, 0, style.columns());
}

/// A list in the making.
struct List {
    out: String,
    style: Style,
    /// In which words the next one stands.
    path: Vec<&'static str>,
    /// What was shown in full, and where.
    shown: Vec<(&'static Word, String)>,
}

impl List {
    /// A word, its properties and what stands in it.
    fn entry(&mut self, word: &'static Word, occurs: Occurs, above: Option<&Word>) {
        let indent = "  ".repeat(self.path.len());
        let mut lead = format!("{indent}{}", word.name);
        let mut doc = word.doc.to_owned();
        for arg in word.args {
            let shown = placeholder(arg);
            let shown = if arg.occurs.repeats() { format!("{shown} …") } else { shown };
            let _ = if arg.occurs.required() { write!(lead, " {shown}") } else { write!(lead, " [{shown}]") };
            doc.push_str(&choices(arg.takes));
        }
        let known = self.shown.iter().find(|(other, _)| std::ptr::eq(*other, word));
        if let Some((_, place)) = known.filter(|_| !word.props.is_empty()) {
            self.row(&lead, mark(occurs), &format!("{doc} As in {place}."));
            return;
        }
        self.shown.push((word, self.path.join(" ")));
        self.row(&lead, mark(occurs), &doc);
        for prop in word.props {
            let doc = format!("{}{}", prop.doc, choices(prop.takes));
            self.row(&format!("{indent}    {}={}", prop.name, placeholder(prop)), mark(prop.occurs), &doc);
        }
        if word.open {
            let text = "A parameter of the rule, as `draylint rules` shows it, with its unit where it has one.";
            self.row(&format!("{indent}    PARAMETER=…"), "+", text);
        }
        self.path.push(word.name);
        self.inner(word, word.children);
        // What a leg shares with its sheet is shown in the sheet.
        let same = |above: &&Word| names(above.shared).eq(names(word.shared));
        if let Some(above) = above.filter(same).filter(|_| !word.shared.is_empty()) {
            let all: Vec<&str> = names(word.shared).collect();
            self.row(&format!("{indent}  {}", all.join(", ")), "", &format!("As in {}.", above.name));
        } else {
            self.inner(word, word.shared);
        }
        self.path.pop();
    }

    fn inner(&mut self, word: &Word, children: &'static [Child]) {
        for child in children.iter().filter(|child| child.word.name != EVERYWHERE) {
            self.entry(child.word, child.occurs, Some(word));
        }
    }

    fn row(&mut self, lead: &str, mark: &str, doc: &str) {
        row(lead, mark, doc, self.style, &mut self.out);
    }
}

fn names(children: &'static [Child]) -> impl Iterator<Item = &'static str> {
    children.iter().map(|child| child.word.name)
}

const fn mark(occurs: Occurs) -> &'static str {
    match occurs {
        Occurs::Once => "*",
        Occurs::Maybe => "",
        Occurs::Many => "+",
        Occurs::Some => "*+",
    }
}

/// What stands for a value.
pub(super) fn placeholder(value: &Value) -> String {
    match value.takes {
        Takes::Quantity { kind, .. } => {
            let symbol = units_of(kind).next().map_or("", |unit| unit.symbol);
            format!("({})…", annotated(symbol))
        }
        Takes::SpeedOrSymbol => "(mph)…".to_owned(),
        Takes::Spread | Takes::Count { .. } | Takes::LoadIndex | Takes::Coefficient | Takes::Number => "…".to_owned(),
        Takes::Flag => "#true".to_owned(),
        Takes::Date => "\"YYYY-MM-DD\"".to_owned(),
        Takes::Text | Takes::Id(_) | Takes::OneOf { .. } => format!("\"{}\"", value.name),
        Takes::Ref(Named::LashPointOrAnchor) => "\"lash point\"".to_owned(),
        Takes::Ref(named) => format!("\"{}\"", named.noun()),
    }
}

/// The words of which one is taken, after what the value says.
pub(super) fn choices(takes: Takes) -> String {
    let words: Vec<&str> = takes.words().collect();
    if words.is_empty() { String::new() } else { format!(" One of: {}.", words.join(", ")) }
}

/// A symbol with a slash stands in quotes.
pub(super) fn annotated(symbol: &str) -> String {
    if symbol.contains('/') { format!("\"{symbol}\"") } else { symbol.to_owned() }
}

/// What stands in a sheet, its mark, and what it says; a long left side gets a line of its own.
fn row(lead: &str, mark: &str, doc: &str, style: Style, out: &mut String) {
    let column = style.columns() * 2 / 5;
    let indent = column + 4;
    let dressed = if style.unicode { lead.to_owned() } else { lead.replace('…', style.ellipsis()) };
    let wide = columns(&dressed);
    let painted = style.paint(Ink::Strong, &dressed);
    let first = if wide <= column {
        format!("{painted}{} {mark:<2} ", " ".repeat(column - wide))
    } else {
        let own = dressed.trim_start();
        let margin = wide - columns(own);
        paragraph(out, &" ".repeat(margin), own, margin + 4, style.columns());
        format!("{} {mark:<2} ", " ".repeat(column))
    };
    let doc = if style.unicode { doc.to_owned() } else { doc.replace('…', style.ellipsis()) };
    paragraph(out, &first, &doc, indent, style.columns());
}

#[cfg(test)]
mod tests {
    use super::{all, one};
    use crate::lower::WORDS;
    use crate::lower::words::Word;
    use crate::render::Style;
    use crate::units::UNITS;

    fn every(word: &Word, text: &str) {
        assert!(text.contains(word.name), "no {}", word.name);
        for prop in word.props {
            assert!(text.contains(&format!("{}=", prop.name)), "no {} of {}", prop.name, word.name);
            assert!(prop.takes.words().all(|choice| text.contains(choice)), "{} of {}", prop.name, word.name);
        }
        word.inner().for_each(|child| every(child.word, text));
    }

    #[test]
    fn every_word_property_choice_and_unit_is_listed() {
        let text = all(Style::PLAIN);
        for word in WORDS {
            every(word, &text);
        }
        let words: Vec<&str> = text.split(|c: char| c.is_whitespace() || "();\"".contains(c)).collect();
        assert!(UNITS.iter().all(|unit| words.contains(&unit.symbol)));
    }

    #[test]
    fn lines_fit_the_width() {
        for width in [40, 80, 120] {
            let style = Style { unicode: false, width, ..Style::PLAIN };
            let text = all(style);
            assert!(text.is_ascii());
            let wide = text.lines().find(|line| line.len() > width);
            assert_eq!(wide, None);
        }
    }

    #[test]
    fn a_word_is_shown_wherever_it_stands() {
        let text = one("tie", Style::PLAIN).unwrap();
        assert!(text.starts_with("in sheet machine fit, in sheet machine, in sheet cargo\ntie \"tie-down\""), "{text}");
        let text = one("machine", Style::PLAIN).unwrap();
        assert!(text.starts_with("machine \"id\"") && text.contains("in sheet\nmachine \"machine\""), "{text}");
        assert_eq!(one("traler", Style::PLAIN), Err(Some("trailer")));
        assert_eq!(one("xylophone", Style::PLAIN), Err(None));
    }
}
