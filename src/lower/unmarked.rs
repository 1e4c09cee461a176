//! Working load limits of tie-downs that bear no marking.

use std::sync::LazyLock;

use super::file::lower_file;
use crate::model::{TieKind, Tiedown};
use crate::syntax::{parse, with_stack};
use crate::text::FileId;
use crate::units::{Length, Mass};

/// The table as text, in the language of the sheets.
pub const UNMARKED_TIES: &str = include_str!("../../rules/unmarked-ties.kdl");

static ALL: LazyLock<Vec<Tiedown>> = LazyLock::new(|| {
    with_stack(|| {
        let doc = parse(FileId(u32::MAX), UNMARKED_TIES).document;
        doc.map(|doc| lower_file(&doc, false).tiedowns).unwrap_or_default()
    })
});

/// How far a size may be off and still be that of a row, in m: a fiftieth of a millimetre, less than two straps differ in thickness.
const SAME_SIZE: f64 = 2e-5;

/// The grade of a chain that bears none (49 CFR 393.108(d), seen).
const UNKNOWN_CHAIN: &str = "30";
/// The fiber of a rope that bears none (49 CFR 393.108(c), seen).
const UNKNOWN_FIBER: &str = "polypropylene";

/// All rows.
#[must_use]
pub fn unmarked_tiedowns() -> &'static [Tiedown] {
    &ALL
}

/// The working load limit that 393.108 gives a tie-down without a marking; none where it has no row for it: a row is never
/// made up between two others.
#[must_use]
pub fn unmarked_wll(tie: &Tiedown) -> Option<Mass> {
    let kind = tie.kind.value()?;
    let grade = tie.grade.value();
    let grade = match kind {
        TieKind::Chain => Some(chain_grade(grade.as_deref().unwrap_or(UNKNOWN_CHAIN))),
        TieKind::FiberRope => Some(grade.as_deref().unwrap_or(UNKNOWN_FIBER).to_owned()),
        TieKind::Webbing | TieKind::WireRope | TieKind::SteelStrapping => None,
    };
    let row = |same_system: bool| {
        ALL.iter().find(|row| is_row(row, tie, kind, grade.as_deref(), same_system)).and_then(|row| row.wll.value())
    };
    // A size that is a row's to the hair is that row's, in whatever unit it is written.
    row(true).or_else(|| row(false))
}

fn is_row(row: &Tiedown, tie: &Tiedown, kind: TieKind, grade: Option<&str>, same_system: bool) -> bool {
    let sized = |of: fn(&Tiedown) -> &crate::model::Slot<Length>| match (of(row).entry(), of(tie).entry()) {
        (None, _) => true,
        (Some(row), Some(own)) => {
            // Feet and inches in words have no unit of their own.
            let us = |unit: Option<&crate::units::Unit>| unit.is_none_or(|unit| unit.us);
            (!same_system || us(row.unit) == us(own.unit)) && (row.value.si() - own.value.si()).abs() <= SAME_SIZE
        }
        (Some(_), None) => false,
    };
    row.kind.value() == Some(kind)
        && grade.is_none_or(|grade| row.grade.value().as_deref() == Some(grade))
        && sized(|one| &one.size)
        && sized(|one| &one.width)
}

/// The grade that a chain's mark stands for: 7, 70 and 700 mark the same.
fn chain_grade(mark: &str) -> String {
    let digits: String = mark.chars().filter(char::is_ascii_digit).collect();
    match digits.as_str() {
        "3" | "30" | "300" => "30".to_owned(),
        "4" | "43" | "430" => "43".to_owned(),
        "7" | "70" | "700" => "70".to_owned(),
        "8" | "80" | "800" => "80".to_owned(),
        "10" | "100" | "1000" => "100".to_owned(),
        _ => mark.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::{ALL, unmarked_wll};
    use crate::lower::lower_file;
    use crate::syntax::parse;
    use crate::text::FileId;

    fn wll(tie: &str) -> Option<f64> {
        let doc = parse(FileId(0), &format!("tiedown \"t\" {tie}")).document.unwrap();
        let ties = lower_file(&doc, false).tiedowns;
        unmarked_wll(&ties[0]).map(crate::units::Mass::si)
    }

    fn pounds(value: f64) -> f64 {
        value * 0.453_592_37
    }

    #[test]
    fn every_row_finds_itself() {
        assert_eq!(ALL.len(), 158);
        for row in ALL.iter() {
            assert_eq!(unmarked_wll(row), row.wll.value(), "{}", row.id.value);
        }
    }

    #[test]
    fn rows_are_found_by_mark_size_and_unit_and_never_made_up() {
        assert_eq!(wll("kind=\"chain\" grade=\"70\" size=(in)0.375"), Some(pounds(6600.0)));
        assert_eq!(wll("kind=\"chain\" grade=\"700\" size=(in)0.375"), Some(pounds(6600.0)));
        assert_eq!(wll("kind=\"chain\" size=(in)0.375"), Some(pounds(2650.0)), "393.108(d): grade 30");
        assert_eq!(wll("kind=\"chain\" grade=\"70\" size=(mm)10"), Some(2990.0));
        assert_eq!(wll("kind=\"webbing\" width=(in)2"), Some(pounds(2000.0)));
        assert_eq!(wll("kind=\"webbing\" width=(in)1"), None, "no row for 1 in");
        assert_eq!(wll("kind=\"chain\" grade=\"80\" size=(in)0.4375"), None, "no row for grade 80 at 7/16 in");
        assert_eq!(wll("kind=\"webbing\" width=(mm)60"), None);
        assert_eq!(wll("kind=\"webbing\" width=(mm)100"), Some(1810.0), "by its own row");
        assert_eq!(wll("kind=\"webbing\" width=(mm)101.6"), Some(pounds(4000.0)), "which is 4 in to the hair");
        assert_eq!(wll("kind=\"fiber-rope\" size=(in)0.5"), Some(pounds(625.0)), "393.108(c): polypropylene");
        assert_eq!(wll("kind=\"wire-rope\" size=(in)0.5"), Some(pounds(5300.0)));
    }
}
