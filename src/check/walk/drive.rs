//! On the road: speed, flags, what the law asks of driver and carrier, and where to stop and look again.

use super::numbers::Numbers;
use crate::figures::{Each, Subject};
use crate::finding::{Finding, Level, Step, WalkLine};
use crate::rules::{Piece, RuleSet, Template};

/// Rules that ask for flags.
const FLAGS: [&str; 2] = ["rear-overhang", "side-overhang"];

/// The rule that says when a load is looked at again.
const AGAIN: &str = "recheck-due";

/// How many stops there is room to write down.
const STOPS: usize = 4;

pub(super) fn lines(numbers: &Numbers<'_, '_>, rules: &RuleSet, findings: &[Finding]) -> Vec<WalkLine> {
    let whole = |name: &str| numbers.entry(name, Each::Load, Subject::Whole);
    let mut lines = vec![WalkLine::Step(Step::new(match whole("conditions.speed") {
        Some(speed) => format!("no faster than {speed}, and slower where road, weather or law asks for it"),
        None => "the sheet plans no speed: by the tires' mark and the law, whichever is less".to_owned(),
    }))];
    if let Some(grade) = whole("conditions.grade") {
        lines.push(WalkLine::Note(format!("the steepest grade that the sheet plans for: {grade}")));
    }
    let flags: Vec<&Finding> = findings.iter().filter(|finding| FLAGS.contains(&&*finding.rule)).collect();
    lines.extend(flags.iter().map(|finding| WalkLine::Step(flagged(rules, finding))));
    if flags.is_empty() {
        lines.push(WalkLine::Note("no flags by the numbers of this load".to_owned()));
    }
    let size = |name: &str, what: &str| {
        let known = numbers.known(name, Each::Load, Subject::Whole);
        known.map(|size| WalkLine::Note(format!("{what}: {size}")))
    };
    lines.extend(size("load.height", "highest point of the load above the ground; mind bridges and wires"));
    lines.extend(size("load.width", "trailer and load at their widest"));
    // What the road's own rules note: licence, carrier and the like. What is graver stands in the box at the top.
    let road = |finding: &&Finding| {
        finding.level == Level::Note
            && finding.rule != AGAIN
            && rules.get(&finding.rule).is_some_and(|rule| rule.pack.starts_with("road"))
    };
    lines.extend(findings.iter().filter(road).map(|finding| WalkLine::Step(step(finding))));
    lines
}

/// What projects, and the flags that the rule asks for: a move that would do without them may have taken their place as help.
fn flagged(rules: &RuleSet, finding: &Finding) -> Step {
    let help = rules.get(&finding.rule).and_then(|rule| plain(rule.asks().first()?.help.as_ref()?));
    step(&Finding { help: help.or_else(|| finding.help.clone()), ..finding.clone() })
}

fn step(finding: &Finding) -> Step {
    let mut step = Step::new(finding.message.clone());
    step.more.extend(finding.help.clone());
    step.more.extend(finding.source.clone());
    step
}

/// Where to stop and look again: the rule says when.
pub(super) fn again(rules: &RuleSet, findings: &[Finding]) -> Vec<WalkLine> {
    let due = findings.iter().any(|finding| finding.rule == AGAIN);
    let mut lines = Vec::new();
    if let Some((when, source)) = when(rules) {
        lines.push(WalkLine::Note(format!("{when} ({source})")));
        lines.push(WalkLine::Note(
            if due {
                "a duty on this trip, as the sheet has its carrier"
            } else {
                "a duty of commercial motor vehicles between states; on every other trip the same stops are good practice"
            }
            .to_owned(),
        ));
    }
    lines.push(WalkLine::Step(Step::new(
        "before driving off, once round: ties tight, nothing loose, lights and brakes work",
    )));
    lines.extend((0..STOPS).map(|_| {
        let mut stop = Step::new("tie-downs tight, load where it was, tires and hubs cool");
        stop.blanks = vec![("at", ""), ("time", ""), ("by", "")];
        WalkLine::Step(stop)
    }));
    lines
}

/// What the rule says, whoever it holds for, and where it stands: the times and distances are written there and nowhere else.
fn when(rules: &RuleSet) -> Option<(String, String)> {
    let rule = rules.get(AGAIN)?;
    let when = plain(&rule.asks().first()?.say)?;
    Some((when, rule.source.text.to_string()))
}

/// What a rule says or advises without naming any number of the load.
fn plain(template: &Template) -> Option<String> {
    let text = |piece: &Piece| match piece {
        Piece::Text(text) => Some(text.clone()),
        _ => None,
    };
    let pieces: Option<Vec<String>> = template.pieces.iter().map(text).collect();
    Some(pieces?.concat())
}
