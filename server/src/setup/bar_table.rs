//! A choice of bars with their collars and plates: `[station.bar]`.

use std::collections::BTreeMap;
use std::fmt;

use turnabout_protocol::units::{Mass, MassUnit, Stamped};

use super::fields::Fields;
use super::findings::Findings;
use super::form;
use super::gear_problem::GearProblem;
use super::gear_table::same_unit;
use super::limits;
use super::problem::Problem;
use super::spot::{Said, Spot};
use super::text_fields;
use crate::floor::config::limits::NAME;
use crate::loading::bar::MOST_BARS;
use crate::loading::gear::{Bar, Ends, OneBar, Plates};

/// A bar, and where it says what it is rated for.
struct Read {
    bar: OneBar,
    unit: MassUnit,
    rated: Option<Said<Stamped>>,
}

/// A kind of plates as it is told apart.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Kind {
    mass: Stamped,
    full: bool,
}

impl fmt::Display for Kind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.mass.fmt(f)
    }
}

pub(super) fn bar(mut table: Fields<'_>, found: &mut Findings<'_>) -> Option<Bar> {
    let bars = bars(&mut table, found);
    let unit = bars.first().map(|read| read.unit);
    let all_fixed = !bars.is_empty() && bars.iter().all(|read| read.bar.is_fixed());
    let collar = collar(&mut table, found, unit, all_fixed);
    let plates = plates(&mut table, found, unit, longest_sleeve(&bars));
    table.finish(found);
    if all_fixed && !plates.is_empty() {
        table.missing(found, "plates", GearProblem::PlatesOnFixed.into());
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
    let bar = Bar { unit: unit?, bar: bars.next()?, collar, plates, others: bars.collect() };
    let total = heaviest(&bar);
    if total > Mass::MAX {
        table.missing(found, "plates", Problem::TooHeavy { total });
    } else if bar.set().is_none() {
        table.missing(found, "plates", Problem::TooManyLoads);
    }
    Some(bar)
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

/// The plates, the heaviest first. A list of none is no inventory; what has no plates leaves it out.
fn plates(
    table: &mut Fields<'_>,
    found: &mut Findings<'_>,
    unit: Option<MassUnit>,
    longest: Option<u16>,
) -> Vec<Plates> {
    let mut seen = BTreeMap::new();
    let mut plates = Vec::new();
    let least = usize::from(table.has("plates"));
    for mut kind in table.tables(found, "plates", least, limits::PLATE_KINDS) {
        let mass = kind.said(found, "mass", &form::mass(false));
        let count = kind.said(found, "count", &form::whole(1, limits::PLATES));
        if let Some(odd) = count.as_ref().filter(|count| count.what % 2 == 1) {
            found.hint(&odd.spot, GearProblem::OddPlates { count: odd.what });
        }
        let count = count.map(|said| said.what);
        let full = kind.optional(found, "full", &form::flag()).map(|said| said.what);
        let thickness = kind.optional(found, "thickness", &form::whole(1, limits::THICKNESS_MM));
        kind.finish(found);
        if let (Some(thickness), Some(longest)) = (&thickness, longest)
            && thickness.what > longest
        {
            let thickness_mm = thickness.what;
            found.add(&thickness.spot, GearProblem::ThickerThanSleeve { thickness_mm, longest });
        }
        let Some(mass) = mass else { continue };
        if let Some(unit) = unit {
            same_unit(found, &mass, unit);
        }
        let thickness_mm = thickness.map(|said| said.what);
        let of_kind = Plates { full, thickness_mm, ..Plates::new(mass.what.mass, count.unwrap_or(0)) };
        let wide = of_kind.diameter() == crate::loading::bar::Diameter::Full;
        let told = Said { what: Kind { mass: mass.what, full: wide }, spot: mass.spot };
        if found.once(&mut seen, &told) && count.is_some() {
            plates.push(of_kind);
        }
    }
    plates.sort_by_key(|kind| std::cmp::Reverse((kind.mass, kind.diameter())));
    plates
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
