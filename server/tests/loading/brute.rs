//! The same questions answered by trying everything.

use turnabout_protocol::units::Mass;
use turnabout_server::loading::bar::{Plate, PlateKind};

/// What may go on one side.
pub(crate) struct Rules<'a> {
    pub(crate) kinds: &'a [PlateKind],
    /// How many of each kind one side may have.
    pub(crate) pairs: Vec<u8>,
    pub(crate) sleeve: Option<u16>,
    pub(crate) from_the_floor: bool,
}

/// Every order of every choice of plates that may go on one side.
pub(crate) fn all_sides(rules: &Rules<'_>) -> Vec<Vec<Plate>> {
    let mut all = Vec::new();
    let mut left = rules.pairs.clone();
    extend(rules, &mut left, &mut Vec::new(), 0, &mut all);
    all
}

fn extend(rules: &Rules<'_>, left: &mut [u8], side: &mut Vec<Plate>, length: u16, all: &mut Vec<Vec<Plate>>) {
    if !rules.from_the_floor || side.first().is_some_and(|plate| plate.is_full()) {
        all.push(side.clone());
    }
    for (at, kind) in rules.kinds.iter().enumerate() {
        let length = length + kind.thickness_mm.unwrap_or(0);
        let starts_well = !rules.from_the_floor || !side.is_empty() || kind.plate.is_full();
        if left[at] == 0 || rules.sleeve.is_some_and(|sleeve| length > sleeve) || !starts_well {
            continue;
        }
        left[at] -= 1;
        side.push(kind.plate);
        extend(rules, left, side, length, all);
        side.pop();
        left[at] += 1;
    }
}

pub(crate) fn mass(side: &[Plate]) -> Mass {
    side.iter().fold(Mass::ZERO, |all, plate| all + plate.mass)
}

/// Plates on and off one side.
pub(crate) fn moves(from: &[Plate], to: &[Plate]) -> usize {
    let stay = from.iter().zip(to).take_while(|(a, b)| a == b).count();
    from.len() + to.len() - 2 * stay
}

/// Of all sides of this mass: the fewest plates, then the least handling, then the heaviest inside.
pub(crate) fn best<'s>(sides: &'s [Vec<Plate>], wanted: Mass, now: &[Plate]) -> Option<&'s Vec<Plate>> {
    let right = sides.iter().filter(|side| mass(side) == wanted);
    right.min_by(|a, b| {
        let order = |side: &Vec<Plate>| (side.len(), moves(now, side));
        order(a).cmp(&order(b)).then_with(|| b.cmp(a))
    })
}
