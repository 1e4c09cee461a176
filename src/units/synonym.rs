//! Units as people write them, each with the symbol that is meant, in one table.
//!
//! No unit is guessed by how near its letters are: `mg` is one letter from `kg`, `ml` from `L` and `ksi` from `psi`, and
//! each of them is a thousand times off. Only two neighbouring letters in the wrong order count as a slip of the hand.

use super::symbol::{UNITS, Unit, unit};

/// What is written in small letters, and the symbols that it means. `ton` is the short ton and `tonne` the metric one.
const SYNONYMS: [(&str, &[&str]); 30] = [
    ("lb", &["lbs", "lbm", "pound", "pounds", "#"]),
    ("kg", &["kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"]),
    ("t", &["tonne", "tonnes", "metric ton", "metric tons", "metric tonne", "metric tonnes"]),
    ("ton", &["tons", "short ton", "short tons"]),
    ("lbf", &["lbsf", "lbs-force", "pound-force", "pounds-force"]),
    ("N", &["newton", "newtons"]),
    ("kN", &["kilonewton", "kilonewtons"]),
    ("daN", &["decanewton", "decanewtons"]),
    ("kgf", &["kilogram-force", "kilograms-force"]),
    ("in", &["inch", "inches", "ins", "\"", "''", "″", "”"]),
    ("ft", &["foot", "feet", "fts", "'", "′", "’"]),
    ("mm", &["millimetre", "millimetres", "millimeter", "millimeters", "mms"]),
    ("cm", &["centimetre", "centimetres", "centimeter", "centimeters", "cms"]),
    ("m", &["metre", "metres", "meter", "meters", "mtr", "mtrs"]),
    ("yd", &["yard", "yards", "yds"]),
    ("deg", &["degree", "degrees", "degs", "°"]),
    ("pct", &["percent", "per cent", "percents", "%"]),
    ("mph", &["mi/h", "miles/h", "miles/hour", "miles per hour"]),
    ("kmh", &["km/h", "kph", "kmph", "km/hr", "kms/h", "kilometres per hour", "kilometers per hour"]),
    ("psi", &["psig", "lb/in2", "lbs/in2", "pounds per square inch"]),
    ("kPa", &["kilopascal", "kilopascals"]),
    ("bar", &["bars"]),
    ("yd3", &["cy", "cyd", "cyds", "cuyd", "cuyds", "cu yd", "cu yds", "yards3", "yds3", "cubic yard", "cubic yards"]),
    ("ft3", &["cf", "cuft", "cu ft", "feet3", "foot3", "cubic foot", "cubic feet"]),
    ("m3", &["cbm", "cum", "cu m", "metres3", "meters3", "cubic metre", "cubic metres", "cubic meter", "cubic meters"]),
    ("L", &["litre", "litres", "liter", "liters", "ltr", "ltrs"]),
    ("lb/ft3", &["pcf"]),
    ("kg/m3", &["kg/cbm"]),
    ("t/m3", &["t/cbm"]),
    ("lb/in", &["lbs/inch", "pounds per inch"]),
];

/// The unit that is meant by what is written: its symbol, however its letters are written, a longer name of it, or two
/// neighbouring letters of it in the wrong order.
///
/// ```
/// # use draylint::units::meant;
/// assert_eq!(meant("kph").map(|unit| unit.symbol), Some("kmh"));
/// assert_eq!(meant("tonnes").map(|unit| unit.symbol), Some("t"));
/// assert_eq!(meant("mg"), None);
/// ```
#[must_use]
pub fn meant(written: &str) -> Option<&'static Unit> {
    // Longer than any name of a unit.
    if written.len() > 32 {
        return None;
    }
    let plain = plain(written);
    named(&plain).or_else(|| compound(&plain)).or_else(|| swapped(&plain))
}

/// In small letters, with `.` at the end dropped and raised figures on the line.
fn plain(written: &str) -> String {
    let lower = written.trim().trim_end_matches('.').to_lowercase();
    let words: Vec<&str> =
        lower.split(|c: char| c.is_whitespace() || c == '_').filter(|word| !word.is_empty()).collect();
    words.join(" ").replace('³', "3").replace('²', "2").replace('^', "")
}

fn named(plain: &str) -> Option<&'static Unit> {
    let symbol = || UNITS.iter().find(|unit| unit.symbol.to_lowercase() == plain);
    let synonym = || SYNONYMS.iter().find(|(_, names)| names.contains(&plain)).and_then(|(symbol, _)| unit(symbol));
    symbol().or_else(synonym)
}

/// `lbs/cy`: what is meant by each of the two.
fn compound(plain: &str) -> Option<&'static Unit> {
    let (over, under) = plain.split_once('/').or_else(|| plain.split_once(" per "))?;
    unit(&format!("{}/{}", named(over.trim())?.symbol, named(under.trim())?.symbol))
}

/// The only symbol of which two neighbouring letters stand in the wrong order.
fn swapped(plain: &str) -> Option<&'static Unit> {
    let letters: Vec<char> = plain.chars().collect();
    let mut found = (1..letters.len()).filter_map(|at| {
        let mut letters = letters.clone();
        letters.swap(at - 1, at);
        let other: String = letters.into_iter().collect();
        UNITS.iter().find(|unit| unit.symbol.to_lowercase() == other)
    });
    let first = found.next()?;
    found.all(|other| other == first).then_some(first)
}

#[cfg(test)]
mod tests {
    use super::{SYNONYMS, UNITS, meant, unit};

    fn symbol(written: &str) -> Option<&'static str> {
        meant(written).map(|unit| unit.symbol)
    }

    #[test]
    fn every_name_means_one_unit() {
        let mut all: Vec<&str> = SYNONYMS.iter().flat_map(|(_, names)| names.iter().copied()).collect();
        for (known, names) in SYNONYMS {
            assert!(unit(known).is_some(), "{known}");
            for name in names {
                assert_eq!(symbol(name), Some(known), "{name}");
            }
        }
        for one in &UNITS {
            assert_eq!(symbol(one.symbol), Some(one.symbol));
            assert!(!all.contains(&&*one.symbol.to_lowercase()), "{}", one.symbol);
        }
        let count = all.len();
        all.sort_unstable();
        all.dedup();
        assert_eq!(all.len(), count);
    }

    #[test]
    fn capital_letters_points_and_raised_figures_do_not_matter() {
        for (written, known) in [
            ("T", "t"),
            ("KG", "kg"),
            ("Lbs.", "lb"),
            ("kn", "kN"),
            ("l", "L"),
            ("yd³", "yd3"),
            ("m^3", "m3"),
            ("Cubic Yards", "yd3"),
            ("lbs/cy", "lb/yd3"),
            ("tonnes per m3", "t/m3"),
            ("bl", "lb"),
            ("mhp", "mph"),
        ] {
            assert_eq!(symbol(written), Some(known), "{written}");
        }
    }

    #[test]
    fn no_other_unit_is_guessed() {
        for written in
            ["mg", "g", "st", "oz", "ml", "cl", "km", "dm", "ksi", "MPa", "hPa", "mm3", "in3", "knots", "", "kt"]
        {
            assert_eq!(symbol(written), None, "{written}");
        }
    }
}
