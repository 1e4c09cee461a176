//! How an entry is written with another value: in the unit it has, to a step that a tape or a bucket can measure.

use crate::units::{Unit, annotation};

/// Metres in an inch.
const INCH: f64 = 0.0254;

/// The steps to which a value in this unit is rounded, coarsest first, in SI; none is the notation in feet and inches.
pub(super) fn steps(unit: Option<&Unit>) -> Vec<f64> {
    let (factor, steps): (f64, &[f64]) = match unit {
        None => (INCH, &[1.0, 0.5, 0.25, 0.125]),
        Some(unit) => {
            let steps: &[f64] = match unit.symbol {
                "in" => &[1.0, 0.5, 0.25, 0.125],
                "ft" => &[0.1, 0.05, 0.01],
                "mm" => &[10.0, 5.0, 2.0, 1.0],
                "cm" => &[1.0, 0.5, 0.1],
                "yd3" => &[0.25, 0.1, 0.05, 0.01],
                "ft3" => &[5.0, 1.0, 0.5],
                "L" => &[100.0, 50.0, 10.0],
                "mph" | "kmh" => &[5.0, 1.0],
                // m, m3, yd and whatever may come
                _ => &[0.05, 0.01, 0.005, 0.001],
            };
            (unit.factor, steps)
        }
    };
    steps.iter().map(|step| step * factor).collect()
}

/// A value as a sheet writes it in this unit, rounded to a ten-thousandth of it: `(in)43`, `"16 ft 4 in"`.
pub(super) fn written(si: f64, unit: Option<&Unit>) -> String {
    if let Some(unit) = unit {
        return format!("{}{}", annotation(unit.symbol), plain(si / unit.factor));
    }
    let inches = round(si / INCH);
    let sign = if inches < 0.0 { "-" } else { "" };
    let feet = (inches.abs() / 12.0).floor();
    format!("\"{sign}{feet} ft {} in\"", plain(inches.abs() - feet * 12.0))
}

/// A value as a person reads it in this unit: `43 in`.
pub(super) fn spoken(si: f64, unit: Option<&Unit>) -> String {
    match unit {
        Some(unit) => format!("{} {}", plain(si / unit.factor), unit.shown),
        None if si.abs() < 12.0 * INCH => format!("{} in", plain(si / INCH)),
        None => written(si, None).trim_matches('"').to_owned(),
    }
}

/// The nearest multiple of a step that is not below, or not above, a value.
pub(super) fn rounded(si: f64, step: f64, up: bool) -> f64 {
    // A value that is a multiple but for rounding stays it.
    let of = si / step;
    let near = of.round();
    if (of - near).abs() < 1e-6 {
        return near * step;
    }
    if up { of.ceil() * step } else { of.floor() * step }
}

fn round(value: f64) -> f64 {
    (value * 1e4).round() / 1e4
}

fn plain(value: f64) -> String {
    let value = round(value);
    // Never "-0".
    if value == 0.0 { "0".to_owned() } else { value.to_string() }
}

#[cfg(test)]
mod tests {
    use super::{rounded, spoken, written};
    use crate::units::unit;

    #[test]
    fn values_are_written_as_a_tape_reads() {
        assert_eq!(written(0.0254 * 43.5, unit("in")), "(in)43.5");
        assert_eq!(written(-0.0254 * 17.0, None), "\"-1 ft 5 in\"");
        assert_eq!(written(-1e-12, unit("mm")), "(mm)0");
        assert_eq!(spoken(0.0254 * 200.0, None), "16 ft 8 in");
        assert!((rounded(0.0254 * 43.2, 0.0254, true) / 0.0254 - 44.0).abs() < 1e-9);
        assert!((rounded(0.0254 * 43.0, 0.0254, false) / 0.0254 - 43.0).abs() < 1e-9);
    }
}
