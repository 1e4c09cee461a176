//! Contradictions, each put into the example yard.

use super::{YARD, read};

#[track_caller]
fn clash(old: &str, new: &str, snippet: &str) {
    assert!(YARD.contains(old), "{old} is not in the yard");
    let (_, findings, sources) = read(&[&YARD.replacen(old, new, 1)]);
    let found: Vec<String> =
        findings.iter().map(|one| format!("{} @ {}", one.rule, sources.slice(one.primary.span))).collect();
    assert_eq!(found, [format!("does-not-add-up @ {snippet}")]);
    assert!(findings.iter().all(|one| one.help.is_some()));
}

#[track_caller]
fn agrees(old: &str, new: &str) {
    assert!(YARD.contains(old), "{old} is not in the yard");
    assert_eq!(read(&[&YARD.replacen(old, new, 1)]).1, Vec::new());
}

#[test]
fn in_a_truck() {
    clash("tires count=4", "tires count=3", "count=3");
    clash("tires count=2 rating=(lb)3640", "tires dual=#true count=2 rating=(lb)3640", "count=2");
    clash("gcwr (lb)31000", "gcwr (lb)13000", "gvwr (lb)14000");
    // Load index 120 stands for 1,400 kg = 3,086 lb (ISO 4000-1, secondary).
    clash("load-index=120", "load-index=120 rating=(lb)3640", "load-index=120");
    agrees("load-index=120", "load-index=120 rating=(lb)3085");
    agrees("load-index=120", "load-index=\"123/120\" rating=(lb)3085");
}

#[test]
fn in_a_trailer() {
    clash("axle at=(in)223", "axle at=(in)189", "at=(in)189");
    clash(
        "brakes \"electric\" }\n    axle at=(in)223",
        "brakes \"electric\" }\n    width (in)80\n    axle at=(in)223",
        "width=(in)82",
    );
    clash(
        "surface=\"smooth-steel\"\n    ramp",
        "surface=\"smooth-steel\" { dovetail length=(ft)21 drop=(in)4; }\n    ramp",
        "length=(ft)21",
    );
    clash("from-front=(in)234 left=(in)39", "from-front=(in)324 left=(in)39", "from-front=(in)324");
    clash("from-front=(in)120 left=(in)-39", "from-front=(in)120 left=(in)-90", "left=(in)-90");
    // On the tongue, and on a bumper.
    agrees("from-front=(in)6   left=(in)39", "from-front=(in)-30 left=(in)39");
    agrees("from-front=(in)234 left=(in)39", "from-front=(in)270 left=(in)39");
    clash("tip-bed hinge-from-rear=(in)14", "tip-bed hinge-from-rear=(in)145", "hinge-from-rear=(in)145");
    let empties = |rear: &str| {
        YARD.replacen("at=(in)189", "at=(in)189 empty=(lb)1500", 1).replacen(
            "at=(in)223",
            &format!("at=(in)223 empty=(lb){rear}"),
            1,
        )
    };
    assert_eq!(read(&[&empties("1670")]).1, Vec::new());
    let wrong = read(&[&empties("1400")]).1;
    assert_eq!(wrong.len(), 1);
    assert_eq!(
        wrong[0].message,
        "the axles carry 2,900 lb together when the trailer is empty, and 3,170 lb is written for all of them"
    );
}

#[test]
fn in_a_machine() {
    for (new, snippet, help) in [
        (
            "front=(in)78 rear=(in)40",
            "rear=(in)40",
            "write rear=(in)-40: arms run forward from there, and behind it they are negative",
        ),
        (
            "front=(in)78 rear=(in)78",
            "rear=(in)78",
            "write rear=(in)-78: arms run forward from there, and behind it they are negative",
        ),
        ("front=(in)-78 rear=(in)-40", "front=(in)-78", "write front=(in)78"),
        ("front=\"-6 ft 6 in\" rear=(in)-40", "front=\"-6 ft 6 in\"", "write front=(in)78"),
    ] {
        clash("front=(in)78 rear=(in)-40", new, snippet);
        let (_, findings, _) = read(&[&YARD.replacen("front=(in)78 rear=(in)-40", new, 1)]);
        assert_eq!(findings[0].help.as_deref(), Some(help));
    }
    clash("wheelbase (in)58", "wheelbase (in)80", "wheelbase (in)80");
    clash("track-width (in)42", "track-width (in)52", "track-width (in)52");
    clash("arm=(in)62  left=(in)20  height=(in)20", "arm=(in)162 left=(in)20  height=(in)20", "arm=(in)162");
    clash("arm=(in)-12 left=(in)20  height=(in)22", "arm=(in)-12 left=(in)60 height=(in)22", "left=(in)60");
    clash("arm=(in)-12 left=(in)20  height=(in)22", "arm=(in)-12 left=(in)20  height=(in)122", "height=(in)122");
    clash("weighed=(lb)1210 wheel-radius=(in)13", "weighed=(lb)1210 wheel-radius=(in)46", "wheel-radius=(in)46");
    clash("gauge=(in)48", "gauge=(in)61", "gauge=(in)61");
    clash("cg-height (in)27", "cg-height (in)90", "cg-height (in)90");
    clash("wheelbase (in)58", "wheelbase (in)58; weight (lb)3400", "weight (lb)3400");
    agrees("wheelbase (in)58", "wheelbase (in)58; weight (lb)3110");
    // 58 in x 1210 / 3100 = 22.6 in.
    clash("wheelbase (in)58", "wheelbase (in)58; cg arm=(in)30", "arm=(in)30");
    agrees("wheelbase (in)58", "wheelbase (in)58; cg arm=(in)22.5");
    clash("cg-height (in)27", "cg-height (in)27; cg arm=(in)22.6 height=(in)28", "cg-height (in)27");
    clash("wheelbase (in)58", "wheelbase (in)58; tracks contact-length=(in)50", "tracks contact-length=(in)50");
    clash("point \"belly\"", "flat \"sill\" from=(in)20 to=(in)10 clearance=(in)8; point \"belly\"", "from=(in)20");
    clash("arm (in)84", "arm (in)84; arm (in)85", "arm (in)85");
    agrees("arm (in)84", "arm (in)84; arm (in)85 for=\"trencher-30\"");
}

#[test]
fn in_gear_and_sheets() {
    clash("wll=(lb)6600", "wll=(lb)6600 breaking=(lb)6000", "wll=(lb)6600");
    clash("height=(in)40 rear-gap", "height=(in)40 cg-height=(in)41 rear-gap", "cg-height=(in)41");
    clash("height=(in)40 rear-gap", "height=(in)40 cg-left=(in)-23 rear-gap", "cg-left=(in)-23");
    clash("tongue=(lb)840", "tongue=(lb)840 axles=(lb)6000 gross=(lb)6000", "gross=(lb)6000");
    agrees("tongue=(lb)840", "tongue=(lb)840 axles=(lb)6000 gross=(lb)6850");
    let material = "material \"slag\" { density \"dry\" low=(\"lb/yd3\")1600 high=(\"lb/yd3\")1500; repose low=(deg)40 high=(deg)30; }";
    let found = read(&["", material]).1;
    assert_eq!(found.len(), 2);
    assert!(found.iter().all(|one| one.rule == "does-not-add-up"));
}
