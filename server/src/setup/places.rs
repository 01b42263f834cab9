//! The stations of a floor file as its exercises name them.

use std::collections::{BTreeMap, BTreeSet};

use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::{Key, StationId};

use super::findings::Findings;
use super::problem::{Problem, Thing};
use super::spot::Said;
use crate::floor::config::Station;

/// The stations of a floor file. Gear that could not be read is absent: it may be any.
#[derive(Default)]
pub(super) struct Places {
    by_key: BTreeMap<Key, (StationId, Option<GearKind>)>,
    /// The gear of stations whose key could not be read; it may be any key.
    without_key: Vec<Option<GearKind>>,
    /// Where more of a load is easier.
    helping: BTreeSet<StationId>,
}

impl Places {
    /// Adds a station. Of two with the same key, which is a mistake, either may be meant.
    pub(super) fn add(&mut self, key: Key, id: StationId, gear: Option<GearKind>) {
        self.by_key.entry(key).and_modify(|(_, gear)| *gear = None).or_insert((id, gear));
    }

    /// Takes down that more of a load is easier at a station.
    pub(super) fn helps(&mut self, id: StationId) {
        self.helping.insert(id);
    }

    /// Whether more of a load is easier at some of these stations and harder at others.
    pub(super) fn are_mixed(&self, stations: &BTreeSet<StationId>) -> bool {
        let helping = stations.intersection(&self.helping).count();
        helping > 0 && helping < stations.len()
    }

    /// Adds a station whose key could not be read.
    pub(super) fn without_key(&mut self, gear: Option<GearKind>) {
        self.without_key.push(gear);
    }

    /// Whether some station has such gear, or may have it.
    pub(super) fn have(&self, gear: GearKind) -> bool {
        let mut gears = self.by_key.values().map(|(_, gear)| gear).chain(&self.without_key);
        gears.any(|there| there.is_none_or(|there| there == gear))
    }

    /// Whether these are all of them, none left out because of a mistake.
    pub(super) fn are_all_in(&self, stations: &BTreeMap<StationId, Station>) -> bool {
        self.without_key.is_empty() && self.by_key.values().all(|(id, _)| stations.contains_key(id))
    }

    /// Every station with such gear.
    pub(super) fn all_with(&self, gear: GearKind) -> BTreeSet<StationId> {
        self.by_key.values().filter(|(_, there)| *there == Some(gear)).map(|(id, _)| *id).collect()
    }

    /// The station of this key, which should have this gear; without `gear` any will do.
    pub(super) fn find(
        &self,
        found: &mut Findings<'_>,
        key: &Said<Key>,
        gear: Option<GearKind>,
    ) -> Option<StationId> {
        let Some((id, there)) = self.by_key.get(&key.what) else {
            // A key that could not be read has its own mistake.
            if self.without_key.is_empty() {
                let keys = self.by_key.keys().map(Key::as_str);
                found.unknown(&key.spot, Thing::Station, key.what.as_str(), keys);
            }
            return None;
        };
        if let (Some(there), Some(gear)) = (*there, gear)
            && there != gear
        {
            found.add(&key.spot, Problem::OtherGear { station: key.what.clone(), there, gear });
        }
        Some(*id)
    }
}
