//! The exercises that every floor can choose from.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::{ExerciseId, Key, StationId};
use turnabout_protocol::view::StartsWith;
use turnabout_protocol::words::Words;

use super::about::About;
use super::exercise::{Exercise, SpotRule};
use super::movement::Movement;

/// The catalogue as it is written, in the form of a floor file's exercises. `setup::catalogue` reads it.
pub const TEXT: &str = include_str!("../../catalogue/exercises.toml");

/// An exercise before it has a place: everything but its number and its stations, which are a floor's own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// As [`Exercise::key`].
    pub key: Key,
    /// As [`Exercise::name`].
    pub name: Words,
    /// As [`Exercise::gear`].
    pub gear: GearKind,
    /// As [`Exercise::starts_with`].
    pub starts_with: StartsWith,
    /// As [`Exercise::spot`].
    pub spot: SpotRule,
    /// As [`Exercise::movement`].
    pub movement: Movement,
    /// As [`Exercise::from_the_floor`].
    pub from_the_floor: bool,
    /// As [`Exercise::handle`].
    pub handle: Option<Key>,
    /// As [`Exercise::about`].
    pub about: Arc<About>,
}

impl Entry {
    /// The exercise on a floor.
    #[must_use]
    pub fn on(self, id: ExerciseId, stations: BTreeSet<StationId>) -> Exercise {
        let Self { key, name, gear, starts_with, spot, movement, from_the_floor, handle, about } = self;
        Exercise { id, key, name, gear, stations, starts_with, spot, movement, from_the_floor, handle, about }
    }
}

/// Exercises by key.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Catalogue(BTreeMap<Key, Entry>);

impl Catalogue {
    /// These exercises; of two with the same key the later.
    #[must_use]
    pub fn new(entries: impl IntoIterator<Item = Entry>) -> Self {
        Self(entries.into_iter().map(|entry| (entry.key.clone(), entry)).collect())
    }

    /// The exercise of this key.
    #[must_use]
    pub fn get(&self, key: &Key) -> Option<&Entry> {
        self.0.get(key)
    }

    /// Every exercise, by key.
    pub fn entries(&self) -> impl Iterator<Item = &Entry> {
        self.0.values()
    }
}
