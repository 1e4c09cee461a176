//! How fast a yard is checked, where the time goes, what memory it takes, and whether all of it grows in proportion.
//!
//! `cargo bench --bench yard` runs everything on two threads of a generated yard: first the whole command by size of the
//! yard, as divan reports it; then a table of the steps at 1,000 sheets, in microseconds a sheet of one core, with the
//! kdl crate's own parsing told apart; then peak memory by size, each in a process of its own.

#![expect(clippy::print_stdout, reason = "a benchmark reports to the terminal")]

mod generate;

use std::hint::black_box;
use std::path::Path;
use std::process::Command;
use std::sync::LazyLock;
use std::time::{Duration, Instant};

use divan::Bencher;
use divan::counter::ItemsCount;
use draylint::check::{Judged, Options, gather, judge};
use draylint::finding::Report;
use draylint::lower::{FileDefs, builtin_materials, link, lower_file};
use draylint::model::LoadRef;
use draylint::render::{Style, TextRenderer, json, report as pages};
use draylint::rules::RuleSet;
use draylint::syntax::{Parsed, parse, pool, with_stack};
use draylint::text::FileId;
use draylint::yard::{self, Checked, Narrowed, Progress, Site, Wanted};
use rayon::prelude::*;
use tempfile::TempDir;

/// Sizes of yard, in sheets.
const SIZES: [usize; 3] = [100, 1_000, 10_000];
/// The size at which steps are told apart.
const STEPS_AT: usize = 1_000;
/// How often each step is run; its median counts.
const RUNS: usize = 9;
/// Set for a process that only reports its peak memory, to the number of sheets.
const PEAK: &str = "YARD_BENCH_PEAK";

/// Two threads with room for the parser.
static POOL: LazyLock<rayon::ThreadPool> = LazyLock::new(|| pool().num_threads(2).build().expect("threads"));

fn main() {
    if let Some(sheets) = std::env::var(PEAK).ok().and_then(|sheets| sheets.parse().ok()) {
        let yard = on_disk(sheets);
        black_box(POOL.install(|| text(&check(yard.path()))));
        println!("{}", peak().map_or_else(|| "not known".to_owned(), |kib| format!("{:.1} MiB", kib / 1024.0)));
        return;
    }
    divan::main();
    if std::env::args().any(|argument| ["--test", "--list"].contains(&&*argument)) {
        return;
    }
    with_stack(steps);
    memory();
}

/// The whole command: read, parse, lower, link, judge, gather, write as text.
#[divan::bench(args = SIZES, sample_count = 3, sample_size = 1)]
fn check_to_text(bencher: Bencher, sheets: usize) {
    let yard = on_disk(sheets);
    bencher.counter(ItemsCount::new(sheets)).bench_local(|| POOL.install(|| text(&check(yard.path()))));
}

/// The same, written as JSON.
#[divan::bench(args = SIZES, sample_count = 3, sample_size = 1)]
fn check_to_json(bencher: Bencher, sheets: usize) {
    let yard = on_disk(sheets);
    bencher.counter(ItemsCount::new(sheets)).bench_local(|| POOL.install(|| json::check(&report(&check(yard.path())))));
}

/// A report: what cures each finding looked for, every load drawn, the pages written. Slower by far, so fewer sheets.
#[divan::bench(args = [100, 1_000], sample_count = 3, sample_size = 1)]
fn report_to_pages(bencher: Bencher, sheets: usize) {
    let yard = on_disk(sheets);
    let options = Options { mend: true, ..options() };
    bencher.counter(ItemsCount::new(sheets)).bench_local(|| {
        let home = tempfile::tempdir().expect("a folder");
        let site = Site::begin(&home.path().join("report")).expect("a folder that is not there");
        POOL.install(|| {
            let made = yard::report(
                &[yard.path().to_path_buf()],
                &Narrowed::default(),
                &options,
                &Progress::default(),
                |one| {
                    let page = pages::sheet(&one, &options.today, false);
                    site.put(&page.name, &page.text).expect("a page");
                },
            );
            black_box(made.expect("a yard").sheets.len());
        });
        site.finish().expect("a report");
    });
}

/// Nothing but the kdl crate's parser on the same texts.
#[divan::bench(args = SIZES, sample_count = 3, sample_size = 1)]
fn kdl_alone(bencher: Bencher, sheets: usize) {
    let files = generate::files(sheets);
    let kdl = || files.par_iter().for_each(|(_, text)| drop(black_box(kdl::KdlDocument::parse(text))));
    bencher.counter(ItemsCount::new(sheets)).bench_local(|| POOL.install(kdl));
}

/// A yard without a sheet: what every run pays first.
#[divan::bench(sample_count = 20, sample_size = 1)]
fn check_empty_yard(bencher: Bencher) {
    let yard = on_disk(0);
    bencher.bench_local(|| POOL.install(|| text(&check(yard.path()))));
}

fn on_disk(sheets: usize) -> TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    for (name, text) in generate::files(sheets) {
        let path = folder.path().join(name);
        std::fs::create_dir_all(path.parent().expect("a folder")).expect("a folder");
        std::fs::write(path, text).expect("a file");
    }
    folder
}

fn options() -> Options {
    Options { units: None, today: "2026-06-01".into(), weigh: false, mend: false }
}

