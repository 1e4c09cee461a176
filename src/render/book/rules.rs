//! A page for each rule, a page for each pack, and the lists of them.

use std::fmt::Write as _;

use super::Page;
use crate::mend::Trial;
use crate::render::markdown::{block, capital, code, plain};
use crate::render::meaning::{self, TriedExample};
use crate::render::{Style, TextRenderer};
use crate::rules::{EXAMPLE_YARD, FoundBy, Rule, RuleSet, SourceKind, Status};
use crate::units::System;

/// The page of the yard on which examples rest.
const YARD_PAGE: &str = "rules/example-yard.md";

/// The pages of all rules and packs, and the example yard.
pub(super) fn pages(rules: &RuleSet, trial: &mut Trial) -> Vec<Page> {
    let pen = TextRenderer::new(Style::PLAIN);
    let mut all = vec![Page { path: YARD_PAGE.to_owned(), text: example_yard() }];
    for (pack, of_pack) in packs(rules) {
        all.push(Page { path: format!("rules/{pack}/index.md"), text: pack_page(pack, &of_pack) });
        for rule in of_pack {
            let examples = meaning::examples(rule, rules, trial, &pen);
            all.push(Page { path: page_of(rule), text: rule_page(rule, rules, &examples) });
        }
    }
    all
}

/// The page of a rule, below `book/src`.
fn page_of(rule: &Rule) -> String {
    format!("rules/{}/{}.md", rule.pack, rule.id)
}

/// The packs in order, each with its rules.
fn packs(rules: &RuleSet) -> Vec<(&str, Vec<&Rule>)> {
    let mut packs: Vec<(&str, Vec<&Rule>)> = Vec::new();
    for rule in rules.rules() {
        match packs.iter_mut().find(|(pack, _)| *pack == &*rule.pack) {
            Some((_, all)) => all.push(rule),
            None => packs.push((&rule.pack, vec![rule])),
        }
    }
    packs
}

fn example_yard() -> String {
    let path = code(EXAMPLE_YARD);
    format!(
        "# The yard of the examples\n\n\
         The examples of the rules rest on these definitions, and so may those of a company's rule. An example that \
         defines the same id replaces the definition here. All of it is made up. It stands in {path}.\n\n{}",
        block("kdl", RuleSet::example_yard())
    )
}

fn pack_page(pack: &str, rules: &[&Rule]) -> String {
    let mut out = format!("# {}\n\n", plain(&capital(pack)));
    for rule in rules {
        let link = format!("[{}]({}.md)", plain(&rule.id), rule.id);
        let _ = writeln!(out, "- {link} ({}): {}", rule.level.name(), plain(&rule.title));
    }
    out
}

fn rule_page(rule: &Rule, rules: &RuleSet, examples: &[TriedExample]) -> String {
    let mut out = format!("# {}\n\n**{}**\n\n", plain(&rule.id), plain(&capital(&rule.title)));
    let _ = writeln!(out, "- Level: {}", rule.level.name());
    let _ = writeln!(out, "- Source: {}", plain(&meaning::source(rule)));
    let moved = if rule.is_binding() {
        "A yard cannot turn it off or lower its level, and a sheet cannot waive it."
    } else {
        "A yard may turn it off or give it another level, and a sheet may waive it for a time."
    };
    let _ = writeln!(out, "- {moved}");
    if !rule.gives_way_to.is_empty() {
        let linked = |id: &str| match rules.get(id) {
            Some(other) => format!("[{}](../{}/{}.md)", plain(id), other.pack, other.id),
            None => plain(id),
        };
        let others: Vec<String> = rule.gives_way_to.iter().map(|(id, _)| linked(id)).collect();
        let _ = writeln!(out, "- Silent about a load of which one of these speaks: {}.", others.join(", "));
    }
    for text in meaning::paragraphs(rule) {
        let _ = write!(out, "\n{}\n", plain(&text));
    }
    numbers(rule, &mut out);
    out.push_str("\n## What is asked\n\n");
    match (&rule.found_by, meaning::asked(rule)) {
        (FoundBy::Condition(_), Some(asked)) => condition(&asked, &mut out),
        (FoundBy::Checking, _) => out.push_str("No condition: the checker itself finds it.\n"),
        _ => out.push_str("No condition: it is found while the yard is read.\n"),
    }
    tried(examples, &mut out);
    out
}

