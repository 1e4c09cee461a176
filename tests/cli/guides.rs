//! Completions for shells and manual pages: each command and option is in them, and they work where the shell and the
//! reader of manual pages are there.

use std::collections::BTreeSet;
use std::process::{Command, Stdio};

use crate::harness::{Ran, Yard};

/// What help lists: the commands, and each with its options.
fn told() -> Vec<(String, BTreeSet<String>)> {
    let yard = Yard::empty();
    let help = yard.run(&["--help"]).out;
    let list = help.split("Commands:\n").nth(1).and_then(|rest| rest.split("\n\n").next()).expect("a list of commands");
    let names = list.lines().filter(|line| !line.starts_with("   ")).filter_map(|line| line.split_whitespace().next());
    let all: Vec<(String, BTreeSet<String>)> =
        names.map(|name| (name.to_owned(), options(&yard.run(&[name, "--help"]).status(0).out))).collect();
    assert!(all.len() >= 14, "{all:?}");
    all
}

/// The long options that a command's help lists.
fn options(help: &str) -> BTreeSet<String> {
    let heads = help.lines().filter(|line| line.trim_start().starts_with('-') && !line.trim_start().starts_with("- "));
    let words = heads.flat_map(|line| line.split([' ', ','])).filter(|word| word.starts_with("--"));
    words.map(str::to_owned).collect()
}

/// A tool of the system, if it is there.
#[expect(clippy::print_stderr, reason = "who runs the tests is told what was skipped")]
fn there(tool: &str) -> bool {
    let found = Command::new(tool).arg("--version").stdout(Stdio::null()).stderr(Stdio::null()).status().is_ok();
    if !found {
        // Only the environment in which changes are taken in is known to have it.
        assert!(std::env::var_os("CI").is_none(), "{tool} is not there");
        eprintln!("{tool} is not there: skipped");
    }
    found
}

fn piped(mut command: Command, input: &str) -> Ran {
    let folder = Yard::empty().file("input", input);
    let input = std::fs::File::open(folder.path("input")).expect("the input");
    command.stdin(input).output().expect("it starts").into()
}

/// What bash offers for the last of these words, in a folder with a sheet and a folder.
fn offered(words: &[&str]) -> Vec<String> {
    let script = Yard::empty().run(&["completions", "bash"]).status(0).out.clone();
    let yard = Yard::empty().file("monday.kdl", "").file("notes/old.txt", "").file("draylint.bash", script);
    let quoted: Vec<String> = words.iter().map(|word| format!("'{word}'")).collect();
    let (last, before) = (words[words.len() - 1], words[words.len() - 2]);
    let asked = format!(
        "source ./draylint.bash\ncomplete -p draylint >/dev/null || exit 9\nCOMP_WORDS=({})\nCOMP_CWORD={}\n_draylint draylint \
         '{last}' '{before}' 2>/dev/null\nprintf '%s\\n' \"${{COMPREPLY[@]}}\"\n",
        quoted.join(" "),
        words.len() - 1
    );
    let mut bash = Command::new("bash");
    bash.args(["--norc", "--noprofile"]).current_dir(yard.path("."));
    let ran = piped(bash, &asked);
    assert_eq!((ran.status, &*ran.err), (0, ""), "{ran:?}");
    ran.out.lines().filter(|line| !line.is_empty()).map(str::to_owned).collect()
}

#[test]
fn bash_completes_commands_options_and_values() {
    if !there("bash") {
        return;
    }
    let all = told();
    let first: BTreeSet<String> = offered(&["draylint", ""]).into_iter().collect();
    for (name, options) in &all {
        assert!(first.contains(name), "{name} is not offered");
        let offered: BTreeSet<String> = offered(&["draylint", name, "--"]).into_iter().collect();
        assert_eq!(&offered, options, "{name}");
    }
    assert_eq!(offered(&["draylint", "we"]), ["weigh"]);
    assert_eq!(offered(&["draylint", "check", "--f"]), ["--format"]);
    assert_eq!(offered(&["draylint", "check", "--format", ""]), ["text", "json", "sarif", "junit", "markdown"]);
    assert_eq!(offered(&["draylint", "check", "sheets", "--format", "j"]), ["json", "junit"]);
    assert_eq!(offered(&["draylint", "walkaround", "--format", "h"]), ["html"]);
    assert_eq!(offered(&["draylint", "--units", ""]), ["us", "si"]);
    assert_eq!(offered(&["draylint", "check", "--gate", "w"]), ["warning"]);
    assert_eq!(offered(&["draylint", "completions", "p"]), ["powershell"]);
    assert_eq!(offered(&["draylint", "man", "pl"]), ["place"]);
    assert_eq!(offered(&["draylint", "help", "tr"]), ["trim"]);
    assert_eq!(offered(&["draylint", "why", "--yard", "mo"]), ["monday.kdl"], "a path");
    // Nothing of its own: bash then completes the names of files, as the line with `complete` asks it to.
    assert_eq!(offered(&["draylint", "check", "mo"]), [""; 0]);
}

