//! Sheets in which one entry is wrong by a known amount, with readings of the load as it truly is: the finding must name
//! the entry and its true value.

use std::fmt::Write as _;

use draylint::check::{Judged, Options, judge};
use draylint::expr::Value;
use draylint::figures::{Each, Heap, Load, Subject, figure};
use draylint::finding::Finding;
use draylint::lower::{link, lower_file};
use draylint::model::Yard;
use draylint::rules::RuleSet;
use draylint::syntax::{parse, with_stack};
use draylint::text::FileId;
use proptest::prelude::*;

/// Two trailers: with equal axles every figure is linear in weights and places; on springs, and in the length of a
/// machine's wheelbase, it is not.
const TRAILERS: [&str; 2] = [
    "axle at=(m)4.8; axle at=(m)5.7; suspension \"equalized\"",
    "axle at=(m)4.8 rate=(\"N/mm\")300 plus-minus=(pct)0.01; axle at=(m)5.7 rate=(\"N/mm\")340 plus-minus=(pct)0.01; \
     suspension \"independent\" level-at=(m)0.52 plus-minus=(mm)1",
];

/// The entries of the sheet, in mm, kg and m3: a name, the true value, how far it can be wrong, and how near the truth must be
/// found. The entry that is wrong is known to 40 mm, 40 kg or 0.04 m3, everything else much better (what stands where explains
/// readings as well as what else stands elsewhere: only how well each is known tells them apart), the gauges to 2 kg: a
/// place of 1,500 kg then is known to about `2 x 5.25 / 1500 = 7 mm`, of the 500 kg of pipe to 21 mm.
const ENTRIES: [(&str, f64, (f64, f64), f64); 7] = [
    ("front-gap=", 1300.0, (100.0, 600.0), 25.0),
    ("weight (", 1500.0, (90.0, 500.0), 8.0),
    ("arm=", 800.0, (100.0, 500.0), 25.0),
    ("weight=", 500.0, (90.0, 300.0), 8.0),
    ("rear-gap=", 600.0, (150.0, 500.0), 50.0),
    ("cg-from-front=", 700.0, (150.0, 600.0), 50.0),
    ("volume=", 0.4, (0.1, 0.35), 0.02),
];

/// The job with these values of the entries, in order, and what gauges showed; one entry is known less well.
fn job(springs: usize, values: &[f64; 7], wide: Option<usize>, readings: &str) -> String {
    let [gap, weight, arm, pipe, rear, cg, volume] = values;
    let half = |at: usize, wide_says: &'static str, says: &'static str| if wide == Some(at) { wide_says } else { says };
    let (gap_half, arm_half) = (half(0, "(mm)40", "(mm)1"), half(2, "(mm)40", "(mm)1"));
    let (weight_half, volume_half) = (half(1, "(kg)40", "(kg)0.5"), half(6, "(m3)0.04", "(m3)0.0005"));
    let pipe_half = match wide {
        Some(3) => "(kg)40",
        Some(4 | 5) => "(mm)40",
        _ => "(kg)0.5",
    };
    format!(
        "truck \"t\" {{\n axle \"front\" weighed=(kg)2000 plus-minus=(kg)0.5\n axle \"rear\" weighed=(kg)1700 \
         plus-minus=(kg)0.5\n wheelbase (m)4 plus-minus=(mm)1\n hitch \"ball\" behind-rear-axle=(m)1.3 height=(m)0.5 \
         plus-minus=(mm)1\n}}\ntrailer \"r\" {{\n empty tongue=(kg)250 axles=(kg)1300 plus-minus=(kg)0.5\n coupler \"ball\"\n \
         {}\n deck from=(m)1.5 length=(m)6 plus-minus=(mm)1\n}}\nmachine \"digger\" {{\n weight (kg){weight} plus-minus={weight_half}\n \
         cg arm=(mm){arm} plus-minus={arm_half}\n tracks contact-length=(m)1.6 gauge=(m)1.2\n outline front=(m)2.6 rear=(m)-0.9 \
         plus-minus=(mm)1\n}}\nmaterial \"fill\" {{\n density \"dry\" low=(\"kg/m3\")1000 high=(\"kg/m3\")1000\n}}\n\
         sheet \"job\" {{\n truck \"t\"\n trailer \"r\"\n machine \"digger\" facing=\"forward\" front-gap=(mm){gap} \
         plus-minus={gap_half}\n cargo \"pipe\" weight=(kg){pipe} length=(m)1.6 cg-from-front=(mm){cg} rear-gap=(mm){rear} \
         plus-minus={pipe_half}\n bulk \"fill\" volume=(m3){volume} moisture=\"dry\" length=(m)1 front-gap=(m)0.1 \
         plus-minus={volume_half}\n{readings}}}\n",
        TRAILERS[springs].replace("; ", "\n ")
    )
}

const TRUE: [f64; 7] = [1300.0, 1500.0, 800.0, 500.0, 600.0, 700.0, 0.4];

fn yard(text: &str) -> Yard {
    with_stack(|| {
        let parsed = parse(FileId(0), text);
        assert!(parsed.findings.is_empty(), "{:?}\n{text}", parsed.findings);
        let (yard, findings) = link(vec![lower_file(&parsed.document.unwrap(), false)], Vec::new());
        assert!(findings.iter().all(|one| one.rule == "never-used"), "{findings:?}\n{text}");
        yard
    })
}

