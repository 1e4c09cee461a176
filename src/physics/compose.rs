//! What stands on the deck: a machine with what is fitted to it, or cargo, as one weight with an outline.

use crate::units::{Length, Mass, MassMoment};

use super::error::{StaticsError, finite, not_negative, positive};

/// How the weight of a machine is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum MachineWeight {
    /// Two axles, each weighed; the datum is the rear axle.
    Axles {
        /// On the front axle.
        front: Mass,
        /// On the rear axle.
        rear: Mass,
        /// Between the axles; above zero.
        wheelbase: Length,
    },
    /// The whole, and where its centre of gravity lies ahead of the datum (tracks: the rear end of their contact).
    Whole {
        /// What it weighs.
        weight: Mass,
        /// Centre of gravity ahead of the datum.
        arm: Length,
    },
}

/// The two ends of something in a machine's frame, ahead of the datum.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outline {
    /// Arm of the foremost point.
    pub front: Length,
    /// Arm of the rearmost point; below zero behind the datum.
    pub rear: Length,
}

/// How far an attachment reaches, as far as that is said.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Extent {
    /// Arm of its foremost point.
    pub front: Option<Length>,
    /// Arm of its rearmost point.
    pub rear: Option<Length>,
}

/// An attachment in the frame of the machine that carries it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Attachment {
    /// What it weighs.
    pub weight: Mass,
    /// Its centre of gravity ahead of the machine's datum.
    pub arm: Length,
    /// Its centre of gravity left of the machine's centre line.
    pub left: Length,
    /// How far it reaches.
    pub extent: Extent,
}

/// A machine as its definition gives it.
#[derive(Clone, Debug, PartialEq)]
pub struct Machine {
    /// As weighed.
    pub weight: MachineWeight,
    /// Its centre of gravity left of its centre line, as weighed.
    pub left: Length,
    /// What was on it when it was weighed.
    pub weighed_with: Vec<Attachment>,
    /// The machine's own ends, without attachments.
    pub outline: Outline,
}

/// Something in one piece, ready to be placed: weight, centre of gravity and ends in its own frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Item {
    /// What it weighs.
    pub weight: Mass,
    /// Centre of gravity ahead of the datum.
    pub arm: Length,
    /// Centre of gravity left of its own centre line.
    pub left: Length,
    /// Its ends.
    pub outline: Outline,
}

/// Cargo without wheels. Its datum is its rear end.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Cargo {
    /// What it weighs.
    pub weight: Mass,
    /// From front to rear.
    pub length: Length,
    /// Centre of gravity behind its front; the middle when not said.
    pub cg_from_front: Option<Length>,
    /// Centre of gravity left of its centre line; the middle when not said.
    pub cg_left: Option<Length>,
}

