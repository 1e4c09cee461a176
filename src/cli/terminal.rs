//! What the terminal can show, asked once.

use std::io::IsTerminal as _;

use super::args::Color;
use crate::render::Style;

/// The style of what goes to standard output.
pub(super) fn style(color: Color) -> Style {
    style_on(std::io::stdout().is_terminal(), color)
}

/// The style of what goes to standard error.
pub(super) fn style_of_errors(color: Color) -> Style {
    style_on(std::io::stderr().is_terminal(), color)
}

/// Widths follow the terminal up to 100 columns; a pipe gets 80.
fn style_on(terminal: bool, color: Color) -> Style {
    let set = |name: &str| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    let color = match color {
        Color::Always => true,
        Color::Never => false,
        Color::Auto => terminal && !set("NO_COLOR") && std::env::var_os("TERM").is_none_or(|term| term != "dumb"),
    };
    let columns = std::env::var("COLUMNS").ok().and_then(|columns| columns.parse().ok());
    let width = if terminal { columns.unwrap_or(80_usize).min(100) } else { 80 };
    Style { color, width, unicode: unicode() }
}

/// Whether the locale says UTF-8; without any word of it, it is taken for granted.
fn unicode() -> bool {
    let locale =
        ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().find_map(|name| std::env::var(name).ok().filter(|v| !v.is_empty()));
    locale.is_none_or(|locale| {
        let locale = locale.to_ascii_lowercase();
        locale.contains("utf-8") || locale.contains("utf8")
    })
}
