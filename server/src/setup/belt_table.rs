//! A belt that plates hang on: `[station.belt]`.

use std::collections::BTreeMap;

use turnabout_protocol::units::Mass;

use super::fields::Fields;
use super::findings::Findings;
use super::form;
use super::gear_table::same_unit;
use super::limits;
use super::problem::Problem;
use crate::loading::gear::{Belt, Gear, Hung, MOST_LOADS};

/// Reads its plates, in any order. Their unit is that of the first.
pub(super) fn belt(mut table: Fields<'_>, found: &mut Findings<'_>) -> Option<Gear> {
    let mut seen = BTreeMap::new();
    let mut unit = None;
    let mut plates = Vec::new();
    for mut kind in table.tables(found, "plates", 1, limits::PLATE_KINDS) {
        let mass = kind.said(found, "mass", &form::mass(false));
        let count = kind.required(found, "count", &form::whole(1, limits::PLATES));
        kind.finish(found);
        let Some(mass) = mass else { continue };
        same_unit(found, &mass, *unit.get_or_insert(mass.what.unit));
        if let (true, Some(count)) = (found.once(&mut seen, &mass), count) {
            plates.push(Hung { mass: mass.what.mass, count });
        }
    }
    table.finish(found);
    plates.sort_by_key(|kind| std::cmp::Reverse(kind.mass));
    let all = plates.iter().filter_map(|kind| kind.mass.times(i64::from(kind.count)));
    let total = all.fold(Mass::ZERO, |all, kind| all + kind);
    let gear = Gear::Belt(Belt { unit: unit?, plates });
    if total > Mass::MAX {
        table.missing(found, "plates", Problem::TooHeavy { total });
    } else if gear.loads_up_to(Mass::MAX).len() >= MOST_LOADS {
        table.missing(found, "plates", Problem::TooManyLoads);
    }
    Some(gear)
}
