//! What cures a fault of how an item is tied down: another of its tie-downs at anchors and lash points that are free, more of
//! one that it has, or two that are crossed. Each is looked at on the changed text, and what cures is tried like every fix.
//!
//! Only tie-downs are added that hold the item already: which others there are, and what they bear, a sheet cannot know.

use std::cell::Cell;
use std::sync::Arc;

use super::bench::Bench;
use super::limit::{Limit, Stand};
use super::plan::{beside_last, find};
use super::prove::prove;
use super::resolve::same_load;
use super::ways::{Line, Ways};
use crate::expr::Value;
use crate::figures::{Each, Load, Subject, figure};
use crate::finding::{Edit, Finding, Fix, Grade};
use crate::model::Tie;
use crate::rules::{Rule, RuleSet};
use crate::syntax::{Document, parse};
use crate::text::{Span, quoted};

/// How many changed texts are looked at for one finding.
const MOST_LOOKS: usize = 160;
/// How many more of one tie-down are thought of.
const MOST_MORE: u32 = 6;
/// How many times something is added to what was added.
const MOST_ROUNDS: usize = 3;
/// How many changes that cure a finding are tried for one fix.
const MOST_TRIES: usize = 4;

/// A change of an item's ties, and what it comes to.
struct Change {
    title: String,
    edits: Vec<Edit>,
}

/// How an item would be held with a change made.
#[derive(Clone, Copy, Debug)]
struct Look {
    /// Whether its rules are kept.
    keeps: bool,
    /// How well it is held: the figure that is short, and the weakest direction.
    held: f64,
}

struct Search<'s, 'y> {
    bench: &'s Bench<'s>,
    finding: &'s Finding,
    load: &'s Load<'y>,
    item: usize,
    /// The rule that speaks, and those that keep silent only beside it.
    rules: Vec<&'s Rule>,
    text: &'s str,
    tree: Document,
    looks: Cell<usize>,
}

/// The fixes for a finding about an item's tie-downs.
pub(super) fn fixes(
    bench: &Bench<'_>,
    rules: &RuleSet,
    load: &Load<'_>,
    finding: &Finding,
    cures: &[Arc<str>],
) -> Vec<Fix> {
    if !cures.iter().any(|cure| **cure == *"tie") {
        return Vec::new();
    }
    let Some(search) = Search::new(bench, rules, load, finding) else { return Vec::new() };
    [search.added(), search.counted(), search.crossed()].into_iter().flatten().collect()
}

impl<'s, 'y> Search<'s, 'y> {
    fn new(bench: &'s Bench<'_>, rules: &'s RuleSet, load: &'s Load<'y>, finding: &'s Finding) -> Option<Self> {
        let file = finding.primary.span.file;
        let text = &*bench.sources().get(file)?.text;
        let tree = parse(file, text).document?;
        let holds = |at: Span| find(&tree.nodes, at).is_some_and(|node| node.span.holds(finding.primary.span));
        let item = load.items.iter().position(|one| holds(one.item.owner.at))?;
        let silent = |rule: &&Rule| !rule.off && rule.gives_way_to.iter().any(|(id, _)| **id == *finding.rule);
        let own = rules.get(&finding.rule)?;
        let rules = std::iter::once(own).chain(rules.rules().iter().filter(silent)).collect();
        let looks = Cell::new(MOST_LOOKS);
        Some(Self { bench, finding, load, item, rules, text, tree, looks })
    }

