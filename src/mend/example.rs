//! A rule's own examples tried out, resting on the example yard.

use super::{Bench, fix};
use crate::check::{Options, foreign, gather, in_order, judge};
use crate::finding::Finding;
use crate::lower::{FileDefs, builtin_materials, link, lower_file};
use crate::rules::{EXAMPLE_YARD, Example, ExampleBody, FoundBy, Rule, RuleSet};
use crate::syntax::{parse, with_stack};
use crate::text::{FileId, Source, Sources};

/// What is wrong with an example.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Amiss {
    /// It should have spoken and did not.
    Silent,
    /// It spoke where it should not, or another rule did.
    Stray,
    /// It spoke on another line than the example says.
    Misplaced,
}

impl Amiss {
    /// In one word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Silent => "silent",
            Self::Stray => "stray",
            Self::Misplaced => "misplaced",
        }
    }
}

/// What came of an example.
#[derive(Debug)]
pub struct Tried {
    /// What was found.
    pub findings: Vec<Finding>,
    /// What is wrong with that.
    pub amiss: Option<Amiss>,
}

/// Tries out examples of rules that stand in given files.
#[derive(Debug)]
pub struct Trial {
    /// The files of the rules, then the example yard.
    pub sources: Sources,
    base: FileDefs,
    base_file: FileId,
}

impl Trial {
    /// For rules whose places lie in these files.
    #[must_use]
    pub fn new(mut sources: Sources) -> Self {
        let text = RuleSet::example_yard();
        let base_file = sources.add(Source::new(EXAMPLE_YARD, text));
        let base = with_stack(|| parse(base_file, text).document.map(|tree| lower_file(&tree, true)));
        Self { sources, base: base.unwrap_or_default(), base_file }
    }

    /// Tries one example of a rule with these rules in force.
    pub fn run(&mut self, rules: &RuleSet, rule: &Rule, example: &Example) -> Tried {
        let (defs, file) = match &example.body {
            ExampleBody::Nodes(tree) => {
                // An example that needs settings of its own brings its yard along.
                let settings = tree.nodes.iter().any(|node| &*node.name.text == "yard");
                (lower_file(tree, settings), rule.at.file)
            }
            ExampleBody::Text(text) => {
                let file = self.sources.add(Source::new(format!("example of {}", rule.id), text.clone()));
                let defs = with_stack(|| {
                    let parsed = parse(file, text);
                    let mut defs = parsed.document.map_or_else(FileDefs::unreadable, |tree| lower_file(&tree, false));
                    defs.findings.splice(0..0, parsed.findings);
                    defs
                });
                (defs, file)
            }
        };
        let strange = !defs.ours;
        let base = self.base.without(&defs);
        let last = FileId(u32::try_from(self.sources.len()).unwrap_or(u32::MAX));
        let (yard, mut read) = link(vec![base, defs], builtin_materials(last));
        read.retain(|finding| finding.primary.span.file != self.base_file || finding.rule != "never-used");
        if strange && read.is_empty() {
            read.push(foreign(file));
        }
        let unset = rules;
        let mut rules = rules.clone();
        read.extend(rules.apply(&yard.settings));
        // The yard of the examples follows no published rule set; the rule whose example it is holds all the same.
        rules.take_in(&rule.id);
        let options = Options { units: None, today: "2000-01-01".into(), weigh: false, mend: false };
        let judged = yard.loads().filter_map(|which| judge(&yard, &rules, which, &options)).collect();
        let mut findings = gather(&yard, &rules, read, judged).findings;
        let placing = matches!(rule.found_by, FoundBy::Placing);
        if placing {
            let bench = Bench::new(&self.sources, last, &yard, unset, options.clone());
            let added = fix(&bench, &rules, findings.iter_mut(), None);
            findings.extend(added);
            in_order(&mut findings);
            // What has no place breaks limits, each of which is a finding of its own.
            findings.retain(|finding| {
                finding.rule == *rule.id || rules.get(&finding.rule).is_none_or(|rule| rule.asks().is_empty())
            });
        }
        // How near an example stands to other bounds is not its subject.
        findings.retain(|finding| finding.rule == *rule.id || finding.rule != "margin-thin");
        // What a waiver accepts does not count.
        findings.retain(|finding| finding.waived.is_none());
        let amiss = self.amiss(rule, example, &findings);
        Tried { findings, amiss }
    }

    fn amiss(&self, rule: &Rule, example: &Example, findings: &[Finding]) -> Option<Amiss> {
        let own: Vec<&Finding> = findings.iter().filter(|finding| finding.rule == *rule.id).collect();
        if example.fails && own.is_empty() {
            return Some(Amiss::Silent);
        }
        if findings.len() != usize::from(example.fails) {
            return Some(Amiss::Stray);
        }
        own.iter().any(|finding| self.is_misplaced(rule, finding)).then_some(Amiss::Misplaced)
    }

    /// Whether the example marks the lines that it expects, and this one is not among them.
    fn is_misplaced(&self, rule: &Rule, finding: &Finding) -> bool {
        let Some(source) = self.sources.get(finding.primary.span.file) else { return true };
        let marked = |line: usize| {
            let text = source.text.get(source.line(line)).unwrap_or("");
            text.split_once("// expect ").is_some_and(|(_, ids)| ids.split(", ").any(|id| id.trim() == &*rule.id))
        };
        let any = (0..source.lines()).any(marked);
        any && !marked(source.line_of(finding.primary.span.range().start))
    }
}
