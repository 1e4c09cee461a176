//! A yard of any size, the same on every run: 20 trucks, 40 trailers, 60 machines, and sheets of two to three kilobytes
//! that use them. Most loads are sound; about one in six has a fault of the kinds that people make.

use std::fmt::Write as _;

const TRUCKS: usize = 20;
const TRAILERS: usize = 40;
const MACHINES: usize = 60;

/// Name and text of every file, the sheets last.
pub(crate) fn files(sheets: usize) -> Vec<(String, String)> {
    let mut files = vec![("yard.kdl".to_owned(), YARD.to_owned()), ("fleet/gear.kdl".to_owned(), GEAR.to_owned())];
    let mut several = |name: &str, count: usize, each: fn(usize) -> String| {
        // Twenty to a file, as a tidy company keeps them.
        for first in (0..count).step_by(20) {
            let text = (first..count.min(first + 20)).map(each).collect();
            files.push((format!("fleet/{name}-{first:02}.kdl"), text));
        }
    };
    several("trucks", TRUCKS, truck);
    several("trailers", TRAILERS, trailer);
    several("machines", MACHINES, machine);
    several("attachments", MACHINES / 2, attachment);
    files.extend((0..sheets).map(|at| (format!("sheets/{:03}/job-{at:05}.kdl", at / 50), sheet(at))));
    files
}

/// Numbers without a pattern that a sheet could lean on: the splitmix64 sequence.
struct Chance(u64);

impl Chance {
    fn below(&mut self, end: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        usize::try_from((z ^ (z >> 31)) % (end as u64)).unwrap_or(0)
    }
}

const YARD: &str = r#"yard "Heron Fork Groundworks" {
    follow "us"
    units "us"
    set "tongue-light" low=(pct)9.5
    conditions deck="dry" speed=(mph)55
}
"#;

const GEAR: &str = r#"tiedown "chain-38" kind="chain" grade="70" size=(in)0.375 wll=(lb)6600
tiedown "chain-516" kind="chain" grade="70" size=(in)0.3125 wll=(lb)4700
tiedown "strap-3" kind="webbing" width=(in)3 wll=(lb)5000
tiedown "strap-2" kind="webbing" width=(in)2 wll=(lb)3333 breaking=(lb)10000
"#;

fn truck(at: usize) -> String {
    let (more, bars) = (at % 5 * 60, at % 4 == 3);
    let (kind, restores) = if bars { ("weight-distributing", " restores=(pct)50") } else { ("ball", "") };
    format!(
        r#"truck "truck-{at:02}" {{
    describe "one-ton crew cab, dual rear wheels, driver and full tank aboard"
    axle "front" weighed=(lb){front} rating=(lb)5600 track-width=(in)69 origin="weighed" {{
        tires count=2 rating=(lb)3640 pressure=(psi)80 max-pressure=(psi)80 speed="R" kind="LT"
    }}
    axle "rear" weighed=(lb){rear} rating=(lb)9900 track-width=(in)75 origin="weighed" {{
        tires count=4 load-index=120 dual=#true pressure=(psi)80 max-pressure=(psi)80 speed="R" kind="LT"
    }}
    wheelbase (in){wheelbase}
    gvwr (lb)14000
    gcwr (lb)31000
    hitch "{kind}" behind-rear-axle=(in){overhang} height=(in)20{restores} {{
        rating tongue=(lb)2000 trailer=(lb)18000
        ball size=(in)2.3125 rating=(lb)18000
        brake-controller #true
    }}
}}

"#,
        front = 4360 + more,
        rear = 3240 + more / 2,
        wheelbase = 160 + at % 7 * 3,
        overhang = 48 + at % 8,
    )
}

