//! The book is kept: the pages and parts that are made are those that the program's data give, what the other pages show
//! is what happens, every page is in the table of contents, and every link leads somewhere.
//!
//! `DRAYLINT_UPDATE=1 cargo test --test book` rewrites what is made and shown, and deletes pages of rules that are gone.

mod kept;

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::fs;
use std::path::Path;
use std::sync::LazyLock;

use draylint::lower::lower_file;
use draylint::mend::Trial;
use draylint::render::book::{Page, pages, part};
use draylint::rules::{self, RuleSet, read_rules};
use draylint::syntax::{parse, with_stack};
use draylint::text::{FileId, Source, Sources};
use kept::{Kept, UPDATE, document, keep, paths_are_there, root, settle};
use pulldown_cmark::{CodeBlockKind, CowStr, Event, Options, Parser, Tag, TagEnd};

const BOOK: &str = "book/src";

/// Folders that hold nothing but pages that are made whole.
const MADE: [&str; 2] = ["rules/", "words/"];

/// Where pictures stand.
const PICTURES: &str = "pictures/";

/// Where links may lead outside the book. Nothing is fetched from there: a reader may follow them.
const OUTSIDE: [&str; 1] = ["https://kdl.dev"];

/// The pages that are made whole, by path below the book's folder.
static MADE_PAGES: LazyLock<BTreeMap<String, String>> = LazyLock::new(|| {
    let (faults, sources) = RuleSet::builtin_faults();
    assert!(faults.is_empty(), "{faults:?}");
    let all = pages(&RuleSet::builtin(), &mut Trial::new(sources));
    let count = all.len();
    let map: BTreeMap<String, String> = all.into_iter().map(|page| (page.path, page.text)).collect();
    assert_eq!(map.len(), count, "no path twice");
    map
});

/// Where rewriting is asked for, it is done before any test reads the book.
static REWRITTEN: LazyLock<()> = LazyLock::new(|| {
    if std::env::var_os(UPDATE).is_some() {
        settle_made();
        settle_shown();
    }
});

/// Every file of the book that is there, by path below its folder.
fn stored() -> BTreeMap<String, String> {
    LazyLock::force(&REWRITTEN);
    read_all()
}

fn read_all() -> BTreeMap<String, String> {
    let mut all = BTreeMap::new();
    let (top, mut folders) = (root().join(BOOK), vec![root().join(BOOK)]);
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
                continue;
            }
            let name = path.strip_prefix(&top).unwrap().to_str().unwrap().replace('\\', "/");
            all.insert(name, fs::read_to_string(path).unwrap());
        }
    }
    all
}

fn is_made(path: &str) -> bool {
    MADE.iter().any(|folder| path.starts_with(folder))
}

/// Compares or rewrites the pages that are made whole.
fn settle_made() {
    let stored = read_all();
    for (path, text) in MADE_PAGES.iter() {
        assert!(is_made(path), "{path}");
        settle(&format!("{BOOK}/{path}"), stored.get(path).map_or("", |text| text), text);
    }
    for path in stored.keys().filter(|path| is_made(path) && !MADE_PAGES.contains_key(*path)) {
        assert!(std::env::var_os(UPDATE).is_some(), "{path} is made from nothing that is there");
        fs::remove_file(root().join(BOOK).join(path)).unwrap();
    }
}

/// Compares or rewrites what the other pages show.
fn settle_shown() {
    let rules = RuleSet::builtin();
    // One yard for the whole book, filled in the order in which it is read.
    let yard = tempfile::tempdir().unwrap();
    let settled = |page: &str| {
        let path = format!("{BOOK}/{page}");
        let text = document(&path);
        let kept = keep(&text, yard.path(), &|name| part(name, &rules));
        settle(&path, &text, &kept.text);
        paths_are_there(&path, &text, [].into_iter());
        kept
    };
    let mut all = vec![settled("SUMMARY.md")];
    let pages = links(&all[0].text);
    all.extend(pages.iter().filter(|page| !is_made(page)).map(|page| settled(page)));
    let sum = |count: fn(&Kept) -> usize| all.iter().map(count).sum::<usize>();
    // A book without markers would pass in silence.
    assert!(sum(|kept| kept.files) >= 5 && sum(|kept| kept.outputs) >= 5, "too little is shown");
    assert!(sum(|kept| kept.made) >= 8 && sum(|kept| kept.rules) >= 1, "too little is made");
}

