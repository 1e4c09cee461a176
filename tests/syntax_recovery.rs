//! What a broken text still gives: a finding at each fault, with what to write instead, and every node that is whole.

use draylint::syntax::{Document, Node, Parsed, parse};
use draylint::text::{FileId, Source};

struct Read {
    source: Source,
    parsed: Parsed,
}

fn read(text: &str) -> Read {
    Read { source: Source::new("sheet.kdl", text), parsed: parse(FileId(0), text) }
}

impl Read {
    /// Each finding as `line:column rule "the marked text"`.
    fn findings(&self) -> Vec<String> {
        let line = |finding: &draylint::finding::Finding| {
            let place = self.source.place(finding.primary.span.start as usize);
            let marked = self.source.slice(finding.primary.span);
            format!("{}:{} {} {marked}", place.line, place.column, finding.rule)
        };
        self.parsed.findings.iter().map(line).collect()
    }

    fn help(&self) -> Vec<&str> {
        self.parsed.findings.iter().filter_map(|finding| finding.help.as_deref()).collect()
    }

    fn document(&self) -> &Document {
        self.parsed.document.as_ref().unwrap()
    }

    /// The nodes as `name[child child]`, with `!` for each thing lost in a node.
    fn tree(&self) -> String {
        fn show(node: &Node) -> String {
            let children: Vec<String> = node.children().map(show).collect();
            let inner = if node.children.is_some() { format!("[{}]", children.join(" ")) } else { String::new() };
            format!("{}{inner}{}", node.name.text, "!".repeat(node.lost.len()))
        }
        self.document().nodes.iter().map(show).collect::<Vec<_>>().join(" ")
    }

    fn lost(&self) -> Vec<&str> {
        self.document().lost.iter().map(|lost| self.source.slice(lost.span)).collect()
    }
}

#[test]
fn three_faults_in_three_nodes_are_three_findings_and_the_rest_is_read() {
    let read = read(
        r#"truck "rook" {
    axle "front" weighed=4360lb
    wheelbase (in)172
}
trailer "sled-20" {
    breakaway true
    gvwr (lb)14000
}
machine "trencher-30 {
    weight (lb)3100
}
tiedown "strap-3" wll=(lb)5000
"#,
    );
    assert_eq!(read.findings(), ["2:26 not-kdl 4360lb", "6:15 not-kdl true", "9:9 not-kdl \""]);
    assert_eq!(read.help(), ["write (lb)4360", "write #true", "write the closing quote after the text"]);
    assert_eq!(read.tree(), "truck[wheelbase]! trailer[gvwr]! tiedown");
    let lost = &read.document().lost[0];
    assert_eq!((lost.name.as_deref(), lost.id.as_deref()), (Some("machine"), Some("trencher-30")));
    assert!(!read.document().is_whole());
}

#[test]
fn an_error_in_a_property_value_does_not_swallow_the_file() {
    let read = read("a 1\nb {\n  c k=(lb)1lb\n  d 2\n}\ne x=\nf 3\n");
    assert_eq!(read.findings(), ["3:11 not-kdl 1lb", "6:4 not-kdl ="]);
    assert_eq!(read.tree(), "a b[d]! f");
    assert_eq!(read.lost(), ["e x="]);
}

#[test]
fn two_slips_on_one_line_are_two_findings() {
    let read = read("axle \"front\" weighed=4360lb driven=true rating=5,600\n");
    assert_eq!(read.findings(), ["1:22 not-kdl 4360lb", "1:36 not-kdl true", "1:48 not-kdl 5,600"]);
}

#[test]
fn a_brace_that_is_not_closed_is_found_by_the_indentation() {
    let read = read(
        r#"truck "rook" {
    axle "front" {
        tires count=2
    wheelbase (in)172
}
trailer "sled-20" {
}
"#,
    );
    assert_eq!(read.findings(), ["2:18 not-kdl {"]);
    assert!(read.parsed.findings[0].message.contains("axle \"front\""));
    assert_eq!(read.tree(), "truck[axle[tires]! wheelbase] trailer[]");
}

#[test]
fn a_brace_that_is_not_closed_at_the_end_is_marked_where_it_opens() {
    assert_eq!(read("a {\n    b 1\n").findings(), ["1:3 not-kdl {"]);
    assert_eq!(read("a {b 1").tree(), "a[b]!");
    assert_eq!(read("a {\nb {\nc\n}\n").findings(), ["1:3 not-kdl {"]);
}

