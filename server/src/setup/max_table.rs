//! What a client can lift once, by exercise: `max` of `[[client]]`.

use std::collections::BTreeMap;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::ExerciseId;
use turnabout_protocol::units::Mass;

use super::exercise_in_block::find;
use super::fields::Fields;
use super::findings::Findings;
use super::fit::Fit;
use super::form;
use super::load_problem::LoadProblem;
use super::spot::Said;
use crate::floor::config::{Floor, limits};

/// The one-repetition maxima of one client.
pub(super) struct Maxima {
    pub(super) known: BTreeMap<ExerciseId, Mass>,
    /// Whether all of them could be read: what could not may be any.
    pub(super) whole: bool,
}

/// Reads the maxima of one client. Without a floor, whose file has mistakes then, no key stands for anything.
pub(super) fn maxima(
    client: &mut Fields<'_>,
    found: &mut Findings<'_>,
    floor: Option<&Floor>,
    fit: &Fit,
) -> Maxima {
    let before = found.count();
    let mut known = BTreeMap::new();
    let keyed = client.optional_table(found, "max").map(|mut table| table.keyed(found, limits::EXERCISES));
    for (key, entry) in keyed.into_iter().flatten() {
        let key = Said { what: key, spot: entry.spot.clone() };
        let mass = entry.read(found, &form::mass(false));
        let Some(exercise) = floor.and_then(|floor| find(floor, found, &key)) else { continue };
        let helps = fit.helps(exercise);
        if fit.only_pins(exercise).is_some() {
            found.add(&key.spot, LoadProblem::MaxOfNumbers { exercise: exercise.key.clone() });
        } else if helps || exercise.gear == GearKind::Plain {
            found.add(&key.spot, LoadProblem::MaxOfNothing { exercise: exercise.key.clone(), helps });
        }
        known.extend(mass.map(|mass| (exercise.id, mass.what.mass)));
    }
    Maxima { known, whole: found.count() == before }
}