#[test]
fn the_scripts_of_other_shells_hold_each_command_option_and_value() {
    let yard = Yard::empty();
    for (shell, option) in [("zsh", "--"), ("fish", "-l "), ("powershell", "'--")] {
        let script = yard.run(&["completions", shell]).status(0).out.clone();
        for (name, options) in told() {
            assert!(script.contains(&name), "{shell}: {name}");
            for long in options {
                let written = format!("{option}{}", long.trim_start_matches('-'));
                assert!(script.contains(&written), "{shell}: {name} {long}");
            }
        }
        // PowerShell's script completes no values.
        let values = ["sarif", "junit", "warning", "loading"];
        assert!(shell == "powershell" || values.iter().all(|value| script.contains(value)), "{shell}");
        if shell != "powershell" && Command::new(shell).arg("--version").output().is_ok() {
            let mut parser = Command::new(shell);
            parser.arg("-n");
            let ran = piped(parser, &script);
            assert_eq!((ran.status, &*ran.err), (0, ""), "{shell}");
        }
    }
    let ran = yard.run(&["completions", "bsh"]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("bash, zsh, fish, powershell") && ran.err.contains("'bash'"), "{}", ran.err);
}

/// A manual page as its reader shows it, without what stands bold or slanted.
fn rendered(page: &str) -> String {
    let mut groff = Command::new("groff");
    groff.args(["-man", "-Tutf8", "-wall", "-P-c", "-P-b", "-P-u", "-P-o", "-rLL=80n"]);
    let ran = piped(groff, page);
    assert_eq!((ran.status, &*ran.err), (0, ""), "it warns of nothing");
    ran.out
}

/// The words of a text, however its lines are broken.
fn words(text: &str) -> String {
    // Where a line ends within a word, a hyphen of another kind stands.
    let joined = text.lines().fold(String::new(), |all, line| match all.strip_suffix('\u{2010}') {
        Some(first) => format!("{first}{}", line.trim_start()),
        None => format!("{all} {line}"),
    });
    joined
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .replace(['\u{2010}', '\u{2212}'], "-")
        .replace('\u{2019}', "'")
}

#[test]
fn each_command_has_a_manual_page_with_what_its_help_says() {
    if !there("groff") {
        return;
    }
    let yard = Yard::empty();
    let all = told();
    let listed = yard.run(&["man", "--list"]).status(0).out.clone();
    assert_eq!(listed.lines().collect::<Vec<_>>(), all.iter().map(|(name, _)| &**name).collect::<Vec<_>>());
    let program = rendered(&yard.run(&["man"]).status(0).out);
    for section in ["NAME", "SYNOPSIS", "DESCRIPTION", "OPTIONS", "EXAMPLES", "VERSION"] {
        assert!(program.lines().any(|line| line == section), "{section} in\n{program}");
    }
    for (name, options) in all {
        let page = rendered(&yard.run(&["man", &name]).status(0).out);
        assert!(program.contains(&format!("draylint-{name}(1)")), "{name}");
        assert!(page.contains(&format!("draylint-{name}(1)")), "{page}");
        for section in ["NAME", "SYNOPSIS", "DESCRIPTION", "OPTIONS", "EXAMPLES"] {
            assert!(page.lines().any(|line| line == section), "{section} in\n{page}");
        }
        assert!(options.iter().all(|option| page.contains(&**option)), "{options:?} in\n{page}");
        assert!(page.lines().all(|line| line.chars().count() <= 80), "{page}");
        // Whatever help says, but for the usage and how values and defaults are set out, stands in the page word for word.
        let (help, page) = (yard.run(&[&name, "--help"]).out, words(&page));
        let texts = help.split("\n\n").flat_map(|block| block.split("\n          ")).filter(|text| {
            let text = text.trim();
            !text.starts_with(['-', '[', '<'])
                && !text.ends_with(']')
                && !["Usage:", "Print help"].iter().any(|stock| text.starts_with(stock))
        });
        for text in texts.map(words).filter(|text| !text.is_empty()) {
            let text = text
                .trim_start_matches("Example: ")
                .trim_start_matches("Examples: ")
                .trim_start_matches("Options: ")
                .trim_end_matches(':');
            if ["Options", "Arguments", "Common options", "Possible values"].iter().all(|head| !text.starts_with(head))
            {
                assert!(page.contains(text), "{text:?} is not in\n{page}");
            }
        }
    }
    yard.run(&["man", "wiegh"]).status(2);
    yard.run(&["man", "--list", "check"]).status(2);
}

#[test]
fn the_page_of_a_command_as_it_is_written() {
    insta::assert_snapshot!(Yard::empty().run(&["man", "tidy"]).status(0).out);
}
