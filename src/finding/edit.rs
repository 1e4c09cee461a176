//! Edits of a text by span, and where places of the old text lie in the new one.

use super::Edit;

/// The text with edits made, which must not overlap. None when they do, or do not fit the text.
#[must_use]
pub fn applied(text: &str, edits: &[Edit]) -> Option<String> {
    let mut out = String::with_capacity(text.len() + 32);
    let mut done = 0;
    for edit in sorted(edits) {
        let range = edit.span.range();
        out.push_str(text.get(done..range.start)?);
        out.push_str(&edit.text);
        // A range that ends inside a character or past the end fits nothing.
        text.get(range.clone())?;
        done = range.end;
    }
    out.push_str(text.get(done..)?);
    Some(out)
}

fn sorted(edits: &[Edit]) -> Vec<&Edit> {
    let mut sorted: Vec<&Edit> = edits.iter().collect();
    sorted.sort_by_key(|edit| edit.span);
    sorted
}

/// Where a byte of the old text lies once the edits are made; inside an edit, where that begins.
#[must_use]
pub fn shifted(at: u32, edits: &[Edit]) -> u32 {
    let mut shift = 0_i64;
    for edit in sorted(edits) {
        let grown = i64::try_from(edit.text.len()).unwrap_or(0) - i64::try_from(edit.span.len()).unwrap_or(0);
        if edit.span.end <= at && edit.span.start < at {
            shift += grown;
        } else if edit.span.start <= at {
            return u32::try_from(i64::from(edit.span.start) + shift).unwrap_or(0);
        } else {
            break;
        }
    }
    u32::try_from(i64::from(at) + shift).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::{applied, shifted};
    use crate::finding::Edit;
    use crate::text::{FileId, Span};

    fn edit(range: std::ops::Range<usize>, text: &str) -> Edit {
        Edit { span: Span::new(FileId(0), range), text: text.to_owned() }
    }

    #[test]
    fn edits_are_made_in_order_of_place_and_the_rest_stays() {
        assert_eq!(applied("abcdef", &[edit(4..5, "EE"), edit(1..2, "")]).as_deref(), Some("acdEEf"));
        assert_eq!(applied("abc", &[edit(1..1, "x")]).as_deref(), Some("axbc"));
        assert_eq!(applied("abcdef", &[edit(1..3, ""), edit(2..4, "")]), None, "overlap");
        assert_eq!(applied("aç", &[edit(2..3, "")]), None, "inside a character");
        assert_eq!(applied("a", &[edit(0..9, "")]), None, "past the end");
    }

    #[test]
    fn places_after_an_edit_shift_by_what_it_adds() {
        let edits = [edit(2..4, "xyz"), edit(6..6, "!!")];
        let places: Vec<u32> = [0, 2, 3, 4, 5, 6, 7].into_iter().map(|at| shifted(at, &edits)).collect();
        assert_eq!(places, [0, 2, 2, 5, 6, 7, 10]);
    }
}
