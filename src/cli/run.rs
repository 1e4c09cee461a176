//! The commands carried out: paths in, text out, an exit status.

use std::io::Write as _;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::error::ErrorKind;

use super::args::{CheckFormat, Cli, Command, Common, Format, Gate, ListForm, Units, What};
use super::arguments::parsed;
use super::progress::shown;
use super::{catalogue, draw, files, guides, report, terminal};
use crate::check::Options;
use crate::finding::{Finding, Level, Report};
use crate::render::{TextRenderer, comment, json, junit, range, sarif, short, trim, walkaround, weigh};
use crate::text::Sources;
use crate::units::System;
use crate::yard::{self, Checked, Narrowed, Write};

/// The run itself failed.
pub(super) const FAILED: u8 = 2;

/// What a command leaves.
#[derive(Debug, Default)]
pub(super) struct Outcome {
    /// For standard output.
    pub(super) text: String,
    /// For standard error, ready to be shown.
    pub(super) told: String,
    /// The exit status.
    pub(super) status: u8,
}

/// Runs the program on the process's arguments.
#[must_use]
pub fn main() -> ExitCode {
    let cli = match parsed(std::env::args_os()) {
        Ok(cli) => cli,
        Err(error) => {
            let asked = matches!(error.kind(), ErrorKind::DisplayHelp | ErrorKind::DisplayVersion);
            // Nothing can be done about a closed terminal.
            let _ = error.print();
            return ExitCode::from(if asked { 0 } else { FAILED });
        }
    };
    let mut pool = crate::syntax::pool();
    if let Some(jobs) = cli.common.jobs {
        pool = pool.num_threads(usize::from(jobs));
    }
    let outcome = match pool.build() {
        Ok(pool) => pool.install(|| run(&cli)),
        Err(why) => Err(format!("no threads to work with: {why}")),
    };
    match outcome {
        Ok(outcome) => leave(&outcome),
        Err(why) => {
            fail(&why);
            ExitCode::from(FAILED)
        }
    }
}

/// Writes what a command leaves, and gives its exit status.
fn leave(outcome: &Outcome) -> ExitCode {
    let _ = std::io::stderr().lock().write_all(outcome.told.as_bytes());
    let mut out = std::io::stdout().lock();
    match out.write_all(outcome.text.as_bytes()).and_then(|()| out.flush()) {
        // A reader that closes the pipe has seen enough.
        Err(why) if why.kind() != std::io::ErrorKind::BrokenPipe => {
            fail(&format!("the output cannot be written: {why}"));
            ExitCode::from(FAILED)
        }
        _ => ExitCode::from(outcome.status),
    }
}

/// Says on standard error why the run failed. Nothing can be done where that is closed.
fn fail(why: &str) {
    let _ = writeln!(std::io::stderr().lock(), "draylint: {}", crate::text::visible(why, true));
}

fn run(cli: &Cli) -> Result<Outcome, String> {
    let common = &cli.common;
    match &cli.command {
        Command::Check { schema: true, format, .. } => schema(*format),
        Command::Check { what, format, short, gate, .. } => check(what, *format, *short, *gate, common),
        Command::Weigh { what, format } => weigh(what, *format, common),
        Command::Trim { what, write, agreed, format } => {
            let write = match (write, agreed) {
                (false, _) => Write::Nothing,
                (true, false) => Write::Notation,
                (true, true) => Write::Agreed,
            };
            trimmed(what, write, *format, common)
        }
        Command::Place { what, format } => place(what, *format, common),
        Command::Draw { what, view, width } => draw::draw(what, view, *width, common),
        Command::Report { what, out } => report::report(what, out, common),
        Command::Walkaround { what, format } => walked(what, *format, common),
        Command::Tidy { paths, check } => files::tidy(paths, *check, common),
        Command::Start { folder } => files::start(folder, common),
        Command::Why { rule, yard } => catalogue::why(rule, yard, common),
        Command::Words { word } => catalogue::words(word.as_deref(), common),
        Command::Rules { yard, test: true, format, .. } => catalogue::test(yard, *format, common),
        Command::Rules { names: true, format, .. } => Ok(catalogue::names(*format, common)),
        Command::Rules { yard, format, .. } => catalogue::list(yard, *format, common),
        Command::Completions { shell } => guides::completions(*shell),
        Command::Man { list: true, .. } => Ok(guides::pages()),
        Command::Man { command, .. } => guides::page(command.as_deref()),
        Command::Help { command } => Ok(guides::help(command.as_deref(), common)),
    }
}

/// The schema of what `check` writes as JSON.
fn schema(format: CheckFormat) -> Result<Outcome, String> {
    if format != CheckFormat::Json {
        return Err("--schema is for --format json".to_owned());
    }
    Ok(Outcome { text: json::schema(), ..Outcome::default() })
}

fn check(what: &What, format: CheckFormat, one_line: bool, gate: Gate, common: &Common) -> Result<Outcome, String> {
    if one_line && format != CheckFormat::Text {
        return Err("--short is for --format text".to_owned());
    }
    let options = Options { mend: true, ..options(common) };
    let checked = checked(what, &options, common)?;
    let report = Report {
        sources: &checked.sources,
        findings: &checked.findings,
        files: checked.files,
        loads: checked.loads.len(),
    };
    let gate = match gate {
        Gate::Error => Level::Error,
        Gate::Warning => Level::Warning,
        Gate::Note => Level::Note,
    };
    let style = || terminal::style(common.color);
    let text = match format {
        CheckFormat::Json => json::check(&report),
        CheckFormat::Sarif => sarif(&report, &checked.company_rules),
        CheckFormat::Junit => junit(&report, &checked.loads, gate, &options.today),
        CheckFormat::Markdown => comment(&report),
        CheckFormat::Text if one_line => short(&report, style(), common.quiet),
        CheckFormat::Text => TextRenderer::new(style()).report(&report, common.quiet),
    };
    let over = Level::ALL.into_iter().filter(|level| *level >= gate).any(|level| report.count(level) > 0);
    let status = if checked.rule_faults.is_empty() { u8::from(over) } else { FAILED };
    Ok(Outcome { text, status, ..Outcome::default() })
}