/// The book as it should be: what is made, and the other pages as they are stored.
fn wanted() -> BTreeMap<String, String> {
    let mut all = stored();
    all.retain(|path, _| !is_made(path));
    all.extend(MADE_PAGES.clone());
    all
}

/// The events of a page, as mdBook reads it.
fn events(text: &str) -> Vec<Event<'_>> {
    let tables = Options::ENABLE_TABLES | Options::ENABLE_FOOTNOTES | Options::ENABLE_STRIKETHROUGH;
    let lists = Options::ENABLE_TASKLISTS | Options::ENABLE_DEFINITION_LIST | Options::ENABLE_GFM;
    Parser::new_ext(text, tables | lists | Options::ENABLE_HEADING_ATTRIBUTES).collect()
}

/// Where the links of a page lead.
fn links(text: &str) -> Vec<String> {
    let link = |event| match event {
        Event::Start(Tag::Link { dest_url, .. } | Tag::Image { dest_url, .. }) => Some(CowStr::into_string(dest_url)),
        _ => None,
    };
    events(text).into_iter().filter_map(link).collect()
}

/// The anchors of a page's headings, as mdBook makes them.
fn anchors(text: &str) -> BTreeSet<String> {
    let (mut all, mut heading) = (BTreeSet::new(), None);
    for event in events(text) {
        match event {
            Event::Start(Tag::Heading { .. }) => heading = Some(String::new()),
            Event::Text(text) | Event::Code(text) => {
                if let Some(heading) = &mut heading {
                    heading.push_str(&text);
                }
            }
            Event::End(TagEnd::Heading(_)) => {
                let heading = heading.take().unwrap().to_lowercase();
                let kept = heading.chars().filter(|c| c.is_alphanumeric() || " -_".contains(*c));
                let anchor: String = kept.map(|c| if c == ' ' { '-' } else { c }).collect();
                // The second of a name would have a number: it is better to give it another heading.
                assert!(all.insert(anchor), "two headings of one page are alike: {heading}");
            }
            _ => {}
        }
    }
    all
}

/// The path of a link's target, taken from the page that it stands on.
fn resolved(page: &str, target: &str) -> String {
    let mut parts: Vec<&str> = page.split('/').collect();
    parts.pop();
    for part in target.split('/') {
        match part {
            ".." => assert!(parts.pop().is_some(), "{page}: {target} leaves the book"),
            part => parts.push(part),
        }
    }
    parts.join("/")
}

#[test]
fn what_is_made_and_shown_is_what_the_program_gives() {
    LazyLock::force(&REWRITTEN);
    settle_made();
    settle_shown();
}

#[test]
fn each_rule_has_its_page() {
    let mut rules = 0;
    for pack in fs::read_dir(root().join("rules")).unwrap().map(|entry| entry.unwrap().path()) {
        for file in pack.is_dir().then(|| fs::read_dir(&pack).unwrap()).into_iter().flatten() {
            let path = file.unwrap().path();
            let page = path.strip_prefix(root()).unwrap().with_extension("md").to_str().unwrap().replace('\\', "/");
            let text = &MADE_PAGES[&page];
            for part in ["- Level: ", "- Source: ", "\n## What is asked\n"] {
                assert!(text.contains(part), "{page} has no {part:?}");
            }
            rules += 1;
        }
    }
    assert!(rules > 50, "{rules} rules");
}

