//! A file's path as a URI reference (RFC 3986): relative to the folder in which the program ran, as its name is.

use std::fmt::Write as _;

/// Everything but letters, digits, `-._~` and the slashes between folders is written as percent and two digits
/// (sections 2.1 and 2.3), so that no colon is taken for a scheme's. A path from the root gets the scheme `file`.
pub(super) fn uri(path: &str) -> String {
    let mut out = String::with_capacity(path.len() + 8);
    if path.starts_with('/') {
        out.push_str("file://");
    }
    for byte in path.bytes() {
        if byte.is_ascii_alphanumeric() || b"-._~/".contains(&byte) {
            out.push(char::from(byte));
        } else {
            // Writing to a String cannot fail.
            let _ = write!(out, "%{byte:02X}");
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::uri;

    #[test]
    fn what_is_not_plain_is_percent_encoded() {
        assert_eq!(uri("sheets/trencher-move.kdl"), "sheets/trencher-move.kdl");
        assert_eq!(uri("a b/c:d?#[é%41].kdl"), "a%20b/c%3Ad%3F%23%5B%C3%A9%2541%5D.kdl");
        assert_eq!(uri("\u{202e}\u{1b}\""), "%E2%80%AE%1B%22");
        assert_eq!(uri("/yard/a.kdl"), "file:///yard/a.kdl");
        assert_eq!(uri(""), "");
    }
}
