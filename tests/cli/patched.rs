//! A unified diff applied, as POSIX describes `patch`: by its line numbers, each line of the old text compared.

use std::fmt::Write as _;

/// The text with the diff applied.
pub(crate) fn patched(text: &str, diff: &str) -> String {
    let lines: Vec<&str> = text.split_inclusive('\n').collect();
    let mut out = String::new();
    let mut done = 0;
    let mut hunks = diff.split_inclusive('\n').peekable();
    assert!(hunks.next().is_some_and(|line| line.starts_with("--- ")), "{diff}");
    assert!(hunks.next().is_some_and(|line| line.starts_with("+++ ")), "{diff}");
    while let Some(line) = hunks.next() {
        let range = line.strip_prefix("@@ -").unwrap_or_else(|| panic!("{line:?} begins no hunk in {diff}"));
        let first: usize = range.split([',', ' ']).next().expect("a line").parse().expect("its number");
        lines[done..first - 1].iter().for_each(|line| out.push_str(line));
        done = first - 1;
        while let Some(line) = hunks.next_if(|line| !line.starts_with("@@")) {
            // Whether the line before the remark has no end.
            let bare = hunks.peek().is_some_and(|next| next.starts_with('\\'));
            let (mark, rest) = line.split_at(1);
            let rest = if bare { rest.strip_suffix('\n').expect("the diff's own end") } else { rest };
            if bare {
                hunks.next();
            }
            if mark != "+" {
                assert_eq!(lines[done], rest, "line {} of {text:?}", done + 1);
                done += 1;
            }
            if mark != "-" {
                let _ = write!(out, "{rest}");
            }
        }
    }
    lines[done..].iter().for_each(|line| out.push_str(line));
    out
}
