//! `on=` and `item=`: names of things in the same load.

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use super::with_near;
use crate::finding::{Finding, Level};
use crate::model::{Entry, Item, Part, Sheet};
use crate::text::{either, nearest_and_only, quoted};

/// What stands outside the legs may name only what stands there too; a leg may name both. A waiver outside the legs
/// may name anything of any leg.
pub(super) fn check(sheet: &Sheet, findings: &mut Vec<Finding>) {
    let base = Aboard { base: &sheet.base.items, leg: &[] };
    base.stacks(&sheet.base, None, findings);
    for leg in &sheet.legs {
        let both = Aboard { base: &sheet.base.items, leg: &leg.part.items };
        both.stacks(&leg.part, Some(&leg.name.value), findings);
        both.waivers(&leg.part, Some(&leg.name.value), findings);
    }
    let items = || sheet.base.items.iter().chain(sheet.legs.iter().flat_map(|leg| &leg.part.items));
    let anywhere: HashSet<&str> = items().map(|item| &*item.id.value).collect();
    for waiver in &sheet.base.waivers {
        if let Some(item) = waiver.item.entry().filter(|item| !anywhere.contains(&*item.value)) {
            findings.push(nothing_aboard(item, items()));
        }
    }
}

/// The items of one load.
struct Aboard<'s> {
    base: &'s [Item],
    leg: &'s [Item],
}

impl<'s> Aboard<'s> {
    fn items(&self) -> impl Iterator<Item = &'s Item> + Clone + use<'s> {
        self.base.iter().chain(self.leg)
    }

    /// What the items of a part stand on.
    fn stacks(&self, part: &Part, leg: Option<&Arc<str>>, findings: &mut Vec<Finding>) {
        if part.items.iter().all(|item| item.on.is_none()) {
            return;
        }
        // Of several items with the same name the first is meant.
        let mut below: HashMap<&str, Option<&str>> = HashMap::new();
        for item in self.items() {
            below.entry(&item.id.value).or_insert_with(|| item.on.as_ref().map(|on| &*on.value));
        }
        for item in &part.items {
            let Some(on) = &item.on else {
                continue;
            };
            let finding = if !below.contains_key(&*on.value) {
                nothing_aboard(on, self.items())
            } else if returns(&item.id.value, &on.value, &below) {
                let message =
                    format!("{} cannot stand on itself, by way of {}", quoted(&item.id.value), quoted(&on.value));
                Finding::new("does-not-add-up", Level::Error, on.at, message).help("name the item that it stands on")
            } else {
                continue;
            };
            findings.push(Finding { leg: leg.cloned(), ..finding });
        }
    }

    /// What the waivers of a leg are narrowed to.
    fn waivers(&self, part: &Part, leg: Option<&Arc<str>>, findings: &mut Vec<Finding>) {
        for waiver in &part.waivers {
            if let Some(item) = waiver.item.entry()
                && !self.items().any(|one| one.id.value == item.value)
            {
                findings.push(Finding { leg: leg.cloned(), ..nothing_aboard(item, self.items()) });
            }
        }
    }
}

/// How many items may stand on one another: no load on a trailer is higher.
const HIGHEST: usize = 32;

/// Whether the way down from `on` comes back to `item`, or does not end.
fn returns(item: &str, on: &str, below: &HashMap<&str, Option<&str>>) -> bool {
    let mut at = Some(on);
    for _ in 0..HIGHEST {
        match at {
            None => return false,
            Some(name) if name == item => return true,
            Some(name) => at = below.get(name).copied().flatten(),
        }
    }
    at.is_some()
}

fn nothing_aboard<'s>(name: &Entry<Arc<str>>, items: impl Iterator<Item = &'s Item> + Clone) -> Finding {
    let message = format!("nothing aboard is called {}", quoted(&name.value));
    let finding = Finding::new("name-unknown", Level::Error, name.at, message);
    let near = nearest_and_only(&name.value, items.clone().map(|item| &*item.id.value));
    let few: Vec<String> = items.take(6).map(|item| quoted(&item.id.value)).collect();
    match near {
        Some((near, only)) => with_near(finding, name, near, only, None),
        None if few.is_empty() => finding.help("delete it, because nothing is aboard"),
        None => finding.help(format!("write one of {}", either(&few))),
    }
}
