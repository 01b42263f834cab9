//! The gear of one station: `[station.bar]`, `[station.stack]`, or neither.

use std::collections::BTreeMap;

use turnabout_protocol::units::{Mass, MassUnit, Stamped};

use super::fields::Fields;
use super::findings::Findings;
use super::form;
use super::limits;
use super::problem::Problem;
use super::spot::Said;
use crate::loading::gear::{Bar, Gear, MOST_LOADS, Plates, Stack};

/// Reads the gear out of a station's table.
pub(super) fn gear(station: &mut Fields<'_>, found: &mut Findings<'_>) -> Option<Gear> {
    let bar = station.optional_table(found, "bar");
    let stack = station.optional_table(found, "stack");
    match (bar, stack) {
        (Some(bar), Some(stack)) => {
            found.add(&stack.spot, Problem::TwoGears);
            read_bar(bar, found);
            read_stack(stack, found);
            None
        }
        (Some(bar), None) => read_bar(bar, found),
        (None, Some(stack)) => read_stack(stack, found).map(Gear::Stack),
        (None, None) => Some(Gear::Plain),
    }
}

fn read_bar(mut table: Fields<'_>, found: &mut Findings<'_>) -> Option<Gear> {
    let bar = table.said(found, "bar", &form::mass(false));
    let collar = table.said(found, "collar", &form::mass(true));
    let unit = bar.as_ref().map(|bar| bar.what.unit);
    if let (Some(collar), Some(unit)) = (&collar, unit) {
        // Nothing weighs the same in either unit.
        if collar.what.mass > Mass::ZERO {
            same_unit(found, collar, unit);
        }
    }
    let mut seen = BTreeMap::new();
    let mut plates = Vec::new();
    for mut kind in table.tables(found, "plates", 0, limits::PLATE_KINDS) {
        let mass = kind.said(found, "mass", &form::mass(false));
        let count = kind.required(found, "count", &form::whole(1, limits::PLATES));
        kind.finish(found);
        let Some(mass) = mass else { continue };
        if let Some(unit) = unit {
            same_unit(found, &mass, unit);
        }
        let new = found.once(&mut seen, &mass);
        if let (true, Some(count)) = (new, count) {
            plates.push(Plates { mass: mass.what.mass, count });
        }
    }
    table.finish(found);
    plates.sort_by_key(|kind| std::cmp::Reverse(kind.mass));
    let bar = Bar { unit: unit?, bar: bar?.what.mass, collar: collar?.what.mass, plates };
    let total = heaviest(&bar);
    if total > Mass::MAX {
        table.missing(found, "plates", Problem::TooHeavy { total });
    }
    let gear = Gear::Bar(bar);
    if total <= Mass::MAX && gear.loads_up_to(Mass::MAX).len() >= MOST_LOADS {
        table.missing(found, "plates", Problem::TooManyLoads);
    }
    Some(gear)
}

/// Bar, collars and every plate there is, whether they fit on it or not.
fn heaviest(bar: &Bar) -> Mass {
    let plates = bar.plates.iter().filter_map(|kind| kind.mass.times(i64::from(kind.count)));
    plates.fold(bar.empty(), |all, kind| all + kind)
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

fn same_unit(found: &mut Findings<'_>, mass: &Said<Stamped>, first: MassUnit) -> bool {
    let same = mass.what.unit == first;
    if !same {
        found.add(&mass.spot, Problem::MixedUnits { found: mass.what.unit, first });
    }
    same
}
