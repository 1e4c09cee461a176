//! Fixes of tie-downs: random cargoes that are tied down badly; every fix that is offered is made and checked again.

use std::fmt::Write as _;

use draylint::finding::{Finding, Fix, Grade};
use proptest::prelude::*;

use crate::choices::{Choices, rows};
use crate::judged::{edits, file_of, judged, spliced};
use crate::proven::holds;

/// The tie-downs of the yard: nothing else may be proposed.
const TIEDOWNS: [&str; 3] = ["strap", "chain", "light-chain"];
const CORNERS: [&str; 4] = ["front-left", "front-right", "rear-left", "rear-right"];
const ANCHORS: [&str; 8] =
    ["front-left", "front-right", "rear-left", "rear-right", "mid-left", "mid-right", "nose-left", "nose-right"];
/// The rules of which fixes of ties are looked at.
const RULES: [&str; 5] = ["too-few-ties", "wll-short", "four-corner-ties", "holds-too-little", "ties-one-way"];

fn fleet() -> String {
    let place = |(name, from, left): &(&str, i32, i32)| {
        format!("    anchor \"{name}\" from-front=(in){from} left=(in){left} rating=(lb)6000\n")
    };
    let anchors: String = [
        ("front-left", 6, 39),
        ("front-right", 6, -39),
        ("nose-left", 40, 39),
        ("nose-right", 40, -39),
        ("mid-left", 150, 39),
        ("mid-right", 150, -39),
        ("rear-left", 220, 39),
        ("rear-right", 220, -39),
    ]
    .iter()
    .map(place)
    .collect();
    include_str!("fleet.kdl").replace(
        "    width (in)102\n    length (in)304\n",
        &format!("{anchors}    width (in)102\n    length (in)304\n"),
    ) + "
machine \"loader\" {
    axle \"front\" weighed=(lb)2400 wheel-radius=(in)14 driven=#true braked=#true
    axle \"rear\" weighed=(lb)3600 wheel-radius=(in)14 driven=#true braked=#true
    wheelbase (in)70
    track-width (in)48
    cg-height (in)30
    contact \"rubber-tire\"
    outline front=(in)88 rear=(in)-40 width=(in)60 height=(in)92
    lash-point \"front-left\"  arm=(in)72  left=(in)18  height=(in)20
    lash-point \"front-right\" arm=(in)72  left=(in)-18 height=(in)20
    lash-point \"rear-left\"   arm=(in)-24 left=(in)18  height=(in)20
    lash-point \"rear-right\"  arm=(in)-24 left=(in)-18 height=(in)20
}
friction \"rubber-tire\" on=\"wood\" deck=\"dry\" low=0.3 high=0.7 source=\"made up\" status=\"measured\"
tiedown \"strap\" kind=\"webbing\" width=(in)2 wll=(lb)1000
tiedown \"chain\" kind=\"chain\" grade=\"70\" size=(in)0.375 wll=(lb)6600
tiedown \"light-chain\" kind=\"chain\" grade=\"30\" size=(in)0.25 wll=(lb)1300
"
}

/// Four chains from the corners of the deck or from beside the machine, the points to which they go dealt out as they come.
fn dealt(choices: &mut Choices<'_>) -> String {
    let mut corners = CORNERS.to_vec();
    let from = if choices.below(2) == 0 { &ANCHORS[..4] } else { &ANCHORS[4..] };
    let mut out = String::new();
    for from in from {
        let to = corners.remove(choices.below(u32::try_from(corners.len()).expect("few")) as usize);
        writeln!(out, "        tie \"chain\" from=\"{from}\" to=\"{to}\"").expect("a text");
    }
    format!("{{\n        describe \"made up\"\n{out}    }}")
}

/// A tie on a line of its own, or one after another on the same.
fn ties(choices: &mut Choices<'_>, machine: bool) -> String {
    let many = 1 + choices.below(4);
    let apart = choices.below(3) > 0;
    let mut out = String::new();
    for _ in 0..many {
        let name = choices.one_of(&TIEDOWNS);
        let (from, to) = (*choices.one_of(&ANCHORS), *choices.one_of(&CORNERS));
        let other = ANCHORS[ANCHORS.iter().position(|one| *one == from).unwrap_or(0) ^ 1];
        let mut tie = match choices.below(4) {
            0 => format!("tie \"{name}\" from=\"{from}\" to=\"{other}\" over=#true"),
            1 if !machine => format!("tie \"{name}\" from=\"{from}\""),
            _ if machine => format!("tie \"{name}\" from=\"{from}\" to=\"{to}\""),
            _ => format!("tie \"{name}\""),
        };
        if choices.once_in(3) {
            tie += " count=2";
        }
        let comment = if apart && choices.once_in(4) { " // as it was last time" } else { "" };
        let (before, behind) = if apart { ("        ", "\n") } else { (" ", ";") };
        out.extend([before, &tie, comment, behind]);
    }
    if apart {
        format!("{{\n        {}\n{out}    }}", "describe \"made up\"")
    } else {
        format!("{{ describe \"made up\";{out} }}")
    }
}

