//! A choice of bars with their collars and plates: `[station.bar]`.

use std::collections::BTreeMap;

use turnabout_protocol::ids::Key;
use turnabout_protocol::units::{Mass, MassUnit, Stamped};

use super::fields::Fields;
use super::findings::Findings;
use super::form;
use super::gear_problem::GearProblem;
use super::gear_table::same_unit;
use super::limits;
use super::plates_table;
use super::problem::Problem;
use super::shared::Shared;
use super::spot::{Said, Spot};
use super::text_fields;
use crate::floor::config::Tree;
use crate::floor::config::limits::NAME;
use crate::loading::bar::{MOST_BARS, Starts};
use crate::loading::gear::{Bar, Ends, OneBar, Plates};

/// A bar, and where it says what it is rated for.
struct Read {
    bar: OneBar,
    unit: MassUnit,
    rated: Option<Said<Stamped>>,
}

/// Reads the bars of a station, with plates of its own or those of one of the `trees`.
pub(super) fn bar(mut table: Fields<'_>, found: &mut Findings<'_>, trees: &mut Shared<Tree>) -> Option<Bar> {
    let bars = bars(&mut table, found);
    let unit = bars.first().map(|read| read.unit);
    let all_fixed = !bars.is_empty() && bars.iter().all(|read| read.bar.is_fixed());
    let collar = collar(&mut table, found, unit, all_fixed);
    let (_, own) = plates_table::plates(&mut table, found, unit, longest_sleeve(&bars), 0);
    let tree = table.optional(found, "tree", &form::key());
    table.finish(found);
    let shared = tree.as_ref().map(|tree| of_tree(found, trees, tree, unit));
    if let Some(tree) = tree.as_ref().filter(|_| !own.is_empty()) {
        found.add(&tree.spot, GearProblem::TreeAndPlates);
    }
    let from = if tree.is_some() { "tree" } else { "plates" };
    if all_fixed && (tree.is_some() || !own.is_empty()) {
        table.missing(found, from, GearProblem::PlatesOnFixed.into());
    }
    let collar = collar?;
    for Read { rated, bar, .. } in &bars {
        let empty = bar.mass + collar + collar;
        if let (Some(rated), Some(unit)) = (rated, unit)
            && rated.what.mass < empty
        {
            let empty = Stamped { mass: empty, unit };
            found.add(&rated.spot, GearProblem::RatedBelowBar { rated: rated.what, empty });
        }
    }
    let mut bars = bars.into_iter().map(|read| read.bar);
    let tree = tree.map(|tree| tree.what);
    let plates = shared.unwrap_or(Some(own))?;
    let bar = Bar {
        unit: unit?,
        bar: bars.next()?,
        collar,
        plates,
        others: bars.collect(),
        tree,
        starts: Starts::Racked,
    };
    let total = heaviest(&bar);
    if total > Mass::MAX {
        table.missing(found, from, Problem::TooHeavy { total });
    } else if bar.set().is_none() {
        table.missing(found, from, Problem::TooManyLoads);
    }
    Some(bar)
}

/// The plates of the tree that a bar is loaded from; nothing where there is none such, or it could not be read.
fn of_tree(
    found: &mut Findings<'_>,
    trees: &mut Shared<Tree>,
    key: &Said<Key>,
    unit: Option<MassUnit>,
) -> Option<Vec<Plates>> {
    let tree = trees.named(found, key)?;
    if let Some(first) = unit.filter(|unit| *unit != tree.unit) {
        found.add(&key.spot, Problem::MixedUnits { found: tree.unit, first });
    }
    Some(tree.plates.clone())
}

