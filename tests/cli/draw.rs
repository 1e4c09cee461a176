//! `draw` as a user runs it: well-formed pictures that keep within their paper, say their figures in words, and invent nothing
//! in silence.

use std::collections::BTreeSet;

use roxmltree::{Document, Node};

use crate::harness::{FLEET, GOOD, Yard, run_in, sheet};

/// The example yard.
fn example() -> std::path::PathBuf {
    std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/yard")
}

/// Draws in the example yard.
fn drawn(arguments: &[&str]) -> String {
    let day = ["draw", "--today", "2026-01-05"];
    run_in(&example(), &[&day[..], arguments].concat()).status(0).out.clone()
}

/// The sheets and legs of the example yard that can be computed, with their figures.
fn loads() -> Vec<(Vec<String>, serde_json::Value)> {
    let weighed = run_in(&example(), &["weigh", "--format", "json"]).json();
    let loads = weighed["loads"].as_array().unwrap().iter().filter(|load| !load["figures"].is_null());
    let name = |load: &serde_json::Value| {
        let mut words = vec!["--sheet".to_owned(), load["sheet"].as_str().unwrap().to_owned()];
        if let Some(leg) = load["leg"].as_str() {
            words.extend(["--leg".to_owned(), leg.to_owned()]);
        }
        words
    };
    loads.map(|load| (name(load), load["figures"].clone())).collect()
}

fn words(all: &[String]) -> Vec<&str> {
    all.iter().map(String::as_str).collect()
}

fn number(node: &Node<'_, '_>, name: &str) -> f64 {
    node.attribute(name).unwrap_or_else(|| panic!("{node:?} has no {name}")).parse().unwrap()
}

/// The places that an element draws at: its corners, or the corners round it.
fn corners(node: &Node<'_, '_>) -> Vec<(f64, f64)> {
    let of = |name| number(node, name);
    match node.tag_name().name() {
        "line" => vec![(of("x1"), of("y1")), (of("x2"), of("y2"))],
        "rect" => vec![(of("x"), of("y")), (of("x") + of("width"), of("y") + of("height"))],
        "circle" => {
            let (x, y, r) = (of("cx"), of("cy"), of("r"));
            vec![(x - r, y - r), (x + r, y + r)]
        }
        "polygon" | "polyline" => {
            let points = node.attribute("points").unwrap().split(' ');
            points
                .map(|point| point.split_once(',').unwrap())
                .map(|(x, y)| (x.parse().unwrap(), y.parse().unwrap()))
                .collect()
        }
        "text" => {
            let (x, y, size) = (of("x"), of("y"), of("font-size"));
            // A serif face sets a character on six tenths of its size at the most, taken over a line.
            let long = size * 0.6 * f64::from(u32::try_from(node.text().unwrap_or("").chars().count()).unwrap());
            let from = match node.attribute("text-anchor") {
                Some("middle") => x - long / 2.0,
                Some("end") => x - long,
                _ => x,
            };
            vec![(from, y - size), (from + long, y + size * 0.3)]
        }
        other => panic!("<{other}> is not drawn with"),
    }
}

/// Asserts what holds of every picture, and gives its description.
fn sound(svg: &str, width: f64) -> String {
    let document = Document::parse(svg).unwrap_or_else(|why| panic!("{why}\n{svg}"));
    let root = document.root_element();
    assert_eq!((root.tag_name().name(), root.tag_name().namespace()), ("svg", Some("http://www.w3.org/2000/svg")));
    assert_eq!(root.attribute("role"), Some("img"));
    assert!((number(&root, "width") - width).abs() < 0.01);
    let (width, height) = (number(&root, "width"), number(&root, "height"));
    assert_eq!(root.attribute("viewBox"), Some(&*format!("0 0 {width} {height}")));
    let mut ids = BTreeSet::new();
    for node in document.descendants().filter(Node::is_element) {
        if let Some(id) = node.attribute("id") {
            assert!(ids.insert(id), "{id} twice");
        }
    }
    let by_id = |id: &str| document.descendants().find(|node| node.attribute("id") == Some(id)).unwrap();
    let labels: Vec<&str> = root.attribute("aria-labelledby").unwrap().split(' ').collect();
    let [title, description] = labels[..] else { panic!("{labels:?}") };
    assert_eq!((by_id(title).tag_name().name(), by_id(description).tag_name().name()), ("title", "desc"));
    assert!(by_id(title).text().unwrap().starts_with("Load "));
    let in_defs = |node: &Node<'_, '_>| node.ancestors().any(|one| one.tag_name().name() == "defs");
    let mut seen = 0;
    for node in root.descendants().filter(|node| node.is_element() && !in_defs(node)) {
        for attribute in node.attributes() {
            let (name, value) = (attribute.name(), attribute.value());
            assert!(!name.starts_with("on") && name != "href" && name != "style", "{node:?}");
            // Ink on white, and patterns of ink: nothing is told by colour, and no text is paler than 17 to 1.
            if ["fill", "stroke"].contains(&name) {
                let plain = ["#1b1b1b", "#ffffff", "none"].contains(&value);
                let pattern = value.strip_prefix("url(#").and_then(|rest| rest.strip_suffix(')'));
                assert!(plain || pattern.is_some_and(|id| ids.contains(id)), "{name}={value}");
            }
        }
        if ["svg", "title", "desc"].contains(&node.tag_name().name()) {
            continue;
        }
        for (x, y) in corners(&node) {
            assert!(x.is_finite() && y.is_finite(), "{node:?}");
            let inside = (-0.1..=width + 0.1).contains(&x) && (-0.1..=height + 0.1).contains(&y);
            assert!(inside, "({x}, {y}) lies outside {width} by {height}: {node:?} {:?}", node.text());
        }
        seen += 1;
    }
    assert!(seen > 20, "{seen} elements");
    assert!(!svg.contains("http") || svg.matches("http").count() == 1, "only the namespace is an address");
    for word in ["NaN", "inf\"", "<script", "<style", "<image", "<foreignObject", "@import"] {
        assert!(!svg.contains(word), "{word}");
    }
    by_id(description).text().unwrap().to_owned()
}

