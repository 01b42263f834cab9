//! Plates that hang on a belt: the load is theirs alone, on top of the body.

use serde::{Deserialize, Serialize};
use turnabout_protocol::units::{Mass, MassUnit};

use super::sums::{Sum, with_pieces};

/// A belt and the plates for it. They hang in the middle, so one by one and not in pairs.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Belt {
    /// The unit they are stamped in.
    pub unit: MassUnit,
    /// The plates, the heaviest first, no mass twice.
    pub plates: Vec<Hung>,
}

/// Plates of one mass for a belt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Hung {
    /// One of them.
    pub mass: Mass,
    /// How many there are.
    pub count: u8,
}

impl Belt {
    /// Every load up to `most` in ascending order; the first is zero, body mass alone.
    pub(super) fn loads_up_to(&self, most: Mass) -> Vec<Mass> {
        sums(&self.plates, most).into_iter().map(|sum| sum.mass).collect()
    }

    /// The plates that make exactly this load, the heaviest first: the fewest, and of these the heaviest. None for
    /// zero; nothing where they cannot make it.
    #[must_use]
    pub fn plates_for(&self, load: Mass) -> Option<Vec<Mass>> {
        let (mut left, mut hung) = (load, Vec::new());
        for (at, kind) in self.plates.iter().enumerate() {
            let rest = sums(&self.plates[at + 1..], left);
            let with = |count: u8| {
                let others = left - kind.mass.times(i64::from(count))?;
                let place = rest.binary_search_by_key(&others, |sum| sum.mass).ok()?;
                Some((u16::from(count) + rest[place].cost, others, count))
            };
            // Of equally many plates the first stays, which has the most of the heaviest kind.
            let (_, others, count) = (0..=kind.count).rev().filter_map(with).min_by_key(|way| way.0)?;
            hung.extend(std::iter::repeat_n(kind.mass, usize::from(count)));
            left = others;
        }
        (left == Mass::ZERO).then_some(hung)
    }
}

/// Every sum of some plates, each with the fewest that make it.
fn sums(plates: &[Hung], most: Mass) -> Vec<Sum> {
    if most < Mass::ZERO {
        return Vec::new();
    }
    let nothing = vec![Sum { mass: Mass::ZERO, cost: 0 }];
    plates
        .iter()
        .fold(nothing, |sums, kind| with_pieces(sums, Sum { mass: kind.mass, cost: 1 }, kind.count, most))
}
