//! What tie-downs, friction and blocking hold: for each direction the largest acceleration at which a cargo still stands in
//! balance, its forces and its moments, with no tie beyond its limit. Upward it is only the force that the ties press down with:
//! 49 CFR 393.102(b) asks for a downward force, and no balance.
//!
//! A linear program: tensions between nothing and the limit along the ties' real directions, what hangs on one anchor
//! together within its rating, at each corner of the footing a normal force and a friction within a polygon inside the cone,
//! what bears against a wall within what the wall holds. The ties share as favourably as they can, which flatters: a crew
//! cannot tension them so, and stiffness is not asked. Forces are in kg, as ratings are.

use std::fmt;

use super::balance::{Column, Program};
use crate::units::{Dual, Length, Mass, Share};

/// Corners of the polygon inside the friction cone.
const FACETS: u32 = 8;
/// The shortest that a tie can be, in m: less is one spot, measured twice (judgement, no source).
const SHORTEST: f64 = 0.01;

/// A place: along the deck toward the truck, across to the left, up from the deck.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Spot {
    /// Toward the truck.
    pub ahead: Length,
    /// To the left.
    pub left: Length,
    /// Above the deck.
    pub height: Length,
}

/// A corner of what the cargo stands on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Footing {
    /// Where it is; its height counts as none.
    pub at: Spot,
    /// Whether it rolls lengthwise: a wheel that no brake holds resists only across.
    pub rolls: bool,
}

/// A tie from the cargo to an anchor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pull {
    /// Where it holds the cargo.
    pub from: Spot,
    /// Where it is anchored.
    pub to: Spot,
    /// What it holds at the most.
    pub limit: Mass,
    /// Which of [`Held::anchors`] it hangs on.
    pub anchor: Option<usize>,
    /// Whether it goes over the top: it then holds down, and nothing sideways but what it presses.
    pub over: bool,
}

/// What a tie over the top presses down by its pre-tension.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Press {
    /// Where.
    pub at: Spot,
    /// With how much.
    pub force: Mass,
}

/// What a wall or a chock holds of a cargo that bears against it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Block {
    /// Which way it keeps the cargo from going.
    pub against: Toward,
    /// Where it bears at the least height and at the most.
    pub at: (Spot, Spot),
    /// What it holds.
    pub holds: Mass,
}

/// Which way the cargo would go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Toward {
    /// Toward the truck: the rig brakes.
    Forward,
    /// Away from the truck: it starts.
    Rearward,
    /// To the left.
    Left,
    /// To the right.
    Right,
    /// Up: only what the ties press down counts, neither its weight, nor what it stands on, nor any moment.
    Up,
}

impl Toward {
    /// All of them.
    pub const ALL: [Self; 5] = [Self::Forward, Self::Rearward, Self::Left, Self::Right, Self::Up];

    const fn way(self) -> [f64; 3] {
        match self {
            Self::Forward => [1.0, 0.0, 0.0],
            Self::Rearward => [-1.0, 0.0, 0.0],
            Self::Left => [0.0, 1.0, 0.0],
            Self::Right => [0.0, -1.0, 0.0],
            Self::Up => [0.0, 0.0, 1.0],
        }
    }
}

/// A cargo and what holds it.
#[derive(Clone, Debug, PartialEq)]
pub struct Held {
    /// What it weighs.
    pub weight: Mass,
    /// Its centre of gravity.
    pub cg: Spot,
    /// The corners of what it stands on.
    pub footing: Vec<Footing>,
    /// Friction under it, the least it can be.
    pub friction: Share,
    /// The ties.
    pub pulls: Vec<Pull>,
    /// What presses it down.
    pub presses: Vec<Press>,
    /// What it bears against.
    pub blocks: Vec<Block>,
    /// What each anchor is rated for, where that is known.
    pub anchors: Vec<Option<Mass>>,
}

/// Why nothing can be told of a cargo's ties.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HoldError {
    /// This tie (from 0) begins where it ends.
    TieWithoutLength(usize),
    /// It weighs nothing.
    NoWeight,
    /// It does not stand: its centre of gravity is not over its footing, and the ties do not make up for it.
    DoesNotStand,
    /// Something is no finite number.
    NotFinite,
}

impl fmt::Display for HoldError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TieWithoutLength(at) => write!(f, "tie-down {} begins where it ends", at + 1),
            Self::NoWeight => f.write_str("it weighs nothing"),
            Self::DoesNotStand => f.write_str("its centre of gravity does not lie over what it stands on"),
            Self::NotFinite => f.write_str("a measure of its tie-downs is no finite number"),
        }
    }
}

impl std::error::Error for HoldError {}