fn weigh(what: &What, format: Format, common: &Common) -> Result<Outcome, String> {
    let checked = checked(what, &Options { weigh: true, ..options(common) }, common)?;
    let text = match format {
        Format::Json => json::weigh(&checked.sources, &checked.loads),
        Format::Text => weigh::text(&checked.sources, &checked.loads, terminal::style(common.color), common.quiet),
    };
    // Figures do not rest on rules, limits do.
    Ok(with_rule_faults(text, &checked.sources, &checked.rule_faults, common))
}

fn trimmed(what: &What, write: Write, format: Format, common: &Common) -> Result<Outcome, String> {
    let (paths, narrowed) = asked(what);
    let all = shown(common, |progress| yard::trim(&paths, &narrowed, &options(common), write, progress));
    let all = all.map_err(|why| why.to_string())?;
    found(what, all.loads == 0, all.near.as_deref())?;
    let written = (write != Write::Nothing).then_some(all.written.as_slice());
    let text = match format {
        Format::Json => json::trim(&all.sources, &all.trims, &all.written),
        Format::Text => {
            let outcome = trim::Outcome { trims: &all.trims, written, left: all.left, loads: all.loads };
            trim::text(&all.sources, outcome, terminal::style(common.color), common.quiet)
        }
    };
    Ok(with_rule_faults(text, &all.sources, &all.rule_faults, common))
}

fn place(what: &What, format: Format, common: &Common) -> Result<Outcome, String> {
    let (paths, narrowed) = asked(what);
    let placed = shown(common, |progress| yard::place(&paths, &narrowed, &options(common), progress));
    let placed = placed.map_err(|why| why.to_string())?;
    found(what, placed.loads.is_empty(), placed.near.as_deref())?;
    let text = match format {
        Format::Json => json::place(&placed.sources, &placed.loads),
        Format::Text => range::text(&placed.sources, &placed.loads, terminal::style(common.color), common.quiet),
    };
    Ok(with_rule_faults(text, &placed.sources, &placed.rule_faults, common))
}

fn walked(what: &What, format: ListForm, common: &Common) -> Result<Outcome, String> {
    let (paths, narrowed) = asked(what);
    let made = shown(common, |progress| yard::walkaround(&paths, &narrowed, &options(common), progress));
    let made = made.map_err(|why| why.to_string())?;
    found(what, made.walks.is_empty(), made.near.as_deref())?;
    let text = match format {
        ListForm::Text => walkaround::text(&made.sources, &made.walks, terminal::style(common.color), common.quiet),
        ListForm::Markdown => walkaround::markdown(&made.sources, &made.walks, common.quiet),
        ListForm::Html => walkaround::html(&made.sources, &made.walks, common.quiet),
    };
    Ok(with_rule_faults(text, &made.sources, &made.rule_faults, common))
}

/// What a command shows, failed where rules could not be read: it may then show less than holds.
pub(super) fn with_rule_faults(text: String, sources: &Sources, faults: &[Finding], common: &Common) -> Outcome {
    if faults.is_empty() {
        return Outcome { text, ..Outcome::default() };
    }
    let told = TextRenderer::new(terminal::style_of_errors(common.color)).findings(sources, faults);
    Outcome { text, told, status: FAILED }
}

fn checked(what: &What, options: &Options, common: &Common) -> Result<Checked, String> {
    let (paths, narrowed) = asked(what);
    let checked = shown(common, |progress| yard::check(&paths, &narrowed, options, progress));
    let checked = checked.map_err(|why| why.to_string())?;
    found(what, checked.loads.is_empty(), checked.near.as_deref())?;
    Ok(checked)
}

/// The paths that a command was given; the current folder where it was given none.
pub(super) fn paths(given: &[PathBuf]) -> Vec<PathBuf> {
    if given.is_empty() { vec![".".into()] } else { given.to_vec() }
}

/// The paths and names that a command was asked for.
pub(super) fn asked(what: &What) -> (Vec<PathBuf>, Narrowed) {
    (paths(&what.paths), Narrowed { sheet: what.sheet.clone(), leg: what.leg.clone() })
}

/// Whether a command narrowed to a name found what it names.
pub(super) fn found(what: &What, nothing: bool, near: Option<&str>) -> Result<(), String> {
    if !nothing || (what.sheet.is_none() && what.leg.is_none()) {
        return Ok(());
    }
    let mut wanted = Vec::new();
    wanted.extend(what.sheet.iter().map(|name| format!("sheet \"{name}\"")));
    wanted.extend(what.leg.iter().map(|name| format!("leg \"{name}\"")));
    let near = near.map(|near| format!("; did you mean {near}?")).unwrap_or_default();
    Err(format!("there is no {} here{near}", wanted.join(" with a ")))
}

pub(super) fn options(common: &Common) -> Options {
    let units = common.units.map(|units| match units {
        Units::Us => System::Us,
        Units::Si => System::Si,
    });
    let today = common.today.clone().unwrap_or_else(|| jiff::ZonedDateTime::now().date().to_string());
    Options { units, today: today.into(), weigh: false, mend: false }
}
