//! Who coaches: `[[coach]]` of a floor file.

use std::collections::BTreeMap;

use turnabout_protocol::ids::{CoachId, Key};

use super::fields::Fields;
use super::findings::Findings;
use super::form;
use super::numbers::{self, Known};
use super::spot::Said;
use super::times_problem::TimesProblem;
use crate::floor::config::{Coach, Floor, Names, Person, Shift, limits};
use crate::floor::hours::{Hours, Window};
use crate::floor::local_time::Weekday;

/// Reads every coach; keys of the `known` floor keep their numbers.
pub(super) fn coaches(
    top: &mut Fields<'_>,
    found: &mut Findings<'_>,
    known: Option<&Floor>,
    hours: &Hours,
) -> (BTreeMap<CoachId, Coach>, Names) {
    let mut keys: Vec<Said<Key>> = Vec::new();
    let mut rests = Vec::new();
    let mut taken = BTreeMap::new();
    for mut table in top.sections(found, "coach", "coach", 1, limits::COACHES) {
        let key = table.said(found, "key", &form::key());
        let name = table.display_name(found, &mut taken);
        let shift = shift(&mut table, found, hours);
        table.finish(found);
        let Some(key) = key else { continue };
        keys.push(key);
        rests.push((name.unwrap_or_default(), shift));
    }
    let known: Known<'_> =
        known.into_iter().flat_map(|floor| &floor.coaches).map(|(id, c)| (&c.key, id.0)).collect();
    let ids = numbers::number(found, &keys, &known).into_iter().map(CoachId);
    let mut coaches = BTreeMap::new();
    let mut names = Names::new();
    for ((id, key), (name, shift)) in ids.zip(keys).zip(rests) {
        coaches.insert(id, Coach { key: key.what, shift });
        names.insert(Person::Coach(id), name);
    }
    (coaches, names)
}

/// When a coach works, every day alike.
fn shift(table: &mut Fields<'_>, found: &mut Findings<'_>, hours: &Hours) -> Option<Shift> {
    let Said { what: (from, to), spot } = table.optional(found, "shift", &form::span())?;
    let Some(window) = Window::new(from, to) else {
        found.add(&spot, TimesProblem::ShiftOrder { from, to });
        return None;
    };
    let open = |day| hours.windows(day).iter().any(|open| open.overlaps(window));
    if !hours.is_always() && !Weekday::ALL.into_iter().any(open) {
        found.add(&spot, TimesProblem::ShiftWhileClosed { shift: window });
    }
    Some(Shift { from, to })
}
