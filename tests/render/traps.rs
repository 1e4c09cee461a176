//! Known traps of the drawing beneath us, each by name.

use draylint::finding::{Finding, Level};
use draylint::render::{Style, TextRenderer};
use draylint::text::{FileId, Source, Sources, Span};

const HERE: FileId = FileId(0);

fn one(text: &str) -> Sources {
    let mut sources = Sources::default();
    sources.add(Source::new("a.kdl", text));
    sources
}

fn span(start: usize, end: usize) -> Span {
    Span::new(HERE, start..end)
}

fn draw(sources: &Sources, finding: Finding) -> String {
    TextRenderer::new(Style::PLAIN).findings(sources, &[finding])
}

fn finding(span: Span) -> Finding {
    Finding::new("rule", Level::Error, span, "message")
}

#[test]
fn a_span_past_the_end_is_clamped() {
    let text = draw(&one("truck\n"), finding(span(7, 9)).marked("past"));
    assert!(text.contains("a.kdl:2:1"), "{text}");
    assert!(text.contains("past"), "{text}");
}

#[test]
fn an_overflowing_span_is_clamped() {
    let huge = Span { file: HERE, start: u32::MAX - 1, end: u32::MAX };
    assert!(draw(&one("truck"), finding(huge).marked("x")).contains("a.kdl:1:6"));
    let backward = Span { file: HERE, start: 3, end: 1 };
    assert!(draw(&one("truck"), finding(backward).marked("back")).contains("back"));
}

#[test]
fn a_span_inside_a_character_is_moved_to_its_start() {
    assert!(draw(&one("çççç"), finding(span(1, 3)).marked("x")).contains("a.kdl:1:1"));
}

#[test]
fn a_span_at_the_end_without_a_final_newline_shows_a_mark() {
    let text = draw(&one("truck \"rook\" {"), finding(span(14, 14)).marked("not closed"));
    insta::assert_snapshot!(text);
}

#[test]
fn an_empty_file_shows_a_mark() {
    let text = draw(&one(""), finding(span(0, 0)).marked("nothing here"));
    insta::assert_snapshot!(text);
}

#[test]
fn a_file_that_is_not_there_costs_only_the_excerpt() {
    let text = draw(&one(""), finding(Span::new(FileId(9), 0..1)).label(Span::new(FileId(8), 0..1), "other"));
    insta::assert_snapshot!(text);
}

#[test]
fn a_label_beyond_column_65535_is_cut_out_of_its_line() {
    let long = format!("{}front-gap=(in)50{}", "a ".repeat(40_000), " b".repeat(40_000));
    let text = draw(&one(&long), finding(span(80_000, 80_016)).marked("this gap"));
    assert!(text.contains("a.kdl:1:80001"), "{text}");
    insta::assert_snapshot!(text);
}

#[test]
fn a_long_span_is_marked_as_far_as_it_is_in_view() {
    let text = draw(&one(&"ab ".repeat(50_000)), finding(span(3, 140_000)).marked("all of this"));
    assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
    assert!(text.contains("all of this") && text.contains('…'), "{text}");
}

#[test]
fn overlapping_labels_on_a_line_are_joined_shortened_or_set_apart() {
    let sources = one("machine \"trencher-30\" facing=\"forward\" front-gap=(in)50 {\n");
    let whole = span(0, 57);
    let gap = span(39, 55);
    let value = span(49, 55);
    let text = draw(&sources, finding(gap).label(whole, "this machine").label(value, "inside").label(gap, "again"));
    insta::assert_snapshot!(text);
}

#[test]
fn a_span_of_several_lines_is_marked_on_its_first() {
    let sources = one("load {\n    machine \"a\" {\n        tie\n    }\n}\n");
    insta::assert_snapshot!(draw(&sources, finding(span(11, 42)).marked("this machine")));
}

#[test]
fn labels_far_apart_have_frames_with_the_right_numbers() {
    let lines = (1..=120).map(|at| format!("line {at}")).collect::<Vec<_>>().join("\n");
    let sources = one(&lines);
    let place = |text: &str| {
        let start = lines.find(text).unwrap();
        span(start, start + text.len())
    };
    let text =
        draw(&sources, finding(place("line 20")).label(place("line 110"), "far").label(place("line 24"), "near"));
    insta::assert_snapshot!(text);
}

#[test]
fn characters_that_act_are_replaced_everywhere() {
    let bad = "\u{1b}]8;;x\u{7}\u{202e}\u{9b}31m\r";
    let mut sources = Sources::default();
    sources.add(Source::new(format!("a{bad}.kdl"), format!("truck \"{bad}\"\tname\n")));
    let mut finding = Finding::new("rule", Level::Error, span(0, 5), format!("m{bad}"))
        .marked(format!("l{bad}"))
        .label(Span::new(HERE, 6..7), format!("s{bad}"))
        .help(format!("h{bad}\nnext"));
    finding.sheet = Some(format!("sheet{bad}").into());
    finding.source = Some(format!("o{bad}"));
    let text = TextRenderer::new(Style::PLAIN).findings(&sources, &[finding]);
    let acts = |c: char| c != '\n' && (c.is_control() || ('\u{202a}'..='\u{202e}').contains(&c));
    assert!(!text.contains(acts), "{text:?}");
    for head in ['a', 'm', 'l', 's', 'h', 'o'] {
        assert!(text.contains(&format!("{head}<U+001B>]8;;x<U+0007><U+202E>")), "{head}: {text}");
    }
}

#[test]
fn columns_count_characters_after_stand_ins_tabs_and_wide_ones() {
    let sources = one("\t日本\u{1b} gap\n");
    let start = sources.get(HERE).unwrap().text.find("gap").unwrap();
    let text = draw(&sources, finding(span(start, start + 3)).marked("here"));
    assert!(text.contains("a.kdl:1:6"), "{text}");
    insta::assert_snapshot!(text);
}

#[test]
fn a_long_label_far_to_the_right_is_wrapped_or_the_line_is_moved() {
    let sources =
        one("    cargo \"pipe coil\" weight=(lb)380 length=(in)44 width=(in)44 height=(in)40 rear-gap=(in)6 {\n");
    let start = sources.get(HERE).unwrap().text.find("rear-gap").unwrap();
    let long =
        "the coil stands so far back that it takes weight off the tongue, and nothing ahead of it makes up for it";
    insta::assert_snapshot!(draw(&sources, finding(span(start, start + 14)).marked(long)));
}

#[test]
fn blanks_at_the_end_of_a_line_can_be_marked() {
    let text = draw(&one("truck   \n"), finding(span(6, 8)).marked("blanks"));
    assert!(text.contains("\n 1 │ truck\n   ·       ─┬\n   ·        ╰── blanks\n"), "{text}");
}

#[test]
fn touching_labels_on_a_line_keep_their_columns() {
    let text = draw(&one("gap=(in)5\n"), finding(span(0, 4)).label(span(4, 8), "unit").label(span(8, 9), "number"));
    insta::assert_snapshot!(text);
}

#[test]
fn a_width_under_40_is_not_drawn() {
    let sources = one("machine \"trencher-30\" facing=\"forward\" front-gap=(in)50\n");
    let at = |width| {
        let finding = finding(span(39, 55)).marked("this gap is far too wide for the screen");
        TextRenderer::new(Style { width, ..Style::PLAIN }).findings(&sources, &[finding])
    };
    assert_eq!(at(0), at(40));
    assert_ne!(at(40), at(60));
}
