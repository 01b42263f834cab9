//! A list of plates: those of one bar, or of a tree that stations share.

use std::collections::BTreeMap;
use std::fmt;

use turnabout_protocol::units::{MassUnit, Stamped};

use super::fields::Fields;
use super::findings::Findings;
use super::form;
use super::gear_problem::GearProblem;
use super::gear_table::same_unit;
use super::limits;
use super::spot::Said;
use crate::loading::bar::Diameter;
use crate::loading::gear::Plates;

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

/// The plates, the heaviest first, and the unit of all of them: the one that is given, or that of the first. A list
/// of none is no inventory; what needs no plates leaves it out.
pub(super) fn plates(
    table: &mut Fields<'_>,
    found: &mut Findings<'_>,
    mut unit: Option<MassUnit>,
    longest: Option<u16>,
    least: usize,
) -> (Option<MassUnit>, Vec<Plates>) {
    let mut seen = BTreeMap::new();
    let mut plates = Vec::new();
    let least = least.max(usize::from(table.has("plates")));
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
        same_unit(found, &mass, *unit.get_or_insert(mass.what.unit));
        let thickness_mm = thickness.map(|said| said.what);
        let of_kind = Plates { full, thickness_mm, ..Plates::new(mass.what.mass, count.unwrap_or(0)) };
        let wide = of_kind.diameter() == Diameter::Full;
        let told = Said { what: Kind { mass: mass.what, full: wide }, spot: mass.spot };
        if found.once(&mut seen, &told) && count.is_some() {
            plates.push(of_kind);
        }
    }
    plates.sort_by_key(|kind| std::cmp::Reverse((kind.mass, kind.diameter())));
    (unit, plates)
}
