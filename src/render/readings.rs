//! What gauges showed beside what is computed.

use super::bar::Shown;
use super::place::shown;
use super::style::{Ink, Style};
use super::wrap::{columns, paragraph};
use crate::finding::ReadingLine;
use crate::units::{Kind, System, show_in};

/// Blanks before a line, and before what goes on below it.
const MARGIN: usize = 4;

/// The heads of the columns.
const HEAD: &str = "readings";
const READ: &str = "read";
const COMPUTED: &str = "computed";

/// A reading in its parts, for columns.
pub(super) struct Row {
    pub(super) name: String,
    pub(super) read: String,
    pub(super) computed: String,
    pub(super) verdict: String,
}

/// Each reading in its parts.
pub(super) fn rows(readings: &[ReadingLine], system: System, style: Style) -> Vec<Row> {
    readings.iter().map(|one| row(one, system, style)).collect()
}

/// Writes the readings side by side with what is computed; nothing where there are none.
pub(super) fn draw(readings: &[ReadingLine], system: System, style: Style, out: &mut String) {
    if readings.is_empty() {
        return;
    }
    let rows = rows(readings, system, style);
    let widest = |part: fn(&Row) -> &String, head: &str| {
        rows.iter().map(|row| columns(part(row))).fold(columns(head), usize::max)
    };
    let (name, read) = (widest(|row| &row.name, "") + 2, widest(|row| &row.read, READ) + 2);
    let computed = widest(|row| &row.computed, COMPUTED) + 2;
    let side_by_side = MARGIN + name + read + computed + widest(|row| &row.verdict, "") <= style.columns();
    out.push_str("  ");
    out.push_str(&style.paint(Ink::Lead, HEAD));
    if side_by_side {
        out.push_str(&" ".repeat((MARGIN + name).saturating_sub(2 + columns(HEAD))));
        left(out, READ, read);
        out.push_str(COMPUTED);
    }
    out.push('\n');
    for row in rows {
        if side_by_side {
            let mut line = " ".repeat(MARGIN);
            left(&mut line, &row.name, name);
            left(&mut line, &row.read, read);
            left(&mut line, &row.computed, computed);
            line.push_str(&row.verdict);
            out.push_str(&line);
            out.push('\n');
        } else {
            let computed =
                if row.computed.is_empty() { String::new() } else { format!("; {COMPUTED} {}", row.computed) };
            let text = format!("{}: {READ} {}{computed}; {}", row.name, row.read, row.verdict);
            paragraph(out, "    ", &text, MARGIN + 2, style.columns());
        }
    }
    let mut assumed: Vec<&str> = readings.iter().filter_map(|one| one.assumes).collect();
    assumed.dedup();
    for text in assumed {
        paragraph(out, "    ", &format!("assumed: {text}"), MARGIN + 2, style.columns());
    }
}

fn left(line: &mut String, text: &str, width: usize) {
    line.push_str(text);
    line.push_str(&" ".repeat(width.saturating_sub(columns(text))));
}

fn row(one: &ReadingLine, system: System, style: Style) -> Row {
    let with_spread = |value: f64, spread: f64| {
        let form = Shown { kind: Some(one.kind), system, spread: Some(spread) };
        [form.text(value), form.spread(style)].into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" ")
    };
    // A number in the other system is shown as it was read too.
    let other = one.unit.filter(|unit| one.kind == Kind::Mass && unit.us != (system == System::Us));
    let written = other.map_or_else(String::new, |unit| format!(" ({})", show_in(one.read, unit)));
    let verdict = match (one.agrees, one.computed, one.stands) {
        (Some(true), ..) => "they agree".to_owned(),
        (Some(false), Some(computed), _) => {
            let form = Shown { kind: Some(one.kind), system, spread: Some(one.plus_minus) };
            format!("{} apart", form.text((one.read - computed).abs()))
        }
        (_, _, Some("down")) => "void: on stands".to_owned(),
        (_, _, None) => "stands= not given".to_owned(),
        _ => "not compared".to_owned(),
    };
    Row {
        name: shown(&format!("{}, {}", one.name, one.noun)).into_owned(),
        read: format!("{}{written}", with_spread(one.read, one.plus_minus)),
        computed: one
            .computed
            .map_or_else(String::new, |computed| with_spread(computed, one.computed_plus_minus.unwrap_or(0.0))),
        verdict,
    }
}
