//! A stack with a pin: `[station.stack]`.

use std::collections::BTreeMap;

use turnabout_protocol::units::{Mass, MassUnit};

use super::fields::Fields;
use super::findings::Findings;
use super::form;
use super::gear_problem::GearProblem;
use super::gear_table::same_unit;
use super::limits;
use super::numbered_table::numbered;
use super::problem::Problem;
use crate::loading::gear::{AddOn, Gear, MOST_LOADS, Pins, Stack};

/// Reads a stack: equal steps or a list of labels, what is put on top, and what the pulleys make of it; or labels that
/// are mere numbers.
pub(super) fn stack(mut table: Fields<'_>, found: &mut Findings<'_>) -> Option<Gear> {
    if table.has("numbers") {
        return numbered(table, found);
    }
    let pins = if table.has("labels") {
        listed(&mut table, found)
    } else {
        let pins = steps(&mut table, found);
        // Known too, though not asked for here.
        let _ = table.entry("labels");
        pins
    };
    let _ = table.entry("numbers");
    let unit = pins.as_ref().map(|(unit, _)| *unit);
    let add_ons = add_ons(&mut table, found, unit);
    let ratio = table.optional(found, "ratio", &form::ratio()).map(|said| said.what).unwrap_or_default();
    let assists = table.optional(found, "assists", &form::flag()).is_some_and(|said| said.what);
    table.finish(found);
    let (unit, pins) = pins?;
    let gear = Gear::Stack(Stack { unit, pins: pins?, add_ons, ratio, assists });
    if gear.loads_up_to(Mass::MAX).len() >= MOST_LOADS {
        table.missing(found, "add_ons", GearProblem::TooManyAddOns.into());
    }
    Some(gear)
}

/// Equal steps from the first label to the last, and their unit as soon as that is known.
pub(super) fn steps(table: &mut Fields<'_>, found: &mut Findings<'_>) -> Option<(MassUnit, Option<Pins>)> {
    let first = table.said(found, "first", &form::mass(false));
    let step = table.said(found, "step", &form::mass(false));
    let last = table.said(found, "last", &form::mass(false));
    let first = first?.what;
    // Both are looked at, so that both are told.
    let fit = [&step, &last].map(|m| m.as_ref().is_some_and(|m| same_unit(found, m, first.unit)));
    let (Some(step), Some(last), [true, true]) = (step, last, fit) else { return Some((first.unit, None)) };
    let step = step.what;
    let labels = count(first.mass, step.mass, last.what.mass);
    if labels.is_none() {
        found.add(&last.spot, Problem::Steps { first, step, last: last.what });
    }
    Some((first.unit, labels.map(|labels| Pins::Steps { first: first.mass, step: step.mass, labels })))
}

/// How many labels there are from first to last, if the steps end there.
fn count(first: Mass, step: Mass, last: Mass) -> Option<u16> {
    let above = (last - first).nanograms();
    let steps = above / step.nanograms();
    let whole = above >= 0 && above % step.nanograms() == 0;
    let labels = u16::try_from(steps).ok()?.checked_add(1)?;
    (whole && labels <= limits::LABELS).then_some(labels)
}

/// Labels one by one, in ascending order, and their unit as soon as that is known.
fn listed(table: &mut Fields<'_>, found: &mut Findings<'_>) -> Option<(MassUnit, Option<Pins>)> {
    for name in ["first", "step", "last"] {
        if let Some(entry) = table.entry(name) {
            found.add(&entry.spot, GearProblem::StepsAndLabels);
        }
    }
    let before = found.count();
    let mut seen = BTreeMap::new();
    let (mut unit, mut heaviest) = (None, None);
    let mut listed = Vec::new();
    let mut units = true;
    for entry in table.list(found, "labels", 1, usize::from(limits::LABELS)) {
        if let Some(label) = entry.whole() {
            // All of them will be: told once.
            if std::mem::replace(&mut units, false) {
                found.add(&entry.spot, GearProblem::LabelWithoutUnit { label });
            }
            continue;
        }
        let Some(label) = entry.read(found, &form::mass(false)) else { continue };
        let fits = same_unit(found, &label, *unit.get_or_insert(label.what.unit));
        if !fits || !found.once(&mut seen, &label) {
            continue;
        }
        if let Some(before) = heaviest.filter(|before| *before > label.what) {
            found.add(&label.spot, GearProblem::LabelsOrder { label: label.what, before });
        }
        heaviest = Some(label.what);
        listed.push(label.what.mass);
    }
    let whole = found.count() == before && !listed.is_empty();
    Some((unit?, whole.then_some(Pins::Listed { listed })))
}

/// Small weights that are put on top.
fn add_ons(table: &mut Fields<'_>, found: &mut Findings<'_>, unit: Option<MassUnit>) -> Vec<AddOn> {
    let mut seen = BTreeMap::new();
    let mut add_ons = Vec::new();
    for mut kind in table.tables(found, "add_ons", 0, limits::ADD_ON_KINDS) {
        let mass = kind.said(found, "mass", &form::mass(false));
        let count = kind.required(found, "count", &form::whole(1, limits::ADD_ONS));
        kind.finish(found);
        let Some(mass) = mass else { continue };
        if let Some(unit) = unit {
            same_unit(found, &mass, unit);
        }
        if let (true, Some(count)) = (found.once(&mut seen, &mass), count) {
            add_ons.push(AddOn { mass: mass.what.mass, count });
        }
    }
    add_ons.sort_by_key(|add_on| std::cmp::Reverse(add_on.mass));
    add_ons
}
