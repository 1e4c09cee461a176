//! Yards as texts in memory: the examples of the rules and the fixtures, to be edited by span and judged again.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::{Arc, LazyLock};

use draylint::check::{Gathered, Options, gather, judge};
use draylint::figures::{Heap, Load};
use draylint::finding::Finding;
use draylint::lower::{FileDefs, builtin_materials, link, lower_file};
use draylint::model::{Material, Yard};
use draylint::rules::{EXAMPLE_YARD, Example, ExampleBody, Rule, RuleSet, builtin_sources};
use draylint::syntax::{Document, Entry, Node, parse, with_stack};
use draylint::text::{FileId, Source, Sources, Span};

/// The built-in rules.
pub(crate) static RULES: LazyLock<RuleSet> = LazyLock::new(RuleSet::builtin);

/// The built-in materials, in a file behind all others.
static MATERIALS: LazyLock<Vec<Material>> = LazyLock::new(|| with_stack(|| builtin_materials(FileId(u32::MAX))));

/// The rules that are found by a condition.
pub(crate) fn conditions() -> impl Iterator<Item = &'static Rule> {
    RULES.rules().iter().filter(|rule| !rule.asks().is_empty())
}

/// What every judgement here is asked with.
pub(crate) fn options() -> Options {
    Options { units: None, today: "2000-01-01".into(), weigh: true, mend: false }
}

/// One file of a yard, read.
#[derive(Clone)]
pub(crate) struct Text {
    pub(crate) name: Arc<str>,
    pub(crate) says: Arc<str>,
    pub(crate) tree: Option<Arc<Document>>,
    pub(crate) defs: FileDefs,
}

impl Text {
    /// Reads a text as the file with this number.
    pub(crate) fn read(file: FileId, name: &str, text: &str, is_yard_file: bool) -> Self {
        with_stack(|| {
            let parsed = parse(file, text);
            let mut defs = match &parsed.document {
                Some(tree) => lower_file(tree, is_yard_file),
                None => FileDefs::unreadable(),
            };
            defs.findings.splice(0..0, parsed.findings);
            Self { name: name.into(), says: text.into(), tree: parsed.document.map(Arc::new), defs }
        })
    }
}

/// A yard in memory; a file's number is its place.
#[derive(Clone)]
pub(crate) struct Texts {
    pub(crate) label: String,
    pub(crate) files: Vec<Text>,
    /// The file whose settings hold.
    settings: Option<usize>,
}

impl Texts {
    /// The yard of a rule's example. Every definition is a file of its own, so that an edit costs little to read again;
    /// those of the example yard that no sheet names are left out.
    pub(crate) fn of_example(rule: &Rule, example: &Example) -> Self {
        let body = example_text(rule, example);
        let kind = if example.fails { "fails" } else { "passes" };
        let label = format!("example \"{kind}\" of {}", rule.id);
        let own = with_stack(|| parse(FileId(0), &body).document);
        let Some(own) = own else {
            // What is not valid KDL stays whole.
            let mut texts = Self { label, files: Vec::new(), settings: None };
            texts.add_base(&[], &body);
            texts.add("example", &body, false);
            return texts;
        };
        let mut texts = Self { label, files: Vec::new(), settings: None };
        texts.add_base(&own.nodes, &body);
        for node in &own.nodes {
            let is_yard = &*node.name.text == "yard";
            if is_yard {
                texts.settings = Some(texts.files.len());
            }
            texts.add("example", &body[node.span.range()], is_yard);
        }
        texts
    }

    /// Adds the definitions of the example yard that the example does not replace and whose name it writes.
    fn add_base(&mut self, own: &[Node], body: &str) {
        let base = RuleSet::example_yard();
        let tree = with_stack(|| parse(FileId(0), base).document).expect("the example yard is KDL");
        for node in &tree.nodes {
            let id = first(node);
            if &*node.name.text == "yard" {
                if own.iter().all(|other| &*other.name.text != "yard") {
                    self.settings = Some(self.files.len());
                    self.add("example yard", &base[node.span.range()], true);
                }
                continue;
            }
            let replaced = own.iter().any(|other| other.name.text == node.name.text && first(other) == id);
            // A friction has no name that a sheet writes.
            let named = &*node.name.text == "friction" || body.contains(&format!("\"{id}\""));
            if !replaced && named {
                self.add("example yard", &base[node.span.range()], false);
            }
        }
    }

    fn add(&mut self, name: &str, text: &str, is_yard_file: bool) {
        let file = FileId(u32::try_from(self.files.len()).unwrap());
        self.files.push(Text::read(file, name, text, is_yard_file));
    }

    /// A yard on disk, without the yards inside it.
    pub(crate) fn of_folder(root: &Path) -> Self {
        let mut paths = Vec::new();
        collect(root, true, &mut paths);
        paths.sort();
        let label = root.strip_prefix(fixtures().parent().unwrap()).unwrap().display().to_string();
        let mut texts = Self { label, files: Vec::new(), settings: None };
        for path in &paths {
            let name = path.strip_prefix(fixtures()).unwrap().to_string_lossy().replace('\\', "/");
            // What is no text has no entries to edit.
            let Ok(text) = std::fs::read_to_string(path) else { continue };
            let is_yard = *path == root.join("yard.kdl");
            if is_yard {
                texts.settings = Some(texts.files.len());
            }
            texts.add(&name, &text, is_yard);
        }
        texts
    }

    /// This yard with one file's text replaced.
    pub(crate) fn with(&self, file: usize, text: &str) -> Self {
        let mut edited = self.clone();
        let number = FileId(u32::try_from(file).unwrap());
        edited.files[file] = Text::read(number, &self.files[file].name, text, self.settings == Some(file));
        edited
    }

