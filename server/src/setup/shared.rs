//! What several stations of a floor file share, each by its key.

use std::collections::BTreeMap;

use turnabout_protocol::ids::Key;

use super::findings::Findings;
use super::gear_problem::GearProblem;
use super::problem::Thing;
use super::spot::{Said, Spot};
use crate::floor::config::{Rack, Tree};

/// Things of one kind that stations share, and which of them any station has named.
pub(super) struct Shared<T> {
    thing: Thing,
    by_key: BTreeMap<Key, One<T>>,
    /// Whether one has no key that could be read: it may be any.
    without_key: bool,
    /// Whether a station names one that is not there: any of them may be meant.
    dangling: bool,
}

struct One<T> {
    spot: Spot,
    /// Absent where it could not be read.
    what: Option<T>,
    named: bool,
}

/// Everything that stations share.
pub(super) struct SharedGear {
    pub(super) trees: Shared<Tree>,
    pub(super) racks: Shared<Rack>,
}

impl<T> Shared<T> {
    pub(super) const fn new(thing: Thing) -> Self {
        Self { thing, by_key: BTreeMap::new(), without_key: false, dangling: false }
    }

    /// Adds one. The second of the same key is a mistake, and the first is meant.
    pub(super) fn add(&mut self, found: &mut Findings<'_>, key: Option<Said<Key>>, what: Option<T>) {
        let Some(Said { what: key, spot }) = key else {
            self.without_key = true;
            return;
        };
        if let Some(first) = self.by_key.get(&key) {
            found.again(&spot, key.as_str(), &first.spot);
            return;
        }
        self.by_key.insert(key, One { spot, what, named: false });
    }

    /// The one that a station names; nothing where there is none, which is taken down, or it could not be read.
    pub(super) fn named(&mut self, found: &mut Findings<'_>, key: &Said<Key>) -> Option<&T> {
        if !self.by_key.contains_key(&key.what) {
            self.dangling = true;
            // A key that could not be read has its own mistake.
            if !self.without_key {
                let keys = self.by_key.keys().map(Key::as_str);
                found.unknown(&key.spot, self.thing, key.what.as_str(), keys);
            }
            return None;
        }
        let one = self.by_key.get_mut(&key.what)?;
        one.named = true;
        one.what.as_ref()
    }

    /// All of them, when every station has been read. One that no station names is a mistake.
    pub(super) fn all(self, found: &mut Findings<'_>) -> BTreeMap<Key, T> {
        let checked = self.by_key.into_iter().filter_map(|(key, one)| {
            if !one.named && !self.dangling {
                found.add(&one.spot, GearProblem::SharedByNobody);
            }
            Some((key, one.what?))
        });
        checked.collect()
    }
}
