//! The scan: one linear pass over the tokens that finds nodes, braces and structural faults, and stops at a limit.

use super::lex::{Kind, Lexer, Token};
use super::outline::{
    Block, Fault, Limit, MAX_COMMENT_LINES, MAX_COMMENT_NESTING, MAX_NESTING, MAX_SLASHDASH_NESTING, Outline, Piece,
    Refusal, What,
};

/// Scans a text. When its braces do not pair up, a second pass takes the indentation as a hint of which brace is
/// missing, as a reader would.
pub(super) fn scan(text: &str) -> Outline {
    let plain = Scan::run(text, false);
    if plain.unbalanced && plain.refused.is_none() {
        let hinted = Scan::run(text, true);
        if hinted.unbalanced && hinted.refused.is_none() {
            return hinted;
        }
    }
    plain
}

/// One level of nesting: the whole text, or the inside of a pair of braces.
#[expect(clippy::struct_excessive_bools, reason = "independent marks of one level, each with its own comment")]
#[derive(Debug, Default)]
struct Frame {
    /// The braces; none for the whole text.
    block: Option<usize>,
    /// The node whose braces these are.
    owner: Option<usize>,
    /// How many `/-` this stands in.
    slashdashes: usize,
    /// Where the `/-` stands that switches these braces off.
    off_from: Option<usize>,
    /// Whether nodes in here are read for their faults only.
    skip: bool,
    /// Whether nodes in here are within something switched off.
    dead: bool,
    /// Indentation of the line on which the brace opens, and of the first node inside that begins a line.
    indent: usize,
    inner_indent: Option<usize>,
    /// The node being read.
    node: Option<usize>,
    /// The node before, when none is being read.
    last: Option<usize>,
    /// Whether the node being read has had its braces.
    closed: bool,
    /// Whether what comes belongs to nothing, up to the end of the node.
    junk: bool,
    /// A `/-` whose object has not come yet.
    pending: Option<(usize, usize)>,
}

struct Scan {
    out: Outline,
    frames: Vec<Frame>,
    /// The frame on top; kept apart from the others so that there always is one.
    top: Frame,
    by_indent: bool,
    /// Indentation of this line, and whether nothing has stood on it yet.
    indent: usize,
    fresh: bool,
    /// Whether the token before is a word or a text.
    after_word: bool,
}

impl Scan {
    fn run(text: &str, by_indent: bool) -> Outline {
        let mut scan = Self {
            out: Outline::default(),
            frames: Vec::new(),
            top: Frame::default(),
            by_indent,
            indent: 0,
            fresh: true,
            after_word: false,
        };
        let mut cut = false;
        for token in Lexer::new(text, 0..text.len()) {
            cut = matches!(
                token.kind,
                Kind::BlockComment { closed: false, .. } | Kind::Lines { closed: false, opened: true }
            );
            scan.token(token);
            if scan.out.refused.is_some() {
                return scan.out;
            }
        }
        scan.finish(text.len(), cut);
        scan.out
    }

    fn token(&mut self, token: Token) {
        match token.kind {
            Kind::Newline => {
                self.end_node();
                (self.indent, self.fresh) = (0, true);
            }
            Kind::Blank if self.fresh => self.indent = token.end - token.start,
            Kind::Blank | Kind::Continuation | Kind::LineComment => {}
            Kind::BlockComment { depth, lines, closed } => self.comment(token, depth, lines, closed),
            Kind::Semicolon => {
                self.loose_slashdash();
                // KDL 2 lets `;` end a node that is switched off; the parser does not.
                self.out.piecewise |= self.node_is_off();
                if self.top.node.is_none() {
                    self.fault(token.range(), What::LooseSemicolon);
                }
                self.end_node();
            }
            Kind::Slashdash => self.slashdash(token),
            Kind::Open => self.open(token),
            Kind::Close => self.close(token),
            _ => self.piece_of_node(token),
        }
        if !matches!(token.kind, Kind::Newline | Kind::Blank) {
            self.fresh = false;
        }
        self.after_word = token.kind == Kind::Word || token.is_text();
    }

    fn fault(&mut self, at: std::ops::Range<usize>, what: What) {
        self.out.unbalanced |= matches!(what, What::OpenBrace | What::StrayBrace);
        self.out.faults.push(Fault { at, what });
    }

    fn refuse(&mut self, at: std::ops::Range<usize>, limit: Limit) {
        self.out.refused = Some(Refusal { at, limit });
    }

