//! The bridge formula against the whole published table, row by row, with its tie rounding.

use std::path::Path;

use draylint::physics::bridge_limit;
use draylint::units::Length;

const FOOT: f64 = 0.3048;
const POUND: f64 = 0.453_592_37;

/// Every row of `../shared/reference/data/bridge-formula.csv`: `8` is "8 ft or less" and `8+` "more than 8, less than 9".
#[test]
#[expect(clippy::print_stderr, reason = "says that the file is not at hand")]
fn every_row_of_the_table() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../shared/reference/data/bridge-formula.csv");
    let Ok(text) = std::fs::read_to_string(&path) else {
        assert!(std::env::var_os("CI").is_none(), "no reference file beside this folder");
        eprintln!("skipped: the table is not here, so only the rows in src/physics/bridge.rs were held against it");
        return;
    };
    let mut rows = 0;
    for line in text.lines().skip(1).filter(|line| !line.trim().is_empty()) {
        let cells: Vec<&str> = line.split(',').collect();
        let (feet, axles, pounds): (&str, usize, f64) =
            (cells[0], cells[1].parse().unwrap(), cells[2].parse().unwrap());
        let lengths: Vec<f64> = match feet {
            "8" => vec![4.0, 7.0, 8.0],
            "8+" => vec![8.01, 8.5, 8.99],
            whole => {
                let whole: f64 = whole.parse().unwrap();
                // In feet and as stations in inches, whose difference is off by rounding.
                vec![whole, whole + 0.4, (whole * 12.0 + 54.1) / 12.0 - 54.1 / 12.0]
            }
        };
        for feet in lengths {
            let allowed = bridge_limit(Length::new(feet * FOOT), axles).unwrap().si() / POUND;
            assert!((allowed - pounds).abs() < 1e-6, "{line}: {feet} ft give {allowed}");
        }
        rows += 1;
    }
    assert!(rows > 100, "only {rows} rows were read");
}

/// The ties, which lie exactly half way between two steps of 500 lb: down, federally (secondary).
#[test]
fn ties_go_down() {
    for (axles, feet, pounds) in [
        (3, 9.0, 42_500.0),
        (3, 11.0, 44_000.0),
        (3, 25.0, 54_500.0),
        (5, 18.0, 59_000.0),
        (5, 22.0, 61_500.0),
        (7, 27.0, 75_500.0),
    ] {
        let allowed = bridge_limit(Length::new(feet * FOOT), axles).unwrap().si() / POUND;
        assert!((allowed - pounds).abs() < 1e-6, "{axles} axles, {feet} ft: {allowed}");
    }
}
