//! Hostile and broken texts: whatever comes in, `parse` returns soon, and every span it gives lies in the text.

use std::time::{Duration, Instant};

use draylint::syntax::{
    Document, MAX_BYTES, MAX_COMMENT_LINES, MAX_COMMENT_NESTING, MAX_FINDINGS, MAX_NESTING, MAX_SLASHDASH_NESTING,
    MAX_SLASHDASHES, Node, Parsed, parse, pool, with_stack,
};
use draylint::text::{FileId, Span};
use proptest::prelude::*;

const SHEET: &str = r##"// one job
sheet "trencher-move" {
    describe "trencher to a drainage job, \"blade\" on"
    truck "rook"; trailer "sled-20"
    conditions deck="wet" speed=(mph)55 grade=(pct)6
    machine "trencher-30" facing="forward" front-gap=(in)43 { /* nose first */
        fit "backfill-blade"
        parking-brake #true
        tie "chain-38" from="front-left"  to="front-left"
        /- tie "chain-38" from="rear-right" to="rear-right" { note "x" }
    }
    bulk "crushed-stone" density=("lb/yd3")2700 covered=#true /- moisture="wet" \
        volume=(yd3)4
    why #"""
        raw "text" of
        two lines
        """#
}
"##;

fn check_span(text: &str, span: Span) {
    assert_eq!(span.file, FileId(9));
    assert!(text.get(span.range()).is_some(), "{span:?} is no part of {text:?}");
}

fn check_nodes(text: &str, nodes: &[Node]) {
    for node in nodes {
        let mut inner = vec![node.head, node.name.span];
        inner.extend(node.ty.iter().map(|ty| ty.span));
        for entry in &node.entries {
            inner.extend([entry.span, entry.value_span, entry.typed_span]);
            inner.extend(entry.key.iter().chain(&entry.ty).map(|word| word.span));
            assert!(entry.span.holds(entry.typed_span) && entry.typed_span.holds(entry.value_span), "{text:?}");
        }
        inner.extend(node.children().map(|child| child.span));
        for span in &inner {
            assert!(node.span.holds(*span), "{span:?} in {:?}: {text:?}", node.span);
        }
        inner.iter().chain(&node.lost).chain([&node.span]).for_each(|span| check_span(text, *span));
        check_nodes(text, node.children.as_deref().unwrap_or(&[]));
    }
}

/// What holds for every text.
fn check(text: &str, parsed: &Parsed) {
    assert!(parsed.findings.len() <= MAX_FINDINGS);
    for finding in &parsed.findings {
        check_span(text, finding.primary.span);
        finding.labels.iter().for_each(|label| check_span(text, label.span));
        for fix in &finding.fixes {
            fix.edits.iter().for_each(|edit| check_span(text, edit.span));
            let apart = fix.edits.windows(2).all(|pair| pair[0].span.end <= pair[1].span.start);
            assert!(apart, "{fix:?} in {text:?}");
        }
        assert!(!finding.message.is_empty() && finding.help.is_some());
    }
    match &parsed.document {
        None => assert!(!parsed.findings.is_empty(), "refused without a word: {text:?}"),
        Some(document) => {
            assert!(document.is_whole() || !parsed.findings.is_empty(), "lost without a word: {text:?}");
            document.lost.iter().for_each(|lost| check_span(text, lost.span));
            check_nodes(text, &document.nodes);
        }
    }
}

fn run(text: &str) -> Parsed {
    let parsed = parse(FileId(9), text);
    check(text, &parsed);
    parsed
}

const TOKENS: [&str; 48] = [
    "a", "b", " ", "  ", "\n", "\r\n", "\r", "{", "}", "a {\n", "\n}\n", "/-", "/- ", "/-{", " /-a{b;", "(t)", "(",
    ")", "=", "k=1", "k=", "1", "4x", "0.", "1e400", "\"s\"", "\"", "#\"r\"#", "#\"", "##\"", "\"#", "\"\"\"\n",
    "\"\"\"", "/*", "*/", "//", "\\\n", "\\", ";", "#true", "true", "é", "\u{feff}", "\u{1}", "[", "\u{2028}", ",",
    "\u{202e}",
];

/// Tokens without `;`, which the parser does not take after a node that is switched off, as KDL 2 does.
const SHORT: [&str; 24] = [
    "a", " ", " ", "\n", "{", "}", " { ", "}\n", "/-", " /-", "/-{", "(t)", "=", "k=1", " 1", "\"s\"", "#\"r\"#", "\"",
    "/*", "*/", "// x\n", "\\\n", "#true", "4x",
];

fn settings(cases: u32) -> ProptestConfig {
    ProptestConfig { cases, failure_persistence: None, ..ProptestConfig::default() }
}

proptest! {
    #![proptest_config(settings(1000))]

    #[test]
    fn any_text(text in any::<String>()) {
        with_stack(|| run(&text));
    }

    #[test]
    fn any_bytes(bytes in proptest::collection::vec(any::<u8>(), 0..300)) {
        with_stack(|| run(&String::from_utf8_lossy(&bytes)));
    }

    #[test]
    fn soups_of_tokens(tokens in proptest::collection::vec(0..TOKENS.len(), 0..150)) {
        let text: String = tokens.iter().map(|token| TOKENS[*token]).collect();
        with_stack(|| run(&text));
    }

    /// On short texts, which the parser can be given without fear: what it takes is taken, and what it refuses is
    /// refused, both when it reads the text at once and when it is read header by header.
    #[test]
    fn the_parser_and_the_scan_agree(tokens in proptest::collection::vec(0..SHORT.len(), 1..10)) {
        let text: String = tokens.iter().map(|token| SHORT[*token]).collect();
        let taken = text.parse::<kdl::KdlDocument>().is_ok();
        let by_header = format!("{text}\n/-a\n/-a\n/-a\n/-a\n/-a\n");
        // A `/-` at the end would switch off the first of those.
        let by_header_taken = by_header.parse::<kdl::KdlDocument>().is_ok();
        with_stack(|| {
            for (text, taken) in [(&text, taken), (&by_header, by_header_taken)] {
                let findings = run(text).findings;
                // The parser takes `/- /-1 2` and `a {} /-1`, where KDL 2 (section 3.3) has no place for that `/-`, and
                // in a node switched off a keyword run together with a name, `/-a #truea`, which it refuses in others.
                let strict = |message: &str| {
                    ["twice in a row", "after } the line", "there is no #"].iter().any(|one| message.contains(one))
                };
                let stricter = taken && text.contains("/-") && findings.iter().all(|finding| strict(&finding.message));
                prop_assert!(stricter || findings.is_empty() == taken, "{:?}: {:?}", text, findings);
            }
            Ok(())
        })?;
    }

    #[test]
    fn few_tokens_over_and_over(tokens in proptest::collection::vec(0..TOKENS.len(), 1..7), count in 1..300_usize, close in any::<bool>()) {
        let unit: String = tokens.iter().map(|token| TOKENS[*token]).collect();
        let mut text = unit.repeat(count);
        if close {
            text += &"}".repeat(text.matches('{').count());
        }
        let began = Instant::now();
        with_stack(|| run(&text));
        prop_assert!(began.elapsed() < Duration::from_secs(5), "{} bytes of {:?}", text.len(), unit);
    }

    #[test]
    fn a_sheet_with_changes(changes in proptest::collection::vec((any::<prop::sample::Index>(), 0..4_usize, 0..TOKENS.len()), 1..5)) {
        let mut text: Vec<char> = SHEET.chars().collect();
        for (at, what, token) in &changes {
            // Nothing is left to change once a cut and a removal have emptied it.
            let at = if text.is_empty() { 0 } else { at.index(text.len()) };
            match what {
                0 if text.is_empty() => {}
                0 => { text.remove(at); }
                1 => text.truncate(at.max(1)),
                _ => { text.splice(at..at, TOKENS[*token].chars()); }
            }
        }
        let text: String = text.into_iter().collect();
        with_stack(|| run(&text));
    }
}

/// A header that is switched off and broken: what follows on its line takes the block over.
#[test]
fn a_block_behind_a_broken_header_lies_in_the_node_that_takes_it() {
    with_stack(|| run("a {\n    /- tie \"chain\" from=#true\"left\" to=\"right\" { note \"x\" }\n}\n"));
}

#[test]
fn the_sheet_itself_is_clean() {
    let parsed = run(SHEET);
    assert_eq!(parsed.findings, []);
    assert!(parsed.document.is_some_and(|document| document.is_whole()));
}

/// Shapes on which the parser was measured to take exponential or quadratic time or to recurse per repetition, and
/// their neighbours. Each is filled up to the size limit.
#[test]
fn hostile_shapes_of_full_size_return() {
    let shapes: [(&str, &str, &str); 44] = [
        ("a{", "b", "}"),
        ("a{", "b 4x", "}"),
        ("a{", "b", ""),
        ("", "", "}"),
        ("a /-{", "b", "}"),
        ("a /-{ ", "b", ""),
        ("a{b;/-", "c", ""),
        ("a{b;/-", "c", "}"),
        ("/-a{", "b", "}"),
        (" a /-{ ##\"##\"", "", "}"),
        ("/-", "a", ""),
        ("a /- ", "b", ""),
        ("a {/-b 4x;", "b", "}"),
        ("a /-{x 4x}\n", "", ""),
        ("/-a{4x}\n", "", ""),
        ("a /-1\n", "4x", ""),
        ("a{}\n/-b ", "", ""),
        ("/*", "x", "*/"),
        ("/* x\n", "", ""),
        ("x\n", "", "/*"),
        ("// x\n", "", ""),
        ("a \\\n", "1", ""),
        ("#\"x ", "", ""),
        ("#\"r\"#\"k=(", "", ""),
        ("\"", "", ""),
        ("\"\"\"", "", ""),
        ("\"\"\"\n", "", ""),
        ("##\"", "", ""),
        ("\"#", "", ""),
        ("}}\\", "", ""),
        ("(", "", ")"),
        ("(t)", "a", ""),
        ("=", "", ""),
        ("a=", "", ""),
        ("a k=4x\n", "", ""),
        ("a true\n", "", ""),
        ("a \"x\n", "", ""),
        ("weight: 1\n", "", ""),
        (";", "", ""),
        ("{\n", "", ""),
        ("1", "", ""),
        ("a 0.1111111111111111111111111111111111111111111111\n", "", ""),
        ("\u{202e}\n", "", ""),
        ("a {}\n{}", "", ""),
    ];
    with_stack(|| {
        for (open, inner, close) in shapes {
            let count = (MAX_BYTES - inner.len()) / (open.len() + close.len());
            // Shallow ones too, which pass the limits on nesting.
            for count in [4, 60, count] {
                let text = open.repeat(count) + inner + &close.repeat(count);
                assert!(text.len() <= MAX_BYTES);
                let began = Instant::now();
                run(&text);
                let took = began.elapsed();
                assert!(took < Duration::from_secs(20), "{open:?} {count} times took {took:?}");
            }
        }
    });
}

/// The deepest texts that are accepted, in every combination, on the stack that parsing has.
#[test]
fn the_worst_that_is_accepted_fits_the_stack() {
    let comment = format!("/*{}*/", "x\n".repeat(MAX_COMMENT_LINES));
    let nested =
        "/*".repeat(MAX_COMMENT_NESTING) + &"y\n".repeat(MAX_COMMENT_LINES) + &"*/".repeat(MAX_COMMENT_NESTING);
    let filling = "b k=(lb)4 /* c */ \"d\"\n".repeat(1500);
    for inner in [
        "c 4x",
        "c",
        &comment,
        &nested,
        &format!("c {nested} 1"),
        &format!("{comment}\n/-c 1 {{ {nested} }}"),
        &filling,
    ] {
        for (open, close) in [("a{", "}"), ("a k=1 /*x*/ {\n ", "\n}\n"), ("a {", "")] {
            let text = open.repeat(MAX_NESTING - 1) + inner + &close.repeat(MAX_NESTING - 1);
            let parsed = run(&text);
            assert!(parsed.document.is_some(), "{:?}", parsed.findings);
        }
    }
    let off = "a /-{ ".repeat(MAX_SLASHDASH_NESTING) + &filling + &"}".repeat(MAX_SLASHDASH_NESTING);
    assert_eq!(run(&off).findings, []);
}

fn rules(text: &str) -> Vec<String> {
    run(text).findings.iter().map(|finding| finding.rule.to_string()).collect()
}

#[test]
fn limits_hold_exactly() {
    let nest = |open: &str, count: usize, close: &str| open.repeat(count) + "b" + &close.repeat(count);
    assert_eq!(rules(&nest("a{", MAX_NESTING, "}")), [""; 0]);
    assert_eq!(rules(&nest("a{", MAX_NESTING + 1, "}")), ["too-deep"]);
    assert_eq!(rules(&nest("/*", MAX_COMMENT_NESTING, "*/")), [""; 0]);
    assert_eq!(rules(&nest("/*", MAX_COMMENT_NESTING + 1, "*/")), ["too-deep"]);
    assert_eq!(rules(&format!("/*{}*/", "\n".repeat(MAX_COMMENT_LINES))), [""; 0]);
    assert_eq!(rules(&format!("/*{}*/", "\n".repeat(MAX_COMMENT_LINES + 1))), ["too-large"]);
    for (open, close) in [("a /-{", "}"), ("/-a {", "}"), ("a {b;/-", "}"), ("/-a k=1 /-{c}{", "}")] {
        let inner = usize::from(open.contains("/-{c}"));
        assert_eq!(rules(&nest(open, MAX_SLASHDASH_NESTING - inner, close)), [""; 0], "{open}");
        assert_eq!(rules(&nest(open, MAX_SLASHDASH_NESTING + 1, close)), ["too-deep"], "{open}");
    }
    assert_eq!(rules(&format!("a{}", " /-1".repeat(MAX_SLASHDASHES))), [""; 0]);
    assert_eq!(rules(&format!("a{}", " /-1".repeat(MAX_SLASHDASHES + 1))), ["too-deep"]);
    assert_eq!(rules(&" ".repeat(MAX_BYTES)), [""; 0]);
    assert_eq!(rules(&"é".repeat(MAX_BYTES / 2 + 1)), ["too-large"]);
    let large = parse(FileId(0), &"é".repeat(MAX_BYTES));
    assert_eq!(large.findings[0].message, "the file has more than 65,536 bytes, so it is not read");
}

#[test]
fn limits_are_refused_at_their_place() {
    let text = "a{".repeat(MAX_NESTING + 1);
    let parsed = run(&text);
    assert_eq!(parsed.document, None);
    assert_eq!(parsed.findings[0].primary.span.range(), 2 * MAX_NESTING + 1..2 * MAX_NESTING + 2);
}

#[test]
fn a_thread_with_little_stack_can_parse_too() {
    let text = "a{".repeat(MAX_NESTING) + &"}".repeat(MAX_NESTING);
    let whole = |document: Option<Document>| document.is_some_and(|document| document.is_whole());
    let small = std::thread::Builder::new().stack_size(128 << 10);
    let here = small
        .spawn({
            let text = text.clone();
            move || parse(FileId(9), &text)
        })
        .unwrap()
        .join()
        .unwrap();
    assert!(whole(here.document));
    let pool = pool().num_threads(2).build().unwrap();
    assert!(whole(pool.install(|| parse(FileId(9), &text)).document));
}
