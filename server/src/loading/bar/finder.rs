//! What is prepared once for the plates that are free.

use turnabout_protocol::units::Mass;

use super::bars::{Bar, BarNo, BarSet, Takes};
use super::error::LoadError;
use super::free::Free;
use super::plates::{Inventory, Plate};
use super::table::{Kind, Table};
use super::ways::Counts;
use crate::training::exercise::Exercise;

/// Where the lift begins.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Starts {
    /// The bar is taken from a rack: any plates will do.
    #[default]
    Racked,
    /// The bar is pulled from the floor: the innermost plates are of full diameter.
    FromTheFloor,
}

impl Starts {
    /// Where the lifts of an exercise begin.
    #[must_use]
    pub const fn of(exercise: &Exercise) -> Self {
        if exercise.from_the_floor { Self::FromTheFloor } else { Self::Racked }
    }
}

/// A choice of bars and the plates that are free for one of them, prepared for any number of questions.
///
/// Has to be prepared anew when what is free changes; see the benches for what that costs.
#[derive(Debug)]
pub struct Finder {
    pub(super) set: BarSet,
    pub(super) starts: Starts,
    pub(super) table: Table,
    /// The same plates without the wish for full ones, to tell whether only that stands in the way.
    pub(super) without_full: Option<Table>,
}

impl Finder {
    /// Prepares a choice of bars with what is free for them.
    #[must_use]
    pub fn new(set: &BarSet, free: &Free, starts: Starts) -> Self {
        let kinds = kinds(set.inventory(), free);
        let whole = "fewer plates than an inventory holds make fewer loads";
        let (table, without_full) = match starts {
            Starts::Racked => (Table::new(kinds, false), None),
            Starts::FromTheFloor => (Table::new(kinds.clone(), true), Table::new(kinds, false)),
        };
        Self { set: set.clone(), starts, table: table.expect(whole), without_full }
    }

    /// The bars and plates that it is prepared for.
    #[must_use]
    pub const fn set(&self) -> &BarSet {
        &self.set
    }

    pub(super) fn bar(&self, bar: BarNo) -> Result<&Bar, LoadError> {
        let last = u8::try_from(self.set.bars().len() - 1).unwrap_or(u8::MAX);
        self.set.bar(bar).ok_or(LoadError::Bar { given: bar, last })
    }

    /// The plates of these counts outside of those that are there already, the heaviest inside; for a pull
    /// from the floor the heaviest full plate innermost.
    pub(super) fn nest(&self, mut inside: Vec<Plate>, counts: &Counts) -> Vec<Plate> {
        let kinds = || self.set.inventory().kinds().iter().zip(counts);
        if inside.is_empty() && self.starts == Starts::FromTheFloor {
            let full = kinds().find(|(kind, count)| kind.plate.is_full() && **count > 0);
            inside.extend(full.map(|(kind, _)| kind.plate));
        }
        for (kind, count) in kinds() {
            let there = inside.iter().filter(|plate| **plate == kind.plate).count();
            let missing = usize::from(*count).saturating_sub(there);
            inside.extend(std::iter::repeat_n(kind.plate, missing));
        }
        inside
    }

    /// The place of what one side must weigh, if any plates can make it.
    pub(super) fn place_of(table: &Table, bar: &Bar, target: Mass) -> Option<usize> {
        let room = (target - bar.empty()).nanograms();
        let halves = room >= 0 && room % 2 == 0;
        halves.then(|| table.place(Mass::from_nanograms(room / 2)))?
    }
}

/// Millimetres for plates on one side; as many as can be written where nobody has measured it.
pub(super) fn sleeve(bar: &Bar) -> u16 {
    match bar.takes {
        Takes::Nothing => 0,
        Takes::Plates(sleeves) => sleeves.length_mm.unwrap_or(u16::MAX),
    }
}

/// The most that the bar may carry, itself included.
pub(super) fn rated(bar: &Bar) -> Mass {
    match bar.takes {
        Takes::Nothing => bar.mass,
        Takes::Plates(sleeves) => sleeves.rated.unwrap_or(Mass::MAX),
    }
}

/// The inventory's kinds with what one side may have of each.
fn kinds(inventory: &Inventory, free: &Free) -> Vec<Kind> {
    let kind = |(at, kind): (usize, &super::plates::PlateKind)| Kind {
        mass: kind.plate.mass,
        pairs: free.count(at) / 2,
        full: kind.plate.is_full(),
        thickness: kind.thickness_mm.unwrap_or(0),
    };
    inventory.kinds().iter().enumerate().map(kind).collect()
}
