//! From text to tree and findings.

use kdl::{KdlDocument, KdlError};

use super::lex::{Kind, Lexer};
use super::outline::{MAX_SLASHDASHES, Outline};
use super::read::Reader;
use super::tree::{Document, Lost};
use super::{explain, hidden, recover, scan, stack};
use crate::finding::{Finding, Level};
use crate::text::{FileId, Span};

/// The largest text that is read, in bytes. The largest sheets are a tenth of that; up to here every hostile text that
/// was tried is refused or read within seconds on a debug build.
pub const MAX_BYTES: usize = 64 * 1024;
/// How many findings a text can have; what lies beyond is counted.
pub const MAX_FINDINGS: usize = 50;

/// What became of a text.
#[derive(Clone, Debug, PartialEq)]
pub struct Parsed {
    /// All nodes that could be read. `None` when the text exceeds a limit, and then there is a finding that says so.
    pub document: Option<Document>,
    /// What is wrong with it, in the order of the text.
    pub findings: Vec<Finding>,
}

/// Reads a text. Total: never panics, never hangs, whatever the text and whatever the thread. On a thread that is not
/// from [`pool`](super::pool) or [`with_stack`](super::with_stack) it starts one for the purpose.
#[must_use]
pub fn parse(file: FileId, text: &str) -> Parsed {
    if text.len() > MAX_BYTES {
        return Parsed { document: None, findings: vec![explain::too_large(file, text)] };
    }
    stack::with_stack(|| {
        if stack::suffices() {
            return parse_here(file, text);
        }
        let message = "the system gives no thread to read this file on";
        let finding = Finding::new("not-kdl", Level::Error, Span::new(file, 0..0), message);
        Parsed { document: None, findings: vec![finding.help("free some memory and run it again")] }
    })
}

fn parse_here(file: FileId, text: &str) -> Parsed {
    let mut findings = hidden::find(file, text);
    let outline = scan::scan(text);
    if let Some(refusal) = &outline.refused {
        findings.push(explain::refusal(file, refusal));
        return Parsed { document: None, findings: settled(findings) };
    }
    let at_once = outline.faults.is_empty() && !outline.piecewise && text.matches("/-").nth(MAX_SLASHDASHES).is_none();
    let parsed = at_once.then(|| KdlDocument::parse(text));
    let document = match parsed {
        Some(Ok(document)) => {
            let mut reader = Reader { file, text, outline: &outline, findings: Vec::new() };
            let (nodes, lost) = reader.nodes(&document, 0);
            drop(document);
            findings.append(&mut reader.findings);
            let lost = lost.into_iter().map(|span| self::lost(text, span)).collect();
            Some(Document { nodes, lost, span: Span::new(file, 0..text.len()) })
        }
        Some(Err(error)) => by_header(file, text, &outline, Some(&error), &mut findings),
        None => by_header(file, text, &outline, None, &mut findings),
    };
    Parsed { document, findings: settled(findings) }
}

/// A text that is not KDL as a whole, or that the parser is not given as a whole.
fn by_header(
    file: FileId,
    text: &str,
    outline: &Outline,
    error: Option<&KdlError>,
    findings: &mut Vec<Finding>,
) -> Option<Document> {
    // Explaining a fault may look through all nodes, so only those that can be shown are.
    let shown = outline.faults.iter().take(MAX_FINDINGS + 1);
    findings.extend(shown.map(|fault| explain::fault(file, text, outline, fault)));
    let recovered = recover::recover(file, text, outline, findings);
    if let Some(error) = error.filter(|_| !recovered.broken) {
        // Every header reads by itself and yet the whole does not: then none of them can be trusted.
        findings.push(explain::parser(file, text, 0..text.len(), error));
        return None;
    }
    let lost = recovered.lost.into_iter().map(|span| self::lost(text, span)).collect();
    Some(Document { nodes: recovered.nodes, lost, span: Span::new(file, 0..text.len()) })
}

/// What can be told of a top-level node that could not be read.
fn lost(text: &str, span: Span) -> Lost {
    let mut name = None;
    let mut id = None;
    let mut annotation = false;
    for token in Lexer::new(text, span.range()) {
        let word = text.get(token.range()).unwrap_or("").trim_matches(['#', '"', ' ', '\n', '\r']);
        match token.kind {
            Kind::ParenOpen => annotation = true,
            Kind::ParenClose => annotation = false,
            Kind::Newline | Kind::Open => break,
            _ if annotation => {}
            Kind::Word if name.is_none() => name = Some(word.into()),
            _ if token.is_text() && name.is_none() => name = Some(word.into()),
            _ if token.is_text() => {
                id = Some(word.into());
                break;
            }
            _ => {}
        }
    }
    Lost { span, name, id }
}

/// In the order of the text, one for each place and rule, and not without end.
fn settled(mut findings: Vec<Finding>) -> Vec<Finding> {
    findings.sort_by_key(|finding| finding.primary.span);
    findings.dedup_by(|later, earlier| {
        later.rule == earlier.rule && later.primary.span.start == earlier.primary.span.start
    });
    let more = findings.len().saturating_sub(MAX_FINDINGS);
    findings.truncate(MAX_FINDINGS);
    let faults = if more == 1 { "fault is" } else { "faults are" };
    if more > 0
        && let Some(last) = findings.last_mut()
    {
        last.message = format!("{}; at least {more} further {faults} in this file not listed", last.message);
    }
    findings
}
