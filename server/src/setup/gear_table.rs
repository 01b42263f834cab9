//! The gear of one station: `[station.bar]`, `[station.stack]`, or neither.

use turnabout_protocol::units::{MassUnit, Stamped};

use super::bar_table;
use super::fields::Fields;
use super::findings::Findings;
use super::problem::Problem;
use super::spot::Said;
use super::stack_table;
use crate::loading::gear::Gear;

/// Reads the gear out of a station's table.
pub(super) fn gear(station: &mut Fields<'_>, found: &mut Findings<'_>) -> Option<Gear> {
    let bar = station.optional_table(found, "bar");
    let stack = station.optional_table(found, "stack");
    match (bar, stack) {
        (Some(bar), Some(stack)) => {
            found.add(&stack.spot, Problem::TwoGears);
            bar_table::bar(bar, found);
            stack_table::stack(stack, found);
            None
        }
        (Some(bar), None) => bar_table::bar(bar, found).map(Gear::Bar),
        (None, Some(stack)) => stack_table::stack(stack, found),
        (None, None) => Some(Gear::Plain),
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
