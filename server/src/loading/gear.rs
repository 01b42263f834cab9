//! What sets the load at a station, and which loads it can be set to.

use serde::{Deserialize, Serialize};
use turnabout_protocol::card::GearKind;
use turnabout_protocol::units::{Mass, MassUnit};

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
        self.nearest_at_most(load) == Some(load)
    }

    /// The next lighter load that can be put on; nothing where there is none.
    #[must_use]
    pub fn lighter_than(&self, load: Mass) -> Option<Mass> {
        self.nearest_at_most(load - Mass::from_nanograms(1))
    }

    /// The heaviest load of this gear that is not above `most`.
    #[must_use]
    pub fn nearest_at_most(&self, most: Mass) -> Option<Mass> {
        match self {
            Self::Bar(bar) => bar.nearest_at_most(most),
            Self::Stack(stack) => stack.nearest_at_most(most),
            Self::Plain => None,
        }
    }
}

impl Bar {
    /// Distinct loads of one side that are kept while searching. A bar with ten kinds of plates has some
    /// hundreds; an inventory made up to have more is searched from the light end only.
    const MOST_SIDES: usize = 20_000;

    /// The bar with its two collars and no plates.
    #[must_use]
    pub fn empty(&self) -> Mass {
        self.bar + self.collar + self.collar
    }

    fn nearest_at_most(&self, most: Mass) -> Option<Mass> {
        let room = most - self.empty();
        if room < Mass::ZERO {
            return None;
        }
        let side = self.sides_up_to(Mass::from_nanograms(room.nanograms() / 2)).last().copied()?;
        Some(self.empty() + side + side)
    }

    /// Every load that one side can carry, up to `most`, in ascending order. Both sides are loaded alike, so
    /// of every kind of plate half may be used.
    fn sides_up_to(&self, most: Mass) -> Vec<Mass> {
        let mut sides = vec![Mass::ZERO];
        for plates in &self.plates {
            let mut more = sides.clone();
            for n in 1..=i64::from(plates.count / 2) {
                let Some(extra) = plates.mass.times(n) else { break };
                more.extend(sides.iter().map(|side| *side + extra).take_while(|side| *side <= most));
            }
            more.sort_unstable();
            more.dedup();
            more.truncate(Self::MOST_SIDES);
            sides = more;
        }
        sides
    }
}

impl Stack {
    fn nearest_at_most(&self, most: Mass) -> Option<Mass> {
        let above = most - self.first;
        if above < Mass::ZERO || self.step <= Mass::ZERO {
            return (above >= Mass::ZERO).then_some(self.first);
        }
        let steps = (above.nanograms() / self.step.nanograms()).min(i64::from(self.labels) - 1);
        Some(self.first + self.step.times(steps)?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kg(grams: i64) -> Mass {
        Mass::from_grams(grams)
    }

    fn bar(plates: &[(i64, u8)]) -> Gear {
        let plates = plates.iter().map(|&(g, count)| Plates { mass: kg(g), count }).collect();
        Gear::Bar(Bar { unit: MassUnit::Kg, bar: kg(20_000), collar: Mass::ZERO, plates })
    }

    #[test]
    fn a_bar_holds_what_its_plates_make_and_no_more() {
        let gear = bar(&[(25_000, 2), (15_000, 4), (2_500, 2), (1_250, 2)]);
        // 15 + 15 a side where one 25 alone would leave 5 over: never greedy.
        assert!(gear.can_hold(kg(80_000)));
        assert!(gear.can_hold(kg(20_000)));
        assert!(!gear.can_hold(kg(61_000)));
        assert!(!gear.can_hold(kg(19_000)));
        assert_eq!(gear.lighter_than(kg(80_000)), Some(kg(77_500)));
        assert_eq!(gear.lighter_than(kg(20_000)), None);
        assert_eq!(gear.nearest_at_most(kg(1_000_000)), Some(kg(20_000 + 2 * 58_750)));
    }

    #[test]
    fn an_odd_plate_is_left_over() {
        assert!(!bar(&[(5_000, 1)]).can_hold(kg(30_000)));
        assert!(bar(&[(5_000, 3)]).can_hold(kg(30_000)));
        assert!(!bar(&[(5_000, 3)]).can_hold(kg(40_000)));
    }

    #[test]
    fn counted_collars_are_part_of_the_load() {
        // IWF rules, section 3.3: collars of 2.5 kg each, counted; 100 kg is 25 + 10 + 2.5 a side.
        let plates = [25_000, 10_000, 2_500].map(|g| Plates { mass: kg(g), count: 2 }).to_vec();
        let gear = Gear::Bar(Bar { unit: MassUnit::Kg, bar: kg(20_000), collar: kg(2_500), plates });
        assert!(gear.can_hold(kg(100_000)));
        assert_eq!(gear.lightest(), Some(kg(25_000)));
    }

    #[test]
    fn a_stack_holds_its_labels() {
        let stack = Stack { unit: MassUnit::Kg, first: kg(5_000), step: kg(7_500), labels: 3 };
        let gear = Gear::Stack(stack);
        assert!(gear.can_hold(kg(5_000)) && gear.can_hold(kg(12_500)) && gear.can_hold(kg(20_000)));
        assert!(!gear.can_hold(kg(10_000)) && !gear.can_hold(kg(27_500)));
        assert_eq!(gear.lighter_than(kg(12_500)), Some(kg(5_000)));
        assert_eq!(gear.lighter_than(kg(5_000)), None);
    }

    #[test]
    fn nothing_to_set_holds_nothing() {
        assert_eq!((Gear::Plain.lightest(), Gear::Plain.can_hold(Mass::ZERO)), (None, false));
    }
}
