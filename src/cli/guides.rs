//! What guides a user from outside a run: completions for the shell, manual pages, help. All of it is made of the definitions of
//! the command line and says nothing else.

use clap::builder::Resettable;
use clap_complete::aot::{self, generate};
use clap_mangen::Man;
use clap_mangen::roff::{Roff, bold, roman};

use super::args::{Common, Shell, definitions};
use super::run::Outcome;
use super::terminal;

const NAME: &str = "draylint";

/// The script with which a shell completes.
pub(super) fn completions(shell: Shell) -> Result<Outcome, String> {
    let shell = match shell {
        Shell::Bash => aot::Shell::Bash,
        Shell::Zsh => aot::Shell::Zsh,
        Shell::Fish => aot::Shell::Fish,
        Shell::Powershell => aot::Shell::PowerShell,
    };
    let mut script = Vec::new();
    generate(shell, &mut definitions(), NAME, &mut script);
    outcome(script)
}

/// The names of the commands, one a line.
pub(super) fn pages() -> Outcome {
    let all = definitions();
    let text = all.get_subcommands().flat_map(|command| [command.get_name(), "\n"]).collect();
    Outcome { text, ..Outcome::default() }
}

/// The manual page of a command, or of the program.
pub(super) fn page(command: Option<&str>) -> Result<Outcome, String> {
    let mut all = definitions();
    // Hands the common options and full names on to the commands.
    all.build();
    let of = match command {
        None => all,
        Some(name) => all.find_subcommand(name).cloned().ok_or_else(|| format!("there is no command {name}"))?,
    };
    let after = of.get_after_help().map(ToString::to_string).unwrap_or_default();
    let of = of.after_help(Resettable::Reset);
    let mut page = Vec::new();
    let source = format!("{NAME} {}", env!("CARGO_PKG_VERSION"));
    Man::new(of).source(source).render(&mut page).map_err(|why| format!("the page cannot be made: {why}"))?;
    page.extend(further(&after).render().into_bytes());
    outcome(page)
}

/// What stands below the options in help, as sections of a manual page: lines that are set in stay lines of their own, others
/// are a text.
fn further(after: &str) -> Roff {
    let mut roff = Roff::new();
    for block in after.split("\n\n").filter(|block| !block.is_empty()) {
        let (lines, set_in): (Vec<&str>, Vec<&str>) = block.lines().partition(|line| !line.starts_with(' '));
        if block.starts_with("Example") {
            roff.control("SH", ["EXAMPLES"]);
        } else {
            roff.control("PP", []);
            roff.text([roman(lines.join("\n"))]);
        }
        if set_in.is_empty() {
            continue;
        }
        roff.control("RS", ["2"]);
        roff.control("nf", []);
        for line in set_in {
            roff.text([bold(line.trim_start())]);
        }
        roff.control("fi", []);
        roff.control("RE", []);
    }
    roff
}

/// The help of a command, or of the program: what `--help` shows.
pub(super) fn help(command: Option<&str>, common: &Common) -> Outcome {
    let words = [Some(NAME), command, Some("--help")].into_iter().flatten();
    // Help that is asked for comes as an error of parsing.
    let Err(help) = definitions().try_get_matches_from(words) else { return Outcome::default() };
    let help = help.render();
    let text = if terminal::style(common.color).color { help.ansi().to_string() } else { help.to_string() };
    Outcome { text, ..Outcome::default() }
}

fn outcome(made: Vec<u8>) -> Result<Outcome, String> {
    let text = String::from_utf8(made).map_err(|why| format!("what was made is no text: {why}"))?;
    Ok(Outcome { text, ..Outcome::default() })
}
