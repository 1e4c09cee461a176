//! What tie-downs hold, against balances by hand, and what must hold of any cargo.

use draylint::physics::{Footing, Held, HoldError, HoldSpot as Spot, Pull, Toward};
use draylint::units::{Length, Mass, Quantity as _, Share};

fn spot(ahead: f64, left: f64, height: f64) -> Spot {
    Spot { ahead: Length::new(ahead), left: Length::new(left), height: Length::new(height) }
}

/// A box of 1,000 kg, 2 m long, 1 m wide, its centre of gravity in the middle at 0.5 m.
fn cargo(friction: f64, pulls: Vec<Pull>) -> Held {
    let corners = [(1.0, 0.5), (1.0, -0.5), (-1.0, 0.5), (-1.0, -0.5)];
    Held {
        weight: Mass::new(1000.0),
        cg: spot(0.0, 0.0, 0.5),
        footing: corners.into_iter().map(|(x, y)| Footing { at: spot(x, y, 0.0), rolls: false }).collect(),
        friction: Share::new(friction),
        pulls,
        presses: vec![],
        blocks: vec![],
        anchors: vec![None; 8],
    }
}

fn g(held: &Held, toward: Toward) -> f64 {
    held.told(&held.holds(toward).unwrap()).unwrap().si()
}

#[test]
fn friction_alone_holds_its_coefficient() {
    let held = cargo(0.4, vec![]);
    for toward in [Toward::Forward, Toward::Rearward, Toward::Left, Toward::Right] {
        assert!((g(&held, toward) - 0.4).abs() < 1e-7, "{toward:?} {}", g(&held, toward));
    }
    assert!(g(&held, Toward::Up).abs() < 1e-9);
}

#[test]
fn without_slipping_it_tips() {
    // 0.5 m to the edge across, 0.5 m high: tips at 1 g across and 2 g lengthwise.
    let held = cargo(5.0, vec![]);
    assert!((g(&held, Toward::Left) - 1.0).abs() < 1e-9);
    assert!((g(&held, Toward::Forward) - 2.0).abs() < 1e-9);
}

#[test]
fn level_ties_add_their_limit() {
    // Two ties straight to the rear at the height of the centre of gravity, 300 kg each, no friction.
    let tie = |left: f64| Pull {
        from: spot(-1.0, left, 0.5),
        to: spot(-3.0, left, 0.5),
        limit: Mass::new(300.0),
        anchor: None,
        over: false,
    };
    let held = cargo(0.0, vec![tie(0.4), tie(-0.4)]);
    assert!((g(&held, Toward::Forward) - 0.6).abs() < 1e-9);
    assert!(g(&held, Toward::Rearward).abs() < 1e-9);
}

#[test]
fn a_tie_of_no_length_is_refused() {
    let tie =
        Pull { from: spot(0.0, 0.0, 0.5), to: spot(0.0, 0.0, 0.5), limit: Mass::new(300.0), anchor: None, over: false };
    assert_eq!(cargo(0.3, vec![tie]).holds(Toward::Forward).unwrap_err(), HoldError::TieWithoutLength(0));
}

#[test]
fn slopes_agree_with_differences() {
    let ends = [(1.0, 0.5, 1.8, 1.0), (1.0, -0.5, 1.8, -1.0), (-1.0, 0.5, -1.9, 1.0), (-1.0, -0.5, -1.9, -1.0)];
    let with = |first: f64, friction: f64, height: f64| {
        let pulls = ends.iter().enumerate().map(|(at, (x, y, ax, ay))| Pull {
            from: spot(*x, *y, 0.6),
            to: spot(*ax, *ay, 0.0),
            limit: Mass::new(if at == 2 { first } else { 400.0 }),
            anchor: Some(at),
            over: false,
        });
        Held { cg: spot(0.1, 0.05, height), ..cargo(friction, pulls.collect()) }
    };
    for toward in [Toward::Forward, Toward::Rearward, Toward::Left, Toward::Right, Toward::Up] {
        let mut held = with(400.0, 0.3, 0.6);
        held.pulls[2].limit = held.pulls[2].limit.varied(0);
        held.friction = held.friction.varied(1);
        held.cg.height = held.cg.height.varied(2);
        let told = held.told(&held.weighed(toward).unwrap()).unwrap();
        let plain = |a: f64, b: f64, c: f64| g(&with(a, b, c), toward);
        let step = 1e-4;
        let expected = [
            (plain(400.0 + step, 0.3, 0.6) - plain(400.0 - step, 0.3, 0.6)) / (2.0 * step),
            (plain(400.0, 0.3 + step, 0.6) - plain(400.0, 0.3 - step, 0.6)) / (2.0 * step),
            (plain(400.0, 0.3, 0.6 + step) - plain(400.0, 0.3, 0.6 - step)) / (2.0 * step),
        ];
        for (slope, expected) in told.slopes().iter().zip(expected) {
            assert!((slope - expected).abs() < 1e-6, "{toward:?}: {:?} for {expected:?}", told.slopes());
        }
        assert!((told.si() - plain(400.0, 0.3, 0.6)).abs() < 1e-9);
    }
}