/// The loads of the example yard, on paper and on a phone.
#[test]
fn every_load_of_the_example_yard_is_drawn_soundly() {
    let loads = loads();
    assert!(loads.len() > 15, "{} loads", loads.len());
    for (name, figures) in loads {
        for (width, px) in [("800", 800.0), ("360", 360.0)] {
            let svg = drawn(&[&words(&name)[..], &["--width", width]].concat());
            let said = sound(&svg, px);
            let axles =
                figures.as_object().unwrap().keys().filter(|key| key.contains(".axle[") && key.ends_with("].load"));
            assert_eq!(said.matches(" carries ").count(), axles.count(), "{name:?}: {said}");
            assert!(said.contains("tongue weight ") && said.contains("verify on a scale"), "{said}");
            assert!(svg.contains(">Side view<") && svg.contains(">Top view<") && svg.contains("Loading view"));
        }
    }
}

/// The load and the rating that `weigh` writes of an axle.
fn weighed(text: &str, axle: &str) -> String {
    let rest = text.split(&format!("  {axle}\n    load ")).nth(1).unwrap_or_else(|| panic!("no {axle} in {text}"));
    rest.split('±').next().unwrap().split_whitespace().take(2).collect::<Vec<_>>().join(" ")
}

#[test]
fn each_axle_carries_what_weigh_says() {
    for (name, axles) in [
        (
            &["--sheet", "trencher-move"][..],
            ["rook's front axle", "rook's rear axle", "sled-20's axle 1", "sled-20's axle 2"],
        ),
        (
            &["--sheet", "digger-and-stone", "--leg", "stone"],
            ["rook's front axle", "rook's rear axle", "tipper-12's axle 1", "tipper-12's axle 2"],
        ),
        (
            &["--sheet", "wheel-loader-quarry"],
            ["bittern's front axle", "bittern's rear axle", "long-25's axle 1", "long-25's axle 2"],
        ),
    ] {
        for units in ["us", "si"] {
            let told = run_in(&example(), &[&["weigh", "--units", units], name].concat()).out;
            let said = sound(&drawn(&[name, &["--units", units, "--view", "side"]].concat()), 800.0);
            for axle in axles {
                let load = weighed(&told, axle);
                assert!(said.contains(&format!("{axle} carries {load} of its rating of ")), "{axle} {load}: {said}");
            }
        }
    }
}

/// A bar is to its box as the load is to the rating, and all boxes are to one scale.
#[test]
fn bars_are_to_scale() {
    let name = ["--sheet", "trencher-move"];
    let figures = run_in(&example(), &[&["weigh", "--format", "json"][..], &name].concat()).json();
    let svg = drawn(&[&name[..], &["--view", "side"]].concat());
    let document = Document::parse(&svg).unwrap();
    let rects =
        document.descendants().filter(|node| node.tag_name().name() == "rect" && node.attribute("width") == Some("10"));
    let rects: Vec<f64> = rects.map(|node| number(&node, "height")).collect();
    // Box and load, axle by axle; the ratings are those of the yard's files.
    let ratings = [5600.0, 9900.0, 7000.0, 7000.0].map(|pounds| pounds * 0.453_592_37);
    let axles = ["truck.axle[front]", "truck.axle[rear]", "trailer.axle[1]", "trailer.axle[2]"];
    assert_eq!(rects.len(), 8, "{rects:?}");
    let scale = rects[2] / ratings[1];
    for ((pair, rating), axle) in rects.chunks(2).zip(ratings).zip(axles) {
        let load = figures["loads"][0]["figures"][format!("{axle}.load")]["value"].as_f64().unwrap();
        assert!((pair[0] - rating * scale).abs() < 0.11 && (pair[1] - load * scale).abs() < 0.11, "{axle}: {pair:?}");
    }
}

