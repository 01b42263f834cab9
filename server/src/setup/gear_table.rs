//! The gear of one station: `[station.bar]`, `[station.stack]`, `[station.dumbbells]`, `[station.belt]`, a `rack` that it shares, or
//! none of them.

use turnabout_protocol::card::GearKind;
use turnabout_protocol::units::{MassUnit, Stamped};

use super::bar_table;
use super::belt_table;
use super::dumbbell_table;
use super::fields::Fields;
use super::findings::Findings;
use super::form;
use super::gear_problem::GearProblem;
use super::problem::Problem;
use super::shared::SharedGear;
use super::spot::Said;
use super::stack_table;
use crate::loading::gear::Gear;

/// Reads the gear out of a station's table.
pub(super) fn gear(
    station: &mut Fields<'_>,
    found: &mut Findings<'_>,
    shared: &mut SharedGear,
) -> Option<Gear> {
    let mut gears: Vec<(GearKind, Option<Gear>)> = Vec::new();
    for (name, kind) in [
        ("bar", GearKind::Bar),
        ("stack", GearKind::Stack),
        ("dumbbells", GearKind::Dumbbells),
        ("belt", GearKind::Belt),
    ] {
        let Some(table) = station.optional_table(found, name) else { continue };
        if let Some((first, _)) = gears.first() {
            found.add(&table.spot, Problem::TwoGears { first: *first, second: kind });
        }
        let gear = match kind {
            GearKind::Bar => bar_table::bar(table, found, &mut shared.trees).map(Gear::Bar),
            GearKind::Stack => stack_table::stack(table, found),
            GearKind::Dumbbells => dumbbell_table::dumbbells(table, found),
            GearKind::Belt => belt_table::belt(table, found),
            GearKind::Plain => Some(Gear::Plain),
        };
        gears.push((kind, gear));
    }
    if let Some(rack) = station.optional(found, "rack", &form::key()) {
        match gears.first() {
            Some((GearKind::Dumbbells, _)) => found.add(&rack.spot, GearProblem::RackAndDumbbells),
            Some((first @ (GearKind::Bar | GearKind::Stack | GearKind::Belt | GearKind::Plain), _)) => {
                found.add(&rack.spot, Problem::TwoGears { first: *first, second: GearKind::Dumbbells });
            }
            None => {}
        }
        gears.push((GearKind::Dumbbells, dumbbell_table::of_rack(found, &mut shared.racks, rack)));
    }
    match gears.pop() {
        None => Some(Gear::Plain),
        Some((_, gear)) if gears.is_empty() => gear,
        Some(_) => None,
    }
}

/// Takes down that a mass is stamped in another unit than the first of its station; says whether it is in the same.
pub(super) fn same_unit(found: &mut Findings<'_>, mass: &Said<Stamped>, first: MassUnit) -> bool {
    let same = mass.what.unit == first;
    if !same {
        found.add(&mass.spot, Problem::MixedUnits { found: mass.what.unit, first });
    }
    same
}
