//! How far numbers are taken to be off.

use std::fmt::Write as _;

use crate::model::{Choice, Origin};
use crate::render::markdown::code;
use crate::rules::HalfWidths;
use crate::text::all_of;
use crate::units::{Kind, System, show};

/// The default half-widths, kind by kind.
pub(super) fn half_widths() -> String {
    let all = HalfWidths::shipped();
    let mut out = String::from("| kind | origin | can be off by |\n|---|---|---|\n");
    for kind in Kind::ALL {
        // A kind is named once, at its first origin.
        let mut noun = kind.noun();
        for origin in Origin::ALL {
            if let Some(line) = all.lines().find(|(of, other, ..)| of == origin && *other == kind) {
                let _ = writeln!(out, "| {noun} | {} | {} |", code(origin.word()), half_width(line));
                noun = "";
            }
        }
    }
    out
}

fn half_width((_, kind, share, least): (Origin, Kind, f64, f64)) -> String {
    let part = (share > 0.0).then(|| show(share, Kind::Share, System::Us));
    let least = (least > 0.0).then(|| match kind {
        // "5 %" could be read as a part of the share.
        Kind::Share => format!("{} percentage points", least * 100.0),
        _ => show(least, kind, System::Us),
    });
    match (part, least) {
        (Some(part), Some(least)) => format!("{part}, at least {least}"),
        (Some(one), None) | (None, Some(one)) => one,
        (None, None) => "none".to_owned(),
    }
}

/// What is taken where a sheet names no origin, and where it does not matter.
pub(super) fn unsaid() -> String {
    let all = HalfWidths::shipped();
    let mut out = String::new();
    let (words, kinds) = all.where_unsaid();
    let (words, always): (Vec<_>, Vec<_>) = (words.collect(), all.always().collect());
    for origin in Origin::ALL {
        let of = |list: &[(&'static str, Origin)]| -> Vec<String> {
            list.iter().filter(|(_, other)| other == origin).map(|(word, _)| code(word)).collect()
        };
        if !of(&always).is_empty() {
            let _ = writeln!(out, "- {} are always `{}`.", all_of(&of(&always)), origin.word());
        }
        if !of(&words).is_empty() {
            let _ = writeln!(out, "- {} are `{}` unless the line says otherwise.", all_of(&of(&words)), origin.word());
        }
    }
    for (kind, origin) in kinds {
        let _ = writeln!(out, "- Any other {} is `{}` unless its line says otherwise.", kind.noun(), origin.word());
    }
    let exact: Vec<String> = all.exact().map(code).collect();
    let _ =
        writeln!(out, "- {} have no spread of their own, because they are limits, marks or choices.", all_of(&exact));
    out
}
