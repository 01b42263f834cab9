//! What sets the load at a station, and which loads it can be set to.

use serde::{Deserialize, Serialize};
use turnabout_protocol::card::GearKind;
use turnabout_protocol::units::{Mass, MassUnit};

use super::bar::{self, BarSet, Diameter, Inventory, Plate, PlateKind, Sleeves, Takes};

/// The gear of one station.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Gear {
    /// A bar with collars and plates.
    Bar(Bar),
    /// A stack with a pin.
    Stack(Stack),
    /// Nothing to set.
    Plain,
}

/// A bar, its collars and the plates that belong to it.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Bar {
    /// The unit everything here is stamped in.
    pub unit: MassUnit,
    /// The empty bar.
    pub bar: Mass,
    /// One collar; zero where light clips do not count.
    pub collar: Mass,
    /// Plates by mass, the heaviest first, no mass twice.
    pub plates: Vec<Plates>,
}

/// So many plates of one mass.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Plates {
    /// One plate.
    pub mass: Mass,
    /// How many there are; an odd one is left over, since both sides are equal.
    pub count: u8,
}

/// A stack of equal steps.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Stack {
    /// The unit of its labels.
    pub unit: MassUnit,
    /// The lightest label.
    pub first: Mass,
    /// From one label to the next; above zero.
    pub step: Mass,
    /// How many labels there are; at least one.
    pub labels: u16,
}

impl Gear {
    /// What kind of gear it is.
    #[must_use]
    pub const fn kind(&self) -> GearKind {
        match self {
            Self::Bar(_) => GearKind::Bar,
            Self::Stack(_) => GearKind::Stack,
            Self::Plain => GearKind::Plain,
        }
    }

    /// The unit its plates or labels are stamped in.
    #[must_use]
    pub const fn unit(&self) -> MassUnit {
        match self {
            Self::Bar(bar) => bar.unit,
            Self::Stack(stack) => stack.unit,
            Self::Plain => MassUnit::Kg,
        }
    }

    /// The lightest load it can be set to; nothing where there is nothing to set.
    #[must_use]
    pub fn lightest(&self) -> Option<Mass> {
        match self {
            Self::Bar(bar) => Some(bar.empty()),
            Self::Stack(stack) => Some(stack.first),
            Self::Plain => None,
        }
    }

    /// Whether exactly this load can be put on.
    #[must_use]
    pub fn can_hold(&self, load: Mass) -> bool {
        self.can_hold_all(&[load])
    }

    /// Whether each of these loads can be put on exactly, one after the other. True of no loads at all.
    #[must_use]
    pub fn can_hold_all(&self, loads: &[Mass]) -> bool {
        let Some(most) = loads.iter().copied().max() else { return true };
        let held = self.loads_up_to(most);
        loads.iter().all(|load| held.binary_search(load).is_ok())
    }

    /// The next lighter load that can be put on; nothing where there is none.
    #[must_use]
    pub fn lighter_than(&self, load: Mass) -> Option<Mass> {
        self.nearest_at_most(load - Mass::from_nanograms(1))
    }

    /// The heaviest load of this gear that is not above `most`.
    #[must_use]
    pub fn nearest_at_most(&self, most: Mass) -> Option<Mass> {
        self.loads_up_to(most).last().copied()
    }

    /// The lightest load of this gear that is not below `least`; nothing where it cannot hold so much.
    #[must_use]
    pub fn nearest_at_least(&self, least: Mass) -> Option<Mass> {
        self.loads_up_to(Mass::MAX).into_iter().find(|load| *load >= least)
    }

    /// Every load that can be put on and is not above `most`, in ascending order; of more than [`MOST_LOADS`]
    /// the lightest.
    #[must_use]
    pub fn loads_up_to(&self, most: Mass) -> Vec<Mass> {
        match self {
            Self::Bar(bar) => bar.loads_up_to(most),
            Self::Stack(stack) => stack.loads_up_to(most),
            Self::Plain => Vec::new(),
        }
    }
}