/// The only bar, or a choice of bars, the usual one first.
fn bars(table: &mut Fields<'_>, found: &mut Findings<'_>) -> Vec<Read> {
    let choice = table.has("bars");
    let one = if choice {
        table.optional(found, "bar", &form::mass(false))
    } else {
        table.said(found, "bar", &form::mass(false))
    };
    let listed = table.tables(found, "bars", usize::from(choice), MOST_BARS);
    if let (true, Some(one)) = (choice, &one) {
        found.add(&one.spot, GearProblem::BarAndBars);
    }
    let one = one.filter(|_| !choice);
    let mut read: Vec<Read> = one
        .map(|mass| Read { bar: OneBar::plain(mass.what.mass), unit: mass.what.unit, rated: None })
        .into_iter()
        .collect();
    let mut seen = BTreeMap::new();
    for table in listed {
        let first = read.first().map(|read| read.unit);
        read.extend(one_bar(table, found, first, &mut seen));
    }
    read
}

/// One bar of a choice.
fn one_bar(
    mut table: Fields<'_>,
    found: &mut Findings<'_>,
    unit: Option<MassUnit>,
    seen: &mut BTreeMap<String, Spot>,
) -> Option<Read> {
    let mass = table.said(found, "mass", &form::mass(false));
    let name = text_fields::optional(&mut table, found, "name", NAME);
    let fixed = table.optional(found, "fixed", &form::flag()).is_some_and(|said| said.what);
    let sleeve = table.optional(found, "sleeve", &form::whole(1, limits::SLEEVE_MM));
    let rated = table.optional(found, "rated", &form::mass(false));
    table.finish(found);
    let on_fixed = [sleeve.as_ref().map(|said| &said.spot), rated.as_ref().map(|said| &said.spot)];
    for spot in on_fixed.into_iter().flatten().filter(|_| fixed) {
        found.add(spot, GearProblem::OnFixed);
    }
    let mass = mass?;
    let unit = unit.unwrap_or(mass.what.unit);
    same_unit(found, &mass, unit);
    if let Some(rated) = &rated {
        same_unit(found, rated, unit);
    }
    // Two of one mass are told apart by their names only.
    let told_by = name.as_ref().map_or_else(String::new, |name| format!(" \"{}\"", name.en));
    let told = Said { what: format!("{}{told_by}", mass.what), spot: mass.spot };
    found.once(seen, &told);
    let ends = if fixed {
        Ends::Fixed
    } else {
        let (length_mm, rated) = (sleeve.map(|said| said.what), rated.as_ref().map(|said| said.what.mass));
        Ends::Sleeves { length_mm, rated }
    };
    Some(Read { bar: OneBar { mass: mass.what.mass, name, ends }, unit, rated: rated.filter(|_| !fixed) })
}

/// One collar; fixed bars need none.
fn collar(
    table: &mut Fields<'_>,
    found: &mut Findings<'_>,
    unit: Option<MassUnit>,
    all_fixed: bool,
) -> Option<Mass> {
    if all_fixed && !table.has("collar") {
        // Asked for all the same, so that it is among the fields that are known.
        let _ = table.entry("collar");
        return Some(Mass::ZERO);
    }
    let collar = table.said(found, "collar", &form::mass(true))?;
    // Nothing weighs the same in either unit.
    if let Some(unit) = unit.filter(|_| collar.what.mass > Mass::ZERO) {
        same_unit(found, &collar, unit);
    }
    Some(collar.what.mass)
}

/// The longest sleeve, where every bar that has some is measured.
fn longest_sleeve(bars: &[Read]) -> Option<u16> {
    let lengths = bars.iter().filter_map(|read| match read.bar.ends {
        Ends::Fixed => None,
        Ends::Sleeves { length_mm, .. } => Some(length_mm),
    });
    lengths.collect::<Option<Vec<u16>>>()?.into_iter().max()
}

/// The heaviest bar, collars and every plate there is, whether they fit on it or not.
fn heaviest(bar: &Bar) -> Mass {
    let empty = bar.bars().map(|one| bar.empty_of(one)).max().unwrap_or_default();
    let plates = bar.plates.iter().filter_map(|kind| kind.mass.times(i64::from(kind.count)));
    plates.fold(empty, |all, kind| all + kind)
}
