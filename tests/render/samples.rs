//! Two files of a yard, and findings and figures about them. The values only show the form.

use std::sync::Arc;

use draylint::finding::{
    Bounded, Edit, FigureLine, Finding, Fix, Grade, Label, Level, LoadFigures, ReadingLine, Report, Undecided, Waived,
};
use draylint::text::{FileId, Source, Sources, Span};
use draylint::units::{Kind, System};

pub(crate) const SHEET: &str = r#"sheet "trencher-move" {
    describe "trencher to a drainage job, blade on"
    truck "rook"
    trailer "sled-20"
    conditions deck="wet" speed=(mph)55 grade=(pct)6
    aboard-truck "tool chest" weight=(lb)420 ahead-of-rear-axle=(in)18

    machine "trencher-30" facing="forward" front-gap=(in)50 {
        fit "backfill-blade"
        parking-brake #true
        tie "chain-38" from="front-left"  to="front-left"
        tie "chain-38" from="front-right" to="front-right"
    }
    cargo "pipe coil" weight=(lb)380 length=(in)44 width=(in)44 height=(in)40 rear-gap=(in)6 {
        tie "strap-3" over=#true count=2 from="rear-left" to="rear-right"
    }
}
"#;

pub(crate) const MACHINES: &str = r#"attachment "backfill-blade" {
    weight (lb)260 origin="brochure"
    arm (in)84                       // ahead of the machine's rear axle
    outline front=(in)96
}
"#;

pub(crate) fn sources() -> Sources {
    let mut sources = Sources::default();
    sources.add(Source::new("sheets/trencher-move.kdl", SHEET));
    sources.add(Source::new("fleet/machines.kdl", MACHINES));
    sources
}

/// Where a text stands in one of the files.
pub(crate) fn at(sources: &Sources, file: u32, text: &str) -> Span {
    let start = sources.get(FileId(file)).unwrap().text.find(text).unwrap();
    Span::new(FileId(file), start..start + text.len())
}

/// A light tongue, with a label in its own file and one in another.
pub(crate) fn tongue(sources: &Sources) -> Finding {
    let gap = at(sources, 0, "front-gap=(in)50");
    let mut finding = Finding::new(
        "tongue-light",
        Level::Error,
        gap,
        "9.8 % of the trailer's weight rides on the hitch; this yard's floor is 11 %",
    )
    .marked("50 in behind the deck's front edge")
    .label(at(sources, 0, "rear-gap=(in)6"), "the coil pulls the tongue up")
    .label(at(sources, 1, "(in)84"), "the blade hangs far ahead")
    .help("move it 7 in forward: front-gap=(in)43; anything from 8 to 44 in keeps every limit");
    finding.sheet = Some("trencher-move".into());
    finding.source = Some("set in yard.kdl (company), over common practice of 10 %".to_owned());
    finding.figure = Some(Bounded {
        name: "trailer.tongue_share".to_owned(),
        value: 0.0979,
        kind: Some(Kind::Share),
        plus_minus: Some(0.004),
        at_least: Some(0.11),
        at_most: None,
    });
    finding.fixes = vec![Fix {
        title: "move it 7 in forward".to_owned(),
        grade: Grade::Change,
        edits: vec![Edit { span: at(sources, 0, "(in)50"), text: "(in)43".to_owned() }],
    }];
    finding
}

/// Too few ties, with two labels on neighbouring lines.
pub(crate) fn ties(sources: &Sources) -> Finding {
    let mut finding = Finding::new(
        "four-corner-ties",
        Level::Warning,
        at(sources, 0, "machine \"trencher-30\""),
        "2 ties hold a machine with wheels; 4 corners need one each",
    )
    .help("add a tie at the rear-left and the rear-right");
    finding.labels.push(Label { span: at(sources, 0, "to=\"front-left\""), text: "first".to_owned() });
    finding.labels.push(Label { span: at(sources, 0, "to=\"front-right\""), text: "second".to_owned() });
    finding.sheet = Some("trencher-move".into());
    finding.source = Some("49 CFR 393.130 (law)".to_owned());
    finding
}

/// A finding in a file of the fleet, accepted by a waiver.
pub(crate) fn waived(sources: &Sources) -> Finding {
    let mut finding = Finding::new(
        "cannot-tell",
        Level::Note,
        at(sources, 1, "attachment \"backfill-blade\""),
        "the blade's width is missing, so too-wide cannot be judged",
    );
    finding.sheet = Some("trencher-move".into());
    finding.leg = Some("out".into());
    finding.waived = Some(Waived {
        reason: "two miles of farm lane, 20 mph".to_owned(),
        by: "yard foreman".to_owned(),
        until: "2027-03-31".to_owned(),
    });
    finding
}

pub(crate) fn report<'a>(sources: &'a Sources, findings: &'a [Finding]) -> Report<'a> {
    Report { sources, findings, files: 9, loads: 3 }
}

fn figure(name: &'static str, value: f64, kind: Option<Kind>, plus_minus: Option<f64>) -> FigureLine {
    let (of, noun) = name.rsplit_once('.').unwrap();
    let of = match of {
        "truck" => "truck rook",
        "truck.axle[front]" => "rook's front axle",
        "truck.axle[rear]" => "rook's rear axle",
        "combination" => "truck and trailer",
        "trailer" => "trailer sled-20",
        "trailer.axle[1]" => "sled-20's axle 1",
        "trailer.axle[2]" => "sled-20's axle 2",
        other => other,
    };
    FigureLine {
        name: name.to_owned(),
        of: of.to_owned(),
        noun,
        value: Some(value),
        kind,
        plus_minus,
        at_least: None,
        at_most: None,
        assumes: None,
    }
}

