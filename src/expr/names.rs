//! What a condition may name, and the values behind the names.

use std::sync::Arc;

use crate::units::Dim;

/// What a name stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Type {
    /// A number of this dimension.
    Number(Dim),
    /// One word out of several, or any other text.
    Text,
    /// True or false.
    Flag,
}

/// A value of a figure, a parameter or a literal.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A number in SI (angles in degrees).
    Number(f64),
    /// A text.
    Text(Arc<str>),
    /// True or false.
    Flag(bool),
}

/// The names that a condition may use.
pub trait Names {
    /// The slot and the type of a name: the slot is what evaluation reads the value by.
    fn resolve(&self, name: &str) -> Option<(usize, Type)>;

    /// All names, for the help that offers the nearest one.
    fn known(&self) -> Vec<String>;
}

/// The known name that was most likely meant: one that ends with the given name (`tongue_share` for
/// `trailer.tongue_share`), or else begins with it, in whole words; or else the nearest as written.
pub(super) fn nearest(name: &str, mut known: Vec<String>) -> Option<String> {
    known.sort();
    let ends = |one: &&String| one.strip_suffix(name).is_some_and(|before| before.ends_with('.'));
    let begins = |one: &&String| one.strip_prefix(name).is_some_and(|after| after.starts_with(['.', '_']));
    if let Some(whole) = known.iter().find(ends).or_else(|| known.iter().find(begins)) {
        return Some(whole.clone());
    }
    crate::text::nearest(name, known.iter().map(String::as_str)).map(str::to_owned)
}
