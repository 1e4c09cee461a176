//! Figures as a person reads them.

use draylint::finding::ReadingLine;
use draylint::render::{Style, weigh};
use unicode_width::UnicodeWidthStr;

use crate::samples::{loads, sources};

#[test]
fn a_table_at_80_columns() {
    insta::assert_snapshot!(weigh::text(&sources(), &loads(), Style::PLAIN, false));
}

#[test]
fn a_table_in_ascii_and_si() {
    let mut loads = loads();
    loads[0].system = draylint::units::System::Si;
    let text = weigh::text(&sources(), &loads, Style { unicode: false, ..Style::PLAIN }, true);
    assert!(text.is_ascii());
    insta::assert_snapshot!(text);
}

#[test]
fn a_table_at_40_columns() {
    let text = weigh::text(&sources(), &loads(), Style { width: 40, ..Style::PLAIN }, true);
    assert!(text.lines().all(|line| line.width() <= 40), "{text}");
    insta::assert_snapshot!(text);
}

#[test]
fn no_loads_are_told_in_a_line() {
    assert_eq!(weigh::text(&sources(), &[], Style::PLAIN, true), "no loads here: nothing was weighed\n");
}

#[test]
fn colour_adds_nothing_but_colour() {
    let color = weigh::text(&sources(), &loads(), Style { color: true, ..Style::PLAIN }, true);
    let mut plain = String::new();
    for (at, part) in color.split('\u{1b}').enumerate() {
        plain.push_str(if at == 0 { part } else { part.split_once('m').unwrap().1 });
    }
    assert_ne!(color, plain);
    assert_eq!(plain, weigh::text(&sources(), &loads(), Style::PLAIN, true));
}

#[test]
fn an_id_with_dots_stays_whole_and_a_long_name_gets_its_own_line() {
    let mut loads = loads();
    loads.truncate(1);
    let figures = loads[0].figures.as_mut().unwrap();
    figures.truncate(1);
    figures.push(figures[0].clone());
    for figure in figures.iter_mut() {
        figure.name = "loading[pipe 2.5 in].weight".to_owned();
        figure.of = "pipe 2.5 in".to_owned();
    }
    figures[1].noun = "least on the truck's rear axle on the ramp";
    insta::assert_snapshot!(weigh::text(&sources(), &loads, Style::PLAIN, true));
}

#[test]
fn readings_stand_beside_what_is_computed_however_they_are_written() {
    let mut loads = loads();
    loads.truncate(1);
    loads[0].figures = Some(Vec::new());
    let void = loads[0].readings[2].clone();
    loads[0].readings.push(ReadingLine { stands: None, ..void });
    loads[0].readings[1].name = "pads\u{1b}[31m".into();
    loads[0].readings[1].unit = draylint::units::unit("kg");
    loads[0].readings[1].read = 2700.0;
    loads[0].readings[1].assumes = Some("the material at the density that comes nearest");
    insta::assert_snapshot!(weigh::text(&sources(), &loads, Style::PLAIN, true));
}
