//! A rule file read: every fault in it is reported where it stands, with the same care as in a sheet.

use std::ops::Range;
use std::sync::Arc;

use super::reader::{Reader, child, children, property};
use super::rule::{Ask, Citation, Example, ExampleBody, FoundBy, Param, Rule, SourceKind, Status};
use super::{RuleNames, Template};
use crate::expr::{Expr, compile};
use crate::figures::{Each, is_place, place_names};
use crate::finding::{Finding, Level};
use crate::lower::read_number;
use crate::syntax::{Document, Entry, Node, Value};
use crate::text::{Span, nearest};

/// The id of every finding about a rule file.
pub(super) const BROKEN: &str = "rule-broken";

/// The words that a rule may hold.
pub const WORDS: [&str; 17] = [
    "level",
    "title",
    "each",
    "when",
    "param",
    "for-state",
    "require",
    "point",
    "say",
    "help",
    "cure",
    "gives-way-to",
    "source",
    "why",
    "example",
    "found-by",
    "thin",
];

/// What `cure` may name: the entries that a fix may change.
pub const CURES: [&str; 10] =
    ["place", "facing", "load", "fit", "way", "loading", "rating", "entry", "tie", "notation"];

/// The rules of one file.
#[derive(Debug, Default)]
pub struct ReadRules {
    /// Those that could be read whole.
    pub rules: Vec<Rule>,
    /// What is wrong with the file.
    pub findings: Vec<Finding>,
}

/// Reads the rules of a file.
///
/// `text` is the file's text, `pack` the name of the folder it stands in. A rule with any fault is not taken.
#[must_use]
pub fn read_rules(document: &Document, text: &str, pack: &str, builtin: bool) -> ReadRules {
    read(document, text, pack, builtin, false)
}

/// Reads the built-in rules of a file that is cut short before what `why` tells.
pub(super) fn read_working_rules(document: &Document, text: &str, pack: &str) -> ReadRules {
    read(document, text, pack, true, true)
}

fn read(document: &Document, text: &str, pack: &str, builtin: bool, working: bool) -> ReadRules {
    let mut all = ReadRules::default();
    for node in document.nodes.iter().filter(|node| &*node.name.text == "rule") {
        let mut reader = Reader { text, working, findings: Vec::new(), meant: Vec::new(), unread: Vec::new() };
        let rule = reader.rule(node, pack, builtin);
        let sound = reader.findings.is_empty() && node.is_whole();
        all.findings.append(&mut reader.findings);
        if let (Some(rule), true) = (rule, sound) {
            all.rules.push(rule);
        }
    }
    all
}

