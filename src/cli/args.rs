//! The commands and their options, written once.

use std::path::PathBuf;

use clap::builder::PossibleValuesParser;
use clap::{Args, CommandFactory as _, Parser, Subcommand, ValueEnum, ValueHint};

/// Checks load sheets: which machine stands where on which trailer, and whether it rides safely there.
#[derive(Debug, Parser)]
#[command(
    name = "draylint",
    version,
    max_term_width = 80,
    disable_help_subcommand = true,
    subcommand_help_heading = "Commands",
    subcommand_value_name = "COMMAND",
    after_help = ABOUT_RUNS,
    arg_required_else_help = true
)]
pub(super) struct Cli {
    #[command(subcommand)]
    pub(super) command: Command,
    #[command(flatten, next_help_heading = "Common options")]
    pub(super) common: Common,
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Check every load and print what is at fault, on the line at fault
    #[command(
        after_help = "Examples:\n  draylint check\n  draylint check sheets/approved --gate warning\n  draylint check --format json\n  draylint check --format sarif"
    )]
    Check {
        #[command(flatten)]
        what: What,
        /// How findings are written
        #[arg(long, value_enum, default_value_t = CheckFormat::Text, value_name = "FORM")]
        format: CheckFormat,
        /// With --format text: one line a finding, its place first
        #[arg(long)]
        short: bool,
        /// With --format json: print its JSON Schema and check nothing
        #[arg(long, conflicts_with = "short")]
        schema: bool,
        /// The lowest level of finding that fails the run, with exit status 1
        #[arg(long, value_enum, default_value_t = Gate::Error, value_name = "LEVEL")]
        gate: Gate,
    },
    /// Show the computed figures of every load, each with its limit and margin
    #[command(
        after_help = "Examples:\n  draylint weigh sheets/trencher-move.kdl\n  draylint weigh --sheet trencher-move --units si"
    )]
    Weigh {
        #[command(flatten)]
        what: What,
        /// How figures are written
        #[arg(long, value_enum, default_value_t = Format::Text, value_name = "FORM")]
        format: Format,
    },
    /// Show, for each finding that a change of the sheet cures, the smallest such change
    #[command(
        after_help = "Examples:\n  draylint trim sheets/trencher-move.kdl\n  draylint trim --write\n  draylint trim sheets/drafts --write --agreed"
    )]
    Trim {
        #[command(flatten)]
        what: What,
        /// Make the changes that only concern how something is written
        #[arg(long)]
        write: bool,
        /// With --write: also those that move the load
        #[arg(long, requires = "write")]
        agreed: bool,
        /// How changes are shown
        #[arg(long, value_enum, default_value_t = Format::Text, value_name = "FORM")]
        format: Format,
    },
    /// Show where each deck item may stand, either way round, and which limit ends each range
    #[command(
        after_help = "Examples:\n  draylint place sheets/trencher-move.kdl\n  draylint place sheets --sheet trencher-move --units si"
    )]
    Place {
        #[command(flatten)]
        what: What,
        /// How ranges are written
        #[arg(long, value_enum, default_value_t = Format::Text, value_name = "FORM")]
        format: Format,
    },
    /// Draw one load to scale, as SVG on standard output: from the side, from above, and on its way up
    #[command(
        after_help = "Examples:\n  draylint draw sheets/trencher-move.kdl > trencher-move.svg\n  draylint draw --sheet digger-and-stone --leg out --view side --view top\n  draylint draw sheets/trencher-move.kdl --width 360 > phone.svg"
    )]
    Draw {
        #[command(flatten)]
        what: What,
        /// What is drawn; may stand more than once, all of them when not given
        #[arg(long, value_enum, value_name = "VIEW")]
        view: Vec<View>,
        /// How wide the picture is, in px; texts keep their size, so that 360 suits a phone
        #[arg(long, value_name = "PX", default_value_t = 800, value_parser = clap::value_parser!(u32).range(320..=4000), value_hint = ValueHint::Other)]
        width: u32,
    },
    /// Write a report into a folder: an index of all loads, and a page for each sheet, to read on a screen or to print
    #[command(
        after_help = "Examples:\n  draylint report --out report\n  draylint report sheets/approved --out audit --units si"
    )]
    Report {
        #[command(flatten)]
        what: What,
        /// The folder that is made; an older report there is replaced
        #[arg(long, value_name = "DIR")]
        out: PathBuf,
    },
    /// Write the crew's list for a load: place, secure, verify, drive, check again
    #[command(
        after_help = "Examples:\n  draylint walkaround sheets/trencher-move.kdl\n  draylint walkaround sheets/trencher-move.kdl --format html > list.html"
    )]
    Walkaround {
        #[command(flatten)]
        what: What,
        /// How the list is written
        #[arg(long, value_enum, default_value_t = ListForm::Text, value_name = "FORM")]
        format: ListForm,
    },
    /// Lay out sheets uniformly; comments, and numbers as they were written, stay
    #[command(after_help = "Examples:\n  draylint tidy\n  draylint tidy sheets --check")]
    Tidy {
        /// Files and folders; the current folder when none is given
        #[arg(value_name = "PATH")]
        paths: Vec<PathBuf>,
        /// Only tell which files look otherwise, and fail if any does
        #[arg(long)]
        check: bool,
    },
    /// Make a new yard: a truck, a trailer, a machine, and a sheet that passes
    #[command(after_help = "Example:\n  draylint start our-loads")]
    Start {
        /// The folder, which need not be there yet
        #[arg(value_name = "DIR", value_hint = ValueHint::DirPath)]
        folder: PathBuf,
    },
    /// Tell what a rule means, where its numbers come from, and how a sheet fails and passes it
    #[command(after_help = "Example:\n  draylint why tongue-light")]
    Why {
        /// The rule's id, as findings show it
        #[arg(value_name = "RULE", value_hint = ValueHint::Other)]
        rule: String,
        /// The yard whose rules and settings hold
        #[arg(long, value_name = "PATH", default_value = ".")]
        yard: PathBuf,
    },
    /// List the words of the language: what each says, what it takes, what stands in it
    #[command(after_help = "Examples:\n  draylint words\n  draylint words hitch")]
    Words {
        /// Only this word, wherever it stands
        #[arg(value_name = "WORD", value_hint = ValueHint::Other)]
        word: Option<String>,
    },
    /// List the active rules with their settings and where each comes from
    #[command(after_help = "Examples:\n  draylint rules\n  draylint rules --names\n  draylint rules --test")]
    Rules {
        /// The yard whose rules and settings hold
        #[arg(value_name = "PATH", default_value = ".")]
        yard: PathBuf,
        /// Run every rule's own examples
        #[arg(long, conflicts_with = "names")]
        test: bool,
        /// List the names that conditions may use
        #[arg(long)]
        names: bool,
        /// How the result is written
        #[arg(long, value_enum, default_value_t = Format::Text, value_name = "FORM")]
        format: Format,
    },
    /// Write the script with which a shell completes commands, options and their values
    #[command(after_help = WHERE_SCRIPTS_GO)]
    Completions {
        /// The shell that is to complete
        #[arg(value_enum, value_name = "SHELL")]
        shell: Shell,
    },
    /// Write a manual page, in the form that `man` reads
    #[command(after_help = WHERE_PAGES_GO)]
    Man {
        /// The command that the page is of; the program when none is given
        #[arg(value_name = "COMMAND")]
        command: Option<String>,
        /// List the commands instead, one a line: each has a page
        #[arg(long, conflicts_with = "command")]
        list: bool,
    },
    /// Print the help of the program, or of one command
    #[command(after_help = "Examples:\n  draylint help\n  draylint help check")]
    Help {
        /// The command that the help is of
        #[arg(value_name = "COMMAND")]
        command: Option<String>,
    },
}

