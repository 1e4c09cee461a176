//! The built-in rule files, embedded from the rules folder.

/// Path and text of every file of the rules folder.
static FILES: &[(&str, &str)] = include!(concat!(env!("OUT_DIR"), "/rule_files.rs"));

/// The definitions on which the examples in rule files rest.
pub const EXAMPLE_YARD: &str = "rules/example-yard.kdl";

/// The built-in rule files, in order of path. What stands beside the packs (the example yard, the materials) is none.
pub fn builtin_sources() -> impl Iterator<Item = (&'static str, &'static str)> {
    FILES.iter().copied().filter(|(path, _)| path.split('/').count() == 3)
}

/// The text of a file of the rules folder.
pub(super) fn text(path: &str) -> Option<&'static str> {
    FILES.iter().find(|(name, _)| *name == path).map(|(_, text)| *text)
}
