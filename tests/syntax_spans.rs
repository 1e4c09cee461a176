//! Exact spans: documents are written piece by piece with odd spacing, and the place of each piece is noted as it is
//! written; the tree must say the same.

use draylint::syntax::{Document, Node, Value, parse, with_stack};
use draylint::text::FileId;
use proptest::prelude::*;
use std::ops::Range;

/// What stands somewhere: a path such as `0.1:2 key`, the bytes, and what it means.
#[derive(Debug, PartialEq, Clone)]
struct Noted(String, Range<usize>, String);

struct Writer<'a> {
    choices: std::slice::Iter<'a, u8>,
    text: String,
    noted: Vec<Noted>,
}

const WORDS: [(&str, &str); 8] = [
    ("axle", "axle"),
    ("\"q q\"", "q q"),
    ("lash-point", "lash-point"),
    ("\"lb/yd3\"", "lb/yd3"),
    ("#\"r\"a\"w\"#", "r\"a\"w"),
    ("é漢", "é漢"),
    ("\"\\u{e9}\\\"\\\\ {\"", "é\"\\ {"),
    ("\"/* } // \"", "/* } // "),
];

const VALUES: [(&str, &str); 16] = [
    ("4360", "4360"),
    ("-1_000", "-1000"),
    ("0x1F", "31"),
    ("2.3125", "~2.3125"),
    ("1.5e3", "~1500"),
    ("#true", "true"),
    ("#false", "false"),
    ("#null", "null"),
    ("#inf", "~inf"),
    ("1e400", "~inf"),
    ("\"16 ft 4 in\"", "'16 ft 4 in"),
    ("bare", "'bare"),
    ("##\"a\"#b\"##", "'a\"#b"),
    ("\"\"\"\n  é\n   x\n  \"\"\"", "'é\n x"),
    ("#\"\"\"\r\n\t\\\"\"\r\n\t\"\"\"#", "'\\\"\""),
    ("\"a \\   \r\n  b\\n\"", "'a b\n"),
];

const BLANKS: [&str; 9] =
    [" ", "  ", "\t", " /* x */ ", " /* a /* } */ \" */", " \\\n ", " \\ // }\"\r\n  ", "\u{a0}", "\u{3000} "];
const OFF: [&str; 6] = [" /-3", " /-k=\"v\"", " /- (lb)4", " /-\n x", " /- \"a\" /*c*/", " /-k /*y*/ = (u) 1"];
const OFF_BLOCKS: [&str; 3] = [" /-{ x; y { z } }", " /- { \"}\"\n }", " /-{}"];
const ENDS: [&str; 6] = ["\n", ";", "; ", "  // end {\r\n", "\r\n", " \n\n  "];
const BETWEEN: [&str; 6] =
    ["", "// } \" /*\n", "/* \" \n } */", "\n\r\n  ", "/- gone \"x\" { y { \"}\" } }\n", "/-(t)gone 1\n"];

impl Writer<'_> {
    fn pick<T: Copy>(&mut self, of: &[T]) -> T {
        of[usize::from(self.choices.next().copied().unwrap_or(0)) % of.len()]
    }

    fn chance(&mut self, of_eight: u8) -> bool {
        self.choices.next().copied().unwrap_or(255) % 8 < of_eight
    }

    fn maybe(&mut self, of_eight: u8, of: &[&str]) {
        if self.chance(of_eight) {
            let text = self.pick(of);
            self.text += text;
        }
    }

    fn write(&mut self, path: &str, (written, means): (&str, &str)) {
        let start = self.text.len();
        self.text += written;
        self.noted.push(Noted(path.to_owned(), start..self.text.len(), means.to_owned()));
    }

    fn annotation(&mut self, path: &str) {
        self.text += "(";
        self.maybe(2, &BLANKS);
        let word = self.pick(&WORDS);
        self.write(&format!("{path} ty"), word);
        self.maybe(2, &BLANKS);
        self.text += ")";
        self.maybe(2, &BLANKS);
    }

    fn note(&mut self, path: String, start: usize) {
        self.noted.push(Noted(path, start..self.text.len(), String::new()));
    }

    fn node(&mut self, path: &str, depth: usize) {
        let start = self.text.len();
        if self.chance(2) {
            self.annotation(path);
        }
        let name = self.pick(&WORDS);
        self.write(&format!("{path} name"), name);
        let entries = self.pick(&[0, 1, 2, 3]);
        let mut end = self.text.len();
        for at in 0..entries {
            self.maybe(1, &OFF);
            let blank = self.pick(&BLANKS);
            self.text += blank;
            self.entry(&format!("{path}:{at}"));
            end = self.text.len();
        }
        self.noted.push(Noted(format!("{path} head"), start..end, String::new()));
        self.maybe(1, &OFF);
        self.maybe(1, &OFF_BLOCKS);
        if depth < 4 && self.chance(3) {
            self.maybe(6, &BLANKS);
            self.text += "{";
            self.nodes(path, depth + 1);
            self.text += "}";
            end = self.text.len();
            self.maybe(1, &OFF_BLOCKS);
        }
        self.noted.push(Noted(format!("{path} node"), start..end, String::new()));
        self.maybe(2, &BLANKS);
    }

    fn entry(&mut self, path: &str) {
        let start = self.text.len();
        if self.chance(4) {
            let key = self.pick(&WORDS);
            self.write(&format!("{path} key"), key);
            self.maybe(1, &BLANKS);
            self.text += "=";
            self.maybe(1, &BLANKS);
        }
        let typed = self.text.len();
        if self.chance(4) {
            self.annotation(path);
        }
        let value = self.pick(&VALUES);
        self.write(&format!("{path} value"), value);
        self.note(format!("{path} typed"), typed);
        self.note(format!("{path} entry"), start);
    }

    fn nodes(&mut self, path: &str, depth: usize) {
        let count = self.pick(&[0, 1, 2, 3]);
        for at in 0..count {
            self.maybe(3, &BETWEEN);
            self.node(&format!("{path}.{at}"), depth);
            let end = self.pick(&ENDS);
            self.text += end;
        }
        self.maybe(2, &BETWEEN);
    }
}