/// What `place` offers and what the rules ask of ties stands in the picture too.
#[test]
fn places_and_ties_are_those_of_the_other_commands() {
    let said = sound(&drawn(&["--sheet", "trencher-move"]), 800.0);
    for range in ["26.6 in to 44.5 in (below it tongue-heavy, above it tongue-light)", "27.8 in to 45.7 in"] {
        assert!(said.contains(range), "{said}");
    }
    let place = run_in(&example(), &["place", "--sheet", "trencher-move"]).out;
    assert!(place.contains("26.6 in to 44.5 in") && place.contains("27.8 in to 45.7 in"), "{place}");
    let weigh = run_in(&example(), &["weigh", "--sheet", "trencher-move"]).out;
    assert!(weigh.contains("121.4 %") && said.contains("held least to the left, 121.4 % of its weight"), "{said}");
    assert!(weigh.contains("-3.1 in") && said.contains("least gap on the way up -3.1 in: it drags"), "{said}");
}

#[test]
fn only_the_views_that_were_asked_for() {
    let name = ["--sheet", "trencher-move"];
    for (views, there) in [
        (&["--view", "side"][..], [true, false, false]),
        (&["--view", "loading", "--view", "top"], [false, true, true]),
        (&[], [true, true, true]),
    ] {
        let svg = drawn(&[&name[..], views].concat());
        sound(&svg, 800.0);
        let found = ["Side view<", "Top view<", "Loading view, trencher-30<"].map(|view| svg.contains(view));
        assert_eq!(found, there);
    }
    let quiet = drawn(&[&name[..], &["--quiet"]].concat());
    assert!(!quiet.contains("verify on a scale"));
}

#[test]
fn one_load_at_a_time() {
    let yard = Yard::new().file("a.kdl", sheet("a", GOOD)).file("far/b.kdl", sheet("b\\u{1b}[2J", GOOD));
    let several = yard.run(&["draw"]);
    several.status(2);
    assert_eq!(several.out, "");
    assert!(several.err.contains("2 loads here") && several.err.contains("--sheet \"a\""), "{}", several.err);
    assert!(!several.err.contains('\u{1b}'));
    sound(&yard.run(&["draw", "a.kdl"]).status(0).out, 800.0);
    sound(&yard.run(&["draw", "--sheet", "a"]).status(0).out, 800.0);
    yard.run(&["draw", "--sheet", "nobody"]).status(2);
    yard.run(&["draw", "nowhere"]).status(2);
    yard.run(&["draw", "a.kdl", "--width", "10"]).status(2);
    let empty = Yard::empty().run(&["draw"]);
    assert_eq!((empty.status(0).out.as_str(), empty.err.as_str()), ("", "no loads here: there is nothing to draw\n"));
}

/// A load that cannot be computed gives no picture but what is wrong with it, and the status of a check.
#[test]
fn no_broken_picture() {
    for broken in [sheet("a", GOOD).replace("weight=(lb)6000 ", ""), sheet("a", GOOD).replace("pickup", "nobody")] {
        let yard = Yard::new().file("a.kdl", broken);
        let ran = yard.run(&["draw"]);
        assert_eq!((ran.status, ran.out.as_str()), (1, ""));
        assert_eq!(yard.run(&["check"]).status, 1);
        assert!(
            ran.err.starts_with("error ") && ran.err.ends_with("nothing is drawn, for this load cannot be computed\n"),
            "{}",
            ran.err
        );
    }
}

