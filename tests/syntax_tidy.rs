//! Laying out changes no meaning and no comment, and a second time nothing at all: on random texts, and on every sheet of the
//! fixtures.

use draylint::syntax::{Node, parse, tidy, with_stack};
use draylint::text::FileId;
use proptest::prelude::*;

/// What a text says, without where it says it.
fn said(text: &str) -> Vec<String> {
    fn nodes(all: &[Node], depth: usize, out: &mut Vec<String>) {
        for node in all {
            let ty = node.ty.as_ref().map(|ty| ty.text.to_string());
            let entries: Vec<_> = node
                .entries
                .iter()
                .map(|entry| {
                    let word = |word: &Option<draylint::syntax::Word>| word.as_ref().map(|word| word.text.to_string());
                    (word(&entry.key), word(&entry.ty), entry.value.clone())
                })
                .collect();
            out.push(format!("{depth} {ty:?} {} {entries:?} {}", node.name.text, node.children.is_some()));
            nodes(node.children.as_deref().unwrap_or_default(), depth + 1, out);
        }
    }
    let mut out = Vec::new();
    nodes(&parse(FileId(0), text).document.expect("a text that can be laid out").nodes, 0, &mut out);
    out
}

/// Every character that is no blank, in order; a semicolon and a line break are one to the other.
fn ink(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace() && *c != '\u{feff}').collect()
}

/// Whether it could be laid out at all.
fn keeps(text: &str) -> bool {
    with_stack(|| {
        let Some(laid) = tidy(text) else { return false };
        assert_eq!(said(text), said(&laid), "{text:?} became {laid:?}");
        assert_eq!(ink(text), ink(&laid), "{text:?} became {laid:?}");
        assert_eq!(tidy(&laid).as_deref(), Some(&*laid), "a second time, of {text:?}");
        assert!(laid.is_empty() || laid.ends_with('\n'), "{laid:?}");
        true
    })
}

const TOKENS: [&str; 26] = [
    "a",
    "b ",
    " ",
    "\t",
    "\n",
    "\r\n",
    "\n\n\n",
    " {",
    "}",
    "}\n",
    "{ ",
    "/-",
    "(lb)4",
    "k=1",
    " 1",
    "\"s\"",
    "#\"r\"#",
    " // x\n",
    "/* y */",
    "/* two\n lines */",
    "\\\n",
    " \\ // c\n",
    "#true",
    ";",
    "; ",
    "\"\"\"\n  t\n  \"\"\"",
];

proptest! {
    #![proptest_config(ProptestConfig { cases: 3000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_random_text_means_the_same(tokens in proptest::collection::vec(0..TOKENS.len(), 1..14)) {
        let text: String = tokens.iter().map(|token| TOKENS[*token]).collect();
        keeps(&text);
    }
}

#[test]
fn every_sheet_of_the_fixtures_means_the_same() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures");
    let mut laid = 0;
    for folder in std::fs::read_dir(&root).expect("the fixtures") {
        let folder = folder.expect("a folder").path();
        if !folder.is_dir() {
            continue;
        }
        for file in std::fs::read_dir(folder).expect("a folder") {
            let file = file.expect("a file").path();
            if let Ok(text) = std::fs::read_to_string(&file) {
                laid += usize::from(file.extension().is_some_and(|kind| kind == "kdl") && keeps(&text));
            }
        }
    }
    assert!(laid > 200, "{laid} files could be laid out");
}