#[test]
fn a_brace_too_many_costs_nothing_else() {
    let text = "truck \"rook\" {\n    axle 1 {\n    }\n    }\n    gvwr 2\n}\nb\n";
    assert_eq!(read(text).findings(), ["4:5 not-kdl }"]);
    assert_eq!(read(text).tree(), "truck[axle[] gvwr] b");
    assert_eq!(read("a\n}\nb\n").findings(), ["2:1 not-kdl }"]);
    assert_eq!(read("a\n}\nb\n").tree(), "a b");
}

#[test]
fn lines_whose_opening_brace_is_missing_stay_with_their_node() {
    let read = read("truck \"rook\"\n    gvwr 2\n}\ntrailer \"b\" {\n    gvwr 3\n}\n");
    assert_eq!(read.findings(), ["3:1 not-kdl }"]);
    assert_eq!(read.source.slice(read.parsed.findings[0].labels[0].span), "truck \"rook\"");
    assert_eq!(read.tree(), "truck[gvwr]! trailer[gvwr]");
}

#[test]
fn a_text_or_comment_that_is_never_closed_is_one_finding() {
    assert_eq!(read("a 1\nb {\n c \"\"\"\n d\n}\n").findings(), ["3:4 not-kdl \"\"\""]);
    let comment = read("a 1\nb {\n c 1 /* d\n}\n");
    assert_eq!(comment.findings(), ["3:6 not-kdl /*"]);
    assert_eq!(comment.tree(), "a b[c!]!");
}

#[test]
fn braces_on_a_line_of_their_own_are_taken_for_the_node_before() {
    let read = read("a 1\n{\n  b\n}\nc\n");
    assert_eq!(read.findings(), ["2:1 not-kdl {"]);
    assert_eq!(read.tree(), "a[b] c");
}

#[test]
fn what_follows_a_closing_brace_is_lost_and_said() {
    let read = read("a { b; } k=1 { c; }\nd\n");
    assert_eq!(read.findings(), ["1:10 not-kdl k"]);
    assert_eq!(read.tree(), "a[b]! d");
    assert_eq!(read.source.slice(read.document().nodes[0].lost[0]), "k=1 { c; }");
}

#[test]
fn faults_in_what_is_switched_off_are_faults_too() {
    let read = read("a\n/-b 4lb {\n c true\n}\nd /-{ e x= }\n");
    assert_eq!(read.findings(), ["2:5 not-kdl 4lb", "3:4 not-kdl true", "5:10 not-kdl ="]);
    assert_eq!(read.tree(), "a d");
}

#[test]
fn a_semicolon_may_end_what_is_switched_off() {
    let read = read("/-a 1; b 2 { /-c; d }\n");
    assert_eq!(read.findings(), [""; 0]);
    assert_eq!(read.tree(), "b[d]");
}

/// Text, the marked part, and what the help says.
const SLIPS: [(&str, &str, &str); 44] = [
    ("a true", "true", "write #true"),
    ("a k=false", "false", "write #false"),
    ("a null", "null", "write #null"),
    ("a #yes", "#yes", "write #true, #false or #null, or put text in quotes"),
    ("a r\"x\\y\"", "r\"x\\y\"", "write #\"x\\y\"#"),
    ("a r#\"x\"#", "r#\"x\"#", "write #\"x\"#"),
    ("a 4200lb", "4200lb", "write (lb)4200"),
    ("a k=-4.5in", "-4.5in", "write (in)-4.5"),
    ("a 9%", "9%", "write (pct)9"),
    ("a (lb)4200lb", "4200lb", "write 4200"),
    ("a 4200(lb)", "4200(lb)", "write (lb)4200"),
    ("a k=4200(lb) l=1", "4200(lb)", "write (lb)4200"),
    ("a 4,200", "4,200", "write 4200"),
    ("a 1, 2", "1,", "write 1"),
    ("a \"x\", k=1", ",", "delete the comma"),
    ("a .5", ".5", "write 0.5"),
    ("a -.5", "-.5", "write -0.5"),
    ("a 5.", "5.", "write 5"),
    ("a 3/8", "3/8", "write 0.5 for a half, 0.375 for three eighths"),
    ("a 16'", "16'", "write (ft)16"),
    ("a 4\"", "\"", "write (in)4"),
    ("a = (lb)1", "=", "write a (lb)1"),
    ("a=1", "=", "write a 1"),
    ("a k==1", "=", "write it once"),
    ("a k=", "=", "write the value after it"),
    ("a k=(lb)", "(lb)", "write the number after it"),
    ("a ()4", "()", "write the unit in them, as (lb)4200"),
    ("a (lb/yd3)4", "(lb/yd3)", "write (\"lb/yd3\"): a unit with a slash stands in quotes"),
    ("a (lb 4", "(", "write ) after the unit, as (lb)4200"),
    ("a [1]", "[", "write values one after another, with blanks between them"),
    ("a \"x\\q\"", "\\q", "write \\\\ for a backslash"),
    ("a 1 \\ 2", "\\", "delete it"),
    ("a 'x'", "'x'", "write \"x\""),
    ("weight: 4200", "weight:", "write weight 4200; unless it is a count, its unit goes before it, as in (lb)"),
    ("a length=5'", "5'", "write (ft)5"),
    ("a length=5'6", "5'6", "write \"5 ft 6 in\""),
    ("a speed=80kph", "80kph", "write (kmh)80"),
    ("gvwr: 11000 lb", "gvwr:", "write gvwr (lb)11000"),
    ("gvwr: 11,000 lbs", "gvwr:", "write gvwr (lb)11000"),
    ("wheelbase: (in)58", "wheelbase:", "write wheelbase (in)58"),
    ("cargo \"x\" weight: 900 lb length=(in)40", "weight:", "write weight=(lb)900"),
    ("weight: (lb)4200 origin=\"plate\"", "weight:", "write weight (lb)4200 origin=\"plate\""),
    ("a weighed: (lb)4360", "weighed:", "write weighed=(lb)4360"),
    ("weight:(lb)4200", "weight:", "write weight (lb)4200"),
];

