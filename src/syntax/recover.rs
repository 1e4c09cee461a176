//! A broken text node by node: each header is parsed by itself, once, so that the work stays linear however the text
//! is broken, and a broken line costs that line.

use std::borrow::Cow;

use kdl::KdlDocument;

use super::outline::{MAX_SLASHDASHES, Outline, Piece};
use super::read::Reader;
use super::tree::Node;
use super::{explain, slips};
use crate::finding::Finding;
use crate::text::{FileId, Span, is_hidden};

/// What could be read of a broken text.
#[derive(Debug)]
pub(super) struct Recovered {
    /// The top-level nodes, each with all inner nodes that can be read.
    pub(super) nodes: Vec<Node>,
    /// Where broken top-level nodes stand.
    pub(super) lost: Vec<Span>,
    /// Whether a header was found broken at all, one that is switched off included.
    pub(super) broken: bool,
}

/// Reads a text header by header.
pub(super) fn recover(file: FileId, text: &str, outline: &Outline, findings: &mut Vec<Finding>) -> Recovered {
    let mut broken = false;
    let mut reader = Reader { file, text, outline, findings: Vec::new() };
    let count = outline.pieces.len();
    // Per node: its children and what was lost among them, last first. The extra slot is the document.
    let mut children: Vec<Vec<Node>> = Vec::new();
    let mut lost: Vec<Vec<Span>> = Vec::new();
    children.resize_with(count + 1, Vec::new);
    lost.resize_with(count + 1, Vec::new);
    // Backwards, so that children are there when their parent comes: a parent begins before its children.
    for (at, piece) in outline.pieces.iter().enumerate().rev() {
        let inner = taken(&mut children, at);
        let inner_lost = taken(&mut lost, at);
        let read = header(&mut reader, piece, findings);
        broken |= read.is_none();
        if piece.off || piece.skip {
            continue;
        }
        let parent = piece.parent.unwrap_or(count);
        match read {
            Some(node) => {
                let node = assembled(file, outline, piece, node, inner, inner_lost);
                if let Some(siblings) = children.get_mut(parent) {
                    siblings.push(node);
                }
            }
            None => {
                if let Some(spans) = lost.get_mut(parent) {
                    spans.push(Span::new(file, piece.start..piece.end.max(piece.head_end)));
                }
            }
        }
    }
    findings.append(&mut reader.findings);
    Recovered { nodes: taken(&mut children, count), lost: taken(&mut lost, count), broken }
}

/// The list at a place, in the order of the text.
fn taken<T>(lists: &mut [Vec<T>], at: usize) -> Vec<T> {
    let mut list = lists.get_mut(at).map(std::mem::take).unwrap_or_default();
    list.reverse();
    list
}

/// A node's header by itself.
fn header(reader: &mut Reader<'_>, piece: &Piece, findings: &mut Vec<Finding>) -> Option<Node> {
    if piece.bad {
        return None;
    }
    let range = piece.start..piece.head_end;
    let text = masked(reader.text, piece)?;
    if let Some((at, _)) = text.match_indices("/-").nth(MAX_SLASHDASHES) {
        findings.push(explain::slashdashes(reader.file, piece.start + at));
        return None;
    }
    match KdlDocument::parse(&text) {
        Ok(document) => {
            let (mut nodes, lost) = reader.nodes(&document, piece.start);
            let node = nodes.pop();
            if lost.is_empty() && (node.is_none() || !nodes.is_empty()) {
                // One node was seen and not one was parsed: the two disagree, so nothing is known of it.
                findings.push(explain::unreadable(reader.file, reader.text, range));
                return None;
            }
            node
        }
        Err(error) => {
            let slips = slips::in_broken_header(reader.file, reader.text, range.clone());
            if !slips.is_empty() {
                findings.extend(slips);
            } else if !text.contains(is_hidden) {
                findings.push(explain::parser(reader.file, reader.text, range, &error));
            }
            None
        }
    }
}

/// A header's text without the blocks in it that are switched off: blanks stand in for them, so that offsets stay.
fn masked<'a>(text: &'a str, piece: &Piece) -> Option<Cow<'a, str>> {
    let mut masked = Cow::Borrowed(text.get(piece.start..piece.head_end)?);
    for mask in &piece.masks {
        let within = mask.start.checked_sub(piece.start)?..mask.end.checked_sub(piece.start)?;
        masked.get(within.clone())?;
        masked.to_mut().replace_range(within, &" ".repeat(mask.len()));
    }
    Some(masked)
}

fn assembled(
    file: FileId,
    outline: &Outline,
    piece: &Piece,
    mut node: Node,
    children: Vec<Node>,
    lost: Vec<Span>,
) -> Node {
    node.lost = lost;
    node.lost.extend(piece.lost.iter().map(|range| Span::new(file, range.clone())));
    node.lost.sort();
    if let Some(block) = piece.block.and_then(|at| outline.blocks.get(at)) {
        let last = children.last().map_or(block.open + 1, |child| child.span.end as usize);
        let end = block.close.map_or(last, |close| close + 1).max(last);
        node.span = Span::new(file, piece.start..end.max(node.head.end as usize));
        node.children = Some(children);
    } else if !children.is_empty() {
        // Its `{` is missing, and the scan gave it the lines that its `}` ends.
        node.span = Span::new(file, piece.start..piece.end);
        node.children = Some(children);
    }
    node
}