#[test]
fn chains_that_lean_one_way_press_down_too() {
    // 49 CFR 393.102(b): a downward force. A tie of 500 kg that falls 0.6 m over 0.8 m presses with 0.6 of it, whatever else it does.
    let tie = Pull {
        from: spot(-1.0, 0.4, 0.6),
        to: spot(-1.8, 0.4, 0.0),
        limit: Mass::new(500.0),
        anchor: Some(0),
        over: false,
    };
    let held = Held { anchors: vec![None], ..cargo(0.3, vec![tie]) };
    assert!((g(&held, Toward::Up) - 0.3).abs() < 1e-9);
    // Two on one anchor rated for 600 kg press with no more than it holds.
    let held = Held { anchors: vec![Some(Mass::new(600.0))], ..cargo(0.3, vec![tie, tie]) };
    assert!((g(&held, Toward::Up) - 0.36).abs() < 1e-9);
}

#[test]
fn the_numbers_of_a_cargo_tell_it_from_any_other() {
    let pull = |from: Spot, limit: f64, anchor: Option<usize>, over: bool| Pull {
        from,
        to: spot(3.0, 1.0, 0.0),
        limit: Mass::new(limit),
        anchor,
        over,
    };
    let tied = cargo(0.3, vec![pull(spot(1.0, 0.5, 0.6), 400.0, Some(0), false)]);
    let with = |pull: Pull| Held { pulls: vec![pull], ..tied.clone() };
    let press = |force: f64| draylint::physics::Press { at: spot(0.0, 0.5, 1.0), force: Mass::new(force) };
    let block = |against: Toward, holds: f64| draylint::physics::Block {
        against,
        at: (spot(1.0, 0.5, 0.0), spot(1.0, 0.5, 0.4)),
        holds: Mass::new(holds),
    };
    let mut rolling = tied.clone();
    rolling.footing[2].rolls = true;
    let mut moved = tied.clone();
    moved.footing[3].at = spot(-1.0, -0.4, 0.0);
    let all = [
        tied.clone(),
        Held { weight: Mass::new(1001.0), ..tied.clone() },
        Held { cg: spot(0.0, 0.0, 0.6), ..tied.clone() },
        Held { cg: spot(0.1, 0.0, 0.5), ..tied.clone() },
        Held { friction: Share::new(0.31), ..tied.clone() },
        rolling,
        moved,
        Held { footing: tied.footing[..3].to_vec(), ..tied.clone() },
        with(pull(spot(1.0, 0.4, 0.6), 400.0, Some(0), false)),
        with(pull(spot(1.0, 0.5, 0.6), 401.0, Some(0), false)),
        with(pull(spot(1.0, 0.5, 0.6), 400.0, Some(1), false)),
        with(pull(spot(1.0, 0.5, 0.6), 400.0, None, false)),
        with(pull(spot(1.0, 0.5, 0.6), 400.0, Some(0), true)),
        with(Pull { to: spot(3.0, 1.1, 0.0), ..tied.pulls[0] }),
        Held { presses: vec![press(50.0)], ..tied.clone() },
        Held { presses: vec![press(60.0)], ..tied.clone() },
        Held { blocks: vec![block(Toward::Forward, 200.0)], ..tied.clone() },
        Held { blocks: vec![block(Toward::Left, 200.0)], ..tied.clone() },
        Held { blocks: vec![block(Toward::Left, 300.0)], ..tied.clone() },
        Held { anchors: vec![Some(Mass::new(900.0)); 8], ..tied.clone() },
        Held { anchors: vec![None; 7], ..tied.clone() },
    ];
    for (at, one) in all.iter().enumerate() {
        for (other_at, other) in all.iter().enumerate().skip(at + 1) {
            assert_ne!(one.numbers(), other.numbers(), "{at} and {other_at}");
        }
    }
    // Along which entries its numbers vary changes nothing of what is found.
    assert_eq!(Held { weight: tied.weight.varied(0), ..tied.clone() }.numbers(), tied.numbers());
}
