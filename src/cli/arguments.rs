//! From the process's arguments to a command, and what is said of arguments that are none.

use std::ffi::OsString;
use std::path::Path;

use clap::FromArgMatches as _;
use clap::error::{ContextKind, ContextValue, ErrorKind};

use super::args::{Cli, definitions};
use crate::render::wrap;
use crate::text::visible;
use crate::yard;

/// The columns of a line of advice: 80, less what it stands behind.
const WIDTH: usize = 73;

/// From one line of advice to the next, as far in as the first, which stands behind two blanks and `tip: `.
const BREAK: &str = "\n       ";

/// The command that arguments ask for, the first of which is the program's own name.
///
/// # Errors
/// What is wrong with them, ready to be printed; also a help or version that was asked for.
pub(super) fn parsed(arguments: impl IntoIterator<Item = OsString>) -> Result<Cli, clap::Error> {
    let mut all = definitions();
    let mut matches = all.try_get_matches_from_mut(arguments).map_err(|error| advised(error, &all))?;
    Cli::from_arg_matches_mut(&mut matches).map_err(|error| error.format(&mut all))
}

/// The error with advice where clap has none, or more than a line holds. What the arguments hold is shown and not sent to the
/// terminal.
fn advised(mut error: clap::Error, all: &clap::Command) -> clap::Error {
    if let Some(tip) = tip(&error, all) {
        error.insert(ContextKind::ValidValue, ContextValue::Strings(Vec::new()));
        error.insert(ContextKind::Suggested, ContextValue::StyledStrs(vec![tip.into()]));
    }
    for kind in [ContextKind::InvalidSubcommand, ContextKind::InvalidArg, ContextKind::InvalidValue] {
        if let Some(ContextValue::String(word)) = error.get(kind) {
            let word = visible(word, true).into_owned();
            error.insert(kind, ContextValue::String(word));
        }
    }
    error
}

/// What is to be said of a path in the place of a command, and of a word that is near no command or that is to be one.
fn tip(error: &clap::Error, all: &clap::Command) -> Option<String> {
    let names: Vec<&str> = all.get_subcommands().map(clap::Command::get_name).collect();
    let listed = wrap(&format!("the commands are {}", names.join(", ")), WIDTH).join(BREAK);
    match (error.kind(), error.get(ContextKind::InvalidSubcommand), error.get(ContextKind::ValidValue)) {
        (ErrorKind::InvalidSubcommand, Some(ContextValue::String(word)), _) if is_path(word) => {
            Some(format!("a command comes first: draylint check {}", typed(word)))
        }
        (ErrorKind::InvalidSubcommand, ..) => error.get(ContextKind::SuggestedSubcommand).is_none().then_some(listed),
        (ErrorKind::InvalidValue, _, Some(ContextValue::Strings(values))) if *values == names => Some(listed),
        _ => None,
    }
}

/// Whether a word is written like a path, or is one.
fn is_path(word: &str) -> bool {
    let path = Path::new(word);
    let written = path.components().nth(1).is_some() || path.extension().is_some_and(|ending| ending == "kdl");
    written || yard::find(&[path.to_owned()]).is_ok()
}

/// A path as it can be typed; a word in its place where a shell would make something else of it.
fn typed(path: &str) -> &str {
    let plain = path.chars().all(|c| c.is_alphanumeric() || "./\\_-:".contains(c));
    if plain { path } else { "PATH" }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The program and its commands, each with its help.
    fn all() -> Vec<(String, clap::Command)> {
        let mut program = definitions();
        program.build();
        let commands = program.get_subcommands().map(|command| (command.get_name().to_owned(), command.clone()));
        let all: Vec<(String, clap::Command)> =
            [("draylint".to_owned(), program.clone())].into_iter().chain(commands).collect();
        assert!(all.len() > 12);
        all
    }

    /// The commands that a text shows in lines of their own, without what is the shell's.
    fn shown(help: &str) -> Vec<Vec<OsString>> {
        let lines =
            help.lines().filter_map(|line| line.strip_prefix("  ")).filter(|line| line.starts_with("draylint "));
        lines
            .map(|line| {
                line.split(['>', '|', ';']).next().unwrap_or("").split_whitespace().map(OsString::from).collect()
            })
            .collect()
    }

    #[test]
    fn every_example_in_help_is_a_command_that_parses() {
        for (name, command) in all() {
            let after = command.get_after_help().map(ToString::to_string).unwrap_or_default();
            assert!(after.starts_with("Example"), "{name} has no example");
            let examples = shown(&after);
            assert!(!examples.is_empty(), "{name} has no example");
            for words in examples {
                assert!(name == "draylint" || words[1] == *name, "{words:?} in the help of {name}");
                if let Err(error) = parsed(words.clone()) {
                    panic!("{words:?}: {error}");
                }
            }
        }
        assert!(parsed(shown("  draylint chek sheets > x")[0].clone()).is_err());
    }

    #[test]
    fn help_fits_eighty_columns() {
        for (name, mut command) in all() {
            for help in [command.render_help(), command.render_long_help()].map(|help| help.to_string()) {
                let widest = help.lines().max_by_key(|line| line.chars().count()).unwrap_or("");
                assert!(widest.chars().count() <= 80, "{name}: {widest}");
                assert!(!help.contains('!'), "{name}: calm words");
            }
        }
    }

    #[test]
    fn nothing_is_hidden_and_everything_is_told() {
        for (name, command) in all() {
            assert!(!command.is_hide_set() && command.get_about().is_some(), "{name}");
            for argument in command.get_arguments() {
                assert!(!argument.is_hide_set() && argument.get_help().is_some(), "{name}: {argument}");
            }
        }
        definitions().debug_assert();
    }
}
