//! The vocabulary of load sheets, written once: every word with what it says, the values it takes and the words that
//! stand in it. Reading, messages, completions and the book all come from here.

mod gear;
mod machine;
mod sheet;
mod takes;
mod trailer;
mod truck;
mod yard;

pub use takes::{Named, Takes};

/// Every word that stands at the top level of a file.
pub static WORDS: [&Word; 10] = [
    &yard::YARD,
    &truck::TRUCK,
    &trailer::TRAILER,
    &machine::MACHINE,
    &machine::ATTACHMENT,
    &gear::MATERIAL,
    &gear::FRICTION,
    &gear::TIEDOWN,
    &sheet::SHEET,
    &RULE,
];

/// A rule file's node: known here so that it is not taken for a slip; the rules room reads it.
static RULE: Word = Word {
    name: "rule",
    doc: "A rule of the company; stands in a folder that rules-from names, in a language of its own.",
    ..WORD
};

/// How often something stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Occurs {
    /// Once; it is missed when absent.
    Once,
    /// Once or not at all.
    Maybe,
    /// Any number of times.
    Many,
    /// At least once; it is missed when absent.
    Some,
}

impl Occurs {
    /// Whether it is missed when absent.
    #[must_use]
    pub const fn required(self) -> bool {
        matches!(self, Self::Once | Self::Some)
    }

    /// Whether it may stand more than once.
    #[must_use]
    pub const fn repeats(self) -> bool {
        matches!(self, Self::Many | Self::Some)
    }
}

/// A node of the language.
#[derive(Debug)]
pub struct Word {
    /// The node's name.
    pub name: &'static str,
    /// What it says, in one line.
    pub doc: &'static str,
    /// Its values without a key, in order; only the last may repeat.
    pub args: &'static [Value],
    /// Its values with a key.
    pub props: &'static [Value],
    /// The nodes in its braces.
    pub children: &'static [Child],
    /// Further nodes in its braces, where several words share a list.
    pub shared: &'static [Child],
    /// Its first argument tells it from its like within the same node.
    pub distinct: bool,
    /// Takes any further property: a number.
    pub open: bool,
}

/// A word that says nothing yet.
const WORD: Word =
    Word { name: "", doc: "", args: &[], props: &[], children: &[], shared: &[], distinct: false, open: false };

impl Word {
    /// Every node that may stand in its braces.
    pub fn inner(&self) -> impl Iterator<Item = &'static Child> {
        self.children.iter().chain(self.shared)
    }

    /// The node of this name in its braces.
    #[must_use]
    pub fn child(&self, name: &str) -> Option<&'static Child> {
        self.inner().find(|child| child.word.name == name)
    }

    /// The property of this name.
    #[must_use]
    pub fn prop(&self, name: &str) -> Option<&'static Value> {
        self.props.iter().find(|prop| prop.name == name)
    }

    /// Whether it holds a quantity on its own line, so that `origin=` and `plus-minus=` may stand there.
    #[must_use]
    pub fn has_quantity(&self) -> bool {
        self.args.iter().chain(self.props).any(|value| value.takes.kind().is_some())
    }

    /// Whether it is an entry of its parent written as a node: one value and nothing else.
    #[must_use]
    pub fn is_entry(&self) -> bool {
        matches!(self.args, [only] if !only.takes.names())
            && self.children.is_empty()
            && self.props.iter().all(|prop| prop.takes.names())
    }
}

/// A value of a node: an argument or a property.
#[derive(Clone, Copy, Debug)]
pub struct Value {
    /// The key of a property; what messages call an argument.
    pub name: &'static str,
    /// What it may be.
    pub takes: Takes,
    /// How often it stands.
    pub occurs: Occurs,
    /// What it says, in one line.
    pub doc: &'static str,
}

impl Value {
    /// The same, but missed when absent.
    const fn needed(self) -> Self {
        Self { occurs: Occurs::Once, ..self }
    }

    /// The same, at least once.
    const fn some(self) -> Self {
        Self { occurs: Occurs::Some, ..self }
    }
}

/// A node in the braces of another.
#[derive(Clone, Copy, Debug)]
pub struct Child {
    /// The node.
    pub word: &'static Word,
    /// How often it stands.
    pub occurs: Occurs,
}

/// A value that may be absent.
const fn value(name: &'static str, takes: Takes, doc: &'static str) -> Value {
    Value { name, takes, occurs: Occurs::Maybe, doc }
}

/// A node that is missed when absent.
const fn one(word: &'static Word) -> Child {
    Child { word, occurs: Occurs::Once }
}

/// A node that may be absent.
const fn maybe(word: &'static Word) -> Child {
    Child { word, occurs: Occurs::Maybe }
}

/// A node that stands any number of times.
const fn many(word: &'static Word) -> Child {
    Child { word, occurs: Occurs::Many }
}

/// A node that stands at least once.
const fn some(word: &'static Word) -> Child {
    Child { word, occurs: Occurs::Some }
}

/// How a number became known; on any node with quantities.
pub static ORIGIN: Value =
    value("origin", Takes::choice::<crate::model::Origin>(), "How the numbers on this line became known.");

/// The half-width of the numbers of a node, in their unit or as a share of them.
pub static PLUS_MINUS: Value =
    value("plus-minus", Takes::Spread, "How far the numbers on this line can be off, in their unit or as a share.");

/// Free text; may stand in every definition and sheet.
static DESCRIBE: Word =
    Word { name: "describe", doc: "Free text.", args: &[value("text", Takes::Text, "The text.").needed()], ..WORD };