fn least(mut line: FigureLine, value: f64, rule: &str) -> FigureLine {
    line.at_least = Some((value, rule.into()));
    line
}

fn most(mut line: FigureLine, value: f64, rule: &str) -> FigureLine {
    line.at_most = Some((value, rule.into()));
    line
}

/// Figures of one load, in pounds, and of one that cannot be computed.
pub(crate) fn loads() -> Vec<LoadFigures> {
    const LB: f64 = 0.453_592_37;
    const INCH: f64 = 0.0254;
    let mass = |name: &'static str, lb: f64, spread: f64| figure(name, lb * LB, Some(Kind::Mass), Some(spread * LB));
    let length = |name: &'static str, inches: f64| figure(name, inches * INCH, Some(Kind::Length), None);
    let share = figure("trailer.tongue_share", 0.0979, Some(Kind::Share), Some(0.004));
    let mut axle = most(mass("trailer.axle[1].load", 3290.0, 60.0), 7000.0 * LB, "trailer-axle-over");
    axle.assumes = Some("the suspension shares the load equally between the axles");
    let mut axle_2 = most(mass("trailer.axle[2].load", 3290.0, 60.0), 7000.0 * LB, "trailer-axle-over");
    axle_2.assumes = axle.assumes;
    let mut missing =
        most(figure("truck.axle[rear].load", 0.0, Some(Kind::Mass), None), 9900.0 * LB, "truck-axle-over");
    missing.value = None;
    let figures = vec![
        most(mass("truck.axle[front].load", 4310.0, 40.0), 5600.0 * LB, "truck-axle-over"),
        missing,
        most(mass("truck.gross", 14_310.0, 70.0), 14_000.0 * LB, "truck-over-gvwr"),
        most(mass("combination.gross", 15_600.0, 110.0), 31_000.0 * LB, "combination-over-gcwr"),
        mass("trailer.tongue", 698.0, 30.0),
        most(least(share, 0.11, "tongue-light"), 0.15, "tongue-heavy"),
        axle,
        axle_2,
        most(mass("trailer.gross", 7130.0, 80.0), 14_000.0 * LB, "trailer-over-gvwr"),
        mass("item[trencher-30].weight", 3360.0, 40.0),
        length("item[trencher-30].cg", 86.4),
        length("item[trencher-30].front_gap", 50.0),
        least(length("loading[trencher-30].clearance", 0.5), 0.0, "ramp-drags"),
        figure("loading[trencher-30].ramp_angle", 17.2, Some(Kind::Angle), None),
        least(figure("tie[trencher-30].count", 2.0, None, None), 4.0, "four-corner-ties"),
        least(mass("tie[trencher-30].wll_total", 13_200.0, 0.0), 1680.0 * LB, "wll-short"),
        least(figure("tie[trencher-30].holds_forward", 0.914, None, Some(0.05)), 0.8, "holds-too-little"),
    ];
    let rule: Arc<str> = "truck-axle-over".into();
    let lacks = r#"truck "rook" axle "rear" weighed"#.to_owned();
    vec![
        LoadFigures {
            rig: "truck rook, trailer sled-20".to_owned(),
            sheet: "trencher-move".into(),
            leg: None,
            file: FileId(0),
            system: System::Us,
            figures: Some(figures),
            readings: readings(),
            undecided: vec![Undecided { rule, missing: lacks }],
        },
        LoadFigures {
            rig: "truck rook, trailer sled-20".to_owned(),
            sheet: "digger-and-stone".into(),
            leg: Some("stone".into()),
            file: FileId(0),
            system: System::Si,
            figures: None,
            readings: vec![],
            undecided: vec![],
        },
    ]
}

/// One reading that agrees, one that does not, one that is void.
fn readings() -> Vec<ReadingLine> {
    const LB: f64 = 0.453_592_37;
    let tongue = ReadingLine {
        name: "hitch gauge".into(),
        figure: "trailer.tongue".to_owned(),
        noun: "tongue weight",
        kind: Kind::Mass,
        unit: draylint::units::unit("lb"),
        read: 840.0 * LB,
        plus_minus: 20.0 * LB,
        computed: Some(833.0 * LB),
        computed_plus_minus: Some(29.0 * LB),
        stands: Some("clear"),
        agrees: Some(true),
        assumes: None,
    };
    let axles = ReadingLine {
        name: "axle pads".into(),
        figure: "trailer.axles.load".to_owned(),
        noun: "all axles",
        read: 5950.0 * LB,
        plus_minus: 60.0 * LB,
        computed: Some(6504.0 * LB),
        computed_plus_minus: Some(53.0 * LB),
        agrees: Some(false),
        ..tongue.clone()
    };
    let void = ReadingLine {
        computed: None,
        computed_plus_minus: None,
        stands: Some("down"),
        agrees: None,
        read: 1200.0 * LB,
        ..tongue.clone()
    };
    vec![tongue, axles, void]
}
