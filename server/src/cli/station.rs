//! A station of a floor file.

use std::path::Path;

use turnabout_protocol::ids::Key;

use super::error::{BadInput, CliError, shortened};
use crate::floor::config::Station;
use crate::loading::gear::Gear;
use crate::setup;

/// Reads the floor file and finds the station in it, which has something to load.
pub(super) fn find(floor: &Path, key: &str) -> Result<Station, CliError> {
    let file = setup::read_pair(floor, None, None).map_err(CliError::Floor)?;
    let stations = &file.floor.floor.stations;
    let loaded = |station: &&Station| match station.gear {
        Gear::Bar(_) | Gear::Stack(_) => true,
        Gear::Plain => false,
    };
    let known =
        || -> Vec<Key> { stations.values().filter(loaded).map(|station| station.key.clone()).collect() };
    match stations.values().find(|station| station.key.as_str() == key) {
        Some(station) if loaded(&station) => Ok(station.clone()),
        Some(station) => Err(BadInput::NothingToLoad { found: station.key.clone(), known: known() }.into()),
        None => {
            let known = known();
            let meant = setup::meant(key, known.iter().map(Key::as_str));
            let nearest = known.iter().find(|known| Some(known.as_str()) == meant).cloned();
            Err(BadInput::Station { found: shortened(key), known, nearest }.into())
        }
    }
}