#[test]
fn the_language_of_rules_is_told_in_full() {
    let told = document(&format!("{BOOK}/company.md"));
    for word in rules::WORDS {
        assert!(told.lines().any(|line| line.starts_with(&format!("| `{word}"))), "no row for {word}");
    }
    assert!(rules::CURES.iter().all(|cure| told.contains(&format!("`{cure}`"))));
    let packs = document(&format!("{BOOK}/rules.md"));
    for rule in RuleSet::builtin().rules() {
        let pack = &rule.pack;
        let (first, rest) = pack.split_at(1);
        assert!(packs.contains(&format!("- **{}{rest}** ", first.to_uppercase())), "not a word about {pack}");
    }
}

#[test]
fn every_page_is_in_the_table_of_contents() {
    // Pictures stand on pages.
    let (pictures, mut pages): (Vec<String>, Vec<String>) =
        wanted().into_keys().filter(|path| path != "SUMMARY.md").partition(|path| path.starts_with(PICTURES));
    let shown: BTreeSet<String> = wanted()
        .iter()
        .flat_map(|(page, text)| links(text).into_iter().map(move |link| resolved(page, &link)))
        .collect();
    assert!(pictures.iter().all(|picture| shown.contains(picture)), "{pictures:?} stand on no page");
    let mut listed = links(&stored()["SUMMARY.md"]);
    pages.sort();
    listed.sort();
    assert_eq!(listed, pages);
}

#[test]
fn every_link_leads_somewhere() {
    let pages = wanted();
    let anchors: BTreeMap<&str, BTreeSet<String>> = pages.iter().map(|(path, text)| (&**path, anchors(text))).collect();
    let (mut seen, mut astray) = (0, String::new());
    for (page, text) in &pages {
        for link in links(text) {
            seen += 1;
            if link.contains("://") {
                assert!(OUTSIDE.contains(&&*link), "{page} links to {link}: is that needed?");
                continue;
            }
            let (target, anchor) = link.split_once('#').map_or((&*link, None), |(target, at)| (target, Some(at)));
            let target = if target.is_empty() { page.clone() } else { resolved(page, target) };
            let there = anchors.get(&*target).is_some_and(|all| anchor.is_none_or(|anchor| all.contains(anchor)));
            if !there {
                writeln!(astray, "{page}: {link}").unwrap();
            }
        }
    }
    assert!(seen > 200, "{seen} links");
    assert_eq!(astray, "");
}

/// Findings that only a slip in a snippet can bring about; one that is a part of a sheet lacks much else.
const SLIPS: [&str; 5] = ["not-kdl", "unknown-word", "unit-missing", "unit-wrong", "not-possible"];

/// Whether a snippet reads without a slip where it stands at the top, in a machine, or in a sheet.
fn reads(snippet: &str) -> bool {
    let slips = |text: &str, is_yard: bool| {
        let parsed = parse(FileId(0), text);
        let read = parsed.document.map(|tree| lower_file(&tree, is_yard)).unwrap_or_default();
        let mut found = parsed.findings.iter().chain(&read.findings);
        // A text without any word of ours is left alone, whatever stands in it.
        !read.ours || found.any(|finding| SLIPS.contains(&&*finding.rule))
    };
    let within = |word: &str| !slips(&format!("{word} \"x\" {{\n{snippet}\n}}\n"), false);
    with_stack(|| !slips(snippet, snippet.contains("yard \"")) || within("machine") || within("sheet"))
}

#[test]
fn snippets_of_sheets_read_without_a_slip() {
    assert!(reads("wheelbase (in)70") && reads("reading \"scale\" tongue=(lb)1130"));
    assert!(!reads("wheelbase 70") && !reads("reading \"scale\" tonge=(lb)1130") && !reads("sheet {"));
    let mut seen = 0;
    for (page, text) in wanted().into_iter().filter(|(page, _)| !is_made(page)) {
        let (mut snippet, mut is_sheet) = (String::new(), false);
        for event in events(&text) {
            match event {
                Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(language))) => is_sheet = &*language == "kdl",
                Event::Text(text) if is_sheet => snippet.push_str(&text),
                Event::End(TagEnd::CodeBlock) if is_sheet => {
                    let snippet = std::mem::take(&mut snippet);
                    assert!(reads(&snippet), "{page}:\n{snippet}");
                    (seen, is_sheet) = (seen + 1, false);
                }
                _ => {}
            }
        }
    }
    assert!(seen > 8, "{seen} snippets");
}

