//! The same entries laid out in many ways: tabs, long lines broken, comments wherever they can stand, entries in any order.

use crate::choices::Choices;

/// A text that grows node by node.
#[derive(Debug)]
pub(crate) struct Layout {
    pub(crate) text: String,
    newline: &'static str,
    indent: &'static str,
    odd: bool,
    depth: usize,
}

impl Layout {
    pub(crate) fn new(choices: &mut Choices<'_>) -> Self {
        let newline = *choices.one_of(&["\n", "\r\n"]);
        let indent = *choices.one_of(&["    ", "\t", " ", ""]);
        let mark = if choices.once_in(6) { "\u{feff}" } else { "" };
        Self { text: mark.to_owned(), newline, indent, odd: choices.below(2) == 1, depth: 0 }
    }

    /// What stands between two entries.
    fn gap(&self, choices: &mut Choices<'_>) -> String {
        if !self.odd {
            return " ".to_owned();
        }
        let newline = self.newline;
        let gaps =
            [" ", "  ", "\t", " /* as measured, 12 in */ ", " \\\n", " /- \"front-gap=(in)7\" ", " /* façade · 重 */ "];
        choices.one_of(&gaps).replace('\n', newline)
    }

    fn start(&mut self, choices: &mut Choices<'_>) {
        if self.odd && choices.once_in(5) {
            let said = *choices.one_of(&[
                "// cargo \"x\" front-gap=(in)9",
                "/* sheet \"none\" { */",
                "",
                "/- cargo \"left at home\"",
            ]);
            self.text.push_str(said);
            self.text.push_str(self.newline);
        }
        self.text.push_str(&self.indent.repeat(self.depth));
    }

    fn entries(&mut self, choices: &mut Choices<'_>, head: &str, mut entries: Vec<String>) {
        self.text.push_str(head);
        while !entries.is_empty() {
            let at = if self.odd { choices.below(u32::try_from(entries.len()).unwrap()) as usize } else { 0 };
            let gap = self.gap(choices);
            self.text.push_str(&gap);
            self.text.push_str(&entries.remove(at));
        }
    }

    /// A node without braces.
    pub(crate) fn node(&mut self, choices: &mut Choices<'_>, head: &str, entries: Vec<String>) {
        self.start(choices);
        self.entries(choices, head, entries);
        if self.odd {
            let end = *choices.one_of(&["", ";", " // heavy end first", " /* x */"]);
            self.text.push_str(end);
        }
        self.text.push_str(self.newline);
    }

    pub(crate) fn open(&mut self, choices: &mut Choices<'_>, head: &str, entries: Vec<String>) {
        self.start(choices);
        self.entries(choices, head, entries);
        self.text.push_str(" {");
        self.text.push_str(self.newline);
        self.depth += 1;
    }

    pub(crate) fn close(&mut self) {
        self.depth -= 1;
        self.text.push_str(&self.indent.repeat(self.depth));
        self.text.push('}');
        self.text.push_str(self.newline);
    }

    /// A line as it is.
    pub(crate) fn line(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push_str(self.newline);
    }

    /// Several lines as they are, but for their ends.
    pub(crate) fn lines(&mut self, lines: &str) {
        lines.lines().for_each(|line| self.line(line));
    }
}