/// What is not given is dashed and named; nothing else is.
#[test]
fn what_is_not_given_is_said() {
    let given = sound(&Yard::new().file("a.kdl", sheet("a", GOOD)).run(&["draw"]).out, 800.0);
    assert!(!given.contains("not given"), "{given}");
    let fleet = FLEET.replace(" width=(in)82 height=(in)25", "").replace("rating=(lb)5600", "");
    let sheet = sheet("a", GOOD).replace(" width=(in)44 height=(in)40", "");
    let yard = Yard::new().file("fleet.kdl", fleet).file("a.kdl", sheet);
    let svg = yard.run(&["draw"]).status(0).out.clone();
    let said = sound(&svg, 800.0);
    for word in [
        "trailer \"flat\" deck height, sheet \"a\" cargo \"pallet\" height not given",
        "trailer \"flat\" deck width, sheet \"a\" cargo \"pallet\" width not given",
        "pickup's front axle carries 3,920 lb; its rating is not given",
        "its height is not known",
    ] {
        assert!(said.contains(word), "{word}: {said}");
    }
    // Deck and cargo, from the side and from above.
    let document = Document::parse(&svg).unwrap();
    let dashed = |fill: &str| {
        document.descendants().any(|node| {
            node.attribute("fill").is_some_and(|own| own.ends_with(fill))
                && node.attribute("stroke-dasharray") == Some("4 3")
        })
    };
    assert!(dashed("-level)"));
}

#[test]
fn a_machine_without_an_underside_is_not_set_on_the_ramp() {
    let machine = r#"
machine "m" {
    axle "front" weighed=(lb)2400; axle "rear" weighed=(lb)3600
    wheelbase (in)70
    outline front=(in)88 rear=(in)-40
}
"#;
    let sheet =
        "sheet \"a\" { truck \"pickup\"; trailer \"flat\"; machine \"m\" facing=\"backward\" front-gap=(in)90; }";
    let ramp = "deck from=(in)60 length=(ft)20 width=(in)82 height=(in)25 surface=\"wood\"\n ramp length=(in)80";
    let deck = "deck from=(in)60 length=(ft)20 width=(in)82 height=(in)25 surface=\"wood\"";
    for (fleet, word) in [
        (FLEET.to_owned(), "The way up is not drawn for want of trailer \"flat\" ramp"),
        (FLEET.replace(deck, ramp), "The machine is not drawn for want of machine \"m\" axle \"front\" wheel-radius"),
    ] {
        let yard = Yard::new().file("fleet.kdl", fleet + machine).file("a.kdl", sheet);
        let said = sound(&yard.run(&["draw"]).status(0).out, 800.0);
        assert!(said.contains(word), "{said}");
        assert!(said.contains("machine \"m\" underside") && said.contains("machine \"m\" outline height"), "{said}");
    }
}

/// A tie-down without ends is told in words.
#[test]
fn a_tie_without_ends_is_not_drawn() {
    let tied = sheet("a", GOOD).replace("front-gap=(in)98\n", "front-gap=(in)98 { tie \"strap\" count=4; }\n");
    let gear = "tiedown \"strap\" kind=\"webbing\" width=(in)3 wll=(lb)5000\n";
    let yard = Yard::new().file("gear.kdl", gear).file("a.kdl", tied);
    let said = sound(&yard.run(&["draw", "--view", "top"]).status(0).out, 800.0);
    assert!(said.contains("pallet: in which direction least is held is not known"), "{said}");
    assert!(said.contains(": 4 x strap 100 %"), "{said}");
    assert!(said.contains("from where to where a tie-down goes is not said"), "{said}");
}

/// Markup, quotes, control characters and great length in names, in every place of a picture.
#[test]
fn hostile_names_stay_names() {
    let long = "x".repeat(5000);
    for name in
        ["</text><script>alert(1)</script>&amp;'", "]]><!-- & \\\" -->", "a\\u{1b}[2Jb\\u{202e}c\\u{ffff}", &long]
    {
        let all = format!("{FLEET}{}", sheet("SHEET", GOOD)).replace("\"SHEET\"", &format!("\"{name}\""));
        let all = ["pickup", "flat", "pallet"]
            .iter()
            .fold(all, |all, id| all.replace(&format!("\"{id}\""), &format!("\"{name}\"")));
        let yard = Yard::new().file("fleet.kdl", all);
        for width in ["800", "320"] {
            let ran = yard.run(&["draw", "--width", width]);
            let said = sound(&ran.status(0).out, width.parse().unwrap());
            assert!(ran.out.len() < 60_000, "{} bytes", ran.out.len());
            let acts = |c: char| (c.is_control() && c != '\n') || ['\u{202e}', '\u{ffff}'].contains(&c);
            assert!(!ran.out.contains(acts), "{}", ran.out);
            assert!(said.contains("'s front axle carries"), "{said}");
        }
    }
}

#[test]
fn the_same_whatever_the_threads() {
    let name = ["--sheet", "barn-lane", "--leg", "tractor and pipe"];
    let one = drawn(&[&name[..], &["--jobs", "1"]].concat());
    assert_eq!(one, drawn(&[&name[..], &["--jobs", "4"]].concat()));
}

#[test]
fn a_small_load() {
    let yard = Yard::new().file("a.kdl", sheet("a", GOOD));
    insta::assert_snapshot!(yard.run(&["draw", "--width", "360"]).status(0).out);
}
