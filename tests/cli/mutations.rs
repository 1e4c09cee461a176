//! The example yard with its texts mangled in every way, through the whole program in one process: whatever stands in
//! the files, it ends, does not panic, and what it shows does no harm.

use std::path::{Path, PathBuf};

use draylint::check::Options;
use draylint::finding::{Finding, Level, Report};
use draylint::render::{Style, TextRenderer, json, weigh};
use draylint::yard::{Checked, Narrowed, Progress, check};
use proptest::prelude::*;
use proptest::sample::Index;
use proptest::test_runner::{Config, TestRunner};

use crate::harness::{LIGHT, Yard, sheet};

/// The files of the example yard.
fn demo() -> Vec<(PathBuf, Vec<u8>)> {
    fn walk(root: &Path, folder: &Path, all: &mut Vec<(PathBuf, Vec<u8>)>) {
        for entry in std::fs::read_dir(folder).expect("a folder") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                walk(root, &path, all);
            } else {
                let name = path.strip_prefix(root).expect("inside").to_path_buf();
                all.push((name, std::fs::read(&path).expect("a file")));
            }
        }
    }
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/yard");
    let mut all = Vec::new();
    walk(&root, &root, &mut all);
    all.sort();
    all
}

/// One way of mangling a text.
#[derive(Clone, Debug)]
enum Change {
    Byte(Index, u8),
    Cut(Index, usize),
    Insert(Index, Vec<u8>),
    DropLine(Index),
    RepeatLine(Index),
    SwapLines(Index, Index),
    SwapWords(Index, Index),
    /// A word of this file is replaced by one of any text of the yard.
    Word(Index, Index),
    /// Every number becomes another.
    Number(Index, &'static str),
}

fn change() -> impl Strategy<Value = Change> {
    let at = any::<Index>;
    let odd = prop::sample::select(vec![
        "\"",
        "{",
        "}",
        "/*",
        "*/",
        "/-",
        "\\",
        "\n",
        "#\"",
        ";",
        "=",
        "(",
        ")",
        "\u{1b}[2J",
        "\u{202e}",
        "\u{0}",
        "é",
        "#true",
        "{{{{{{{{",
        "(lb)",
        "leg \"x\" {",
    ]);
    let number = prop::sample::select(vec![
        "0",
        "-1",
        "1e308",
        "-1e308",
        "1e-300",
        "1e400",
        "0.0",
        "-0.0",
        "#nan",
        "#inf",
        "999999999999999999999999",
        "0x7f",
        "1_0",
    ]);
    prop_oneof![
        (at(), any::<u8>()).prop_map(|(at, byte)| Change::Byte(at, byte)),
        (at(), 1_usize..200).prop_map(|(at, length)| Change::Cut(at, length)),
        (at(), odd).prop_map(|(at, text)| Change::Insert(at, text.as_bytes().to_vec())),
        at().prop_map(Change::DropLine),
        at().prop_map(Change::RepeatLine),
        (at(), at()).prop_map(|(a, b)| Change::SwapLines(a, b)),
        (at(), at()).prop_map(|(a, b)| Change::SwapWords(a, b)),
        (at(), at()).prop_map(|(a, b)| Change::Word(a, b)),
        (at(), number).prop_map(|(at, number)| Change::Number(at, number)),
    ]
}

/// The ranges of words: runs of letters, digits, hyphens and quotes.
fn words(text: &[u8]) -> Vec<(usize, usize)> {
    let part = |byte: &u8| byte.is_ascii_alphanumeric() || b"-\"#.".contains(byte);
    let mut all = Vec::new();
    let mut at = 0;
    while at < text.len() {
        let length = text[at..].iter().take_while(|byte| part(byte)).count();
        if length > 0 {
            all.push((at, at + length));
        }
        at += length + 1;
    }
    all
}

fn lines(text: &[u8]) -> Vec<Vec<u8>> {
    text.split_inclusive(|byte| *byte == b'\n').map(<[u8]>::to_vec).collect()
}

fn mangle(text: &mut Vec<u8>, change: &Change, yard: &[(PathBuf, Vec<u8>)]) {
    if text.is_empty() {
        return;
    }
    match change {
        Change::Byte(at, byte) => {
            let at = at.index(text.len());
            text[at] = *byte;
        }
        Change::Cut(at, length) => {
            let at = at.index(text.len());
            text.drain(at..(at + length).min(text.len()));
        }
        Change::Insert(at, what) => {
            let at = at.index(text.len());
            text.splice(at..at, what.iter().copied());
        }
        Change::DropLine(at) => {
            let mut all = lines(text);
            all.remove(at.index(all.len()));
            *text = all.concat();
        }
        Change::RepeatLine(at) => {
            let mut all = lines(text);
            let at = at.index(all.len());
            all.insert(at, all[at].clone());
            *text = all.concat();
        }
        Change::SwapLines(a, b) => {
            let mut all = lines(text);
            let (a, b) = (a.index(all.len()), b.index(all.len()));
            all.swap(a, b);
            *text = all.concat();
        }
        Change::SwapWords(a, b) => {
            let all = words(text);
            if all.is_empty() {
                return;
            }
            let (a, b) = (all[a.index(all.len())], all[b.index(all.len())]);
            let (a, b) = if a <= b { (a, b) } else { (b, a) };
            if a.1 <= b.0 {
                let swapped = [&text[..a.0], &text[b.0..b.1], &text[a.1..b.0], &text[a.0..a.1], &text[b.1..]].concat();
                *text = swapped;
            }
        }
        Change::Word(at, from) => {
            let all = words(text);
            let other = &yard[from.index(yard.len())].1;
            let others = words(other);
            if let (false, false) = (all.is_empty(), others.is_empty()) {
                let ((start, end), (from, to)) = (all[at.index(all.len())], others[from.index(others.len())]);
                text.splice(start..end, other[from..to].to_vec());
            }
        }
        Change::Number(at, number) => {
            let all: Vec<_> = words(text).into_iter().filter(|(start, _)| text[*start].is_ascii_digit()).collect();
            if !all.is_empty() {
                let (start, end) = all[at.index(all.len())];
                text.splice(start..end, number.bytes());
            }
        }
    }
}

fn all_of(folder: &Path) -> Checked {
    let options = Options { units: None, today: "2026-11-25".into(), weigh: true, mend: false };
    check(&[folder.to_path_buf()], &Narrowed::default(), &options, &Progress::default()).expect("a yard")
}

/// Whether a finding lies in its file, between characters.
fn lies_in_its_file(checked: &Checked, finding: &Finding) {
    for span in std::iter::once(&finding.primary).chain(&finding.labels).map(|label| label.span) {
        let source = checked.sources.get(span.file).expect("a file");
        assert!(source.text.get(span.range()).is_some(), "{finding:?}");
    }
}

fn does_no_harm(checked: &Checked) {
    for finding in &checked.findings {
        lies_in_its_file(checked, finding);
        assert!(!finding.message.is_empty());
    }
    let report = Report {
        sources: &checked.sources,
        findings: &checked.findings,
        files: checked.files,
        loads: checked.loads.len(),
    };
    let style = Style { color: false, width: 80, unicode: true };
    let text = TextRenderer::new(style).report(&report, false);
    let table = weigh::text(&checked.sources, &checked.loads, style, false);
    let acts = |c: char| draylint::text::is_hidden(c) || c == '\r';
    for shown in [&text, &table] {
        assert!(!shown.contains(acts), "{shown:?}");
        let odd = shown.lines().find(|line| !line.contains('│') && (line.contains("NaN") || line.contains(" inf")));
        assert_eq!(odd, None);
    }
    for written in [json::check(&report), json::weigh(&checked.sources, &checked.loads)] {
        serde_json::from_str::<serde_json::Value>(&written).expect("JSON");
    }
}

#[test]
fn the_example_yard_mangled() {
    let yard = demo();
    let disk = Yard::empty();
    for (name, text) in &yard {
        disk.put(name, text);
    }
    let pool = draylint::syntax::pool().num_threads(2).build().expect("threads");
    let mut runner = TestRunner::new(Config { failure_persistence: None, ..Config::with_cases(64) });
    let changes = prop::collection::vec((any::<Index>(), change()), 1..6);
    runner
        .run(&changes, |changes| {
            let mut mangled = yard.clone();
            let mut touched = Vec::new();
            for (file, change) in &changes {
                let at = file.index(mangled.len());
                mangle(&mut mangled[at].1, change, &yard);
                touched.push(at);
            }
            for &at in &touched {
                disk.put(&mangled[at].0, &mangled[at].1);
            }
            let checked = pool.install(|| all_of(&disk.path("")));
            for &at in &touched {
                disk.put(&yard[at].0, &yard[at].1);
            }
            does_no_harm(&checked);
            Ok(())
        })
        .expect("no harm");
}

/// One broken top-level node costs that node: every fault of the sheets around it is still found, where it was.
#[test]
fn one_broken_node_costs_that_node_only() {
    let pool = draylint::syntax::pool().num_threads(2).build().expect("threads");
    let disk = Yard::new();
    for broken in [
        "truck \"spare\" {\n  wheelbase (in)\"\n}\n",
        "truck \"spare\" {\n  wheelbase (in\n}\n",
        "truck \"spare\" =\n",
        "machine \"x\" { axle \"front\" weighed=(lb)1 2 3=4=5; }\n",
        "sheet \"half\" {\n  truck \"pickup\"\n  cargo \"c\" weight=(lb) length=(in)4\n}\n",
        "tiedown \"t\" kind=chain \"wll=\n",
        "nonsense (((((\n",
    ] {
        disk.put("a.kdl", format!("{}\n{broken}\n{}", sheet("first", LIGHT), sheet("last", LIGHT)));
        let checked = pool.install(|| all_of(&disk.path("")));
        does_no_harm(&checked);
        let light: Vec<_> = checked.findings.iter().filter(|one| one.rule == "tongue-light").collect();
        let sheets: Vec<_> = light.iter().filter_map(|one| one.sheet.as_deref()).collect();
        assert_eq!(sheets, ["first", "last"], "{broken}");
        // The broken node is told where it stands: between the two sheets.
        let before = u32::try_from(sheet("first", LIGHT).len()).expect("short");
        let within = before..before + 2 + u32::try_from(broken.len()).expect("short");
        let told = |one: &&Finding| {
            let file = checked.sources.get(one.primary.span.file).map(|source| source.name.to_string());
            file.is_some_and(|name| name.ends_with("a.kdl"))
                && one.level == Level::Error
                && within.contains(&one.primary.span.start)
        };
        let of_a = checked.findings.iter().filter(|one| one.rule != "tongue-light");
        assert!(of_a.filter(told).count() >= 1, "{broken} is told");
    }
}
