//! A sheet's text read and judged, and what of that has to do with limits.

use std::collections::BTreeMap;

use draylint::check::{Options, judge};
use draylint::finding::Finding;
use draylint::lower::{FileDefs, builtin_materials, link, lower_file};
use draylint::model::{Material, Yard};
use draylint::rules::RuleSet;
use draylint::syntax::{parse, with_stack};
use draylint::text::FileId;

use crate::jobs::{Job, Otherwise};

/// The files that stay, read once, and the rules as the yard sets them.
pub(crate) struct Pipeline {
    still: Vec<FileDefs>,
    materials: Vec<Material>,
    pub(crate) rules: RuleSet,
}

/// What a rule says of one figure: a limit that is broken.
pub(crate) type Key = (String, Option<String>);

/// A load as a check sees it.
#[derive(Clone, Debug)]
pub(crate) struct Seen {
    /// Whether its weights could be computed.
    pub(crate) computed: bool,
    /// Each broken limit with the value of its figure.
    pub(crate) broken: BTreeMap<Key, f64>,
}

const FLEET: FileId = FileId(0);
const SETTINGS: FileId = FileId(1);
const SHEET: FileId = FileId(2);
pub(crate) const MATERIALS: FileId = FileId(3);

fn lowered(file: FileId, text: &str) -> FileDefs {
    let parsed = parse(file, text);
    assert!(parsed.findings.is_empty(), "{:?}\n{text}", parsed.findings);
    let defs = lower_file(&parsed.document.unwrap(), file == SETTINGS);
    assert!(defs.findings.is_empty(), "{:?}\n{text}", defs.findings);
    defs
}

fn any(file: FileId, text: &str) -> FileDefs {
    lower_file(&parse(file, text).document.expect("KDL"), false)
}

pub(crate) fn options() -> Options {
    Options { units: None, today: "2000-01-01".into(), weigh: false, mend: false }
}

impl Pipeline {
    pub(crate) fn of(job: &Job) -> Self {
        with_stack(|| Self::read(lowered(FLEET, &job.fleet), lowered(SETTINGS, &job.settings), &job.settings))
    }

    /// Of texts that may be at fault.
    pub(crate) fn of_any(fleet: &str, settings: &str) -> Self {
        Self::read(any(FLEET, fleet), lowered(SETTINGS, settings), settings)
    }

    fn read(fleet: FileDefs, settled: FileDefs, settings: &str) -> Self {
        with_stack(|| {
            let mut rules = RuleSet::builtin();
            let still = vec![fleet, settled];
            let materials = builtin_materials(MATERIALS);
            let (yard, _) = link(still.clone(), materials.clone());
            let faults = rules.apply(&yard.settings);
            assert!(faults.is_empty(), "{faults:?}\n{settings}");
            Self { still, materials, rules }
        })
    }

    /// The yard with this sheet.
    pub(crate) fn yard(&self, sheet: &str) -> (Yard, Vec<Finding>) {
        let mut defs = self.still.clone();
        defs.push(lowered(SHEET, sheet));
        link(defs, self.materials.clone())
    }

    /// The yard with a sheet that may be at fault.
    pub(crate) fn yard_of_any(&self, sheet: &str) -> (Yard, Vec<Finding>) {
        let mut defs = self.still.clone();
        defs.push(any(SHEET, sheet));
        link(defs, self.materials.clone())
    }

    /// The sheet judged.
    pub(crate) fn seen(&self, sheet: &str) -> Seen {
        let (yard, _) = self.yard(sheet);
        let which = yard.loads().next().expect("a load");
        let judged = judge(&yard, &self.rules, which, &options()).expect("a load");
        let broken = judged.findings.iter().map(|finding| {
            let name = finding.figure.as_ref().map(|figure| figure.name.clone());
            ((finding.rule.to_string(), name), finding.figure.as_ref().map_or(0.0, |figure| figure.value))
        });
        Seen { computed: judged.not_computed.is_none(), broken: broken.collect() }
    }

    pub(crate) fn with(&self, job: &Job, otherwise: &[Otherwise]) -> Seen {
        self.seen(&job.sheet(otherwise))
    }
}
