//! A station of a floor file, with something to load.

use std::path::Path;

use turnabout_protocol::ids::Key;

use super::error::{BadInput, CliError, shortened};
use crate::loading::gear::{Bar, Belt, Dumbbells, Gear, Stack};
use crate::setup;
use crate::training::next::policy::Policy;

/// A station with something to load.
#[derive(Clone, Debug)]
pub(super) struct Found {
    pub(super) key: Key,
    pub(super) name: String,
    pub(super) gear: Loadable,
    /// What its floor sets about next loads.
    pub(super) policy: Policy,
}

/// Gear that a mass can be set on.
#[derive(Clone, Debug)]
pub(super) enum Loadable {
    Bar(Bar),
    Stack(Stack),
    Dumbbells(Dumbbells),
    Belt(Belt),
}

impl Loadable {
    fn of(gear: &Gear) -> Option<Self> {
        match gear {
            Gear::Bar(bar) => Some(Self::Bar(bar.clone())),
            Gear::Stack(stack) => Some(Self::Stack(stack.clone())),
            Gear::Dumbbells(rack) => Some(Self::Dumbbells(rack.clone())),
            Gear::Belt(belt) => Some(Self::Belt(belt.clone())),
            Gear::Numbered(_) | Gear::Plain => None,
        }
    }

    /// As any other gear.
    pub(super) fn gear(&self) -> Gear {
        match self {
            Self::Bar(bar) => Gear::Bar(bar.clone()),
            Self::Stack(stack) => Gear::Stack(stack.clone()),
            Self::Dumbbells(rack) => Gear::Dumbbells(rack.clone()),
            Self::Belt(belt) => Gear::Belt(belt.clone()),
        }
    }
}

/// Reads the floor file and finds the station in it.
pub(super) fn find(floor: &Path, key: &str) -> Result<Found, CliError> {
    let file = setup::read_pair(floor, None, None).map_err(CliError::Floor)?;
    let policy = file.floor.floor.policy.loads;
    let stations = &file.floor.floor.stations;
    let known = || -> Vec<Key> {
        let loadable = stations.values().filter(|station| Loadable::of(&station.gear).is_some());
        loadable.map(|station| station.key.clone()).collect()
    };
    let Some(station) = stations.values().find(|station| station.key.as_str() == key) else {
        let known = known();
        let meant = setup::meant(key, known.iter().map(Key::as_str));
        let nearest = known.iter().find(|known| Some(known.as_str()) == meant).cloned();
        return Err(BadInput::Station { found: shortened(key), known, nearest }.into());
    };
    match Loadable::of(&station.gear) {
        Some(gear) => Ok(Found { key: station.key.clone(), name: station.name.clone(), gear, policy }),
        None if matches!(station.gear, Gear::Numbered(_)) => {
            Err(BadInput::Numbered { found: station.key.clone(), known: known() }.into())
        }
        None => Err(BadInput::NothingToLoad { found: station.key.clone(), known: known() }.into()),
    }
}