/// The best that ties and friction can do in one direction.
#[derive(Clone, Debug)]
pub struct Holding {
    toward: Toward,
    /// The acceleration in g.
    value: f64,
    /// Every force of the best balance, in the order of the columns.
    forces: Vec<f64>,
    /// What a little more of each row's bound, and of each column's, would add.
    rows: Vec<f64>,
    bounds: Vec<f64>,
    /// Which tie each column is, if it is one.
    pulls: Vec<Option<usize>>,
}

impl Held {
    /// The largest acceleration that is held in a direction.
    ///
    /// # Errors
    /// [`HoldError`].
    ///
    /// Source: balance of a rigid body; criteria of 49 CFR 393.102 (seen) and EN 12195-1 (memory) are compared with it.
    pub fn holds(&self, toward: Toward) -> Result<Holding, HoldError> {
        let program = self.program(toward)?;
        let (value, forces) = program.best().ok_or(HoldError::DoesNotStand)?;
        let pulls = program.columns.iter().map(|column| column.pull).collect();
        Ok(Holding { toward, value, forces, rows: Vec::new(), bounds: Vec::new(), pulls })
    }

    /// The same with what each bound is worth, from which slopes and the governing tie are told.
    ///
    /// # Errors
    /// [`HoldError`].
    pub fn weighed(&self, toward: Toward) -> Result<Holding, HoldError> {
        let program = self.program(toward)?;
        let holding = self.holds(toward)?;
        let (rows, bounds) = program.worth().ok_or(HoldError::DoesNotStand)?;
        Ok(Holding { rows, bounds, ..holding })
    }

    /// The acceleration in parts of gravity, with slopes where what each bound is worth was asked.
    ///
    /// # Errors
    /// [`HoldError`].
    pub fn told(&self, holding: &Holding) -> Result<Share, HoldError> {
        if holding.rows.is_empty() {
            return Ok(Share::new(holding.value));
        }
        let program = self.program(holding.toward)?;
        // At the best balance the value moves as the program's Lagrangian does, forces and worths held.
        let mut sum = Dual::new(0.0);
        for (force, column) in holding.forces.iter().zip(&program.columns) {
            sum += Dual::new(column.gain * force);
        }
        let mut left: Vec<Dual> = program.balance.iter().chain(&program.shared).copied().collect();
        for (force, column) in holding.forces.iter().zip(&program.columns) {
            for (row, part) in left.iter_mut().zip(column.wrench) {
                *row = *row - part * *force;
            }
            for (at, part) in &column.shares {
                if let Some(row) = left.get_mut(6 + at) {
                    *row = *row - *part * *force;
                }
            }
        }
        for (worth, row) in holding.rows.iter().zip(left) {
            sum += row * *worth;
        }
        for ((worth, column), force) in holding.bounds.iter().zip(&program.columns).zip(&holding.forces) {
            if let Some(most) = column.most.filter(|_| *worth > 0.0) {
                sum += (most - Dual::new(*force)) * *worth;
            }
        }
        Ok(Share::of(sum))
    }

    /// Every plain number that [`Self::holds`] and [`Self::weighed`] follow from beside the direction, to the bit: two that have
    /// the same hold the same.
    #[must_use]
    pub fn numbers(&self) -> Vec<u64> {
        let Self { weight, cg, footing, friction, pulls, presses, blocks, anchors } = self;
        // How many there are of each, so that none can be taken for another.
        let mut all: Vec<f64> =
            [footing.len(), pulls.len(), presses.len(), blocks.len(), anchors.len()].map(place).into();
        let spot = |spot: &Spot| [spot.ahead, spot.left, spot.height].map(Length::si);
        all.extend([weight.si(), friction.si()].into_iter().chain(spot(cg)));
        for Footing { at, rolls } in footing {
            all.extend(spot(at).into_iter().chain([f64::from(u8::from(*rolls))]));
        }
        for Pull { from, to, limit, anchor, over } in pulls {
            all.extend(spot(from).into_iter().chain(spot(to)));
            all.extend([limit.si(), f64::from(u8::from(*over)), anchor.map_or(-1.0, place)]);
        }
        for Press { at, force } in presses {
            all.extend(spot(at).into_iter().chain([force.si()]));
        }
        for Block { against, at, holds } in blocks {
            all.extend(spot(&at.0).into_iter().chain(spot(&at.1)).chain([place(*against as usize), holds.si()]));
        }
        all.extend(anchors.iter().map(|rating| rating.map_or(-1.0, Mass::si)));
        all.into_iter().map(f64::to_bits).collect()
    }

