//! What a yard says for every load, and what a sheet and a leg say over it.

use draylint::figures::{Heap, Load};
use draylint::lower::{FileDefs, builtin_materials, link, lower_file};
use draylint::model::{LoadRef, Loading, Yard};
use draylint::syntax::{parse, with_stack};
use draylint::text::FileId;

const YARD: &str = r#"yard "heron" {
    conditions deck="wet"
    loading { chocks #true; parking-brake #true; stands "rear" rating=(lb)5000 count=2; foot-rise (in)2; slope (pct)3; }
}"#;

const SHEET: &str = r#"sheet "two trips" {
    truck "grebe"
    trailer "raft-20"
    loading { chocks #false; foot-rise (in)4; }
    leg "out" { loading { foot-rise (in)6; stands "rear" rating=(lb)900 count=1 at=(in)300; } }
    leg "back" { conditions deck="dry"; }
}"#;

/// A yard of two files, of which the first is its `yard.kdl`.
fn yard() -> Yard {
    let defs = |(at, text): (u32, &str)| -> FileDefs {
        let parsed = parse(FileId(at), text);
        assert_eq!(parsed.findings, Vec::new());
        lower_file(&parsed.document.expect("a document"), at == 0)
    };
    with_stack(|| link([(0, YARD), (1, SHEET)].map(defs).into(), builtin_materials(FileId(2)))).0
}

fn leg(yard: &Yard, leg: usize) -> Load<'_> {
    Load::of(yard, LoadRef { sheet: 0, leg: Some(leg) }, Heap::Heaviest).expect("a load")
}

fn inches(loading: &Loading) -> Option<f64> {
    loading.foot_rise.value().map(|rise| (rise.si() / 0.0254 * 1e6).round() / 1e6)
}

#[test]
fn a_leg_goes_over_the_sheet_and_the_sheet_over_the_yard_entry_by_entry() {
    let yard = yard();
    let (out, back) = (leg(&yard, 0).loading, leg(&yard, 1).loading);
    assert_eq!(inches(&out), Some(6.0));
    assert_eq!(inches(&back), Some(4.0));
    for loading in [&out, &back] {
        assert_eq!(loading.chocks.value(), Some(false), "the sheet's");
        assert_eq!(loading.parking_brake.value(), Some(true), "the yard's");
        assert!(loading.slope.value().is_some(), "the yard's");
        assert!(loading.bed_tilt.is_absent(), "nobody's");
    }
    assert_eq!(leg(&yard, 0).conditions.deck.value().map(|deck| format!("{deck:?}")), Some("Wet".into()));
    assert_eq!(leg(&yard, 1).conditions.deck.value().map(|deck| format!("{deck:?}")), Some("Dry".into()));
}

#[test]
fn stands_are_taken_as_a_whole_and_their_place_is_not_guessed() {
    let yard = yard();
    let (out, back) = (leg(&yard, 0).loading.stands, leg(&yard, 1).loading.stands);
    assert_eq!((out.len(), out[0].count.value(), out[0].at.value().is_some()), (1, Some(1), true));
    assert_eq!((back.len(), back[0].count.value(), back[0].at.is_absent()), (1, Some(2), true));
}
