//! A machine on its way up, where its underside comes nearest.

use std::sync::Arc;

use super::scene::{ClimbSeen, ClimbStanding, Notes, Round, Shape};
use super::shape::Body;
use crate::expr::Value;
use crate::figures::climbing::{Climbing, way};
use crate::figures::{Each, Known, Load, OnDeck, Reading, Subject, figure};
use crate::physics::{Climb, ClimbAt, Standing};
use crate::units::Length;

/// A machine's way up, as far as it is known.
pub(super) fn climb(load: &Load<'_>, at: usize, one: &OnDeck<'_>) -> ClimbSeen {
    let mut seen = ClimbSeen {
        item: Arc::clone(&one.label),
        way: None,
        ramp: false,
        ground: 0.0,
        standing: None,
        missing: None,
        notes: Notes::default(),
    };
    let way = match way(load) {
        Ok(way) => way,
        Err(lack) => {
            seen.missing = Some(lack.to_string());
            return seen;
        }
    };
    (seen.ramp, seen.ground) = (way.ramp.is_some(), way.foot_rise.si());
    match way.corners() {
        Ok(corners) => {
            let point = |at: ClimbAt| (at.ahead.si(), at.up.si());
            let top = corners.dovetail_top.map(point);
            seen.way = Some([Some(point(corners.foot)), Some(point(corners.edge)), top, Some(point(corners.front))]);
        }
        Err(error) => {
            seen.missing = Some(error.to_string());
            return seen;
        }
    }
    let mut notes = Notes::default();
    match standing(load, at, one, &mut notes) {
        Ok(standing) => seen.standing = Some(standing),
        Err(lack) => seen.missing = Some(lack.to_string()),
    }
    seen.notes = notes;
    seen
}

fn standing(load: &Load<'_>, at: usize, one: &OnDeck<'_>, notes: &mut Notes) -> Known<ClimbStanding> {
    let climbing = Climbing::of(load, at)?;
    if let Some(lack) = climbing.unseen() {
        return Err(lack);
    }
    let asked = |name: &str| -> Known<Reading> {
        let (_, figure) = figure(name, Each::Machine).ok_or_else(|| climbing.machine.owner.lacks("underside"))?;
        figure.of(load, Subject::Item(at))
    };
    let clearance = asked("loading.clearance")?;
    let number = |value: &Value| if let Value::Number(number) = value { *number } else { 0.0 };
    let word = |name: &str| -> Known<Arc<str>> {
        Ok(if let Value::Text(word) = asked(name)?.value { word } else { "".into() })
    };
    let off = number(&asked("loading.tight_off")?.value);
    let past = &*word("loading.tight_side")? == "past";
    let standing = climbing.ask(Climb::standing)?.ok_or_else(|| climbing.machine.owner.lacks("underside"))?;
    let body = Body::of(load, one, climbing.machine, false)?;
    for lack in &body.lacks {
        if !matches!(lack, crate::figures::Lack::Entry(missing) if missing.word == "width") {
            notes.assumes(lack);
        }
    }
    let at = |arm: f64, up: f64| point(&standing, arm, up);
    let line = |points: &[(f64, f64)]| points.iter().map(|(arm, up)| at(*arm, *up)).collect::<Vec<_>>();
    let gap = [standing.gap.0, standing.gap.1].map(|at| (at.ahead.si(), at.up.si()));
    Ok(ClimbStanding {
        shapes: body.shapes.iter().map(|(corners, given)| Shape { corners: line(corners), given: *given }).collect(),
        undersides: body.undersides.iter().map(|under| line(under)).collect(),
        wheels: body
            .wheels
            .iter()
            .map(|(arm, radius, given)| Round { at: at(*arm, *radius), radius: *radius, given: *given })
            .collect(),
        tracks: body.tracks.map(|(rear, front)| [at(rear, 0.0), at(front, 0.0)]),
        gap,
        clearance: number(&clearance.value),
        part: word("loading.tight_part")?,
        spot: word("loading.tight_spot")?,
        lead: if past { off } else { -off },
        open: clearance.open.map(|lack| lack.to_string()),
    })
}

fn point(standing: &Standing, arm: f64, up: f64) -> (f64, f64) {
    let at = standing.place(Length::new(arm), Length::new(up));
    (at.ahead.si(), at.up.si())
}