#[test]
fn frequent_slips_say_what_to_write() {
    for (text, marked, help) in SLIPS {
        for (before, after) in [("", "\n"), ("ok 1\n", "\nok\n"), ("ok { ok; ", "\n }")] {
            let read = read(&format!("{before}{text}{after}"));
            let first = read.parsed.findings.first().unwrap_or_else(|| panic!("{text} is taken"));
            assert_eq!(read.source.slice(first.primary.span), marked, "{text}");
            assert_eq!(
                first.primary.span.start as usize,
                before.len() + text.rfind(marked).unwrap().min(text.find(marked).unwrap()),
                "{text}"
            );
            assert_eq!(first.help.as_deref(), Some(help), "{text}");
            assert!(!read.document().is_whole(), "{text}");
            assert!(before.is_empty() || read.document().nodes[0].name.text.as_ref() == "ok", "{text}");
        }
    }
}

#[test]
fn valid_forms_that_look_like_slips_are_left_alone() {
    let text = "a 0x1F 1e5 +1 0b1_0 1_000 (lb)-1.5 \"true\" k=\"4lb\" #inf \"a: b\" bare\n";
    let read = read(text);
    assert_eq!(read.findings(), [""; 0]);
    let entries = &read.document().nodes[0].entries;
    assert_eq!(entries.len(), 11);
    assert!(!entries[8].value.is_finite());
    assert!(entries[0].value.is_finite());
}

#[test]
fn hidden_characters_are_found_wherever_they_stand() {
    let clean = "\u{feff}a 1 // é 漢\tb\r\n";
    assert_eq!(read(clean).findings(), [""; 0]);
    for hidden in ["\0", "\u{7f}", "\u{1b}", "\u{202e}", "\u{2066}", "\u{200b}", "\u{feff}", "\u{85}"] {
        for (before, after) in [("a // ", " x\nb\n"), ("a /* ", "*/ 1\nb\n"), ("a \"", "\"\nb\n"), ("a 1", "\nb\n")] {
            let read = read(&format!("{before}{hidden}{after}"));
            let found: Vec<_> = read.parsed.findings.iter().filter(|f| f.rule == "hidden-character").collect();
            assert_eq!(found.len(), 1, "{hidden:?} after {before:?}");
            assert_eq!(read.source.slice(found[0].primary.span), hidden);
            assert!(!found[0].message.contains(hidden));
        }
    }
}

#[test]
fn hidden_characters_are_one_finding_a_line_and_few_a_file() {
    let read = read(&"a // \u{202e}\u{202c} \u{200b}\n".repeat(20));
    assert_eq!(read.parsed.findings.len(), 5);
    assert!(read.parsed.findings[0].message.contains("with 2 more on this line"));
    assert!(read.parsed.findings[4].message.contains("15 further lines"));
    assert_eq!(read.document().nodes.len(), 20);
}

#[test]
fn many_faults_are_listed_up_to_a_limit() {
    let read = read(&"a 4lb\n".repeat(200));
    assert_eq!(read.parsed.findings.len(), draylint::syntax::MAX_FINDINGS);
    assert!(read.parsed.findings.last().unwrap().message.contains("150 further"));
}