#[test]
fn no_page_holds_html_of_a_rule_or_sheet() {
    for (path, text) in wanted().into_iter().filter(|(path, _)| !path.starts_with(PICTURES)) {
        for event in events(&text) {
            if let Event::Html(html) | Event::InlineHtml(html) = event {
                assert!(html.starts_with("<!-- "), "{path}: {html}");
            }
        }
    }
}

/// What a rule file might say that Markdown or HTML would act on.
const HOSTILE: &str = "<script>alert(1)</script> & 1 < 2 | *not* _so_ `code` [a](b) ![c](d) {{#include e}} ~~f~~ $g$";

#[test]
fn what_a_rule_says_is_shown_as_written() {
    let text = format!(
        r##"rule "house" {{
    level "warning"
    title #"{HOSTILE}"#
    each "load"
    when "hitch.kind in ['<b>', '```']"
    param "most" (lb)1500 doc=#"{HOSTILE}"#
    require "trailer.tongue <= most || trailer.tongue < most"
    point "item.place"
    say "{{trailer.tongue}} rides on the hitch"
    source #"{HOSTILE}"# kind="company"
    why #"{HOSTILE}"#
    example "fails" {{
        sheet #"```</code></pre>"# {{
            truck "pickup"
            trailer "flat"
        }}
    }}
}}
"##
    );
    let (page, file) = with_stack(|| {
        let parsed = parse(FileId(0), &text);
        let read = read_rules(&parsed.document.unwrap(), &text, "house", false);
        assert!(read.findings.is_empty(), "{:?}", read.findings);
        let mut sources = Sources::default();
        sources.add(Source::new("house.kdl", text.clone()));
        let mut rules = RuleSet::default();
        assert!(rules.extend(read).is_empty());
        let all = pages(&rules, &mut Trial::new(sources));
        let of = |path: &str| -> Page { all.iter().find(|page| page.path == path).unwrap().clone() };
        (of("rules/house/house.md"), of("rules/house/index.md"))
    });
    for (page, times) in [(page, 4), (file, 1)] {
        let (mut told, mut blocks) = (String::new(), String::new());
        let mut in_block = false;
        for event in events(&page.text) {
            match event {
                Event::Html(html) | Event::InlineHtml(html) => panic!("{}: {html}", page.path),
                Event::Start(Tag::CodeBlock(_)) => in_block = true,
                Event::End(TagEnd::CodeBlock) => in_block = false,
                Event::Text(text) if in_block => blocks.push_str(&text),
                Event::Text(text) => told.push_str(&text),
                Event::Start(Tag::Image { .. } | Tag::Emphasis | Tag::Strikethrough) => panic!("{}", page.path),
                _ => {}
            }
        }
        assert_eq!(told.matches(HOSTILE).count(), times, "{told}");
        if times > 1 {
            for part in ["['<b>', '```']", "trailer.tongue <= most || ", "sheet #\"```</code></pre>\"# {\n"] {
                assert!(blocks.contains(part), "{blocks}");
            }
        }
    }
}

#[test]
fn the_book_asks_for_nothing_from_outside() {
    let settings = document("book/book.toml");
    for word in ["mathjax", "http", "additional-js", "git-repository", "edit-url", "[preprocessor"] {
        assert!(!settings.contains(word), "book.toml has {word}");
    }
    // Without them, no `{{#include …}}` in the text of a rule reads a file.
    assert!(settings.contains("use-default-preprocessors = false"));
    assert!(!Path::new(&root().join("book/theme")).exists());
}