fn sheet(row: &[u32]) -> String {
    let choices = &mut Choices::new(row);
    let machine = choices.below(3) > 0;
    let ties = if machine && choices.below(2) == 0 { dealt(choices) } else { ties(choices, machine) };
    let item = if machine {
        let brake = if choices.below(2) == 0 { "#true" } else { "#false" };
        let ties = ties.replacen("describe \"made up\"", &format!("parking-brake {brake}"), 1);
        format!("    machine \"loader\" facing=\"forward\" front-gap=(in)62 {ties}\n")
    } else {
        let (weight, length) = (choices.between(500.0, 7000.0).round(), choices.between(30.0, 150.0).round());
        let gap = (118.0 - length / 2.0).round();
        format!(
            "    cargo \"crate\" weight=(lb){weight} length=(in){length} width=(in)40 height=(in)40 base=\"wood\" \
             front-gap=(in){gap} {ties}\n"
        )
    };
    format!(
        "sheet \"job\" {{\n    truck \"pickup\"\n    trailer \"flat\"\n    conditions speed=(mph)55 deck=\"dry\"\n{item}}}\n"
    )
}

/// What a fix writes: ties of the yard's own tie-downs that hold the item already, a count, or the end of a tie.
fn writes_no_more(text: &str, fix: &Fix) {
    for edit in &fix.edits {
        let new = edit.text.trim();
        let added = new.starts_with("tie ") || new.starts_with("; tie ");
        let counted = new.trim_start_matches("count=").parse::<u32>().is_ok();
        let crossed = CORNERS.iter().any(|corner| new == format!("\"{corner}\""));
        assert!(added || counted || crossed, "{}: {new:?}", fix.title);
        for name in new.split("tie \"").skip(1).filter_map(|rest| rest.split('"').next()) {
            assert!(text.contains(&format!("tie \"{name}\"")), "{name} does not hold it: {}\n{text}", fix.title);
        }
    }
}

#[derive(Debug, Default)]
struct Seen {
    added: usize,
    counted: usize,
    crossed: usize,
}

fn every_fix_holds(row: &[u32], seen: &mut Seen) {
    let sheet = sheet(row);
    let files: Vec<(String, String)> = vec![
        (
            "yard.kdl".into(),
            "yard \"Test Yard\" {\n    follow \"us\"\n    carrier interstate=#false business=#false\n}\n".into(),
        ),
        ("fleet.kdl".into(), fleet()),
        ("job.kdl".into(), sheet.clone()),
    ];
    let checked = judged(&files, true);
    let about_ties = |finding: &&Finding| RULES.contains(&&*finding.rule);
    for finding in checked.findings.iter().filter(about_ties) {
        for fix in finding.fixes.iter().filter(|fix| fix.grade != Grade::Advice) {
            writes_no_more(&sheet, fix);
            let file = file_of(&files, &checked.sources, fix.edits[0].span.file);
            let mended = spliced(&files, file, &edits(fix));
            let after = judged(&mended, false);
            holds((&files, &checked), (&mended, &after), finding, fix);
            let title = &fix.title;
            seen.added += usize::from(title.starts_with("add tie"));
            seen.counted += usize::from(title.starts_with("use "));
            seen.crossed += usize::from(title.starts_with("cross "));
        }
    }
}

#[test]
fn every_fix_of_random_ties_holds() {
    let mut seen = Seen::default();
    let config = ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() };
    let rng = proptest::test_runner::TestRng::from_seed(proptest::test_runner::RngAlgorithm::ChaCha, &[11; 32]);
    let mut runner = proptest::test_runner::TestRunner::new_with_rng(config, rng);
    let counted = std::cell::RefCell::new(&mut seen);
    let outcome = runner.run(&rows(), |row| {
        every_fix_holds(&row, &mut counted.borrow_mut());
        Ok(())
    });
    if let Err(why) = outcome {
        panic!("{}", why.to_string().split("minimal failing input").next().unwrap_or_default());
    }
    assert!(seen.added > 10 && seen.counted > 5 && seen.crossed > 5, "{seen:?}");
}
