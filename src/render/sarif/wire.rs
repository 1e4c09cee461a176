//! The objects of a SARIF log, as far as draylint writes them. Their names and their meaning are the standard's.

use std::borrow::Cow;

use serde::Serialize;

use crate::render::json::{Figure, Load};

pub(super) const SCHEMA: &str =
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";

#[derive(Serialize)]
pub(super) struct Log<'a> {
    #[serde(rename = "$schema")]
    pub(super) schema: &'static str,
    pub(super) version: &'static str,
    pub(super) runs: [Run<'a>; 1],
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Run<'a> {
    pub(super) tool: Tool,
    pub(super) column_kind: &'static str,
    pub(super) newline_sequences: [&'static str; 3],
    pub(super) results: Vec<Result<'a>>,
    pub(super) properties: Counts,
}

/// What was checked, and how many findings count; waived ones apart.
#[derive(Serialize)]
pub(super) struct Counts {
    pub(super) files: usize,
    pub(super) loads: usize,
    pub(super) errors: usize,
    pub(super) warnings: usize,
    pub(super) notes: usize,
    pub(super) waived: usize,
}

#[derive(Serialize)]
pub(super) struct Tool {
    pub(super) driver: Driver,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Driver {
    pub(super) name: &'static str,
    pub(super) version: &'static str,
    pub(super) semantic_version: &'static str,
    pub(super) short_description: Message,
    pub(super) full_description: Message,
    pub(super) rules: Vec<Descriptor>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Descriptor {
    pub(super) id: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) short_description: Option<Message>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) help: Option<Message>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) default_configuration: Option<Configuration>,
}

#[derive(Serialize)]
pub(super) struct Configuration {
    pub(super) level: &'static str,
}

#[derive(Serialize)]
pub(super) struct Message {
    pub(super) text: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) markdown: Option<String>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Result<'a> {
    pub(super) rule_id: Cow<'a, str>,
    pub(super) rule_index: usize,
    pub(super) level: &'static str,
    pub(super) message: Message,
    pub(super) locations: [Location<'a>; 1],
    pub(super) related_locations: Vec<Location<'a>>,
    pub(super) partial_fingerprints: Fingerprints,
    pub(super) suppressions: Vec<Suppression>,
    pub(super) fixes: Vec<Fix>,
    pub(super) properties: Facts<'a>,
}

/// The finding's own words, each by itself, as `--format json` has them.
#[derive(Serialize)]
pub(super) struct Facts<'a> {
    pub(super) sheet: Option<&'a str>,
    pub(super) leg: Option<&'a str>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(super) also: Vec<Load<'a>>,
    pub(super) message: &'a str,
    pub(super) help: Option<&'a str>,
    pub(super) source: Option<&'a str>,
    pub(super) figure: Option<Figure<'a>>,
}

#[derive(Serialize)]
pub(super) struct Fingerprints {
    #[serde(rename = "finding/v1")]
    pub(super) finding: String,
}

#[derive(Serialize)]
pub(super) struct Suppression {
    pub(super) kind: &'static str,
    pub(super) status: &'static str,
    pub(super) justification: String,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
#[expect(clippy::struct_field_names, reason = "the standard's names")]
pub(super) struct Location<'a> {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) id: Option<usize>,
    pub(super) physical_location: PhysicalLocation,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(super) logical_locations: Vec<LogicalLocation<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) message: Option<Message>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct PhysicalLocation {
    pub(super) artifact_location: ArtifactLocation,
    pub(super) region: Region,
}

#[derive(Serialize)]
pub(super) struct ArtifactLocation {
    pub(super) uri: String,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Region {
    pub(super) start_line: usize,
    pub(super) start_column: usize,
    pub(super) end_line: usize,
    pub(super) end_column: usize,
}

#[derive(Serialize)]
pub(super) struct LogicalLocation<'a> {
    pub(super) name: Cow<'a, str>,
    pub(super) kind: &'static str,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Fix {
    pub(super) description: Message,
    pub(super) artifact_changes: Vec<ArtifactChange>,
    pub(super) properties: Grade,
}

#[derive(Serialize)]
pub(super) struct Grade {
    pub(super) grade: &'static str,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct ArtifactChange {
    pub(super) artifact_location: ArtifactLocation,
    pub(super) replacements: Vec<Replacement>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Replacement {
    pub(super) deleted_region: Region,
    pub(super) inserted_content: Content,
}

#[derive(Serialize)]
pub(super) struct Content {
    pub(super) text: String,
}