impl Machine {
    /// The machine with these attachments fitted.
    ///
    /// From two axle weights the arm is `F·wb/W`. What it was weighed with is taken off, what is fitted is put on, each
    /// with its moment. The outline takes in what is fitted; what the machine was only weighed with does not count.
    ///
    /// # Errors
    /// A wheelbase not above zero, a negative weight, a non-finite entry, an outline whose front lies behind its rear,
    /// [`StaticsError::MachineWeighsNothing`] when nothing is left after what it was weighed with.
    ///
    /// ```
    /// # use draylint::physics::{Machine, MachineWeight, Outline};
    /// # use draylint::units::{Length, Mass};
    /// let machine = Machine {
    ///     weight: MachineWeight::Axles {
    ///         front: Mass::new(600.0),
    ///         rear: Mass::new(900.0),
    ///         wheelbase: Length::new(1.5),
    ///     },
    ///     left: Length::ZERO,
    ///     weighed_with: vec![],
    ///     outline: Outline { front: Length::new(2.0), rear: Length::new(-1.0) },
    /// };
    /// let item = machine.with(&[])?;
    /// assert!((item.arm.si() - 0.6).abs() < 1e-12);
    /// # Ok::<(), draylint::physics::StaticsError>(())
    /// ```
    pub fn with(&self, fitted: &[Attachment]) -> Result<Item, StaticsError> {
        let (weighed, arm) = match self.weight {
            MachineWeight::Axles { front, rear, wheelbase } => {
                not_negative(front, "the front axle's weight")?;
                not_negative(rear, "the rear axle's weight")?;
                positive(wheelbase, "the wheelbase")?;
                let weight = positive(front + rear, "the machine's weight")?;
                (weight, wheelbase * (front / weight))
            }
            MachineWeight::Whole { weight, arm } => (positive(weight, "the machine's weight")?, arm),
        };
        let mut sum = Sum { weight: weighed, ahead: weighed * arm, left: weighed * self.left };
        for attachment in &self.weighed_with {
            sum.add(attachment, -1.0)?;
        }
        if sum.weight <= Mass::ZERO {
            return Err(StaticsError::MachineWeighsNothing(sum.weight));
        }
        let mut outline = self.outline;
        for attachment in fitted {
            sum.add(attachment, 1.0)?;
            outline = outline.with(attachment.extent);
        }
        sum.item(outline)
    }
}

impl Cargo {
    /// The cargo as an item.
    ///
    /// # Errors
    /// A negative weight or length, a weight of zero, a non-finite entry.
    pub fn item(&self) -> Result<Item, StaticsError> {
        not_negative(self.length, "the cargo's length")?;
        let from_front = self.cg_from_front.unwrap_or(self.length / 2.0);
        let arm = finite(self.length - from_front, "the cargo's centre of gravity")?;
        let left = finite(self.cg_left.unwrap_or(Length::ZERO), "the cargo's centre of gravity")?;
        let weight = positive(self.weight, "the cargo's weight")?;
        Ok(Item { weight, arm, left, outline: Outline { front: self.length, rear: Length::ZERO } })
    }
}

impl Item {
    /// What the item puts on two axles of its own, front then rear, standing level: the front carries `W·arm/wb`.
    ///
    /// # Errors
    /// A wheelbase not above zero, a non-finite entry or result.
    pub fn on_axles(&self, wheelbase: Length) -> Result<(Mass, Mass), StaticsError> {
        positive(wheelbase, "the wheelbase")?;
        let front = finite(self.weight * (self.arm / wheelbase), "the front axle's weight")?;
        Ok((front, self.weight - front))
    }
}

impl Outline {
    fn with(self, extent: Extent) -> Self {
        // An attachment that says one end only reaches out to it from within the machine.
        let ends = || [extent.front, extent.rear].into_iter().flatten();
        Self { front: ends().fold(self.front, Length::max), rear: ends().fold(self.rear, Length::min) }
    }
}

/// Weight and moments about the datum.
struct Sum {
    weight: Mass,
    ahead: MassMoment,
    left: MassMoment,
}

impl Sum {
    fn add(&mut self, attachment: &Attachment, times: f64) -> Result<(), StaticsError> {
        let weight = not_negative(attachment.weight, "the attachment's weight")? * times;
        self.weight += weight;
        self.ahead += weight * finite(attachment.arm, "the attachment's arm")?;
        self.left += weight * finite(attachment.left, "the attachment's distance from the centre line")?;
        Ok(())
    }

    fn item(&self, outline: Outline) -> Result<Item, StaticsError> {
        finite(outline.front, "the outline")?;
        finite(outline.rear, "the outline")?;
        if outline.front < outline.rear {
            return Err(StaticsError::OutlineReversed);
        }
        let arm = finite(self.ahead / self.weight, "the machine's centre of gravity")?;
        let left = finite(self.left / self.weight, "the machine's centre of gravity")?;
        Ok(Item { weight: finite(self.weight, "the machine's weight")?, arm, left, outline })
    }
}
