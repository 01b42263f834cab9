//! What is trained.

use std::collections::BTreeSet;
use std::sync::Arc;

use serde::{Deserialize, Serialize};
use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::{ExerciseId, Key, StationId};
use turnabout_protocol::view::StartsWith;
use turnabout_protocol::words::Words;

use super::about::About;
use super::movement::Movement;

/// One exercise of a floor's catalogue.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Exercise {
    /// Its number in the journal.
    pub id: ExerciseId,
    /// Its name in files.
    pub key: Key,
    /// Its name on displays.
    pub name: Words,
    /// The gear it is done on.
    pub gear: GearKind,
    /// Where it can be done, at least one station, all with that gear. A file that names none means every
    /// station with that gear.
    pub stations: BTreeSet<StationId>,
    /// The phase a repetition starts with: a press starts by lowering, a row by pulling.
    pub starts_with: StartsWith,
    /// Who must stand by, and why.
    #[serde(default)]
    pub spot: SpotRule,
    /// What the body does in it: what may stand in for it has the same movement.
    #[serde(default)]
    pub movement: Movement,
    /// Whether every repetition is pulled from the floor, so that the innermost plates must be of full diameter.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub from_the_floor: bool,
    /// The handle it wants on the cable, by its key.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub handle: Option<Key>,
    /// What there is to say about it. Shared: it is long, and a state that is cloned need not copy it.
    #[serde(default, skip_serializing_if = "says_nothing")]
    pub about: Arc<About>,
}

fn says_nothing(about: &Arc<About>) -> bool {
    **about == About::default()
}

impl Exercise {
    /// Whether somebody must stand by from lift-off until it is racked.
    #[must_use]
    pub const fn spotted(&self) -> bool {
        self.spot.spotted()
    }
}

/// Whether a load can come down on the lifter, and where. Never for explosive lifts and pulls from the floor:
/// there the lifter lets go and steps away, and a spotter would stand in the bar's path (NSCA Essentials of
/// Strength Training and Conditioning, ch. 15, from memory).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SpotRule {
    /// Nobody need stand by.
    #[default]
    None,
    /// A bar or dumbbells over face or head.
    OverFace,
    /// A bar on the shoulders, in front or behind the neck.
    OnShoulders,
}

impl SpotRule {
    /// Whether somebody must stand by.
    #[must_use]
    pub const fn spotted(self) -> bool {
        match self {
            Self::None => false,
            Self::OverFace | Self::OnShoulders => true,
        }
    }
}