/// The definitions of the command line: help, completions and manual pages are made of them.
pub(super) fn definitions() -> clap::Command {
    let all = Cli::command();
    // No definition can hold the list that it stands in itself, so the names of commands are filled in afterwards.
    let names: Vec<String> = all.get_subcommands().map(|command| command.get_name().to_owned()).collect();
    let named = |command: clap::Command| command.mut_arg("command", |arg| arg.value_parser(names_parser(&names)));
    all.mut_subcommand("man", named).mut_subcommand("help", named)
}

fn names_parser(names: &[String]) -> PossibleValuesParser {
    PossibleValuesParser::new(names.to_vec())
}

/// What stands below the program's help.
const ABOUT_RUNS: &str = "\
Examples:
  draylint start our-loads
  draylint check our-loads
  draylint help check

`draylint help COMMAND` tells more of a command.

Exit status: 2 where the run itself failed, else 0; but 1 where `check` finds
something at fault (what counts, `--gate` says), where `draw` cannot draw, where
`tidy --check` would change a file, and where `rules --test` finds one amiss.";

/// Examples of `completions`, and what to do with what it writes.
const WHERE_SCRIPTS_GO: &str = "\
Examples:
  draylint completions bash
  draylint completions fish > ~/.config/fish/completions/draylint.fish
  draylint completions powershell >> $PROFILE

