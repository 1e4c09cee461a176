//! What a terminal shows: the line that tells how far a long run has come, which is gone before anything else is written, and
//! texts as wide as the terminal. The terminal is a pseudo-terminal of util-linux's `script`.
#![cfg(target_os = "linux")]

use std::process::Command;
use std::time::{Duration, Instant};

use crate::harness::{LIGHT, Yard, sheet};

/// Gives a yard so many sheets that a command takes some seconds on this machine, and tells how many. Each has a fault whose
/// cure is searched for.
fn long(yard: &Yard, command: &str) -> usize {
    let mut sheets = 100;
    loop {
        for at in 0..sheets {
            yard.put(format!("sheets/{at}.kdl"), sheet(&format!("sheet {at}"), LIGHT));
        }
        let begun = Instant::now();
        yard.run(&[command, "--jobs", "1"]);
        if begun.elapsed() > Duration::from_secs(3) {
            return sheets;
        }
        sheets *= 2;
    }
}

/// What a terminal receives while a shell runs this line.
#[expect(clippy::print_stderr, reason = "who runs the tests is told what was skipped")]
fn received(yard: &Yard, line: &str) -> Option<String> {
    let there = Command::new("script").arg("--version").output().is_ok();
    if !there {
        assert!(std::env::var_os("CI").is_none(), "script, of util-linux, is not there");
        eprintln!("script, of util-linux, is not there: skipped");
        return None;
    }
    let line = line.replace("draylint", env!("CARGO_BIN_EXE_draylint"));
    let mut script = Command::new("script");
    script.args(["-qec", &format!("stty cols 80 rows 24; {line}"), "/dev/null"]).current_dir(yard.path("."));
    script.env("LANG", "C.UTF-8").env("TERM", "xterm").env_remove("COLUMNS").stdin(std::process::Stdio::null());
    let output = script.output().expect("script starts");
    Some(String::from_utf8(output.stdout).expect("UTF-8"))
}

/// What stands on the screen in the end, line by line, without blanks at the end.
fn screen(received: &str) -> Vec<String> {
    let mut lines = vec![Vec::new()];
    let (mut column, mut row) = (0, 0);
    for c in received.chars() {
        match c {
            '\r' => column = 0,
            '\n' => {
                row += 1;
                lines.push(Vec::new());
            }
            c => {
                assert!(!c.is_control(), "{c:?} in {received:?}");
                let line: &mut Vec<char> = &mut lines[row];
                line.resize(line.len().max(column + 1), ' ');
                line[column] = c;
                column += 1;
            }
        }
    }
    let text = |line: Vec<char>| line.into_iter().collect::<String>().trim_end().to_owned();
    lines.into_iter().map(text).collect()
}

/// The states of the line, in the order in which they were drawn.
fn drawn(received: &str) -> Vec<&str> {
    received.split('\r').map(str::trim).filter(|text| text.contains(" of ") && !text.contains('\n')).collect()
}

#[test]
fn a_long_run_tells_how_far_it_is_and_takes_that_away() {
    let yard = Yard::new();
    let sheets = long(&yard, "check");
    let read = |name: &str| std::fs::read_to_string(yard.path(name)).expect("a file");
    let Some(got) = received(&yard, "draylint check --short --jobs 1 > found.txt") else { return };
    let states = drawn(&got);
    assert!(states.len() >= 2, "{got:?}");
    let known = [format!(" of {sheets} loads"), format!(" of {sheets} sheets"), format!(" of {} files", sheets + 2)];
    for state in &states {
        assert!(known.iter().any(|end| state.ends_with(&**end)), "{state}");
        assert!(state.len() < 80, "the last column stays free: {state}");
    }
    assert_eq!(screen(&got), [""], "nothing is left");
    // A pipe gets nothing, and the results are the same.
    let got = received(&yard, "draylint check --short --jobs 1 2> told.txt > piped.txt");
    assert_eq!((got.as_deref(), &*read("told.txt")), (Some(""), ""));
    assert_eq!(read("found.txt"), read("piped.txt"));
    // On the screen the results stand where the line stood, and alone.
    let got = received(&yard, "NO_COLOR=1 draylint check --short --jobs 1").expect("as above");
    assert!(drawn(&got).len() >= 2, "{got:?}");
    assert_eq!(screen(&got).join("\n"), read("piped.txt"));
    // Who wants none, and a terminal on which nothing can be drawn over, get none.
    for line in ["draylint check --quiet --jobs 1 > found.txt", "TERM=dumb draylint check --jobs 1 > found.txt"] {
        assert_eq!(received(&yard, line).as_deref(), Some(""), "{line}");
    }
}

#[test]
fn each_command_that_can_take_long_tells_it_before_its_results_or_its_failure() {
    let yard = Yard::new();
    for command in ["trim", "place", "walkaround"] {
        long(&yard, command);
        let Some(got) = received(&yard, &format!("draylint {command} --jobs 1 > found.txt")) else { return };
        assert!(!drawn(&got).is_empty(), "{command}: {got:?}");
        assert_eq!(screen(&got), [""], "{command}");
    }
    // A run that is over at once says nothing of how far it came; one that fails says just that.
    let small = Yard::new().file("monday.kdl", sheet("monday", LIGHT));
    assert_eq!(received(&small, "draylint check > found.txt").as_deref(), Some(""));
    assert_eq!(
        screen(&received(&yard, "draylint check gone").expect("as above"))[0],
        "draylint: there is no file or folder gone"
    );
}

#[test]
fn texts_keep_to_the_width_of_the_terminal() {
    let yard = Yard::new().file("monday.kdl", sheet("monday", LIGHT));
    let widest = |text: &str| text.lines().map(|line| line.chars().count()).max();
    let Some(got) = received(&yard, "stty cols 60 rows 24; NO_COLOR=1 draylint check") else { return };
    let told = widest(&screen(&got).join("\n")).expect("a finding");
    assert!((50..=60).contains(&told), "{told} columns in\n{got}");
    assert!(widest(&yard.run(&["check"]).out) > Some(70));
    let said = received(&yard, "NO_COLOR=1 COLUMNS=50 draylint check").expect("as above");
    assert!(widest(&screen(&said).join("\n")) <= Some(50), "{said}");
}
