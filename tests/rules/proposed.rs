//! What findings propose where an entry is missing, and for a misspelt rule or parameter.

use std::collections::BTreeSet;

use draylint::finding::{Finding, Grade};
use draylint::text::FileId;
use rayon::prelude::*;

use crate::deletions::deletions;
use crate::texts::{EXAMPLES, RULES, Text, Texts};

/// The rules that say what is missing.
const MISSING: [&str; 3] = ["cannot-tell", "rating-missing", "missing-entry"];

/// What the findings of a yard advise to add; each must be advice, and the help the same.
fn advised(findings: &[Finding]) -> BTreeSet<String> {
    let mut all = BTreeSet::new();
    for finding in findings.iter().filter(|one| MISSING.contains(&&*one.rule)) {
        // What nothing published tells cannot be added, and what is broken is mended where that is told.
        let Some(help) = finding.help.as_ref().filter(|help| !help.starts_with("mend what")) else { continue };
        let [fix] = finding.fixes.as_slice() else { panic!("{finding:?}") };
        assert_eq!((fix.grade, &fix.title, fix.edits.len()), (Grade::Advice, help, 0));
        all.insert(help.clone());
    }
    all
}

/// How an entry is written, without where.
fn form(advice: &str) -> &str {
    let end = [" to ", " in its braces"].into_iter().filter_map(|after| advice.find(after)).min();
    &advice[..end.unwrap_or(advice.len())]
}

#[test]
fn what_is_missing_is_shown_in_the_form_of_the_language() {
    // Every other one is enough for nearly all forms.
    let fails = EXAMPLES.iter().filter(|(_, one, _)| one.fails).step_by(2);
    let examples: Vec<&Texts> = fails.map(|(.., texts)| texts).collect();
    let all: BTreeSet<String> = draylint::syntax::pool().build().unwrap().install(|| {
        let of = |texts: &&Texts| {
            let gone = deletions(texts).into_iter().map(|gone| texts.replaced(gone.span, ""));
            gone.flat_map(|yard| advised(&yard.judged().findings)).collect::<BTreeSet<_>>()
        };
        examples.par_iter().map(of).reduce(BTreeSet::new, |mut all, more| {
            all.extend(more);
            all
        })
    });
    // Each has its form, and not its name alone.
    let bare = |advice: &&String| !form(advice).contains(['…', '"', '#']);
    assert_eq!(all.iter().filter(bare).collect::<Vec<_>>(), Vec::<&String>::new());
    let forms: BTreeSet<&str> = all.iter().map(|advice| form(advice)).collect();
    assert!(forms.len() > 40, "{forms:#?}");
    insta::assert_snapshot!(forms.into_iter().collect::<Vec<_>>().join("\n"));
}

/// What the settings of a yard do wrong.
fn set(line: &str) -> (String, Vec<Finding>) {
    let text = format!("yard \"Heron Fork\" {{ // kept\n  {line} // kept too\n}}\n");
    let read = Text::read(FileId(0), "yard.kdl", &text, true);
    assert_eq!(read.defs.findings, [], "{line}");
    let findings = RULES.clone().apply(read.defs.settings.as_ref().expect("settings"));
    (text, findings)
}

#[test]
fn a_misspelt_rule_or_parameter_is_put_right() {
    for (line, mended) in [
        ("set \"tongue-lihgt\" low=(pct)11", "set \"tongue-light\" low=(pct)11"),
        ("set tongue-lihgt low=(pct)11", "set tongue-light low=(pct)11"),
        ("set \"tongue-light\" lwo=(pct)11", "set \"tongue-light\" low=(pct)11"),
    ] {
        let (mut text, findings) = set(line);
        assert_eq!(findings.len(), 1, "{line}: {findings:#?}");
        let [fix] = findings[0].fixes.as_slice() else { panic!("{line}: {findings:#?}") };
        let [edit] = fix.edits.as_slice() else { panic!("{fix:?}") };
        assert_eq!((fix.grade, Some(&fix.title)), (Grade::Notation, findings[0].help.as_ref()));
        text.replace_range(edit.span.range(), &edit.text);
        let (whole, left) = set(mended);
        assert_eq!((text, left), (whole, Vec::new()));
    }
    for line in ["set \"tongue-lighter-still\" low=(pct)11", "set \"tongue-light\" upper=(pct)11"] {
        assert!(set(line).1.iter().all(|finding| finding.fixes.is_empty()), "{line}");
    }
}
