//! What a gauge or scale should show, how far that can be off, and what to do when it shows something else.

use super::numbers::Numbers;
use crate::check::known::End;
use crate::figures::{AxleRef, Each, Subject, figure};
use crate::finding::{Finding, Gauge, ReadingLine, Step, WalkLine};
use crate::model;
use crate::units::{Kind, show, show_in};

/// How many entries are named to be measured again for each reading.
const MOST_AGAIN: usize = 3;

/// A figure that is read: its name, of whom, which subject, and what a person reads it on.
type Read = (&'static str, Each, Subject, String);

pub(super) fn lines(
    numbers: &Numbers<'_, '_>,
    end: &End<'_>,
    ranges: bool,
    readings: &[ReadingLine],
    findings: &[Finding],
) -> Vec<WalkLine> {
    let mut lines = vec![WalkLine::Note(
        "read with the rig level and coupled, as it will travel, stands clear of the ground, nobody aboard who does not ride along"
            .to_owned(),
    )];
    if ranges {
        lines.push(WalkLine::Note(
            "loose material is taken at the heaviest of its density range: lighter material reads less".to_owned(),
        ));
    }
    let reads = reads(numbers);
    lines.extend(reads.iter().filter_map(|read| gauge(numbers, read)).map(WalkLine::Gauge));
    lines.extend(readings.iter().map(|one| WalkLine::Note(was_read(numbers, one))));
    let thin = findings.iter().filter(|finding| finding.rule == "margin-thin" && finding.waived.is_none());
    lines.extend(thin.map(|finding| WalkLine::Note(format!("little room: {}", finding.message))));
    lines.push(WalkLine::Note(
        "where a reading differs by more than what it can be off: stop, and measure again what it hangs on most"
            .to_owned(),
    ));
    let asked = [
        ("trailer.tongue", Each::Load, Subject::Whole, "tongue weight"),
        ("trailer.axles.load", Each::Load, Subject::Whole, "what the trailer's axles carry"),
        (
            "axle.load",
            Each::TruckAxle,
            Subject::Axle(AxleRef::Truck(model::End::Front)),
            "what the truck's front axle carries",
        ),
        (
            "axle.load",
            Each::TruckAxle,
            Subject::Axle(AxleRef::Truck(model::End::Rear)),
            "what the truck's rear axle carries",
        ),
    ];
    for (name, each, subject, what) in asked {
        lines.extend(measure_again(numbers, end, (name, each, subject), what).map(WalkLine::Note));
    }
    let accepted = findings.iter().any(|finding| finding.waived.is_some() && finding.figure.is_some());
    let but = if accepted { " but for what a waiver accepts," } else { "" };
    lines.push(WalkLine::Step(Step::new(format!(
        "every reading within its limits,{but} with what the scale itself can be off: until then the rig is not driven"
    ))));
    lines
}

/// What is read, in the order in which a crew comes by it.
fn reads(numbers: &Numbers<'_, '_>) -> Vec<Read> {
    let whole = |name, what: &str| (name, Each::Load, Subject::Whole, what.to_owned());
    let mut reads = vec![
        whole(
            "trailer.tongue",
            "tongue weight, on a tongue gauge or scale, before any weight-distributing bars are set",
        ),
        whole("trailer.tongue_share", "tongue weight divided by the trailer's gross"),
    ];
    let axles = numbers.load.trailer_axles().len();
    for at in 0..axles {
        let subject = Subject::Axle(AxleRef::Trailer(at));
        reads.push(("axle.load", Each::TrailerAxle, subject, format!("{}, on its own", subject.spoken(numbers.load))));
    }
    if axles > 1 {
        reads.push(whole("trailer.axles.load", "all of the trailer's axles together"));
    }
    reads.push(whole("trailer.gross", "the trailer, uncoupled: tongue and axles together"));
    for end in [model::End::Front, model::End::Rear] {
        let subject = Subject::Axle(AxleRef::Truck(end));
        reads.push(("axle.load", Each::TruckAxle, subject, format!("{}, coupled", subject.spoken(numbers.load))));
    }
    reads.push(whole("truck.gross", "the truck's axles together, coupled"));
    reads.push(whole("combination.gross", "truck and trailer together"));
    reads
}

fn gauge(numbers: &Numbers<'_, '_>, (name, each, subject, what): &Read) -> Option<Gauge> {
    let line = numbers.line(name, *each, *subject)?;
    Some(Gauge {
        what: what.clone(),
        figure: line.name.clone(),
        kind: line.kind?,
        value: line.value?,
        plus_minus: line.plus_minus,
        // That nothing may weigh less than nothing is no limit for a scale.
        at_least: line.at_least.as_ref().map(|(value, _)| *value).filter(|least| *least > 0.0),
        at_most: line.at_most.as_ref().map(|(value, _)| *value),
    })
}

/// What the sheet says was read, and whether it agrees.
fn was_read(numbers: &Numbers<'_, '_>, one: &ReadingLine) -> String {
    let read = one.unit.map_or_else(|| show(one.read, one.kind, numbers.system), |unit| show_in(one.read, unit));
    let agrees = match (one.agrees, one.stands) {
        (Some(true), _) => "agrees with what is computed",
        (Some(false), _) => "does not agree with what is computed",
        (None, Some("down")) => "void, because the stands bore",
        (None, _) => "not compared",
    };
    format!("already read on {}: {} {read}: {agrees}", one.name, one.noun)
}

/// The entries that a reading hangs on most, as they are written.
fn measure_again(
    numbers: &Numbers<'_, '_>,
    end: &End<'_>,
    (name, each, subject): (&str, Each, Subject),
    what: &str,
) -> Option<String> {
    let (_, figure) = figure(name, each)?;
    let mut again = Vec::new();
    for part in end.parts(figure, None, subject).iter().take(MOST_AGAIN) {
        let Some((rest, _)) = end.spreads().rest(part.rest) else { continue };
        let verb = if rest.kind == Kind::Mass { "weigh" } else { "measure" };
        let written =
            rest.unit.map_or_else(|| show(rest.value, rest.kind, numbers.system), |unit| show_in(rest.value, unit));
        again.push(format!("{verb} {} {} ({written} in the sheet)", rest.owner, rest.word));
    }
    (!again.is_empty()).then(|| format!("if {what} differs: {}", again.join("; ")))
}
