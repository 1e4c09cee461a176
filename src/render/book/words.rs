//! The vocabulary of the sheets: a page for each word that stands at the top level, a table for each that holds others.

use std::collections::VecDeque;
use std::fmt::Write as _;

use super::Page;
use crate::lower::WORDS;
use crate::lower::words::{Occurs, Value, Word};
use crate::render::markdown::{anchor, code, plain};
use crate::render::words::{annotated, choices, placeholder};
use crate::units::{Kind, units_of};

/// A word of its own language, which another page tells of.
const RULE: &str = "rule";

/// A word that has a table: where it stands, and on which page.
struct Section {
    word: &'static Word,
    /// The words in which it stands, and it: `truck axle tires`. Its heading.
    path: String,
    page: &'static str,
}

/// Every word that holds others, once: where it stands in several, at the first of them, the outer ones before the
/// inner ones.
fn sections() -> Vec<Section> {
    let mut all: Vec<Section> = Vec::new();
    for top in WORDS.into_iter().filter(|word| word.name != RULE) {
        let mut waiting = VecDeque::from([(top, top.name.to_owned())]);
        while let Some((word, path)) = waiting.pop_front() {
            if is_simple(word) && path.contains(' ') || all.iter().any(|one| std::ptr::eq(one.word, word)) {
                continue;
            }
            waiting.extend(word.inner().map(|child| (child.word, format!("{path} {}", child.word.name))));
            all.push(Section { word, path, page: top.name });
        }
    }
    all
}

/// Whether all of it stands in one line.
fn is_simple(word: &Word) -> bool {
    word.props.is_empty() && word.inner().next().is_none() && !word.open
}

/// A page for each word that stands at the top level.
pub(super) fn pages() -> Vec<Page> {
    let sections = sections();
    let mut all: Vec<Page> = Vec::new();
    for section in &sections {
        let path = format!("words/{}.md", section.page);
        if all.last().is_none_or(|page| page.path != path) {
            all.push(Page { path, text: String::new() });
        }
        if let Some(page) = all.last_mut() {
            write_section(section, &sections, &mut page.text);
        }
    }
    all
}

fn write_section(section: &Section, sections: &[Section], out: &mut String) {
    let Section { word, path, page } = section;
    if out.is_empty() {
        let _ = write!(out, "# {}\n\n", plain(path));
    } else {
        let _ = write!(out, "\n## {}\n\n", plain(path));
    }
    let _ = write!(out, "{}\n\n", plain(word.doc));
    out.push_str("| written | says |\n|---|---|\n");
    for arg in word.args {
        let repeated = if arg.occurs.repeats() { " …" } else { "" };
        row(&code(&format!("{} {}{repeated}", word.name, placeholder(arg))), arg, out);
    }
    for prop in word.props {
        row(&code(&format!("{}={}", prop.name, placeholder(prop))), prop, out);
    }
    if word.open {
        out.push_str("| `PARAMETER=…` | A parameter of the rule, with its unit where it has one. |\n");
    }
    for child in word.inner() {
        let mut written = child.word.name.to_owned();
        let mut doc = child.word.doc.to_owned();
        for arg in child.word.args {
            let _ = write!(written, " {}{}", placeholder(arg), if arg.occurs.repeats() { " …" } else { "" });
            doc.push_str(&choices(arg.takes));
        }
        let mut written = code(&written);
        if let Some(own) = sections.iter().find(|one| std::ptr::eq(one.word, child.word)) {
            let file = if own.page == *page { String::new() } else { format!("{}.md", own.page) };
            written = format!("[{written}]({file}#{})", anchor(&own.path));
        }
        let _ = writeln!(out, "| {written} | {}{} |", plain(&doc), often(child.occurs));
    }
}

fn row(written: &str, value: &Value, out: &mut String) {
    let doc = plain(&format!("{}{}", value.doc, choices(value.takes)));
    let needed = if value.occurs.required() { " *Required.*" } else { "" };
    let _ = writeln!(out, "| {written} | {doc}{needed} |");
}

const fn often(occurs: Occurs) -> &'static str {
    match occurs {
        Occurs::Once => " *Required.*",
        Occurs::Maybe => "",
        Occurs::Many => " *Any number.*",
        Occurs::Some => " *At least one.*",
    }
}

/// The units that each kind of quantity may be written in.
pub(super) fn units() -> String {
    let mut out = "| kind | units |\n|---|---|\n".to_owned();
    for kind in Kind::ALL {
        let symbols: Vec<String> = units_of(kind).map(|unit| code(&annotated(unit.symbol))).collect();
        let _ = writeln!(out, "| {} | {} |", kind.noun(), symbols.join(" "));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::{RULE, pages, units};
    use crate::lower::WORDS;
    use crate::lower::words::{Value, Word};
    use crate::units::UNITS;

    /// What is asked of the page `words/PAGE.md` and of those that a shared word stands on.
    fn every(word: &Word, text: &str) {
        assert!(text.contains(&format!("`{}", word.name)), "no {}", word.name);
        let says = |value: &Value| assert!(value.takes.words().all(|choice| text.contains(choice)), "{}", value.name);
        for prop in word.props {
            assert!(text.contains(&format!("| `{}=", prop.name)), "no {} of {}", prop.name, word.name);
            says(prop);
        }
        word.args.iter().for_each(says);
        word.inner().for_each(|child| every(child.word, text));
    }

    #[test]
    fn every_word_property_choice_and_unit_is_there() {
        let pages = pages();
        assert_eq!(pages.len(), WORDS.len() - 1, "a page for each word but {RULE}");
        let all: String = pages.iter().map(|page| &*page.text).collect();
        for word in WORDS.into_iter().filter(|word| word.name != RULE) {
            assert!(pages.iter().any(|page| page.path == format!("words/{}.md", word.name)));
            every(word, &all);
        }
        assert!(UNITS.iter().all(|unit| units().contains(&format!("`{}`", super::annotated(unit.symbol)))));
    }
}
