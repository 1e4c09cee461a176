//! Every quantity rewritten in a unit of the other system: nothing changes but how it is written.

use draylint::syntax::{Entry, Value};
use draylint::units::{Kind, Unit, feet_and_inches, unit};

use crate::texts::{EXAMPLES, FIXTURES, Texts, by_line};

/// The unit of the other system in which a person would write this one, and how many SI units it is, written here a
/// second time from the definitions: 1 lb = 0.45359237 kg, 1 in = 25.4 mm (international yard and pound, 1959), standard
/// gravity 9.80665 m/s2 (CGPM 1901).
fn other(symbol: &str) -> Option<(&'static str, f64)> {
    const LB: f64 = 0.453_592_37;
    const G: f64 = 9.806_65;
    const INCH: f64 = 0.0254;
    const FOOT: f64 = 0.3048;
    const YARD: f64 = 0.9144;
    Some(match symbol {
        "lb" => ("kg", 1.0),
        "ton" => ("t", 1000.0),
        "kg" => ("lb", LB),
        "t" => ("ton", 2000.0 * LB),
        "lbf" => ("N", 1.0),
        "N" | "kN" | "daN" | "kgf" => ("lbf", LB * G),
        "in" => ("mm", 0.001),
        "ft" | "yd" => ("m", 1.0),
        "mm" | "cm" => ("in", INCH),
        "m" => ("ft", FOOT),
        "mph" => ("kmh", 1000.0 / 3600.0),
        "kmh" => ("mph", 1609.344 / 3600.0),
        "psi" => ("bar", 100_000.0),
        "kPa" | "bar" => ("psi", LB * G / (INCH * INCH)),
        "yd3" => ("m3", 1.0),
        "ft3" => ("L", 0.001),
        "m3" => ("yd3", YARD * YARD * YARD),
        "L" => ("ft3", FOOT * FOOT * FOOT),
        "lb/yd3" => ("kg/m3", 1.0),
        "lb/ft3" => ("t/m3", 1000.0),
        "kg/m3" | "t/m3" => ("lb/yd3", LB / (YARD * YARD * YARD)),
        "lbf/in" | "lb/in" => ("N/mm", 1000.0),
        "N/mm" | "kN/m" | "N/m" | "kgf/mm" => ("lbf/in", LB * G / INCH),
        _ => return None,
    })
}

/// The entry in the other system; none for what has no unit, or one that both systems share.
fn rewritten(entry: &Entry) -> Option<String> {
    let (si, symbol) = match (&entry.ty, &entry.value) {
        (Some(ty), Value::Number { value, .. }) if value.is_finite() => (value * unit(&ty.text)?.factor, &*ty.text),
        (None, Value::Text(text)) => (feet_and_inches(text)?, "ft"),
        _ => return None,
    };
    let (other, factor) = other(symbol)?;
    let quote = if other.contains('/') || other.contains(char::is_numeric) { "\"" } else { "" };
    Some(format!("({quote}{other}{quote}){}", si / factor))
}

/// A yard with every quantity rewritten, and how many.
fn other_system(texts: &Texts) -> (Texts, usize) {
    let mut entries = texts.entries();
    entries.sort_by_key(|entry| std::cmp::Reverse(entry.typed_span));
    let mut new: Vec<String> = texts.files.iter().map(|file| file.says.to_string()).collect();
    let mut count = 0;
    for entry in entries {
        let Some(written) = rewritten(&entry) else { continue };
        new[entry.typed_span.file.0 as usize].replace_range(entry.typed_span.range(), &written);
        count += 1;
    }
    let mut other = texts.clone();
    for (file, text) in new.iter().enumerate() {
        if **text != *texts.files[file].says {
            other = other.with(file, text);
        }
    }
    (other, count)
}

/// Compares a yard with itself in the other system.
fn compare(texts: &Texts) -> usize {
    let (other, count) = other_system(texts);
    let (before, after) = (texts.judged(), other.judged());
    let lines = |texts: &Texts, outcome: &draylint::check::Gathered| by_line(texts, &outcome.findings);
    assert_eq!(lines(texts, &before), lines(&other, &after), "{}", texts.label);
    assert_eq!(before.loads.len(), after.loads.len());
    for (one, two) in before.loads.iter().zip(&after.loads) {
        assert_eq!(one.undecided, two.undecided, "{}", texts.label);
        assert_eq!(one.figures.is_some(), two.figures.is_some(), "{} {}", texts.label, one.sheet);
        for (a, b) in one.figures.iter().flatten().zip(two.figures.iter().flatten()) {
            assert_eq!(a.name, b.name);
            let far = match (a.value, b.value) {
                (Some(a), Some(b)) => (a - b).abs() > 1e-9 * a.abs().max(b.abs()).max(1.0),
                (a, b) => a != b,
            };
            assert!(!far, "{} {}: {} is {:?} and {:?}", texts.label, one.sheet, a.name, a.value, b.value);
        }
    }
    count
}

#[test]
fn every_unit_has_its_like_in_the_other_system() {
    for one in &draylint::units::UNITS {
        let shared = matches!(one.kind, Kind::Angle | Kind::Share);
        let other = other(one.symbol);
        assert_eq!(other.is_none(), shared, "{}", one.symbol);
        let Some((symbol, factor)) = other else { continue };
        let other: &Unit = unit(symbol).unwrap();
        assert_eq!((other.kind, other.us), (one.kind, !one.us), "{}", one.symbol);
        assert!((other.factor / factor - 1.0).abs() < 1e-15, "{symbol}");
    }
}

#[test]
fn the_examples_say_the_same_in_the_other_system() {
    let count: usize = EXAMPLES.iter().map(|(_, _, texts)| compare(texts)).sum();
    assert!(count > 1000, "{count}");
}

#[test]
fn the_fixtures_say_the_same_in_the_other_system() {
    let count: usize = FIXTURES.iter().map(compare).sum();
    assert!(count > 1000, "{count}");
}
