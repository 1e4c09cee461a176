//! Findings that a load's waivers accept.

use std::sync::Arc;

use crate::figures::Load;
use crate::finding::{Finding, Level, Waived};
use crate::rules::{Rule, RuleSet};

/// The waiver that accepts a finding of a rule, when one does; `item` is the item it is about. Law, ratings and physics
/// cannot be waived.
pub(super) fn waived(load: &Load<'_>, rule: &Rule, item: Option<&Arc<str>>, today: &str) -> Option<Waived> {
    if rule.is_binding() {
        return None;
    }
    let waiver = load.waivers.iter().find(|waiver| {
        let narrowed = waiver.item.value();
        let ends = waiver.until.value();
        waiver.rule.value == rule.id
            && (waiver.item.is_absent() || (narrowed.is_some() && narrowed.as_ref() == item))
            && ends.is_some_and(|until| *until >= *today)
    })?;
    Some(Waived {
        reason: waiver.reason.value()?.to_string(),
        by: waiver.by.value()?.to_string(),
        until: waiver.until.value()?.to_string(),
    })
}

/// A finding for each waiver of a rule that there is not.
pub(super) fn unknown_rules(load: &Load<'_>, rules: &RuleSet) -> Vec<Finding> {
    let unknown = load.waivers.iter().filter(|waiver| rules.get(&waiver.rule.value).is_none());
    unknown
        .map(|waiver| {
            let named = &waiver.rule;
            let message = format!("there is no rule \"{}\" to waive", named.value);
            let mut finding = Finding::new("name-unknown", Level::Error, named.at, message);
            finding.help = Some(rules.meant(&named.value));
            finding.sheet = Some(Arc::clone(&load.sheet.name.value));
            finding.leg = load.leg.filter(|leg| leg.span.holds(named.at)).map(|leg| Arc::clone(&leg.name.value));
            finding
        })
        .collect()
}
