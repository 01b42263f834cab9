//! The gear of one station: `[station.bar]`, `[station.stack]`, or neither.

use turnabout_protocol::units::{Mass, MassUnit, Stamped};

use super::bar_table;
use super::fields::Fields;
use super::findings::Findings;
use super::form;
use super::limits;
use super::problem::Problem;
use super::spot::Said;
use crate::loading::gear::{Gear, Stack};

/// Reads the gear out of a station's table.
pub(super) fn gear(station: &mut Fields<'_>, found: &mut Findings<'_>) -> Option<Gear> {
    let bar = station.optional_table(found, "bar");
    let stack = station.optional_table(found, "stack");
    match (bar, stack) {
        (Some(bar), Some(stack)) => {
            found.add(&stack.spot, Problem::TwoGears);
            bar_table::bar(bar, found);
            read_stack(stack, found);
            None
        }
        (Some(bar), None) => bar_table::bar(bar, found).map(Gear::Bar),
        (None, Some(stack)) => read_stack(stack, found).map(Gear::Stack),
        (None, None) => Some(Gear::Plain),
    }
}

fn read_stack(mut table: Fields<'_>, found: &mut Findings<'_>) -> Option<Stack> {
    let first = table.said(found, "first", &form::mass(false));
    let step = table.said(found, "step", &form::mass(false));
    let last = table.said(found, "last", &form::mass(false));
    table.finish(found);
    let unit = first.as_ref()?.what.unit;
    // Both are looked at, so that both are told.
    let [step_fits, last_fits] =
        [&step, &last].map(|m| m.as_ref().is_some_and(|m| same_unit(found, m, unit)));
    let (first, step, last) = (first?.what, step?.what, last?);
    if !(step_fits && last_fits) {
        return None;
    }
    let labels = labels(first.mass, step.mass, last.what.mass);
    if labels.is_none() {
        found.add(&last.spot, Problem::Steps { first, step, last: last.what });
    }
    Some(Stack { unit, first: first.mass, step: step.mass, labels: labels? })
}

/// How many labels there are from first to last, if the steps end there.
fn labels(first: Mass, step: Mass, last: Mass) -> Option<u16> {
    let above = (last - first).nanograms();
    let steps = above / step.nanograms();
    let whole = above >= 0 && above % step.nanograms() == 0;
    let labels = u16::try_from(steps).ok()?.checked_add(1)?;
    (whole && labels <= limits::LABELS).then_some(labels)
}

/// Takes down that a mass is stamped in another unit than the first of its station; says whether it is in the same.
pub(super) fn same_unit(found: &mut Findings<'_>, mass: &Said<Stamped>, first: MassUnit) -> bool {
    let same = mass.what.unit == first;
    if !same {
        found.add(&mass.spot, Problem::MixedUnits { found: mass.what.unit, first });
    }
    same
}
