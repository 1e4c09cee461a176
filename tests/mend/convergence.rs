//! What `trim` writes: once and for all, of the grade that was agreed to, and nothing when nothing was.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use draylint::finding::Grade;
use draylint::yard::{Narrowed, Progress, Trimmed, Write, trim};
use proptest::prelude::*;
use proptest::strategy::ValueTree as _;
use proptest::test_runner::TestRunner;
use tempfile::TempDir;

use crate::choices::rows;
use crate::judged::{on_pool, options, put};
use crate::titles::MOVED;
use crate::yards::yard;

/// Every file under a folder with its bytes and the time of its last change.
fn files(folder: &Path) -> BTreeMap<PathBuf, (Vec<u8>, SystemTime)> {
    let mut all = BTreeMap::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).expect("a folder") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                folders.push(path);
            } else {
                let changed = path.metadata().and_then(|about| about.modified()).expect("a time");
                all.insert(path.clone(), (std::fs::read(&path).expect("a file"), changed));
            }
        }
    }
    all
}

fn trimmed(folder: &Path, write: Write) -> Trimmed {
    on_pool(|| {
        trim(&[folder.to_owned()], &Narrowed::default(), &options(false), write, &Progress::default())
            .expect("it is a yard")
    })
}

/// The example yard and some random ones, each in a folder of its own.
fn yards(random: usize) -> Vec<TempDir> {
    let demo = TempDir::new().expect("a folder");
    let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/yard");
    for (path, (bytes, _)) in files(&from) {
        let to = demo.path().join(path.strip_prefix(&from).expect("under it"));
        std::fs::create_dir_all(to.parent().expect("a folder")).expect("a folder");
        std::fs::write(to, bytes).expect("written");
    }
    // The same yards in every run: what is counted below is counted of these.
    let mut runner = TestRunner::deterministic();
    let made = (0..random).map(|_| {
        let folder = TempDir::new().expect("a folder");
        put(folder.path(), &yard(&rows().new_tree(&mut runner).expect("a row").current()).files);
        folder
    });
    std::iter::once(demo).chain(made).collect()
}

/// The entries that a change of a load may write, taken out of a text with what they are set to.
fn without_places(text: &str) -> String {
    let mut left = text.to_owned();
    for word in MOVED {
        let key = format!("{word}=");
        let mut out = String::new();
        let mut rest = left.as_str();
        while let Some(at) = rest.find(&key) {
            out.push_str(&rest[..at + key.len()]);
            rest = &rest[at + key.len()..];
            let quoted = rest.strip_prefix('"').and_then(|inner| inner.find('"')).map(|end| end + 2);
            let bare = rest.find(|c: char| c.is_whitespace() || c == ';' || c == '{').unwrap_or(rest.len());
            rest = &rest[quoted.unwrap_or(bare)..];
        }
        out.push_str(rest);
        left = out;
    }
    left
}

#[test]
fn nothing_is_written_unless_asked_and_only_notation_unless_agreed() {
    let (mut shown, mut mended) = (0, 0);
    for yard in yards(1) {
        let before = files(yard.path());
        let offered = trimmed(yard.path(), Write::Nothing);
        assert_eq!(files(yard.path()), before, "nothing was asked to be written");
        assert!(offered.written.is_empty());
        shown += offered.trims.len();
        let made = trimmed(yard.path(), Write::Notation);
        assert!(made.trims.iter().all(|one| one.fix.grade == Grade::Notation));
        let after = files(yard.path());
        let changed = after.iter().filter(|(path, (bytes, _))| before[*path].0 != *bytes).count();
        assert_eq!(changed, made.written.len());
        assert_eq!(before.keys().collect::<Vec<_>>(), after.keys().collect::<Vec<_>>(), "no file came or went");
        mended += made.trims.len();
        let again = trimmed(yard.path(), Write::Notation);
        assert!(again.trims.is_empty() && again.written.is_empty(), "{:#?}", again.trims);
        assert_eq!(files(yard.path()), after);
    }
    assert!(shown > 4 && mended > 0, "{shown} shown, {mended} mended");
}

#[test]
fn a_second_run_finds_nothing_left_to_do() {
    let mut moved = 0;
    for yard in yards(1) {
        trimmed(yard.path(), Write::Notation);
        let before = files(yard.path());
        let made = trimmed(yard.path(), Write::Agreed);
        let after = files(yard.path());
        moved += made.trims.iter().filter(|one| one.fix.grade == Grade::Change).count();
        for (path, (bytes, _)) in &after {
            let [old, new] = [&before[path].0, bytes].map(|bytes| String::from_utf8(bytes.clone()).expect("text"));
            // Notation that only shows once a load can be computed aside, only entries of places differ.
            if made.trims.iter().all(|one| one.fix.grade == Grade::Change && !one.fix.title.starts_with("write ")) {
                assert_eq!(without_places(&old), without_places(&new));
            }
        }
        let again = trimmed(yard.path(), Write::Agreed);
        assert!(again.trims.is_empty() && again.written.is_empty(), "{:#?}", again.trims);
        assert_eq!(files(yard.path()), after, "not a byte, and no file was touched");
    }
    assert!(moved > 5, "{moved}");
}