fn judged(text: &str) -> Judged {
    let yard = yard(text);
    let options = Options { units: None, today: "2000-01-01".into(), weigh: true, mend: false };
    judge(&yard, &RuleSet::builtin(), yard.loads().next().unwrap(), &options).unwrap()
}

/// What gauges of 2 kg show of the load as it truly is.
fn readings(springs: usize, words: &[&str]) -> String {
    let yard = yard(&job(springs, &TRUE, None, ""));
    let load = Load::of(&yard, yard.loads().next().unwrap(), Heap::Heaviest).unwrap();
    let mut text = String::new();
    for word in words {
        let name = match *word {
            "tongue" => "trailer.tongue",
            "axles" => "trailer.axles.load",
            _ => "trailer.gross",
        };
        let Value::Number(kg) = figure(name, Each::Load).unwrap().1.of(&load, Subject::Whole).unwrap().value else {
            panic!("{name} is a number")
        };
        let _ = writeln!(text, " reading \"{word} gauge\" {word}=(kg){kg} plus-minus=(kg)2 stands=\"clear\"");
    }
    text
}

fn disagreement(judged: &Judged) -> Option<&Finding> {
    judged.findings.iter().find(|finding| finding.rule == "reading-disagrees")
}

/// The place and text of the entry at each label, with the value in its own unit that is said to explain the readings.
fn explained<'t>(text: &'t str, finding: &Finding) -> Vec<(usize, &'t str, f64)> {
    let labels = std::iter::once(&finding.primary).chain(&finding.labels);
    labels
        .filter_map(|label| {
            let (value, _) = label.text.split_once(" would explain it")?;
            let number = value.split(' ').next()?.replace(',', "");
            let range = label.span.range();
            Some((range.start, text.get(range)?, number.parse().ok()?))
        })
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn the_entry_that_is_wrong_is_found_with_its_true_value(
        at in 0..ENTRIES.len(),
        springs in 0..TRAILERS.len(),
        part in 0.0..1.0_f64,
        up in any::<bool>(),
    ) {
        let (word, truth, (least, most), near) = ENTRIES[at];
        let off = least + part * (most - least);
        let mut values = TRUE;
        values[at] = if up || truth - off <= 0.0 { truth + off } else { truth - off };
        let text = job(springs, &values, Some(at), &readings(springs, &["tongue", "axles", "gross"]));
        let judged = judged(&text);
        let Some(finding) = disagreement(&judged) else {
            return Err(TestCaseError::fail(format!("nothing disagrees\n{text}")));
        };
        let told = explained(&text, finding);
        let own = told.iter().find(|(_, entry, _)| entry.starts_with(word));
        prop_assert!(own.is_some(), "{word} is not named: {told:?}\n{finding:?}\n{text}");
        let found = own.unwrap().2;
        prop_assert!((found - truth).abs() <= near, "{word}: {found}, in truth {truth}: {told:?}\n{text}");
        // It is off by the fewest of its half-widths; where the pipe balances stands on the line of its gap, is known as well
        // and moves the readings alike, so that the gap comes first.
        let before = usize::from(word == "cg-from-front=");
        prop_assert!(told[before].1.starts_with(word), "{told:?}\n{text}");
    }

    /// One gauge alone: whatever is named makes the sheet agree when it is written in, to the digits that are shown.
    #[test]
    fn what_is_named_settles_one_reading(
        at in 0..ENTRIES.len(),
        springs in 0..TRAILERS.len(),
        part in 0.0..1.0_f64,
    ) {
        let (_, truth, (least, most), ..) = ENTRIES[at];
        let mut values = TRUE;
        values[at] = truth + least + part * (most - least);
        let text = job(springs, &values, Some(at), &readings(springs, &["tongue"]));
        let before = judged(&text);
        let Some(finding) = disagreement(&before) else { return Ok(()) };
        let told = explained(&text, finding);
        prop_assert!(!told.is_empty() && told.len() <= 3, "{finding:?}");
        for (start, entry, value) in told {
            let (head, tail) = entry.split_once(')').unwrap();
            let number = tail.split(' ').next().unwrap();
            let mut mended = text.clone();
            mended.replace_range(start..start + entry.len(), &format!("{head}){value}{}", &tail[number.len()..]));
            prop_assert!(mended != text);
            let after = judged_again(&mended);
            prop_assert!(after.is_none(), "{entry} at {value}: {after:?}\n{text}");
        }
    }
}

fn judged_again(text: &str) -> Option<String> {
    disagreement(&judged(text)).map(|finding| finding.message.clone())
}

#[test]
fn the_true_sheet_agrees() {
    for springs in 0..TRAILERS.len() {
        let text = job(springs, &TRUE, None, &readings(springs, &["tongue", "axles", "gross"]));
        let judged = judged(&text);
        assert!(disagreement(&judged).is_none(), "{:?}", disagreement(&judged));
        assert_eq!(judged.figures.readings.len(), 3);
        assert!(judged.figures.readings.iter().all(|one| one.agrees == Some(true)));
    }
}