For bash, this line goes into ~/.bashrc:
  source <(draylint completions bash)

For zsh, this one goes into ~/.zshrc, below the line with compinit:
  source <(draylint completions zsh)";

/// Examples of `man`, and what to do with what it writes.
const WHERE_PAGES_GO: &str = "\
Examples:
  draylint man > draylint.1
  draylint man check > draylint-check.1
  draylint man --list

This reads a page at once:
  draylint man check | man -l -

This puts all pages where `man draylint-check` finds them:
  mkdir -p ~/.local/share/man/man1 && cd ~/.local/share/man/man1
  draylint man > draylint.1
  for c in $(draylint man --list)
  do draylint man $c > draylint-$c.1; done";

#[derive(Debug, Args)]
pub(super) struct What {
    /// Files and folders; the current folder when none is given
    #[arg(value_name = "PATH")]
    pub(super) paths: Vec<PathBuf>,
    /// Only the sheet of this name
    #[arg(long, value_name = "NAME", value_hint = ValueHint::Other)]
    pub(super) sheet: Option<String>,
    /// Only legs of this name
    #[arg(long, value_name = "NAME", value_hint = ValueHint::Other)]
    pub(super) leg: Option<String>,
}

#[derive(Debug, Args)]
pub(super) struct Common {
    /// Units in which figures are shown; the yard's own when not given
    #[arg(long, value_enum, global = true, value_name = "SYSTEM")]
    pub(super) units: Option<Units>,
    /// The day by which waivers are judged, as YYYY-MM-DD; today when not given
    #[arg(long, global = true, value_name = "DAY", value_parser = day, value_hint = ValueHint::Other)]
    pub(super) today: Option<String>,
    /// How many threads work; as many as the machine has when not given
    #[arg(long, global = true, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024), value_hint = ValueHint::Other)]
    pub(super) jobs: Option<u16>,
    /// When to colour; auto is on a terminal, unless `NO_COLOR` is set
    #[arg(long, value_enum, global = true, default_value_t = Color::Auto, value_name = "WHEN")]
    pub(super) color: Color,
    /// Only what was asked for: no summary, no cautions, no progress
    #[arg(long, short, global = true)]
    pub(super) quiet: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    /// For a person
    Text,
    /// For a program
    Json,
}

/// How findings are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum CheckFormat {
    /// For a person
    Text,
    /// For a program
    Json,
    /// SARIF 2.1.0, for what gathers results of checkers
    Sarif,
    #[value(help = "JUnit's XML, for what shows test results")]
    Junit,
    /// For a comment on a change under review
    Markdown,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum ListForm {
    /// For a terminal or a plain printer
    Text,
    /// For a page that renders Markdown, with boxes to tick
    Markdown,
    /// One page to print, or to read on a phone
    Html,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum View {
    /// Truck, trailer and load
    Side,
    /// The deck and its tie-downs
    Top,
    /// Each machine where it is tightest on its way up
    Loading,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Shell {
    Bash,
    Zsh,
    Fish,
    Powershell,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Gate {
    Error,
    Warning,
    Note,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Units {
    /// Pounds, inches
    Us,
    /// Kilograms, metres
    Si,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Color {
    Auto,
    Always,
    Never,
}

fn day(text: &str) -> Result<String, String> {
    let form = text.len() == 10;
    match text.parse::<jiff::civil::Date>() {
        Ok(day) if form => Ok(day.to_string()),
        _ => Err("write a day of the calendar as YYYY-MM-DD".to_owned()),
    }
}