    fn comment(&mut self, token: Token, depth: usize, lines: usize, closed: bool) {
        let opening = token.start..(token.start + 2).min(token.end);
        if depth > MAX_COMMENT_NESTING {
            self.refuse(opening, Limit::CommentNesting);
        } else if lines > MAX_COMMENT_LINES {
            self.refuse(opening, Limit::CommentLines);
        } else if !closed {
            self.fault(opening, What::OpenComment);
            self.lose(token.start, token.end);
        }
    }

    /// Marks a stretch of the node being read, or of the node around, as unreadable.
    fn lose(&mut self, start: usize, end: usize) {
        if let Some(piece) = self.top.node.or(self.top.owner).and_then(|at| self.out.pieces.get_mut(at)) {
            piece.lost.push(start..end);
        }
    }

    fn current(&mut self) -> Option<&mut Piece> {
        self.out.pieces.get_mut(self.top.node?)
    }

    fn node_is_off(&self) -> bool {
        self.top.node.and_then(|at| self.out.pieces.get(at)).is_some_and(|piece| piece.off)
    }

    fn end_node(&mut self) {
        // After `/-` line breaks may come before what it switches off (KDL 2, section 3.3).
        if self.top.pending.is_none() {
            self.top.last = self.top.node.take().or(self.top.last);
            (self.top.closed, self.top.junk) = (false, false);
        }
    }

    fn loose_slashdash(&mut self) {
        if let Some((start, end)) = self.top.pending.take() {
            self.fault(start..end, What::LooseSlashdash);
            self.mark_bad();
        }
    }

    fn mark_bad(&mut self) {
        if let Some(piece) = self.current() {
            piece.bad = true;
        }
    }

    fn slashdash(&mut self, token: Token) {
        if self.after_word {
            self.fault(token.range(), What::GluedSlashdash);
            self.mark_bad();
        }
        if let Some((start, _)) = self.top.pending {
            self.fault(start..token.end, What::DoubleSlashdash);
            self.mark_bad();
        }
        if self.top.slashdashes + usize::from(self.node_is_off()) + 1 > MAX_SLASHDASH_NESTING {
            return self.refuse(token.range(), Limit::Slashdash);
        }
        self.top.pending = Some((token.start, token.end));
    }

    /// A token that is part of a node's header.
    fn piece_of_node(&mut self, token: Token) {
        let pending = self.top.pending.take().is_some();
        if self.top.node.is_none() {
            self.begin(token, pending);
        } else if self.top.closed || self.top.junk || self.current().is_some_and(|piece| !piece.masks.is_empty()) {
            // Nothing but further braces may follow braces, even when they are switched off (KDL 2, section 3.3).
            self.junk(token);
        } else if let Some(piece) = self.current() {
            (piece.head_end, piece.end) = (token.end, token.end);
        }
        let opening = |length: usize| token.start..(token.start + length).min(token.end);
        let fault = match token.kind {
            Kind::Quoted { closed: false } | Kind::Raw { closed: false } => (opening(1), What::OpenText),
            Kind::Lines { opened: false, .. } => (opening(3), What::LinesOnOneLine),
            Kind::Lines { closed: false, .. } => (opening(3), What::OpenLines),
            _ => return,
        };
        self.fault(fault.0, fault.1);
        self.mark_bad();
    }

    fn begin(&mut self, token: Token, off: bool) {
        if self.fresh {
            self.close_by_indent(token.start, |frame, indent| {
                frame.inner_indent.is_some_and(|inner| inner > frame.indent) && indent <= frame.indent
            });
            self.top.inner_indent.get_or_insert(self.indent);
        }
        self.top.node = Some(self.out.pieces.len());
        (self.top.closed, self.top.junk) = (false, false);
        self.out.pieces.push(Piece {
            start: token.start,
            head_end: token.end,
            end: token.end,
            indent: self.fresh.then_some(self.indent),
            parent: self.top.owner,
            block: None,
            off,
            skip: self.top.skip,
            bad: false,
            masks: Vec::new(),
            lost: Vec::new(),
        });
    }

    fn junk(&mut self, token: Token) {
        if self.top.junk {
            if let Some(last) = self.current().and_then(|piece| piece.lost.last_mut()) {
                last.end = token.end;
            }
            return;
        }
        self.top.junk = true;
        self.fault(token.range(), What::AfterBlock);
        self.lose(token.start, token.end);
    }

