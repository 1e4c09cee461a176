//! A yard put on disk and checked as the program checks it.

use std::path::Path;

use draylint::check::Options;
use draylint::finding::Finding;
use draylint::text::{FileId, Sources};
use draylint::yard::{Checked, Narrowed, Progress, check};
use tempfile::TempDir;

/// How yards are checked; figures are wanted, for they say what could be computed.
pub(crate) fn options(mend: bool) -> Options {
    Options { units: None, today: "2026-01-01".into(), weigh: true, mend }
}

/// Runs on threads with the stack that the parser needs.
pub(crate) fn on_pool<T: Send>(run: impl FnOnce() -> T + Send) -> T {
    draylint::syntax::pool().num_threads(2).build().expect("threads").install(run)
}

pub(crate) fn put(folder: &Path, files: &[(String, String)]) {
    for (name, text) in files {
        let path = folder.join(name);
        std::fs::create_dir_all(path.parent().expect("a folder")).expect("a folder");
        std::fs::write(path, text).expect("written");
    }
}

/// Checks files as a yard of their own.
pub(crate) fn judged(files: &[(String, String)], mend: bool) -> Checked {
    let folder = TempDir::new().expect("a folder");
    put(folder.path(), files);
    on_pool(|| {
        check(&[folder.path().to_owned()], &Narrowed::default(), &options(mend), &Progress::default())
            .expect("it is a yard")
    })
}

/// Which of the files this is.
pub(crate) fn file_of(files: &[(String, String)], sources: &Sources, file: FileId) -> usize {
    let name = &sources.get(file).expect("a file").name;
    let at = files.iter().position(|(wanted, _)| name.ends_with(wanted.as_str()));
    at.unwrap_or_else(|| panic!("{name} is none of the yard"))
}

/// The files with a fix made: a splice of bytes, of this test's own.
pub(crate) fn spliced(
    files: &[(String, String)],
    file: usize,
    edits: &[(std::ops::Range<usize>, &str)],
) -> Vec<(String, String)> {
    let old = files[file].1.as_bytes();
    let mut new = old.to_vec();
    // From the last one on, so that the places of the others stay.
    let mut after = old.len();
    for (range, text) in edits.iter().rev() {
        assert!(range.start <= range.end && range.end <= after, "edits overlap or stand out of order: {edits:?}");
        new.splice(range.clone(), text.bytes());
        after = range.start;
    }
    let mut files = files.to_vec();
    files[file].1 = String::from_utf8(new).expect("edits at the bounds of characters");
    files
}

/// The edits of a fix as ranges of bytes.
pub(crate) fn edits(fix: &draylint::finding::Fix) -> Vec<(std::ops::Range<usize>, &str)> {
    fix.edits.iter().map(|edit| (edit.span.range(), edit.text.as_str())).collect()
}

/// How far a figure is beyond its bound; none where the finding has none.
pub(crate) fn beyond(finding: &Finding) -> Option<f64> {
    let figure = finding.figure.as_ref()?;
    let low = figure.at_least.map(|least| least - figure.value);
    let high = figure.at_most.map(|most| figure.value - most);
    low.into_iter().chain(high).reduce(f64::max)
}
