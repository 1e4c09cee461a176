//! Byte ranges in a file.

use std::ops::Range;

/// Which file of a run: an index into its [`Sources`](super::Sources).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct FileId(pub u32);

/// A byte range in a file. Ordered by file and then by place, which is the order of output.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Span {
    /// The file.
    pub file: FileId,
    /// First byte.
    pub start: u32,
    /// The byte after the last.
    pub end: u32,
}

impl Span {
    /// A span from a byte range. A file's size is limited far below 4 GiB, so larger offsets are cut there.
    #[must_use]
    pub fn new(file: FileId, range: Range<usize>) -> Self {
        let cut = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
        let start = cut(range.start);
        Self { file, start, end: cut(range.end).max(start) }
    }

    /// As a byte range.
    #[must_use]
    pub fn range(self) -> Range<usize> {
        self.start as usize..self.end as usize
    }

    /// How many bytes.
    #[must_use]
    pub fn len(self) -> usize {
        (self.end - self.start) as usize
    }

    /// Whether it holds no byte.
    #[must_use]
    pub fn is_empty(self) -> bool {
        self.start == self.end
    }

    /// From the start of this one to the end of the other, which must stand in the same file and not before it.
    #[must_use]
    pub fn to(self, other: Self) -> Self {
        Self { file: self.file, start: self.start, end: other.end.max(self.end) }
    }

    /// Whether the other span lies within this one.
    #[must_use]
    pub fn holds(self, other: Self) -> bool {
        self.file == other.file && self.start <= other.start && other.end <= self.end
    }
}
