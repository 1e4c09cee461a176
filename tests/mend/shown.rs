//! What a check shows of the fixes: the help, the waived, and two findings that one change cures.

use draylint::finding::{Finding, Grade};

use crate::judged::judged;

/// The fleet and a sheet on it, as `tests/cli` has them: a gap of g inches leaves 450 + 6,000 x (123 - g) / 207 lb of
/// 9,450 lb on the hitch.
const FLEET: &str = include_str!("fleet.kdl");

fn sheet(name: &str, gap: u32, more: &str) -> String {
    format!(
        "sheet \"{name}\" {{\n truck \"pickup\"\n trailer \"flat\"\n conditions speed=(mph)55\n cargo \"pallet\" \
         weight=(lb)6000 length=(in)48 width=(in)44 height=(in)40 front-gap=(in){gap}\n{more}}}\n"
    )
}

fn findings(sheet: &str) -> Vec<Finding> {
    let files = [("yard.kdl", "yard \"Test Yard\" { follow \"none\"; }\n"), ("fleet.kdl", FLEET), ("a.kdl", sheet)];
    judged(&files.map(|(name, text)| (name.to_owned(), text.to_owned())), true).findings
}

#[test]
fn a_proven_fix_is_the_help() {
    let found = findings(&sheet("a", 112, ""));
    let light = found.iter().find(|one| one.rule == "tongue-light").expect("8.1 % on the hitch");
    let [fix] = &light.fixes[..] else { panic!("{light:#?}") };
    assert_eq!(light.help.as_deref(), Some(&*fix.title));
    assert_eq!(fix.grade, Grade::Change);
    // 10 % of 9,450 lb is 945 lb: 123 - (945 - 450) x 207 / 6,000 = 105.9 in, so 105 on a tape of whole inches; but there
    // the margin is thinner than the numbers can be off, which would be a finding that was not there before.
    let thin = findings(&sheet("a", 105, ""));
    assert_eq!(thin.iter().map(|one| &*one.rule).collect::<Vec<_>>(), ["margin-thin"]);
    assert!(findings(&sheet("a", 104, "")).is_empty());
    assert!(fix.title.starts_with("move pallet 8 in forward: front-gap=(in)104; anything from "), "{}", fix.title);
    // 15 %: 123 - (1,417.5 - 450) x 207 / 6,000 = 89.6 in, so 89.625 to 105.875 on a tape of eighths.
    assert!(fix.title.ends_with("from 89.625 in to 105.875 in keeps every limit"), "{}", fix.title);
}

#[test]
fn a_waived_finding_gets_no_fix() {
    let waive = " waive \"tongue-heavy\" reason=\"two miles of farm lane\" by=\"yard foreman\" until=\"2099-01-01\"\n";
    let found = findings(&sheet("a", 80, waive));
    let heavy = found.iter().find(|one| one.rule == "tongue-heavy").expect("17.9 % on the hitch");
    assert!(heavy.waived.is_some() && heavy.fixes.is_empty(), "{heavy:#?}");
    let found = findings(&sheet("a", 80, ""));
    assert!(found.iter().any(|one| one.rule == "tongue-heavy" && !one.fixes.is_empty()), "without it there is one");
}

#[test]
fn two_findings_that_one_change_cures_name_it_both() {
    // A drum more than half over the front edge both reaches over it and tips off.
    let more = " cargo \"drum\" weight=(lb)400 length=(in)24 width=(in)24 height=(in)40 front-gap=(in)-13\n";
    let found = findings(&sheet("a", 98, more));
    let of =
        |rule: &str| found.iter().filter(move |one| one.rule == rule).flat_map(|one| &one.fixes).collect::<Vec<_>>();
    let (wall, tips) = (of("over-the-wall"), of("tips-off"));
    assert_eq!(wall.len(), 1, "{found:#?}");
    assert_eq!(wall, tips, "one change, said twice");
}
