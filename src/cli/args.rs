//! The commands and their options, written once.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

/// Checks load sheets: which machine stands where on which trailer, and whether it rides safely there.
#[derive(Debug, Parser)]
#[command(
    name = "draylint",
    version,
    max_term_width = 80,
    disable_help_subcommand = true,
    after_help = "`draylint help COMMAND` tells more of a command.",
    arg_required_else_help = true
)]
pub(super) struct Cli {
    #[command(subcommand)]
    pub(super) command: Command,
    #[command(flatten)]
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
        /// The lowest level that fails the run
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
        after_help = "Examples:\n  draylint draw sheets/trencher-move.kdl > trencher-move.svg\n  draylint draw --sheet digger-and-stone --leg out --view side --width 360"
    )]
    Draw {
        #[command(flatten)]
        what: What,
        /// What is drawn; may stand more than once, all of them when not given
        #[arg(long, value_enum, value_name = "VIEW")]
        view: Vec<View>,
        /// How wide the picture is, in px; texts keep their size, so that 360 suits a phone
        #[arg(long, value_name = "PX", default_value_t = 800, value_parser = clap::value_parser!(u32).range(320..=4000))]
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
        #[arg(value_name = "DIR")]
        folder: PathBuf,
    },
    /// Tell what a rule means, where its numbers come from, and how a sheet fails and passes it
    #[command(after_help = "Example:\n  draylint why tongue-light")]
    Why {
        /// The rule's id, as findings show it
        #[arg(value_name = "RULE")]
        rule: String,
        /// The yard whose rules and settings hold
        #[arg(long, value_name = "PATH", default_value = ".")]
        yard: PathBuf,
    },
    /// List the words of the language: what each says, what it takes, what stands in it
    #[command(after_help = "Examples:\n  draylint words\n  draylint words hitch")]
    Words {
        /// Only this word, wherever it stands
        #[arg(value_name = "WORD")]
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
}

#[derive(Debug, Args)]
pub(super) struct What {
    /// Files and folders; the current folder when none is given
    #[arg(value_name = "PATH")]
    pub(super) paths: Vec<PathBuf>,
    /// Only the sheet of this name
    #[arg(long, value_name = "NAME")]
    pub(super) sheet: Option<String>,
    /// Only legs of this name
    #[arg(long, value_name = "NAME")]
    pub(super) leg: Option<String>,
}

#[derive(Debug, Args)]
pub(super) struct Common {
    /// Units in which figures are shown
    #[arg(long, value_enum, global = true, value_name = "SYSTEM")]
    pub(super) units: Option<Units>,
    /// The day by which waivers are judged, as YYYY-MM-DD; today when not given
    #[arg(long, global = true, value_name = "DAY", value_parser = day)]
    pub(super) today: Option<String>,
    /// How many threads work; as many as the machine has when not given
    #[arg(long, global = true, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub(super) jobs: Option<u16>,
    /// When to colour
    #[arg(long, value_enum, global = true, default_value_t = Color::Auto, value_name = "WHEN")]
    pub(super) color: Color,
    /// Only what was asked for: no summary, no cautions
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
