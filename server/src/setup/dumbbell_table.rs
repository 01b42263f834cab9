//! Dumbbells: `[station.dumbbells]`, or those of a rack that stations share.

use std::collections::BTreeMap;

use turnabout_protocol::ids::Key;
use turnabout_protocol::units::MassUnit;

use super::fields::Fields;
use super::findings::Findings;
use super::form;
use super::gear_problem::GearProblem;
use super::gear_table::same_unit;
use super::limits;
use super::shared::Shared;
use super::spot::Said;
use super::stack_table;
use crate::floor::config::Rack;
use crate::loading::gear::{Dumbbells, Gear, Pairs};

/// Reads the dumbbells of one station.
pub(super) fn dumbbells(mut table: Fields<'_>, found: &mut Findings<'_>) -> Option<Gear> {
    let read = pairs(&mut table, found);
    table.finish(found);
    let (unit, pairs) = read?;
    Some(Gear::Dumbbells(Dumbbells { unit, pairs, rack: None }))
}

/// Reads the dumbbells of the rack that a station names; nothing where there is none such, or it could not be read.
pub(super) fn of_rack(found: &mut Findings<'_>, racks: &mut Shared<Rack>, key: Said<Key>) -> Option<Gear> {
    let Rack { unit, pairs, name: _ } = racks.named(found, &key)?;
    Some(Gear::Dumbbells(Dumbbells { unit: *unit, pairs: pairs.clone(), rack: Some(key.what) }))
}

/// Equal steps with as many pairs of each, or a list. The caller finishes the table.
pub(super) fn pairs(table: &mut Fields<'_>, found: &mut Findings<'_>) -> Option<(MassUnit, Vec<Pairs>)> {
    if table.has("pairs") { listed(table, found) } else { steps(table, found) }
}

/// From the lightest pair to the heaviest in equal steps, one pair of each unless it says more.
fn steps(table: &mut Fields<'_>, found: &mut Findings<'_>) -> Option<(MassUnit, Vec<Pairs>)> {
    let steps = stack_table::steps(table, found);
    let count = table.optional(found, "count", &form::whole(1, limits::PAIRS));
    // Known too, though not asked for here.
    let _ = table.entry("pairs");
    let (unit, pins) = steps?;
    let count = count.map_or(1, |said| said.what);
    let pairs = pins?.masses().into_iter().map(|mass| Pairs { mass, count });
    Some((unit, pairs.collect()))
}

/// Pair by pair, in any order.
fn listed(table: &mut Fields<'_>, found: &mut Findings<'_>) -> Option<(MassUnit, Vec<Pairs>)> {
    for name in ["first", "step", "last", "count"] {
        if let Some(entry) = table.entry(name) {
            found.add(&entry.spot, GearProblem::StepsAndPairs);
        }
    }
    let mut seen = BTreeMap::new();
    let mut unit = None;
    let mut rack = Vec::new();
    for mut kind in table.tables(found, "pairs", 1, limits::RACK) {
        let mass = kind.said(found, "mass", &form::mass(false));
        let count = kind.optional(found, "count", &form::whole(1, limits::PAIRS));
        kind.finish(found);
        let Some(mass) = mass else { continue };
        same_unit(found, &mass, *unit.get_or_insert(mass.what.unit));
        if found.once(&mut seen, &mass) {
            rack.push(Pairs { mass: mass.what.mass, count: count.map_or(1, |said| said.what) });
        }
    }
    rack.sort_by_key(|pairs| pairs.mass);
    Some((unit?, rack))
}
