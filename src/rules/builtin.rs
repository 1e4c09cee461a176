//! The built-in rule files, embedded from the rules folder.

/// Path and text of every file of the rules folder.
static FILES: &[(&str, &str)] = include!(concat!(env!("OUT_DIR"), "/rule_files.rs"));

/// The definitions on which the examples in rule files rest.
pub const EXAMPLE_YARD: &str = "rules/example-yard.kdl";

/// The built-in rule files, in order of path. What stands beside the packs (the example yard, the materials) is none.
pub fn builtin_sources() -> impl Iterator<Item = (&'static str, &'static str)> {
    FILES.iter().copied().filter(|(path, _)| path.split('/').count() == 3)
}

/// A built-in rule file without what `why` tells: the explanation and the examples, which stand last in it (a test
/// holds the two readings side by side). Three quarters of the text, and no check needs it.
pub(super) fn working(text: &str) -> String {
    let kept = text.find("\n    why ").and_then(|end| text.get(..end)).unwrap_or(text);
    format!("{kept}\n}}\n")
}

/// The text of a file of the rules folder.
pub(super) fn text(path: &str) -> Option<&'static str> {
    FILES.iter().find(|(name, _)| *name == path).map(|(_, text)| *text)
}