    fn program(&self, toward: Toward) -> Result<Program, HoldError> {
        let weight = self.weight.dual();
        if weight.value() <= 0.0 || !weight.is_finite() {
            return Err(HoldError::NoWeight);
        }
        let mut shared: Vec<Dual> = Vec::new();
        let mut columns = Vec::new();
        let zero = Dual::new(0.0);
        let [x, y, z] = toward.way().map(Dual::new);
        columns.push(Column {
            wrench: [x, y, z, zero, zero, zero],
            shares: Vec::new(),
            most: None,
            gain: 1.0,
            pull: None,
        });
        let anchors: Vec<Option<usize>> = self
            .anchors
            .iter()
            .map(|rating| {
                rating.map(|rating| {
                    shared.push(rating.dual() / weight);
                    shared.len() - 1
                })
            })
            .collect();
        for (at, pull) in self.pulls.iter().enumerate() {
            let way = [
                (pull.to.ahead - pull.from.ahead).dual(),
                (pull.to.left - pull.from.left).dual(),
                (pull.to.height - pull.from.height).dual(),
            ];
            let long = (way[0] * way[0] + way[1] * way[1] + way[2] * way[2]).sqrt();
            if long.value() <= SHORTEST || !long.is_finite() {
                return Err(HoldError::TieWithoutLength(at));
            }
            let limit = pull.limit.dual() / weight;
            if pull.over && toward != Toward::Up {
                continue;
            }
            let shares = pull.anchor.and_then(|anchor| anchors.get(anchor).copied().flatten());
            columns.push(Column {
                wrench: self.wrench(pull.from, way.map(|part| part / long)),
                shares: shares.map(|row| (row, Dual::new(1.0))).into_iter().collect(),
                most: Some(limit),
                gain: 0.0,
                pull: Some(at),
            });
        }
        // What the columns must make up for: weight and what presses.
        let mut balance = [zero; 6];
        if toward == Toward::Up {
            // 49 CFR 393.102(b) asks for a downward force only, so chains that all lean one way press down too.
            for column in &mut columns {
                let [_, _, up, ..] = column.wrench;
                column.wrench = [zero, zero, up, zero, zero, zero];
            }
        } else {
            self.stand(&mut columns, &mut shared);
            balance[2] = Dual::new(1.0);
            for press in &self.presses {
                let down = self.wrench(press.at, [zero, zero, -(press.force.dual() / weight)]);
                for (row, part) in balance.iter_mut().zip(down) {
                    *row = *row - part;
                }
            }
        }
        let finite = columns.iter().all(|column| column.wrench.iter().all(|part| part.is_finite()));
        if finite { Ok(Program { columns, balance, shared }) } else { Err(HoldError::NotFinite) }
    }

    /// What it stands on and what blocks it.
    fn stand(&self, columns: &mut Vec<Column>, shared: &mut Vec<Dual>) {
        let zero = Dual::new(0.0);
        let weight = self.weight.dual();
        for footing in &self.footing {
            let at = Spot { height: Length::ZERO, ..footing.at };
            let row = shared.len();
            shared.push(zero);
            columns.push(Column {
                wrench: self.wrench(at, [zero, zero, Dual::new(1.0)]),
                shares: vec![(row, -self.friction.dual())],
                most: None,
                gain: 0.0,
                pull: None,
            });
            for facet in 0..FACETS {
                let angle = f64::from(facet) * std::f64::consts::TAU / f64::from(FACETS);
                let (across, along) = angle.sin_cos();
                if footing.rolls && along.abs() > 1e-9 {
                    continue;
                }
                columns.push(Column {
                    wrench: self.wrench(at, [Dual::new(along), Dual::new(across), zero]),
                    shares: vec![(row, Dual::new(1.0))],
                    most: None,
                    gain: 0.0,
                    pull: None,
                });
            }
        }
        for block in &self.blocks {
            let way = block.against.way().map(|part| Dual::new(-part));
            let row = shared.len();
            shared.push(block.holds.dual() / weight);
            for at in [block.at.0, block.at.1] {
                columns.push(Column {
                    wrench: self.wrench(at, way),
                    shares: vec![(row, Dual::new(1.0))],
                    most: None,
                    gain: 0.0,
                    pull: None,
                });
            }
        }
    }

    /// A force at a place, with its moment about the centre of gravity.
    fn wrench(&self, at: Spot, force: [Dual; 3]) -> [Dual; 6] {
        let [x, y, z] = force;
        let (dx, dy, dz) =
            ((at.ahead - self.cg.ahead).dual(), (at.left - self.cg.left).dual(), (at.height - self.cg.height).dual());
        [x, y, z, dy * z - dz * y, dz * x - dx * z, dx * y - dy * x]
    }
}

/// A place in a list as a number.
fn place(at: usize) -> f64 {
    f64::from(u32::try_from(at).unwrap_or(u32::MAX))
}

impl Holding {
    /// The tie (from 0, as in [`Held::pulls`]) that holds it back most: of a kilogram more of its limit it would gain most. None
    /// where no tie stands at its limit, or where what bounds are worth was not asked.
    #[must_use]
    pub fn governing(&self) -> Option<usize> {
        let worth = self.pulls.iter().zip(&self.bounds).filter(|(_, worth)| **worth > 1e-9);
        worth.max_by(|a, b| a.1.total_cmp(b.1)).and_then(|(pull, _)| *pull)
    }
}
