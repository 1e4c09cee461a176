//! Small yards in, findings out as `rule @ snippet`.

mod model;

use super::{BUILTIN_MATERIALS, builtin_materials, link, lower_file};
use crate::finding::{Finding, Level};
use crate::model::Yard;
use crate::syntax::{parse, with_stack};
use crate::text::{FileId, Source, Sources};

/// The example yard in one file.
pub(super) const YARD: &str = include_str!("yard.kdl");

/// Reads some files as one yard; the first is its `yard.kdl`. Findings of the syntax are left out.
pub(super) fn read(files: &[&str]) -> (Yard, Vec<Finding>, Sources) {
    let mut sources = Sources::default();
    let mut defs = Vec::new();
    for (at, text) in files.iter().enumerate() {
        let id = sources.add(Source::new(format!("file-{at}.kdl"), *text));
        let parsed = with_stack(|| parse(id, text));
        defs.push(parsed.document.map_or_else(super::FileDefs::unreadable, |doc| lower_file(&doc, at == 0)));
    }
    let builtin = sources.add(Source::new("materials.kdl", BUILTIN_MATERIALS));
    let (yard, findings) = link(defs, with_stack(|| builtin_materials(builtin)));
    (yard, findings, sources)
}

/// The findings of one file as `rule @ snippet`.
pub(super) fn faults(text: &str) -> Vec<String> {
    let (_, findings, sources) = read(&[text]);
    findings.iter().map(|one| format!("{} @ {}", one.rule, sources.slice(one.primary.span))).collect()
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
