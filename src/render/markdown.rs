//! Texts set as Markdown, so that they are read as they were written: a `<` in a condition is no tag, a `*` no emphasis.
//! `CommonMark` 0.31 (section 2.4: any ASCII punctuation may be escaped by a backslash), with the tables of GFM.

use crate::render::place::shown;

/// Signs that may mean something wherever they stand.
const ANYWHERE: &str = "\\`*_{}[]<>|~&";

/// Signs that may mean something where a line begins with them.
const AT_START: &str = "#+-=:";

/// A text in a paragraph, a heading or the cell of a table: on one line, and nothing in it acts.
pub(in crate::render) fn plain(text: &str) -> String {
    let text = shown(text);
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    let mut out = String::with_capacity(text.len() + 16);
    for (at, c) in text.char_indices() {
        // "1." and "1)" begin a list.
        let number = digits > 0 && at == digits && matches!(c, '.' | ')');
        if ANYWHERE.contains(c) || number || at == 0 && AT_START.contains(c) {
            out.push('\\');
        }
        out.push(c);
    }
    out
}

/// A short text as code, outside of tables.
pub(super) fn code(text: &str) -> String {
    let text = shown(text);
    let ticks = "`".repeat(longest_run(&text) + 1);
    // A space at each end is taken off again (section 6.1).
    let pad = if text.starts_with(['`', ' ']) || text.ends_with(['`', ' ']) { " " } else { "" };
    format!("{ticks}{pad}{text}{pad}{ticks}")
}

/// Lines of code, in a language. They must be free of characters that act.
pub(super) fn block(language: &str, lines: &str) -> String {
    let ticks = "`".repeat((longest_run(lines) + 1).max(3));
    let end = if lines.ends_with('\n') || lines.is_empty() { "" } else { "\n" };
    format!("{ticks}{language}\n{lines}{end}{ticks}\n")
}

fn longest_run(text: &str) -> usize {
    text.split(|c| c != '`').map(str::len).max().unwrap_or(0)
}

/// The anchor of a heading that holds only small letters, digits, hyphens and spaces.
pub(super) fn anchor(heading: &str) -> String {
    heading.replace(' ', "-")
}

/// A text with its first letter as a capital.
pub(in crate::render) fn capital(text: &str) -> String {
    let mut rest = text.chars();
    rest.next().map_or_else(String::new, |first| first.to_uppercase().chain(rest).collect())
}

#[cfg(test)]
mod tests {
    use super::{block, code, plain};
    use proptest::prelude::*;
    use pulldown_cmark::{Event, Options, Parser, Tag};

    /// What a reader of the Markdown sees: its text, with everything that is no plain text named in brackets. The
    /// parser and its extensions are those of mdBook.
    fn read(markdown: &str) -> String {
        let tables = Options::ENABLE_TABLES | Options::ENABLE_FOOTNOTES | Options::ENABLE_STRIKETHROUGH;
        let lists = Options::ENABLE_TASKLISTS | Options::ENABLE_DEFINITION_LIST | Options::ENABLE_GFM;
        let mut out = String::new();
        for event in Parser::new_ext(markdown, tables | lists | Options::ENABLE_HEADING_ATTRIBUTES) {
            let told = match event {
                Event::Text(text) => text.to_string(),
                Event::Code(text) => format!("[code]{text}"),
                Event::Start(Tag::Paragraph) | Event::End(_) => String::new(),
                Event::Start(Tag::Heading { level, id, classes, attrs }) => {
                    assert!(id.is_none() && classes.is_empty() && attrs.is_empty(), "{markdown}");
                    format!("[{level}]")
                }
                Event::Start(Tag::CodeBlock(kind)) => format!("[{kind:?}]"),
                Event::Start(Tag::TableCell) => "[cell]".to_owned(),
                Event::Start(other) => format!("[{}]", format!("{other:?}").split(['(', ' ']).next().unwrap()),
                other => format!("[{other:?}]"),
            };
            out.push_str(&told);
        }
        out
    }

    fn joined(text: &str) -> String {
        let text = crate::render::place::shown(text);
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    }

    #[test]
    fn the_reader_sees_what_acts() {
        assert_eq!(read("a *b* <i>"), "a [Emphasis]b [InlineHtml(Borrowed(\"<i>\"))]");
        assert_eq!(read("`a`"), "[code]a");
        assert_ne!(read("1. x"), "1. x");
    }

    #[test]
    fn what_acts_in_markdown_is_read_as_written() {
        for text in [
            "a < b && c > d || e <= f",
            "<script>alert(1)</script>",
            "&lt; is not <",
            "*not* _so_ ~~grave~~ `code`",
            "[a](b) ![c](d) [^1] [x]: y",
            "1. one",
            "12) twelve",
            "- dash",
            "# head {#id .class}",
            ": term",
            "=== ---",
            "> [!NOTE] told",
            "a | b | c",
            "\\ at the end \\",
            "https://example.org <https://example.org>",
            "{{#include here}}",
            "set \"tongue-light\" low=(pct)9",
        ] {
            assert_eq!(read(&plain(text)), text);
            assert_eq!(read(&format!("# {}", plain(text))), format!("[h1]{text}"));
        }
    }

    #[test]
    fn hidden_characters_are_shown() {
        assert_eq!(plain("a\u{202e}b"), "a\\<U+202E\\>b");
        assert_eq!(code("a\u{202e}b"), "`a<U+202E>b`");
    }

    /// Pieces of which Markdown and HTML are made.
    const PIECES: [&str; 28] = [
        "<b>", "</b", "<!--", "-->", "<?", "<", ">", "&amp;", "&#60;", "*", "**", "_", "`", "``", "[", "](", "][", ")",
        "~~", "|", "\\", " ", "a", "1.", "- ", "# ", ": ", "{#a}",
    ];

    proptest! {
        #[test]
        fn any_text_is_read_as_written(
            any in "[ -~äé–±\\n]{0,40}",
            pieces in prop::collection::vec(prop::sample::select(&PIECES[..]), 0..12),
        ) {
            for text in [any, pieces.concat()] {
                let told = joined(&text);
                prop_assert_eq!(read(&plain(&text)), told.clone());
                let item = format!("[List][Item]x {told}");
                prop_assert_eq!(read(&format!("- x {}", plain(&text))), item.trim_end());
                let table = format!("| a | b |\n|---|---|\n| {} | z |\n", plain(&text));
                let cells = format!("[Table][TableHead][cell]a[cell]b[TableRow][cell]{told}[cell]z");
                prop_assert_eq!(read(&table), cells);
            }
        }

        #[test]
        fn any_code_is_read_as_written(text in "[!-~]{1,20}( [!-~]{1,20})?", lines in "([ -~]{0,20}\\n){0,5}") {
            prop_assert_eq!(read(&code(&text)), format!("[code]{text}"));
            prop_assert_eq!(read(&block("text", &lines)), format!("[Fenced(Borrowed(\"text\"))]{lines}"));
        }
    }
}
