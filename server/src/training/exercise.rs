//! What is trained.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};
use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::{ExerciseId, Key, StationId};
use turnabout_protocol::view::StartsWith;

/// One exercise of a floor's catalogue.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Exercise {
    /// Its number in the journal.
    pub id: ExerciseId,
    /// Its name in files.
    pub key: Key,
    /// Its name on displays.
    pub name: String,
    /// The gear it is done on.
    pub gear: GearKind,
    /// Where it can be done, at least one station, all with that gear. A file that names none means every
    /// station with that gear.
    pub stations: BTreeSet<StationId>,
    /// The phase a repetition starts with: a press starts by lowering, a row by pulling.
    pub starts_with: StartsWith,
    /// Whether somebody must stand at the bar: lifts over the face or with the bar on the shoulders.
    pub spotted: bool,
}
