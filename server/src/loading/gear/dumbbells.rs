//! A rack of dumbbells: pairs, of which those that somebody has taken are not free.

use serde::{Deserialize, Serialize};
use turnabout_protocol::ids::Key;
use turnabout_protocol::units::{Mass, MassUnit};

/// Pairs of a rack. A load is what is stamped on one dumbbell of the pair.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Dumbbells {
    /// The unit they are stamped in.
    pub unit: MassUnit,
    /// The pairs in ascending order, no mass twice.
    pub pairs: Vec<Pairs>,
    /// The rack that they are taken from, where other stations share it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rack: Option<Key>,
}

/// Pairs of one mass.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Pairs {
    /// One dumbbell of a pair.
    pub mass: Mass,
    /// How many pairs there are.
    pub count: u8,
}

impl Dumbbells {
    /// What is left when others have taken these pairs, each named once for every pair. What was taken and is
    /// none of these is no loss here; where more are taken than there are, none of that mass are left.
    #[must_use]
    pub fn without(&self, taken: &[Mass]) -> Self {
        let left = self.pairs.iter().filter_map(|pairs| {
            let gone = taken.iter().filter(|mass| **mass == pairs.mass).count();
            let count = usize::from(pairs.count).saturating_sub(gone);
            let count = u8::try_from(count).unwrap_or(pairs.count);
            (count > 0).then_some(Pairs { count, ..*pairs })
        });
        Self { unit: self.unit, pairs: left.collect(), rack: self.rack.clone() }
    }

    /// The lightest that there is.
    pub(super) fn lightest(&self) -> Option<Mass> {
        self.pairs.first().map(|pairs| pairs.mass)
    }

    pub(super) fn loads_up_to(&self, most: Mass) -> Vec<Mass> {
        self.pairs.iter().map(|pairs| pairs.mass).take_while(|mass| *mass <= most).collect()
    }
}
