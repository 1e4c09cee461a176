//! Waivers: what they accept, when they have ended, and which accept nothing.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::Judged;
use crate::figures::Load;
use crate::finding::{Finding, Level, Waived};
use crate::model::{LoadRef, Waiver, Yard};
use crate::rules::{Rule, RuleSet};
use crate::text::Span;

/// What a waiver did for one load.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WaiverUse {
    /// The waiver, by its node.
    pub at: Span,
    /// What became of it.
    pub did: Did,
}

/// What a waiver did.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Did {
    /// It accepted a finding, or would have if another had not spoken of the same fault.
    Accepted,
    /// There was nothing to accept.
    Nothing,
    /// Its rule could not be judged, or what is wrong with the waiver itself has been reported.
    NotKnown,
}

/// The waiver that accepts a finding of a rule, by its place among the load's; `item` is the item that the finding is about.
/// Law, ratings and physics cannot be waived.
pub(super) fn accepting(load: &Load<'_>, rule: &Rule, item: Option<&Arc<str>>, today: &str) -> Option<usize> {
    if rule.is_binding() {
        return None;
    }
    load.waivers.iter().position(|waiver| {
        let narrowed = waiver.item.value();
        waiver.rule.value == rule.id
            && (waiver.item.is_absent() || (narrowed.is_some() && narrowed.as_ref() == item))
            && is_whole(waiver)
            && waiver.until.value().is_some_and(|until| *until >= *today)
    })
}

/// The same as a finding tells it.
pub(super) fn waived(load: &Load<'_>, rule: &Rule, item: Option<&Arc<str>>, today: &str) -> Option<Waived> {
    let waiver = load.waivers.get(accepting(load, rule, item, today)?)?;
    Some(Waived {
        reason: waiver.reason.value()?.to_string(),
        by: waiver.by.value()?.to_string(),
        until: waiver.until.value()?.to_string(),
    })
}

/// Whether a waiver says all that it must.
fn is_whole(waiver: &Waiver) -> bool {
    [&waiver.reason, &waiver.by, &waiver.until].into_iter().all(|said| said.entry().is_some())
}

/// A finding for each waiver of a rule that there is not, and for each that has ended.
pub(super) fn at_fault(load: &Load<'_>, rules: &RuleSet, today: &str) -> Vec<Finding> {
    let mut found = Vec::new();
    for waiver in &load.waivers {
        let Some(rule) = rules.get(&waiver.rule.value) else {
            found.push(unknown(load, waiver, rules));
            continue;
        };
        if ENDED.is_on(rules) {
            found.extend(ended(waiver, rule, today).map(|finding| named(load, waiver, finding)));
        }
    }
    found
}

fn unknown(load: &Load<'_>, waiver: &Waiver, rules: &RuleSet) -> Finding {
    let rule = &waiver.rule;
    let message = format!("there is no rule \"{}\" to waive", rule.value);
    named(load, waiver, Finding::new("name-unknown", Level::Error, rule.at, message).help(rules.meant(&rule.value)))
}

/// With the load that a waiver's finding belongs to: a waiver of the whole sheet belongs to no leg.
fn named(load: &Load<'_>, waiver: &Waiver, mut finding: Finding) -> Finding {
    finding.sheet = Some(Arc::clone(&load.sheet.name.value));
    finding.leg = load.leg.filter(|leg| leg.span.holds(waiver.owner.at)).map(|leg| Arc::clone(&leg.name.value));
    finding
}

