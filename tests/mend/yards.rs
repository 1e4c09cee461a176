//! Random yards: a pickup and a flat deck whose weights and limits vary, and sheets that are mostly at fault.

use crate::choices::Choices;
use crate::layout::Layout;

/// A yard as files, and where its sheets stand.
#[derive(Clone, Debug)]
pub(crate) struct Yard {
    /// Name and text of each.
    pub(crate) files: Vec<(String, String)>,
    /// File and name of each sheet; its text ends before [`end_of`] it.
    pub(crate) sheets: Vec<(usize, String)>,
}

/// The comment that ends a sheet.
pub(crate) fn end_of(sheet: &str) -> String {
    format!("// end of sheet {sheet};")
}

/// Units of length with their factors, from the definition of the yard (1959).
const LENGTHS: [(&str, f64); 5] = [("in", 0.0254), ("ft", 0.3048), ("mm", 0.001), ("cm", 0.01), ("m", 1.0)];

/// A length that is given in inches, written in a unit of its own.
fn length(choices: &mut Choices<'_>, inches: f64) -> String {
    let at = choices.below(10) as usize;
    let si = inches * 0.0254;
    match LENGTHS.get(at) {
        Some((symbol, factor)) => {
            let steps = if *factor > 0.2 { 1000.0 } else { 1.0 };
            format!("({symbol}){}", (si / factor * steps).round() / steps)
        }
        None if at == 5 && inches >= 0.0 => {
            let whole = inches.round();
            format!("\"{} ft {} in\"", (whole / 12.0).floor(), whole % 12.0)
        }
        None => format!("(in){}", inches.round()),
    }
}

fn pounds(choices: &mut Choices<'_>, pounds: f64) -> String {
    if choices.once_in(4) {
        format!("(kg){}", (pounds * 0.453_592_37).round())
    } else {
        format!("(lb){}", pounds.round())
    }
}

/// The fleet: a truck, a trailer, a machine that can be turned round, and loose material.
fn fleet(choices: &mut Choices<'_>) -> String {
    let tongue = choices.between(300.0, 600.0).round();
    let axles = choices.between(2400.0, 3600.0).round();
    let gvwr = *choices.one_of(&[14_000, 12_000, 9_900]);
    let rated = *choices.one_of(&[7000, 5200]);
    let hitch = *choices.one_of(&[1800, 1200]);
    let rear = *choices.one_of(&[9900, 6000]);
    let tire = if choices.once_in(5) { "" } else { " rating=(lb)3750" };
    let front = choices.between(1000.0, 3500.0).round();
    let suspension =
        if choices.once_in(4) { "suspension \"independent\" level-at=(in)19" } else { "suspension \"equalized\"" };
    format!(
        "truck \"pickup\" {{
    axle \"front\" weighed=(lb)4300 rating=(lb)5600 track-width=(in)69 {{
        tires count=2 rating=(lb)3640 pressure=(psi)80 max-pressure=(psi)80 speed=\"R\" kind=\"LT\"
    }}
    axle \"rear\" weighed=(lb)3200 rating=(lb){rear} track-width=(in)75 {{
        tires count=4 rating=(lb)3000 dual=#true pressure=(psi)80 max-pressure=(psi)80 speed=\"R\" kind=\"LT\"
    }}
    wheelbase (in)170
    gvwr (lb)14000
    gcwr (lb)23000
    hitch \"ball\" behind-rear-axle=(in)55 height=(in)20 {{
        rating tongue=(lb){hitch} trailer=(lb)18000
        ball size=(in)2.3125 rating=(lb)18000
        brake-controller #true
    }}
}}
trailer \"flat\" {{
    empty tongue=(lb){tongue} axles=(lb){axles}
    gvwr (lb){gvwr}
    coupler \"ball\" size=(in)2.3125 rating=(lb)18000 tongue=(lb)2200 height=(in)20
    axle at=(in)190 rating=(lb){rated} track-width=(in)88 rate=(\"lbf/in\")2400 {{
        tires count=2{tire} pressure=(psi)110 max-pressure=(psi)110 speed=(mph)75 kind=\"ST\"
        brakes \"electric\"
    }}
    axle at=(in)224 rating=(lb){rated} track-width=(in)88 rate=(\"lbf/in\")2400 {{
        tires count=2 rating=(lb)3750 pressure=(psi)110 max-pressure=(psi)110 speed=(mph)75 kind=\"ST\"
        brakes \"electric\"
    }}
    {suspension}
    safety-chains count=2 breaking=(lb)16000
    breakaway #true
    deck from=(in)60 length=(ft)20 width=(in)82 height=(in)25 surface=\"wood\"
    width (in)102
    length (in)304
}}
attachment \"blade\" {{
    weight (lb)260
    arm (in)84
    outline front=(in)96
}}
machine \"loader\" {{
    axle \"front\" weighed=(lb){front}
    axle \"rear\" weighed=(lb)3600
    wheelbase (in)58
    track-width (in)48
    outline front=(in)88 rear=(in)-40 width=(in)60 height=(in)90
}}
material \"fill\" {{
    density \"dry\" low=(\"lb/ft3\")80 high=(\"lb/ft3\")100
}}
"
    )
}

