//! No input may panic, hang or act on the reader's terminal.

use draylint::finding::{Bounded, Finding, Label, Level, Report, Waived};
use draylint::render::{Style, TextRenderer, comment, json, junit, sarif, short, weigh};
use draylint::text::{FileId, Source, Sources, Span, is_hidden};
use proptest::prelude::*;

use crate::samples::loads;

/// Texts full of what terminals and drawings trip over.
fn text() -> impl Strategy<Value = String> {
    let piece = prop_oneof![
        4 => "[a-z(){}=\" ]{0,12}",
        1 => Just("\n".to_owned()),
        1 => Just("\r\n".to_owned()),
        1 => Just("\r".to_owned()),
        1 => Just("\t".to_owned()),
        1 => Just("\u{1b}[31mred\u{1b}[0m".to_owned()),
        1 => Just("\u{202e}\u{2066}".to_owned()),
        1 => Just("e\u{301}\u{301}".to_owned()),
        1 => Just("日本語👩‍🔧".to_owned()),
        1 => Just("\u{200b}\u{feff}\u{9b}\u{7f}\0".to_owned()),
        1 => (1_usize..300).prop_map(|many| "wide ".repeat(many)),
        1 => any::<String>(),
    ];
    proptest::collection::vec(piece, 0..12).prop_map(|pieces| pieces.concat())
}

fn span() -> impl Strategy<Value = Span> {
    let offset = prop_oneof![8 => 0_u32..200, 2 => 0_u32..4000, 1 => any::<u32>()];
    let length = prop_oneof![8 => 0_u32..40, 1 => any::<u32>()];
    (0_u32..3, offset, length).prop_map(|(file, start, length)| Span {
        file: FileId(file),
        start,
        end: start.saturating_add(length),
    })
}

fn label() -> impl Strategy<Value = Label> {
    (span(), text()).prop_map(|(span, text)| Label { span, text })
}

fn finding() -> impl Strategy<Value = Finding> {
    let parts = (text(), text(), label(), proptest::collection::vec(label(), 0..5));
    let level = proptest::sample::select(&Level::ALL[..]);
    let more = (proptest::option::of(text()), proptest::option::of(text()), proptest::option::of(text()));
    (parts, level, more, any::<f64>()).prop_map(
        |((rule, message, primary, labels), level, (sheet, help, by), value)| {
            let mut finding = Finding::new(rule, level, primary.span, message).marked(primary.text);
            finding.labels = labels;
            finding.leg = sheet.clone().map(Into::into);
            finding.sheet = sheet.map(Into::into);
            finding.source.clone_from(&help);
            finding.help = help;
            finding.figure = Some(Bounded {
                name: String::new(),
                value,
                kind: None,
                plus_minus: Some(value),
                at_least: None,
                at_most: Some(value),
            });
            finding.waived = by.map(|by| Waived { reason: by.clone(), by: by.clone(), until: by });
            finding
        },
    )
}

/// A text without the colour codes that this room and its drawing write.
fn without_colour(text: &str) -> String {
    let mut out = String::new();
    for (at, part) in text.split('\u{1b}').enumerate() {
        let rest = if at == 0 {
            part
        } else {
            let (code, rest) = part.strip_prefix('[').and_then(|part| part.split_once('m')).expect("a colour code");
            assert!(code.bytes().all(|byte| byte.is_ascii_digit() || byte == b';'), "{code:?}");
            rest
        };
        out.push_str(rest);
    }
    out
}

