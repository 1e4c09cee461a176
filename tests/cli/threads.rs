//! The same output whatever the number of threads.

use std::fmt::Write as _;

use crate::harness::{FLEET, Yard, rules, sheet};

/// A yard of many sheets, some faulty, in files of their own.
fn many(sheets: u32) -> Yard {
    let yard = Yard::new();
    for at in 0..sheets {
        yard.put(format!("sheets/{:02}/s{at}.kdl", at % 17), sheet(&format!("s{at}"), 80 + at % 40));
    }
    yard
}

#[test]
fn one_thread_or_four() {
    let yard = many(200);
    yard.put("sheets/03/broken.kdl", "sheet \"broken\" {\n truck pickup\"\n}\n");
    yard.put("sheets/05/twice.kdl", format!("{FLEET}{}", sheet("s1", 98)));
    for arguments in [&["check"][..], &["check", "--format", "json"], &["weigh"], &["weigh", "--format", "json"]] {
        let one = yard.run(&[arguments, &["--jobs", "1"]].concat());
        let four = yard.run(&[arguments, &["--jobs", "4"]].concat());
        assert_eq!((one.status, &one.out, &one.err), (four.status, &four.out, &four.err), "{arguments:?}");
        assert!(one.out.len() > 10_000);
    }
}

/// Findings stand in order of file, line and column.
#[test]
fn findings_are_in_order() {
    let json = many(60).json(&[]);
    let places: Vec<(String, u64, u64)> = json["findings"]
        .as_array()
        .expect("findings")
        .iter()
        .map(|one| {
            let number = |key: &str| one[key].as_u64().expect("a number");
            (one["file"].as_str().expect("a file").to_owned(), number("line"), number("column"))
        })
        .collect();
    assert!(places.len() > 20);
    assert!(places.is_sorted(), "{places:#?}");
}

#[test]
fn a_file_full_of_sheets_and_a_sheet_full_of_legs() {
    let mut text = String::new();
    for at in 0..250 {
        text.push_str(&sheet(&format!("s{at}"), 112));
    }
    let mut legs = "sheet \"legs\" {\n truck \"pickup\"\n trailer \"flat\"\n conditions speed=(mph)55\n".to_owned();
    for at in 0..400 {
        let _ = writeln!(
            legs,
            " leg \"l{at}\" {{ cargo \"p\" weight=(lb)6000 length=(in)48 width=(in)44 height=(in)40 front-gap=(in)112; }}"
        );
    }
    legs.push_str("}\n");
    let json = Yard::new().file("many.kdl", text).file("legs.kdl", legs).json(&[]);
    assert_eq!(json["summary"]["loads"], 650);
    assert_eq!(rules(&json).len(), 650);
}