fn check(root: &Path) -> Checked {
    yard::check(&[root.to_path_buf()], &Narrowed::default(), &options(), &Progress::default()).expect("a yard")
}

fn report(checked: &Checked) -> Report<'_> {
    let Checked { sources, findings, files, loads, .. } = checked;
    Report { sources, findings, files: *files, loads: loads.len() }
}

fn text(checked: &Checked) -> String {
    TextRenderer::new(Style::PLAIN).report(&report(checked), false)
}

/// Runs a step on its input, which is made anew each time, and gives the median.
fn median<I, T>(input: impl Fn() -> I, step: impl Fn(I) -> T) -> Duration {
    let mut times: Vec<Duration> = (0..RUNS)
        .map(|_| {
            let input = input();
            let start = Instant::now();
            black_box(step(black_box(input)));
            start.elapsed()
        })
        .collect();
    times.sort();
    times[RUNS / 2]
}

/// One text's quickest of several runs, so that a difference of two of them means something.
fn quickest<T>(step: impl Fn() -> T) -> Duration {
    let run = || {
        let start = Instant::now();
        drop(black_box(step()));
        start.elapsed()
    };
    (0..RUNS).map(|_| run()).min().unwrap_or_default()
}

/// Every step by itself, on one thread.
fn steps() {
    let files = generate::files(STEPS_AT);
    let bytes: usize = files.iter().map(|(_, text)| text.len()).sum();
    println!("\n{STEPS_AT} sheets, {} bytes a sheet with its fleet; microseconds a sheet, one core", bytes / STEPS_AT);
    let folder = on_disk(STEPS_AT);
    let ids = || (0u32..).map(FileId);
    let parsed: Vec<Parsed> = ids().zip(&files).map(|(id, (_, text))| parse(id, text)).collect();
    let lowered = || -> Vec<FileDefs> {
        parsed
            .iter()
            .map(|parsed| parsed.document.as_ref().map(|doc| lower_file(doc, false)).unwrap_or_default())
            .collect()
    };
    let materials = builtin_materials(FileId(u32::MAX));
    let linked = || link(lowered(), materials.clone());
    let (yard, read) = linked();
    let rules = RuleSet::builtin();
    let loads: Vec<LoadRef> = yard.loads().collect();
    let judged =
        || -> Vec<Judged> { loads.iter().filter_map(|load| judge(&yard, &rules, *load, &options())).collect() };
    let checked = check(folder.path());
    let one = rayon::ThreadPoolBuilder::new().num_threads(1).build().expect("a thread");
    println!("{} loads, {} findings", loads.len(), checked.findings.len());

    // The parser takes most of the time, and the rest of `syntax` is told from it by difference: on a part of the texts,
    // each at its quickest.
    let (mut kdl, mut syntax, mut part) = (Duration::ZERO, Duration::ZERO, 0);
    for (_, text) in files.iter().filter(|(name, _)| name.starts_with("sheets/")).step_by(10) {
        kdl += quickest(|| kdl::KdlDocument::parse(text));
        syntax += quickest(|| parse(FileId(0), text));
        part += 1;
    }
    let each = |time: Duration, sheets: u32| time.as_secs_f64() * 1e6 / f64::from(sheets);
    let all = u32::try_from(STEPS_AT).unwrap_or(u32::MAX);
    let walk = Wanted { root: folder.path().to_path_buf(), asked: Vec::new() };
    let texts = || files.iter().map(|(name, _)| std::fs::read(walk.root.join(name))).collect::<Vec<_>>();
    let rows = [
        ("read the files", each(median(|| (), |()| texts()), all)),
        ("syntax without kdl", each(syntax.saturating_sub(kdl), part)),
        ("lower", each(median(|| (), |()| lowered()), all)),
        ("link", each(median(lowered, |defs| link(defs, materials.clone())), all)),
        ("judge", each(median(|| (), |()| judged()), all)),
        (
            "gather",
            each(median(|| (read.clone(), judged()), |(read, judged)| gather(&yard, &rules, read, judged)), all),
        ),
        ("write as text", each(one.install(|| median(|| (), |()| text(&checked))), all)),
    ];
    let json = each(one.install(|| median(|| (), |()| json::check(&report(&checked)))), all);
    let kdl = each(kdl, part);
    let ours: f64 = rows.iter().map(|(_, time)| time).sum();
    for (name, time) in rows {
        println!("  {name:<20}{time:>9.1}");
    }
    println!("  {:<20}{ours:>9.1}", "all but kdl");
    println!("  {:<20}{kdl:>9.1}  {:.1} % of the whole", "kdl itself", 100.0 * kdl / (kdl + ours));
    println!("  {:<20}{json:>9.1}  in place of text", "write as JSON");
}

/// Peak memory of a check that writes text, by size.
fn memory() {
    println!("\npeak memory of a check");
    for sheets in SIZES {
        let exe = std::env::current_exe().expect("this program");
        let out = Command::new(exe).env(PEAK, sheets.to_string()).output().expect("a process");
        println!("  {sheets:>6} sheets {:>12}", String::from_utf8_lossy(&out.stdout).trim());
    }
}

/// The most memory this process has held, in KiB, where the system tells it.
fn peak() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    line.split_whitespace().next()?.parse().ok()
}
