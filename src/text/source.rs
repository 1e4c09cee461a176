//! A file's text with an index of its lines.

use std::sync::Arc;

use super::{FileId, Span};

/// A file as it was read: its name as shown to the user and its text.
#[derive(Clone, Debug)]
pub struct Source {
    /// The file's path as output shows it, with `/` between folders.
    pub name: Arc<str>,
    /// The text, byte for byte as on disk (a byte-order mark included).
    pub text: Arc<str>,
    /// The byte at which each line starts; the first is 0.
    starts: Vec<u32>,
}

/// A place as a person counts it, from 1; columns in characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
}

impl Source {
    /// Takes a text and indexes its lines. A line ends with LF, CRLF or a lone CR, as in KDL 2.
    #[must_use]
    pub fn new(name: impl Into<Arc<str>>, text: impl Into<Arc<str>>) -> Self {
        let text = text.into();
        let mut starts = vec![0];
        let bytes = text.as_bytes();
        for (at, byte) in bytes.iter().enumerate() {
            let ends = *byte == b'\n' || (*byte == b'\r' && bytes.get(at + 1) != Some(&b'\n'));
            if ends {
                starts.push(u32::try_from(at + 1).unwrap_or(u32::MAX));
            }
        }
        Self { name: name.into(), text, starts }
    }

    /// How many lines there are; a text that ends with a line break has an empty one after it.
    #[must_use]
    pub fn lines(&self) -> usize {
        self.starts.len()
    }

    /// The byte range of a line, counted from 0, without its line break. Empty past the end.
    #[must_use]
    pub fn line(&self, index: usize) -> std::ops::Range<usize> {
        let Some(start) = self.starts.get(index).map(|start| *start as usize) else {
            return self.text.len()..self.text.len();
        };
        let end = self.starts.get(index + 1).map_or(self.text.len(), |next| *next as usize);
        let end = start + self.text.get(start..end).map_or(0, |line| line.trim_end_matches(['\n', '\r']).len());
        start..end
    }

    /// The index, from 0, of the line that holds this byte.
    #[must_use]
    pub fn line_of(&self, offset: usize) -> usize {
        self.starts.partition_point(|start| *start as usize <= offset).saturating_sub(1)
    }

    /// Where a byte stands, in lines and characters. An offset past the end or inside a character is moved back.
    #[must_use]
    pub fn place(&self, offset: usize) -> Place {
        let mut offset = offset.min(self.text.len());
        while !self.text.is_char_boundary(offset) {
            offset -= 1;
        }
        let line = self.line_of(offset);
        let start = self.starts.get(line).map_or(0, |start| *start as usize);
        let column = self.text.get(start..offset).map_or(0, |before| before.chars().count());
        Place { line: line + 1, column: column + 1 }
    }

    /// The text of a span, empty when it does not lie in this text.
    #[must_use]
    pub fn slice(&self, span: Span) -> &str {
        self.text.get(span.range()).unwrap_or("")
    }
}

/// The files of one run, by [`FileId`].
#[derive(Clone, Debug, Default)]
pub struct Sources(Vec<Source>);

impl Sources {
    /// Adds a file.
    pub fn add(&mut self, source: Source) -> FileId {
        let id = FileId(u32::try_from(self.0.len()).unwrap_or(u32::MAX));
        self.0.push(source);
        id
    }

    /// Adds all files of another run, numbered after these.
    pub fn append(&mut self, mut other: Self) {
        self.0.append(&mut other.0);
    }

    /// The file with this id.
    #[must_use]
    pub fn get(&self, id: FileId) -> Option<&Source> {
        self.0.get(id.0 as usize)
    }

    /// The text of a span.
    #[must_use]
    pub fn slice(&self, span: Span) -> &str {
        self.get(span.file).map_or("", |source| source.slice(span))
    }

    /// All files with their ids, in the order in which they were added.
    pub fn iter(&self) -> impl Iterator<Item = (FileId, &Source)> {
        self.0.iter().enumerate().map(|(at, source)| (FileId(u32::try_from(at).unwrap_or(u32::MAX)), source))
    }

    /// How many files there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// Whether there is none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

#[cfg(test)]
mod tests {
    use super::{Place, Source};

    #[test]
    fn places_count_characters_and_know_every_line_break() {
        let source = Source::new("a", "ab\r\nçd\re\n");
        assert_eq!(source.lines(), 4);
        assert_eq!(source.place(0), Place { line: 1, column: 1 });
        assert_eq!(source.place(6), Place { line: 2, column: 2 });
        assert_eq!(source.place(5), Place { line: 2, column: 1 });
        assert_eq!(source.place(8), Place { line: 3, column: 1 });
        assert_eq!(source.place(99), Place { line: 4, column: 1 });
        assert_eq!(source.line(1), 4..7);
        assert_eq!(source.line(9), source.text.len()..source.text.len());
    }
}
