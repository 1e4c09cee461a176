//! How long a search for places takes, and one for fixes.
//!
//! `cargo bench --bench mend`: `place` on a sheet with four items, as far as it is reckoned, and on one with loose material in
//! place of an item; and all that `mend::fix` does for one faulty sheet of a generated yard, from its text on. Aims: 50 ms and
//! 200 ms.

mod generate;

use std::hint::black_box;

use divan::Bencher;
use divan::counter::ItemsCount;
use draylint::check::{Gathered, Options, gather, judge};
use draylint::finding::Finding;
use draylint::lower::{FileDefs, builtin_materials, link, lower_file};
use draylint::mend::{Bench, fix, places};
use draylint::model::Material;
use draylint::rules::RuleSet;
use draylint::syntax::{parse, with_stack};
use draylint::text::{FileId, Source, Sources};

fn main() {
    // The parser needs the stack.
    with_stack(divan::main);
}

/// Four items: two machines, one of them with an attachment, and two pieces of cargo.
const FOUR: &str = r#"sheet "four" {
    truck "truck-05"
    trailer "trailer-04"
    aboard-truck "toolbox and fuel" weight=(lb)200 ahead-of-rear-axle=(in)14
    machine "machine-02" facing="forward" front-gap=(in)30 { fit "bucket-02"; }
    machine "machine-01" facing="backward" rear-gap=(in)2
    cargo "plate compactor" weight=(lb)500 length=(in)20 width=(in)40 height=(in)36 front-gap=(in)4
    cargo "pallet of pipe" weight=(lb)180 length=(in)24 width=(in)30 height=(in)22 rear-gap=(in)70 left=(in)20
}
"#;

/// The last of them loose, so that all holds at both ends of its density.
fn with_gravel() -> String {
    FOUR.replace(
        r#"cargo "plate compactor" weight=(lb)500 length=(in)20 width=(in)40 height=(in)36"#,
        r#"bulk "gravel" volume=(yd3)0.2 length=(in)20"#,
    )
}

/// How many sheets of the generated yard are looked at: one in six is at fault.
const SHEETS: usize = 60;

/// A yard but for one sheet, read.
struct Ready {
    sources: Sources,
    still: Vec<FileDefs>,
    materials: Vec<Material>,
    unset: RuleSet,
    rules: RuleSet,
}

/// The fleet of the generated yard.
fn ready() -> Ready {
    let files = generate::files(0);
    let last = FileId(u32::try_from(files.len() + 1).expect("few files"));
    let mut sources = Sources::default();
    let mut still = Vec::new();
    for (name, text) in files {
        let is_yard_file = name == "yard.kdl";
        let file = sources.add(Source::new(name, text.clone()));
        still.push(lower_file(&parse(file, &text).document.expect("KDL"), is_yard_file));
    }
    let materials = builtin_materials(last);
    let unset = RuleSet::working();
    let mut rules = unset.clone();
    let (yard, _) = link(still.clone(), materials.clone());
    assert!(rules.apply(&yard.settings).is_empty());
    Ready { sources, still, materials, unset, rules }
}

fn options() -> Options {
    Options { units: None, today: "2026-06-01".into(), weigh: false, mend: true }
}

impl Ready {
    /// The sheet's text to its findings with fixes.
    fn mended(&self, text: &str) -> Vec<Finding> {
        let mut sources = self.sources.clone();
        let file = sources.add(Source::new("sheet.kdl", text));
        let mut defs = self.still.clone();
        let parsed = parse(file, text);
        defs.push(lower_file(&parsed.document.expect("KDL"), false));
        let (yard, read) = link(defs, self.materials.clone());
        let judged = yard.loads().filter_map(|which| judge(&yard, &self.rules, which, &options())).collect();
        let Gathered { mut findings, .. } = gather(&yard, &self.rules, read, judged);
        let last = FileId(u32::try_from(sources.len()).expect("few files"));
        let bench = Bench::new(&sources, last, &yard, &self.unset, options());
        let added = fix(&bench, &self.rules, findings.iter_mut(), None);
        findings.extend(added);
        findings
    }
}

fn place(bencher: Bencher, text: &str) {
    let ready = ready();
    let file = FileId(u32::try_from(ready.sources.len()).expect("few files"));
    let mut defs = ready.still.clone();
    defs.push(lower_file(&parse(file, text).document.expect("KDL"), false));
    let (yard, _) = link(defs, ready.materials.clone());
    let which = yard.loads().next().expect("a load");
    let found = places(&yard, &ready.rules, which, None).expect("a load");
    assert!(found.missing.is_none() && found.items.len() >= 4, "{:?}", found.missing);
    bencher.bench_local(|| places(&yard, &ready.rules, which, None));
}

#[divan::bench(sample_count = 50, sample_size = 1)]
fn place_of_four_items(bencher: Bencher) {
    place(bencher, FOUR);
}

#[divan::bench(sample_count = 50, sample_size = 1)]
fn place_with_loose_material(bencher: Bencher) {
    place(bencher, &with_gravel());
}

/// The faulty sheets of the generated yard, one after another; what is shown for one is the items' share.
#[divan::bench(sample_count = 10, sample_size = 1)]
fn fixes_of_faulty_sheets(bencher: Bencher) {
    let ready = ready();
    let sheets = generate::files(SHEETS).into_iter().filter(|(name, _)| name.starts_with("sheets/"));
    // Those with a fault that a change of the load cures.
    let cured = |text: &str| ready.mended(text).iter().any(|finding| !finding.fixes.is_empty());
    let faulty: Vec<String> = sheets.map(|(_, text)| text).filter(|text| cured(text)).collect();
    assert!(faulty.len() >= SHEETS / 12, "{}", faulty.len());
    bencher.counter(ItemsCount::new(faulty.len())).bench_local(|| {
        for text in &faulty {
            black_box(ready.mended(text));
        }
    });
}

/// One of them.
#[divan::bench(sample_count = 20, sample_size = 1)]
fn fixes_of_one_faulty_sheet(bencher: Bencher) {
    let ready = ready();
    let sheets = generate::files(SHEETS).into_iter().filter(|(name, _)| name.starts_with("sheets/"));
    let faulty = sheets.map(|(_, text)| text).find(|text| ready.mended(text).iter().any(|one| !one.fixes.is_empty()));
    let faulty = faulty.expect("a faulty sheet");
    bencher.bench_local(|| ready.mended(&faulty));
}

/// Four items that have no place together: every way round is tried before it is said.
#[divan::bench(sample_count = 10, sample_size = 1)]
fn no_place_of_four_items(bencher: Bencher) {
    let ready = ready();
    let found = ready.mended(FOUR);
    assert!(!found.is_empty());
    bencher.bench_local(|| ready.mended(FOUR));
}