fn trailer(at: usize) -> String {
    let (more, spring) = (at % 6 * 50, at % 8 == 5);
    let (rate, suspension) = if spring {
        (r#" rate=("lbf/in")2400 empty=(lb)1635"#, r#""independent" level-at=(in)20"#)
    } else {
        ("", r#""equalized""#)
    };
    let empty_axles = if spring { 3270 } else { 3170 + more };
    let mut text = format!(
        r#"trailer "trailer-{at:02}" {{
    describe "20 ft equipment trailer, tandem axles, folding ramps"
    empty tongue=(lb){tongue} axles=(lb){empty_axles} origin="weighed"
    gvwr (lb)14000
    coupler "ball" size=(in)2.3125 rating=(lb)14000 height=(in)20
"#,
        tongue = 430 + more / 4,
    );
    for axle in [189, 223] {
        let _ = writeln!(
            text,
            r#"    axle at=(in){axle} rating=(lb)7000 track-width=(in)88{rate} {{ tires count=2 rating=(lb)3520 pressure=(psi)80 max-pressure=(psi)80 speed=(mph)75 kind="ST"; brakes "electric" }}"#
        );
    }
    let _ = write!(
        text,
        r#"    suspension {suspension}
    safety-chains count=2 rating=(lb)14000
    breakaway #true
    deck from=(in)62 length=(ft)20 width=(in)82 height=(in)25 surface="smooth-steel"
    walls height=(in)24 holds=(lbf)6000
    ramp length=(in)66 rating=(lb)6000 count=2 surface="tread-plate"
"#
    );
    for (row, from) in [("front", 6), ("mid", 120), ("rear", 234)] {
        for (side, left) in [("left", 39), ("right", -39)] {
            let _ =
                writeln!(text, r#"    anchor "{row}-{side}" from-front=(in){from} left=(in){left} rating=(lb)5000"#);
        }
    }
    text.push_str("    width (in)102\n    length (in)302\n}\n\n");
    text
}

/// Every second machine runs on tracks, the others on wheels; a machine on wheels has an attachment of its own.
fn machine(at: usize) -> String {
    let mut text = format!("machine \"machine-{at:02}\" {{\n");
    let body = if at.is_multiple_of(2) {
        format!(
            r#"    describe "wheeled loader, arms down, quick plate bare"
    axle "front" weighed=(lb){front} wheel-radius=(in)15 driven=#true braked=#true track-width=(in)54
    axle "rear"  weighed=(lb){rear} wheel-radius=(in)15 driven=#true braked=#true track-width=(in)54
    wheelbase (in)43
    track-width (in)54
    cg-height (in)28
    contact "rubber-tire"
    outline front=(in)60 rear=(in)-32 width=(in)66 height=(in)79
    underside {{ flat "belly" from=(in)-12 to=(in)52 clearance=(in)8; point "tail" arm=(in)-32 clearance=(in)11 }}
"#,
            front = 2000 + at * 9,
            rear = 3300 + at * 7,
        )
    } else {
        format!(
            r#"    describe "tracked digger, boom folded over the blade"
    weight (lb){weight} origin="brochure"
    contact "rubber-track"
    cg arm=(in)31 height=(in)30
    tracks contact-length=(in)62 gauge=(in)48
    outline front=(in)118 rear=(in)-14 width=(in)60 height=(in)96
    underside {{ flat "belly" from=(in)-4 to=(in)66 clearance=(in)9 }}
"#,
            weight = 5000 + at * 25,
        )
    };
    text.push_str(&body);
    for (row, arm) in [("front", 46), ("rear", -10)] {
        for (side, left) in [("left", 20), ("right", -20)] {
            let _ = writeln!(text, r#"    lash-point "{row}-{side}" arm=(in){arm} left=(in){left} height=(in)18"#);
        }
    }
    text.push_str("}\n\n");
    text
}

fn attachment(at: usize) -> String {
    let machine = at * 2;
    format!(
        r#"attachment "bucket-{machine:02}" {{
    describe "dirt bucket for the loader"
    weight (lb){weight} origin="plate"
    arm (in)76 for="machine-{machine:02}"
    outline front=(in)92 width=(in)66
    underside {{ point "cutting edge" arm=(in)90 clearance=(in)20 }}
    lowers #true
    lash-point "left"  arm=(in)76 left=(in)30  height=(in)15
    lash-point "right" arm=(in)76 left=(in)-30 height=(in)15
}}

"#,
        weight = 420 + at * 5,
    )
}

fn sheet(at: usize) -> String {
    let mut chance = Chance(at as u64);
    let (truck, trailer) = (chance.below(TRUCKS), chance.below(TRAILERS));
    let mut text = format!(
        r#"// Job {at}: written by the foreman the evening before, checked in the pull request.
sheet "job-{at:05}" {{
    describe "machine and material to the site by the river, back on the same trailer"
    truck "truck-{truck:02}"
    trailer "trailer-{trailer:02}"
    // Rain since noon: the deck was swept, and the last mile is the steep lane to the river.
    conditions deck="wet" speed=(mph)50 grade=(pct)6
    aboard-truck "toolbox and fuel" weight=(lb){tools} ahead-of-rear-axle=(in)14
"#,
        tools = 120 + chance.below(8) * 20,
    );
    match at % 6 {
        5 => {
            for leg in ["out", "back"] {
                let _ = writeln!(text, "    leg \"{leg}\" {{");
                aboard(&mut text, "        ", &mut chance, at, false);
                text.push_str("    }\n");
            }
        }
        heaped => aboard(&mut text, "    ", &mut chance, at, heaped == 4),
    }
    text.push_str("}\n");
    text
}

/// A machine, cargo or a heap, and how they are put aboard.
fn aboard(text: &mut String, pad: &str, chance: &mut Chance, at: usize, heaped: bool) {
    let machine = chance.below(MACHINES);
    // A slip that is made: the machine stands too far back, so that the tongue is light.
    let faulty = at % 6 == 1;
    let wheeled = machine.is_multiple_of(2);
    let gap = if wheeled { 53 } else { 48 } + chance.below(3) + if faulty { 14 } else { 0 };
    let _ = writeln!(text, r#"{pad}machine "machine-{machine:02}" facing="forward" front-gap=(in){gap} {{"#);
    if wheeled {
        let _ = writeln!(
            text,
            r#"{pad}    fit "bucket-{machine:02}" {{ tie "strap-2" from="front-left" to="left"; tie "strap-2" from="front-right" to="right" }}"#
        );
    }
    let _ = writeln!(text, "{pad}    parking-brake #true // set by the driver, engine off, key out");
    for (from, to) in [
        ("mid-left", "front-left"),
        ("mid-right", "front-right"),
        ("rear-left", "rear-left"),
        ("rear-right", "rear-right"),
    ] {
        let _ = writeln!(text, r#"{pad}    tie "chain-38" from="{from}" to="{to}""#);
    }
    let _ = writeln!(text, "{pad}}}");
    if heaped {
        // The range of a density makes every bound hold at both of its ends.
        let _ = writeln!(
            text,
            r#"{pad}bulk "topsoil" volume=(yd3)0.5 moisture="dry" front-gap=(in)4 length=(in)20 covered=#true"#
        );
    } else {
        let _ = writeln!(
            text,
            r#"{pad}cargo "plate compactor and rammer" weight=(lb){weight} length=(in)20 width=(in)40 height=(in)36 front-gap=(in)4 base="rubber" {{
{pad}    tie "strap-3" over=#true count=2 from="front-left" to="front-right"
{pad}}}"#,
            weight = 500 + chance.below(6) * 25,
        );
    }
    let height = if at % 12 == 7 { "" } else { " height=(in)22" };
    let _ = writeln!(
        text,
        r#"{pad}cargo "pallet of pipe bedding, wrapped" weight=(lb)180 length=(in)30 width=(in)44{height} rear-gap=(in)2 base="wood" {{
{pad}    tie "strap-3" over=#true count=2 from="rear-left" to="rear-right"
{pad}}}
{pad}// The two crates stand side by side behind the headboard, each with a strap of its own.
{pad}cargo "crate of fittings" weight=(lb)90 length=(in)20 width=(in)30 height=(in)18 front-gap=(in)26 left=(in)20 base="wood" {{
{pad}    tie "strap-2" over=#true from="front-left" to="front-right"
{pad}}}
{pad}cargo "crate of hoses" weight=(lb)85 length=(in)20 width=(in)30 height=(in)18 front-gap=(in)26 left=(in)-20 base="wood" {{
{pad}    tie "strap-2" over=#true from="front-left" to="front-right"
{pad}}}
{pad}loading {{
{pad}    chocks #true
{pad}    parking-brake #true
{pad}    stands "rear" rating=(lb)7000 count=2 at=(in)290
{pad}}}
{pad}reading "tongue scale" tongue=(lb){tongue} stands="clear""#,
        tongue = 1000 + chance.below(9) * 50,
    );
}