fn numbers(rule: &Rule, out: &mut String) {
    if rule.params.is_empty() {
        return;
    }
    out.push_str("\n## Numbers\n\n| name | value | what it is |\n|---|---|---|\n");
    for param in &rule.params {
        let value = meaning::number(param, System::Us);
        let doc = if param.may_loosen {
            format!("{}; a yard may move it either way, because the law differs from place to place", param.doc)
        } else {
            param.doc.to_string()
        };
        let _ = writeln!(out, "| {} | {} | {} |", code(&param.name), plain(&value), plain(&doc));
    }
    let first = rule.params.first().map_or("", |param| &param.name);
    let written = code(&format!("set \"{}\" {first}=…", rule.id));
    let _ = writeln!(out, "\n{written} in `yard.kdl` moves the number.");
}

fn condition(asked: &meaning::Asked<'_>, out: &mut String) {
    let _ = writeln!(out, "Of each {}:\n", plain(&asked.each));
    let when = asked.when.as_ref().map(|when| format!("when       {when}\n")).unwrap_or_default();
    out.push_str(&block("text", &format!("{when}must hold  {}\n", asked.require)));
}

fn tried(examples: &[TriedExample], out: &mut String) {
    if examples.is_empty() {
        out.push_str("\nIts fault cannot stand in an example: it is about what is no text, or too much of it.\n");
    }
    for (at, example) in examples.iter().enumerate() {
        let title = if example.fails { "A sheet that fails" } else { "A sheet that passes" };
        // Two headings of one page are never alike.
        let before = examples.iter().take(at).filter(|other| other.fails == example.fails).count();
        let title = if before == 0 { title.to_owned() } else { format!("{title}, {}", before + 1) };
        let _ = write!(out, "\n## {title}\n\n{}", block("kdl", &example.text));
        if example.fails {
            let _ = write!(out, "\n`draylint check` says of it:\n\n{}", block("text", example.found.trim_end()));
        }
    }
    if !examples.is_empty() {
        out.push_str("\nWhat the examples name and do not define stands in [their yard](../example-yard.md).\n");
    }
}

/// The rules in the book's table of contents.
pub(super) fn contents(rules: &RuleSet) -> String {
    let mut out = String::new();
    for (pack, of_pack) in packs(rules) {
        let _ = writeln!(out, "- [{}](rules/{pack}/index.md)", plain(&capital(pack)));
        for rule in of_pack {
            let _ = writeln!(out, "  - [{}]({})", plain(&rule.id), page_of(rule));
        }
    }
    out
}

/// All rules with links to their pages, pack by pack.
pub(super) fn by_pack(rules: &RuleSet) -> String {
    let mut out = String::new();
    for (pack, of_pack) in packs(rules) {
        let links: Vec<String> =
            of_pack.iter().map(|rule| format!("[{}]({})", plain(&rule.id), page_of(rule))).collect();
        let _ = writeln!(out, "- [{}](rules/{pack}/index.md): {}", plain(&capital(pack)), links.join(", "));
    }
    out
}

/// How well a source's number can be known.
pub(super) fn statuses() -> String {
    let mut out = "| status | means |\n|---|---|\n".to_owned();
    for status in Status::ALL {
        let _ = writeln!(out, "| {} | {} |", status.word(), plain(status.meaning()));
    }
    out
}

/// Whose authority can stand behind a rule.
pub(super) fn kinds() -> String {
    let mut out = "| kind | may a yard turn such a rule off? |\n|---|---|\n".to_owned();
    for kind in SourceKind::ALL {
        let _ = writeln!(out, "| {} | {} |", kind.word(), if kind.binds() { "no" } else { "yes" });
    }
    out
}
