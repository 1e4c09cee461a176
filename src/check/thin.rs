//! Bounds that are kept, but by less than the entries can be off.

use std::sync::Arc;

use super::judge::at_bound;
use super::known::End;
use crate::expr::{Bound, Limit};
use crate::figures::{Figure, Rest, Subject, root_sum_of_squares};
use crate::finding::{Bounded, Finding, Label, Level};
use crate::model::Origin;
use crate::rules::{HalfWidths, Rule};
use crate::units::{Kind, System, show, show_apart};

/// The id of the finding.
const THIN: &str = "margin-thin";

/// A bound that is kept.
pub(super) struct Kept<'r> {
    rule: &'r Rule,
    subject: Subject,
    /// Which end of the density range, by its place.
    pub(super) end: usize,
    figure: &'static Figure,
    bound: Option<&'static Figure>,
    limit: Limit,
    value: f64,
    at: f64,
}

impl<'r> Kept<'r> {
    /// A bound of a named figure that a rule found kept.
    pub(super) fn of(rule: &'r Rule, subject: Subject, end: usize, bound: &Bound<'_>) -> Option<Self> {
        let named = |slot: Option<usize>| slot.and_then(super::judge::slot_figure);
        Some(Self {
            rule,
            subject,
            end,
            figure: named(bound.figure.name)?,
            bound: named(bound.bound.name.or(bound.bound.first_name)),
            limit: bound.limit,
            value: bound.value,
            at: bound.at,
        })
    }

    /// Whether it may be thin by what outlines, ramps and ties can be off, which the quick look leaves out: only a figure that
    /// rests on them, and only where less is left than such entries ever move it by.
    fn rests_on_outlines(&self) -> bool {
        let most = match self.figure.measures.kind() {
            Some(Kind::Length) => 0.05,
            Some(Kind::Mass) => 300.0,
            Some(Kind::Angle) => 3.0,
            Some(Kind::Share) => 0.1,
            _ => 0.0,
        };
        (self.figure.name.starts_with("loading.") || self.figure.name.starts_with("ties.")) && self.slack() < most
    }

    fn slack(&self) -> f64 {
        (self.value - self.at).abs()
    }
}

/// The finding for the thinnest of each rule's bounds, where the entries can be off by more than what is left.
pub(super) fn thin(kept: &[Kept<'_>], ends: &[End<'_>], system: System) -> Vec<Finding> {
    let mut found: Vec<(&Arc<str>, f64, Finding)> = Vec::new();
    for (at, end) in ends.iter().enumerate() {
        let kept: Vec<&Kept<'_>> = kept.iter().filter(|one| one.end == at).collect();
        for one in near(&kept, end) {
            let Some(kind) = one.figure.measures.kind() else { continue };
            let parts = end.parts(one.figure, one.bound, one.subject);
            let spread = root_sum_of_squares(&parts);
            let slack = one.slack();
            let largest = parts.first().and_then(|part| {
                let (rest, half) = end.spreads().rest(part.rest)?;
                Some((rest, half, part.reach))
            });
            let Some(largest) = largest.filter(|_| spread > slack && spread.is_finite()) else { continue };
            let finding = finding(one, end, kind, spread, largest, system);
            let thinness = slack / spread;
            match found.iter_mut().find(|(rule, ..)| **rule == one.rule.id) {
                Some(other) if other.1 <= thinness => {}
                Some(other) => *other = (&one.rule.id, thinness, finding),
                None => found.push((&one.rule.id, thinness, finding)),
            }
        }
    }
    found.into_iter().map(|(_, _, finding)| finding).collect()
}

/// Those that may be thin: quickly told for all at once, so that the entries are gone through only for these. A bound
/// that can be off itself adds its own spread at the most.
fn near<'k, 'r>(kept: &[&'k Kept<'r>], end: &End<'_>) -> Vec<&'k Kept<'r>> {
    let mut asked: Vec<(&Figure, Subject)> = Vec::new();
    let place = |asked: &mut Vec<(&'static Figure, Subject)>, figure: &'static Figure, subject: Subject| {
        let known = asked.iter().position(|(other, of)| std::ptr::eq(*other, figure) && *of == subject);
        known.unwrap_or_else(|| {
            asked.push((figure, subject));
            asked.len() - 1
        })
    };
    let mut places = Vec::with_capacity(kept.len());
    for one in kept {
        let figure = place(&mut asked, one.figure, one.subject);
        let bound = one.bound.filter(|bound| bound.weighed).map(|bound| place(&mut asked, bound, one.subject));
        places.push((figure, bound));
    }
    let spreads = end.statics_spreads(&asked);
    let spread = |at: usize| spreads.get(at).copied().unwrap_or(0.0);
    let close = |(one, (figure, bound)): &(&&'k Kept<'r>, (usize, Option<usize>))| {
        spread(*figure) + bound.map_or(0.0, spread) > one.slack() || one.rests_on_outlines()
    };
    kept.iter().zip(places).filter(close).map(|(one, _)| *one).collect()
}

fn finding(
    one: &Kept<'_>,
    end: &End<'_>,
    kind: Kind,
    spread: f64,
    (rest, half, reach): (&Rest, f64, f64),
    system: System,
) -> Finding {
    let load = &end.load;
    let name = one.figure.result_name(load, one.subject);
    let side = if one.limit == Limit::AtLeast { "least" } else { "most" };
    let message = format!(
        "{}, {}: {}, within {} of the {side} that {} allows; it can be off by {}, most of it from {} {}",
        one.figure.whose(load, one.subject),
        one.figure.noun,
        show_apart(one.value, one.at, kind, system),
        // However little it is, it is not nothing.
        show_apart(one.slack(), 0.0, kind, system),
        one.rule.id,
        show(spread, kind, system),
        rest.owner,
        rest.word,
    );
    let mut finding = Finding::new(THIN, Level::Note, rest.at, message);
    let text =
        format!("{} more or less here moves it by {}", show(half, rest.kind, system), show(reach.abs(), kind, system));
    finding.primary = Label { span: rest.at, text };
    finding.help = better(rest, half).map(|(verb, best)| {
        let left = (spread * spread - reach * reach + (reach * best / half).powi(2)).max(0.0).sqrt();
        format!("{verb} {} {}: that leaves {}", rest.owner, rest.word, show(left, kind, system))
    });
    let bounded = at_bound(name, one.value, Some(kind), one.limit, one.at);
    finding.figure = Some(Bounded { plus_minus: Some(spread), ..bounded });
    finding.source = Some(one.rule.source.shown());
    finding.sheet = Some(Arc::clone(&load.sheet.name.value));
    finding.leg = load.leg.map(|leg| Arc::clone(&leg.name.value));
    finding
}

/// How to know an entry better, and the half-width that leaves; none when it is known as well as it can be.
fn better(rest: &Rest, half: f64) -> Option<(&'static str, f64)> {
    let (verb, origin) = match rest.kind {
        Kind::Mass => ("weigh", Origin::Weighed),
        _ => ("measure", Origin::Measured),
    };
    let best = HalfWidths::shipped().of(&Rest { origin: Some(origin), plus_minus: None, ..rest.clone() });
    (best < half).then_some((verb, best))
}