fn acts(c: char) -> bool {
    is_hidden(c) || matches!(c, '\r' | '\t')
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn findings_never_panic_and_never_act(
        files in proptest::collection::vec((text(), text()), 0..3),
        findings in proptest::collection::vec(finding(), 0..3),
        color: bool,
        unicode: bool,
        width in 0_usize..200,
    ) {
        let mut sources = Sources::default();
        for (name, text) in files {
            sources.add(Source::new(name, text));
        }
        let report = Report { sources: &sources, findings: &findings, files: 1, loads: 1 };
        let text = TextRenderer::new(Style { color, width, unicode }).report(&report, false);
        let plain = if color { without_colour(&text) } else { text };
        prop_assert!(!plain.contains(acts), "{plain:?}");

        let json = json::check(&report);
        prop_assert!(!json.contains(acts), "{json:?}");
        let read: serde_json::Value = serde_json::from_str(&json).unwrap();
        prop_assert_eq!(read["findings"].as_array().unwrap().len(), findings.len());
        for (read, written) in read["findings"].as_array().unwrap().iter().zip(&findings) {
            prop_assert_eq!(read["message"].as_str(), Some(written.message.as_str()));
        }

        let sarif = sarif(&report, &[]);
        prop_assert!(!sarif.contains(acts), "{sarif:?}");
        let read: serde_json::Value = serde_json::from_str(&sarif).unwrap();
        let results = read["runs"][0]["results"].as_array().unwrap();
        prop_assert_eq!(results.len(), findings.len());
        for (read, written) in results.iter().zip(&findings) {
            prop_assert_eq!(read["properties"]["message"].as_str(), Some(written.message.as_str()));
            prop_assert!(!read["message"]["text"].as_str().unwrap().contains(acts));
        }

        let junit = junit(&report, &[], Level::Warning, "2026-11-25");
        let illegal = |c: char| acts(c) || matches!(c, '\u{fffe}' | '\u{ffff}');
        prop_assert!(!junit.contains(illegal), "{junit:?}");
        let fails = findings.iter().any(|one| one.level >= Level::Warning && one.waived.is_none());
        prop_assert_eq!(junit.contains("<failure"), fails);

        let comment = comment(&report);
        prop_assert!(!comment.contains(acts), "{comment:?}");

        let short = short(&report, Style { color, width, unicode }, true);
        let short = if color { without_colour(&short) } else { short };
        prop_assert!(!short.contains(acts), "{short:?}");
        prop_assert_eq!(short.lines().count(), findings.len());
    }

    #[test]
    fn excerpts_keep_to_the_width(
        before in "[a-z \\t]{0,200}",
        marked in "[a-z]{1,100}",
        after in "[a-z ]{0,200}",
        words in "[a-z]{1,9}( [a-z]{1,9}){0,20}",
        width in 40_usize..120,
        unicode: bool,
    ) {
        let mut sources = Sources::default();
        sources.add(Source::new("a.kdl", format!("{before}{marked}{after}")));
        let span = Span::new(FileId(0), before.len()..before.len() + marked.len());
        let finding = Finding::new("rule", Level::Error, span, "message").marked(words.clone());
        let text = TextRenderer::new(Style { color: false, width, unicode }).findings(&sources, &[finding]);
        let mut mark = 0;
        for line in text.lines() {
            prop_assert!(unicode_width::UnicodeWidthStr::width(line) <= width, "{text}");
            mark += usize::from(line.contains(['┬', '^']));
        }
        prop_assert_eq!(mark, 1, "{}", text);
        for word in words.split_whitespace() {
            prop_assert!(text.contains(word), "{word}: {text}");
        }
    }

    #[test]
    fn figures_never_panic_and_never_act(
        name in text(),
        value in proptest::option::of(any::<f64>()),
        spread in proptest::option::of(any::<f64>()),
        limit in proptest::option::of(any::<f64>()),
        color: bool,
        width in 0_usize..200,
    ) {
        let mut loads = loads();
        let load = &mut loads[0];
        load.sheet = name.as_str().into();
        for figure in load.figures.iter_mut().flatten() {
            figure.name = format!("{}{name}", figure.name);
            figure.value = value;
            figure.plus_minus = spread;
            figure.at_least = limit.map(|limit| (limit, name.as_str().into()));
        }
        let text = weigh::text(&Sources::default(), &loads, Style { color, width, unicode: true }, false);
        let plain = if color { without_colour(&text) } else { text };
        prop_assert!(!plain.contains(acts), "{plain:?}");
        let json = json::weigh(&Sources::default(), &loads);
        prop_assert!(!json.contains(acts));
        prop_assert!(serde_json::from_str::<serde_json::Value>(&json).is_ok());
    }
}
