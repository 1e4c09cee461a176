//! Fixes of how a machine is put aboard, on the sheets that fail the loading rules: each cures what it says and adds nothing,
//! and with the next smaller number that can be measured the fault is still there.

use std::path::Path;

use draylint::finding::{Finding, Fix, Grade};
use draylint::yard::Checked;

use crate::judged::{edits, file_of, judged, spliced};
use crate::proven::holds;

type Files = Vec<(String, String)>;

/// How many of each kind were seen.
#[derive(Debug, Default)]
struct Seen {
    risen: usize,
    tilted: usize,
    left_off: usize,
    set: usize,
    turned: usize,
    longer: usize,
}

/// The failing sheets of a rule with the yard that they stand in.
fn yard_of(rule: &str) -> Files {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures");
    let own = root.join(rule);
    let mut files = Vec::new();
    for name in ["yard.kdl", "fleet.kdl", "fails.kdl"] {
        let near = own.join(name);
        let path = if near.exists() { near } else { root.join(name) };
        files.push((name.to_owned(), std::fs::read_to_string(path).expect("a fixture")));
    }
    files
}

/// How often a rule speaks of the load that a finding is of.
fn times(checked: &Checked, of: &Finding) -> usize {
    let same = |one: &&Finding| one.rule == of.rule && one.sheet == of.sheet && one.leg == of.leg;
    checked.findings.iter().filter(same).count()
}

/// A number with its unit before it, the step that can be measured of it, and the next smaller one.
fn smaller(value: &str) -> Option<String> {
    let (unit, number) = value.strip_prefix('(')?.split_once(')')?;
    let step = match unit {
        "in" => 0.5,
        "mm" => 5.0,
        "deg" => 1.0,
        "ft" => 0.1,
        "m" | "cm" => 0.01,
        _ => panic!("no step for {unit}"),
    };
    let less = number.parse::<f64>().expect("a number") - step;
    (less > 1e-9).then(|| format!("({unit}){less}"))
}

/// The number that a title ends its sentence with: what stands after the word.
fn value<'t>(title: &'t str, word: &str) -> Option<&'t str> {
    Some(title.split_once(&format!("{word} "))?.1.split_whitespace().next().expect("a number"))
}

/// With the next smaller number the fault is still there.
fn is_least(files: &Files, checked: &Checked, finding: &Finding, fix: &Fix, value: &str) {
    let Some(less) = smaller(value) else { return };
    let file = file_of(files, &checked.sources, fix.edits[0].span.file);
    let texts: Vec<(std::ops::Range<usize>, String)> =
        edits(fix).into_iter().map(|(range, text)| (range, text.replace(value, &less))).collect();
    let made: Vec<_> = texts.iter().map(|(range, text)| (range.clone(), text.as_str())).collect();
    let after = judged(&spliced(files, file, &made), false);
    assert!(times(&after, finding) >= times(checked, finding), "{less} would do: {}\n{}", fix.title, finding.message);
}

/// The yard with the ramp of the sheet's trailer at another length, given in the unit that it has.
fn with_ramp(files: &Files, finding: &Finding, length: &str) -> Files {
    let mut files = files.clone();
    let sheet = finding.sheet.as_deref().expect("a sheet");
    let text = files.iter().map(|(_, text)| text).find(|text| text.contains(&format!("sheet \"{sheet}\" {{")));
    let text = text.expect("its text").split_once(&format!("sheet \"{sheet}\" {{")).expect("its text").1;
    let trailer = text.split_once("trailer \"").expect("a trailer").1.split('"').next().expect("a name").to_owned();
    for (_, text) in &mut files {
        let Some(at) = text.find(&format!("trailer \"{trailer}\" {{")) else { continue };
        let start = at + text[at..].find("ramp length=").expect("a ramp") + "ramp length=".len();
        let end = start + text[start..].find([' ', '\n', ';']).expect("an end");
        text.replace_range(start..end, length);
        return files;
    }
    panic!("no trailer {trailer}");
}

/// A ramp of the length that the advice names cures it, one a step shorter does not.
fn ramp_is_least(files: &Files, checked: &Checked, finding: &Finding, said: &str) {
    let (number, unit) = said.split_once(' ').expect("a number and its unit");
    let step = match unit {
        "in" => 1.0,
        "mm" => 10.0,
        "m" => 0.05,
        "ft" => 0.1,
        _ => panic!("no step for {unit}"),
    };
    let number: f64 = number.parse().expect("a number");
    let with = |length: f64| times(&judged(&with_ramp(files, finding, &format!("({unit}){length}")), false), finding);
    assert!(with(number) < times(checked, finding), "{said} does not do: {}", finding.message);
    assert!(with(number - step) >= times(checked, finding), "less than {said} would do: {}", finding.message);
}

fn every_fix_holds(rule: &str, seen: &mut Seen) {
    let files = yard_of(rule);
    let checked = judged(&files, true);
    for finding in checked.findings.iter().filter(|finding| finding.rule == rule) {
        for fix in &finding.fixes {
            if fix.grade == Grade::Advice {
                if let Some(length) = fix.title.strip_prefix("use a ramp of at least ") {
                    ramp_is_least(&files, &checked, finding, length);
                    seen.longer += 1;
                }
                continue;
            }
            let file = file_of(&files, &checked.sources, fix.edits[0].span.file);
            let mended = spliced(&files, file, &edits(fix));
            let after = judged(&mended, false);
            holds((&files, &checked), (&mended, &after), finding, fix);
            if let Some(rise) = value(&fix.title, "foot-rise") {
                is_least(&files, &checked, finding, fix, rise);
                seen.risen += 1;
            } else if let Some(tilt) = value(&fix.title, "bed-tilt") {
                is_least(&files, &checked, finding, fix, tilt);
                seen.tilted += 1;
            }
            seen.left_off += usize::from(fix.title.starts_with("leave "));
            seen.turned += usize::from(fix.title.contains("facing="));
            seen.set += usize::from(fix.title.ends_with(" #true"));
        }
    }
}

#[test]
fn what_cures_a_loading_fault_is_the_least_that_does() {
    let mut seen = Seen::default();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("rules/loading");
    for entry in std::fs::read_dir(folder).expect("the rules") {
        let path = entry.expect("a rule").path();
        every_fix_holds(path.file_stem().and_then(|name| name.to_str()).expect("a name"), &mut seen);
    }
    let Seen { risen, tilted, left_off, set, turned, longer } = seen;
    assert!([risen, tilted, left_off, set, turned, longer].iter().all(|kind| *kind > 0), "{seen:?}");
}
