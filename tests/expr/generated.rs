//! Conditions and values made from a sequence of choices, so that proptest can shrink them.
//!
//! The text is written level by level along the grammar and without needless parentheses, so that precedence is tested
//! too. Numbers are eighths, so that sums of them are exact and ties are true ties.

use draylint::expr::{Names, Type, Value};
use draylint::units::Dim;
use proptest::prelude::*;

/// The names that generated conditions use: numbers, texts, flags.
pub(crate) const NAMES: [(&str, Type); 10] = [
    ("a.x", Type::Number(Dim::NONE)),
    ("a.y", Type::Number(Dim::NONE)),
    ("b.deep.z", Type::Number(Dim::NONE)),
    ("low", Type::Number(Dim::NONE)),
    ("a.kind", Type::Text),
    ("word", Type::Text),
    ("a.note", Type::Text),
    ("a.on", Type::Flag),
    ("ready", Type::Flag),
    ("b.deep.shut", Type::Flag),
];

const WORDS: [&str; 4] = ["ball", "pintle", "it's \"so\"", "größer"];
/// The same words as literals.
const LITERALS: [&str; 4] = ["'ball'", "\"pintle\"", r#"'it\'s "so"'"#, "'größer'"];

/// The names above.
pub(crate) struct Plain;

impl Names for Plain {
    fn resolve(&self, name: &str) -> Option<(usize, Type)> {
        let slot = NAMES.iter().position(|(known, _)| *known == name)?;
        Some((slot, NAMES[slot].1))
    }

    fn known(&self) -> Vec<String> {
        NAMES.iter().map(|(name, _)| (*name).to_owned()).collect()
    }
}

/// A condition's text.
pub(crate) fn condition() -> impl Strategy<Value = String> {
    proptest::collection::vec(any::<u8>(), 4..160).prop_map(|choices| {
        let mut pen = Pen { choices: choices.into_iter(), out: String::new(), depth: 0 };
        pen.any();
        pen.out
    })
}

/// A value for every name.
pub(crate) fn values() -> impl Strategy<Value = Vec<Value>> {
    proptest::collection::vec(any::<u8>(), NAMES.len()).prop_map(|choices| {
        let value = |((_, kind), choice): (&(&str, Type), u8)| match kind {
            Type::Number(_) => Value::Number(eighths(choice)),
            Type::Text => Value::Text(WORDS[usize::from(choice) % WORDS.len()].into()),
            Type::Flag => Value::Flag(choice % 2 == 0),
        };
        NAMES.iter().zip(choices).map(value).collect()
    })
}

/// Eighths from -4 to 3.875, small numbers first.
fn eighths(choice: u8) -> f64 {
    let magnitude = f64::from(choice % 32) / 8.0;
    if choice >= 128 { -magnitude } else { magnitude }
}

struct Pen {
    choices: std::vec::IntoIter<u8>,
    out: String,
    depth: usize,
}

impl Pen {
    /// The next choice; when they are used up, one that varies with how far the text has come.
    fn next(&mut self) -> u8 {
        self.choices.next().unwrap_or_else(|| u8::try_from(self.out.len() * 37 % 251).unwrap_or(0))
    }

    /// One of so many.
    fn pick(&mut self, of: usize) -> usize {
        usize::from(self.next()) % of
    }

    /// One of so many forms, the last of which are nested and left out where the text is deep or long enough.
    fn form(&mut self, flat: usize, nested: usize) -> usize {
        let full = self.depth >= 6 || self.out.len() > 200 || self.choices.len() == 0;
        self.pick(if full { flat } else { flat + nested })
    }

    fn put(&mut self, text: &str) {
        self.out.push_str(text);
    }

    fn one_of(&mut self, texts: &[&str]) {
        let at = self.pick(texts.len());
        self.put(texts[at]);
    }

    /// Whether to go on: rarely so in the depth, so that texts stay short.
    fn more(&mut self) -> bool {
        self.choices.len() > 0 && self.out.len() < 240 && self.pick(2 + self.depth) == 0
    }

    fn joined(&mut self, signs: &[&str], part: fn(&mut Self)) {
        part(self);
        while self.more() {
            self.one_of(signs);
            part(self);
        }
    }

    fn any(&mut self) {
        self.joined(&[" || ", "||"], Self::all);
    }

    fn all(&mut self) {
        self.joined(&[" && ", "\n&&"], Self::relation);
    }

    fn relation(&mut self) {
        match self.pick(9) {
            0..=3 => {
                self.sum();
                self.one_of(&[" < ", "<=", " > ", " >= ", " == ", "!="]);
                self.sum();
            }
            4 => {
                self.text();
                self.one_of(&[" == ", " != "]);
                self.text();
            }
            5 => {
                self.text();
                self.put(" in [");
                self.joined(&[", "], |pen| pen.one_of(&LITERALS));
                self.put("]");
            }
            6 => {
                self.sum();
                self.put(" in [");
                self.joined(&[","], |pen| {
                    pen.one_of(&["", "-"]);
                    pen.literal();
                });
                self.put("]");
            }
            7 => {
                self.flag();
                self.one_of(&["==", " != "]);
                self.flag();
            }
            _ => self.flag(),
        }
    }

    fn flag(&mut self) {
        self.one_of(&["", "", "!", "!!"]);
        match self.form(4, 2) {
            0 => self.put("true"),
            1 => self.put("false"),
            2 | 3 => self.one_of(&["a.on", "ready", "b.deep.shut"]),
            4 => self.choice(Self::any),
            _ => self.parentheses(Self::any),
        }
    }

    fn sum(&mut self) {
        self.joined(&[" + ", " - "], Self::product);
    }

    fn product(&mut self) {
        self.joined(&[" * ", "/"], Self::number);
    }

    fn number(&mut self) {
        self.one_of(&["", "", "-"]);
        match self.form(5, 2) {
            0 | 1 => self.literal(),
            2..=4 => self.one_of(&["a.x", "a.y", "b.deep.z", "low"]),
            5 => self.choice(Self::sum),
            _ => self.parentheses(Self::sum),
        }
    }

    /// A decimal: CEL keeps integers apart.
    fn literal(&mut self) {
        let choice = self.next();
        let text = match choice % 16 {
            0 => "2e1".to_owned(),
            1 => ".5".to_owned(),
            _ => format!("{:?}", eighths(choice).abs()),
        };
        self.put(&text);
    }

    fn text(&mut self) {
        match self.form(6, 1) {
            0 | 1 => self.one_of(&LITERALS),
            6 => self.choice(Self::text),
            _ => self.one_of(&["a.kind", "word", "a.note"]),
        }
    }

    fn choice(&mut self, outcome: fn(&mut Self)) {
        self.put("(");
        self.depth += 2;
        self.any();
        self.put(" ? ");
        outcome(self);
        self.put(" : ");
        outcome(self);
        self.depth -= 2;
        self.put(")");
    }

    fn parentheses(&mut self, inner: fn(&mut Self)) {
        self.put("(");
        self.depth += 1;
        inner(self);
        self.depth -= 1;
        self.put(")");
    }
}