    /// This yard with the bytes of a span replaced.
    pub(crate) fn replaced(&self, span: Span, new: &str) -> Self {
        let file = span.file.0 as usize;
        let mut text = self.files[file].says.to_string();
        text.replace_range(span.range(), new);
        self.with(file, &text)
    }

    /// The definitions linked, and what linking and reading found.
    pub(crate) fn linked(&self) -> (Yard, Vec<Finding>) {
        link(self.files.iter().map(|file| file.defs.clone()).collect(), MATERIALS.clone())
    }

    /// Linked and judged by every built-in rule that the yard follows.
    pub(crate) fn judged(&self) -> Gathered {
        self.judged_with(None)
    }

    /// The same, and by one rule whether or not the yard follows its rule set.
    pub(crate) fn judged_with(&self, taken_in: Option<&Rule>) -> Gathered {
        let (yard, mut read) = self.linked();
        read.retain(|finding| {
            finding.rule != "never-used" || !self.files[at_file(finding)].name.starts_with("example yard")
        });
        let mut rules = RULES.clone();
        read.extend(rules.apply(&yard.settings));
        if let Some(rule) = taken_in {
            rules.take_in(&rule.id);
        }
        let judged = yard.loads().filter_map(|which| judge(&yard, &rules, which, &options())).collect();
        gather(&yard, &rules, read, judged)
    }

    /// The files as sources, for messages.
    pub(crate) fn sources(&self) -> Sources {
        let mut sources = Sources::default();
        for file in &self.files {
            sources.add(Source::new(Arc::clone(&file.name), Arc::clone(&file.says)));
        }
        sources
    }

    /// Every entry with a value, in every file.
    pub(crate) fn entries(&self) -> Vec<Entry> {
        let mut all = Vec::new();
        for tree in self.files.iter().filter_map(|file| file.tree.as_ref()) {
            for node in &tree.nodes {
                each_node(node, &mut |node| all.extend(node.entries.iter().cloned()));
            }
        }
        all
    }
}

fn at_file(finding: &Finding) -> usize {
    finding.primary.span.file.0 as usize
}

/// Visits a node and all within it.
pub(crate) fn each_node<'n>(node: &'n Node, visit: &mut dyn FnMut(&'n Node)) {
    visit(node);
    for child in node.children() {
        each_node(child, visit);
    }
}

/// A node's first text argument.
pub(crate) fn first(node: &Node) -> String {
    match node.arguments().next().map(|entry| &entry.value) {
        Some(draylint::syntax::Value::Text(text)) => text.to_string(),
        _ => String::new(),
    }
}

/// Every load of a yard with its figures at the heavier end of its materials.
pub(crate) fn loads(yard: &Yard) -> Vec<Load<'_>> {
    yard.loads().filter_map(|which| Load::of(yard, which, Heap::Heaviest)).collect()
}

/// An example's text.
fn example_text(rule: &Rule, example: &Example) -> String {
    match &example.body {
        ExampleBody::Text(text) => text.to_string(),
        ExampleBody::Nodes(tree) => {
            let (_, file) = builtin_sources().nth(rule.at.file.0 as usize).unwrap();
            let start = tree.nodes.first().map_or(0, |node| node.span.range().start);
            let end = tree.nodes.last().map_or(0, |node| node.span.range().end);
            file[start..end].to_owned()
        }
    }
}

/// The yards of all examples.
pub(crate) static EXAMPLES: LazyLock<Vec<(&'static Rule, &'static Example, Texts)>> = LazyLock::new(|| {
    assert_eq!(EXAMPLE_YARD, "rules/example-yard.kdl");
    let all = RULES.rules().iter().flat_map(|rule| rule.examples.iter().map(move |example| (rule, example)));
    all.map(|(rule, example)| (rule, example, Texts::of_example(rule, example))).collect()
});

/// The folder of the fixtures.
pub(crate) fn fixtures() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures")
}

/// The yards of the fixtures, but for the example yard, which is a yard of its own with tests of its own.
pub(crate) static FIXTURES: LazyLock<Vec<Texts>> = LazyLock::new(|| {
    let mut roots = vec![fixtures()];
    inner_yards(&fixtures(), &mut roots);
    roots.retain(|root| *root != fixtures().join("yard"));
    roots.iter().map(|root| Texts::of_folder(root)).collect()
});

fn folder(path: &Path) -> Vec<PathBuf> {
    std::fs::read_dir(path).unwrap().map(|entry| entry.unwrap().path()).collect()
}

fn inner_yards(path: &Path, roots: &mut Vec<PathBuf>) {
    for inner in folder(path).into_iter().filter(|path| path.is_dir()) {
        if inner.join("yard.kdl").is_file() {
            roots.push(inner.clone());
        }
        inner_yards(&inner, roots);
    }
}

fn collect(path: &Path, top: bool, files: &mut Vec<PathBuf>) {
    if !top && path.join("yard.kdl").is_file() {
        return;
    }
    for inner in folder(path) {
        if inner.is_dir() {
            collect(&inner, false, files);
        } else if inner.extension().is_some_and(|ending| ending == "kdl") {
            files.push(inner);
        }
    }
}

/// The findings of a rule by their lines, for comparison.
pub(crate) fn by_line(texts: &Texts, findings: &[Finding]) -> BTreeMap<(String, usize, String), usize> {
    let sources = texts.sources();
    let mut counted = BTreeMap::new();
    for finding in findings {
        let span = finding.primary.span;
        let source = sources.get(span.file);
        let line = source.map_or(0, |source| source.line_of(span.range().start) + 1);
        let name = source.map_or("?", |source| &*source.name);
        *counted.entry((name.to_owned(), line, finding.rule.to_string())).or_default() += 1;
    }
    counted
}
