//! What the scan finds before the parser sees the text: where nodes and braces stand, and what is structurally wrong.

use std::ops::Range;

/// How deep braces may nest. Real sheets nest four deep; the parser recurses once per level.
pub const MAX_NESTING: usize = 64;
/// How deep `/-` may nest, counted in every way: an entry, a block or a node that is switched off, inside another that
/// is. The parser's time doubles and more with each level.
pub const MAX_SLASHDASH_NESTING: usize = 4;
/// How many `/-` the parser is given at once, texts and comments included, because in a broken text it may take those
/// for real. A text with more is read node by node, and one node's own line may hold so many.
pub const MAX_SLASHDASHES: usize = 4;
/// How deep `/* … */` may nest.
pub const MAX_COMMENT_NESTING: usize = 16;
/// How many line breaks one `/* … */` may hold: the parser recurses once per line.
pub const MAX_COMMENT_LINES: usize = 500;

/// A text's nodes and braces.
#[derive(Debug, Default)]
pub(super) struct Outline {
    /// Every node, at any depth, in the order in which they begin.
    pub(super) pieces: Vec<Piece>,
    /// Every pair of braces, in the order in which they open.
    pub(super) blocks: Vec<Block>,
    /// What is structurally wrong.
    pub(super) faults: Vec<Fault>,
    /// A limit that the text exceeds; the scan ended there.
    pub(super) refused: Option<Refusal>,
    /// Whether it holds a form that is KDL and that the parser does not take as a whole.
    pub(super) piecewise: bool,
    /// Whether braces do not pair up.
    pub(super) unbalanced: bool,
}

/// A node as the scan sees it.
#[derive(Debug)]
pub(super) struct Piece {
    /// First byte: its name or the annotation before that.
    pub(super) start: usize,
    /// End of what stands before its braces, blocks that are switched off included.
    pub(super) head_end: usize,
    /// End of the whole.
    pub(super) end: usize,
    /// Its indentation in bytes, when it begins a line.
    pub(super) indent: Option<usize>,
    /// The node around it.
    pub(super) parent: Option<usize>,
    /// Its braces.
    pub(super) block: Option<usize>,
    /// Whether `/-` switches this node off. One within a node that is switched off is not marked again.
    pub(super) off: bool,
    /// Whether it stands in braces that are switched off or belong to nothing: read for its faults only.
    pub(super) skip: bool,
    /// Whether a fault lies in its header.
    pub(super) bad: bool,
    /// Blocks of its header that are switched off, with their `/-`; their nodes are read by themselves.
    pub(super) masks: Vec<Range<usize>>,
    /// Stretches that belong to it and cannot be read.
    pub(super) lost: Vec<Range<usize>>,
}

/// A pair of braces.
#[derive(Debug)]
pub(super) struct Block {
    /// Where `{` stands.
    pub(super) open: usize,
    /// Where `}` stands.
    pub(super) close: Option<usize>,
    /// Whether it is not a child block of a live node: switched off itself or within something that is.
    pub(super) dead: bool,
}

/// A structural fault.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Fault {
    pub(super) at: Range<usize>,
    pub(super) what: What,
}

/// What a structural fault is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum What {
    /// A text whose closing quote is missing on its line.
    OpenText,
    /// A `"""` text that is not closed.
    OpenLines,
    /// A `"""` text whose first line does not begin on a line of its own.
    LinesOnOneLine,
    /// A `/*` that is not closed.
    OpenComment,
    /// A `{` that is not closed.
    OpenBrace,
    /// A `}` that closes nothing.
    StrayBrace,
    /// A `{` with no node on its line.
    NoNode,
    /// Something after `}` on the same line.
    AfterBlock,
    /// `/-` before another `/-`.
    DoubleSlashdash,
    /// `/-` with nothing after it.
    LooseSlashdash,
    /// `/-` without a blank before it.
    GluedSlashdash,
    /// `;` with no node before it.
    LooseSemicolon,
}

/// A limit that a text exceeds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Refusal {
    pub(super) at: Range<usize>,
    pub(super) limit: Limit,
}

/// Which limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Limit {
    Nesting,
    Slashdash,
    CommentNesting,
    CommentLines,
}

impl Outline {
    /// The braces of a live node whose header ends here.
    pub(super) fn live_block(&self, header_end: usize) -> Option<&Block> {
        let first = self.blocks.partition_point(|block| block.open < header_end);
        self.blocks.get(first..)?.iter().find(|block| !block.dead)
    }
}