fn means(value: &Value) -> String {
    match value {
        Value::Text(text) => format!("'{text}"),
        Value::Number { integer: Some(integer), .. } => integer.to_string(),
        Value::Number { value, .. } => format!("~{value}"),
        Value::Bool(flag) => flag.to_string(),
        Value::Null => "null".to_owned(),
    }
}

fn flat(nodes: &[Node], path: &str, out: &mut Vec<Noted>) {
    for (at, node) in nodes.iter().enumerate() {
        let path = format!("{path}.{at}");
        let mut word = |path: String, word: &draylint::syntax::Word| {
            out.push(Noted(path, word.span.range(), word.text.to_string()));
        };
        if let Some(ty) = &node.ty {
            word(format!("{path} ty"), ty);
        }
        word(format!("{path} name"), &node.name);
        for (at, entry) in node.entries.iter().enumerate() {
            let path = format!("{path}:{at}");
            if let Some(key) = &entry.key {
                word(format!("{path} key"), key);
            }
            if let Some(ty) = &entry.ty {
                word(format!("{path} ty"), ty);
            }
        }
        for (at, entry) in node.entries.iter().enumerate() {
            let path = format!("{path}:{at}");
            out.push(Noted(format!("{path} value"), entry.value_span.range(), means(&entry.value)));
            out.push(Noted(format!("{path} typed"), entry.typed_span.range(), String::new()));
            out.push(Noted(format!("{path} entry"), entry.span.range(), String::new()));
        }
        out.push(Noted(format!("{path} head"), node.head.range(), String::new()));
        out.push(Noted(format!("{path} node"), node.span.range(), String::new()));
        flat(node.children.as_deref().unwrap_or(&[]), &path, out);
    }
}

fn sorted(mut noted: Vec<Noted>) -> Vec<Noted> {
    noted.sort_by(|a, b| a.0.cmp(&b.0));
    noted
}

fn seen(document: &Document) -> Vec<Noted> {
    let mut out = Vec::new();
    flat(&document.nodes, "", &mut out);
    sorted(out)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1500, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_piece_is_where_it_was_written(choices in proptest::collection::vec(any::<u8>(), 0..400), mark in any::<bool>()) {
        let mut writer = Writer { choices: choices.iter(), text: String::new(), noted: Vec::new() };
        if mark {
            writer.text.push('\u{feff}');
        }
        writer.nodes("", 0);
        let (text, noted) = (writer.text, sorted(writer.noted));
        with_stack(|| {
            let parsed = parse(FileId(3), &text);
            prop_assert_eq!(&parsed.findings, &[], "{}", text);
            let document = parsed.document.unwrap();
            prop_assert!(document.is_whole());
            prop_assert_eq!(&seen(&document), &noted, "{}", text);

            // So many things switched off that it is read header by header: the same tree.
            let by_header = format!("{text}\n/-a\n/-a 1 {{ b }}\n/-a\n/-a\n/-a\n");
            let parsed = parse(FileId(3), &by_header);
            prop_assert_eq!(&parsed.findings, &[], "{}", text);
            prop_assert_eq!(&seen(&parsed.document.unwrap()), &noted, "{}", text);

            // A broken line before and after costs nothing else.
            let broken = format!("{text}\nx 4lb\n");
            let parsed = parse(FileId(3), &broken);
            prop_assert_eq!(parsed.findings.len(), 1, "{}: {:?}", text, parsed.findings);
            let document = parsed.document.unwrap();
            prop_assert_eq!(document.lost.len(), 1);
            prop_assert_eq!(&seen(&document), &noted, "{}", text);
            Ok(())
        })?;
    }
}
