//! A text through the whole pipeline, to the JSON that `weigh` writes.

use draylint::check::{Options, judge};
use draylint::finding::Finding;
use draylint::lower::{link, lower_file};
use draylint::render::json::weigh;
use draylint::rules::RuleSet;
use draylint::syntax::{parse, with_stack};
use draylint::text::{FileId, Source, Sources};
use serde_json::Value;

/// What `weigh --format json` says of a text's one load, and what reading the text found but for `never-used`.
pub(crate) fn weighed(text: &str) -> (Value, Vec<Finding>) {
    let mut sources = Sources::default();
    let file: FileId = sources.add(Source::new("job.kdl", text));
    let (yard, mut findings) = with_stack(|| {
        let parsed = parse(file, text);
        assert!(parsed.findings.is_empty(), "{:?}\n{text}", parsed.findings);
        link(vec![lower_file(&parsed.document.unwrap(), false)], Vec::new())
    });
    findings.retain(|finding| finding.rule != "never-used");
    let which = yard.loads().next().expect("a load");
    let options = Options { units: None, today: "2000-01-01".into(), weigh: true, mend: false };
    let judged = judge(&yard, &RuleSet::builtin(), which, &options).unwrap();
    (serde_json::from_str(&weigh(&sources, &[judged.figures])).unwrap(), findings)
}