impl Reader<'_> {
    fn rule(&mut self, node: &Node, pack: &str, builtin: bool) -> Option<Rule> {
        let id = self.text_argument(node, "the rule's id")?;
        for child in node.children() {
            if !WORDS.contains(&&*child.name.text) {
                let message = format!("`{}` is not a word of a rule", child.name.text);
                let near = nearest(&child.name.text, WORDS);
                self.meant.extend(near);
                self.wrong(child.name.span, message, near.map(|near| format!("write {near}")));
            }
        }
        let level = self.required(node, "level").and_then(|child| self.one_of(child, &Level::ALL.map(Level::name)));
        let title = self.required(node, "title").and_then(|child| self.text_argument(child, "the title"));
        let source = self.required(node, "source").and_then(|child| self.citation(child));
        let why = if self.working {
            Some("".into())
        } else {
            self.required(node, "why").and_then(|child| self.text_argument(child, "the explanation"))
        };
        let params: Vec<Param> = children(node, "param").filter_map(|child| self.param(child)).collect();
        let states = children(node, "for-state").flat_map(|child| self.state(child, &params)).collect();
        let found_by = self.found_by(node, &params);
        let examples = children(node, "example").filter_map(|child| self.example(child)).collect();
        let cure = self.words(node, "cure");
        for (word, span) in &cure {
            if !CURES.contains(&&**word) {
                let help = format!("write one of {}", CURES.join(", "));
                self.wrong(*span, format!("a fix cannot change \"{word}\""), Some(help));
            }
        }
        Some(Rule {
            id,
            pack: pack.into(),
            at: node.arguments().next().map_or(node.head, |entry| entry.span),
            builtin,
            level: Level::named(&level?)?,
            off: false,
            title: title?,
            found_by: found_by?,
            params,
            states,
            thin: self.thin(node),
            gives_way_to: self.words(node, "gives-way-to"),
            cure: cure.into_iter().map(|(word, _)| word).collect(),
            source: source?,
            why: why?,
            examples,
        })
    }

    fn found_by(&mut self, node: &Node, params: &[Param]) -> Option<FoundBy> {
        if let Some(child) = child(node, "found-by") {
            for word in ["each", "when", "require", "say"] {
                if let Some(other) = self::child(node, word) {
                    let message = format!("a rule with `found-by` has no `{word}`");
                    self.wrong(other.name.span, message, Some("take one of the two out".to_owned()));
                }
            }
            return Some(match &*self.one_of(child, &["reading", "checking", "placing"])? {
                "reading" => FoundBy::Reading,
                "placing" => FoundBy::Placing,
                _ => FoundBy::Checking,
            });
        }
        let each = self.required(node, "each")?;
        let require = self.required(node, "require")?;
        let say = self.required(node, "say")?;
        let subjects: Vec<Each> = self.words(node, "each").into_iter().filter_map(|word| self.each(word)).collect();
        if subjects.is_empty() && self.findings.is_empty() {
            self.wrong(each.head, "`each` needs a subject".to_owned(), Some("write each \"load\"".to_owned()));
        }
        if subjects.iter().any(|one| one.binds() != subjects.first().and_then(|first| first.binds())) {
            let message = "the subjects of one rule must bind the same word".to_owned();
            self.wrong(each.head, message, Some("write a rule for each of them".to_owned()));
        }
        let mut asks = Vec::new();
        for each in subjects {
            let names = RuleNames { each, params };
            let when = child(node, "when").map(|child| self.condition(child, &names));
            let ask = Ask {
                each,
                require: self.condition(require, &names)?,
                when: when.map_or(Some(None), |when| when.map(Some))?,
                points: self.points(node, each),
                say: self.template(say, &names)?,
                help: child(node, "help").map_or(Some(None), |child| self.template(child, &names).map(Some))?,
            };
            asks.push(ask);
        }
        Some(FoundBy::Condition(asks))
    }

    fn thin(&mut self, node: &Node) -> bool {
        let Some(child) = child(node, "thin") else { return true };
        if let Some(Value::Bool(thin)) = child.arguments().next().map(|entry| &entry.value) {
            return *thin;
        }
        self.wrong(child.head, "`thin` is #true or #false".to_owned(), Some("write thin #false".to_owned()));
        true
    }

    fn each(&mut self, (word, span): (Arc<str>, Span)) -> Option<Each> {
        let each = Each::of(&word);
        if each.is_none() {
            let all = Each::ALL.map(Each::word);
            let help = nearest(&word, all).map_or_else(|| format!("one of {}", all.join(", ")), str::to_owned);
            self.wrong(span, format!("a rule cannot be about each \"{word}\""), Some(format!("write {help}")));
        }
        each
    }

    fn points(&mut self, node: &Node, each: Each) -> Vec<Arc<str>> {
        let points = self.words(node, "point");
        for (word, span) in &points {
            if !is_place(word, each) {
                let near = nearest(word, place_names(each)).map(|near| format!("write \"{near}\""));
                self.wrong(*span, format!("\"{word}\" is no place to point at for each {}", each.word()), near);
            }
        }
        points.into_iter().map(|(word, _)| word).collect()
    }

    fn condition(&mut self, node: &Node, names: &RuleNames<'_>) -> Option<Expr> {
        let (text, entry) = self.text_entry(node, "the condition")?;
        match compile(&text, names) {
            Ok(expr) => Some(expr),
            Err(error) => {
                if !self.rests_on_unread(&text, &error.range) {
                    self.wrong(self.within(entry, &text, error.range), error.message, error.help);
                }
                None
            }
        }
    }

    fn template(&mut self, node: &Node, names: &RuleNames<'_>) -> Option<Template> {
        let (text, entry) = self.text_entry(node, "what it says")?;
        match Template::read(&text, names) {
            Ok(template) => Some(template),
            Err(error) => {
                if !self.rests_on_unread(&text, &error.range) {
                    self.wrong(self.within(entry, &text, error.range), error.message, None);
                }
                None
            }
        }
    }

    /// Whether an error is about a parameter whose own line is at fault.
    fn rests_on_unread(&self, text: &str, range: &Range<usize>) -> bool {
        text.get(range.clone()).is_some_and(|name| self.unread.iter().any(|unread| &**unread == name))
    }

    fn param(&mut self, node: &Node) -> Option<Param> {
        let name = self.text_argument(node, "the parameter's name")?;
        let param = self.read_param(node, &name);
        if param.is_none() {
            self.unread.push(name);
        }
        param
    }

    fn read_param(&mut self, node: &Node, name: &Arc<str>) -> Option<Param> {
        let name = Arc::clone(name);
        let plain = name.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'_');
        if !plain || name.is_empty() || ["level", "off"].contains(&&*name) {
            let message = format!("a parameter cannot be called \"{name}\"");
            let help = "write a name of small letters, digits and _ other than level and off".to_owned();
            self.wrong(node.head, message, Some(help));
            return None;
        }
        let Some(entry) = node.arguments().nth(1) else {
            self.wrong(node.head, format!("the parameter \"{name}\" has no value"), None);
            return None;
        };
        match read_number(entry) {
            Ok((value, kind, unit)) => {
                let doc = self.text_property(node, "doc").unwrap_or_else(|| "".into());
                let may_loosen = node
                    .properties()
                    .any(|(word, entry)| &*word.text == "may-loosen" && entry.value == Value::Bool(true));
                Some(Param { name, value, kind, unit, doc, at: entry.typed_span, moved: false, may_loosen })
            }
            Err(error) => {
                self.wrong(error.span, error.message, error.help);
                None
            }
        }
    }

    fn citation(&mut self, node: &Node) -> Option<Citation> {
        let text = self.text_argument(node, "the source")?;
        let Some(kind) = self.text_property(node, "kind") else {
            let all = SourceKind::ALL.map(SourceKind::word).join(", ");
            self.wrong(node.head, "a source needs its kind".to_owned(), Some(format!("add kind= with one of {all}")));
            return None;
        };
        let Some(kind) = SourceKind::ALL.into_iter().find(|one| one.word() == &*kind) else {
            let all = SourceKind::ALL.map(SourceKind::word);
            let help = nearest(&kind, all).map_or_else(|| format!("one of {}", all.join(", ")), str::to_owned);
            let at = property(node, "kind").map_or(node.head, |entry| entry.value_span);
            self.wrong(at, format!("\"{kind}\" is no kind of source"), Some(format!("write {help}")));
            return None;
        };
        let status = match self.text_property(node, "status") {
            None => None,
            Some(word) => {
                let found = Status::ALL.into_iter().find(|one| one.word() == &*word);
                if found.is_none() {
                    let help = format!("write one of {}", Status::ALL.map(Status::word).join(", "));
                    let at = property(node, "status").map_or(node.head, |entry| entry.value_span);
                    self.wrong(at, format!("\"{word}\" is no status of a source"), Some(help));
                }
                found
            }
        };
        Some(Citation { text, kind, status })
    }

    fn example(&mut self, node: &Node) -> Option<Example> {
        let fails = &*self.one_of(node, &["fails", "passes"])? == "fails";
        let body = match (&node.children, node.arguments().nth(1)) {
            (Some(nodes), None) => {
                ExampleBody::Nodes(Document { nodes: nodes.clone(), lost: Vec::new(), span: node.span })
            }
            (None, Some(Entry { value: Value::Text(text), .. })) => ExampleBody::Text(Arc::clone(text)),
            _ => {
                let help = "put them in braces, or in one raw string";
                self.wrong(node.head, "an example holds small sheets".to_owned(), Some(help.to_owned()));
                return None;
            }
        };
        Some(Example { fails, body, at: node.head })
    }
}
