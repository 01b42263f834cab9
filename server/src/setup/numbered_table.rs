//! A stack whose labels are mere numbers: `numbers` of `[station.stack]`.

use super::fields::Fields;
use super::findings::Findings;
use super::form;
use super::gear_problem::GearProblem;
use super::limits;
use crate::loading::gear::{Gear, Numbered};

/// What a stack has besides its numbers where its labels are masses.
const OF_MASSES: [&str; 6] = ["labels", "first", "step", "last", "add_ons", "ratio"];

/// Reads how many numbers a stack has, and whether it carries part of the body. What weighs something has no place
/// beside labels of which nobody knows what they weigh.
pub(super) fn numbered(mut table: Fields<'_>, found: &mut Findings<'_>) -> Option<Gear> {
    for name in OF_MASSES {
        if let Some(entry) = table.entry(name) {
            found.add(&entry.spot, GearProblem::BesideNumbers);
        }
    }
    let numbers = table.required(found, "numbers", &form::whole(1, limits::LABELS));
    let assists = table.optional(found, "assists", &form::flag()).is_some_and(|said| said.what);
    table.finish(found);
    Some(Gear::Numbered(Numbered { numbers: numbers?, assists }))
}