/// An entry written as a hasty hand may write it.
fn slip(choices: &mut Choices<'_>, entry: &str) -> String {
    match choices.below(5) {
        0 => entry.replacen("(in)", "", 1),
        1 => entry.replacen("front-gap", "frnt-gap", 1).replacen("width", "widht", 1),
        2 => entry.replacen("(lb)", "", 1),
        3 => entry.replacen("=(in)", "=(inch)", 1),
        _ => entry.replacen("#true", "true", 1),
    }
}

/// A thing on the deck.
fn item(choices: &mut Choices<'_>, out: &mut Layout, below: Option<&str>, name: &str) {
    let word = if choices.once_in(3) { "rear-gap" } else { "front-gap" };
    let mut entries = Vec::new();
    let placed = |choices: &mut Choices<'_>, most: f64| {
        let inches = choices.between(-18.0, most);
        format!("{word}={}", length(choices, inches))
    };
    let head = match choices.below(4) {
        2 if below.is_none() => {
            entries.push(format!("facing=\"{}\"", choices.one_of(&["forward", "backward"])));
            entries.push(placed(choices, 140.0));
            "machine \"loader\"".to_owned()
        }
        3 if below.is_none() => {
            entries.push(format!("volume=(yd3){}", (choices.between(0.5, 5.0) * 4.0).round() / 4.0));
            entries.push("covered=#true".to_owned());
            if choices.below(2) == 1 {
                entries.push("length=(in)96".to_owned());
                entries.push(placed(choices, 140.0));
            }
            "bulk \"fill\"".to_owned()
        }
        _ => {
            let most = if below.is_some() { 900.0 } else { 7500.0 };
            let weight = choices.between(200.0, most);
            entries.push(format!("weight={}", pounds(choices, weight)));
            let long = choices.between(24.0, 110.0);
            entries.push(format!("length={}", length(choices, long)));
            entries.push("width=(in)44".to_owned());
            entries.push("height=(in)40".to_owned());
            entries.push(placed(choices, 200.0));
            if let Some(below) = below {
                entries.push(format!("on=\"{below}\""));
            }
            if choices.once_in(3) {
                let inches = choices.between(-30.0, 30.0);
                entries.push(format!("left={}", length(choices, inches)));
            }
            format!("cargo \"{name}\"")
        }
    };
    if choices.once_in(6) {
        let at = choices.below(u32::try_from(entries.len()).unwrap()) as usize;
        entries[at] = slip(choices, &entries[at]);
    }
    if head.starts_with("machine") && choices.once_in(2) {
        out.open(choices, &head, entries);
        out.node(choices, "fit \"blade\"", Vec::new());
        out.close();
    } else {
        out.node(choices, &head, entries);
    }
}

fn items(choices: &mut Choices<'_>, out: &mut Layout) {
    let many = 1 + choices.below(3);
    for at in 0..many {
        let name = format!("crate {at}");
        // What a crate may stand on was written before it, if that was a crate: else the name is not known, a fault too.
        let below = (at > 0 && choices.once_in(4)).then(|| format!("crate {}", at - 1));
        let below = below.filter(|below| out.text.contains(&format!("cargo \"{below}\"")));
        item(choices, out, below.as_deref(), &name);
    }
}

fn sheet(choices: &mut Choices<'_>, out: &mut Layout, name: &str) {
    out.open(choices, &format!("sheet \"{name}\""), Vec::new());
    out.node(choices, "truck \"pickup\"", Vec::new());
    out.node(choices, "trailer \"flat\"", Vec::new());
    let speed = choices.one_of(&["speed=(mph)55", "speed=(mph)55", "speed=55", "sped=(mph)55"]).to_string();
    out.node(choices, "conditions", vec![speed]);
    if choices.once_in(3) {
        for leg in ["out", "back"] {
            out.open(choices, &format!("leg \"{leg}\""), Vec::new());
            items(choices, out);
            out.close();
        }
    } else {
        items(choices, out);
    }
    if choices.once_in(8) {
        out.node(
            choices,
            "waive \"tongue-light\"",
            vec!["reason=\"x\"".into(), "by=\"y\"".into(), "until=\"2099-01-01\"".into()],
        );
    }
    out.close();
    out.line(&end_of(name));
}

/// The yard that these choices make.
pub(crate) fn yard(row: &[u32]) -> Yard {
    let choices = &mut Choices::new(row);
    let mut yard = Yard {
        files: vec![("yard.kdl".into(), "yard \"Test Yard\" { follow \"none\"; }\n".into())],
        sheets: Vec::new(),
    };
    let fleet = fleet(choices);
    let apart = choices.below(2) == 0;
    if apart {
        yard.files.push(("fleet.kdl".into(), fleet.clone()));
    }
    let files = 1 + choices.below(2);
    for file in 0..files {
        let mut out = Layout::new(choices);
        if file == 0 && !apart {
            out.lines(&fleet);
        }
        for at in 0..=choices.below(2) {
            let name = format!("job {file}.{at}");
            sheet(choices, &mut out, &name);
            yard.sheets.push((yard.files.len(), name));
        }
        yard.files.push((format!("sheets/{file}.kdl"), out.text));
    }
    yard
}
