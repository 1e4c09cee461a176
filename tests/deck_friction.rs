//! The friction under items of every kind: what is published of the pair, or why nothing is told.

use draylint::figures::{Each, Heap, Load, figure};
use draylint::lower::{link, lower_file};
use draylint::syntax::{parse, with_stack};
use draylint::text::FileId;

const YARD: &str = r#"
trailer "sled" {
    axle at=(m)4 rating=(kg)3000
    deck from=(m)1 length=(m)6 width=(m)2 height=(m)0.6 surface="wood"
}
machine "wagtail" { contact "steel-track"; }
material "grit" { density low=(t/m3)1.4 high=(t/m3)1.8; }
sheet "job" {
    trailer "sled"
    conditions deck="wet"
    machine "wagtail" facing="forward" front-gap=(m)1
    cargo "crate" weight=(kg)500 length=(m)1 width=(m)1 height=(m)1 front-gap=(m)3 base="wood"
    cargo "lid" weight=(kg)50 length=(m)1 width=(m)1 height=(m)0.2 front-gap=(m)3 base="wood" on="crate"
    cargo "bare" weight=(kg)500 length=(m)1 width=(m)1 height=(m)1 front-gap=(m)5
    cargo "mat" weight=(kg)500 length=(m)1 width=(m)1 height=(m)1 front-gap=(m)5 base="rubber"
    bulk "grit" volume=(m3)1
}
"#;

/// The ends of the range, or what is lacking, for the item at a place in the sheet.
fn range(item: usize) -> Result<(f64, f64), String> {
    let (yard, _) = with_stack(|| {
        let parsed = parse(FileId(0), YARD);
        link(vec![lower_file(&parsed.document.unwrap(), false)], Vec::new())
    });
    let load = Load::of(&yard, yard.loads().next().unwrap(), Heap::Heaviest).unwrap();
    let subject = Each::Item.subjects(&load)[item];
    let read = |name| -> Result<f64, String> {
        let read = figure(name, Each::Item).unwrap().1.of(&load, subject).map_err(|lack| lack.to_string())?;
        let draylint::expr::Value::Number(number) = read.value else { panic!("a number") };
        Ok(number)
    };
    Ok((read("item.deck_friction_low")?, read("item.deck_friction_high")?))
}

/// Against the rows of the built-in table, which has a test of its own.
#[test]
fn it_is_that_of_what_the_item_stands_on() {
    assert_eq!(range(0), Ok((0.2, 0.25)), "steel tracks on wet wood");
    assert_eq!(range(1), Ok((0.3, 0.45)), "a wooden base on wet wood");
}

#[test]
fn where_nothing_is_known_it_says_why() {
    let why = |item| range(item).unwrap_err();
    assert!(why(2).contains("stands on crate"), "{}", why(2));
    assert!(why(3).contains("base"), "{}", why(3));
    assert!(why(4).contains("no published value tells the grip of a rubber base on wet wood"), "{}", why(4));
    assert!(why(5).contains("loose material"), "{}", why(5));
}