/// A rule about waivers, by its id.
struct About(&'static str);

const ENDED: About = About("waiver-ended");
const UNUSED: About = About("waiver-unused");

impl About {
    fn is_on(&self, rules: &RuleSet) -> bool {
        rules.get(self.0).is_some_and(|rule| !rule.off)
    }
}

/// The finding on a waiver that held until before this day.
fn ended(waiver: &Waiver, rule: &Rule, today: &str) -> Option<Finding> {
    let until = waiver.until.entry().filter(|until| *until.value < *today)?;
    // Only a day of the calendar is given; the last one there is has no day after it.
    let day: jiff::civil::Date = until.value.parse().ok()?;
    let since = day.tomorrow().ok()?;
    let what = if rule.is_binding() {
        format!("{} rests on {} and was never accepted by it", rule.id, authority(rule))
    } else {
        format!("what it accepted of {} counts again", rule.id)
    };
    let message = format!("this waiver held through {day} and is over since {since}: {what}");
    let help = if rule.is_binding() {
        "delete the waiver, and mend what the rule finds"
    } else {
        "mend what the rule finds and delete the waiver, or have it accepted anew with a later until="
    };
    let mut finding = Finding::new(ENDED.0, Level::Warning, until.at, message).help(help);
    finding.labels.push(crate::finding::Label { span: waiver.rule.at, text: "the rule that it waived".to_owned() });
    Some(finding)
}

/// On whose authority a rule stands that cannot be waived.
fn authority(rule: &Rule) -> &'static str {
    if rule.source.kind.binds() { rule.source.kind.word() } else { "how a sheet is read" }
}

/// What each waiver of a load did. `accepted` are the places of those that accepted something, `open` the rules that could
/// not be judged.
pub(super) fn uses(
    load: &Load<'_>,
    accepted: &BTreeSet<usize>,
    open: &BTreeSet<&str>,
    computed: bool,
    today: &str,
) -> Vec<WaiverUse> {
    let did = |(at, waiver): (usize, &&Waiver)| {
        let narrowed = waiver.item.value();
        // An item that is not aboard is reported where it is named, and a waiver that has ended by a finding of its own.
        let lost =
            !waiver.item.is_absent() && !narrowed.is_some_and(|item| load.items.iter().any(|one| one.label == item));
        let over = waiver.until.value().is_some_and(|until| *until < *today);
        let did = if accepted.contains(&at) {
            Did::Accepted
        } else if !is_whole(waiver) || lost || over || !computed || open.contains(&*waiver.rule.value) {
            Did::NotKnown
        } else {
            Did::Nothing
        };
        WaiverUse { at: waiver.owner.at, did }
    };
    load.waivers.iter().enumerate().map(did).collect()
}

/// A finding for each waiver that accepted nothing in any load that it holds for. It is claimed only of sheets of which
/// every load was judged.
#[must_use]
pub fn unused_waivers(yard: &Yard, rules: &RuleSet, judged: &[Judged]) -> Vec<Finding> {
    let mut found = Vec::new();
    if !UNUSED.is_on(rules) {
        return found;
    }
    let sheets: BTreeSet<usize> = judged.iter().map(|one| one.which.sheet).collect();
    for at in sheets {
        let Some(sheet) = yard.sheets.get(at) else { continue };
        let own: Vec<&Judged> = judged.iter().filter(|one| one.which.sheet == at).collect();
        let seen: BTreeSet<LoadRef> = own.iter().map(|one| one.which).collect();
        if seen.len() != sheet.legs.len().max(1) {
            continue;
        }
        let legs = sheet.legs.iter().map(|leg| (Some(leg), &leg.part));
        for (leg, part) in std::iter::once((None, &sheet.base)).chain(legs) {
            for waiver in &part.waivers {
                let uses = || own.iter().flat_map(|one| &one.waivers).filter(|one| one.at == waiver.owner.at);
                if uses().next().is_none() || uses().any(|one| one.did != Did::Nothing) {
                    continue;
                }
                let Some(rule) = rules.get(&waiver.rule.value) else { continue };
                let mut finding = unused(waiver, rule);
                finding.sheet = Some(Arc::clone(&sheet.name.value));
                finding.leg = leg.map(|leg| Arc::clone(&leg.name.value));
                found.push(finding);
            }
        }
    }
    found
}

fn unused(waiver: &Waiver, rule: &Rule) -> Finding {
    let id = &rule.id;
    let (message, help) = if rule.is_binding() {
        let on = authority(rule);
        (
            format!("{id} rests on {on}, which no waiver accepts: this one does nothing"),
            "delete it, and mend what the rule finds",
        )
    } else if rule.off {
        (format!("{id} is off in this yard: this waiver does nothing"), "delete it")
    } else {
        (
            format!("this waiver accepted nothing: {id} found nothing where it holds"),
            "delete it, or correct what it names",
        )
    };
    Finding::new(UNUSED.0, Level::Warning, waiver.rule.at, message).help(help)
}