/// Loads that are looked at on one bar. Plates in whole eighths of a kilogram make fewer as long as one side
/// holds less than a tonne, and no bar holds that; a floor file whose plates make as many is refused.
pub const MOST_LOADS: usize = 8_000;

impl Bar {
    /// The bar with its two collars and no plates.
    #[must_use]
    pub fn empty(&self) -> Mass {
        self.bar + self.collar + self.collar
    }

    /// The bar and its plates as a choice of one, for questions about plates; nothing where they are more than
    /// one side can be searched for, which no floor file may say.
    #[must_use]
    pub fn set(&self) -> Option<BarSet> {
        let kinds = self.plates.iter().map(|plates| PlateKind {
            plate: Plate { mass: plates.mass, diameter: diameter(plates.mass) },
            count: plates.count,
            thickness_mm: None,
        });
        let inventory = Inventory::new(self.unit, kinds.collect()).ok()?;
        let sleeves = Sleeves { collar: self.collar, length_mm: None, rated: None };
        BarSet::new(inventory, vec![bar::Bar { mass: self.bar, takes: Takes::Plates(sleeves) }]).ok()
    }

    fn loads_up_to(&self, most: Mass) -> Vec<Mass> {
        let room = most - self.empty();
        if room < Mass::ZERO {
            return Vec::new();
        }
        let sides = self.sides_up_to(Mass::from_nanograms(room.nanograms() / 2));
        sides.into_iter().map(|side| self.empty() + side + side).collect()
    }

    /// Every load that one side can carry, up to `most`, in ascending order. Both sides are loaded alike, so
    /// of every kind of plate half may be used.
    fn sides_up_to(&self, most: Mass) -> Vec<Mass> {
        let mut sides = vec![Mass::ZERO];
        for plates in &self.plates {
            // One, two, four and so on at once: every number of plates is a sum of these, in few steps.
            let (mut at_once, mut left) = (1, i64::from(plates.count / 2));
            while left > 0 {
                let Some(extra) = plates.mass.times(at_once.min(left)) else { break };
                sides = with_or_without(&sides, extra, most);
                left -= at_once;
                at_once *= 2;
            }
        }
        sides
    }
}

/// Discs of 10 kg and more are as wide as the rules for competition say (IWF Technical and Competition Rules and
/// Regulations, section 3.3: 450 mm), the lighter ones smaller.
fn diameter(mass: Mass) -> Diameter {
    const LIGHTEST_FULL: Mass = Mass::from_grams(10_000);
    if mass < LIGHTEST_FULL { Diameter::Small } else { Diameter::Full }
}

/// The loads of `sides`, each as it is and with `extra` on top, up to `most`. Both are in ascending order, so
/// one walk along them merges them, and what [`MOST_LOADS`] cuts off is the heaviest.
fn with_or_without(sides: &[Mass], extra: Mass, most: Mass) -> Vec<Mass> {
    let mut without = sides.iter().copied().peekable();
    let mut with = sides.iter().map(|side| *side + extra).take_while(|side| *side <= most).peekable();
    let mut merged = Vec::with_capacity((2 * sides.len()).min(MOST_LOADS));
    while merged.len() < MOST_LOADS {
        let lightest = match (without.peek(), with.peek()) {
            (Some(a), Some(b)) => *a.min(b),
            (Some(one), None) | (None, Some(one)) => *one,
            (None, None) => break,
        };
        without.next_if_eq(&lightest);
        with.next_if_eq(&lightest);
        merged.push(lightest);
    }
    merged
}

impl Stack {
    fn loads_up_to(&self, most: Mass) -> Vec<Mass> {
        let labels = (0..i64::from(self.labels)).map_while(|n| Some(self.first + self.step.times(n)?));
        labels.take_while(|label| *label <= most).collect()
    }
}

#[cfg(test)]
mod tests;
