//! Findings as a person reads them.

use draylint::render::{CAUTION, Style, TextRenderer};

use crate::samples::{report, sources, ties, tongue, waived};

fn all(style: Style) -> String {
    let sources = sources();
    let findings = [ties(&sources), tongue(&sources), waived(&sources)];
    TextRenderer::new(style).report(&report(&sources, &findings), false)
}

#[test]
fn three_findings_at_80_columns() {
    insta::assert_snapshot!(all(Style::PLAIN));
}

#[test]
fn three_findings_in_ascii() {
    let text = all(Style { unicode: false, ..Style::PLAIN });
    assert!(text.is_ascii());
    insta::assert_snapshot!(text);
}

#[test]
fn three_findings_at_40_columns() {
    insta::assert_snapshot!(all(Style { width: 1, ..Style::PLAIN }));
}

#[test]
fn no_line_of_the_samples_is_wider_than_the_style_says() {
    for width in [40, 60, 80, 100] {
        for line in all(Style { width, ..Style::PLAIN }).lines() {
            assert!(unicode_width::UnicodeWidthStr::width(line) <= width, "{width}: {line}");
        }
    }
}

#[test]
fn colour_adds_nothing_but_colour() {
    let color = all(Style { color: true, ..Style::PLAIN });
    let mut plain = String::new();
    let mut rest = color.as_str();
    while let Some((before, after)) = rest.split_once('\u{1b}') {
        plain.push_str(before);
        rest = after.split_once('m').unwrap().1;
    }
    plain.push_str(rest);
    assert_ne!(color, plain);
    let trimmed = |text: &str| text.lines().map(str::trim_end).collect::<Vec<_>>().join("\n");
    assert_eq!(trimmed(&plain), trimmed(&all(Style::PLAIN)));
}

#[test]
fn the_first_two_lines_say_what_where_and_how_much() {
    let sources = sources();
    let text = TextRenderer::new(Style::PLAIN).findings(&sources, &[tongue(&sources)]);
    let mut lines = text.lines();
    assert_eq!(lines.next(), Some("error tongue-light at sheets/trencher-move.kdl:8:44"));
    assert_eq!(lines.next(), Some("  9.8 % of the trailer's weight rides on the hitch; this yard's floor is 11 %"));
}

#[test]
fn a_clean_run_is_one_line_and_the_caution() {
    let sources = sources();
    let renderer = TextRenderer::new(Style::PLAIN);
    let text = renderer.report(&report(&sources, &[]), false);
    assert_eq!(text.lines().next(), Some("9 files, 3 loads: nothing to mend"));
    assert_eq!(text.lines().skip(1).collect::<Vec<_>>().join(" "), CAUTION);
    assert_eq!(renderer.report(&report(&sources, &[]), true), "");
}

#[test]
fn workers_that_share_a_renderer_give_the_same_text_in_order() {
    let sources = sources();
    let findings: Vec<_> = (0..300).map(|at| if at % 2 == 0 { ties(&sources) } else { tongue(&sources) }).collect();
    let renderer = TextRenderer::new(Style::PLAIN);
    assert_eq!(renderer.report(&report(&sources, &findings), true), renderer.findings(&sources, &findings));
}

#[test]
fn a_renderer_is_shared_by_workers() {
    fn shared<T: Sync + Send>(_: &T) {}
    shared(&TextRenderer::new(Style::PLAIN));
}

#[test]
fn an_empty_folder_is_told() {
    let sources = draylint::text::Sources::default();
    let report = draylint::finding::Report { sources: &sources, findings: &[], files: 0, loads: 0 };
    let text = TextRenderer::new(Style::PLAIN).report(&report, false);
    assert_eq!(text.lines().next(), Some("no sheets here: nothing was checked"));
}

#[test]
fn a_finding_without_help_tells_what_its_fix_does() {
    let sources = sources();
    let mut finding = tongue(&sources);
    finding.help = None;
    let text = TextRenderer::new(Style::PLAIN).findings(&sources, &[finding]);
    assert!(text.contains("  help: move it 7 in forward\n"), "{text}");
}
