//! Small yards in, findings out as `rule @ snippet`.

mod agree;
mod entries;
mod frictions;
mod mends;
mod model;
mod mutated;
mod proposed;

use std::sync::LazyLock;

use super::{BUILTIN_MATERIALS, FileDefs, builtin_materials, link, lower_file};
use crate::finding::Finding;
use crate::model::{Material, Yard};
use crate::syntax::{Document, parse, with_stack};
use crate::text::{FileId, Source, Sources};

/// The example yard in one file.
pub(super) const YARD: &str = include_str!("yard.kdl");

/// The built-in materials, read once, in a file of their own.
const BUILTIN: FileId = FileId(u32::MAX);
static MATERIALS: LazyLock<Vec<Material>> = LazyLock::new(|| builtin_materials(BUILTIN));

/// The tree of a text.
pub(super) fn tree(file: FileId, text: &str) -> Option<Document> {
    with_stack(|| parse(file, text)).document
}

/// Joins some trees as one yard; the first is its `yard.kdl`.
pub(super) fn lowered(trees: &[Option<Document>]) -> (Yard, Vec<Finding>) {
    let defs = trees.iter().enumerate().map(|(at, tree)| match tree {
        Some(tree) => lower_file(tree, at == 0),
        None => FileDefs::unreadable(),
    });
    link(defs.collect(), MATERIALS.clone())
}

/// Reads some files as one yard; the first is its `yard.kdl`. Findings of the syntax are left out.
pub(super) fn read(files: &[&str]) -> (Yard, Vec<Finding>, Sources) {
    let mut sources = Sources::default();
    let trees: Vec<_> = files
        .iter()
        .enumerate()
        .map(|(at, text)| tree(sources.add(Source::new(format!("file-{at}.kdl"), *text)), text))
        .collect();
    let (yard, findings) = lowered(&trees);
    (yard, findings, sources)
}

#[test]
fn the_example_yard_has_no_fault() {
    let (yard, findings, _) = read(&[YARD]);
    assert_eq!(findings, Vec::new());
    assert_eq!((yard.trucks.len(), yard.trailers.len(), yard.sheets.len()), (1, 2, 2));
    assert_eq!(yard.loads().count(), 3);
}

#[test]
fn the_built_in_materials_are_whole() {
    let file = FileId(0);
    let parsed = with_stack(|| parse(file, BUILTIN_MATERIALS));
    assert_eq!(parsed.findings, Vec::new());
    let defs = lower_file(&parsed.document.expect("a document"), false);
    assert_eq!(defs.findings, Vec::new());
    assert_eq!(defs.materials.len(), 14);
    for material in &defs.materials {
        for density in &material.densities {
            let (low, high) = (density.low.value().expect("low"), density.high.value().expect("high"));
            assert!(low <= high, "{}", material.id.value);
        }
    }
}
