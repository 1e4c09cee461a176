//! Texts inside of XML 1.0.

use std::fmt::Write as _;

use crate::text::visible;

/// A text as an attribute's value or as content: what is markup is escaped, what acts is shown, and so is what no XML
/// document may hold (XML 1.0, section 2.2). Line breaks stay unless it must stand on one line, as a value must.
pub(super) fn escaped(text: &str, one_line: bool) -> String {
    let mut out = String::with_capacity(text.len() + 16);
    for c in visible(text, one_line).chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            // Always, so that `]]>` cannot stand in content (section 2.4).
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&apos;"),
            // A reader would take it for a line break (section 2.11).
            '\r' => out.push_str("&lt;U+000D&gt;"),
            // Control characters were replaced already; surrogates are no characters in Rust.
            '\u{fffe}' | '\u{ffff}' => {
                // Writing to a String cannot fail.
                let _ = write!(out, "&lt;U+{:04X}&gt;", u32::from(c));
            }
            other => out.push(other),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::escaped;

    #[test]
    fn nothing_is_markup_and_nothing_is_illegal() {
        assert_eq!(
            escaped("<a b=\"c\" d='e'>&amp;]]>", true),
            "&lt;a b=&quot;c&quot; d=&apos;e&apos;&gt;&amp;amp;]]&gt;"
        );
        assert_eq!(
            escaped("a\u{0}\u{1b}\u{fffe}\u{202e}b", false),
            "a&lt;U+0000&gt;&lt;U+001B&gt;&lt;U+FFFE&gt;&lt;U+202E&gt;b"
        );
        assert_eq!(escaped("a\nb\r", false), "a\nb&lt;U+000D&gt;");
        assert_eq!(escaped("a\nb", true), "a&lt;U+000A&gt;b");
    }
}
