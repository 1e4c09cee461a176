//! One line on a terminal that tells how far a long run has come. It is gone before anything else is written.

use std::io::Write as _;
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::thread;
use std::time::Duration;

use super::args::Common;
use super::terminal;
use crate::yard::{Progress, Step};

/// A run that is over by then says nothing of how far it came.
const AFTER: Duration = Duration::from_secs(1);

/// Between two looks at the counts.
const EVERY: Duration = Duration::from_millis(200);

/// Does the work, and tells meanwhile how far it has come: only where standard error is a terminal, and not with `--quiet`.
pub(super) fn shown<R>(common: &Common, work: impl FnOnce(&Progress) -> R) -> R {
    let progress = Progress::default();
    let dumb = std::env::var_os("TERM").is_some_and(|term| term == "dumb");
    let Some(columns) = terminal::columns_of_errors().filter(|_| !common.quiet && !dumb) else {
        return work(&progress);
    };
    let (working, over) = channel();
    let counts = &progress;
    thread::scope(|scope| {
        scope.spawn(move || tell(counts, columns, &over));
        let result = work(counts);
        // What waits for this end wakes up, takes its line away, and is waited for here.
        drop::<std::sync::mpsc::Sender<()>>(working);
        result
    })
}

/// Writes the line again and again until the work is over, and takes it away then. It uses blanks and the start of the line, which
/// every terminal knows.
fn tell(progress: &Progress, columns: usize, over: &Receiver<()>) {
    let (mut wait, mut taken) = (AFTER, 0);
    while over.recv_timeout(wait) == Err(RecvTimeoutError::Timeout) {
        wait = EVERY;
        let Some(line) = progress.now().map(line) else { continue };
        // The last column stays free: some terminals go on to the next line from there.
        let line: String = line.chars().take(columns.saturating_sub(1)).collect();
        write(&format!("\r{line:<taken$}"));
        taken = line.len();
    }
    if taken > 0 {
        write(&format!("\r{:taken$}\r", ""));
    }
}

fn line((step, done, all): (Step, usize, usize)) -> String {
    match step {
        Step::Reading => format!("read {done} of {all} files"),
        Step::Checking => format!("checked {done} of {all} loads"),
        Step::Mending => format!("sought fixes for {done} of {all} sheets"),
    }
}

/// In one piece, so that nothing comes between. Nothing can be done about a closed terminal.
fn write(text: &str) {
    let _ = std::io::stderr().lock().write_all(text.as_bytes());
}
