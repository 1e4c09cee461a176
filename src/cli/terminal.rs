//! What the terminal can show, asked once.

use std::io::IsTerminal as _;

use terminal_size::{Height, Width, terminal_size_of};

use super::args::Color;
use crate::render::Style;

/// The columns of what no terminal shows.
const PIPE: usize = 80;

/// The style of what goes to standard output.
pub(super) fn style(color: Color) -> Style {
    let stream = std::io::stdout();
    style_on(columns(stream.is_terminal(), terminal_size_of(&stream)), color)
}

/// The style of what goes to standard error.
pub(super) fn style_of_errors(color: Color) -> Style {
    style_on(columns_of_errors(), color)
}

/// How many columns the terminal has that standard error goes to; none where it goes elsewhere.
pub(super) fn columns_of_errors() -> Option<usize> {
    let stream = std::io::stderr();
    columns(stream.is_terminal(), terminal_size_of(&stream))
}

/// How many columns a terminal has: by what the user says, else by what it says itself, else by habit.
fn columns(is_terminal: bool, size: Option<(Width, Height)>) -> Option<usize> {
    let said = || std::env::var("COLUMNS").ok()?.parse().ok();
    let own = || size.map(|(width, _)| usize::from(width.0));
    is_terminal.then(|| said().or_else(own).unwrap_or(PIPE))
}

/// Widths follow the terminal up to 100 columns; a pipe gets 80.
fn style_on(columns: Option<usize>, color: Color) -> Style {
    let set = |name: &str| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    let color = match color {
        Color::Always => true,
        Color::Never => false,
        Color::Auto => {
            columns.is_some() && !set("NO_COLOR") && std::env::var_os("TERM").is_none_or(|term| term != "dumb")
        }
    };
    let width = columns.map_or(PIPE, |columns| columns.min(100));
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
