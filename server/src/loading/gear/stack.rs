//! A stack with a pin: its labels, small weights on top, and what reaches the hand.

use serde::{Deserialize, Serialize};
use turnabout_protocol::units::{Mass, MassUnit};

use super::sums::{Sum, with_pieces};

/// A stack with a pin.
///
/// A load is what its labels and add-ons say together; what the hand feels is another matter, see [`Ratio`].
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Stack {
    /// The unit of its labels.
    pub unit: MassUnit,
    /// Its labels.
    #[serde(flatten)]
    pub pins: Pins,
    /// Small weights that are put on top.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub add_ons: Vec<AddOn>,
    /// What the pulleys make of it.
    #[serde(default, skip_serializing_if = "Ratio::is_straight")]
    pub ratio: Ratio,
    /// Whether it carries part of the body, so that more of it is easier.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub assists: bool,
}

/// The labels of a stack.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(untagged)]
pub enum Pins {
    /// Equal steps.
    Steps {
        /// The lightest label.
        first: Mass,
        /// From one label to the next; above zero.
        step: Mass,
        /// How many labels there are; at least one.
        labels: u16,
    },
    /// Whatever stands there.
    Listed {
        /// At least one, in ascending order, none twice.
        listed: Vec<Mass>,
    },
}

impl Pins {
    /// What they say, in ascending order.
    #[must_use]
    pub fn masses(&self) -> Vec<Mass> {
        match self {
            Self::Steps { first, step, labels } => {
                (0..i64::from(*labels)).map_while(|n| Some(*first + step.times(n)?)).collect()
            }
            Self::Listed { listed } => listed.clone(),
        }
    }
}

/// Small weights of one mass.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct AddOn {
    /// One of them.
    pub mass: Mass,
    /// How many there are.
    pub count: u8,
}

/// What pulleys make of a stack: so many parts of it reach the hand.
///
/// The force at an ideal handle is that of the stack over the number of rope parts that carry it, and it travels
/// so many times as far; friction comes on top, so loads are comparable at the same station only.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Ratio {
    stack: u8,
    hand: u8,
}

impl Default for Ratio {
    fn default() -> Self {
        Self { stack: 1, hand: 1 }
    }
}

impl Ratio {
    /// The greatest part of a ratio: no cable station has so many pulleys.
    pub const MOST: u8 = 8;

    /// `stack` to `hand`, such as two to one: of 50 kg on the stack 25 reach the hand. Nothing where either is
    /// zero or above [`Ratio::MOST`].
    #[must_use]
    pub fn new(stack: u8, hand: u8) -> Option<Self> {
        let parts = 1..=Self::MOST;
        (parts.contains(&stack) && parts.contains(&hand)).then_some(Self { stack, hand })
    }

    /// Whether what the labels say reaches the hand.
    #[must_use]
    pub const fn is_straight(&self) -> bool {
        self.stack == self.hand
    }

    /// What reaches the hand without friction, down to the nanogram: to be told as "about".
    #[must_use]
    pub fn at_hand(self, load: Mass) -> Mass {
        let whole = i128::from(load.nanograms()) * i128::from(self.hand) / i128::from(self.stack);
        Mass::from_nanograms(i64::try_from(whole).unwrap_or(i64::MAX))
    }
}

/// Where the pin goes for a load, and what is put on top.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct PinCard {
    /// The label.
    pub label: Mass,
    /// The add-ons with how many of each, the heaviest first; none where the label is all of it.
    pub add_ons: Vec<AddOn>,
}

impl Stack {
    /// Equal steps and nothing else.
    #[must_use]
    pub const fn steps(unit: MassUnit, first: Mass, step: Mass, labels: u16) -> Self {
        let pins = Pins::Steps { first, step, labels };
        Self { unit, pins, add_ons: Vec::new(), ratio: Ratio { stack: 1, hand: 1 }, assists: false }
    }

    /// The labels in ascending order.
    #[must_use]
    pub fn labels(&self) -> Vec<Mass> {
        self.pins.masses()
    }

    /// The lightest label.
    pub(super) fn lightest(&self) -> Option<Mass> {
        match &self.pins {
            Pins::Steps { first, .. } => Some(*first),
            Pins::Listed { listed } => listed.first().copied(),
        }
    }

    pub(super) fn loads_up_to(&self, most: Mass) -> Vec<Mass> {
        let labels = self.labels().into_iter().take_while(|label| *label <= most);
        let labels: Vec<Sum> = labels.map(|mass| Sum { mass, cost: 0 }).collect();
        let sums = self.add_ons.iter().fold(labels, |sums, add_on| {
            with_pieces(sums, Sum { mass: add_on.mass, cost: 1 }, add_on.count, most)
        });
        sums.into_iter().map(|sum| sum.mass).collect()
    }

    /// Where the pin goes for exactly this load: with the fewest add-ons, of these at the heaviest label. Nothing
    /// where it cannot be made.
    #[must_use]
    pub fn pin(&self, load: Mass) -> Option<PinCard> {
        let all = self.add_ons.iter().filter_map(|add_on| add_on.mass.times(i64::from(add_on.count)));
        let all = all.fold(Mass::ZERO, |all, kind| all + kind);
        let labels = self.labels().into_iter().rev().filter(|label| *label <= load && *label + all >= load);
        let cards = labels.filter_map(|label| {
            let add_ons = fewest(&self.add_ons, load - label)?;
            Some(PinCard { label, add_ons })
        });
        // Of equal ones the first stays, which has the heaviest label.
        cards.min_by_key(|card| pieces(&card.add_ons))
    }
}

fn pieces(add_ons: &[AddOn]) -> u16 {
    add_ons.iter().map(|add_on| u16::from(add_on.count)).sum()
}

/// The fewest add-ons of exactly this mass. As deep as there are kinds, which are few.
fn fewest(kinds: &[AddOn], mass: Mass) -> Option<Vec<AddOn>> {
    let Some((kind, rest)) = kinds.split_first() else {
        return (mass == Mass::ZERO).then(Vec::new);
    };
    let counts = (0..=kind.count).rev().filter_map(|count| {
        let left = mass - kind.mass.times(i64::from(count))?;
        let others = if left < Mass::ZERO { None } else { fewest(rest, left) }?;
        let taken = (count > 0).then_some(AddOn { mass: kind.mass, count });
        Some(taken.into_iter().chain(others).collect::<Vec<_>>())
    });
    counts.min_by_key(|add_ons| pieces(add_ons))
}
