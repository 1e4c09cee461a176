//! Writing into a load's `loading`: an entry replaced, an entry added, or the block itself.

use crate::figures::Load;
use crate::finding::Edit;
use crate::model::{Loading, Owner};
use crate::syntax::{Node, parse};
use crate::text::Span;

/// What a load itself says of how it is put aboard: in its leg, or in its sheet where that has no legs. What stands for
/// other loads too is not written in.
pub(super) fn own<'l>(load: &'l Load<'_>) -> &'l Loading {
    load.leg.map_or(&load.sheet.base.loading, |leg| &leg.part.loading)
}

/// The edit that adds a line to the load's own `loading`, or gives it one.
pub(super) fn added(load: &Load<'_>, text: &str, line: &str) -> Option<Edit> {
    let owner = load.owner();
    let tree = parse(owner.at.file, text).document?;
    let head = own(load).owner.as_ref().map(|owner: &Owner| owner.at);
    match head {
        Some(head) => {
            let node = find(&tree.nodes, head)?;
            if node.children.is_none() {
                return Some(insert(owner, node.span.end, format!(" {{ {line} }}")));
            }
            // After the brace that opens it: on the same line, or on one of its own where the block has several.
            let opens = node.head.end as usize + text.get(node.head.end as usize..)?.find('{')? + 1;
            let rest = text.get(opens..)?;
            let line_ends = rest.find('\n').filter(|at| blank(rest.get(..*at).unwrap_or("x")));
            let Some(ends) = line_ends else { return Some(insert(owner, at(opens)?, format!(" {line};"))) };
            let next = rest.get(ends + 1..)?;
            let indent: String = next.chars().take_while(|c| *c == ' ' || *c == '\t').collect();
            Some(insert(owner, at(opens + ends)?, format!("\n{indent}{line}")))
        }
        None => {
            let node = find(&tree.nodes, owner.at)?;
            let closes = node.span.end as usize - 1;
            if text.get(closes..=closes)? != "}" {
                return None;
            }
            let before = text.get(..closes)?;
            let line_starts = before.rfind('\n').map_or(0, |at| at + 1);
            let indent = before.get(line_starts..)?;
            if indent.chars().all(|c| c == ' ' || c == '\t') && line_starts > 0 {
                let block = format!("{indent}    loading {{ {line}; }}\n");
                return Some(insert(owner, at(line_starts)?, block));
            }
            let ended = before.trim_end().ends_with([';', '{']);
            let start = if ended { "" } else { "; " };
            Some(insert(owner, at(closes)?, format!("{start}loading {{ {line}; }} ")))
        }
    }
}

/// Whether nothing but blanks or a comment to the line's end stands here.
fn blank(rest: &str) -> bool {
    let rest = rest.trim_start();
    rest.is_empty() || rest.starts_with("//")
}

fn at(byte: usize) -> Option<u32> {
    u32::try_from(byte).ok()
}

fn insert(owner: &Owner, at: u32, text: String) -> Edit {
    let at = at as usize;
    Edit::replace(Span::new(owner.at.file, at..at), text)
}

/// The node with this head.
pub(super) fn find(nodes: &[Node], head: Span) -> Option<&Node> {
    nodes.iter().find_map(|node| if node.head == head { Some(node) } else { find(node.children.as_deref()?, head) })
}
