//! One file of a yard, from disk to what it defines.

use std::io::Read as _;
use std::path::Path;
use std::sync::Arc;

use super::find::YARD_FILE;
use crate::finding::{Finding, Level};
use crate::lower::{FileDefs, lower_file};
use crate::syntax::{Document, MAX_BYTES, Parsed, parse};
use crate::text::{FileId, Source, Span};

/// A file read, or why not.
pub(super) struct FileRead {
    pub(super) source: Source,
    pub(super) defs: FileDefs,
    /// What is wrong with its text, before anything was made of it.
    pub(super) syntax: Vec<Finding>,
    /// Kept only where rules stand in it.
    pub(super) document: Option<Document>,
    /// A part of it, or all, could not be read, so rules may be missing.
    pub(super) rules_lost: bool,
}

impl FileRead {
    /// What is known of a file that could not be read: nothing, and why.
    fn not(source: Source, finding: Finding) -> Self {
        Self { source, defs: FileDefs::unreadable(), syntax: vec![finding], document: None, rules_lost: true }
    }

    /// A path that could not be read.
    pub(super) fn unread(name: Arc<str>, file: FileId, why: &str) -> Self {
        let message = format!("this cannot be read: {why}");
        Self::not(Source::new(name, ""), Finding::new("not-readable", Level::Error, Span::new(file, 0..0), message))
    }

    /// A link. Where it leads to a file that the walk reads, that file is read by itself.
    pub(super) fn link(path: &Path, name: Arc<str>, file: FileId, root: &Path) -> Self {
        let message = match path.canonicalize() {
            Ok(target) if target.starts_with(root) => {
                let hidden = |part: std::path::Component<'_>| part.as_os_str().as_encoded_bytes().starts_with(b".");
                let inside = target.strip_prefix(root).unwrap_or(&target);
                let read = target.is_dir() || target.extension().is_some_and(|ending| ending == "kdl");
                (inside.components().any(hidden) || !read)
                    .then_some("this link leads to a file that is not read, and is not followed")
            }
            Ok(_) => Some("this link leads out of the yard and is not followed"),
            Err(_) => Some("this link leads nowhere"),
        };
        let finding = |message| Finding::new("not-ours", Level::Note, Span::new(file, 0..0), message);
        Self {
            source: Source::new(name, ""),
            defs: FileDefs::default(),
            syntax: message.map(finding).into_iter().collect(),
            document: None,
            rules_lost: false,
        }
    }
}

/// Reads a file of the yard with this root. The text is read once and no further than the limit of its size; or it is
/// given, as it is going to be written.
pub(super) fn read_file(path: &Path, name: Arc<str>, file: FileId, root: &Path, given: Option<&str>) -> FileRead {
    let bytes = match given.map_or_else(|| read_bytes(path), |text| Ok(text.as_bytes().to_vec())) {
        Ok(bytes) => bytes,
        Err(why) => return FileRead::unread(name, file, &why.to_string()),
    };
    // A text over the limit is refused whole, so that it was cut short does not matter.
    let oversize = bytes.len() > MAX_BYTES;
    let text = match String::from_utf8(bytes) {
        Ok(text) => text,
        Err(error) if oversize => String::from_utf8_lossy(error.as_bytes()).into_owned(),
        Err(error) => {
            let at = error.utf8_error().valid_up_to();
            let text = String::from_utf8_lossy(error.as_bytes()).into_owned();
            let end = text.get(at..).and_then(|rest| rest.chars().next()).map_or(at, |c| at + c.len_utf8());
            let message = "this file is not UTF-8 text from here on";
            let finding = Finding::new("not-readable", Level::Error, Span::new(file, at..end), message);
            return FileRead::not(Source::new(name, text), finding.help("save it as UTF-8"));
        }
    };
    let source = Source::new(name, text);
    let Parsed { document, findings: syntax } = parse(file, &source.text);
    let is_yard_file = path.parent() == Some(root) && path.file_name().is_some_and(|name| name == YARD_FILE);
    let defs = document.as_ref().map_or_else(FileDefs::unreadable, |tree| lower_file(tree, is_yard_file));
    let is_rule = |node: &&crate::syntax::Node| &*node.name.text == "rule";
    let lost =
        |tree: &Document| !tree.lost.is_empty() || tree.nodes.iter().filter(is_rule).any(|rule| !rule.is_whole());
    let rules_lost = document.as_ref().is_none_or(lost);
    let document = document.filter(|tree| tree.nodes.iter().any(|node| is_rule(&node)));
    FileRead { source, defs, syntax, document, rules_lost }
}

/// Reads a file, one byte past the limit at most.
pub(super) fn read_bytes(path: &Path) -> std::io::Result<Vec<u8>> {
    let limit = u64::try_from(MAX_BYTES).unwrap_or(u64::MAX).saturating_add(1);
    let mut bytes = Vec::new();
    std::fs::File::open(path)?.take(limit).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// A path as output shows it: from where the user stands, with `/` between folders.
pub(super) fn shown(path: &Path, here: &Path) -> Arc<str> {
    let near = path.strip_prefix(here).unwrap_or(path);
    let near = near.to_string_lossy();
    if cfg!(windows) { near.replace('\\', "/").into() } else { near.into() }
}