    fn open(&mut self, token: Token) {
        if self.frames.len() >= MAX_NESTING {
            return self.refuse(token.range(), Limit::Nesting);
        }
        let off_from = self.top.pending.take().map(|(start, _)| start);
        let pending = off_from.is_some();
        if self.top.node.is_none() {
            self.fault(token.range(), What::NoNode);
            // The braces are taken for those of the node before, which is what the writer will have meant.
            let free = |at: &usize| self.out.pieces.get(*at).is_some_and(|piece| piece.block.is_none());
            self.top.node = self.top.last.filter(free);
            self.top.junk = self.top.node.is_none();
        } else if self.top.closed && !pending {
            self.junk(token);
        }
        let off = self.node_is_off();
        let detached = pending || self.top.junk;
        let block = self.out.blocks.len();
        let dead = self.top.dead || off || detached;
        self.out.blocks.push(Block { open: token.start, close: None, dead });
        let owner = self.top.node;
        if !detached && let Some(piece) = self.current() {
            piece.block = Some(block);
        }
        let inner = Frame {
            block: Some(block),
            owner,
            slashdashes: self.top.slashdashes + usize::from(off) + usize::from(pending),
            off_from,
            skip: self.top.skip || detached,
            dead,
            indent: self.indent,
            ..Frame::default()
        };
        self.frames.push(std::mem::replace(&mut self.top, inner));
    }

    fn close(&mut self, token: Token) {
        self.loose_slashdash();
        if self.fresh {
            self.close_by_indent(token.start, |frame, indent| frame.indent > indent);
            if self.by_indent
                && self.top.block.is_some()
                && self.top.indent < self.indent
                && self.top.inner_indent.is_some()
            {
                return self.fault(token.range(), What::StrayBrace);
            }
        }
        let Some(outer) = self.frames.pop() else {
            return self.stray(token);
        };
        let inner = std::mem::replace(&mut self.top, outer);
        let block = inner.block.and_then(|at| self.out.blocks.get_mut(at).map(|block| (at, block)));
        let Some((at, block)) = block else { return };
        block.close = Some(token.start);
        let (closed, junk) = (self.top.closed, self.top.junk);
        let Some(piece) = self.current() else { return };
        piece.end = token.end;
        if piece.block == Some(at) {
            self.top.closed = true;
        } else if junk {
            if let Some(last) = piece.lost.last_mut() {
                last.end = token.end;
            }
        } else if !closed {
            // Braces that are switched off are part of the header.
            piece.head_end = token.end;
            piece.masks.extend(inner.off_from.map(|start| start..token.end));
        }
    }

    /// A `}` too many. When it stands where a node would end whose `{` is missing or that another `}` ended too early,
    /// the lines indented in between are taken for that node's children.
    fn stray(&mut self, token: Token) {
        self.fault(token.range(), What::StrayBrace);
        self.end_node();
        if !self.by_indent || !self.fresh {
            return;
        }
        let indent = self.indent;
        let siblings = |piece: &Piece| piece.parent.is_none() && !piece.skip && piece.indent.is_some();
        let owner = self.out.pieces.iter().rposition(|piece| siblings(piece) && piece.indent <= Some(indent));
        let Some(owner) = owner else { return };
        let mut moved = false;
        for piece in self.out.pieces.iter_mut().skip(owner + 1).filter(|piece| siblings(piece)) {
            piece.parent = Some(owner);
            moved = true;
        }
        if let Some(piece) = self.out.pieces.get_mut(owner).filter(|_| moved) {
            piece.end = token.end;
            piece.lost.push(token.range());
        }
    }

    /// Closes the braces that the indentation of this line says should have been closed before it.
    fn close_by_indent(&mut self, at: usize, ends: impl Fn(&Frame, usize) -> bool) {
        while self.by_indent && self.top.block.is_some() && ends(&self.top, self.indent) {
            self.give_up_block(at, true);
        }
    }

    /// Leaves braces that are not closed.
    fn give_up_block(&mut self, at: usize, report: bool) {
        let Some(outer) = self.frames.pop() else { return };
        let inner = std::mem::replace(&mut self.top, outer);
        if let Some(open) = inner.block.and_then(|block| self.out.blocks.get(block)).map(|block| block.open) {
            if report {
                self.fault(open..open + 1, What::OpenBrace);
            }
            if let Some(piece) = self.current() {
                piece.end = piece.end.max(at);
                piece.lost.push(open..open + 1);
            }
        }
        self.end_node();
    }

    /// At the end: what is still open is not closed, unless a text or comment that is not closed swallowed the rest.
    fn finish(&mut self, end: usize, cut: bool) {
        self.loose_slashdash();
        while self.top.block.is_some() {
            self.loose_slashdash();
            self.give_up_block(end, !cut);
        }
        self.out.faults.sort_by_key(|fault| fault.at.start);
    }
}