    fn ties(&self) -> &'y [Tie] {
        self.load.items.get(self.item).map_or(&[], |one| &one.item.ties)
    }

    /// How the item is held with edits made. None where that cannot be told, or enough was looked at.
    fn look(&self, edits: &[Edit]) -> Option<Look> {
        self.looks.set(self.looks.get().checked_sub(1)?);
        let tried = self.bench.tried(edits)?;
        let ends = Load::at_both_ends(&tried.yard, same_load(self.load, &tried.yard)?)?;
        let load = ends.first()?;
        let subject = Subject::Item(self.item);
        let stands = |rule: &Rule| -> Vec<Stand> {
            let asks = rule.asks().iter().filter(|ask| ask.each == Each::Item);
            asks.map(|ask| Limit::of(rule, ask, subject).stand(load)).collect()
        };
        let mut rules = self.rules.iter();
        let own = rules.next().is_some_and(|rule| stands(rule).iter().all(|stand| *stand == Stand::Keeps));
        let keeps = own && rules.all(|rule| stands(rule).iter().all(|stand| *stand != Stand::Breaks));
        Some(Look { keeps, held: self.held(load) })
    }

    /// The figure that is short and the weakest direction, one with the other.
    fn held(&self, load: &Load<'_>) -> f64 {
        let of = |name: &str| match figure(name, Each::Item)?.1.of(load, Subject::Item(self.item)).ok()?.value {
            Value::Number(value) => Some(value),
            Value::Text(_) | Value::Flag(_) => None,
        };
        let short = self.finding.figure.as_ref().and_then(|figure| figure.name.rsplit_once('.'));
        let short = short.and_then(|(_, name)| of(&format!("ties.{name}"))).unwrap_or(0.0);
        let ways = ["ties.holds_forward", "ties.holds_rearward", "ties.holds_sideways", "ties.bare_least"];
        short + ways.into_iter().filter_map(of).reduce(f64::min).unwrap_or(0.0)
    }

    fn proven(&self, change: Change) -> Option<Fix> {
        prove(self.bench, self.finding, &change.edits)?;
        Some(Fix { title: change.title, grade: Grade::Change, edits: change.edits })
    }

    /// Ties added where anchors are free: few before many, and of as many those that hold it best.
    fn added(&self) -> Option<Fix> {
        let ways = Ways::of(self.bench, self.load, self.item)?;
        let last = find(&self.tree.nodes, self.ties().last()?.owner.at)?;
        let edit = |lines: &[Line]| {
            let texts: Vec<&str> = lines.iter().map(|line| &*line.text).collect();
            beside_last(last, self.text, &texts)
        };
        let mut chosen: Vec<Line> = Vec::new();
        let mut held = self.held(self.load);
        for _ in 0..MOST_ROUNDS {
            let mut cures: Vec<(usize, f64, Vec<Line>)> = Vec::new();
            let mut best: Option<(f64, Vec<Line>)> = None;
            for more in ways.beside(&chosen) {
                let lines: Vec<Line> = chosen.iter().chain(&more).cloned().collect();
                let Some(look) = self.look(&[edit(&lines)]) else { continue };
                if look.keeps {
                    cures.push((lines.len(), look.held, lines));
                } else if best.as_ref().is_none_or(|(held, _)| look.held > *held) {
                    best = Some((look.held, lines));
                }
            }
            // Rounded, so that what holds alike stays in the order in which it was thought of.
            let even = |held: f64| (held * 1e6).round();
            cures.sort_by(|a, b| a.0.cmp(&b.0).then(even(b.1).total_cmp(&even(a.1))));
            let change = |lines: &[Line]| {
                let texts: Vec<&str> = lines.iter().map(|line| &*line.text).collect();
                Change { title: format!("add {}", texts.join(" and ")), edits: vec![edit(lines)] }
            };
            let fix = cures.iter().take(MOST_TRIES).find_map(|(.., lines)| self.proven(change(lines)));
            if fix.is_some() {
                return fix;
            }
            (held, chosen) = best.filter(|(better, _)| *better > held + 1e-9)?;
        }
        None
    }

    /// More of one tie-down that it has, as few as will do.
    fn counted(&self) -> Option<Fix> {
        for more in 1..=MOST_MORE {
            let mut cures: Vec<(f64, Change)> = Vec::new();
            for tie in self.ties() {
                let Some(now) = tie.count.or(1, &tie.owner, "count").ok() else { continue };
                let count = now + more;
                let edit = if let Some(entry) = tie.count.entry() {
                    Edit::replace(entry.written, count.to_string())
                } else {
                    let Some(node) = find(&self.tree.nodes, tie.owner.at) else { continue };
                    let end = node.head.end as usize;
                    Edit::replace(Span::new(node.head.file, end..end), format!(" count={count}"))
                };
                let edits = vec![edit];
                let Some(look) = self.look(&edits).filter(|look| look.keeps) else { continue };
                let name = quoted(&tie.tiedown.name.value);
                let from = tie.from.value().map_or_else(String::new, |from| format!(" from {}", quoted(&from)));
                let title = format!("use {count} of {name}{from} in place of {now}: count={count}");
                cures.push((look.held, Change { title, edits }));
            }
            cures.sort_by(|a, b| b.0.total_cmp(&a.0));
            let fix = cures.into_iter().take(MOST_TRIES).find_map(|(_, change)| self.proven(change));
            if fix.is_some() {
                return fix;
            }
        }
        None
    }

    /// Two ties that change the points on the item to which they go.
    fn crossed(&self) -> Option<Fix> {
        let mut cures: Vec<(f64, Change)> = Vec::new();
        let direct = |tie: &&Tie| tie.over.value() != Some(true);
        let ties: Vec<&Tie> = self.ties().iter().filter(direct).collect();
        for (at, one) in ties.iter().enumerate() {
            for other in ties.iter().skip(at + 1) {
                let (Some(first), Some(second)) = (one.to.entry(), other.to.entry()) else { continue };
                let (Some(from), Some(other_from)) = (one.from.value(), other.from.value()) else { continue };
                if first.value == second.value || from == other_from {
                    continue;
                }
                let said = |span: Span| self.text.get(span.range()).map(str::to_owned);
                let (Some(first_said), Some(second_said)) = (said(first.written), said(second.written)) else {
                    continue;
                };
                let title = format!(
                    "cross the ties from {} and {}: to={second_said} and to={first_said}",
                    quoted(&from),
                    quoted(&other_from)
                );
                let mut edits =
                    vec![Edit::replace(first.written, second_said), Edit::replace(second.written, first_said)];
                edits.sort_by_key(|edit| edit.span);
                let Some(look) = self.look(&edits).filter(|look| look.keeps) else { continue };
                cures.push((look.held, Change { title, edits }));
            }
        }
        cures.sort_by(|a, b| b.0.total_cmp(&a.0));
        cures.into_iter().take(MOST_TRIES).find_map(|(_, change)| self.proven(change))
    }
}
