//! Changes that a viewer can make.

use super::message::told;
use super::wire::{ArtifactChange, ArtifactLocation, Content, Fix, Grade, Replacement};
use super::{region, uri};
use crate::finding;
use crate::render::json::grade;
use crate::render::place::places;
use crate::text::Sources;

/// A fix with its edits file by file; none for advice, which has no edits (3.55.3 wants one at least).
pub(super) fn fix(sources: &Sources, fix: &finding::Fix) -> Option<Fix> {
    let mut changes: Vec<ArtifactChange> = Vec::new();
    for edit in &fix.edits {
        let (file, ..) = places(sources, edit.span);
        let uri = uri::uri(file);
        let replacement = Replacement {
            deleted_region: region(sources, edit.span),
            inserted_content: Content { text: edit.text.clone() },
        };
        match changes.iter_mut().find(|change| change.artifact_location.uri == uri) {
            Some(change) => change.replacements.push(replacement),
            None => changes
                .push(ArtifactChange { artifact_location: ArtifactLocation { uri }, replacements: vec![replacement] }),
        }
    }
    let properties = Grade { grade: grade(fix.grade) };
    (!changes.is_empty()).then(|| Fix { description: told(&fix.title), artifact_changes: changes, properties })
}
