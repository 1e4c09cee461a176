//! Writing into a sheet: a load's `loading`, an entry replaced, an entry added, or the block itself; lines beside one that is
//! there.

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
    match own(load).owner.as_ref() {
        Some(block) => within(find(&tree.nodes, block.at)?, text, owner, line),
        None => beside(find(&tree.nodes, owner.at)?, text, owner, line),
    }
}

/// Adds a line to a `loading` that is there: after the brace that opens it, on the same line, or on one of its own where the
/// block has several.
fn within(node: &Node, text: &str, owner: &Owner, line: &str) -> Option<Edit> {
    if node.children.is_none() {
        return Some(insert(owner, node.span.end as usize, format!(" {{ {line}; }}")));
    }
    let head = node.head.end as usize;
    let opens = head + text.get(head..)?.find('{')? + 1;
    let rest = text.get(opens..)?;
    let line_ends = rest.find('\n').filter(|at| blank(rest.get(..*at).unwrap_or("x")));
    let Some(ends) = line_ends else { return Some(insert(owner, opens, format!(" {line};"))) };
    let next = rest.get(ends + 1..)?;
    let indent: String = next.chars().take_while(|c| *c == ' ' || *c == '\t').collect();
    Some(insert(owner, opens + ends, format!("\n{indent}{line}")))
}

/// Gives a leg or a sheet a `loading` before the brace that closes it.
fn beside(node: &Node, text: &str, owner: &Owner, line: &str) -> Option<Edit> {
    let closes = (node.span.end as usize).checked_sub(1)?;
    if text.get(closes..=closes)? != "}" {
        return None;
    }
    let before = text.get(..closes)?;
    let line_starts = before.rfind('\n').map_or(0, |at| at + 1);
    let indent = before.get(line_starts..)?;
    if indent.chars().all(|c| c == ' ' || c == '\t') && line_starts > 0 {
        let block = format!("{indent}    loading {{ {line}; }}\n");
        return Some(insert(owner, line_starts, block));
    }
    let ended = before.trim_end().ends_with([';', '{']);
    let start = if ended { "" } else { "; " };
    Some(insert(owner, closes, format!("{start}loading {{ {line}; }} ")))
}

/// Adds lines behind a node of a block: each on a line of its own where that one has its own, else on the same line.
pub(super) fn beside_last(node: &Node, text: &str, lines: &[&str]) -> Edit {
    let (start, end) = (node.span.start as usize, node.span.end as usize);
    let before = text.get(..start).unwrap_or("");
    let indent = before.get(before.rfind('\n').map_or(0, |at| at + 1)..).unwrap_or("");
    let rest = text.get(end..).unwrap_or("");
    let ended = rest.trim_start_matches([' ', '\t']).starts_with(';');
    let behind = if ended { rest.find(';').map_or(0, |at| at + 1) } else { 0 };
    let line_ends = rest.find('\n').filter(|at| rest.get(behind..*at).is_some_and(blank));
    let at = |place: usize, text: String| Edit::replace(Span::new(node.span.file, place..place), text);
    if let Some(ends) = line_ends.filter(|_| indent.chars().all(|c| c == ' ' || c == '\t')) {
        let ends = if rest.get(..ends).is_some_and(|line| line.ends_with('\r')) { ends - 1 } else { ends };
        let parts = lines.iter().flat_map(|line| ["\n", indent, line]);
        return at(end + ends, parts.collect());
    }
    if ended {
        return at(end + behind, lines.iter().flat_map(|line| [" ", line, ";"]).collect());
    }
    at(end, lines.iter().flat_map(|line| ["; ", line]).collect())
}

/// Whether nothing but blanks or a comment to the line's end stands here.
fn blank(rest: &str) -> bool {
    let rest = rest.trim_start();
    rest.is_empty() || rest.starts_with("//")
}

fn insert(owner: &Owner, at: usize, text: String) -> Edit {
    Edit::replace(Span::new(owner.at.file, at..at), text)
}

/// The node with this head.
pub(super) fn find(nodes: &[Node], head: Span) -> Option<&Node> {
    nodes.iter().find_map(|node| if node.head == head { Some(node) } else { find(node.children.as_deref()?, head) })
}

/// The edit that takes a node out: with its line where nothing else stands on it, and with a semicolon that ends it.
pub(super) fn taken_out(text: &str, node: &Node) -> Edit {
    let blank = |byte: &u8| matches!(byte, b' ' | b'\t');
    let bytes = text.as_bytes();
    let Span { file, .. } = node.span;
    let range = node.span.range();
    let blanks = |from: usize| bytes.get(from..).unwrap_or_default().iter().take_while(|byte| blank(byte)).count();
    let mut end = range.end + blanks(range.end);
    if bytes.get(end) == Some(&b';') {
        end += 1 + blanks(end + 1);
    } else {
        end = range.end;
    }
    let before = bytes.get(..range.start).unwrap_or_default();
    let indent = before.iter().rev().take_while(|byte| blank(byte)).count();
    let first = matches!(before.get(..range.start - indent).unwrap_or_default().last(), None | Some(b'\n'));
    let rest = end + blanks(end);
    let line_end = match bytes.get(rest..).unwrap_or_default() {
        [b'\r', b'\n', ..] => Some(rest + 2),
        [b'\n', ..] => Some(rest + 1),
        _ => None,
    };
    match line_end {
        Some(line_end) if first => Edit::delete(Span::new(file, range.start - indent..line_end)),
        _ => Edit::delete(Span::new(file, range.start..end)),
    }
}

#[cfg(test)]
mod tests {
    use super::{find, taken_out};
    use crate::finding::applied;
    use crate::syntax::{Node, parse};
    use crate::text::FileId;

    fn without(text: &str, wanted: &str) -> String {
        fn named<'n>(nodes: &'n [Node], text: &str, wanted: &str) -> Option<&'n Node> {
            nodes.iter().find_map(|node| match text.get(node.head.range()) {
                Some(head) if head == wanted => Some(node),
                _ => named(node.children.as_deref()?, text, wanted),
            })
        }
        let nodes = parse(FileId(0), text).document.expect("KDL").nodes;
        let node = named(&nodes, text, wanted).expect("a node");
        assert!(find(&nodes, node.head).is_some());
        applied(text, &[taken_out(text, node)]).expect("applied")
    }

    #[test]
    fn a_node_goes_with_its_line_or_its_semicolon() {
        assert_eq!(without("a {\n  b 1\n  c\n}\n", "b 1"), "a {\n  c\n}\n");
        assert_eq!(without("a {\r\n  b 1 \r\n}", "b 1"), "a {\r\n}");
        assert_eq!(without("a { b 1; }\n", "b 1"), "a { }\n");
        assert_eq!(without("a { b 1; c; }\n", "b 1"), "a { c; }\n");
        assert_eq!(without("a {\n  b 1 // why\n}\n", "b 1"), "a {\n   // why\n}\n");
    }
}
