//! Which plates are free for one bar.

use super::plates::{Inventory, MOST_KINDS, Plate};
use super::side::Side;

/// How many plates of every kind of an inventory one bar may have: what is on the tree and what is on this bar
/// already. What is on other bars is not free.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Free([u8; MOST_KINDS]);

impl Free {
    /// Everything there is.
    #[must_use]
    pub fn all(inventory: &Inventory) -> Self {
        let mut counts = [0; MOST_KINDS];
        for (free, kind) in counts.iter_mut().zip(inventory.kinds()) {
            *free = kind.count;
        }
        Self(counts)
    }

    /// Without what another bar carries on both its sides. Plates of another inventory are no loss here, and
    /// where more are reported than there are, none of that kind are free.
    #[must_use]
    pub fn without(self, inventory: &Inventory, other: &Side) -> Self {
        other.plates().iter().fold(self, |free, plate| free.without_plates(inventory, *plate, 2))
    }

    /// Without so many plates of one kind: lost, broken, or used for something else.
    #[must_use]
    pub fn without_plates(mut self, inventory: &Inventory, plate: Plate, count: u8) -> Self {
        if let Some(at) = inventory.position(plate) {
            self.0[at] = self.0[at].saturating_sub(count);
        }
        self
    }

    /// How many plates of a kind are free; none of what is not in the inventory.
    #[must_use]
    pub fn of(&self, inventory: &Inventory, plate: Plate) -> u8 {
        inventory.position(plate).map_or(0, |at| self.0[at])
    }

    /// How many plates of the kind at this place of [`Inventory::kinds`] are free.
    pub(super) const fn count(&self, kind: usize) -> u8 {
        self.0[kind]
    }
}
