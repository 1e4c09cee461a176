//! What a title says, read out of it again.

/// The entries that a change of a load may write.
pub(crate) const MOVED: [&str; 5] = ["front-gap", "rear-gap", "left", "volume", "facing"];

/// The entries that a title names with their new values, in order.
pub(crate) fn named(title: &str) -> Vec<(&'static str, String)> {
    let mut all: Vec<(usize, &str, String)> = Vec::new();
    for word in MOVED {
        for (at, _) in title.match_indices(&format!("{word}=")) {
            let rest = &title[at + word.len() + 1..];
            let value = if let Some(quoted) = rest.strip_prefix('"') {
                format!("\"{}\"", quoted.split('"').next().expect("a value"))
            } else {
                rest.split([';', ',', ' ']).next().expect("a value").to_owned()
            };
            all.push((at, word, value));
        }
    }
    all.sort();
    all.into_iter().map(|(_, word, value)| (word, value)).collect()
}

/// A value as a sheet or a title writes it, in SI: `(in)43`, `43 in`, `16 ft 8 in`.
pub(crate) fn si(text: &str) -> f64 {
    let text = text.trim_matches('"');
    let factor = |unit: &str| match unit {
        "in" => 0.0254,
        "ft" => 0.3048,
        "mm" => 0.001,
        "cm" => 0.01,
        "m" => 1.0,
        "yd3" | "yd³" => 0.9144_f64.powi(3),
        other => panic!("{other} is no unit of these tests"),
    };
    let number = |text: &str| -> f64 { text.parse().unwrap_or_else(|_| panic!("{text} is no number")) };
    if let Some(rest) = text.strip_prefix('(') {
        let (unit, value) = rest.split_once(')').expect("a unit");
        return number(value) * factor(unit);
    }
    let words: Vec<&str> = text.split(' ').collect();
    let sign = if words[0].starts_with('-') { -1.0 } else { 1.0 };
    sign * words.chunks(2).map(|pair| number(pair[0]).abs() * factor(pair[1])).sum::<f64>()
}

/// A range that a title promises, in SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Promise {
    /// None where it is "up to".
    pub(crate) from: Option<f64>,
    pub(crate) to: f64,
    /// Whether every limit is kept in it, or only those that depend on the entry.
    pub(crate) whole: bool,
}

/// The range that a title promises, if it promises one.
pub(crate) fn promised(title: &str) -> Option<Promise> {
    let (_, said) = title.split_once("; anything ")?;
    let (range, which) = said.split_once(" keeps every limit")?;
    let whole = match which {
        "" => true,
        " that depends on it" => false,
        other => panic!("{other:?} is not known to these tests"),
    };
    if let Some(most) = range.strip_prefix("up to ") {
        return Some(Promise { from: None, to: si(most), whole });
    }
    let (from, to) = range.strip_prefix("from ").expect("from").split_once(" to ").expect("to");
    Some(Promise { from: Some(si(from)), to: si(to), whole })
}

#[test]
fn titles_are_read_back() {
    let title = "turn a round: facing=\"backward\", and move it 3 in rearward: front-gap=(in)9.5; anything from 8 in to 9.5 \
                 in keeps every limit";
    assert_eq!(named(title), [("facing", "\"backward\"".to_owned()), ("front-gap", "(in)9.5".to_owned())]);
    assert_eq!(promised(title), Some(Promise { from: Some(8.0 * 0.0254), to: 9.5 * 0.0254, whole: true }));
    let up_to = promised("x: volume=(yd3)1; anything up to 2 yd3 keeps every limit that depends on it");
    assert_eq!(up_to.map(|one| (one.from, one.whole)), Some((None, false)));
    assert!((si("\"-1 ft 6 in\"") + 0.4572).abs() < 1e-12);
}
